package shape

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Rotation is a proper rotation matrix, row-major: world = Rotation * local. The zero value is not a rotation; start from [Identity].
//
// Rotations made here are clean: a column within 1e-12 of a unit vector is that unit vector, so that a body turned by a multiple of
// 90 degrees has exact coordinates and is still seen to be aligned.
type Rotation [3][3]float64

// snapTolerance is the distance from 0 or 1 below which a matrix entry is taken for it. It stands far above the rounding of a
// product of a few rotations (1e-16 each) and far below any angle that can be made: 1e-12 rad is 1 pm over 1 m.
const snapTolerance = 1e-12

// Identity is the rotation that turns nothing.
func Identity() Rotation { return Rotation{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}} }

// Euler turns by x about the x axis, then by y about y, then by z about z, the axes standing still: Rz*Ry*Rx. Angles in radians.
func Euler(x, y, z float64) Rotation {
	sx, cx := sincos(x)
	sy, cy := sincos(y)
	sz, cz := sincos(z)
	rx := Rotation{{1, 0, 0}, {0, cx, -sx}, {0, sx, cx}}
	ry := Rotation{{cy, 0, sy}, {0, 1, 0}, {-sy, 0, cy}}
	rz := Rotation{{cz, -sz, 0}, {sz, cz, 0}, {0, 0, 1}}
	return rz.Mul(ry).Mul(rx)
}

// AxisTo is the cyclic permutation of the axes that carries local z onto world axis 0, 1 or 2 (x, y, z); other numbers count modulo 3.
// Local x and y go to the next two axes, so a body's plan is never mirrored.
func AxisTo(axis int) Rotation {
	a := ((axis % 3) + 3) % 3
	var r Rotation
	r[a][2] = 1
	r[(a+1)%3][0] = 1
	r[(a+2)%3][1] = 1
	return r
}

// Mul is the product r*q: first q, then r.
func (r Rotation) Mul(q Rotation) Rotation {
	var p Rotation
	for i := range 3 {
		for j := range 3 {
			p[i][j] = r[i][0]*q[0][j] + r[i][1]*q[1][j] + r[i][2]*q[2][j]
		}
	}
	return p.snapped()
}

// Apply turns a local vector into the world.
func (r Rotation) Apply(v r3.Vec) r3.Vec {
	// Adding zero turns -0 into 0.
	return r3.Vec{
		X: r[0][0]*v.X + r[0][1]*v.Y + r[0][2]*v.Z + 0,
		Y: r[1][0]*v.X + r[1][1]*v.Y + r[1][2]*v.Z + 0,
		Z: r[2][0]*v.X + r[2][1]*v.Y + r[2][2]*v.Z + 0,
	}
}

// Transposed is the rotation back.
func (r Rotation) Transposed() (t Rotation) {
	for i := range 3 {
		for j := range 3 {
			t[i][j] = r[j][i]
		}
	}
	return t
}

// Inverse turns a world vector into the local frame: the transpose times v.
func (r Rotation) Inverse(v r3.Vec) r3.Vec {
	return r3.Vec{
		X: r[0][0]*v.X + r[1][0]*v.Y + r[2][0]*v.Z + 0,
		Y: r[0][1]*v.X + r[1][1]*v.Y + r[2][1]*v.Z + 0,
		Z: r[0][2]*v.X + r[1][2]*v.Y + r[2][2]*v.Z + 0,
	}
}

// snapped makes columns that are within snapTolerance of a signed unit vector exactly that, with the rest of their row.
func (r Rotation) snapped() Rotation {
	for i := range 3 {
		for j := range 3 {
			if math.Abs(math.Abs(r[i][j])-1) > snapTolerance {
				continue
			}
			k, l := (i+1)%3, (i+2)%3
			if math.Abs(r[k][j]) > snapTolerance || math.Abs(r[l][j]) > snapTolerance {
				continue
			}
			sign := math.Copysign(1, r[i][j])
			for m := range 3 {
				r[i][m], r[m][j] = 0, 0
			}
			r[i][j] = sign
		}
	}
	return r
}

// sincos is exact at multiples of 45 degrees and mirror-symmetric between them.
func sincos(angle float64) (sin, cos float64) {
	quarter := math.Round(angle / (math.Pi / 2))
	rest := angle - quarter*(math.Pi/2)
	s, c := math.Sincos(rest)
	switch {
	case math.Abs(rest) < snapTolerance*math.Max(1, math.Abs(quarter)):
		s, c = 0, 1
	case math.Abs(math.Abs(rest)-math.Pi/4) < snapTolerance*math.Max(1, math.Abs(quarter)):
		s, c = math.Copysign(math.Sqrt2/2, rest), math.Sqrt2/2
	}
	switch q := math.Mod(quarter, 4); q {
	case 1, -3:
		return c, 0 - s
	case 2, -2:
		return 0 - s, 0 - c
	case 3, -1:
		return 0 - c, s
	default:
		return s, c
	}
}

// Placement stands a local frame in the world: turned by Rot, its origin at Center (metres).
type Placement struct {
	Center r3.Vec
	Rot    Rotation
}

// ToWorld carries a local point into the world.
func (p Placement) ToWorld(local r3.Vec) r3.Vec { return r3.Add(p.Center, p.Rot.Apply(local)) }

// ToLocal carries a world point into the local frame.
func (p Placement) ToLocal(world r3.Vec) r3.Vec { return p.Rot.Inverse(r3.Sub(world, p.Center)) }
