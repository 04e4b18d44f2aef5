package freefield
import ("testing";"math";"fmt";"gonum.org/v1/gonum/spatial/r3";"polewright/shape")
func TestZC(t *testing.T){
	c:=Coil{shape.Ring{OuterDiameter:.2,InnerDiameter:.15,Thickness:.1},shape.Placement{Rot:shape.Identity()},1000}
	r2,r1,l:=.1,.075,.05
	for _,z:=range []float64{0,.03,.05,.1,1} {
		f:=func(z float64)float64{return z*math.Log((r2+math.Hypot(r2,z))/(r1+math.Hypot(r1,z)))}
		want:=1000/(2*2*l*(r2-r1))*(f(z+l)-f(z-l))
		fmt.Println(z,c.H(r3.Vec{Z:z}).Z/want-1)
	}
	m:=c.Moment().Z
	for _,z:=range []float64{1,10,100,1000} { fmt.Println("far",c.H(r3.Vec{Z:z}).Z/(m/(2*math.Pi*z*z*z))-1, c.H(r3.Vec{X:z}).Z/(-m/(4*math.Pi*z*z*z))-1)}
	k:=Coil{shape.Racetrack{CoreX:.15,CoreY:.15,CornerRadius:.025,Build:.025,Width:.1},shape.Placement{Rot:shape.Identity()},1000}
	m=k.Moment().Z
	for _,z:=range []float64{1,10,100,1000} { fmt.Println("far",k.H(r3.Vec{Z:z}).Z/(m/(2*math.Pi*z*z*z))-1, k.H(r3.Vec{X:z}).Z/(-m/(4*math.Pi*z*z*z))-1)}
	// racetrack with straight zero equals ring
	rr:=Coil{shape.Racetrack{CoreX:.15,CoreY:.15,CornerRadius:.075,Build:.025,Width:.1},shape.Placement{Rot:shape.Identity()},1000}
	for _,p:=range []r3.Vec{{X:.05},{X:.09,Y:.01,Z:.02},{X:.075,Z:.05},{X:.1,Y:.001,Z:.05},{X:.0876,Z:.0499999}} { fmt.Println(c.H(p),rr.H(p))}
	for _,co:=range []Coil{c,k} {
	for _,p:=range []r3.Vec{{X:.05,Y:.01,Z:.01},{X:.09,Y:.01,Z:.02},{X:.091,Y:.03,Z:.0499},{X:.08,Y:.055,Z:.02},{X:.0765,Y:.01,Z:.06}} {
		d:=1e-4
		div:=0.0
		curl:=r3.Vec{}
		for i:=range 3 { 
			D:=func(g func(r3.Vec)float64)float64{return slope(g,p,i,d)}
			X,Y,Z:=D(func(p r3.Vec)float64{return co.H(p).X}),D(func(p r3.Vec)float64{return co.H(p).Y}),D(func(p r3.Vec)float64{return co.H(p).Z})
			switch i {case 0: div+=X; curl.Z+=Y; curl.Y-=Z; case 1: div+=Y; curl.X+=Z; curl.Z-=X; case 2: div+=Z; curl.Y+=X; curl.X-=Y}
		}
		fmt.Println(p,"H",co.H(p),"div",div,"curl",curl,"j",co.density(),r3.Norm(curl))
	}}
}
func BenchmarkX(b *testing.B) {
	c:=Coil{shape.Ring{OuterDiameter:.2,InnerDiameter:.15,Thickness:.1},shape.Placement{Rot:shape.Identity()},1000}
	k:=Coil{shape.Racetrack{CoreX:.15,CoreY:.15,CornerRadius:.025,Build:.025,Width:.1},shape.Placement{Rot:shape.Identity()},1000}
	for n,p:=range []r3.Vec{{X:.05,Y:.01,Z:.01},{X:.09,Y:.01,Z:.02},{X:.3,Y:.055,Z:.02}} {
	b.Run(fmt.Sprint("ring",n),func(b *testing.B){for b.Loop(){c.H(p)}})
	b.Run(fmt.Sprint("track",n),func(b *testing.B){for b.Loop(){k.H(p)}})
	}
}
