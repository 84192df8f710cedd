package outline

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Clearance returns the least distance between two paths, mm, and where it is: a on p, b
// on q. It is 0 where they meet, and +Inf when either has no segment.
func Clearance(p, q Path) (d float64, a, b r2.Vec) {
	s, o := pathTree([]Path{p}), pathTree([]Path{q})
	c := closest{s: s, o: o, d: math.Inf(1), tol: Coincidence * max(p.size(), q.size())}
	if len(s.segs) > 0 && len(o.segs) > 0 {
		c.nodes(s.top(), 0, o.top(), 0)
	}
	return c.d, c.a, c.b
}

// segments tries every place where the distance of two segments can be least: where
// they meet, at an end of either, or where they have a normal in common.
func (c *closest) segments(s, o Segment) {
	if m := meet(s, o, c.tol); m.n > 0 {
		c.try(0, m.at[0].P, m.at[0].P)
		return
	}
	for _, q := range [...]r2.Vec{s.A, s.B} {
		p, _ := o.Nearest(q)
		c.try(dist(p, q), q, p)
	}
	for _, q := range [...]r2.Vec{o.A, o.B} {
		p, _ := s.Nearest(q)
		c.try(dist(p, q), p, q)
	}
	normals, n := commonNormals(s, o)
	for _, q := range normals[:n] {
		if s.beside(q) {
			p, _ := s.Nearest(q)
			r, _ := o.Nearest(p)
			c.try(dist(p, r), p, r)
		}
	}
}

func (c *closest) try(d float64, a, b r2.Vec) {
	if d < c.d {
		c.d, c.a, c.b = d, a, b
	}
}

// nearer tells that two segments come nearer to each other than limit, and where on the first.
func nearer(s, o Segment, limit float64) (at r2.Vec, hit bool) {
	for _, q := range [...]r2.Vec{s.A, s.B} {
		if o.Distance(q) < limit {
			return q, true
		}
	}
	for _, q := range [...]r2.Vec{o.A, o.B} {
		if s.Distance(q) < limit {
			at, _ = s.Nearest(q)
			return at, true
		}
	}
	normals, n := commonNormals(s, o)
	for _, q := range normals[:n] {
		if s.beside(q) {
			if at, _ = s.Nearest(q); o.Distance(at) < limit {
				return at, true
			}
		}
	}
	// Nothing else is left than that they cross.
	if s.Bulge == 0 && o.Bulge == 0 && apart(s, o, 0) {
		return at, false
	}
	pts, n := carriers(s, o)
	for _, q := range pts[:n] {
		if at, _ = s.Nearest(q); o.Distance(at) < limit {
			return at, true
		}
	}
	return at, false
}

// commonNormals gives points whose feet on s lie on normals that s and o share: for a
// line and an arc the normal through the centre, for two arcs the line of their centres.
func commonNormals(s, o Segment) (at [2]r2.Vec, n int) {
	switch {
	case s.Bulge == 0 && o.Bulge == 0:
		return at, 0 // the least is at an end
	case s.Bulge == 0:
		at[0] = o.Center()
		return at, 1
	case o.Bulge == 0:
		t := o.Tangent(0)
		return bothSides(s, r2.Vec{X: -t.Y, Y: t.X}), 2
	}
	v := r2.Sub(o.Center(), s.Center())
	if l := length(v); l > 0 {
		return bothSides(s, r2.Scale(1/l, v)), 2
	}
	at[0] = s.At(0.5)
	return at, 1
}

func bothSides(s Segment, u r2.Vec) [2]r2.Vec {
	c, r := s.Center(), s.Radius()
	return [2]r2.Vec{r2.Add(c, r2.Scale(r, u)), r2.Sub(c, r2.Scale(r, u))}
}
