package rivet

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"gonum.org/v1/gonum/spatial/r2"
)

// FlangeLine is the straight line a row of rivets stands on along a flange of a
// developed part, in the flange's own coordinates: x along the edge, y outward from
// the mold line. fromMold is its distance from the mold line, mm; zero takes the
// middle of the flat between tangent line and free edge, also where it tapers. The
// line ends where its points are clear (mm) of the flange's ends, which may lean:
// usually at the rivet's edge distance. Rows are laid along it with End zero.
//
// It returns an *[Error] for a panel that is no flange, for one that leaves no room, and
// for a bevel that changes along the edge, whose tangent line is curved.
func FlangeLine(b flat.Blank, panel int, fromMold, clear float64) (outline.Path, error) {
	var f faults
	f.length("row from mold line", fromMold, 0, longest, "must be 0, for the middle of the flat, or above")
	f.length("clearance of flange ends", clear, 0, 1e4, "must be 0 to 10 m")
	s := f.strip(b, panel)
	if len(f) > 0 {
		return outline.Path{}, f.err()
	}
	return s.row(fromMold, clear, 0)
}

// A flangeStrip is a flange in its own coordinates, to lay rows along.
type flangeStrip struct {
	name    string
	corners []r2.Vec // counter-clockwise
	lo, hi  float64  // first and last station
	line    flat.BendLine
}

// strip is a panel that rows can be laid along by rule.
func (f *faults) strip(b flat.Blank, panel int) flangeStrip {
	if !(0 <= panel && panel < len(b.Panels)) || b.Panels[panel].Bend < 0 {
		f.add("panel", strconv.Itoa(panel), "is no flange of the blank")
		return flangeStrip{}
	}
	p, line := b.Panels[panel], b.Bends[b.Panels[panel].Bend]
	s := flangeStrip{fmt.Sprintf("flange %q", p.Name), make([]r2.Vec, len(p.Outline)), math.Inf(1), math.Inf(-1), line}
	if line.EndBend.Angle != line.Bend.Angle {
		f.add(s.name, "", "its bevel changes along the edge: give the row as a line of its own")
	}
	for i, q := range p.Outline {
		d := r2.Sub(q, p.Origin)
		s.corners[i] = r2.Vec{X: r2.Dot(d, p.Along), Y: r2.Dot(d, p.Out)}
		s.lo, s.hi = math.Min(s.lo, s.corners[i].X), math.Max(s.hi, s.corners[i].X)
	}
	if handed(p) < 0 {
		slices.Reverse(s.corners) // counter-clockwise in the flange's own axes
	}
	return s
}

// row is the line of the first of several rows, each a distance outward from the one
// before: parallel, and as long as leaves every one of them clear of the flange's ends. With
// fromMold zero they lie about the middle of the flat.
func (s flangeStrip) row(fromMold, clear float64, apart ...float64) (outline.Path, error) {
	a, c := r2.Vec{X: s.lo, Y: fromMold}, r2.Vec{X: s.hi, Y: fromMold}
	if fromMold == 0 {
		a.Y, c.Y = middleOf(s.corners, s.lo, s.line), middleOf(s.corners, s.hi, s.line)
	}
	dir := r2.Sub(c, a)
	out := r2.Unit(r2.Vec{X: -dir.Y, Y: dir.X})
	if fromMold == 0 {
		back := r2.Scale(-apart[len(apart)-1]/2, out)
		a, c = r2.Add(a, back), r2.Add(c, back)
	}
	from, to := 0.0, 1.0
	for _, d := range apart {
		start, end := within(s.corners, r2.Add(a, r2.Scale(d, out)), r2.Add(c, r2.Scale(d, out)), clear)
		from, to = math.Max(from, start), math.Min(to, end)
	}
	if !((to-from)*r2.Norm(dir) > coincident) {
		rule := "leaves no room for a row clear of its ends by " + mm(clear)
		if fromMold > 0 {
			rule = "leaves no room for a row " + mm(fromMold) + " from its mold line and clear of its ends by " + mm(clear)
		}
		return outline.Path{}, &Error{Field: s.name, Rule: rule}
	}
	return outline.Polyline(r2.Add(a, r2.Scale(from, dir)), r2.Add(a, r2.Scale(to, dir))), nil
}

// middleOf is half way between the tangent line and the free edge at a station. The
// free edge is straight, given by its heights at the ends of the web's edge.
func middleOf(corners []r2.Vec, x float64, line flat.BendLine) float64 {
	// The free edge is the side farthest out.
	best, y := -1, math.Inf(-1)
	for i, p := range corners {
		q := corners[(i+1)%len(corners)]
		if m := (p.Y + q.Y) / 2; m > y && math.Abs(q.X-p.X) > coincident {
			best, y = i, m
		}
	}
	if best < 0 {
		return line.Setback
	}
	p, q := corners[best], corners[(best+1)%len(corners)]
	return (line.Setback + p.Y + (q.Y-p.Y)*(x-p.X)/(q.X-p.X)) / 2
}

// within is the part of the line from a to c, as fractions, that lies in a polygon and
// clear of the sides it crosses. Of a bay in it, as a lip on a part of the flange leaves, only
// sides that the line runs into bound it.
func within(corners []r2.Vec, a, c r2.Vec, clear float64) (from, to float64) {
	from, to = 0, 1
	dir := r2.Sub(c, a)
	for i, p := range corners {
		side := r2.Sub(corners[(i+1)%len(corners)], p)
		long := r2.Norm(side)
		if long < coincident {
			continue
		}
		// Depth inside this side, counter-clockwise: positive to its left.
		depth := func(q r2.Vec) float64 { return r2.Cross(side, r2.Sub(q, p)) / long }
		slope := r2.Cross(side, dir) / long
		if hollow(corners, i) && !crosses(p, corners[(i+1)%len(corners)], a, dir) {
			continue
		}
		keep := clear
		// The tangent line and the free edge run beside the row and do not end it.
		if math.Abs(slope) < 0.2*r2.Norm(dir) {
			keep = 0
		}
		switch at := (keep - depth(a)) / slope; {
		case math.Abs(slope) < 1e-12*r2.Norm(dir):
			if depth(a) < 0 {
				return 0, 0
			}
		case slope > 0:
			from = math.Max(from, at)
		default:
			to = math.Min(to, at)
		}
	}
	return from, to
}

// hollow reports whether one of the corners of side i turns out of the polygon.
func hollow(corners []r2.Vec, i int) bool {
	n := len(corners)
	turns := func(i int) float64 {
		p := corners[i%n]
		return r2.Cross(r2.Sub(p, corners[(i+n-1)%n]), r2.Sub(corners[(i+1)%n], p))
	}
	return turns(i) < -coincident || turns(i+1) < -coincident
}

// crosses reports whether the side from p to q reaches over the line through a.
func crosses(p, q, a, dir r2.Vec) bool {
	return (r2.Cross(dir, r2.Sub(p, a)) > 0) != (r2.Cross(dir, r2.Sub(q, a)) > 0)
}

// Holes are the rivets as holes of a panel, in the coordinates the rows were laid in, of
// the given diameter, mm: under the rivet's they are pilots, to be opened when the parts
// are together, from the rivet's on they are holes of their finished size. Zero takes the
// rivet's own pilot. Put them in the part's features and develop it again.
func (l Layout) Holes(name string, diameter float64) []flat.Hole {
	if diameter == 0 {
		diameter = l.Rivet.Pilot()
	}
	purpose := flat.RivetPilot
	if diameter >= l.Rivet.Diameter {
		purpose = flat.Opening
	}
	holes := make([]flat.Hole, 0, l.Count())
	for _, row := range l.Rows {
		for _, h := range row.Holes {
			holes = append(holes, flat.Hole{Name: fmt.Sprintf("%s %d", name, len(holes)+1), At: h.At, Diameter: diameter, Purpose: purpose})
		}
	}
	return holes
}

// Marks are the rivets as crosses on a blank, arms of the given length, mm: for rows
// that are drilled when the part is in place and not before. Append them to the
// blank's marks.
//
// Errors, each an [*Error]: an arm that is not 0.1 to 100 mm, and a panel that the blank has not.
func (l Layout) Marks(b flat.Blank, panel int, arm float64) ([]flat.Mark, error) {
	var f faults
	f.length("arm of a cross", arm, 0.1, 100, "must be 0.1 to 100 mm")
	if !(0 <= panel && panel < len(b.Panels)) {
		f.add("panel", strconv.Itoa(panel), "is none of the blank")
	}
	if len(f) > 0 {
		return nil, f.err()
	}
	p := b.Panels[panel]
	var marks []flat.Mark
	for _, row := range l.Rows {
		for i, h := range row.Holes {
			text := fmt.Sprintf("%s rivet %d", row.Name, i+1)
			for _, v := range []r2.Vec{{X: arm}, {Y: arm}} {
				marks = append(marks, flat.Mark{Text: text, Line: outline.Polyline(p.At(r2.Sub(h.At, v)), p.At(r2.Add(h.At, v)))})
			}
		}
	}
	return marks, nil
}

// OnBlank is the layout of a panel where it lands on the blank, for a check of it
// against the blank's edge. A row's line goes with it.
func (l Layout) OnBlank(p flat.Panel) Layout {
	out := Layout{Rivet: l.Rivet, Findings: append([]flat.Finding(nil), l.Findings...)}
	for _, row := range l.Rows {
		moved := Row{Name: row.Name, Line: outline.Path{Closed: row.Line.Closed}}
		for _, v := range row.Line.Vertices {
			moved.Line.Vertices = append(moved.Line.Vertices, outline.Vertex{P: p.At(v.P), Bulge: v.Bulge * handed(p)})
		}
		for _, h := range row.Holes {
			h.At = p.At(h.At)
			moved.Holes = append(moved.Holes, h)
		}
		out.Rows = append(out.Rows, moved)
	}
	for i := range out.Findings {
		out.Findings[i].At = p.At(out.Findings[i].At)
	}
	return out
}

// handed is -1 when a panel's own axes are mirrored on the blank: a flange lies to the
// right of its edge, so that x along it and y outward turn clockwise.
func handed(p flat.Panel) float64 {
	if r2.Cross(p.Along, p.Out) < 0 {
		return -1
	}
	return 1
}
