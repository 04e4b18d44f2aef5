package report
import ("testing";"os";"bytes";"io";"math";"gonum.org/v1/gonum/spatial/r2";"gonum.org/v1/gonum/spatial/r3")
func TestLook(t *testing.T) {
	w := func(name string, f func(io.Writer, float64) error, mm float64) {
		var b bytes.Buffer
		if err := f(&b, mm); err != nil { t.Fatal(name, err) }
		os.WriteFile("/tmp/look/"+name, b.Bytes(), 0o644)
	}
	for _, dark := range []bool{false, true} {
		sfx := map[bool]string{false:"-light.png", true:"-dark.png"}[dark]
		m := pair(); m.Dark = dark
		w("map"+sfx, m.PNG, 152.4)
		var outer, hole []r2.Vec
		for i := range 72 { s, c := math.Sincos(float64(i)/72*2*math.Pi); outer = append(outer, r2.Vec{X: 0.07*c, Y: 0.07*s}); hole = append(hole, r2.Vec{X: 0.04*c, Y: 0.04*s}) }
		m.Parts = []Outline{{Name: "steel ring", Loops: [][]r2.Vec{outer, hole}},
			{Name: "core magnet, N42, with a long name", Loops: [][]r2.Vec{{{X:-0.02,Y:-0.02},{X:0.02,Y:-0.02},{X:0.02,Y:0.02},{X:-0.02,Y:0.02}}}, Magnetized: r3.Vec{Z: -1}},
			{Name: "out", Loops: [][]r2.Vec{{{X:0.06,Y:0.05},{X:0.1,Y:0.05},{X:0.1,Y:0.08},{X:0.06,Y:0.08}}}, Magnetized: r3.Vec{Z: 1}},
			{Name: "skew", Loops: [][]r2.Vec{{{X:-0.09,Y:0.05},{X:-0.05,Y:0.05},{X:-0.05,Y:0.075},{X:-0.09,Y:0.075}}}, Magnetized: r3.Vec{X: 1, Y: -1}}}
		m.Log = true; m.Levels = []float64{0.03, 0.06, 0.12, 0.3}
		m.Title = "Stray field round a ring with a title that is far too long to stand on a single line of the page"
		w("ring"+sfx, m.PNG, 152.4)
		n := pair(); n.Dark = dark; n.V = n.V[40:62]; n.B = n.B[40:62]
		w("flat"+sfx, n.PNG, 152.4)
		k := pair(); k.Dark = dark; k.U = k.U[50:72]; for j := range k.B { k.B[j] = k.B[j][50:72] }
		w("tall"+sfx, k.PNG, 100)
		g := Lines{Title: "Force between the halves against the gap", XName: "gap, mm", YName: "force, N", LogY: true, LogX: true, Dark: dark, Levels: []Level{{"what a hand stands, 140 N", 140}, {"top", 1000}}}
		for c, nm := range []string{"50 x 50 x 25 mm","20 x 20 x 10 mm","100 x 100 x 50 mm","measured with the jig", "another one that is rather long", "sixth"} {
			var x, y []float64
			for i := range 30 { d := math.Pow(10, float64(i)/13); x = append(x, d); y = append(y, 900*math.Exp(-d/20/(1+float64(c)*0.3))/(1+float64(c))) }
			g.Curves = append(g.Curves, Curve{Name: nm, X: x, Y: y, Points: c == 3})
		}
		w("force"+sfx, g.PNG, 152.4)
	}
}
