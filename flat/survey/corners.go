package survey

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"github.com/hangarflat/hangarflat/material/measure"
)

// corners finds the places at which the direction, taken by straight lines through
// the points a few cells before and after, jumps by more than limit. A closed section
// has no ends: the stretches run on over its start, where a keel is.
func corners(s Section, limit measure.Angle) []float64 {
	c := cornerSearch{s.Points, s.Along, s.Cell, 7 * s.Cell}
	from, to := c.far, s.Along[len(s.Along)-1]-c.far
	if s.Closed {
		c.points, c.along = onceMore(s, c.far)
		from, to = 0, s.Length
	}
	var found []corner
	for at := from; at <= to; at += s.Cell / 2 {
		by, ok := c.turnAt(at)
		if !ok || by < limit {
			continue
		}
		if n := len(found); n > 0 && at-found[n-1].at <= c.far {
			if by > found[n-1].by {
				found[n-1] = corner{at, by}
			}
			continue
		}
		found = append(found, corner{at, by})
	}
	if n := len(found); s.Closed && n > 1 && found[0].at+s.Length-found[n-1].at <= c.far {
		// The same one, from either side of the start.
		if found[n-1].by > found[0].by {
			found[0] = found[n-1]
		}
		found = found[:n-1]
	}
	var out []float64
	for _, f := range found {
		at := c.place(f.at)
		if s.Closed {
			at = math.Mod(at+s.Length, s.Length)
		}
		out = append(out, at)
	}
	slices.Sort(out)
	return out
}

type corner struct {
	at float64
	by measure.Angle
}

// A cornerSearch looks along the points of a section. What lies within near of a corner is
// left out for the corner itself, and what lies beyond far for a bend's own turn.
type cornerSearch struct {
	points    []r2.Vec
	along     []float64
	near, far float64
}

// onceMore is a closed section with what lies within twice far of its start laid on again
// at both ends.
func onceMore(s Section, far float64) (points []r2.Vec, along []float64) {
	i, _ := slices.BinarySearch(s.Along, s.Length-2*far)
	j, _ := slices.BinarySearch(s.Along, 2*far)
	points = slices.Concat(s.Points[i:], s.Points, s.Points[:j])
	for _, at := range s.Along[i:] {
		along = append(along, at-s.Length)
	}
	along = append(along, s.Along...)
	for _, at := range s.Along[:j] {
		along = append(along, at+s.Length)
	}
	return points, along
}

// sides are the straight lines through the points before and after a place, false where
// there are not enough of them.
func (c cornerSearch) sides(at float64) (before, after ray, ok bool) {
	p, ok1 := stretchOf(c.points, c.along, at-c.far, at-c.near)
	q, ok2 := stretchOf(c.points, c.along, at+c.near, at+c.far)
	if !ok1 || !ok2 {
		return ray{}, ray{}, false
	}
	return straight(p), straight(q), true
}

func (c cornerSearch) turnAt(at float64) (measure.Angle, bool) {
	p, q, ok := c.sides(at)
	return turn(p, q), ok
}

// place is how far along the sides of the corner found about there meet.
func (c cornerSearch) place(about float64) float64 {
	p, q, _ := c.sides(about)
	k := r2.Cross(r2.Sub(q.mid, p.mid), q.way) / r2.Cross(p.way, q.way)
	return alongOf(c.points, c.along, r2.Add(p.mid, r2.Scale(k, p.way)), about, c.far)
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
