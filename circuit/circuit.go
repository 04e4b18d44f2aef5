// Package circuit finds the working point of a gap assembly in microseconds, by hand formulas: the field of the magnets' faces by the method of
// images where magnets face the gap, a network of flux tubes where pole tips do, and a yoke that saturates in series with both. It serves first
// sizes and ranks; the field itself is for package magnetostatic. Its gap field is within 15 % of a solve for the assemblies that its tests vary.
//
// All assemblies are mirrored at the middle plane of the gap, so one half is looked at: potentials count from that plane.
package circuit

import (
	"cmp"
	"fmt"
	"math"

	"polewright/material"
)

// Yoke is how the flux goes back.
type Yoke int

// The yokes.
const (
	Open  Yoke = iota // two magnets that face each other, no steel
	Box               // back plates and two legs beside the magnets along y; a wound yoke too
	C                 // two arms and one leg
	Pot               // a closed round pot: bottom, lid and wall
	Plate             // one magnet on a plate; Gap is twice the distance from its face
)

// Face is the pole face of a magnet: a rectangle, or a disc when Diameter is set. Lengths in m.
type Face struct{ X, Y, Diameter float64 }

// Area is in m2.
func (f Face) Area() float64 {
	if f.Diameter > 0 {
		return math.Pi / 4 * f.Diameter * f.Diameter
	}
	return f.X * f.Y
}

func (f Face) rim() float64 {
	if f.Diameter > 0 {
		return math.Pi * f.Diameter
	}
	return 2 * (f.X + f.Y)
}

// alongX and alongY are the full extents.
func (f Face) alongX() float64 { return max(f.X, f.Diameter) }
func (f Face) alongY() float64 { return max(f.Y, f.Diameter) }

// Tip is a round pole tip of steel between magnet and gap. Lengths in m.
type Tip struct{ Root, Diameter, Height float64 }

// Assembly is what is looked at. Lengths in m, all sizes above zero but Side and what the yoke does not have.
type Assembly struct {
	Face      Face
	Thickness float64 // of each magnet, along the field
	Gap       float64 // free height between the faces, or between the tips
	Remanence float64 // T, at the temperature of use
	Recoil    float64 // recoil permeability, 1 to 10
	Tip       *Tip    // nil where the magnets face the gap; Box and C only

	Yoke           Yoke
	Side           float64 // free width between the magnet, or the tip if it is wider, and leg or wall
	Leg            float64 // thickness of legs, wall or winding
	Back           float64 // thickness of back plates, arms, lid, winding
	Depth          float64 // edge of back plates and legs along x; 0 is the magnet's
	PlateX, PlateY float64 // edges of a Plate
	Steel          *material.Curve
	Packing        float64 // part of the section that is steel; 0 is 1, solid
}

// Working is what comes out.
type Working struct {
	GapT             float64 // at the middle of the gap
	MagnetT, MagnetH float64 // T, A/m: at the middle of each magnet, along its magnetization
	Permeance        float64 // coefficient, -B/(mu0 H)
	LegT, BackT      float64 // T, mean in the steel's own section: legs or wall, back plates where they carry most
	YokeA            float64 // A, the magnetomotive force that the whole yoke takes
	GapWb, MagnetWb  float64 // Wb, through the gap (face or tip) and through the back of a magnet
	// Even is the estimate of highest less lowest over a sphere of the given radius, of the mean.
	Even func(radius float64) float64
}

// Leakage is the flux of a magnet over that of the gap.
func (w Working) Leakage() float64 { return w.MagnetWb / w.GapWb }

// Check reports the first number that no assembly can have.
func (a Assembly) Check() error {
	type number struct {
		what        string
		value, over float64
	}
	list := []number{{"thickness", a.Thickness, 0}, {"gap", a.Gap, 0}, {"remanence", a.Remanence, 0}, {"face", a.Face.Area(), 0}}
	if a.Yoke != Open {
		list = append(list, number{"back", a.Back, 0})
	}
	if a.Yoke == Box || a.Yoke == C || a.Yoke == Pot {
		list = append(list, number{"leg", a.Leg, 0})
	}
	if a.Yoke == Plate {
		list = append(list, number{"plate along x", a.PlateX, 0}, number{"plate along y", a.PlateY, 0})
	}
	if a.Tip != nil {
		list = append(list, number{"tip", a.Tip.Diameter, 0}, number{"tip's root", a.Tip.Root, 0}, number{"tip's height", a.Tip.Height, 0})
	}
	for _, n := range list {
		if !(n.value > n.over) || math.IsInf(n.value, 0) {
			return fmt.Errorf("the circuit cannot have a %s of %g; it takes numbers above zero", n.what, n.value)
		}
	}
	switch {
	case !(a.Recoil >= 1 && a.Recoil <= 10):
		return fmt.Errorf("the circuit cannot have a recoil permeability of %g; 1 to 10", a.Recoil)
	case !(a.Side >= 0) || math.IsInf(a.Side, 0):
		return fmt.Errorf("the circuit cannot have a free width of %g beside the magnets; zero or more", a.Side)
	case !(a.Packing >= 0 && a.Packing <= 1):
		return fmt.Errorf("the circuit cannot have a packing of %g; up to 1", a.Packing)
	case a.Yoke != Open && a.Steel == nil:
		return fmt.Errorf("the circuit has a yoke without a steel; give its magnetization curve")
	case a.Tip != nil && a.Yoke != Box && a.Yoke != C:
		return fmt.Errorf("the circuit knows pole tips in frames only; put a box or a C round them")
	case a.Yoke == Pot && a.Face.Diameter == 0:
		return fmt.Errorf("the circuit knows round magnets in a pot only; give the face a diameter")
	}
	return nil
}

// Solve finds the working point.
func (a Assembly) Solve() (Working, error) {
	if err := a.Check(); err != nil {
		return Working{}, err
	}
	a.Packing = cmp.Or(a.Packing, 1)
	a.Depth = cmp.Or(a.Depth, a.Face.alongX())
	var half halfCircuit
	if a.Tip != nil {
		half = a.tips()
	} else {
		half = a.faces()
	}
	f := 0.0
	if y := a.yoke(); y != nil {
		f = meet(half, y)
	}
	w := half.at(f)
	w.YokeA = 2 * f
	if y := a.yoke(); y != nil {
		w.LegT, w.BackT = y.densities(half.fluxes(f))
	} else if a.Yoke == Plate {
		// Half of the magnet's flux leaves the plate's section to each side.
		w.BackT = w.MagnetWb / 2 / (a.Back * a.PlateX) * a.Face.alongY() / (a.Face.alongX() + a.Face.alongY()) * 2
	}
	w.Permeance = math.Inf(1)
	if w.MagnetH < 0 {
		w.Permeance = -w.MagnetT / (material.Mu0 * w.MagnetH)
	}
	return w, nil
}

// halfCircuit is one half of an assembly, from its middle plane to its back plate.
type halfCircuit interface {
	// at is the working point when half of the yoke takes the magnetomotive force f, A.
	at(f float64) Working
	// fluxes are those in the legs and in the back plate, Wb. They fall with f.
	fluxes(f float64) (legs, back float64)
}

// Bound is the most that plane faces of the width (diameter) D over the gap g can give without steel, whatever the magnets' thickness, of the
// remanence: 1 - 1/sqrt(1 + (D/g)^2), two discs of infinite length (closed form of a disc on its axis, E. P. Furlani, Permanent Magnet and
// Electromechanical Devices, 2001, section 4.2, from memory).
func Bound(widthOverGap float64) float64 { return 1 - 1/math.Hypot(1, widthOverGap) }
