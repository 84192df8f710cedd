package survey

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"github.com/hangarflat/hangarflat/material/measure"
)

// corners finds the places at which the direction, taken by straight lines through
// the points a few cells before and after, jumps by more than limit.
func corners(points []r2.Vec, along []float64, cell float64, limit measure.Angle) []float64 {
	length := along[len(along)-1]
	near, far := cell, 7*cell // the corner itself is left out, a bend's own turn kept small
	type corner struct {
		at float64
		by measure.Angle
	}
	var found []corner
	for at := far; at <= length-far; at += cell / 2 {
		before, ok1 := stretchOf(points, along, at-far, at-near)
		after, ok2 := stretchOf(points, along, at+near, at+far)
		if !ok1 || !ok2 {
			continue
		}
		by := turn(straight(before), straight(after))
		if by < limit {
			continue
		}
		if n := len(found); n > 0 && at-found[n-1].at <= far {
			if by > found[n-1].by {
				found[n-1] = corner{at, by}
			}
			continue
		}
		found = append(found, corner{at, by})
	}
	var out []float64
	for _, c := range found {
		before, _ := stretchOf(points, along, c.at-far, c.at-near)
		after, _ := stretchOf(points, along, c.at+near, c.at+far)
		p, q := straight(before), straight(after)
		k := r2.Cross(r2.Sub(q.mid, p.mid), q.way) / r2.Cross(p.way, q.way)
		out = append(out, alongOf(points, along, r2.Add(p.mid, r2.Scale(k, p.way)), c.at, far))
	}
	return out
}

// stretchOf is the points between two distances along, false where they are few or bunched in
// a part of the stretch, as beside a gap with a stray in it, and give no direction.
func stretchOf(points []r2.Vec, along []float64, from, to float64) ([]r2.Vec, bool) {
	i, _ := slices.BinarySearch(along, from)
	j, _ := slices.BinarySearch(along, to)
	n := j - i
	if n < 6 {
		return nil, false
	}
	ends, half := along[j-1]-along[i], along[i+3*n/4]-along[i+n/4]
	return points[i:j], ends >= 0.6*(to-from) && half >= 0.2*(to-from)
}

// A ray is a line through the middle of some points.
type ray struct{ mid, way r2.Vec }

func turn(a, b ray) measure.Angle {
	return measure.Angle(math.Abs(math.Atan2(r2.Cross(a.way, b.way), r2.Dot(a.way, b.way))))
}

// straight is the straight line of least squares through points, the way they run.
func straight(points []r2.Vec) ray {
	mid := middle(points)
	var xx, xy, yy float64
	for _, p := range points {
		d := r2.Sub(p, mid)
		xx, xy, yy = xx+d.X*d.X, xy+d.X*d.Y, yy+d.Y*d.Y
	}
	a := math.Atan2(2*xy, xx-yy) / 2
	way := r2.Vec{X: math.Cos(a), Y: math.Sin(a)}
	if r2.Dot(way, r2.Sub(points[len(points)-1], points[0])) < 0 {
		way = r2.Scale(-1, way)
	}
	return ray{mid, way}
}

// alongOf returns the distance along of the point nearest to q among those within
// reach of at.
func alongOf(points []r2.Vec, along []float64, q r2.Vec, at, reach float64) float64 {
	i, _ := slices.BinarySearch(along, at-reach)
	j, _ := slices.BinarySearch(along, at+reach)
	best, out := math.Inf(1), at
	for k := i; k < j; k++ {
		if d := r2.Norm(r2.Sub(points[k], q)); d < best {
			best, out = d, along[k]
		}
	}
	return out
}
