package draw

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// This file puts dimensions on a sheet. Lines come first; texts wait and then take the place that is freest.

const (
	rowPitch   = 9.0 // between two rows of dimension lines
	firstRow   = 9.0 // from the view to the first of them
	textHeight = 2.5
)

// drafter is a sheet in the making.
type drafter struct {
	Sheet
	waiting []waitingText
	taken   []r2.Box // by texts and balloons
}

// waitingText is a text with the places that it may take, best first.
type waitingText struct {
	label  Label
	places []place
}

// place is where a text may stand, and the leader that would lead to it.
type place struct {
	at     r2.Vec
	align  Align
	leader []r2.Vec
	beside r2.Vec // the way to the dimension line, for a text that stands beyond its end: it must not pass for another's
}

// dimension measures from a to b along a unit vector; its line lies where the coordinate across, a quarter turn counter-clockwise from
// along, is level. Text is read along the line.
func (s *drafter) dimension(a, b, along r2.Vec, level float64, text string) {
	across := v(-along.Y, along.X)
	on := func(p r2.Vec, up float64) r2.Vec {
		return r2.Add(r2.Scale(r2.Dot(p, along), along), r2.Scale(level+up, across))
	}
	if r2.Dot(a, along) > r2.Dot(b, along) {
		a, b = b, a
	}
	for _, p := range []r2.Vec{a, b} {
		if d := level - r2.Dot(p, across); math.Abs(d) > 1.2 {
			s.line(Dimension, r2.Add(p, r2.Scale(math.Copysign(1, d), across)), on(p, math.Copysign(1.5, d)))
		}
	}
	from, to := on(a, 0), on(b, 0)
	length := r2.Norm(r2.Sub(to, from))
	s.line(Dimension, from, to)
	if length >= 2*arrowLength+1 {
		s.arrow(from, r2.Scale(-1, along))
		s.arrow(to, along)
	} else {
		// No room for arrowheads: strokes.
		for _, p := range []r2.Vec{from, to} {
			d := r2.Scale(0.9, r2.Add(along, across))
			s.line(Dimension, r2.Sub(p, d), r2.Add(p, d))
		}
	}
	w := textWidth(text, textHeight)
	middle := r2.Scale(0.5, r2.Add(from, to))
	up := func(p r2.Vec, h float64) r2.Vec { return r2.Add(p, r2.Scale(h, across)) }
	var places []place
	if w+1 <= length {
		places = append(places, place{at: up(middle, 0.9), align: Middle})
	}
	down := r2.Scale(-1.5, across)
	places = append(places, place{at: r2.Add(up(to, 0.9), r2.Scale(2, along)), align: Left, beside: down},
		place{at: r2.Sub(up(from, 0.9), r2.Scale(2, along)), align: Right, beside: down})
	for _, shift := range []float64{0, 0.7, -0.7, 1.4, -1.4, 2.1, -2.1, 2.8, -2.8, 3.5, -3.5} {
		at := up(r2.Add(middle, r2.Scale(shift*w, along)), 4.2)
		places = append(places, place{at, Middle, []r2.Vec{middle, up(at, -0.6)}, r2.Vec{}})
	}
	s.waiting = append(s.waiting, waitingText{Label{Layer: Dimension, Height: textHeight, Turned: math.Abs(along.Y) > 0.5, Text: text}, places})
}

// radius points at an arc from outside or inside and says its radius.
func (s *drafter) radius(c r2.Vec, r, angle, length float64, text string) {
	tip := polar(c, r, angle)
	out := polar(v(0, 0), 1, angle)
	end := r2.Add(tip, r2.Scale(length, out))
	if length > 0 {
		s.arrow(tip, r2.Scale(-1, out))
	} else {
		s.arrow(tip, out)
	}
	s.line(Dimension, tip, end)
	side, align := 1.0, Left
	if end.X < tip.X {
		side, align = -1, Right
	}
	shelf := r2.Add(end, v(side*3, 0))
	s.line(Dimension, end, shelf)
	s.waiting = append(s.waiting, waitingText{Label{Layer: Dimension, Height: textHeight, Text: text}, []place{
		{at: r2.Add(shelf, v(side*0.8, -textHeight/2)), align: align}, {at: r2.Add(end, v(0, 0.9)), align: align}}})
}

// settle gives every waiting text its place: the first one free of texts and lines, or else the one that covers least.
func (s *drafter) settle() {
	for _, w := range s.waiting {
		best, least := w.places[0], math.Inf(1)
		for _, p := range w.places {
			l := w.label
			l.At, l.Align = p.at, p.align
			c := s.cover(roomy(l))
			if b := roomy(l); p.beside != (r2.Vec{}) {
				c += 5 * s.cover(r2.Box{Min: r2.Add(b.Min, p.beside), Max: r2.Add(b.Max, p.beside)})
			}
			if c < least {
				best, least = p, c
			}
			if least == 0 {
				break
			}
		}
		w.label.At, w.label.Align = best.at, best.align
		s.path(Dimension, best.leader...)
		s.Labels = append(s.Labels, w.label)
		s.taken = append(s.taken, roomy(w.label))
	}
	s.waiting = nil
}

// roomy is the box of a label with the space that keeps its figures apart from the next one's.
func roomy(l Label) r2.Box {
	b := l.box()
	const space = 0.8
	if l.Turned {
		return r2.Box{Min: r2.Sub(b.Min, v(0, space)), Max: r2.Add(b.Max, v(0, space))}
	}
	return r2.Box{Min: r2.Sub(b.Min, v(space, 0)), Max: r2.Add(b.Max, v(space, 0))}
}

// cover says how badly a box would cover what is drawn: texts above all, then lines.
func (s *drafter) cover(b r2.Box) float64 {
	c := 0.0
	if b.Min.X < margin || b.Min.Y < margin || b.Max.X > s.Width-margin || b.Max.Y > s.Height-margin {
		c += 1000
	}
	for _, t := range s.taken {
		if b.Min.X < t.Max.X && t.Min.X < b.Max.X && b.Min.Y < t.Max.Y && t.Min.Y < b.Max.Y {
			c += 100
		}
	}
	for _, l := range s.Lines {
		if l.Layer != Hatch && crossesBox(l.A, l.B, b) {
			c++
		}
	}
	for _, a := range s.Arcs {
		if math.Abs(r2.Norm(r2.Sub(r2.Scale(0.5, r2.Add(b.Min, b.Max)), a.Center))-a.Radius) < (b.Max.Y-b.Min.Y)/2+(b.Max.X-b.Min.X)/4 {
			c++
		}
	}
	return c
}

// crossesBox tells whether a straight line passes through a box.
func crossesBox(a, b r2.Vec, box r2.Box) bool {
	lo, hi := 0.0, 1.0
	d := r2.Sub(b, a)
	for _, side := range [][2]float64{{-d.X, a.X - box.Min.X}, {d.X, box.Max.X - a.X}, {-d.Y, a.Y - box.Min.Y}, {d.Y, box.Max.Y - a.Y}} {
		switch {
		case side[0] == 0 && side[1] <= 0:
			return false
		case side[0] > 0:
			hi = math.Min(hi, side[1]/side[0])
		case side[0] < 0:
			lo = math.Max(lo, side[1]/side[0])
		}
	}
	return lo < hi
}

// extent is a stretch along an axis of a view that a dimension may say, m.
type extent struct {
	lo, hi float64
	prefix string // "⌀" for a diameter
}

func (e extent) text() string { return e.prefix + mm(e.hi-e.lo) }

// stacked sorts extents into rows, short ones next to the view: what overlaps goes into different rows, and in a row the gaps between
// lengths are extents too. At most a number of rows is kept, of the longest.
func stacked(list []extent, most int) (rows [][]extent) {
	const same = 1e-7
	slices.SortStableFunc(list, func(a, b extent) int {
		if d := (a.hi - a.lo) - (b.hi - b.lo); math.Abs(d) > same {
			return cmp.Compare(d, 0)
		}
		return cmp.Compare(b.lo, a.lo)
	})
	var kept []extent
	for _, e := range list {
		twice := slices.ContainsFunc(kept, func(k extent) bool {
			return math.Abs(k.lo-e.lo) < same && math.Abs(k.hi-e.hi) < same && (k.prefix == e.prefix || e.prefix == "")
		})
		if !twice && e.hi-e.lo > same {
			// A diameter says more than the same length without its sign.
			kept = slices.DeleteFunc(kept, func(k extent) bool {
				return math.Abs(k.lo-e.lo) < same && math.Abs(k.hi-e.hi) < same && k.prefix == ""
			})
			kept = append(kept, e)
		}
	}
	for _, e := range kept {
		row := 0
		for i, r := range rows {
			for _, o := range r {
				if e.lo < o.hi-same && o.lo < e.hi-same {
					row = i + 1
				}
			}
		}
		if row == len(rows) {
			rows = append(rows, nil)
		}
		rows[row] = append(rows[row], e)
	}
	if len(rows) > most {
		rows = rows[len(rows)-most:]
	}
	for i, r := range rows {
		slices.SortFunc(r, func(a, b extent) int { return cmp.Compare(a.lo, b.lo) })
		var full []extent
		for k, e := range r {
			if k > 0 && e.lo-r[k-1].hi > same && e.prefix == "" && r[k-1].prefix == "" {
				gap := extent{lo: r[k-1].hi, hi: e.lo}
				known := slices.ContainsFunc(kept, func(k extent) bool { return math.Abs(k.lo-gap.lo) < same && math.Abs(k.hi-gap.hi) < same })
				if !known {
					full = append(full, gap)
				}
			}
			full = append(full, e)
		}
		rows[i] = full
	}
	return rows
}
