package outline

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// maxCoordinate is the largest coordinate taken for a part, mm: beyond a thousand
// kilometres the likely cause is a slip of units, and squares begin to lose range.
const maxCoordinate = 1e9

// maxBulge is the largest bulge taken: within 0.001 degree of a full circle the
// radius is no longer settled by the chord. Make a full circle of two arcs.
const maxBulge = 1e5

// Validate reports every fault of a closed path that is to bound material: each
// vertex finite and within 1e9 mm, each bulge finite and at most 1e5, no segment
// without length, at least two segments (three when all are straight), no two
// segments that touch or cross but neighbours at their common vertex, and an area.
// The direction is not judged: holes run clockwise.
//
// Straight segments are judged exactly. Where an arc takes part, segments nearer
// than a hundredth of [Coincidence] times the size of the path touch.
//
// An open path is faulted for being open; [Path.ValidateOpen] judges one. Each fault is
// a *[Fault]; several come joined as one error.
func (p Path) Validate() error { return p.validate("Validate", true) }

// ValidateOpen is [Path.Validate] for an open path, which must have a segment. Its errors are of
// the same kind.
func (p Path) ValidateOpen() error { return p.validate("ValidateOpen", false) }

func (p Path) validate(fn string, closed bool) error {
	var fs faults
	if p.Closed != closed {
		rule := "is open: must be closed"
		if p.Closed {
			rule = "is closed: must be open"
		}
		fs.add(refused(fn, "path", rule))
	}
	p.checkVertices(fn, &fs)
	if len(fs.list) > 0 {
		return fs.err() // crossings of what is not finite mean nothing
	}
	if least := p.leastSegments(); p.NumSegments() < least {
		fs.add(badArgument(fn, "number of segments", float64(p.NumSegments()), fmt.Sprintf("must be at least %d", least)))
		return fs.err()
	}
	index([]Path{p}).checkSimple(fn, &fs)
	if p.Closed && len(fs.list) == 0 {
		if a := p.Area(); !(math.Abs(a) > 0) {
			fs.add(badArgument(fn, "area", a, "must not be zero"))
		}
	}
	return fs.err()
}

func (p Path) leastSegments() int {
	if !p.Closed {
		return 1
	}
	for _, v := range p.Vertices {
		if v.Bulge != 0 {
			return 2
		}
	}
	return 3
}

// checkVertices reports every vertex, bulge and segment that is no sound number.
func (p Path) checkVertices(fn string, fs *faults) {
	segs := p.NumSegments()
	for i := range p.Vertices {
		v, b, next := &p.Vertices[i], 0.0, r2.Vec{}
		if i < segs { // the last bulge of an open path is not used
			b = v.Bulge
			if next = p.Vertices[0].P; i+1 < len(p.Vertices) {
				next = p.Vertices[i+1].P
			}
		}
		if !(math.Abs(v.P.X) <= maxCoordinate && math.Abs(v.P.Y) <= maxCoordinate && math.Abs(b) <= maxBulge) || i < segs && v.P == next {
			p.vertexFaults(fn, i, i < segs, fs)
		}
	}
}

func (p Path) vertexFaults(fn string, i int, starts bool, fs *faults) {
	v := p.Vertices[i]
	at := func(what string, value float64, rule string) {
		fs.add(&Fault{Func: fn, Field: fmt.Sprintf("vertex %d: %s %g", i, what, value),
			Index: i, Other: -1, At: v.P, Value: value, Rule: rule})
	}
	for k, c := range [...]float64{v.P.X, v.P.Y} {
		if !(math.Abs(c) <= maxCoordinate) {
			at([]string{"x", "y"}[k], c, "must be finite and within 1e9 mm (a slip of units?)")
		}
	}
	if !starts {
		return
	}
	if !(math.Abs(v.Bulge) <= maxBulge) {
		at("bulge", v.Bulge, "must be finite and at most 1e5 either way")
	}
	if s := p.Segment(i); s.A == s.B {
		fs.add(&Fault{Func: fn, Field: fmt.Sprintf("segment %d", i), Index: i, Other: -1, At: v.P,
			Rule: "has no length: its ends are the same point"})
	}
}

// clash tells whether two segments meet elsewhere than at a vertex they share:
// the end of s and start of o when next, the start of s and end of o when wrapped.
func clash(s, o Segment, next, wrapped bool, tol float64) (at r2.Vec, bad bool) {
	if s.Bulge == 0 && o.Bulge == 0 {
		return linesClash(s, o, next, wrapped)
	}
	m := meet(s, o, tol)
	for k := range m.n {
		q := m.at[k]
		if m.along[k] {
			return q.P, true
		}
		if shared := next && dist(q.P, s.B) <= 4*tol || wrapped && dist(q.P, s.A) <= 4*tol; !shared {
			return q.P, true
		}
	}
	return r2.Vec{}, false
}

// linesClash is exact.
func linesClash(s, o Segment, next, wrapped bool) (at r2.Vec, bad bool) {
	if next || wrapped {
		// Neighbours meet elsewhere only when the second folds back upon the first.
		v, a, b := s.B, s.A, o.B
		if wrapped {
			v, a, b = s.A, o.A, s.B
		}
		fold := Orient(a, v, b) == 0 && dot(r2.Sub(a, v), r2.Sub(b, v)) > 0
		return v, fold
	}
	a, b := Orient(s.A, s.B, o.A), Orient(s.A, s.B, o.B)
	c, d := Orient(o.A, o.B, s.A), Orient(o.A, o.B, s.B)
	switch {
	case a*b < 0 && c*d < 0:
		var pts [2]r2.Vec
		lineLine(s, o, &pts)
		return pts[0], true
	case a == 0 && s.boxHolds(o.A):
		return o.A, true
	case b == 0 && s.boxHolds(o.B):
		return o.B, true
	case c == 0 && o.boxHolds(s.A):
		return s.A, true
	case d == 0 && o.boxHolds(s.B):
		return s.B, true
	}
	return r2.Vec{}, false
}
