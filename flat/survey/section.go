package survey

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
)

// SectionOptions says how a cloud of points is cut. Half is needed; the zero value
// of the rest is useful.
type SectionOptions struct {
	// Half is half the thickness of the slab whose points count to the section,
	// mm. Thick enough to hold some hundreds of points, thin enough that the hull
	// does not change in it.
	Half float64
	// Cell is the side of the squares the points are sorted into, mm; 0 finds it
	// from how dense they are. What lies nearer together than two or three cells
	// belongs together.
	Cell float64
	// Gap is the distance along the section without points from which it is told
	// as a gap, mm; 0 is four cells.
	Gap float64
	// Corner is the change of direction from which a corner is told, such as a
	// chine; 0 is 25°.
	Corner measure.Angle
}

// A Section is what a plane cuts out of a cloud of points, put in order.
type Section struct {
	Frame
	Points  []r2.Vec  // on the frame's axes, in order along the section, mm
	Along   []float64 // of each point, distance along, rising from near 0, mm
	Source  []int     // of each point, which of the cloud it is
	Strays  []int     // points of the cloud in the slab that belong to nothing
	Gaps    []Span    // stretches along without points; one may run past Length, over the start of a closed section
	Corners []float64 // distances along at which the direction jumps
	Closed  bool      // the end runs into the start
	Length  float64   // along, from the first point to the last, or once round, mm
	Cell    float64   // side of the squares used, mm
}

// A Span is a stretch along a section, mm.
type Span struct{ From, To float64 }

const (
	defaultCorner = 25 * measure.Degree
	cellsAcross   = 256 // first guess of the cells along the longer side
	pointsPerCell = 6   // on average, for the middle of a cell to mean something
	reachCells    = 2.6 // middles no farther apart than this belong together
	leastPiece    = 8   // cells a piece of the section has at least
	gapCells      = 4.0
	// leastSlab is how few points of a slab can be put in order.
	leastSlab  = 16
	mostPieces = 64
)

// Cut takes the points within Half of the frame's plane, drops strays, and puts the
// rest in order along the curve they lie on, from its lower end to the other; a
// closed curve runs counter-clockwise from its lowest point. A million points take
// about a tenth of a second, and memory of some 250 bytes for each point in the
// slab beside the cloud's 24 a point. No points in the slab, or too
// few that hang together, is an [*Error] that says how near the nearest are.
func Cut(cloud []r3.Vec, frame Frame, opt SectionOptions) (Section, error) {
	if err := opt.check(frame); err != nil {
		return Section{}, err
	}
	out := Section{Frame: frame}
	var flat []r2.Vec
	var source []int
	nearest := math.Inf(1)
	var f faults
	for i, p := range cloud {
		if !finite3(p) {
			f.point3(fmt.Sprintf("cloud: point %d", i), p)
			continue
		}
		at, h := frame.In(p)
		nearest = min(nearest, math.Abs(h))
		if math.Abs(h) <= opt.Half {
			flat, source = append(flat, at), append(source, i)
		}
	}
	if err := f.err(); err != nil {
		return Section{}, err
	}
	if len(flat) < leastSlab {
		return Section{}, &Error{"slab", fmt.Sprintf("%d points within %s of the plane", len(flat), mm(opt.Half)),
			fmt.Sprintf("at least %d are needed; the nearest point of the cloud lies %s off: is the station in mm, and the slab thick enough?", leastSlab, mm(nearest))}
	}
	g := newGrid(flat, opt.Cell)
	out.Cell = g.cell
	pieces := g.pieces()
	if len(pieces) == 0 {
		return Section{}, &Error{"slab", fmt.Sprintf("%d points", len(flat)), "no two of them hang together: take a thicker slab or a larger cell"}
	}
	if len(pieces) > mostPieces {
		return Section{}, &Error{"slab", fmt.Sprintf("%d separate runs of points", len(pieces)), fmt.Sprintf("at most %d can be put in order: take a thicker slab or a larger cell", mostPieces)}
	}
	spine, closed := chain(pieces, reachCells*g.cell)
	spine = g.orient(spine, closed)
	out.Closed = closed
	out.order(flat, source, spine, g)
	gap := opt.Gap
	if gap == 0 {
		gap = gapCells * g.cell
	}
	for i := 1; i < len(out.Along); i++ {
		if out.Along[i]-out.Along[i-1] >= gap {
			out.Gaps = append(out.Gaps, Span{out.Along[i-1], out.Along[i]})
		}
	}
	if last := out.Along[len(out.Along)-1]; out.Closed && out.Length-last >= gap {
		out.Gaps = append(out.Gaps, Span{last, out.Length})
	}
	corner := opt.Corner
	if corner == 0 {
		corner = defaultCorner
	}
	out.Corners = corners(out.Points, out.Along, g.cell, corner)
	return out, nil
}

func (o SectionOptions) check(frame Frame) error {
	var f faults
	f.frame("frame", frame)
	f.length("slab half thickness", o.Half, math.SmallestNonzeroFloat64, 1000, "must be above 0 and at most 1000 mm")
	if o.Cell != 0 {
		f.length("cell", o.Cell, 1e-3, 1000, "must be 0 (find it), or 0.001 to 1000 mm")
	}
	f.length("gap", o.Gap, 0, maxCoordinate, "must be 0 (four cells) or above")
	if !(o.Corner >= 0 && o.Corner <= 180*measure.Degree) {
		f.add("corner", o.Corner.String(), "must be 0 (25°) to 180°")
	}
	return f.err()
}

// order puts the points in order along the spine and drops those that lie off it.
func (s *Section) order(flat []r2.Vec, source []int, spine []r2.Vec, g grid) {
	path := outline.Path{Closed: s.Closed}
	for _, p := range spine {
		path.Vertices = append(path.Vertices, outline.Vertex{P: p})
	}
	t := newTarget([]outline.Path{path})
	type placed struct {
		along float64
		i     int
	}
	var in []placed
	for i, p := range flat {
		at, k, u := t.index.Nearest(p)
		if r2.Norm(r2.Sub(p, at)) > reachCells*g.cell {
			s.Strays = append(s.Strays, source[i])
			continue
		}
		in = append(in, placed{t.start[k] + u*t.segs[k].Length(), i})
	}
	slices.SortFunc(in, func(a, b placed) int {
		switch {
		case a.along < b.along:
			return -1
		case a.along > b.along:
			return 1
		}
		return a.i - b.i
	})
	s.Points, s.Along, s.Source = make([]r2.Vec, len(in)), make([]float64, len(in)), make([]int, len(in))
	for k, p := range in {
		s.Points[k], s.Along[k], s.Source[k] = flat[p.i], p.along-in[0].along, source[p.i]
	}
	s.Length = s.Along[len(in)-1]
	if s.Closed {
		s.Length = path.Length()
	}
}

// corners finds the places at which the direction, taken by straight lines through
// the points a few cells before and after, jumps by more than limit.
func corners(points []r2.Vec, along []float64, cell float64, limit measure.Angle) []float64 {
	length := along[len(along)-1]
	near, far := cell, 7*cell // the corner itself is left out, a bend's own turn kept small
	type turn struct{ at, by float64 }
	var found []turn
	for at := far; at <= length-far; at += cell / 2 {
		_, u, ok1 := lineThrough(points, along, at-far, at-near)
		_, v, ok2 := lineThrough(points, along, at+near, at+far)
		if !ok1 || !ok2 {
			continue
		}
		by := math.Abs(math.Atan2(r2.Cross(u, v), r2.Dot(u, v)))
		if by < limit.Radians() {
			continue
		}
		if n := len(found); n > 0 && at-found[n-1].at <= far {
			if by > found[n-1].by {
				found[n-1] = turn{at, by}
			}
			continue
		}
		found = append(found, turn{at, by})
	}
	var out []float64
	for _, t := range found {
		p, u, _ := lineThrough(points, along, t.at-far, t.at-near)
		q, v, _ := lineThrough(points, along, t.at+near, t.at+far)
		k := r2.Cross(r2.Sub(q, p), v) / r2.Cross(u, v)
		out = append(out, alongOf(points, along, r2.Add(p, r2.Scale(k, u)), t.at, far))
	}
	return out
}

// lineThrough is the straight line of least squares through the points between two
// distances along: its middle and direction of travel.
func lineThrough(points []r2.Vec, along []float64, from, to float64) (mid, dir r2.Vec, ok bool) {
	i, _ := slices.BinarySearch(along, from)
	j, _ := slices.BinarySearch(along, to)
	// Points bunched in a part of the stretch, beside a gap, give no direction.
	if j-i < 6 || along[j-1]-along[i] < 0.6*(to-from) {
		return mid, dir, false
	}
	mid = middle(points[i:j])
	var xx, xy, yy float64
	for _, p := range points[i:j] {
		d := r2.Sub(p, mid)
		xx, xy, yy = xx+d.X*d.X, xy+d.X*d.Y, yy+d.Y*d.Y
	}
	a := math.Atan2(2*xy, xx-yy) / 2
	dir = r2.Vec{X: math.Cos(a), Y: math.Sin(a)}
	if r2.Dot(dir, r2.Sub(points[j-1], points[i])) < 0 {
		dir = r2.Scale(-1, dir)
	}
	return mid, dir, true
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
