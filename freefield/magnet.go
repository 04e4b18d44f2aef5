package freefield

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/material"
	"polewright/shape"
)

// Magnet is a uniformly polarized body in free space: a block, disc, ring or wedge, see [Magnet.Check]. A body without volume has no field.
type Magnet struct {
	Solid        shape.Solid
	Place        shape.Placement
	Polarization r3.Vec // J in tesla, in the world's frame
}

// derivatives of the Newtonian potential u of a body at a point, in the body's frame.
type derivatives struct {
	x, y, z                float64 // grad u, m2
	xx, yy, zz, xy, xz, yz float64 // grad grad u, without unit; its trace is -4 pi share
	share                  float64 // of the body in a small ball about the point: 1 inside, 1/2 on a face, 0 outside
}

// order says which derivatives are wanted.
type order int

const (
	first  order = 1
	second order = 2
)

// near is the part of a body's size within which a point counts as lying on a face, an edge or an axis.
const near = 1e-12

func (m Magnet) derivatives(p r3.Vec, n order) derivatives {
	local := m.Place.ToLocal(p)
	switch s := m.Solid.(type) {
	case shape.Block:
		return block(s, local, n)
	case shape.Disc:
		return ring(shape.Ring{OuterDiameter: s.Diameter, Thickness: s.Thickness}, local, n)
	case shape.Ring:
		return ring(s, local, n)
	case shape.Wedge:
		return wedge(s, local, n)
	}
	return nothing(m.Solid)
}

// nothing stands for what has no closed form: no field without a body, not-a-number for another shape, or at no point, rather than a wrong field.
func nothing(s shape.Solid) (u derivatives) {
	if s != nil {
		nan := math.NaN()
		u = derivatives{nan, nan, nan, nan, nan, nan, nan, nan, nan, nan}
	}
	return u
}

// Check tells whether the field of this magnet can be given; the field of one that fails is not a number.
func (m Magnet) Check() error {
	switch s := m.Solid.(type) {
	case nil:
		return errors.New("this magnet has no shape: give a block, disc, ring or wedge")
	case shape.Block, shape.Disc, shape.Ring, shape.Wedge:
		if !(s.Volume() > 0) || math.IsInf(s.Volume(), 0) {
			return fmt.Errorf("%v: a magnet needs sizes above zero", s)
		}
	default:
		return fmt.Errorf("%v: a magnet can be a block, disc, ring or wedge; make this one of those", s)
	}
	for _, v := range []float64{m.Polarization.X, m.Polarization.Y, m.Polarization.Z} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("%v: the polarization %v is not a vector in tesla", m.Solid, m.Polarization)
		}
	}
	return nil
}

func (m Magnet) halfExtent() r3.Vec {
	if m.Solid == nil {
		return r3.Vec{}
	}
	return m.Solid.HalfExtent()
}

// H is the field in A/m at the world point p.
func (m Magnet) H(p r3.Vec) r3.Vec {
	h, _ := m.field(p)
	return h
}

// B is the flux density in tesla at the world point p: mu0 H + J inside, mu0 H outside, the mean of both on the surface.
func (m Magnet) B(p r3.Vec) r3.Vec {
	h, share := m.field(p)
	return r3.Add(r3.Scale(material.Mu0, h), r3.Scale(share, m.Polarization))
}

func (m Magnet) field(p r3.Vec) (h r3.Vec, share float64) {
	j := m.Place.Rot.Inverse(m.Polarization)
	if b, ok := m.Solid.(shape.Block); ok {
		h, share = blockTimes(b.HalfExtent(), m.Place.ToLocal(p), j)
	} else {
		u := m.derivatives(p, second)
		h, share = u.times(j), u.share
	}
	return r3.Scale(1/(4*math.Pi*material.Mu0), m.Place.Rot.Apply(h)), share
}

// Potential is the magnetic scalar potential in ampere at the world point p: H = -grad Potential, zero at infinity, continuous everywhere.
func (m Magnet) Potential(p r3.Vec) float64 {
	u := m.derivatives(p, first)
	j := m.Place.Rot.Inverse(m.Polarization)
	return -(j.X*u.x + j.Y*u.y + j.Z*u.z) / (4 * math.Pi * material.Mu0)
}

// Moment is the magnetic moment in A m2: polarization times volume over mu0.
func (m Magnet) Moment() r3.Vec {
	if m.Solid == nil {
		return r3.Vec{}
	}
	return r3.Scale(m.Solid.Volume()/material.Mu0, m.Polarization)
}

// Sources are several magnets; their fields add.
type Sources []Magnet

// H is the sum of the fields in A/m at the world point p.
func (s Sources) H(p r3.Vec) r3.Vec {
	var sum r3.Vec
	for i := range s {
		sum = r3.Add(sum, s[i].H(p))
	}
	return sum
}

// B is the sum of the flux densities in tesla at the world point p.
func (s Sources) B(p r3.Vec) r3.Vec {
	var sum r3.Vec
	for i := range s {
		sum = r3.Add(sum, s[i].B(p))
	}
	return sum
}

// Potential is the sum of the scalar potentials in ampere at the world point p.
func (s Sources) Potential(p r3.Vec) float64 {
	sum := 0.0
	for i := range s {
		sum += s[i].Potential(p)
	}
	return sum
}

// onto moves a coordinate that is within tol of zero onto it.
func onto(x, tol float64) float64 {
	if math.Abs(x) <= tol {
		return 0
	}
	return x
}

// between is 1 for lo < 0 < hi, 1/2 when either is zero, 0 otherwise: the share of a slab about a point, its faces at distances -lo and -hi.
func between(lo, hi float64) float64 {
	switch {
	case lo < 0 && hi > 0:
		return 1
	case lo == 0 && hi > 0, lo < 0 && hi == 0:
		return 0.5
	}
	return 0
}
