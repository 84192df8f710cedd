package outline

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// alongside proves that no point of the loops of a result is nearer to a source than a
// distance, and that each segment keeps that distance from some segment of the source, its
// parent. It knows nothing of how the result was made.
//
// Parents are found by walking the result: a segment has the parent of the one before it, or the
// next, or else the nearest. What is near must be either far enough for its box, or measured
// segment against segment, or it goes by this:
//
// Let a chain C of the source advance along a direction u from end to end, so that it is a graph
// over u, and let a chain of the result advance along u whose parents follow each other in C. Let
// z₁ and z₂ be the feet of a vertex X of the result on the parents before and after it. No point of
// C is nearer to X than the distance d, which is measured; so C passes below the arc about X from z₁
// to z₂. Put these arcs into C: what results is again a graph, C', that nowhere passes below C, and the
// chain is all of its parallel, for each foot on C' has its one point at d, and each arc its centre.
// Now the upper edge of what lies within d of C' has a point over every place of u. Each of its points is
// at d from a foot, square to C' there, and so is one of the chain's; but over every place of u the chain
// has only one point. So the chain is that edge, and no point of it is nearer to C' than d, nor to C.
// (A miter's tip lies above the edge.)
type alongside struct {
	src, got *tree
	near     float64 // the distance, less the tolerance
	level    float64 // the distance
	far      float64 // the farthest that a corner may reach, and the tolerance
	tol      float64
	parent   []int32 // of each segment of the result; -1 for one that is not parallel to any
	pieces   []piece // in order
}

// piece is a run of segments of the result, lo to hi-1, connected, whose parents go one way; or one
// segment that is not parallel to any of the source.
type piece struct{ lo, hi int }

func (j *offsetJob) proveDistance(got *region) string {
	d := math.Abs(j.asked)
	p := alongside{
		src: j.src.tree, got: got.tree, tol: j.tol,
		near: d - j.tol, level: d, far: d*max(j.o.Miter, 1) + j.tol,
		parent: make([]int32, len(got.tree.segs)),
	}
	for _, r := range got.runs {
		if fault := p.walk(r); fault != "" {
			return fault
		}
	}
	if p.near <= 0 || len(p.parent) == 0 {
		return ""
	}
	if at, ok := p.nodes(p.got.top(), 0, p.src.top(), 0); !ok {
		return fmt.Sprintf("(%g, %g) is %g from the source", at.X, at.Y, p.src.distance(at))
	}
	return ""
}

// walk finds the parents of the segments of one loop.
func (p *alongside) walk(r run) string {
	way, lo, last := 0, r.lo, -1
	for k := r.lo; k < r.hi; k++ {
		s := &p.got.segs[k]
		e := p.parentOf(s, last)
		if e < 0 {
			var fault string
			if e, fault = p.loose(s); fault != "" {
				return fault
			}
			p.parent[k] = -1
			p.end(lo, k)
			p.end(k, k+1)
			lo, last, way = k+1, e, 0
			continue
		}
		p.parent[k] = int32(e)
		if k > lo {
			step := e - last
			if way*step < 0 || p.got.broken[k] {
				p.end(lo, k)
				lo, way = k, 0
			} else if step != 0 {
				way = step
			}
			if (step > 1 || step < -1) && !p.clear(s.A) {
				return p.tooFar(s.A)
			}
		}
		last = e
	}
	p.end(lo, r.hi)
	return ""
}

func (p *alongside) end(lo, hi int) {
	if hi > lo {
		p.pieces = append(p.pieces, piece{lo, hi})
	}
}

func (p *alongside) tooFar(q r2.Vec) string {
	return fmt.Sprintf("(%g, %g) is %g from the source", q.X, q.Y, p.src.distance(q))
}

// clear tells that no part of the source is nearer to q than the distance.
func (p *alongside) clear(q r2.Vec) bool {
	e, _ := p.src.nearest(q, p.near, p.near)
	return e < 0
}

// parentOf returns the segment of the source to which s is parallel, where s follows a segment of
// the parent last; -1 when there is none.
func (p *alongside) parentOf(s *Segment, last int) int {
	if last >= 0 {
		for e := last; e < min(last+2, len(p.src.segs)); e++ {
			if p.parallel(s, &p.src.segs[e]) {
				return e
			}
		}
		if last > 0 && p.parallel(s, &p.src.segs[last-1]) {
			return last - 1
		}
	}
	if e, _ := p.src.nearest(s.middle(), p.level+p.tol, p.near); e >= 0 && p.parallel(s, &p.src.segs[e]) {
		return e
	}
	return -1
}

// parallel tells that s keeps the distance from e all along. A straight one may reach beyond
// the ends of e, as it does at a miter.
func (p *alongside) parallel(s, e *Segment) bool {
	if s.Bulge != 0 || e.Bulge != 0 {
		return p.keeps(s.A, e) && p.keeps(s.B, e) && p.keeps(s.middle(), e)
	}
	// All is compared as it stands, times the length of e or its square: no root, no quotient.
	c := r2.Vec{X: e.B.X - e.A.X, Y: e.B.Y - e.A.Y}
	l2 := dot(c, c)
	a := r2.Vec{X: s.A.X - e.A.X, Y: s.A.Y - e.A.Y}
	b := r2.Vec{X: s.B.X - e.A.X, Y: s.B.Y - e.A.Y}
	h, g := cross(c, a), cross(c, b)
	low, high := max(p.level-p.tol, 0), p.level+p.tol
	low, high = low*low*l2, high*high*l2
	if !(low <= h*h && h*h <= high && low <= g*g && g*g <= high && h*g > 0) {
		return false
	}
	from, to := dot(c, a), dot(c, b)
	if m := (from + to) / 2; !(0 <= m && m <= l2) {
		return false // its middle does not lie beside e
	}
	if p.far > p.level+p.tol {
		return true
	}
	over := max(0, -from, from-l2, -to, to-l2)
	return over*over <= (2*p.tol*p.level+p.tol*p.tol)*l2
}

// keeps tells that q is at the distance from segment e of the source.
func (p *alongside) keeps(q r2.Vec, e *Segment) bool {
	return math.Abs(e.Distance(q)-p.level) <= p.tol
}

// loose takes a segment that is not parallel to any of the source: a miter's, which may be as far as
// that reaches.
func (p *alongside) loose(s *Segment) (nearest int, fault string) {
	for _, q := range [...]r2.Vec{s.A, s.B, s.middle()} {
		e, d := p.src.nearest(q, p.far, p.near)
		if e < 0 || d < p.near || p.far <= p.level+p.tol {
			return e, p.tooFar(q)
		}
		nearest = e
	}
	return nearest, ""
}

// middle is the point halfway along the segment.
func (s *Segment) middle() r2.Vec {
	m := r2.Vec{X: (s.A.X + s.B.X) / 2, Y: (s.A.Y + s.B.Y) / 2}
	if s.Bulge != 0 {
		// The arc lies to the right of its chord when it turns left.
		m.X += s.Bulge / 2 * (s.B.Y - s.A.Y)
		m.Y -= s.Bulge / 2 * (s.B.X - s.A.X)
	}
	return m
}

// nodes proves node a of the result far enough from node b of the source, or gives a place
// that is not.
func (p *alongside) nodes(la, a, lb, b int) (at r2.Vec, ok bool) {
	na, nb := &p.got.levels[la][a], &p.src.levels[lb][b]
	if na.gap2(&nb.box) >= p.near*p.near || p.goAlong(la, a, lb, b) {
		return at, true
	}
	alo, ahi := p.got.kids(la, a)
	blo, bhi := p.src.kids(lb, b)
	switch {
	case la == 0 && lb == 0:
		return p.leaves(alo, ahi, blo, bhi)
	case la >= lb:
		for k := alo; k < ahi; k++ {
			if at, ok = p.nodes(la-1, k, lb, b); !ok {
				return at, false
			}
		}
	default:
		for k := blo; k < bhi; k++ {
			if at, ok = p.nodes(la, a, lb-1, k); !ok {
				return at, false
			}
		}
	}
	return at, true
}

func (p *alongside) leaves(alo, ahi, blo, bhi int) (at r2.Vec, ok bool) {
	var covers [fan]box
	for e := blo; e < bhi; e++ {
		covers[e-blo] = p.src.segs[e].cover()
	}
	for k := alo; k < ahi; k++ {
		s := &p.got.segs[k]
		c := s.cover()
		for e := blo; e < bhi; e++ {
			if c.gap2(&covers[e-blo]) >= p.near*p.near || int(p.parent[k]) == e {
				continue
			}
			if at, hit := nearer(*s, p.src.segs[e], p.near); hit {
				return at, false
			}
		}
	}
	return at, true
}

// goAlong tells that node a of the result goes along node b of the source: that all between b and
// the parents of a, and the part of the result that belongs to it, advance in one direction.
func (p *alongside) goAlong(la, a, lb, b int) bool {
	if p.got.levels[la][a].advance == 0 || p.src.levels[lb][b].advance == 0 {
		return false
	}
	alo, ahi := p.got.under(la, a)
	blo, bhi := p.src.under(lb, b)
	i, _ := slices.BinarySearchFunc(p.pieces, alo, func(c piece, k int) int { return cmp.Compare(c.hi, k+1) })
	c := p.pieces[i]
	if ahi > c.hi {
		return false
	}
	first, last := int(p.parent[alo]), int(p.parent[ahi-1])
	from, to := min(first, last, blo), max(first, last, bhi-1)
	lo, hi, ok := p.between(c, alo, ahi-1, from, to)
	if !ok {
		return false
	}
	first, last = int(p.parent[lo]), int(p.parent[hi])
	r := p.got.advance(la, lo, hi)
	// Round the end of an open source the result runs back along it.
	return r != 0 && p.src.advance(lb, min(first, last), max(first, last))&(r|r<<4|r>>4) != 0
}

// between returns the segments of a piece, lo and hi included, whose parents lie before from, at
// least, and past to, or the other way round: so that all from there to here has its part of the
// result. The segments first to last of the piece have their parents there, and the search starts from them.
func (p *alongside) between(c piece, first, last, from, to int) (lo, hi int, ok bool) {
	parents := p.parent[c.lo:c.hi]
	if parents[0] <= parents[len(parents)-1] {
		lo = back(first-c.lo, func(i int) bool { return int(parents[i]) < from })
		hi = onward(last-c.lo, len(parents), func(i int) bool { return int(parents[i]) > to })
	} else {
		lo = back(first-c.lo, func(i int) bool { return int(parents[i]) > to })
		hi = onward(last-c.lo, len(parents), func(i int) bool { return int(parents[i]) < from })
	}
	return c.lo + lo, c.lo + hi, lo >= 0 && hi < len(parents)
}

// onward is the first index at or after i, below n, for which is tells true, as it does for all that
// follow; n if there is none. It doubles its steps, so that what is near is found at once.
func onward(i, n int, is func(int) bool) int {
	step := 1
	for i < n && !is(i) {
		i += step
		step *= 2
	}
	// The last step may have gone past the first.
	lo, hi := i-step/2+1, min(i, n)
	for lo < hi {
		if m := (lo + hi) / 2; is(m) {
			hi = m
		} else {
			lo = m + 1
		}
	}
	return hi
}

// back is the last index at or before i, from 0, for which is tells true, as it does for all before
// it; -1 if there is none.
func back(i int, is func(int) bool) int {
	return i - onward(0, i+1, func(k int) bool { return is(i - k) })
}
