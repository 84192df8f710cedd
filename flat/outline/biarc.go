package outline

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// biarc is two arcs that start and end on given points with given directions and share
// their tangent where they join.
type biarc [2]Segment

// newBiarc joins (p, t) to (q, u), unit directions t and u. Of the possible biarcs it
// is the one whose two arcs' tangents are of one length d: the joint lies midway between
// p + d·t and q - d·u, and those points must be 2d apart, so with v = q - p
//
//	2(1 - t·u)·d² + 2 v·(t+u)·d - v·v = 0.
func newBiarc(p, t, q, u r2.Vec) (b biarc, ok bool) {
	v := r2.Sub(q, p)
	vv := dot(v, v)
	half := dot(v, t) + dot(v, u)
	a := 2 * (1 - dot(t, u))
	// The positive root, written so that it also serves where t and u are nearly one.
	root := half + math.Sqrt(half*half+a*vv)
	d := vv / root
	if !(d > 0 && d <= math.MaxFloat64) {
		return b, false
	}
	j := r2.Vec{X: (p.X + d*t.X + q.X - d*u.X) / 2, Y: (p.Y + d*t.Y + q.Y - d*u.Y) / 2}
	b[0] = Segment{A: p, B: j, Bulge: bulgeFrom(t, r2.Sub(j, p))}
	b[1] = Segment{A: j, B: q, Bulge: -bulgeFrom(r2.Scale(-1, u), r2.Sub(j, q))}
	return b, true
}

// bulgeFrom is the bulge of the arc with unit tangent t at the start and the chord c:
// the chord is turned from the tangent by half the sweep, and tan(x/2) = sin x/(1 + cos x).
func bulgeFrom(t, c r2.Vec) float64 {
	s, k := cross(t, c), length(c)+dot(t, c)
	if math.Abs(s) < 1e-13*k {
		return 0 // straight but for rounding
	}
	return s / k
}

// distance is that of q from the nearer arc.
func (b *biarc) distance(q r2.Vec) float64 { return min(b[0].Distance(q), b[1].Distance(q)) }

// gauge holds what the question whether a point is within a tolerance of an arc needs of the arc, for
// many points.
type gauge struct {
	Segment
	ta, tb, c r2.Vec  // the directions at the ends and the chord
	b, k, lk  float64 // twice the bulge, 1-b² and L(1+b²)
}

func newGauge(s Segment) gauge {
	g := gauge{Segment: s, c: s.Chord(), b: 2 * s.Bulge, k: 1 - s.Bulge*s.Bulge}
	g.ta, g.tb = s.ends()
	g.lk = length(g.c) * (1 + s.Bulge*s.Bulge)
	return g
}

// within tells that q is no farther than tol from the arc. Beside an arc of no more than a half turn
// the distance is |2F|/(L(1+b²) + √...), see fromCircle: without the root it is an upper bound, which
// nearly every point of a good fit meets.
func (g *gauge) within(q r2.Vec, tol float64) bool {
	qa, qb := r2.Vec{X: q.X - g.A.X, Y: q.Y - g.A.Y}, r2.Vec{X: q.X - g.B.X, Y: q.Y - g.B.Y}
	if math.Abs(g.b) <= 2 && g.A != g.B {
		if !(dot(g.ta, qa) >= 0 && dot(g.tb, qb) <= 0) {
			return min(length(qa), length(qb)) <= tol
		}
		if f := g.b*dot(qa, qb) - g.k*cross(g.c, qa); 2*math.Abs(f) <= tol*g.lk {
			return true
		}
	}
	return g.Distance(q) <= tol
}

// gentle tells that neither arc turns more than a right angle, beyond which a fit has
// lost its way.
func (b *biarc) gentle() bool {
	const quarter = 0.4142135623730951 // tan of 90°/4 is 0.41421, the bulge of a quarter circle
	return math.Abs(b[0].Bulge) <= quarter && math.Abs(b[1].Bulge) <= quarter
}

// weld appends a segment to a growing path, which ends in a bare vertex. Where the last
// segment and this one are of one circle or line they become one.
func weld(vs []Vertex, s Segment, tol float64) []Vertex {
	if n := len(vs); n >= 2 {
		last := Segment{A: vs[n-2].P, B: vs[n-1].P, Bulge: vs[n-2].Bulge}
		p := Path{Vertices: []Vertex{{last.A, last.Bulge}, {s.A, s.Bulge}, {P: s.B}}}
		if one, ok := p.standIn(0, 2, tol, false); ok && math.Abs(one.Bulge) <= 1 && sameTurn(last, s, one) {
			vs[n-2].Bulge = one.Bulge
			vs[n-1].P = s.B
			return vs
		}
	}
	if len(vs) == 0 {
		vs = append(vs, Vertex{P: s.A})
	}
	vs[len(vs)-1].Bulge = s.Bulge
	return append(vs, Vertex{P: s.B})
}

// sameTurn tells that one keeps the end directions of the two it stands for to a
// billionth, so that the path stays tangent-continuous.
func sameTurn(a, b, one Segment) bool {
	ta, _ := a.ends()
	_, tb := b.ends()
	sa, sb := one.ends()
	return math.Abs(cross(ta, sa)) <= 1e-9*length(ta)*length(sa) && math.Abs(cross(tb, sb)) <= 1e-9*length(tb)*length(sb)
}
