package magnetostatic

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/grid"
)

// HalfForce is the force in newton on all that lies on the positive side of a world plane (axis 0, 1, 2 for x, y, z, at its coordinate in
// metres): what a jig or spacer has to hold. Where the plane cuts a body it is the force with a thin film of air there. The grid must have been
// built to contain the plane (grid.Spec.Planes); the error says so if it does not.
//
// The component across the plane is the virtual work of the cells next to the plane on its positive side; the components along it are the
// integral of B_n H_t.
func (s *Solution) HalfForce(axis int, at float64) (r3.Vec, error) { return s.half(axis, at, true) }

// HalfPull is the component of HalfForce across the plane, which takes no field on the plane in air.
func (s *Solution) HalfPull(axis int, at float64) (float64, error) {
	f, err := s.half(axis, at, false)
	return [3]float64{f.X, f.Y, f.Z}[axis], err
}

func (s *Solution) half(axis int, at float64, shear bool) (r3.Vec, error) {
	g := s.Problem.Grids
	if g.Askew() {
		return r3.Vec{}, errors.New("the grid lies askew, for the sake of the steel: it has no such plane")
	}
	k := (axis - g.Axis + 2) % 3 // the plane's axis in the grid's frame
	c := g.Frame(g.Center)
	at -= c[k]
	par := g.Parity()
	mirrored := par[k] != grid.None && at < -1e-9
	if mirrored {
		at = -at
	}
	tol := 1e-8
	if at > g.Max[k] || at < g.Min[k]-tol {
		return r3.Vec{}, fmt.Errorf("the plane lies outside the grid, %.4g m from the assembly's centre", at)
	}
	nl := s.Grid.Layers()
	on := func(p, kk int) bool {
		switch k {
		case 0:
			return math.Abs(s.Grid.Plan.Nodes[p].X-at) < tol
		case 1:
			return math.Abs(s.Grid.Plan.Nodes[p].Y-at) < tol
		}
		return math.Abs(s.sys.height(kk)-at) < tol
	}
	var f [3]float64
	var v [6][3]float64
	var lw law
	found := false
	for t, tri := range s.Grid.Plan.Triangles {
		e := &s.sys.els[t]
		if k < 2 {
			var mid, near float64
			for _, p := range tri[:3] {
				x := [2]float64{s.Grid.Plan.Nodes[p].X, s.Grid.Plan.Nodes[p].Y}[k]
				mid += x / 3
				if math.Abs(x-at) < tol {
					near++
				}
			}
			if mid < at || near == 0 {
				continue
			}
		}
		for l := range nl {
			if k == 2 && math.Abs(s.Grid.Faces[l]-at) > tol {
				continue
			}
			own := s.Grid.Cell[t*nl+l]
			s.cellNodes(t, l, &v)
			lo := s.Grid.Faces[l]
			h := s.Grid.Faces[l+1] - lo
			for pq := range 6 {
				for zq := range 3 {
					hf, q, w := s.fieldAt(t, l, &v, pq, zq)
					st := stress(s.medium(own), &hf, &q, &lw)
					var grad [3]float64
					for a, p := range tri {
						for i := range 3 {
							if on(int(p), 2*l+i) {
								ln, ld := layerShape[zq][i], layerSlope[zq][i]/h
								grad[0] += e.gu[pq][a] * ln
								grad[1] += e.gv[pq][a] * ln
								grad[2] += triangleN[pq][a] * ld
							}
						}
					}
					grad = s.sys.unstretched(grad, s.sys.point(t, l, 6*zq+pq), t, l)
					f[k] += w * (st[k][0]*grad[0] + st[k][1]*grad[1] + st[k][2]*grad[2])
				}
			}
			// On the plane itself: what a film changes across it, and the shear along it.
			visit := func(p *facePoint, hf [3]float64) {
				q, w := p.at, p.weight
				var n [3]float64
				n[k] = 1
				if own >= 0 {
					f[k] -= w * s.filmStress(own, hf, q, n)
				}
				b := s.flux(own, hf, q)
				for i := range 3 {
					if i != k {
						f[i] -= w * b[k] * hf[i]
					}
				}
			}
			skip := own < 0 && !shear // which tells of the shear alone
			if k == 2 {
				if found = true; !skip {
					s.eachFacePoint(t, l, 0, s.fitAlone, visit)
				}
				continue
			}
			for edge := range 3 {
				if on(int(tri[edge]), 0) && on(int(tri[(edge+1)%3]), 0) {
					if found = true; skip {
						continue
					}
					s.eachFacePoint(t, l, 2+edge, s.fitAlone, visit)
				}
			}
		}
	}
	if !found {
		return r3.Vec{}, fmt.Errorf("the grid does not contain the plane %s = %.6g m: name it before solving", string("xyz"[axis]), at+c[k])
	}
	// The other mirror images of the domain.
	for i, p := range par {
		switch {
		case p == grid.None:
		case i != k:
			for j := range 3 {
				if j == i {
					f[j] = 0
				} else {
					f[j] *= 2
				}
			}
		case mirrored: // all on the negative side of the image, with the sign changed
			for j := range 3 {
				if j != k {
					f[j] = -f[j]
				}
			}
		}
	}
	return g.World(f), nil
}

// Within is B (T) of the element itself at a point within a body of the grid, not recovered: the mean over many points is as good, at a
// fraction of the work. ok is false in air.
func (s *Solution) Within(p r3.Vec) (b r3.Vec, ok bool) {
	q, sign := s.fold(p)
	t, l, area, frac, ok := s.locate(q)
	if !ok {
		return r3.Vec{}, false
	}
	own := s.Grid.Cell[t*s.Grid.Layers()+l]
	if own < 0 {
		return r3.Vec{}, false
	}
	bf := s.flux(own, s.raw(q, t, l, area, frac), q)
	for k := range bf {
		bf[k] *= sign[k]
	}
	return s.Problem.Grids.World(bf), true
}
