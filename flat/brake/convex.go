package brake

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// A convex outline, counter-clockwise.
type convex []r2.Vec

// hull is the convex outline round points, which it sorts.
func hull(points []r2.Vec) convex {
	slices.SortFunc(points, func(p, q r2.Vec) int { return cmp.Or(cmp.Compare(p.X, q.X), cmp.Compare(p.Y, q.Y)) })
	around := make(convex, 0, len(points)+1)
	for pass := range 2 {
		first := len(around)
		for _, p := range points {
			for n := len(around); n >= first+2 && r2.Cross(r2.Sub(around[n-1], around[n-2]), r2.Sub(p, around[n-1])) <= 0; n-- {
				around = around[:n-1]
			}
			around = append(around, p)
		}
		around = around[:len(around)-1] // the next pass starts with it
		if pass == 0 {
			slices.Reverse(points)
		}
	}
	return around
}

// cut keeps the side of an outline where normal·p is at most limit.
func (c convex) cut(normal r2.Vec, limit float64) convex {
	kept := make(convex, 0, len(c)+1)
	for i, p := range c {
		q := c[(i+1)%len(c)]
		dp, dq := limit-r2.Dot(normal, p), limit-r2.Dot(normal, q)
		if dp >= 0 {
			kept = append(kept, p)
		}
		if (dp >= 0) != (dq >= 0) {
			kept = append(kept, r2.Add(p, r2.Scale(dp/(dp-dq), r2.Sub(q, p))))
		}
	}
	return kept
}

// clearance is the distance between two outlines; where they overlap, less than zero by
// the least shift that parts them.
func (c convex) clearance(d convex) float64 {
	if apart := max(c.parted(d), d.parted(c)); apart < 0 {
		return apart
	}
	square := math.Inf(1)
	for i, p := range c {
		e := c[(i+1)%len(c)]
		for k, q := range d {
			f := d[(k+1)%len(d)]
			if off := r2.Norm2(r2.Sub(p, nearest(q, f, p))); off < square {
				square = off
			}
			if off := r2.Norm2(r2.Sub(q, nearest(p, e, q))); off < square {
				square = off
			}
		}
	}
	return math.Sqrt(square)
}

// parted is the farthest that a side of c keeps d off.
func (c convex) parted(d convex) float64 {
	apart := math.Inf(-1)
	for i, p := range c {
		e := r2.Sub(c[(i+1)%len(c)], p)
		length := math.Sqrt(r2.Norm2(e))
		if length == 0 {
			continue
		}
		least := math.Inf(1)
		for _, q := range d {
			least = min(least, r2.Cross(r2.Sub(q, p), e))
		}
		apart = max(apart, least/length)
	}
	return apart
}

// nearest is the point of the segment a-b nearest to p.
func nearest(a, b, p r2.Vec) r2.Vec {
	e := r2.Sub(b, a)
	t := r2.Dot(r2.Sub(p, a), e) / max(r2.Norm2(e), 1e-300)
	return r2.Add(a, r2.Scale(max(0, min(1, t)), e))
}

// pieces cuts a simple polygon into convex ones: itself, or triangles off its ears.
func pieces(corners []r2.Vec) [][]r2.Vec {
	if isConvex(corners) {
		return [][]r2.Vec{corners}
	}
	left := slices.Clone(corners)
	var cut [][]r2.Vec
	for len(left) > 3 {
		ear := findEar(left)
		if ear < 0 {
			return append(cut, left) // it crosses itself: its hull is on the safe side
		}
		n := len(left)
		cut = append(cut, []r2.Vec{left[(ear+n-1)%n], left[ear], left[(ear+1)%n]})
		left = slices.Delete(left, ear, ear+1)
	}
	return append(cut, left)
}

func isConvex(corners []r2.Vec) bool {
	n := len(corners)
	for i, p := range corners {
		if r2.Cross(r2.Sub(p, corners[(i+n-1)%n]), r2.Sub(corners[(i+1)%n], p)) < 0 {
			return false
		}
	}
	return true
}

// findEar is a corner whose triangle holds no other corner, -1 where there is none.
func findEar(corners []r2.Vec) int {
	n := len(corners)
	for i, p := range corners {
		a, b := corners[(i+n-1)%n], corners[(i+1)%n]
		if r2.Cross(r2.Sub(p, a), r2.Sub(b, p)) < 0 {
			continue
		}
		inside := func(q r2.Vec) bool {
			return q != a && q != p && q != b &&
				r2.Cross(r2.Sub(p, a), r2.Sub(q, a)) >= 0 && r2.Cross(r2.Sub(b, p), r2.Sub(q, p)) >= 0 && r2.Cross(r2.Sub(a, b), r2.Sub(q, b)) >= 0
		}
		if !slices.ContainsFunc(corners, inside) {
			return i
		}
	}
	return -1
}
