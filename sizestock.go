package polewright

import (
	"bytes"
	"cmp"
	"fmt"
	"math"
	"slices"

	"polewright/design"
	"polewright/material"
	"polewright/quantity"
	"polewright/stock"
)

// This file sizes from a list of stock: magnets as they are, yokes from bar that is there, the gap opened until the field is what is wanted.

const (
	// mostOpened is how far over the wanted one a gap is opened for a magnet that gives more than is wanted.
	mostOpened = 3
	// mostPriced is how many candidates of a layout get a bill; those before are compared by the prices of their magnets and a kilogram of steel.
	mostPriced = 12
)

// shelf is a magnet of the list, or several put together, in each pole.
type shelf struct {
	name   string
	pieces int     // put together; 0: the magnet is from no list
	price  float64 // of those in one pole
}

// poles is how many magnets face the gap.
func (c draft) poles() int {
	if c.kind == "single-block" {
		return 1
	}
	return 2
}

// fromStock is search with the magnets of the list: those that reach the field and keep all limits, the cheapest first.
func (z *sizer) fromStock(kind string, k correction) (list []Candidate) {
	for _, line := range z.stock.Lines {
		m, ok := z.magnet(kind, line, k)
		if !ok {
			continue
		}
		for _, c := range standings(kind, line) {
			c.magnet, c.gap = m, z.gap
			for pieces := 1; pieces <= stock.MostStack; pieces++ {
				if line.Limited && pieces*c.poles() > line.Available {
					break
				}
				c.thickness = float64(pieces) * line.ThicknessM
				c.shelf = shelf{line.Name, pieces, float64(pieces) * line.Price}
				opened, ok := z.openGap(c, k)
				if !ok {
					continue
				}
				if x := z.candidate(opened, k); z.meets(x) {
					list = append(list, x)
					break // more of them cost more
				}
			}
		}
	}
	slices.SortStableFunc(list, func(a, b Candidate) int { return cmp.Compare(z.rough(a.draft), z.rough(b.draft)) })
	return list
}

// magnet is the material of a line that can stand in a layout.
func (z *sizer) magnet(kind string, line stock.Line, k correction) (m material.Magnet, ok bool) {
	round := kind == "round-pot" || kind == "pole-tips"
	if round && line.Shape != stock.Disc || !round && line.Shape != stock.Block {
		return m, false
	}
	m, err := material.Grade(line.Material)
	return m, err == nil && (m.MaxTemperatureC == 0 || m.MaxTemperatureC >= z.hotC) && m.IntrinsicCoercivityApm > k.lowest && m.Family != "AlNiCo"
}

// standings are the ways in which a magnet can face the gap.
func standings(kind string, line stock.Line) (list []draft) {
	switch {
	case kind == "pole-tips":
		for _, over := range tipRatios {
			list = append(list, draft{kind: kind, width: line.DiameterM / over, over: over})
		}
	case line.Shape == stock.Disc:
		list = []draft{{kind: kind, width: line.DiameterM, over: 1}}
	default:
		list = []draft{{kind: kind, depth: line.LengthM, width: line.WidthM, over: 1}}
		if line.LengthM != line.WidthM {
			list = append(list, draft{kind: kind, depth: line.WidthM, width: line.LengthM, over: 1})
		}
	}
	return list
}

// openGap lays the yoke out for a magnet as it is and opens the gap until the field is what is wanted; ok is false where the magnet is too weak,
// too small for the region, or far too strong.
func (z *sizer) openGap(c draft, k correction) (draft, bool) {
	want := z.field * aimAbove / k.field
	if min(c.width, c.depthX()) < z.across {
		return c, false
	}
	if _, ok := c.steel(); ok {
		c.leg = c.width * c.over
		c.back = c.leg
	}
	at := func(gap float64) float64 {
		c.gap = gap
		w, _ := c.assembly(z.workC).Solve() // sizes of a list are sound
		return w.GapT
	}
	for pass := range 4 { // the yoke changes the gap and the gap the yoke
		low, high := z.gap, mostOpened*z.gap
		above, below := at(low), at(high)
		if above < want || below > want {
			return c, false
		}
		for range 40 { // false position with a halved end (M. Dowell, P. Jarratt, BIT 11 (1971) 168)
			gap := low + (high-low)*(above-want)/(above-below)
			b := at(gap)
			if math.Abs(b/want-1) < 5e-4 {
				break
			}
			if b > want {
				low, above = gap, b
				below = want - (want-below)/2
			} else {
				high, below = gap, b
				above = want + (above-want)/2
			}
		}
		if pass < 3 {
			z.layOut(&c, k)
		}
	}
	c.gap = math.Max(z.gap, math.Floor(c.gap/0.05e-3+1e-6)*0.05e-3)
	return c, at(c.gap) >= 0.998*want
}

// bar makes a section of steel as thick as the thinnest bar of the list that is at least as thick and from which a part of the other two sizes
// can be cut; where there is none, it goes up to half a millimetre.
func (z *sizer) bar(thickness, a, b float64) float64 {
	up := math.Ceil(thickness/0.5e-3-1e-6) * 0.5e-3
	best := math.Inf(1)
	short, long := min(a, b), max(a, b)
	for _, l := range z.stock.Lines {
		holds := func(width, cut float64) bool {
			return width <= l.WidthM+stock.FitM && cut+stock.FacingM <= l.LengthM
		}
		if l.Shape == stock.Flat && l.Material == sizedSteel && l.ThicknessM >= thickness-stock.FitM && l.ThicknessM < best && (holds(short, long) || holds(long, short)) {
			best = l.ThicknessM
		}
	}
	if best > 2*up+5e-3 { // far too thick: better ordered
		return up
	}
	return best
}

// barred makes the sections of a yoke of bars those of the list.
func (z *sizer) barred(c *draft) {
	height := c.gap + 2*c.thickness
	switch c.kind {
	case "framed-pair":
		c.leg = z.bar(c.leg, c.depthX(), height)
		c.back = z.bar(c.back, c.depthX(), c.width+2*c.side()+2*c.leg)
	case "c-frame":
		c.leg = z.bar(c.leg, c.depthX(), height)
		c.back = z.bar(c.back, c.depthX(), c.width+c.side()+c.leg)
	case "single-block":
		c.back = z.bar(c.back, 1.5*c.depthX(), 1.5*c.width)
	case "pole-tips":
		d := c.width * c.over
		c.leg = z.bar(c.leg, d, height+2*c.tipHeight())
		c.back = z.bar(c.back, d, d+2*c.side()+2*c.leg)
	default:
		up := func(x float64) float64 { return math.Ceil(x/0.5e-3-1e-6) * 0.5e-3 }
		c.leg, c.back = up(c.leg), up(c.back)
	}
}

// rough is about what a draft costs: its magnets by their price or by the kilogram, its steel by the kilogram.
func (z *sizer) rough(c draft) float64 {
	magnets, yoke := c.mass()
	cost := float64(c.poles()) * c.shelf.price
	if c.shelf.pieces == 0 {
		perKg, _ := z.stock.PerKg(c.magnet.Name)
		cost = magnets * perKg
	}
	if s, ok := c.steel(); ok {
		perKg, _ := z.stock.PerKg(s.Name)
		cost += yoke * perKg
	}
	return cost
}

// priced gives the first candidates of a list, one for each magnet, their bills, takes out those that pass the target's cost and puts those first
// that can be bought altogether, the cheapest first.
func (z *sizer) priced(list []Candidate) (out []Candidate, err error) {
	seen := map[string]bool{}
	for _, c := range list {
		// The same magnet can come from two lines, put together in another number; the bill takes the cheaper, which comes first.
		line, size := c.magnetKey(), fmt.Sprint(c.Grade, min(c.draft.width, c.draft.depthX()), max(c.draft.width, c.draft.depthX()), c.draft.over, c.draft.thickness)
		if seen[line] || seen[size] {
			continue
		}
		seen[line], seen[size] = true, true
		if len(out) == mostPriced {
			break
		}
		d, err := design.Read(bytes.NewReader(z.file(c)), "")
		if err != nil {
			return nil, fmt.Errorf("the candidate %s cannot be read as a design: %w", c.Layout, err)
		}
		bill, err := stock.BillOf(d, z.stock)
		if err != nil {
			return nil, err
		}
		cost := z.stock.Money(bill.Cost)
		c.Cost, c.NotInStock = &cost, bill.Missing
		if t := z.target.Cost; t == nil || bill.Cost <= t.Amount {
			out = append(out, c)
		}
	}
	slices.SortStableFunc(out, byCost)
	return out, nil
}

// byCost puts what can be bought altogether first, the cheapest first.
func byCost(a, b Candidate) int {
	if n := cmp.Compare(min(1, len(a.NotInStock)), min(1, len(b.NotInStock))); n != 0 {
		return n
	}
	return cmp.Compare(a.Cost.Amount, b.Cost.Amount)
}

// costChange is about what a change costs, by the kilogram; nil where the list does not have the materials.
func (z *sizer) costChange(from, to draft) *quantity.Money {
	if z.stock == nil {
		return nil
	}
	cost := func(c draft) (float64, bool) {
		perKg, ok := z.stock.PerKg(c.magnet.Name)
		magnets, yoke := c.mass()
		total := magnets * perKg
		if s, has := c.steel(); has {
			perKg, known := z.stock.PerKg(s.Name)
			total, ok = total+yoke*perKg, ok && known
		}
		return total, ok
	}
	before, ok := cost(from)
	after, ok2 := cost(to)
	if !ok || !ok2 {
		return nil
	}
	m := z.stock.Money(after - before)
	return &m
}

// otherMagnet is the draft with the magnet of the list that gains the percentage at the least cost, the rest as it is but for a yoke as deep and
// wide as the magnet wants; ok is false where none does.
func (z *sizer) otherMagnet(c draft, percent float64, field func(draft) float64) (best draft, ok bool) {
	want := field(c) * (1 + percent/100)
	for _, line := range z.stock.Lines {
		m, fits := z.magnet(c.kind, line, correction{})
		if !fits || line.Limited && c.poles() > line.Available {
			continue
		}
		for _, x := range standings(c.kind, line) {
			x.magnet, x.gap, x.thickness, x.leg, x.back = m, c.gap, line.ThicknessM, c.leg, c.back
			x.shelf = shelf{line.Name, 1, line.Price}
			if min(x.width, x.depthX()) < z.across || field(x) < want || z.tooHot(x) || ok && z.rough(x) >= z.rough(best) {
				continue
			}
			best, ok = x, true
		}
	}
	return best, ok
}
