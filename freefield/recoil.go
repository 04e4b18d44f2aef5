package freefield

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/material"
	"polewright/shape"
)

// This file takes the recoil of blocks in free space into account: B = J + mu0 mu H within each. As B has no sources, and H none within a body of one
// mu, all charge lies on the surfaces,
//
//	sigma = n.(J + (mu-1) mu0 H),   H the field of all charges, on the inner side.
//
// Its mean over a block, a uniform polarization, is the fixed point of a map that contracts by (mu-1) N, N <= 1 a demagnetizing factor. What differs
// from the mean has no moment; it is taken on panels, from the field of the uniform polarizations, and so is good to mu-1 of itself.

// MostRecoil is the largest relative recoil permeability that [Relax] takes: above it what is left out counts.
const MostRecoil = 1.2

// relaxTol is the change of the polarization over the largest of all at which the fixed point is reached.
const relaxTol = 1e-5

// From panelReach radii on the multipoles of the panels up to panelDegree serve: some 1e-3 of a field that is itself a hundredth.
const (
	panelReach  = 1.7
	panelDegree = 8
)

// panel is a rectangle of a block's face with a charge over that of the mean polarization.
type panel struct {
	axis   int
	center [3]float64 // in the block's frame
	half   [3]float64 // zero along the axis
	sigma  float64    // T
}

// Relax makes magnets with recoil ready, with coils, each with its mean polarization. recoil holds the relative recoil permeability of each, from 1 to
// [MostRecoil]. The magnets of the assembly are those with that polarization; its potential and its forces are theirs.
func Relax(s Sources, recoil []float64, coils ...Coil) *Assembly {
	a := &Assembly{magnets: relaxed(s, recoil, coils), coils: coils, bare: s, recoil: recoil}
	a.plant(0)
	a.fill()
	return a
}

// Paneled adds to a relaxed assembly what the charge of its blocks differs from the mean's, on cuts x cuts panels a face. Other magnets keep the mean.
func (a *Assembly) Paneled(cuts int) *Assembly {
	p := &Assembly{magnets: a.magnets, coils: a.coils, bare: a.bare, recoil: a.recoil}
	p.plant(cuts)
	var blocks []*prepared
	for i := range p.bodies {
		if p.bodies[i].panels != nil {
			blocks = append(blocks, &p.bodies[i])
		}
	}
	charge(a, blocks)
	inParallel(len(blocks), 4, func(i int) {
		b := blocks[i]
		c := &multipoles{center: b.center, radius: b.radius, d: make([]complex128, termsTo(mostDegree))}
		b.addPanels(c.center, c.radius, c.d)
		c.settle()
		b.rest = c
	})
	p.fill()
	return p
}

// relaxed gives magnets their mean polarization with recoil.
func relaxed(s Sources, recoil []float64, coils []Coil) Sources {
	mean := append(Sources{}, s...)
	var points []r3.Vec
	var weights []float64
	last := make([]int, len(s)) // points of each magnet end here
	var most float64
	for i, m := range s {
		for _, q := range meanRule(m.Solid) {
			points, weights = append(points, m.Place.ToWorld(q.at)), append(weights, q.w/m.Solid.Volume())
		}
		last[i] = len(points)
		most = max(most, r3.Norm(m.Polarization))
	}
	h := make([]r3.Vec, len(points))
	change := append(Sources{}, s...) // of the last step: its field changes the polarization once more
	for range 30 {
		Assemble(change, coils...).Fields(points, nil, h)
		coils = nil
		var step float64
		k := 0
		for i := range change {
			var field r3.Vec
			for ; k < last[i]; k++ {
				field = r3.Add(field, r3.Scale(weights[k], h[k]))
			}
			change[i].Polarization = r3.Scale((recoil[i]-1)*material.Mu0, field)
			mean[i].Polarization = r3.Add(mean[i].Polarization, change[i].Polarization)
			step = max(step, r3.Norm(change[i].Polarization))
		}
		if !(step > relaxTol*most) {
			break
		}
	}
	return mean
}

// meanRule integrates a field over a magnet in which the field may have its sources, to some per mille.
func meanRule(s shape.Solid) []weighted {
	switch s := s.(type) {
	case nil:
		return nil
	case shape.Block:
		return blockRule(s.HalfExtent(), func(float64) int { return 4 })
	}
	return volumeRule(s, math.Inf(1))
}

// panelsOf cuts the faces of a block into n x n panels, narrow along the edges, where the field rises.
func panelsOf(h r3.Vec, n int) (out []panel) {
	half := [3]float64{h.X, h.Y, h.Z}
	bound := func(k int) float64 { return -math.Cos(math.Pi * float64(k) / float64(n)) }
	for axis := range 3 {
		u, v := (axis+1)%3, (axis+2)%3
		for _, side := range []float64{-1, 1} {
			for i := range n {
				for j := range n {
					p := panel{axis: axis}
					p.center[axis] = side * half[axis]
					p.center[u], p.half[u] = half[u]*(bound(i)+bound(i+1))/2, half[u]*(bound(i+1)-bound(i))/2
					p.center[v], p.half[v] = half[v]*(bound(j)+bound(j+1))/2, half[v]*(bound(j+1)-bound(j))/2
					out = append(out, p)
				}
			}
		}
	}
	return out
}

// charge gives the panels the charge that the field of the mean polarizations asks for there, so that a body's charge and its moment stay.
func charge(whole *Assembly, bodies []*prepared) {
	var points []r3.Vec
	for _, b := range bodies {
		for _, p := range b.panels {
			at := p.center
			at[p.axis] *= 1 - 1e-6 // on the inner side
			points = append(points, b.Place.ToWorld(r3.Vec{X: at[0], Y: at[1], Z: at[2]}))
		}
	}
	h := make([]r3.Vec, len(points))
	whole.Fields(points, nil, h)
	for _, b := range bodies {
		// Over both faces across an axis: the sum of charges, and of charges times their side, are those of the mean.
		var faces [3][2]float64
		for k := range b.panels {
			p := &b.panels[k]
			l := b.Place.Rot.Inverse(h[k])
			side := math.Copysign(1, p.center[p.axis])
			p.sigma = side * b.excess * material.Mu0 * [3]float64{l.X, l.Y, l.Z}[p.axis]
			i := 0
			if side > 0 {
				i = 1
			}
			faces[p.axis][i] += p.sigma * p.area()
		}
		h = h[len(b.panels):]
		half := [3]float64{b.half.X, b.half.Y, b.half.Z}
		var total float64 // flux of H out of the block, zero but for the panels' size
		for _, f := range faces {
			total += f[0] + f[1]
		}
		surface := 8 * (half[0]*half[1] + half[1]*half[2] + half[2]*half[0])
		var moment [3]float64
		for k := range b.panels {
			p := &b.panels[k]
			p.sigma -= total / surface
			for i := range 3 {
				moment[i] += p.sigma * p.area() * p.center[i]
			}
		}
		volume := 8 * half[0] * half[1] * half[2]
		for k := range b.panels {
			p := &b.panels[k]
			p.sigma -= math.Copysign(1, p.center[p.axis]) * moment[p.axis] / volume
		}
	}
}

func (p *panel) area() float64 {
	return 4 * p.half[(p.axis+1)%3] * p.half[(p.axis+2)%3]
}

// field is that of the panel's charge, times 4 pi mu0: the solid angle towards it, and the logarithms of its edges.
func (p *panel) field(at [3]float64) (h [3]float64) {
	u, v := (p.axis+1)%3, (p.axis+2)%3
	z := at[p.axis] - p.center[p.axis]
	x0, x1 := at[u]-p.center[u]+p.half[u], at[u]-p.center[u]-p.half[u]
	y0, y1 := at[v]-p.center[v]+p.half[v], at[v]-p.center[v]-p.half[v]
	least := near * max(p.half[u], p.half[v])
	zz := max(z*z, least*least)
	r00, r01 := math.Sqrt(x0*x0+y0*y0+zz), math.Sqrt(x0*x0+y1*y1+zz)
	r10, r11 := math.Sqrt(x1*x1+y0*y0+zz), math.Sqrt(x1*x1+y1*y1+zz)
	h[u] = p.sigma * edgesLog(y1, y0, r11, r10, r01, r00, x1*x1+zz, x0*x0+zz)
	h[v] = p.sigma * edgesLog(x1, x0, r11, r01, r10, r00, y1*y1+zz, y0*y0+zz)
	if math.Abs(z) > least {
		re, im := solid(math.Abs(z), x1, x0, y1, y0, r11, r10, r01, r00)
		h[p.axis] = math.Copysign(1, z) * p.sigma * positiveAngle(argument(im, re))
	}
	return h
}

// edgesLog is ln((hi + r)/(lo + r)) of an edge from lo to hi less that of another one beside it, r and s the distances from their ends, d and e the squares
// of those from their lines; see [logRatio].
func edgesLog(lo, hi, rlo, rhi, slo, shi, d, e float64) float64 {
	switch {
	case lo > 0:
		return logOfRatio((hi+rhi)*(lo+slo), (lo+rlo)*(hi+shi))
	case hi < 0:
		return logOfRatio((rlo-lo)*(shi-hi), (rhi-hi)*(slo-lo))
	}
	return logOfRatio((hi+rhi)*(rlo-lo)*e, (hi+shi)*(slo-lo)*d)
}

// fieldOfPanels is that of what the charge differs from the mean, A/m.
func (b *prepared) fieldOfPanels(p r3.Vec) (h r3.Vec) {
	if b.rest != nil && r3.Norm(r3.Sub(p, b.center)) > panelReach*b.radius {
		return b.rest.h(p, panelDegree)
	}
	l := b.Place.ToLocal(p)
	at := [3]float64{l.X, l.Y, l.Z}
	for k := range b.panels {
		f := b.panels[k].field(at)
		h.X, h.Y, h.Z = h.X+f[0], h.Y+f[1], h.Z+f[2]
	}
	return r3.Scale(1/(4*math.Pi*material.Mu0), b.Place.Rot.Apply(h))
}

// addPanels adds the multipoles of the panels' charges, four points each.
func (b *prepared) addPanels(center r3.Vec, radius float64, d []complex128) {
	f := make([]complex128, termsTo(mostDegree))
	for k := range b.panels {
		p := &b.panels[k]
		u, v := (p.axis+1)%3, (p.axis+2)%3
		q := complex(p.sigma*p.area()/4*radius/material.Mu0, 0)
		for _, x := range gauss[2].x {
			for _, y := range gauss[2].x {
				at := p.center
				at[u] += x * p.half[u]
				at[v] += y * p.half[v]
				regular(r3.Scale(1/radius, r3.Sub(b.Place.ToWorld(r3.Vec{X: at[0], Y: at[1], Z: at[2]}), center)), mostDegree, f)
				for t := range f {
					d[t] += q * f[t]
				}
			}
		}
	}
	d[0] = 0 // no charge in all
}
