package outline

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// A Place says where a point lies in respect of closed paths.
type Place int

// The places a point can have. The zero value is Outside.
const (
	Outside Place = iota
	OnEdge
	Inside
)

// String returns the name of the place.
func (p Place) String() string {
	switch p {
	case Inside:
		return "inside"
	case OnEdge:
		return "on edge"
	default:
		return "outside"
	}
}

// Side tells where q lies: Inside where the closed path winds about it, on the
// edge, or Outside. In respect of straight sides it is exact: OnEdge means exactly
// on. A point nearer to an arc than [Coincidence] times the size of the path is on
// that arc. A clockwise path has the same inside as its reverse. A point that is
// not finite is Outside, and so is every point of an open path but those on it.
func (p Path) Side(q r2.Vec) Place {
	return place(q, Coincidence*p.size(), p.Closed, func(visit func(Segment) bool) {
		for i := range p.NumSegments() {
			if !visit(p.Segment(i)) {
				return
			}
		}
	})
}

// place sums the winding of the segments about q; it stops at the first segment
// that q lies on.
func place(q r2.Vec, tol float64, closed bool, segs func(visit func(Segment) bool)) Place {
	wind, on := 0, false
	segs(func(s Segment) bool {
		w, edge := s.winding(q, tol)
		wind += w
		on = edge
		return !edge
	})
	switch {
	case on:
		return OnEdge
	case closed && wind != 0:
		return Inside
	}
	return Outside
}

// winding is what the segment adds to the crossings of the ray from q toward +x,
// counted up for an upward crossing. An arc is its chord and the loop out along the arc
// and back along the chord, about which q has winding ±1 or 0.
//
// Points in line with a chord are decided as if q had been moved by an unmeasurable
// step toward -x and a far smaller one toward +y, everywhere the same, so that
// chords and loops agree.
func (s Segment) winding(q r2.Vec, tol float64) (w int, edge bool) {
	if !finite(q) {
		return 0, false
	}
	// Most segments lie above, below or to the left of the ray.
	reach := s.rise() + tol
	if q.Y > max(s.A.Y, s.B.Y)+reach || q.Y < min(s.A.Y, s.B.Y)-reach || q.X > max(s.A.X, s.B.X)+reach {
		return 0, false
	}
	if q == s.A || q == s.B {
		return 0, true
	}
	side := Orient(s.A, s.B, q)
	if s.Bulge == 0 {
		if side == 0 && s.boxHolds(q) {
			return 0, true
		}
	} else if s.Distance(q) <= tol {
		return 0, true
	}
	// On a chord that rises or falls either side is right: what the chord counts the loop takes back.
	left := side > 0 || side == 0 && s.B.X > s.A.X
	if (s.A.Y <= q.Y) != (s.B.Y <= q.Y) {
		if up := s.B.Y > s.A.Y; up && left {
			w = 1
		} else if !up && !left {
			w = -1
		}
	}
	if s.Bulge > 0 && !left && s.circle(q) < 0 {
		w++ // within the loop of a left turn
	} else if s.Bulge < 0 && left && s.circle(q) > 0 {
		w--
	}
	return w, false
}

func (s Segment) boxHolds(q r2.Vec) bool {
	return min(s.A.X, s.B.X) <= q.X && q.X <= max(s.A.X, s.B.X) &&
		min(s.A.Y, s.B.Y) <= q.Y && q.Y <= max(s.A.Y, s.B.Y)
}

// Distance returns the distance from q to the nearest point of the path, mm; +Inf
// when the path has no segment.
func (p Path) Distance(q r2.Vec) float64 {
	d := math.Inf(1)
	for i := range p.NumSegments() {
		d = min(d, p.Segment(i).Distance(q))
	}
	return d
}

// Nearest returns the point of the path nearest to q, the segment it lies on and
// the fraction of that segment's length; segment -1 when the path has none or q is
// not finite.
func (p Path) Nearest(q r2.Vec) (at r2.Vec, segment int, t float64) {
	d, segment := math.Inf(1), -1
	for i := range p.NumSegments() {
		if e := p.Segment(i).Distance(q); e < d {
			d, segment = e, i
		}
	}
	if segment < 0 {
		return r2.Vec{}, -1, 0
	}
	at, t = p.Segment(segment).Nearest(q)
	return at, segment, t
}

// An Index answers questions about many points quickly. It holds the segments of
// all its paths as they were when it was made, in the order given; those segments
// are numbered on from path to path. The zero Index holds none.
type Index struct {
	tree *tree
	tol  float64
}

// NewIndex indexes the segments of the paths.
func NewIndex(paths ...Path) *Index {
	return &Index{tree: pathTree(paths), tol: Coincidence * sizeOf(paths)}
}

func sizeOf(paths []Path) float64 {
	s := 0.0
	for _, p := range paths {
		s = max(s, p.size())
	}
	return s
}

// Distance is [Path.Distance] over all paths of the index.
func (x *Index) Distance(q r2.Vec) float64 {
	if x.tree == nil {
		return math.Inf(1)
	}
	_, d := x.tree.nearest(q, math.Inf(1), 0)
	return d
}

// Nearest is [Path.Nearest] over all paths of the index.
func (x *Index) Nearest(q r2.Vec) (at r2.Vec, segment int, t float64) {
	if x.tree == nil {
		return r2.Vec{}, -1, 0
	}
	i, _ := x.tree.nearest(q, math.Inf(1), 0)
	if i < 0 {
		return r2.Vec{}, -1, 0
	}
	at, t = x.tree.segs[i].Nearest(q)
	return at, i, t
}

// Side is [Path.Side] over all paths of the index, which must be closed: Inside
// where their windings do not cancel, so that a point in a clockwise hole of a
// counter-clockwise outline is Outside.
func (x *Index) Side(q r2.Vec) Place {
	if x.tree == nil {
		return Outside
	}
	return place(q, x.tol, true, func(visit func(Segment) bool) { x.tree.ray(q, x.tol, visit) })
}

// ray visits the segments that the ray from q toward +x may cross.
func (t *tree) ray(q r2.Vec, tol float64, visit func(Segment) bool) {
	t.rayIndex(q, tol, func(i int) bool { return visit(t.segs[i]) })
}
