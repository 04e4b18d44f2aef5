package draw

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright/shape"
)

// MostParts is the largest assembly whose general arrangement is drawn: beyond it lines would run together.
const MostParts = 200

// Arrangement draws the general arrangement on A3: the assembly from the front, from one side and from above, with its sizes, letters and
// parts list. The front is seen from +x, y to the right and z up; where a part cannot be seen from there, everything before the middle of the
// assembly is cut away. More than [MostParts] parts, or none, are an error.
func Arrangement(title string, parts []Part, o Options) (*Sheet, error) {
	if len(parts) == 0 {
		return nil, errors.New("there are no parts to draw")
	}
	if len(parts) > MostParts {
		return nil, fmt.Errorf("%d parts are too many for one drawing, which takes %d", len(parts), MostParts)
	}
	a := &arranger{drafter: drafter{Sheet: Sheet{Title: title + ": general arrangement", Width: 420, Height: 297}}, parts: parts, items: Items(parts), projection: o.Projection}
	for _, p := range parts {
		b, ok := newBody(p.Solid, p.Place)
		if !ok {
			return nil, fmt.Errorf("part %q, %v, cannot be drawn", p.Name, p.Solid)
		}
		a.bodies = append(a.bodies, b)
	}
	a.views()
	a.layOut()
	a.title(title, "General arrangement", fmt.Sprintf("%d parts", len(parts)), o)
	a.show()
	x := a.Width - margin - titleWide
	floor := a.list(x, a.Height-margin, margin+titleHigh+34, a.items)
	a.settle()
	a.bar(x+3, margin+titleHigh+5, titleWide-10)
	a.notes(x+3, math.Max(floor-8, margin+titleHigh+26), titleWide-6, a.words())
	return &a.Sheet, nil
}

// arranger is a general arrangement in the making.
type arranger struct {
	drafter
	parts            []Part
	items            []Item
	bodies           []body
	projection       Projection
	depth            float64 // of the section, along x; infinite for none
	front, side, top *pane
	rows             [3][][]extent // along the page's x and y of the front, and along x of the world
}

// views makes the three pictures.
func (a *arranger) views() {
	front := view{right: yAxis, up: zAxis, toward: xAxis}
	side := view{right: xAxis, up: zAxis, toward: minus(yAxis)}
	if a.projection == ThirdAngle {
		side = view{right: minus(xAxis), up: zAxis, toward: yAxis}
	}
	a.depth = whole
	a.front = newPane(front, a.bodies, whole)
	if a.unseen(a.front) {
		b := a.bounds()
		a.depth = (b.Min.X + b.Max.X) / 2
		a.front = newPane(front, a.bodies, a.depth)
	}
	a.side = newPane(side, a.bodies, whole)
	a.top = newPane(view{right: yAxis, up: minus(xAxis), toward: zAxis}, a.bodies, whole)
	a.rows = [3][][]extent{stacked(a.extents(1), 7), stacked(a.extents(2), 6), nil}
	a.rows[2] = stacked(a.unsaid(a.extents(0)), 5)
}

// unsaid leaves out the diameters that the front view has already, and the whole when it is one of them: a length along the axis of what is
// round in the front view stays, even if it is as long as that is wide.
func (a *arranger) unsaid(list []extent) (out []extent) {
	diameter := func(o, e extent) bool { return o.prefix != "" && math.Abs((o.hi-o.lo)-(e.hi-e.lo)) < 1e-7 }
	for _, e := range list {
		said := false
		for _, row := range a.rows[0] {
			said = said || slices.ContainsFunc(row, func(o extent) bool { return diameter(o, e) && (e.prefix != "" || math.Abs(o.lo-e.lo) < 1e-7) })
		}
		if said && (e.prefix != "" || slices.ContainsFunc(list, func(o extent) bool { return diameter(o, e) })) {
			continue
		}
		out = append(out, e)
	}
	return out
}

func (a *arranger) bounds() (b r3.Box) {
	for _, o := range a.bodies {
		b = b.Union(o.box)
	}
	return b
}

// unseen tells whether there is a kind of part of which nothing shows in a view.
func (a *arranger) unseen(p *pane) bool {
	return slices.ContainsFunc(a.items, func(it Item) bool {
		return !slices.ContainsFunc(it.Indexes, func(i int) bool {
			_, room := a.spot(p, i, func(q r2.Vec) bool { n, _ := a.frontMost(p, q, whole); return n == i })
			return room > 0
		})
	})
}

// spot is the point of the page, of those that may be taken, where a part is farthest from what is drawn there, and that distance in metres;
// 0 when there is none.
func (a *arranger) spot(p *pane, part int, may func(r2.Vec) bool) (best r2.Vec, room float64) {
	const n = 15
	flat := p.boxes[part]
	for i := range n {
		for j := range n {
			q := v(flat.Min.X+(flat.Max.X-flat.Min.X)*(float64(i)+0.5)/n, flat.Min.Y+(flat.Max.Y-flat.Min.Y)*(float64(j)+0.5)/n)
			if !may(q) {
				continue
			}
			d := math.Inf(1)
			for _, s := range p.visible {
				d = math.Min(d, distance(s, q))
			}
			// Of places with equal room the one nearest to the middle, a hair before others.
			d -= 1e-3 * r2.Norm(r2.Sub(q, r2.Scale(0.5, r2.Add(flat.Min, flat.Max))))
			if d > room {
				best, room = q, d
			}
		}
	}
	return best, room
}

// frontMost is the part that shows at a point of the page, -1 for none, and the coordinate towards the viewer at which it does.
func (a *arranger) frontMost(p *pane, q r2.Vec, depth float64) (part int, at float64) {
	far := r3.Add(r3.Scale(q.X, p.right), r3.Scale(q.Y, p.up))
	best, nearest := -1, math.Inf(-1)
	for i, b := range a.bodies {
		flat, near := p.boxes[i], p.nears[i]
		if q.X < flat.Min.X || q.X > flat.Max.X || q.Y < flat.Min.Y || q.Y > flat.Max.Y || near <= nearest {
			continue
		}
		if d, ok := b.nearest(far, p.toward, depth); ok && d > nearest {
			best, nearest = i, d
		}
	}
	return best, nearest
}

// words are the notes of the general arrangement.
func (a *arranger) words() (list []string) {
	list = append(list, "Nominal sizes from the design file; check them before anything is made.")
	if !math.IsInf(a.depth, 1) {
		list = append(list, fmt.Sprintf("The front view is the section A-A at x = %s mm.", mm(a.depth)))
	}
	list = append(list, "Where each part stands: polewright parts.")
	return append(list, "Strong magnets: parts without a stop snap together and crush hands.")
}

// extents are the stretches along a world axis that its parts take. Spacers and the like count in the whole only: what they hold apart is
// measured already.
func (a *arranger) extents(axis int) (list []extent) {
	for i, b := range a.bodies {
		if a.parts[i].Kind == "spacer" {
			continue
		}
		lo, hi := [3]float64{b.box.Min.X, b.box.Min.Y, b.box.Min.Z}[axis], [3]float64{b.box.Max.X, b.box.Max.Y, b.box.Max.Z}[axis]
		own := b.place.Rot.Inverse([3]r3.Vec{xAxis, yAxis, zAxis}[axis]) // the axis in the part's frame
		along := math.Abs(own.Z) > 1-1e-9
		across := math.Abs(own.Z) < 1e-9
		straight := along || math.Abs(own.X) > 1-1e-9 || math.Abs(own.Y) > 1-1e-9
		mid := (lo + hi) / 2
		round := func(d float64) extent { return extent{mid - d/2, mid + d/2, "⌀"} }
		switch s := a.parts[i].Solid.(type) {
		case shape.Disc:
			if across {
				list = append(list, round(s.Diameter))
				continue
			}
		case shape.Ring:
			if across {
				list = append(list, round(s.OuterDiameter), round(s.InnerDiameter))
				continue
			}
		case shape.Frustum:
			if across {
				list = append(list, round(s.BottomDiameter), round(s.TopDiameter))
				continue
			}
		case shape.Wedge:
			if across { // parts of one ring: its diameters
				c := [3]float64{b.place.Center.X, b.place.Center.Y, b.place.Center.Z}[axis]
				list = append(list, extent{c - s.OuterDiameter/2, c + s.OuterDiameter/2, "⌀"}, extent{c - s.InnerDiameter/2, c + s.InnerDiameter/2, "⌀"})
				continue
			}
		case shape.Racetrack:
			if straight && across {
				core := math.Abs(own.X)*s.CoreX + math.Abs(own.Y)*s.CoreY
				list = append(list, extent{mid - core/2, mid + core/2, ""})
			}
		case Window:
			if straight && across {
				core := math.Abs(own.X)*s.Inner[0] + math.Abs(own.Y)*s.Inner[1]
				list = append(list, extent{mid - core/2, mid + core/2, ""})
			}
		}
		if straight {
			list = append(list, extent{lo, hi, ""})
		}
	}
	b := a.bounds()
	all := extent{[3]float64{b.Min.X, b.Min.Y, b.Min.Z}[axis], [3]float64{b.Max.X, b.Max.Y, b.Max.Z}[axis], ""}
	return append(list, all)
}
