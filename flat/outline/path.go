package outline

import (
	"iter"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// A Vertex is a point of a path and the bulge of the segment that starts there:
// the tangent of a quarter of the arc's sweep, positive when the arc turns
// counter-clockwise, 0 for a straight line.
type Vertex struct {
	P     r2.Vec
	Bulge float64
}

// A Path is a chain of lines and circular arcs. A closed path runs on from its
// last vertex to its first, which is not repeated; the last vertex of an open
// path carries no segment and its bulge is ignored. The zero Path is empty and
// open; every method accepts it.
type Path struct {
	Vertices []Vertex
	Closed   bool
}

// Polygon returns the closed path with straight sides through the points.
func Polygon(pts ...r2.Vec) Path { return Path{Vertices: corners(pts), Closed: true} }

// Polyline returns the open path of straight lines through the points.
func Polyline(pts ...r2.Vec) Path { return Path{Vertices: corners(pts)} }

func corners(pts []r2.Vec) []Vertex {
	vs := make([]Vertex, len(pts))
	for i, p := range pts {
		vs[i].P = p
	}
	return vs
}

// Circle returns the counter-clockwise circle about c as two half arcs, the first
// starting at the point of largest x. The radius is in mm and must be positive;
// [Path.Validate] finds a radius that is not.
func Circle(c r2.Vec, radius float64) Path {
	return Path{Closed: true, Vertices: []Vertex{
		{P: r2.Vec{X: c.X + radius, Y: c.Y}, Bulge: 1},
		{P: r2.Vec{X: c.X - radius, Y: c.Y}, Bulge: 1},
	}}
}

// Rect returns the counter-clockwise rectangle with the two corners given.
func Rect(a, b r2.Vec) Path {
	lo := r2.Vec{X: min(a.X, b.X), Y: min(a.Y, b.Y)}
	hi := r2.Vec{X: max(a.X, b.X), Y: max(a.Y, b.Y)}
	return Polygon(lo, r2.Vec{X: hi.X, Y: lo.Y}, hi, r2.Vec{X: lo.X, Y: hi.Y})
}

// NumSegments counts the segments: as many as vertices when closed, one fewer
// when open.
func (p Path) NumSegments() int {
	n := len(p.Vertices)
	if p.Closed || n == 0 {
		return n
	}
	return n - 1
}

// Segment returns segment i, counted from 0: the one that starts at vertex i.
// Like an index into a slice, i must lie in [0, NumSegments).
func (p Path) Segment(i int) Segment {
	next := i + 1
	if next == len(p.Vertices) {
		next = 0
	}
	return Segment{A: p.Vertices[i].P, B: p.Vertices[next].P, Bulge: p.Vertices[i].Bulge}
}

// Segments runs through the segments in order.
func (p Path) Segments() iter.Seq2[int, Segment] {
	return func(yield func(int, Segment) bool) {
		for i := range p.NumSegments() {
			if !yield(i, p.Segment(i)) {
				return
			}
		}
	}
}

// Length returns the length along the path, mm.
func (p Path) Length() float64 {
	sum := 0.0
	for i := range p.NumSegments() {
		sum += p.Segment(i).Length()
	}
	return sum
}

// Bounds returns the smallest axis-parallel box that holds the path, arcs
// included. An empty path has the zero box.
func (p Path) Bounds() r2.Box {
	if len(p.Vertices) == 0 {
		return r2.Box{}
	}
	b := r2.Box{Min: p.Vertices[0].P, Max: p.Vertices[0].P}
	for i := range p.NumSegments() {
		b = joinBoxes(b, p.Segment(i).Bounds())
	}
	return b
}

// Reverse returns the path run the other way: each bulge changes its sign and
// moves to the vertex that now starts its segment.
func (p Path) Reverse() Path {
	n := len(p.Vertices)
	out := Path{Vertices: make([]Vertex, n), Closed: p.Closed}
	for i := range n {
		out.Vertices[i].P = p.Vertices[n-1-i].P
	}
	for i := range p.NumSegments() {
		// Segment i joins old vertices i and i+1; it now starts at old vertex i+1.
		at := n - 2 - i
		if at < 0 {
			at = n - 1
		}
		out.Vertices[at].Bulge = -p.Vertices[i].Bulge
	}
	return out
}

// Transform returns the path moved by m. Bulges keep their size under every
// similarity and change their sign when m mirrors.
func (p Path) Transform(m Affine) Path {
	out := Path{Vertices: make([]Vertex, len(p.Vertices)), Closed: p.Closed}
	sign := 1.0
	if m.Mirrors() {
		sign = -1
	}
	for i, v := range p.Vertices {
		out.Vertices[i] = Vertex{P: m.Apply(v.P), Bulge: sign * v.Bulge}
	}
	return out
}

// StartAt returns the closed path with vertex i first; an open path, or an index
// outside it, is returned unchanged.
func (p Path) StartAt(i int) Path {
	if !p.Closed || i < 0 || i >= len(p.Vertices) {
		return p
	}
	vs := make([]Vertex, 0, len(p.Vertices))
	vs = append(vs, p.Vertices[i:]...)
	return Path{Vertices: append(vs, p.Vertices[:i]...), Closed: true}
}

// size is the scale to which tolerances are relative: the larger of the extent
// and the largest coordinate, because rounding grows with the coordinates.
func (p Path) size() float64 {
	s := 0.0
	segs := p.NumSegments()
	for i := range p.Vertices {
		v := &p.Vertices[i]
		at := max(math.Abs(v.P.X), math.Abs(v.P.Y))
		if v.Bulge != 0 && i < segs {
			// An arc beyond a half circle reaches past its chord.
			seg := p.Segment(i)
			at += seg.rise()
		}
		s = max(s, at)
	}
	return s
}

func joinBoxes(a, b r2.Box) r2.Box {
	return r2.Box{
		Min: r2.Vec{X: min(a.Min.X, b.Min.X), Y: min(a.Min.Y, b.Min.Y)},
		Max: r2.Vec{X: max(a.Max.X, b.Max.X), Y: max(a.Max.Y, b.Max.Y)},
	}
}
