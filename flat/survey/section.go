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
	// from how dense they are, taken all together: give it where the scanner dwelt
	// on one place and the rest is many times as thin, or what is thin falls to
	// pieces. What lies nearer together than two or three cells belongs together.
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
	Gaps    []Span    // stretches along without points; that before the start of a closed section runs to Length
	Corners []float64 // distances along at which the direction jumps, seven cells or more from an open end
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
// about a tenth of a second, and memory of some 400 bytes for each point in the
// slab beside the cloud's 24 a point.
//
// Distances along are measured on chords of a cell's length between middles of the
// points: short by Cell²/24R² of the whole on a curve of radius R.
//
// No points in the slab, or too few that hang together, is an [*Error] that says how
// near the nearest are.
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
	if len(cloud) == 0 {
		return Section{}, &Error{"cloud", "0 points", "there must be some"}
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
	out.order(flat, source, spine, g.cell)
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
	out.Corners = corners(out, corner)
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

// order puts the points in order along the spine, laid anew through them, and drops those
// that lie off it.
func (s *Section) order(flat []r2.Vec, source []int, spine []r2.Vec, cell float64) {
	line := outline.Polyline(spine...)
	line.Closed = s.Closed
	all := make([]int, len(flat))
	for i := range all {
		all[i] = i
	}
	in, off := placeOn(line, flat, all, reachCells*cell)
	slices.SortFunc(in, before)
	if laid, beside := settled(in, flat, cell, s.Closed); len(laid) >= leastPiece {
		if !s.Closed {
			laid = carriedOn(laid, 2, 2*cell)
			for j := range beside {
				beside[j]++ // the end it was carried on to comes first
			}
		}
		line.Vertices = outline.Polyline(laid...).Vertices
		moveTo(laid, s.Closed, in, beside, flat)
		// Near its ends the first line may have strayed from points that the new one meets.
		var met []placed
		met, off = placeOn(line, flat, off, reachCells*cell)
		in = append(in, met...)
		slices.SortFunc(in, before)
	}
	for _, i := range off {
		s.Strays = append(s.Strays, source[i])
	}
	s.Points, s.Along, s.Source = make([]r2.Vec, len(in)), make([]float64, len(in)), make([]int, len(in))
	for k, p := range in {
		s.Points[k], s.Along[k], s.Source[k] = flat[p.i], p.along-in[0].along, source[p.i]
	}
	s.Length = s.Along[len(in)-1]
	if s.Closed {
		s.Length = line.Length()
	}
}
