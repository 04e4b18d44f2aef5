package plan

import (
	"math/big"

	"gonum.org/v1/gonum/spatial/r2"
)

// This file holds the two signs on which the triangulation rests. Each is computed in float64 first and believed when it exceeds
// its rounding error bound; otherwise it is computed without any rounding.
// Bounds: J. R. Shewchuk, Adaptive precision floating-point arithmetic and fast robust geometric predicates,
// Discrete & Computational Geometry 18 (1997), 305-363, the constants ccwerrboundA and iccerrboundA.

const (
	roundoff      = 1.0 / (1 << 53)
	orientBound   = (3 + 16*roundoff) * roundoff
	inCircleBound = (10 + 96*roundoff) * roundoff

	// exactBits holds any sum of products of four differences of float64 numbers: 4 x (1024 + 1074 + 2) bits.
	exactBits = 8400
)

// orient is positive when a, b, c turn counter-clockwise, negative when clockwise and exactly 0 when they are collinear.
// Its magnitude is twice the triangle's area to float64 accuracy only when the points are far from collinear.
func orient(a, b, c r2.Vec) float64 {
	left := (a.X - c.X) * (b.Y - c.Y)
	right := (a.Y - c.Y) * (b.X - c.X)
	det := left - right
	var sum float64
	switch {
	case left > 0 && right > 0:
		sum = left + right
	case left < 0 && right < 0:
		sum = -left - right
	default:
		return det // opposite signs or a zero: the subtraction cannot change the sign
	}
	if bound := orientBound * sum; det >= bound || -det >= bound {
		return det
	}
	return orientExact(a, b, c)
}

func orientExact(a, b, c r2.Vec) float64 {
	left := product(difference(a.X, c.X), difference(b.Y, c.Y))
	right := product(difference(a.Y, c.Y), difference(b.X, c.X))
	return float64(left.Cmp(right))
}

// inCircle is positive when d lies inside the circle through a, b, c (counter-clockwise), negative outside and 0 on it.
func inCircle(a, b, c, d r2.Vec) float64 {
	adx, ady := a.X-d.X, a.Y-d.Y
	bdx, bdy := b.X-d.X, b.Y-d.Y
	cdx, cdy := c.X-d.X, c.Y-d.Y
	bc, cb := bdx*cdy, cdx*bdy
	ca, ac := cdx*ady, adx*cdy
	ab, ba := adx*bdy, bdx*ady
	alift, blift, clift := adx*adx+ady*ady, bdx*bdx+bdy*bdy, cdx*cdx+cdy*cdy
	det := alift*(bc-cb) + blift*(ca-ac) + clift*(ab-ba)
	permanent := (abs(bc)+abs(cb))*alift + (abs(ca)+abs(ac))*blift + (abs(ab)+abs(ba))*clift
	if bound := inCircleBound * permanent; det > bound || -det > bound {
		return det
	}
	return inCircleExact(a, b, c, d)
}

func inCircleExact(a, b, c, d r2.Vec) float64 {
	adx, ady := difference(a.X, d.X), difference(a.Y, d.Y)
	bdx, bdy := difference(b.X, d.X), difference(b.Y, d.Y)
	cdx, cdy := difference(c.X, d.X), difference(c.Y, d.Y)
	minor := func(px, py, qx, qy *big.Float) *big.Float {
		left := product(px, qy)
		return left.Sub(left, product(qx, py))
	}
	lift := func(px, py *big.Float) *big.Float {
		square := product(px, px)
		return square.Add(square, product(py, py))
	}
	det := product(lift(adx, ady), minor(bdx, bdy, cdx, cdy))
	det.Add(det, product(lift(bdx, bdy), minor(cdx, cdy, adx, ady)))
	det.Add(det, product(lift(cdx, cdy), minor(adx, ady, bdx, bdy)))
	return float64(det.Sign())
}

func difference(x, y float64) *big.Float {
	d := new(big.Float).SetPrec(exactBits).SetFloat64(x)
	return d.Sub(d, new(big.Float).SetFloat64(y))
}

func product(x, y *big.Float) *big.Float { return new(big.Float).SetPrec(exactBits).Mul(x, y) }

func abs(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}
