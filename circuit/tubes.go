package circuit

import (
	"math"

	"polewright/material"
)

// This file holds flux tubes: the space round the poles cut into tubes whose permeance is known (H. C. Roters, Electromagnetic Devices, 1941,
// chapter V, from memory): between plane faces mu0 A/g; half cylinders at the edges of the gap 0.264 mu0 per length; between side faces tubes
// along arcs, mu0 per length of the shortest.

// loads are permeances of one half, Wb/A, from the pole to what has zero potential and to the back plate.
type loads struct{ middle, plate float64 }

// steps into which a side face is cut.
const steps = 24

// tube sends a strip of a side face of the given area from its heights over the middle plane and under the back plate along the shortest of
// three ways: an arc to the middle plane, one to the back plate, straight to the leg. The face leans by the angle from the middle plane, pi/2
// for a side face along the field; the arcs lie about the line where it would meet the plane, so that they are angle h/sin(angle) long.
func (a Assembly) tube(width, overMiddle, overPlate, toLeg, angle float64) (p loads) {
	middle, plate := angle*overMiddle/math.Sin(angle), (math.Pi-angle)*overPlate/math.Sin(angle)
	switch legs := a.legShare(); {
	case a.Yoke == Open:
		p.middle = width / middle
	case toLeg < min(middle, plate):
		p.middle = width * (legs/toLeg + (1-legs)/middle)
		if plate < middle {
			p.middle = width * legs / toLeg
			p.plate = width * (1 - legs) / plate
		}
	case plate < middle:
		p.plate = width / plate
	default:
		p.middle = width / middle
	}
	p.middle *= material.Mu0
	p.plate *= material.Mu0
	return p
}

// legShare is the part of a pole's rim that looks at a leg or wall.
func (a Assembly) legShare() float64 {
	switch a.Yoke {
	case Box:
		return 0.5
	case C:
		return 0.25
	case Pot:
		return 1
	}
	return 0
}

// sides are the tubes of the magnet's own side face. Its potential rises from the back plate to the pole, so that each strip counts with its
// share of it.
func (a Assembly) sides() (p loads) {
	base := a.Gap / 2
	if a.Tip != nil {
		base += a.Tip.Height
	}
	leg := a.Side
	if a.Tip != nil {
		leg += max(0, (max(a.Tip.Root, a.Tip.Diameter)-a.Face.alongY())/2)
	}
	for i := range steps {
		s := (float64(i) + 0.5) / steps * a.Thickness // over the back plate
		q := a.tube(a.Face.rim()*a.Thickness/steps, base+a.Thickness-s, s, max(leg, 1e-6), math.Pi/2)
		share := s / a.Thickness
		p.middle += q.middle * share
		p.plate += q.plate * share
	}
	return p
}

// outside is the permeance of half of the yoke's outer surface S to the middle plane, for the flux that a saturated yoke drives through the
// air: twice that of both halves to each other, 1.77 mu0 sqrt(S) (S. Evershed, J. IEE 58 (1920) 780, from memory).
func (a Assembly) outside() float64 {
	half := a.Gap/2 + a.Thickness + a.Back
	if a.Tip != nil {
		half += a.Tip.Height
	}
	width := a.Face.alongY() + 2*(a.Side+a.Leg)
	surface := width*a.Depth + 2*half*(width+a.Depth)
	return 2 * 1.77 * material.Mu0 * math.Sqrt(surface)
}

// tipped is a half with a pole tip.
type tipped struct {
	a             Assembly
	magnet        float64 // Wb/A, the magnet's own permeance
	force         float64 // A, of the magnet with no flux
	gap, fringe   float64 // Wb/A, from the tip's face and its edge to the middle plane
	middle, plate float64 // Wb/A, all loads
	out           float64
}

func (a Assembly) tips() *tipped {
	t := &tipped{a: a, out: a.outside()}
	area := a.Face.Area()
	t.magnet = material.Mu0 * a.Recoil * area / a.Thickness
	t.force = a.Remanence * a.Thickness / (material.Mu0 * a.Recoil)
	t.gap = material.Mu0 * math.Pi / 4 * square(a.Tip.Diameter) / (a.Gap / 2)
	// A quarter of the cylinder between edge and middle plane has twice the permeance of the half from edge to edge.
	t.fringe = 2 * 0.264 * material.Mu0 * math.Pi * (a.Tip.Diameter + a.Gap/2)
	t.middle = t.gap + t.fringe
	wide := max(a.Tip.Root, a.Tip.Diameter, a.Face.alongY())
	angle := math.Atan2(a.Tip.Height, (a.Tip.Root-a.Tip.Diameter)/2)
	for i := range steps {
		x := (float64(i) + 0.5) / steps
		d := a.Tip.Diameter + x*(a.Tip.Root-a.Tip.Diameter)
		slant := math.Hypot(a.Tip.Height, (a.Tip.Root-a.Tip.Diameter)/2) / steps
		s := x * a.Tip.Height
		q := a.tube(math.Pi*d*slant, a.Gap/2+s, a.Thickness+a.Tip.Height-s, max(a.Side+(wide-d)/2, 1e-6), angle)
		t.middle += q.middle
		t.plate += q.plate
	}
	if beside := area - math.Pi/4*square(a.Tip.Root); beside > 0 { // the magnet's face beside the tip, straight to the middle plane
		t.middle += material.Mu0 * beside / (a.Gap/2 + a.Tip.Height)
	}
	side := a.sides()
	t.middle += side.middle
	t.plate += side.plate
	return t
}

// pole is the potential of the tip over the middle plane, A.
func (t *tipped) pole(f float64) float64 {
	return (t.magnet*(t.force-f) - t.plate*f) / (t.magnet + t.middle + t.plate)
}

func (t *tipped) at(f float64) Working {
	u := t.pole(f)
	flux := t.magnet * (t.force - u - f)
	w := Working{GapWb: u * t.gap, MagnetWb: flux, MagnetT: flux / t.a.Face.Area()}
	w.MagnetH = (w.MagnetT - t.a.Remanence) / (material.Mu0 * t.a.Recoil)
	w.GapT = material.Mu0 * u / (t.a.Gap / 2)
	// Steel at its saturation cannot take more through the root of the tip than it holds.
	if t.a.Steel != nil {
		root := flux / (math.Pi / 4 * square(min(t.a.Tip.Root, max(t.a.Tip.Root, t.a.Face.alongY()))))
		tipT := (u * (t.gap + t.fringe)) / (math.Pi / 4 * square(t.a.Tip.Diameter))
		w.GapT -= material.Mu0 / (t.a.Gap / 2) * t.a.Steel.H(math.Max(0, (root+tipT)/2)) * t.a.Tip.Height
	}
	w.Even = t.even
	return w
}

func (t *tipped) fluxes(f float64) (legs, back float64) {
	u := t.pole(f)
	back = t.magnet * (t.force - u - f)
	return back - (u+f)*t.plate - f*t.out, back
}

// even is what plane poles without rims leave, of an overhang a over half the gap h: a/h = -0.36 ln(dB/B) - 0.90 (a rule of the builders of
// accelerator magnets, K. Halbach, from memory).
func (t *tipped) even(radius float64) float64 {
	over := (t.a.Tip.Diameter/2 - radius) / (t.a.Gap / 2)
	return math.Min(1, math.Exp(-(over+0.90)/0.36))
}
