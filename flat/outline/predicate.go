package outline

import (
	"math"
	"math/big"

	"gonum.org/v1/gonum/spatial/r2"
)

// orientError bounds the rounding error of the orientation determinant against
// the sum of the sizes of its two products: ccwerrboundA of Shewchuk, "Adaptive
// Precision Floating-Point Arithmetic and Fast Robust Geometric Predicates" (1997).
const orientError = (3 + 16*0x1p-53) * 0x1p-53

// Orient reports +1 if a→b→c turns left, -1 if it turns right, 0 if the three
// points are exactly in line. The sign is exact for all finite points whose
// products neither overflow nor underflow; beyond that the exact arithmetic is
// used from the start. A point that is not finite gives 0.
//
//	Orient(b, c, a) ==  Orient(a, b, c)
//	Orient(b, a, c) == -Orient(a, b, c)
func Orient(a, b, c r2.Vec) int {
	// A conversion stops fused multiply-add (Go specification, "Floating-point operators").
	l := float64((a.X - c.X) * (b.Y - c.Y))
	r := float64((a.Y - c.Y) * (b.X - c.X))
	det := l - r
	sum := math.Abs(l) + math.Abs(r)
	// The bound needs products that kept all their bits.
	if 0x1p-960 < sum && sum < math.MaxFloat64/4 {
		if bound := orientError * sum; det > bound {
			return 1
		} else if -det > bound {
			return -1
		}
	}
	return orientExact(a, b, c)
}

func orientExact(a, b, c r2.Vec) int {
	for _, v := range [...]float64{a.X, a.Y, b.X, b.Y, c.X, c.Y} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return 0
		}
	}
	exact := func(x float64) *big.Rat { return new(big.Rat).SetFloat64(x) }
	diff := func(x, y float64) *big.Rat { return new(big.Rat).Sub(exact(x), exact(y)) }
	l := new(big.Rat).Mul(diff(a.X, c.X), diff(b.Y, c.Y))
	r := new(big.Rat).Mul(diff(a.Y, c.Y), diff(b.X, c.X))
	return l.Cmp(r)
}

func cross(a, b r2.Vec) float64 { return float64(a.X*b.Y) - float64(a.Y*b.X) }

func dot(a, b r2.Vec) float64 { return float64(a.X*b.X) + float64(a.Y*b.Y) }

func dist(a, b r2.Vec) float64 { return length(r2.Sub(b, a)) }

// length is the plain root of squares where that is safe; [math.Hypot] is several
// times slower and needed only where squares leave the range.
func length(v r2.Vec) float64 {
	q := v.X*v.X + v.Y*v.Y
	if 0x1p-1000 < q && q < 0x1p1000 {
		return math.Sqrt(q)
	}
	return math.Hypot(v.X, v.Y)
}

func finite(v r2.Vec) bool {
	return math.Abs(v.X) <= math.MaxFloat64 && math.Abs(v.Y) <= math.MaxFloat64
}
