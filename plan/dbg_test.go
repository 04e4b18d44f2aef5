package plan
import ("testing";"math/rand/v2";"time";"gonum.org/v1/gonum/spatial/r2";"polewright/shape";"fmt")
var r2z r2.Vec
func decode(data []byte) (curves []shape.Edge) {
		coordinate := func(b byte) float64 { return float64(b>>2)/64*1.2 - 0.1 + [4]float64{0, 1e-9, 1e-5, 0.01}[b&3] }
		for ; len(data) >= 5; data = data[5:] {
			a, b := r2.Vec{X: coordinate(data[0]), Y: coordinate(data[1])}, r2.Vec{X: coordinate(data[2]), Y: coordinate(data[3])}
			switch {
			case data[4]%3 == 0:
				curves = append(curves, circle(a.X, a.Y, max(1e-3, b.X))...)
			default:
				curves = append(curves, line(a.X, a.Y, b.X, b.Y)...)
			}
		}
	return
}
func TestDbg(t *testing.T){
 rng:=rand.New(rand.NewPCG(9,9))
 var tot time.Duration
 errs:=0
 for i:=range 6000 {
  n:=5*(1+rng.IntN(20))
  d:=make([]byte,n)
  for j:=range d { d[j]=byte(rng.IntN(256)); if rng.IntN(3)==0&&j>=5 { d[j]=d[j-5*(1+rng.IntN(j/5))]^byte(rng.IntN(2)*rng.IntN(4)) } }
  c:=decode(d)
  t0:=time.Now()
  m,err:=Generate(r2.Vec{},unit,c,uniform(1e9))
  el:=time.Since(t0)
  tot+=el
  if err!=nil{errs++; if errs<15{fmt.Println(i,len(c),err)}}
  if el>600*time.Millisecond { v:=0; if m!=nil{v=m.Vertices}; fmt.Println(i,len(c),el,v,err) }
 }
 fmt.Println(tot,errs)
}
