package drawing

import (
	"math"

	"github.com/hangarflat/hangarflat/flat/outline"
	"gonum.org/v1/gonum/spatial/r2"
)

// An Arc is the circle a bulged segment runs on.
type Arc struct {
	Center r2.Vec
	Radius float64
	Start  float64 // angle of the first point from x, radians
	Sweep  float64 // radians, positive counter-clockwise
}

// ArcOf returns the arc from a to b of the given bulge, which is the tangent of a
// quarter of the sweep and not 0.
func ArcOf(a, b r2.Vec, bulge float64) Arc {
	chord := r2.Sub(b, a)
	// The centre stands on the chord's perpendicular, (1-bulge²)/(4·bulge) chords
	// to the left of its middle.
	off := (1 - bulge*bulge) / (4 * bulge)
	mid := r2.Scale(0.5, r2.Add(a, b))
	c := r2.Vec{X: mid.X - off*chord.Y, Y: mid.Y + off*chord.X}
	return Arc{
		Center: c,
		Radius: r2.Norm(chord) * (1 + bulge*bulge) / (4 * math.Abs(bulge)),
		Start:  math.Atan2(a.Y-c.Y, a.X-c.X),
		Sweep:  4 * math.Atan(bulge),
	}
}

// Point returns the point of the circle at angle t from x.
func (a Arc) Point(t float64) r2.Vec {
	sin, cos := math.Sincos(t)
	return r2.Vec{X: a.Center.X + a.Radius*cos, Y: a.Center.Y + a.Radius*sin}
}

// Segments calls f for each segment of the path with its ends and bulge.
func Segments(p outline.Path, f func(a, b r2.Vec, bulge float64)) {
	n := len(p.Vertices)
	for i, v := range p.Vertices {
		switch {
		case i+1 < n:
			f(v.P, p.Vertices[i+1].P, v.Bulge)
		case p.Closed && n > 1:
			f(v.P, p.Vertices[0].P, v.Bulge)
		}
	}
}

// extremes calls grow for points whose box is the box of the path.
func extremes(p outline.Path, grow func(r2.Vec)) {
	for _, v := range p.Vertices {
		grow(v.P)
	}
	Segments(p, func(a, b r2.Vec, bulge float64) {
		if bulge == 0 {
			return
		}
		arc := ArcOf(a, b, bulge)
		from, to := arc.Start, arc.Start+arc.Sweep
		if to < from {
			from, to = to, from
		}
		for q := math.Ceil(from / (math.Pi / 2)); q*(math.Pi/2) < to; q++ {
			grow(arc.Point(q * (math.Pi / 2)))
		}
	})
}

// Chords returns the path as a chain of points whose chords stay within sag mm of
// it. A closed path does not repeat its first point.
func Chords(p outline.Path, sag float64) []r2.Vec {
	var pts []r2.Vec
	Segments(p, func(a, b r2.Vec, bulge float64) {
		pts = append(pts, a)
		if bulge == 0 {
			return
		}
		arc := ArcOf(a, b, bulge)
		// A chord over the angle s leaves r·(1-cos(s/2)), about r·s²/8.
		step := math.Sqrt(8 * sag / max(arc.Radius, sag))
		n := min(math.Ceil(math.Abs(arc.Sweep)/step), 1024)
		for k := 1.0; k < n; k++ {
			pts = append(pts, arc.Point(arc.Start+arc.Sweep*k/n))
		}
	})
	if n := len(p.Vertices); n > 0 && !p.Closed {
		pts = append(pts, p.Vertices[n-1].P)
	}
	return pts
}
