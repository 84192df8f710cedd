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
// is never too small, and a tenth of a millimetre too large at most.
func SizeOf(p outline.Path) Stock { return sizeOf(p) }

// sizeOf is the same of several paths together.
func sizeOf(paths ...outline.Path) Stock {
	var points []r2.Vec
	for _, p := range paths {
		points = append(points, chordPoints(p)...)
	}
	hull := convexHull(points)
	n := len(hull)
	best := Stock{}
	least := math.Inf(1)
	// Three callipers go round with the side: farthest along it, farthest from it,
	// farthest back. None ever steps back, so that the round costs no more than the
	// hull has sides (Toussaint 1983).
	ahead, above, behind := 1, 1, 1
	farther := func(k int, d r2.Vec) bool { return r2.Dot(r2.Sub(hull[(k+1)%n], hull[k%n]), d) > 0 }
	for i := range hull {
		side := r2.Sub(hull[(i+1)%n], hull[i])
		if r2.Norm(side) == 0 {
			continue
		}
		u := r2.Unit(side)
		v := r2.Vec{X: -u.Y, Y: u.X}
		for ahead = max(ahead, i+1); ahead < i+n && farther(ahead, u); ahead++ {
		}
		for above = max(above, ahead); above < i+n && farther(above, v); above++ {
		}
		for behind = max(behind, above); behind < i+n && farther(behind, r2.Scale(-1, u)); behind++ {
		}
		w := r2.Dot(r2.Sub(hull[ahead%n], hull[behind%n]), u)
		h := r2.Dot(r2.Sub(hull[above%n], hull[i]), v)
		if w*h < least {
			least = w * h
			best = Stock{max(w, h), min(w, h)}
		}
	}
	return best
}

// chordPoints wraps a counter-clockwise path in points: of an arc that bulges outward, the
// corners of tangents round it, so that nothing of it lies outside. Of one that bulges
// into the material the ends are enough: nothing between them can be outermost.
func chordPoints(p outline.Path) []r2.Vec {
	pts := make([]r2.Vec, 0, 4*len(p.Vertices))
	for _, s := range p.Segments() {
		pts = append(pts, s.A)
		if s.Bulge <= 0 {
			continue
		}
		sweep, c, radius := float64(s.Sweep()), s.Center(), s.Radius()
		// A corner over the angle 2a lies R/cos a - R, about R·a²/2, outside the arc.
		step := 2 * math.Sqrt(2*wrapGrace/radius)
		n := int(math.Ceil(max(sweep/min(step, 1), 1)))
		out := 1 / math.Cos(sweep/float64(n)/2)
		for k := range n {
			q := s.At((float64(k) + 0.5) / float64(n))
			pts = append(pts, r2.Add(c, r2.Scale(out, r2.Sub(q, c))))
		}
	}
	return pts
}

// wrapGrace is how far outside an arc its tangents may meet, mm: less than a saw's set.
const wrapGrace = 0.05

// convexHull goes round the points counter-clockwise (Andrew's monotone chain).
func convexHull(pts []r2.Vec) []r2.Vec {
	slices.SortFunc(pts, func(a, b r2.Vec) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) })
	if len(pts) < 3 {
		return pts
	}
	half := func(hull []r2.Vec, each func(func(r2.Vec))) []r2.Vec {
		start := len(hull)
		each(func(q r2.Vec) {
			for len(hull)-start >= 2 && turn(hull[len(hull)-2], hull[len(hull)-1], q) <= 0 {
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

// turn is above 0 where a, b, c turn left. For a size its rounding does not matter.
func turn(a, b, c r2.Vec) float64 { return r2.Cross(r2.Sub(b, a), r2.Sub(c, b)) }
