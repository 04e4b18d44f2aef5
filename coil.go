package polewright

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/design"
	"polewright/grid"
	"polewright/magnetostatic"
)

// This file turns a coil of the design into a source for the solver.

// coil is the coil that body i of the assembly is, nil for all others.
func (a *assembly) coil(i int) *design.Coil {
	if i -= len(a.parts) - len(a.design.Coils); i >= 0 {
		return &a.design.Coils[i]
	}
	return nil
}

func coilAxis(c *design.Coil) (v r3.Vec) {
	*component(&v, c.Axis) = 1
	return v
}

// coilSource is the current vector potential of a coil, body i, in the frame of a grid: ampere-turns over height in the bore, falling across the
// winding to zero at its outside. With the same build all round it falls evenly, as a uniform current density makes it.
func coilSource(c *design.Coil, i int, g *grid.Grids) magnetostatic.Coil {
	body := c.Body()
	center := g.Frame(g.Center)
	top := c.AmpereTurns / c.HeightM
	axis := (c.Axis - g.Axis + 2) % 3
	half := g.Frame(body.Place.Rot.Apply(outerHalf(c)))
	mid := g.Frame(r3.Sub(c.Center, g.Center))
	s := magnetostatic.Coil{Body: -1, Axis: axis}
	if !g.Fits[i] {
		s.Body = i
	}
	const slack = 1e-9
	for k := range 3 {
		s.Min[k], s.Max[k] = mid[k]-math.Abs(half[k])-slack, mid[k]+math.Abs(half[k])+slack
	}
	s.Moment[axis] = c.AmpereTurns * meanArea(c)
	s.T = func(q [3]float64) (t magnetostatic.Vec) {
		for k := range q {
			q[k] += center[k]
		}
		l := body.Place.ToLocal(g.World(q))
		t[axis] = top * depthShare(c, l.X, l.Y)
		return t
	}
	s.Distance = func(q [3]float64) float64 {
		for k := range q {
			q[k] += center[k]
		}
		l := body.Place.ToLocal(g.World(q))
		out, in := depths(c, l.X, l.Y)
		return math.Hypot(math.Max(0, -math.Min(out, in)), math.Max(0, math.Abs(l.Z)-c.HeightM/2))
	}
	return s
}

func outerHalf(c *design.Coil) r3.Vec {
	if c.Shape == design.RingCoil {
		return r3.Vec{X: c.OuterDiameterM / 2, Y: c.OuterDiameterM / 2, Z: c.HeightM / 2}
	}
	return r3.Vec{X: c.OuterM[0] / 2, Y: c.OuterM[1] / 2, Z: c.HeightM / 2}
}

// depths is how far a point of the coil's own plan lies within the outside of the winding, and how far outside its bore.
func depths(c *design.Coil, x, y float64) (out, in float64) {
	if c.Shape == design.RingCoil {
		r := math.Hypot(x, y)
		return c.OuterDiameterM/2 - r, r - c.InnerDiameterM/2
	}
	return -beyond(x, y, c.OuterM, c.OuterRadiusM), beyond(x, y, c.InnerM, c.InnerRadiusM)
}

// depthShare is how deep a point of the coil's own plan lies in the winding: 0 outside, 1 in the bore.
func depthShare(c *design.Coil, x, y float64) float64 {
	switch out, in := depths(c, x, y); {
	case out <= 0:
		return 0
	case in <= 0:
		return 1
	default:
		return out / (out + in)
	}
}

// beyond is the distance of a point from a rectangle with round corners, negative within.
func beyond(x, y float64, edges [2]float64, radius float64) float64 {
	qx, qy := math.Abs(x)-edges[0]/2+radius, math.Abs(y)-edges[1]/2+radius
	return math.Hypot(math.Max(qx, 0), math.Max(qy, 0)) + math.Min(math.Max(qx, qy), 0) - radius
}

// meanArea is the area that the turns enclose in the mean, by Simpson's rule over the depth, which is exact for an even build.
func meanArea(c *design.Coil) float64 {
	area := func(s float64) float64 {
		between := func(outer, inner float64) float64 { return outer + s*(inner-outer) }
		if c.Shape == design.RingCoil {
			d := between(c.OuterDiameterM, c.InnerDiameterM)
			return math.Pi / 4 * d * d
		}
		r := between(c.OuterRadiusM, c.InnerRadiusM)
		return between(c.OuterM[0], c.InnerM[0])*between(c.OuterM[1], c.InnerM[1]) - (4-math.Pi)*r*r
	}
	return (area(0) + 4*area(0.5) + area(1)) / 6
}

// addCoilMoments gives the coils their moments: a current has one without any magnetization.
func (a *assembly) addCoilMoments(bodies []magnetostatic.BodyIntegral) {
	for i := range bodies {
		if c := a.coil(i); c != nil {
			bodies[i].Moment = r3.Scale(c.AmpereTurns*meanArea(c), coilAxis(c))
		}
	}
}

// coilForce is the force (N) and the torque (N m, about its centre) on a winding that the grid does not follow: current density times B on
// a lattice of points in the winding. The current density is the curl of T, by differences.
func coilForce(c *design.Coil, at func(r3.Vec) (b, h r3.Vec)) (force, torque r3.Vec) {
	body := c.Body()
	const n, layers = 48, 6
	half := outerHalf(c)
	dx, dy, dz := 2*half.X/n, 2*half.Y/n, c.HeightM/layers
	t := func(x, y float64) float64 { return c.AmpereTurns / c.HeightM * depthShare(c, x, y) }
	for i := range n {
		for j := range n {
			x, y := -half.X+(float64(i)+0.5)*dx, -half.Y+(float64(j)+0.5)*dy
			// The differences over the cell's own sides sum to zero over the plan, as a closed current must.
			jx := (t(x, y+dy/2) - t(x, y-dy/2)) / dy
			jy := -(t(x+dx/2, y) - t(x-dx/2, y)) / dx
			if jx == 0 && jy == 0 {
				continue
			}
			for k := range layers {
				arm := body.Place.Rot.Apply(r3.Vec{X: x, Y: y, Z: (float64(k)+0.5)*dz - c.HeightM/2})
				b, _ := at(r3.Add(c.Center, arm))
				f := r3.Scale(dx*dy*dz, r3.Cross(body.Place.Rot.Apply(r3.Vec{X: jx, Y: jy}), b))
				force = r3.Add(force, f)
				torque = r3.Add(torque, r3.Cross(arm, f))
			}
		}
	}
	return force, torque
}
