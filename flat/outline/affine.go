package outline

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"github.com/hangarflat/hangarflat/material/measure"
)

// An Affine is a similarity of the plane: it moves, turns, scales evenly and may
// mirror, so that lines stay lines and circles stay circles. The zero Affine
// changes nothing.
//
// Written with complex numbers it is z → m·z + t, or m·conj(z) + t when it mirrors.
type Affine struct {
	set      bool // false: the identity, so that the zero value is useful
	mirrored bool
	m, t     complex128
}

func vec(z complex128) r2.Vec { return r2.Vec{X: real(z), Y: imag(z)} }

func num(v r2.Vec) complex128 { return complex(v.X, v.Y) }

func (m Affine) parts() (factor, shift complex128) {
	if !m.set {
		return 1, 0
	}
	return m.m, m.t
}

// about keeps the centre where it is while the plane is multiplied by m.
func about(c r2.Vec, m complex128) Affine {
	return Affine{set: true, m: m, t: num(c) - mul(m, num(c))}
}

// mul multiplies without fused operations, so that results have the same bits on
// every processor.
func mul(a, b complex128) complex128 {
	return complex(
		float64(real(a)*real(b))-float64(imag(a)*imag(b)),
		float64(real(a)*imag(b))+float64(imag(a)*real(b)))
}

func conj(z complex128) complex128 { return complex(real(z), -imag(z)) }

// Translate moves by v, mm.
func Translate(v r2.Vec) Affine { return Affine{set: true, m: 1, t: num(v)} }

// Rotate turns by a about c, counter-clockwise when a is positive.
func Rotate(c r2.Vec, a measure.Angle) Affine {
	sin, cos := sincos(a)
	return about(c, complex(cos, sin))
}

// Scale enlarges s times about c; s must be positive.
func Scale(c r2.Vec, s float64) Affine { return about(c, complex(s, 0)) }

// Mirror reflects in the line through p that makes the angle along with the x axis.
func Mirror(p r2.Vec, along measure.Angle) Affine {
	sin, cos := sincos(2 * along)
	m := complex(cos, sin)
	return Affine{set: true, mirrored: true, m: m, t: num(p) - mul(m, conj(num(p)))}
}

// sincos gives whole quarter turns exactly, so that a square turned by 90 degrees
// has the corners it should have.
func sincos(a measure.Angle) (sin, cos float64) {
	const quarter = math.Pi / 2
	if q := float64(a) / quarter; q == math.Trunc(q) && math.Abs(q) < 1e6 {
		switch int(q) & 3 {
		case 0:
			return 0, 1
		case 1:
			return 1, 0
		case 2:
			return 0, -1
		default:
			return -1, 0
		}
	}
	return math.Sincos(float64(a))
}

// Apply returns the image of p.
func (m Affine) Apply(p r2.Vec) r2.Vec {
	if !m.set {
		return p
	}
	z := num(p)
	if m.mirrored {
		z = conj(z)
	}
	return vec(mul(m.m, z) + m.t)
}

// Then returns the similarity that does m first and next after it.
func (m Affine) Then(next Affine) Affine {
	m1, t1 := m.parts()
	m2, t2 := next.parts()
	if next.mirrored {
		m1, t1 = conj(m1), conj(t1)
	}
	return Affine{set: true, mirrored: m.mirrored != next.mirrored, m: mul(m2, m1), t: mul(m2, t1) + t2}
}

// Inverse returns the similarity that undoes m. A scale of zero cannot be undone:
// its inverse gives infinities or not-a-number, which [Path.Validate] refuses.
func (m Affine) Inverse() Affine {
	f, t := m.parts()
	inv := 1 / f
	if m.mirrored {
		// w = f·conj(z) + t gives z = conj((w - t)/f).
		inv, t = conj(inv), conj(t)
	}
	return Affine{set: true, mirrored: m.mirrored, m: inv, t: -mul(inv, t)}
}

// Mirrors reports whether m turns a counter-clockwise path into a clockwise one.
func (m Affine) Mirrors() bool { return m.mirrored }

// Factor returns how many times longer m makes every length.
func (m Affine) Factor() float64 {
	f, _ := m.parts()
	return math.Hypot(real(f), imag(f))
}
