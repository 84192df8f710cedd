package outline

import "gonum.org/v1/gonum/spatial/r2"

// A Vertex is a point of a path and the bulge of the segment that starts there:
// the tangent of a quarter of the arc's sweep, positive when the arc turns
// counter-clockwise, 0 for a straight line.
type Vertex struct {
	P     r2.Vec
	Bulge float64
}

// A Path is a chain of lines and circular arcs. A closed path runs on from its
// last vertex to its first, which is not repeated; the last vertex of an open
// path carries no segment and its bulge is ignored.
type Path struct {
	Vertices []Vertex
	Closed   bool
}
