package freefield
import ("testing";"fmt";"gonum.org/v1/gonum/spatial/r3";"polewright/shape";"math/rand/v2")
func TestZD(t *testing.T){
	rng := rand.New(rand.NewPCG(1, 2))
	c:=Coil{shape.Ring{OuterDiameter:.2,InnerDiameter:.15,Thickness:.1},shape.Placement{r3.Vec{.1,.2,.3},shape.Euler(1,2,3)},1000}
	k:=Coil{shape.Racetrack{CoreX:.15,CoreY:.25,CornerRadius:.025,Build:.025,Width:.1},shape.Placement{r3.Vec{.1,.2,.3},shape.Euler(1,2,3)},1000}
	for _,co:=range []Coil{c,k} {
		a:=Assemble(nil,co)
		fmt.Println(a.nodes[0].reach)
		for _,d:=range []float64{.3,.5,1,3,10} {
		p:=r3.Add(co.Place.Center,r3.Scale(d,r3.Unit(anyVec(rng,1))))
		h:=a.H(p); w:=co.H(p)
		_,ok:=a.nodes[0].degreeFor(d)
		fmt.Println(d,r3.Norm(r3.Sub(h,w))/r3.Norm(w),ok)
		}
	}
}
