package polewright

import (
	"context"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/material"
	"polewright/result"
)

// ledgerDensity is that of the grid of the ledger's solves: over the demo designs each row is that of the draft grid within 0.01 % of the field
// in the gap.
const ledgerDensity = 0.4

// levels are fields in the gap, T, with one loss more each.
type levels struct{ ideal, plain, joined, last float64 }

// levels solves what the ledger tells: perfect steel where there is steel, real steel, films, the temperature of use. It is nil without magnets.
func (a *assembly) levels(ctx context.Context, use condition) (*levels, error) {
	d := a.design
	if len(d.Magnets) == 0 {
		return nil, nil
	}
	rough := newDrafts(a, ledgerDensity)
	// Without films or at room temperature two conditions are one: each is solved once.
	solved := map[condition]float64{}
	var failed error
	once := func(c condition) float64 {
		c.joints = c.joints && a.filmed()
		if _, ok := solved[c]; !ok && failed == nil {
			var b r3.Vec
			b, failed = a.gapAt(ctx, rough, c)
			solved[c] = r3.Norm(b)
		}
		return solved[c]
	}
	base := condition{temperatureC: roomTemperatureC}
	l := &levels{last: once(use), plain: once(base), joined: once(condition{temperatureC: roomTemperatureC, joints: true})}
	if len(d.Steels)+len(d.Wounds) > 0 {
		l.ideal = once(condition{temperatureC: roomTemperatureC, idealSteel: true})
	}
	return l, failed
}

// gapAt is the field in the middle of the gap in a condition: by closed forms where there are such, else by rough solves.
func (a *assembly) gapAt(ctx context.Context, rough *drafts, c condition) (b r3.Vec, err error) {
	d := a.design
	switch {
	case isFreeField(d):
		s := bareSources(d, c.temperatureC)
		for i := range s {
			if !c.joints { // coatings taken as magnet
				s[i].Solid = d.Magnets[i].Solid
			}
		}
		b = s.B(a.center)
		for _, x := range bareCoils(d) {
			b = r3.Add(b, r3.Scale(material.Mu0, x.H(a.center)))
		}
		return b, nil
	case a.relaxes(): // coatings are taken off in all rows
		return a.freeAt(c.temperatureC).B(a.center), nil
	case a.round != nil:
		f, err := a.round.draft(ctx, c)
		if err != nil {
			return b, err
		}
		b, _ = f.At(a.center)
		return b, nil
	}
	_, err = rough.solve(ctx, c)
	return rough.gap[c], err
}

// ledger leads from the remanence to the field in the gap. Every row but the last of the chain is a solve of the same coarse grid with one
// more loss switched on; what that grid itself misses against the result goes into the leakage, where nearly all of it belongs.
func (a *assembly) ledger(r *result.Result, use condition, drops *levels) {
	d := a.design
	gap := r3.Vec{X: r.GapB[0], Y: r.GapB[1], Z: r.GapB[2]}
	final := r3.Norm(gap)
	if final == 0 {
		return
	}
	remanence, series := a.line(r3.Unit(gap))
	l := &result.Ledger{}
	level := remanence
	step := func(what, why string, to float64) {
		l.Rows = append(l.Rows, result.LedgerRow{What: what, Why: why, Delta: to - level, After: to})
		level = to
	}
	l.Rows = append(l.Rows, result.LedgerRow{What: "remanence", Why: "of the magnets on the line through the gap, at 20 degC", After: remanence})

	shift := final - drops.last // the coarse grid's own error, taken up by the leakage
	type row struct {
		what, why string
		at        float64
	}
	var rows []row
	if len(d.Steels)+len(d.Wounds) > 0 {
		if series > 0 {
			rows = append(rows, row{"length of the gap", "magnets in series with the gap, all flux through it", remanence * series})
		}
		rows = append(rows, row{"leakage and fringing", "flux that closes beside the gap, with perfect steel", drops.ideal + shift},
			row{"steel", "what the real yoke costs: saturation, permeability, wire across the flux", drops.plain + shift})
	} else {
		rows = append(rows, row{"open circuit", "no steel: the flux returns through air, most of it beside the gap", drops.plain + shift})
	}
	if a.filmed() {
		rows = append(rows, row{"joints and coatings", "films of glue, air and plating in series with the flux", drops.joined + shift})
	}
	if use.temperatureC != roomTemperatureC {
		rows = append(rows, row{"temperature", "reversible change of the remanence from 20 degC to the working temperature", drops.last + shift})
	}
	for _, x := range rows {
		step(x.what, x.why, x.at)
	}
	if len(rows) > 0 && math.Abs(level-final) > 0 { // whatever condition the design does not name is none
		l.Rows[len(l.Rows)-1].Delta += final - level
		l.Rows[len(l.Rows)-1].After = final
	}
	r.Ledger = l
}

// line looks along the field through the middle of the gap: the mean remanence of the magnets met, and the share of it that a series
// circuit of magnets and gaps keeps, Lm/(Lm + mu_rec g) with steel of no reluctance; 0 when the line meets no magnet.
func (a *assembly) line(u r3.Vec) (remanence, share float64) {
	d := a.design
	box := a.outer()
	reach := r3.Norm(box.Size())
	const n = 8000
	var magnet, sum, recoil, gap, air float64
	step := 2 * reach / n
	met := false
	for i := range n {
		p := r3.Add(a.center, r3.Scale(-reach+(float64(i)+0.5)*step, u))
		found := -1
		for k, q := range a.parts {
			if q.Solid.Contains(q.Place.ToLocal(p), 0) {
				found = k
				break
			}
		}
		switch {
		case found < 0:
			air += step // counts only if another part follows
			continue
		case found < len(d.Magnets):
			m := &d.Magnets[found]
			magnet += step
			sum += step * m.Material.RemanenceT
			recoil += step * m.Material.RecoilPermeability
		}
		if met {
			gap += air
		}
		met, air = true, 0
	}
	if magnet == 0 {
		var volume float64
		for i := range d.Magnets {
			v := d.Magnets[i].Solid.Volume()
			volume += v
			sum += v * d.Magnets[i].Material.RemanenceT
		}
		return sum / volume, 0
	}
	return sum / magnet, magnet / (magnet + recoil/magnet*gap)
}
