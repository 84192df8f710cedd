package outline

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Coincidence is how near, relative to the size of the figure, two constructed
// points are taken to be one: 1e-9, a millionth of a millimetre in a metre. It is
// far above the rounding of a construction (about 1e-15 for each step, a thousand
// times more where curves cross at a thousandth of a radian) and far below what any
// cutter can place.
const Coincidence = 1e-9

// rounding is what a construction may be out by, relative to the size of the figure: some
// ten thousand times the rounding of one operation, for lines and arcs that cross at
// a slant. It must be far below Coincidence, so that a distance changed by less than a
// coincidence makes what meets exactly either clear or cross.
const rounding = 1e-11

// A Meeting is a place where two segments meet.
type Meeting struct {
	P    r2.Vec  // the place, mm
	T, U float64 // the fractions of the length of the first and the second segment
}

// meetings lists where two segments meet, in order along the first.
type meetings struct {
	n  int
	at [8]Meeting
	// along[k] tells that the two coincide from at[k] to at[k+1].
	along [8]bool
}

// Meet returns the places where s and o meet, in order along s, taking points
// nearer than tol (mm) for one: at least what a construction may be out by, 1e-11 times
// their largest coordinate or extent, so that 0 asks for true crossings. Where the two coincide along a stretch its two
// ends are given. Two segments meet in at most eight such places.
func (s Segment) Meet(o Segment, tol float64) []Meeting {
	size := max(Path{Vertices: []Vertex{{s.A, s.Bulge}, {P: s.B}}}.size(), Path{Vertices: []Vertex{{o.A, o.Bulge}, {P: o.B}}}.size())
	if !(tol >= rounding*size) {
		tol = rounding * size
	}
	m := meet(s, o, tol)
	return append([]Meeting(nil), m.at[:m.n]...)
}

func (m *meetings) add(p r2.Vec, t, u, tol float64) {
	for k := range m.n {
		if dist(m.at[k].P, p) <= 2*tol {
			return
		}
	}
	if m.n == len(m.at) {
		return
	}
	k := m.n
	for k > 0 && m.at[k-1].T > t {
		m.at[k] = m.at[k-1]
		k--
	}
	m.at[k] = Meeting{p, t, u}
	m.n++
}

// meet finds all meetings. Ends that lie on the other segment come first, so that
// a meeting at an end is at exactly that end.
func meet(s, o Segment, tol float64) meetings {
	var m meetings
	sb, ob := s.cover(), o.cover()
	if !(sb.meets(&ob, tol)) || s.A == s.B || o.A == o.B {
		return m
	}
	for k, q := range [...]r2.Vec{o.A, o.B} {
		if sb.away2(q) <= tol*tol && s.Distance(q) <= tol {
			_, t := s.Nearest(q)
			if dist(q, s.A) <= tol {
				t = 0
			} else if dist(q, s.B) <= tol {
				t = 1
			}
			m.add(q, t, float64(k), tol)
		}
	}
	for k, q := range [...]r2.Vec{s.A, s.B} {
		if ob.away2(q) <= tol*tol && o.Distance(q) <= tol {
			_, u := o.Nearest(q)
			m.add(q, float64(k), u, tol)
		}
	}
	pts, n := carriers(s, o)
	for _, q := range pts[:n] {
		if s.Distance(q) <= tol && o.Distance(q) <= tol {
			_, t := s.Nearest(q)
			_, u := o.Nearest(q)
			m.add(q, t, u, tol)
		}
	}
	m.settle(s, o, tol)
	return m
}

// settle tells the stretches along which two segments coincide from mere touches. Curves of
// unequal curvature that touch stay within the tolerance of each other for a little way; what
// is found there is one meeting, at an end where there is one.
func (m *meetings) settle(s, o Segment, tol float64) {
	for k := 0; k+1 < m.n; k++ {
		a, b := m.at[k], m.at[k+1]
		if o.Distance(s.At((a.T+b.T)/2)) > tol {
			continue
		}
		if m.along[k] = sameCurve(s, o, a, b); m.along[k] {
			continue
		}
		drop := k + 1
		if !a.atEnd() && b.atEnd() {
			drop = k
		}
		copy(m.at[drop:m.n], m.at[drop+1:m.n])
		m.n--
		k--
	}
}

func (m *Meeting) atEnd() bool { return m.T == 0 || m.T == 1 || m.U == 0 || m.U == 1 }

// sameCurve tells that two segments that lie together from a to b have one curvature.
func sameCurve(s, o Segment, a, b Meeting) bool {
	k, l := s.curvature(), o.curvature()
	if (b.U-a.U)*(b.T-a.T) < 0 {
		l = -l
	}
	return math.Abs(k-l) <= 1e-6*max(math.Abs(k), math.Abs(l))
}

// curvature is one over the radius, positive for a left turn.
func (s Segment) curvature() float64 {
	return 4 * s.Bulge / (length(s.Chord()) * (1 + s.Bulge*s.Bulge))
}

// carriers crosses the whole lines or circles of two segments.
func carriers(s, o Segment) (pts [2]r2.Vec, n int) {
	switch {
	case s.Bulge == 0 && o.Bulge == 0:
		n = lineLine(s, o, &pts)
	case s.Bulge == 0:
		n = lineArc(s, o, &pts)
	case o.Bulge == 0:
		n = lineArc(o, s, &pts)
	default:
		n = arcArc(s, o, &pts)
	}
	return pts, n
}

// lineLine crosses the two lines, unbounded. Parallel lines have no crossing: where
// they coincide the ends have said so already.
func lineLine(s, o Segment, pts *[2]r2.Vec) int {
	d, e := s.Chord(), o.Chord()
	den := cross(d, e)
	if den == 0 {
		return 0
	}
	t := cross(r2.Sub(o.A, s.A), e) / den
	pts[0] = r2.Vec{X: s.A.X + t*d.X, Y: s.A.Y + t*d.Y}
	return 1
}

// lineArc crosses the unbounded line with the whole circle of the arc. Along
// q = m + x·d, with m the foot of the chord's middle on the line, the circle's function
// is x²·2b·d² + x·(...) + F(m).
func lineArc(line, arc Segment, pts *[2]r2.Vec) int {
	d := line.Chord()
	l := length(d)
	d = r2.Vec{X: d.X / l, Y: d.Y / l}
	mid := r2.Scale(0.5, r2.Add(arc.A, arc.B))
	x0 := dot(r2.Sub(mid, line.A), d)
	m := r2.Vec{X: line.A.X + x0*d.X, Y: line.A.Y + x0*d.Y}
	b := arc.Bulge
	qa, qb := r2.Sub(m, arc.A), r2.Sub(m, arc.B)
	k := 1 - b*b
	c := arc.Chord()
	x, n := quadratic(
		2*b,
		2*b*(dot(d, qa)+dot(d, qb))-k*cross(c, d),
		2*b*dot(qa, qb)-k*cross(c, qa))
	for i := range n {
		pts[i] = r2.Vec{X: m.X + x[i]*d.X, Y: m.Y + x[i]*d.Y}
	}
	return n
}

// quadratic solves a·x² + b·x + c = 0 without cancellation. Where the parabola misses
// zero its top is given, so that a line that touches but for rounding has its point;
// whether it does touch the caller measures.
func quadratic(a, b, c float64) (x [2]float64, n int) {
	disc := b*b - 4*a*c
	if disc < 0 {
		x[0] = -b / (2 * a)
		return x, 1
	}
	q := -(b + math.Copysign(math.Sqrt(disc), b)) / 2
	if q == 0 {
		if a == 0 {
			return x, 0
		}
		return x, 1 // b = c = 0: zero, twice
	}
	x[0] = c / q
	if a == 0 {
		return x, 1
	}
	x[1] = q / a
	return x, 2
}

// arcArc crosses the two whole circles: both functions are F = 2b|q|² + linear terms, so
// 2b₂·F₁ - 2b₁·F₂ is the line through the crossings, which is then crossed with the
// rounder of the two.
func arcArc(s, o Segment, pts *[2]r2.Vec) int {
	ref := s.A
	f, g := conic(s, ref), conic(o, ref)
	// Of the combination k·F + j·G only its line counts.
	nx, ny, n0 := g.a*f.x-f.a*g.x, g.a*f.y-f.a*g.y, g.a*f.c-f.a*g.c
	nn := nx*nx + ny*ny
	if nn == 0 {
		return 0 // same centre: the same circle or no crossing
	}
	foot := r2.Vec{X: ref.X - nx*n0/nn, Y: ref.Y - ny*n0/nn}
	dir := r2.Vec{X: -ny, Y: nx}
	line := Segment{A: foot, B: r2.Add(foot, r2.Scale(1/math.Sqrt(nn), dir))}
	if s.Radius() <= o.Radius() {
		return lineArc(line, s, pts)
	}
	return lineArc(line, o, pts)
}

// roundness holds F(q) = a|q-ref|² + x·qx + y·qy + c, scaled to the unit gradient on the circle.
type roundness struct{ a, x, y, c float64 }

func conic(s Segment, ref r2.Vec) roundness {
	c, b := s.Chord(), s.Bulge
	k := 1 - b*b
	scale := 1 / (length(c) * (1 + b*b))
	a, e := r2.Sub(s.A, ref), r2.Sub(s.B, ref)
	return roundness{
		a: 2 * b * scale,
		x: (-2*b*(a.X+e.X) + k*c.Y) * scale,
		y: (-2*b*(a.Y+e.Y) - k*c.X) * scale,
		c: (2*b*dot(a, e) + k*cross(c, a)) * scale,
	}
}
