package former

import (
	"cmp"
	"math"
	"slices"

	"github.com/hangarflat/hangarflat/flat/outline"
	"gonum.org/v1/gonum/spatial/r2"
)

// SizeOf is the smallest rectangle a closed path fits in, turned as suits: one of its sides
// lies along a side of the convex hull. Arcs are wrapped in tangents, so that the rectangle
// is never too small, and too large by three parts in ten thousand of their radius at most.
func SizeOf(p outline.Path) Stock {
	hull := convexHull(chordPoints(p))
	best := Stock{}
	least := math.Inf(1)
	for i := range hull {
		side := r2.Sub(hull[(i+1)%len(hull)], hull[i])
		if r2.Norm(side) == 0 {
			continue
		}
		u := r2.Unit(side)
		v := r2.Vec{X: -u.Y, Y: u.X}
		var lo, hi r2.Vec
		lo = r2.Vec{X: math.Inf(1), Y: math.Inf(1)}
		hi = r2.Vec{X: math.Inf(-1), Y: math.Inf(-1)}
		for _, q := range hull {
			x, y := r2.Dot(q, u), r2.Dot(q, v)
			lo = r2.Vec{X: min(lo.X, x), Y: min(lo.Y, y)}
			hi = r2.Vec{X: max(hi.X, x), Y: max(hi.Y, y)}
		}
		w, h := hi.X-lo.X, hi.Y-lo.Y
		if w*h < least {
			least = w * h
			best = Stock{max(w, h), min(w, h)}
		}
	}
	return best
}

// chordPoints wraps a path in points: of an arc that bulges outward, the corners of the
// tangents round it, so that nothing of it lies outside.
func chordPoints(p outline.Path) []r2.Vec {
	pts := make([]r2.Vec, 0, 4*len(p.Vertices))
	for _, s := range p.Segments() {
		pts = append(pts, s.A)
		sweep := math.Abs(float64(s.Sweep()))
		n := int(math.Ceil(sweep / wrapStep))
		if s.IsLine() {
			continue
		}
		c, radius := s.Center(), s.Radius()
		for k := range n {
			q := s.At((float64(k) + 0.5) / float64(n))
			out := radius / math.Cos(sweep/float64(n)/2)
			if s.Bulge > 0 {
				q = r2.Add(c, r2.Scale(out/radius, r2.Sub(q, c)))
			}
			pts = append(pts, q)
		}
	}
	return pts
}

// wrapStep is the largest arc one tangent corner stands for: the corner lies 1/cos(1.5°) - 1,
// three parts in ten thousand of the radius, outside the arc.
const wrapStep = math.Pi / 60

// convexHull goes round the points counter-clockwise (Andrew's monotone chain).
func convexHull(pts []r2.Vec) []r2.Vec {
	slices.SortFunc(pts, func(a, b r2.Vec) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) })
	if len(pts) < 3 {
		return pts
	}
	half := func(hull []r2.Vec, each func(func(r2.Vec))) []r2.Vec {
		start := len(hull)
		each(func(q r2.Vec) {
			for len(hull)-start >= 2 && outline.Orient(hull[len(hull)-2], hull[len(hull)-1], q) <= 0 {
				hull = hull[:len(hull)-1]
			}
			hull = append(hull, q)
		})
		return hull[:len(hull)-1]
	}
	hull := half(make([]r2.Vec, 0, len(pts)), func(f func(r2.Vec)) {
		for _, q := range pts {
			f(q)
		}
	})
	return half(hull, func(f func(r2.Vec)) {
		for i := len(pts) - 1; i >= 0; i-- {
			f(pts[i])
		}
	})
}
