package plan
import ("testing";"gonum.org/v1/gonum/spatial/r2";"math";"polewright/shape";"gonum.org/v1/gonum/spatial/r3")
func TestDbg(t *testing.T){
	inf:=uniform(math.Inf(1))
	for i,c:=range [][]shape.Edge{
	 append(circle(.5,.5,.1),rectangle(.4,.4,.6,.6)...),
	 circle(.5,.5,.5),
	 append(circle(.5,.5,.1),circle(.5,.5,.05)...),
	 append(circle(0,0,.1),circle(0,0,.05)...),
	 append(circle(.5,.5,.1),circle(.5,.5,.099)...),
	}{
	m,err:=Generate(r2.Vec{},r2.Vec{X:1,Y:1},c,inf)
	if err!=nil{t.Fatal(err)}
	t.Log(i,summary(m),faults(m,c))
	}
	loops,_,_,ok:=shape.Outline(shape.Racetrack{CoreX:.056,CoreY:.058,CornerRadius:0,Build:.012,Width:.06},shape.Placement{Rot:shape.Identity(),Center:r3.Vec{}},2)
	t.Log(ok)
	var c []shape.Edge
	for _,l:=range loops{c=append(c,l...)}
	c=append(c,framed()...)
	m,err:=Generate(r2.Vec{},r2.Vec{X:1,Y:1},c,inf)
	t.Log(summary(m),err,faults(m,c))
	draw(t,m,"race",r2.Box{Max:r2.Vec{X:.06,Y:.06}})
	f,_:=m.Refine()
	draw(t,f,"racefine",r2.Box{Max:r2.Vec{X:.06,Y:.06}})
}
