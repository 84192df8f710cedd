package outline

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"github.com/hangarflat/hangarflat/material/measure"
)

// A Segment is one piece of a path: the straight line from A to B when Bulge is 0,
// else the circular arc from A to B whose sweep is 4·atan(Bulge).
//
// All formulas are written from the chord and the bulge and not from the centre:
// an arc that is nearly straight has its centre far away, and with it would go
// the digits.
type Segment struct {
	A, B  r2.Vec
	Bulge float64
}

// IsLine reports whether the segment is straight.
func (s Segment) IsLine() bool { return s.Bulge == 0 }

// Chord returns the vector from A to B.
func (s Segment) Chord() r2.Vec { return r2.Sub(s.B, s.A) }

// Sweep returns the angle the tangent turns through along the segment, positive
// counter-clockwise, 0 for a line.
func (s Segment) Sweep() measure.Angle { return measure.Angle(4 * math.Atan(s.Bulge)) }

// Radius returns the radius of an arc, mm, and +Inf for a line.
func (s Segment) Radius() float64 {
	if s.Bulge == 0 {
		return math.Inf(1)
	}
	b := math.Abs(s.Bulge)
	// With half sweep a: L = 2R·sin a and sin a = 2b/(1+b²). 1/b + b cannot overflow where b² would.
	return length(s.Chord()) / 4 * (1/b + b)
}

// Center returns the centre of an arc; a line has none and gives not-a-number.
func (s Segment) Center() r2.Vec {
	if s.Bulge == 0 {
		return r2.Vec{X: math.NaN(), Y: math.NaN()}
	}
	c, b := s.Chord(), s.Bulge
	// The centre lies L/2·cot(half sweep) to the left of the chord, and
	// cot a = (1-b²)/(2b) = (1/b - b)/2.
	h := (1/b - b) / 4
	return r2.Vec{X: (s.A.X+s.B.X)/2 - h*c.Y, Y: (s.A.Y+s.B.Y)/2 + h*c.X}
}

// rise is the height of the arc over its chord, mm, never negative.
func (s Segment) rise() float64 {
	if s.Bulge == 0 {
		return 0
	}
	return math.Abs(s.Bulge) / 2 * length(s.Chord())
}

// Length returns the length along the segment, mm.
func (s Segment) Length() float64 {
	l := length(s.Chord())
	if s.Bulge == 0 {
		return l
	}
	b := s.Bulge
	// R·sweep = L(1+b²)/(4b) · 4·atan b.
	return l * (math.Atan(b) / b) * (1 + b*b)
}

// At returns the point at the fraction t of the length, A at t = 0 and B at t = 1.
// t outside [0, 1] runs on along the line or the circle.
func (s Segment) At(t float64) r2.Vec {
	switch t {
	case 0:
		return s.A
	case 1:
		return s.B
	}
	c := s.Chord()
	if s.Bulge == 0 {
		return r2.Vec{X: s.A.X + t*c.X, Y: s.A.Y + t*c.Y}
	}
	// The chord of the first part subtends half the part's sweep at the tangent:
	// it is the whole chord turned back by (1-t)a and scaled by sin(ta)/sin(a).
	a := 2 * math.Atan(s.Bulge)
	k := math.Sin(t*a) / math.Sin(a)
	sin, cos := math.Sincos((t - 1) * a)
	return r2.Vec{X: s.A.X + k*(c.X*cos-c.Y*sin), Y: s.A.Y + k*(c.X*sin+c.Y*cos)}
}

// Tangent returns the unit direction of travel at the fraction t; a segment of no
// length gives not-a-number.
func (s Segment) Tangent(t float64) r2.Vec {
	c := s.Chord()
	l := length(c)
	u := r2.Vec{X: c.X / l, Y: c.Y / l}
	if s.Bulge == 0 {
		return u
	}
	sin, cos := math.Sincos((2*t - 1) * 2 * math.Atan(s.Bulge))
	return r2.Vec{X: u.X*cos - u.Y*sin, Y: u.X*sin + u.Y*cos}
}

// ends returns the directions of travel at A and B, not normalised: both have the
// length L(1+b²). No angle is needed: cos a = (1-b²)/(1+b²), sin a = 2b/(1+b²).
func (s Segment) ends() (ta, tb r2.Vec) {
	c := s.Chord()
	if s.Bulge == 0 {
		return c, c
	}
	b := s.Bulge
	p, q := 1-b*b, 2*b
	return r2.Vec{X: c.X*p + c.Y*q, Y: c.Y*p - c.X*q}, r2.Vec{X: c.X*p - c.Y*q, Y: c.Y*p + c.X*q}
}

// Reverse returns the segment run from B to A.
func (s Segment) Reverse() Segment { return Segment{A: s.B, B: s.A, Bulge: -s.Bulge} }

// Between returns the part from the fraction t0 to the fraction t1 of the length.
func (s Segment) Between(t0, t1 float64) Segment {
	part := Segment{A: s.At(t0), B: s.At(t1)}
	if s.Bulge != 0 {
		part.Bulge = math.Tan((t1 - t0) * math.Atan(s.Bulge))
	}
	return part
}

// Split returns the two parts on either side of the fraction t of the length.
func (s Segment) Split(t float64) (first, second Segment) {
	m := s.At(t)
	first, second = Segment{A: s.A, B: m}, Segment{A: m, B: s.B}
	if s.Bulge != 0 {
		a := math.Atan(s.Bulge)
		first.Bulge, second.Bulge = math.Tan(t*a), math.Tan((1-t)*a)
	}
	return first, second
}

// Bounds returns the smallest axis-parallel box that holds the segment.
func (s Segment) Bounds() r2.Box {
	box := r2.Box{
		Min: r2.Vec{X: min(s.A.X, s.B.X), Y: min(s.A.Y, s.B.Y)},
		Max: r2.Vec{X: max(s.A.X, s.B.X), Y: max(s.A.Y, s.B.Y)},
	}
	if s.Bulge == 0 {
		return box
	}
	c, r := s.Center(), s.Radius()
	ta, tb := s.ends()
	for _, u := range [...]r2.Vec{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}} {
		q := r2.Vec{X: c.X + r*u.X, Y: c.Y + r*u.Y}
		if s.between(ta, tb, r2.Vec{X: c.X + 2*r*u.X, Y: c.Y + 2*r*u.Y}) {
			box = joinBoxes(box, r2.Box{Min: q, Max: q})
		}
	}
	return box
}

// circle is the implicit function of the arc's circle, or of the line:
//
//	F(q) = 2b·(q-A)·(q-B) - (1-b²)·(B-A)×(q-A)
//
// With A = (0,0), B = (L,0) the circle of bulge b has its centre at (L/2, L(1-b²)/4b),
// so x² - Lx + y² - y·L(1-b²)/2b = 0; times 2b this is F = 0. F stays good as b goes to 0,
// where it is the line.
func (s Segment) circle(q r2.Vec) float64 {
	b := s.Bulge
	qa, qb := r2.Sub(q, s.A), r2.Sub(q, s.B)
	return 2*b*dot(qa, qb) - (1-b*b)*cross(s.Chord(), qa)
}

// beside reports whether the nearest point of the whole circle (or line) to q lies
// within the segment. T·(q-A) has the sign of (A-c)×(q-c) for a left turn, so the
// two ends' tangents bound the wedge; a sweep above a half turn is the complement
// of the wedge behind it.
func (s Segment) beside(q r2.Vec) bool {
	ta, tb := s.ends()
	return s.between(ta, tb, q)
}

// between is beside for one who has the ends' tangents.
func (s Segment) between(ta, tb, q r2.Vec) bool {
	after := dot(ta, r2.Sub(q, s.A)) >= 0
	before := dot(tb, r2.Sub(q, s.B)) <= 0
	if math.Abs(s.Bulge) > 1 {
		return after || before
	}
	return after && before
}

// fromCircle is the distance of q from the whole circle or line, never negative.
//
// The power of q is P = F/2b = |q-c|² - R², the distance P/(R + √(R²+P)); with
// R = L(1+b²)/4b the b cancels.
func (s Segment) fromCircle(q r2.Vec) float64 {
	l, k, f := length(s.Chord()), 1+s.Bulge*s.Bulge, s.circle(q)
	root := l*l*k*k + 8*s.Bulge*f
	if s.Bulge != 0 && root < l*l*k*k/4 {
		// Near the centre the root has lost its digits, and the centre is near enough to have its own.
		return math.Abs(s.Radius() - dist(q, s.Center()))
	}
	return math.Abs(2 * f / (l*k + math.Sqrt(max(root, 0))))
}

// Distance returns the distance from q to the nearest point of the segment, mm.
func (s Segment) Distance(q r2.Vec) float64 {
	if s.Bulge == 0 {
		return s.fromLine(q)
	}
	if s.A != s.B && s.beside(q) {
		return s.fromCircle(q)
	}
	return min(dist(q, s.A), dist(q, s.B))
}

// fromLine is the distance of q from a straight segment.
func (s *Segment) fromLine(q r2.Vec) float64 {
	c, v := r2.Vec{X: s.B.X - s.A.X, Y: s.B.Y - s.A.Y}, r2.Vec{X: q.X - s.A.X, Y: q.Y - s.A.Y}
	if along := dot(c, v); !(along > 0) {
		return length(v)
	} else if w := (r2.Vec{X: q.X - s.B.X, Y: q.Y - s.B.Y}); dot(c, w) >= 0 {
		return length(w)
	}
	return math.Abs(cross(c, v)) / length(c)
}

// Nearest returns the point of the segment nearest to q and the fraction of the
// length at which it lies. Where several are equally near (q at the centre of an
// arc) the middle of the arc is taken.
func (s Segment) Nearest(q r2.Vec) (p r2.Vec, t float64) {
	if s.A != s.B && s.beside(q) {
		t = s.fraction(q)
		return s.At(t), t
	}
	if dist(q, s.A) <= dist(q, s.B) {
		return s.A, 0
	}
	return s.B, 1
}

// fraction returns where along the segment the foot of q lies, for q beside it.
func (s Segment) fraction(q r2.Vec) float64 {
	c := s.Chord()
	if s.Bulge == 0 {
		return clamp01(dot(r2.Sub(q, s.A), c) / dot(c, c))
	}
	b := s.Bulge
	// The gradient of F is 4b(q - c): it points from the centre for a left turn,
	// toward it for a right one, so its turn from A's normal is the swept angle.
	grad := r2.Vec{
		X: 2*b*(2*q.X-s.A.X-s.B.X) + (1-b*b)*c.Y,
		Y: 2*b*(2*q.Y-s.A.Y-s.B.Y) - (1-b*b)*c.X,
	}
	if grad == (r2.Vec{}) {
		return 0.5
	}
	ta, _ := s.ends()
	// The outward normal at A, for a left turn, is ta turned right by a quarter.
	normal := r2.Vec{X: ta.Y, Y: -ta.X}
	turn := math.Atan2(cross(normal, grad), dot(normal, grad))
	sweep := 4 * math.Atan(b)
	t := turn / sweep
	if t < -1e-9 {
		t = (turn + math.Copysign(2*math.Pi, sweep)) / sweep
	}
	return clamp01(t)
}

func clamp01(t float64) float64 { return max(0, min(1, t)) }
