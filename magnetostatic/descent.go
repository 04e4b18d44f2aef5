package magnetostatic

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/material"
)

// This file lets magnets leave their recoil line: the law of a magnet on its way down the demagnetization curve, and the magnetization that
// it keeps afterwards at each quadrature point.

// Descent is what a magnet does along its magnetization. A polarized linear medium with a Descent stays on its recoil line, and the Descent
// tells the field within its material; with Linear off the medium follows the curve, along the magnetization only:
//
//	B = mu0 Relative H + n a (B'(n.H) - mu0 m n.H)
//
// with n the direction of the magnetization, m = n.Relative.n, and B' the curve of the magnet in series with its coating and the films on
// its faces: H is the mean s Hm + r B'/mu0 with Hm the field strength in the magnet and B' = B(Hm). For a bare magnet a = s = 1, r = 0.
type Descent struct {
	Along      Vec                       // unit direction of the magnetization
	Bare, Film float64                   // s and r: shares of the length along it that are magnet, and coating and films
	Area       float64                   // a: share of the section across it that is magnet
	Remanence  float64                   // T
	Recoil     float64                   // relative
	Curve      *material.Demagnetization // nil where none is known: the magnet cannot descend
}

// inside is the field strength in the magnet along its magnetization where the mean over magnet and films is h, on the recoil line with the
// given share of the remanence kept.
func (d *Descent) inside(h, kept float64) float64 {
	return (h - d.Film*kept*d.Remanence/material.Mu0) / (d.Bare + d.Film*d.Recoil)
}

// series solves h = s Hm + r B(Hm)/mu0 for Hm, and gives B with its derivative and coenergy with respect to h.
func (d *Descent) series(h float64) (hm, b, slope, coenergy float64) {
	r := d.Film / material.Mu0
	hm = d.Curve.Meet(d.Bare, r, h)
	b, c, w := d.Curve.Eval(hm)
	return hm, b, c / (d.Bare + r*c), d.Bare*w + r*b*b/2
}

// descend is the law of a magnet that follows its curve.
func (m *Medium) descend(h *[3]float64, out *law) {
	d, n := m.Descent, &m.Descent.Along
	const mu0 = material.Mu0
	uu, uv, vv, ww := mu0*m.RelativeUU, mu0*m.RelativeUV, mu0*m.RelativeVV, mu0*m.RelativeWW
	hn := h[0]*n[0] + h[1]*n[1] + h[2]*n[2]
	line := m.slopeAlong()
	_, b, slope, w := d.series(hn)
	p, dp := d.Area*(b-line*hn), d.Area*(slope-line)
	bu, bv, bw := uu*h[0]+uv*h[1], uv*h[0]+vv*h[1], ww*h[2]
	out.B = [3]float64{bu + p*n[0], bv + p*n[1], bw + p*n[2]}
	out.D = [6]float64{uu + dp*n[0]*n[0], vv + dp*n[1]*n[1], ww + dp*n[2]*n[2], uv + dp*n[0]*n[1], dp * n[0] * n[2], dp * n[1] * n[2]}
	out.w = (bu*h[0]+bv*h[1]+bw*h[2])/2 + d.Area*(w-line*hn*hn/2)
}

// slopeAlong is dB/dH of a magnet's recoil line along its magnetization.
func (m *Medium) slopeAlong() float64 {
	n := &m.Descent.Along
	return material.Mu0 * (m.RelativeUU*n[0]*n[0] + 2*m.RelativeUV*n[0]*n[1] + m.RelativeVV*n[1]*n[1] + m.RelativeWW*n[2]*n[2])
}

// ascend is H for a given B of a magnet that follows its curve; the magnetization lies along a principal direction of the permeability.
func (m *Medium) ascend(b [3]float64) [3]float64 {
	d, n := m.Descent, &m.Descent.Along
	const mu0 = material.Mu0
	bn := b[0]*n[0] + b[1]*n[1] + b[2]*n[2]
	line := m.slopeAlong()
	// With h = s Hm + r B/mu0 in it, bn = (1 - a) line h + a B is a load line of Hm.
	rest, r := (1-d.Area)*line, d.Film/mu0
	hm := d.Curve.Meet(rest*d.Bare, rest*r+d.Area, bn)
	v, _, _ := d.Curve.Eval(hm)
	p := d.Area * (v - line*(d.Bare*hm+r*v))
	x, y, z := (b[0]-p*n[0])/mu0, (b[1]-p*n[1])/mu0, (b[2]-p*n[2])/mu0
	det := m.RelativeUU*m.RelativeVV - m.RelativeUV*m.RelativeUV
	return [3]float64{(m.RelativeVV*x - m.RelativeUV*y) / det, (m.RelativeUU*y - m.RelativeUV*x) / det, z / m.RelativeWW}
}

// Spot is a piece of a magnet.
type Spot struct {
	At     r3.Vec  // world position, m
	Volume float64 // m3
	H      float64 // field strength in its material along the magnetization, A/m
}

// Along gives the field along the magnetization all over each magnet of the grid, at the quadrature points; bodies without a Descent have none.
// Where mirror images of the domain fall into the same body a spot stands for all of them, with their volume and the place of one.
func (s *Solution) Along() [][]Spot {
	g := s.Problem.Grids
	own := make([][]Spot, len(s.Problem.Media)) // places in the grid's frame
	s.eachMagnetCell(func(body, cell int, volume, h *[18]float64) {
		for i := range 18 {
			q := s.sys.point(cell/s.Grid.Layers(), cell%s.Grid.Layers(), i)
			own[body] = append(own[body], Spot{r3.Vec{X: q[0], Y: q[1], Z: q[2]}, volume[i], h[i]})
		}
	})
	out := make([][]Spot, len(own))
	for i := range out {
		images, mirrors := make([]float64, len(own)), make([][3]float64, len(own))
		s.eachImage(i, func(j int, mirror [3]float64, _ float64) {
			if images[j]++; images[j] == 1 {
				mirrors[j] = mirror
			}
		})
		for j, n := range images {
			if n == 0 {
				continue
			}
			for _, o := range own[j] {
				at := g.World([3]float64{mirrors[j][0] * o.At.X, mirrors[j][1] * o.At.Y, mirrors[j][2] * o.At.Z})
				out[i] = append(out[i], Spot{r3.Add(g.Center, at), n * o.Volume, o.H})
			}
		}
	}
	return out
}

// eachMagnetCell visits the cells of magnets with the volume and the field in the material at their quadrature points, numbered
// 6*layer point + plan point.
func (s *Solution) eachMagnetCell(visit func(body, cell int, volume, h *[18]float64)) {
	nl := s.Grid.Layers()
	var v [6][3]float64
	var volume, along [18]float64
	for t := range s.sys.els {
		for l := range nl {
			body := s.Grid.Cell[t*nl+l]
			if body < 0 || s.Problem.Media[body].Descent == nil {
				continue
			}
			m := &s.Problem.Media[body]
			s.cellNodes(t, l, &v)
			for i := range 18 {
				var hf [3]float64
				hf, _, volume[i] = s.fieldAt(t, l, &v, i%6, i/6)
				hn := hf[0]*m.Descent.Along[0] + hf[1]*m.Descent.Along[1] + hf[2]*m.Descent.Along[2]
				if m.Linear {
					along[i] = m.Descent.inside(hn, s.kept(t*nl+l, i))
				} else {
					along[i], _, _, _ = m.Descent.series(hn)
				}
			}
			visit(int(body), t*nl+l, &volume, &along)
		}
	}
}

// Kept is the share of their magnetization that the magnets of a grid keep, at the quadrature points of its finest level.
type Kept struct {
	slot  []int32 // of each cell, -1 outside magnets
	share [][18]float64
}

// Weaken gives what the magnets keep after the field of s, and after what left them with k before (nil: fresh). The magnets of s follow their
// curves; s is the finest solution of its problem.
func (s *Solution) Weaken(k *Kept) *Kept {
	out := &Kept{slot: make([]int32, len(s.Grid.Cell))}
	for i := range out.slot {
		out.slot[i] = -1
	}
	s.eachMagnetCell(func(body, cell int, _, h *[18]float64) {
		var share [18]float64
		for i := range share {
			share[i] = 1
			if c := s.Problem.Media[body].Descent.Curve; c != nil {
				share[i] = c.Kept(h[i])
			}
			if k != nil {
				share[i] = min(share[i], k.share[k.slot[cell]][i])
			}
		}
		out.slot[cell] = int32(len(out.share))
		out.share = append(out.share, share)
	})
	return out
}

// MeanKept is the mean over each body of the share kept, 1 for bodies that keep all.
func (s *Solution) MeanKept(k *Kept) []float64 {
	volume, sum := make([]float64, len(s.Problem.Media)), make([]float64, len(s.Problem.Media))
	s.eachMagnetCell(func(body, cell int, v, _ *[18]float64) {
		for i := range 18 {
			volume[body] += v[i]
			sum[body] += v[i] * k.share[k.slot[cell]][i]
		}
	})
	out := make([]float64, len(volume))
	for i := range out {
		var v, kept float64
		s.eachImage(i, func(j int, _ [3]float64, _ float64) { v, kept = v+volume[j], kept+sum[j] })
		out[i] = 1
		if v > 0 {
			out[i] = kept / v
		}
	}
	return out
}

// kept is the share kept at a quadrature point of a cell of the finest level.
func (s *Solution) kept(cell, point int) float64 {
	k := s.Problem.Kept
	if k == nil || k.slot[cell] < 0 {
		return 1
	}
	return k.share[k.slot[cell]][point]
}

// KeptAt is the share kept at a world point, that of the quadrature point next to it; 1 outside the magnets of the grid.
func (s *Solution) KeptAt(k *Kept, p r3.Vec) float64 {
	q, _ := s.fold(p)
	return s.keptNear(k, q)
}

// keptNear is KeptAt a point of the domain in the grid's frame.
func (s *Solution) keptNear(k *Kept, q [3]float64) float64 {
	if k == nil {
		return 1
	}
	t, l, _, _, ok := s.locate(q)
	if !ok || k.slot[t*s.Grid.Layers()+l] < 0 {
		return 1
	}
	best, distance := 0, math.Inf(1)
	for i := range 18 {
		p := s.sys.point(t, l, i)
		if d := (p[0]-q[0])*(p[0]-q[0]) + (p[1]-q[1])*(p[1]-q[1]) + (p[2]-q[2])*(p[2]-q[2]); d < distance {
			best, distance = i, d
		}
	}
	return k.share[k.slot[t*s.Grid.Layers()+l]][best]
}

// coarsen gives the shares on a coarser level: the mean over the cells within each of its cells. Triangles 4t to 4t+3 of a refined plan lie
// in triangle t, layers 2l and 2l+1 in layer l.
func (k *Kept) coarsen(layers int) *Kept {
	nl := layers / 2
	out := &Kept{slot: make([]int32, len(k.slot)/8)}
	for c := range out.slot {
		t, l := c/nl, c%nl
		out.slot[c] = -1
		if k.slot[4*t*layers+2*l] < 0 {
			continue
		}
		var sum float64
		for i := range 8 {
			for _, x := range k.share[k.slot[(4*t+i/2)*layers+2*l+i%2]] {
				sum += x
			}
		}
		var share [18]float64
		for i := range share {
			share[i] = sum / (8 * 18)
		}
		out.slot[c] = int32(len(out.share))
		out.share = append(out.share, share)
	}
	return out
}

// keptAt gives the shares on a level of the problem's grids.
func (p *Problem) keptAt(level int) *Kept {
	k := p.Kept
	for i := len(p.Grids.Grid) - 1; k != nil && i > level; i-- {
		k = k.coarsen(p.Grids.Grid[i].Layers())
	}
	return k
}

// weakenedSource adds the source of a magnet that keeps only a share of its polarization j at each point.
func (s *system) weakenedSource(t, l int, h float64, j Vec, share *[18]float64) {
	e, tri := &s.els[t], &s.mesh.Triangles[t]
	var y [6][]float64
	for a, p := range tri {
		y[a] = s.source[int(p)*s.nz : (int(p)+1)*s.nz]
	}
	for i, g := range share {
		addPoint(e, &y, l, h, i%6, i/6, [3]float64{g * j[0], g * j[1], g * j[2]})
	}
}

// Raw is H (A/m) at a world point from the element that holds it, without the smoothing of At.
func (s *Solution) Raw(p r3.Vec) (h r3.Vec, ok bool) {
	q, sign := s.fold(p)
	t, l, area, frac, ok := s.locate(q)
	if !ok {
		return r3.Vec{}, false
	}
	hf := s.raw(q, t, l, area, frac)
	for k := range hf {
		hf[k] *= sign[k]
	}
	return s.Problem.Grids.World(hf), true
}
