package freefield
import ("testing";"fmt";"gonum.org/v1/gonum/spatial/r3";"polewright/shape";"math/rand/v2";"time";"math")
func TestZE(t *testing.T){
	for _,mode:=range []string{"array","turned","wedges","random"} {
	rng := rand.New(rand.NewPCG(1, 2))
	var s Sources
	n:=300
	for i:=range n {
		x,y,z:=i%10,(i/10)%10,i/100
		switch mode {
		case "array": s=append(s,Magnet{brick(.01,.01,.01),shape.Placement{r3.Vec{float64(x)*.0101,float64(y)*.0101,float64(z)*.02},shape.Identity()},r3.Unit(anyVec(rng,1))})
		case "turned": s=append(s,Magnet{brick(.01,.01,.01),shape.Placement{r3.Vec{float64(x)*.018,float64(y)*.018,float64(z)*.018},shape.Euler(rng.Float64()*3,rng.Float64()*3,rng.Float64()*3)},r3.Unit(anyVec(rng,1))})
		case "wedges":
			k:=i%24; r:=i/24
			a:=2*math.Pi/24*float64(k)
			s=append(s,Magnet{shape.Wedge{.1,.06,.01,a-.13,a+.13},shape.Placement{r3.Vec{Z:.0101*float64(r)},shape.Identity()},r3.Vec{math.Cos(2*a),math.Sin(2*a),0}})
		case "random": s=append(s,Magnet{brick(.01,.007,.005),shape.Placement{r3.Vec{float64(x)*.03,float64(y)*.03,float64(z)*.03},shape.Euler(rng.Float64(),rng.Float64(),rng.Float64())},r3.Unit(anyVec(rng,1))})
		}
	}
	if mode=="wedges" { s=s[:72] }
	a:=Assemble(s)
	t0:=time.Now()
	f,to:=a.Forces(nil)
	fmt.Println(mode,time.Since(t0))
	var sum,ts r3.Vec
	for i:=range f { sum=r3.Add(sum,f[i]); ts=r3.Add(ts,r3.Add(to[i],r3.Cross(s[i].Place.Center,f[i]))) }
	i:=37
	o:=append(append(Sources{},s[:i]...),s[i+1:]...)
	t0=time.Now()
	w,wt:=o.Force(s[i])
	fmt.Println(" direct",time.Since(t0),f[i],w,r3.Norm(r3.Sub(f[i],w))/r3.Norm(w),to[i],r3.Norm(r3.Sub(to[i],wt))/r3.Norm(wt),"sums",sum,ts)
	}
}
