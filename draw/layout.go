package draw

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// This file lays the three views of a general arrangement out on the sheet and letters the parts.

const (
	balloonRadius = 3.5
	balloonRow    = 13.0 // from the front view up to its row of balloons
	captionHigh   = 7.0
	betweenViews  = 22.0
)

// layOut finds the scale and the places of the views.
func (a *arranger) layOut() {
	left := firstRow + rowPitch*float64(len(a.rows[1])) + 3
	under := firstRow + rowPitch*float64(max(len(a.rows[0]), len(a.rows[2]))-1) + 4
	over := balloonRow + balloonRadius + 3
	wide := a.Width - 3*margin - titleWide - 6
	high := a.Height - 2*margin
	set := func(s float64) (w, h float64) {
		a.Scale = s
		for _, p := range []*pane{a.front, a.side, a.top} {
			p.scale = s
		}
		return left + a.front.width() + betweenViews + a.side.width() + 8, over + a.front.height() + under + captionHigh + 10 + a.top.height() + captionHigh + 8
	}
	s := fitting(func(s float64) bool { w, h := set(s); return w <= wide && h <= high })
	w, h := set(s)
	x := 2*margin + left + math.Max(0, (wide-w)/2)
	spare := math.Max(0, (high-h)/3)
	ceiling := a.Height - margin - spare
	if a.projection == ThirdAngle {
		a.top.corner = v(x, ceiling-8-a.top.height())
		a.front.corner = v(x, a.top.corner.Y-captionHigh-spare-over-a.front.height())
	} else {
		a.front.corner = v(x, ceiling-over-a.front.height())
		a.top.corner = v(x, a.front.corner.Y-under-captionHigh-10-spare-a.top.height())
	}
	a.side.corner = v(x+a.front.width()+betweenViews, a.front.corner.Y)
}

// show draws the views with their dimensions, captions and letters.
func (a *arranger) show() {
	a.hatching()
	for _, p := range []*pane{a.front, a.side, a.top} {
		p.show(&a.drafter, Edge)
	}
	a.axes()
	low := func(p *pane) func(float64) float64 { return func(float64) float64 { return p.box.Min.Y } }
	a.front.below(&a.drafter, a.rows[0], low(a.front))
	a.front.beside(&a.drafter, a.rows[1], func(float64) float64 { return a.front.box.Min.X })
	a.side.below(&a.drafter, a.rows[2], low(a.side))
	under := firstRow + rowPitch*float64(max(len(a.rows[0]), len(a.rows[2]))-1) + 4
	from := "from the left, -y"
	right := "x to the right"
	if a.projection == ThirdAngle {
		from, right = "from the right, +y", "x to the left"
	}
	front := "From the front, +x: y to the right, z up"
	if !math.IsInf(a.depth, 1) {
		front = "Section A-A: y to the right, z up"
	}
	a.caption(a.front, under, front)
	a.caption(a.side, under, "F"+from[1:]+": "+right+", z up")
	a.caption(a.top, 1, "From above, +z: y to the right, x down")
	a.letters()
	a.sectionLine()
}

// caption says from where a view is seen.
func (a *arranger) caption(p *pane, under float64, text string) {
	l := Label{Layer: Text, At: v(p.corner.X+p.width()/2, p.corner.Y-under-5), Height: 2, Align: Middle, Text: text}
	// A view narrower than its words must not push them into the border or the neighbour.
	half := textWidth(text, 2) / 2
	l.At.X = math.Max(l.At.X, 2*margin+2+half)
	if p == a.side {
		l.At.X = math.Min(math.Max(l.At.X, a.front.corner.X+a.front.width()+4+half), a.Width-margin-titleWide-3-half)
	}
	a.Labels = append(a.Labels, l)
	a.taken = append(a.taken, l.box())
}

// hatching fills what the section cuts, each kind of part its own way.
func (a *arranger) hatching() {
	if math.IsInf(a.depth, 1) {
		return
	}
	for n, it := range a.items {
		for _, i := range it.Indexes {
			cut := a.front.cut(a.bodies[i], a.depth)
			spacing := []float64{2.2, 3.2, 2.7}[n/2%3] / (1e3 * a.Scale)
			for _, l := range a.front.hatch(cut, spacing, n%2 == 0) {
				a.line(Hatch, a.front.on(l[0]), a.front.on(l[1]))
			}
		}
	}
}

// axes draws the centre lines of round parts whose axes lie along the world's.
func (a *arranger) axes() {
	type axis struct {
		p *pane
		c r2.Vec
	}
	crossed := map[axis]float64{}
	var order []axis
	for i, b := range a.bodies {
		if ShapeName(a.parts[i].Solid) == "block" || ShapeName(a.parts[i].Solid) == "wedge" || b.loops != nil && len(b.loops[0]) != 4 {
			continue
		}
		if _, window := a.parts[i].Solid.(Window); window {
			continue
		}
		along := b.place.Rot.Apply(zAxis)
		for _, p := range []*pane{a.front, a.side, a.top} {
			flat, _ := p.boxOf(b.box)
			c := r2.Scale(0.5, r2.Add(flat.Min, flat.Max))
			switch d := p.flat(along); {
			case r2.Norm(d) < 1e-9:
				k := axis{p, v(math.Round(c.X*1e7)/1e7, math.Round(c.Y*1e7)/1e7)}
				if crossed[k] == 0 {
					order = append(order, k)
				}
				crossed[k] = math.Max(crossed[k], (flat.Max.X-flat.Min.X)/2)
			case math.Abs(d.X) > 1-1e-9:
				a.line(Centre, r2.Sub(p.on(v(flat.Min.X, c.Y)), v(2, 0)), r2.Add(p.on(v(flat.Max.X, c.Y)), v(2, 0)))
			case math.Abs(d.Y) > 1-1e-9:
				a.line(Centre, r2.Sub(p.on(v(c.X, flat.Min.Y)), v(0, 2)), r2.Add(p.on(v(c.X, flat.Max.Y)), v(0, 2)))
			}
		}
	}
	for _, k := range order {
		k.p.cross(&a.drafter, k.c, crossed[k])
	}
}

// sectionLine shows on the view from above where the section runs and which way it is seen.
func (a *arranger) sectionLine() {
	if math.IsInf(a.depth, 1) {
		return
	}
	p := a.top
	y := p.on(v(0, -a.depth)).Y
	for _, side := range []float64{-1, 1} {
		x := p.corner.X - 6
		if side > 0 {
			x = p.corner.X + p.width() + 6
		}
		a.line(Edge, v(x-3*side, y), v(x+3*side, y))
		a.line(Dimension, v(x+2*side, y), v(x+2*side, y+6))
		a.arrow(v(x+2*side, y+6), v(0, 1))
		a.text(Text, v(x+5*side, y+2), largeText, Middle, "A")
	}
}

// balloon is the letter of a part in a circle, and the point of the part that it means.
type balloon struct {
	letter string
	anchor r2.Vec // on the sheet
	at     r2.Vec
	inside bool // the circle lies within the part
}

// letters puts a balloon to one part of each kind, where it shows best in the front view: on the part if there is room, else in a row above.
func (a *arranger) letters() {
	var above []balloon
	var within []Item
	for _, it := range a.items {
		best, room := a.showsBest(it, func(r2.Vec) bool { return true })
		if 1e3*a.Scale*room > balloonRadius+1 {
			within = append(within, it)
			continue
		}
		above = append(above, balloon{letter: it.Letter, anchor: a.front.on(best)})
	}
	a.inRow(above)
	for _, b := range above {
		a.balloon(b)
	}
	for _, it := range within {
		clearOf := func(q r2.Vec) bool {
			at := a.front.on(q)
			return !slices.ContainsFunc(above, func(b balloon) bool {
				return distance(&stroke{a: b.at, b: b.anchor}, at) < balloonRadius+1
			})
		}
		best, room := a.showsBest(it, clearOf)
		if 1e3*a.Scale*room <= balloonRadius+1 { // a leader runs through all the room there is: on top of it
			best, _ = a.showsBest(it, func(r2.Vec) bool { return true })
		}
		a.balloon(balloon{letter: it.Letter, anchor: a.front.on(best), at: a.front.on(best), inside: true})
	}
}

// showsBest is the place of the front view, of those that may be taken, where a part of a kind shows best, and the free distance round it; the
// middle of the first of them and 0 when none shows. In a section the cut face tells more than a wall behind it.
func (a *arranger) showsBest(it Item, may func(r2.Vec) bool) (best r2.Vec, room float64) {
	const enough = 8 // parts to look at: one of them has room, or none has
	for _, cut := range []bool{true, false} {
		for _, i := range it.Indexes[:min(enough, len(it.Indexes))] {
			q, r := a.spot(a.front, i, func(q r2.Vec) bool {
				n, at := a.frontMost(a.front, q, a.depth)
				return n == i && may(q) && (!cut || math.IsInf(a.depth, 1) || a.depth-at < skin)
			})
			if r > room {
				best, room = q, r
			}
		}
		if room > 0 {
			return best, room
		}
	}
	flat := a.front.boxes[it.Indexes[0]]
	return r2.Scale(0.5, r2.Add(flat.Min, flat.Max)), 0
}

// inRow places balloons in a row above the front view, in the order of what they mean.
func (a *arranger) inRow(list []balloon) {
	p := a.front
	slices.SortStableFunc(list, func(x, y balloon) int { return cmp.Compare(x.anchor.X, y.anchor.X) })
	y := p.corner.Y + p.height() + balloonRow
	pitch := 2*balloonRadius + 2.5
	for i := range list {
		x := list[i].anchor.X + 5 // aslant, so that no leader passes for an edge
		if list[i].anchor.X < p.corner.X+p.width()/2 {
			x -= 10
		}
		if i > 0 {
			x = math.Max(x, list[i-1].at.X+pitch)
		}
		list[i].at = v(x, y)
	}
	// Pushed to the right by their neighbours: back to the left by half of it.
	if n := len(list); n > 0 {
		push := list[n-1].at.X - math.Max(list[n-1].anchor.X+5, p.corner.X+p.width())
		for i := range list {
			list[i].at.X -= math.Max(0, push) / 2
		}
	}
}

// balloon draws one, free of hatching.
func (a *arranger) balloon(b balloon) {
	pad := v(balloonRadius+0.5, balloonRadius+0.5)
	if !b.inside {
		d := r2.Unit(r2.Sub(b.anchor, b.at))
		a.line(Dimension, r2.Add(b.at, r2.Scale(balloonRadius, d)), b.anchor)
		a.Fills = append(a.Fills, dot(b.anchor, 0.7))
	} else {
		a.Lines = clear(a.Lines, b.at, balloonRadius+0.4)
	}
	a.circle(Text, b.at, balloonRadius)
	h := 3.0
	if len(b.letter) > 1 {
		h = 2.2
	}
	a.text(Text, v(b.at.X, b.at.Y-h/2), h, Middle, b.letter)
	a.taken = append(a.taken, r2.Box{Min: r2.Sub(b.at, pad), Max: r2.Add(b.at, pad)})
}

// clear takes out what lines other than edges and dimensions lie within a circle.
func clear(lines []Line, c r2.Vec, r float64) (out []Line) {
	for _, l := range lines {
		if l.Layer != Hatch && l.Layer != Centre && l.Layer != Hidden {
			out = append(out, l)
			continue
		}
		var cuts []float64
		d, e := r2.Sub(l.B, l.A), r2.Sub(l.A, c)
		quadratic(r2.Dot(d, d), 2*r2.Dot(d, e), r2.Dot(e, e)-r*r, func(t float64) { cuts = append(cuts, t) })
		if len(cuts) < 2 || cuts[1] <= 0 || cuts[0] >= 1 {
			out = append(out, l)
			continue
		}
		if cuts[0] > 0 {
			out = append(out, Line{l.Layer, l.A, r2.Add(l.A, r2.Scale(cuts[0], d))})
		}
		if cuts[1] < 1 {
			out = append(out, Line{l.Layer, r2.Add(l.A, r2.Scale(cuts[1], d)), l.B})
		}
	}
	return out
}
