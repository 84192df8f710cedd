package flat

import (
	"fmt"
	"math"
	"slices"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat/loft"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/flat/survey"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// A Curve is the line along which a curved structure, a skin or a chine, meets the
// web. The edge that follows it is plain; a flange on a curve is made over a form
// block. The structure is taken to stand square to the web: where it leans by a,
// add the sheet's thickness times tan a to the clearance.
type Curve struct {
	// Points measured on the structure, from one end to the other, none more than
	// 25 mm off the plane of the web; at least three. A lofted line is given by its
	// offsets at close stations.
	Points []r3.Vec
	// Within is how far any point may be off, mm: of all lines that stay within it
	// the fairest is taken. 0 holds the line on the points.
	Within float64
}

// Limits of a measured line: so many points are a scan, to be cut and faired first;
// a point so far off the web was measured on another part of the structure.
const (
	mostCurvePoints = 1000
	mostOffWeb      = 25.0 // mm
)

// lineTolerance is how far the arcs of an edge may lie from the measured line, mm:
// less than half of what a cutter holds.
const lineTolerance = 0.02

// runOut is how far a line is carried straight on past its ends, as a batten runs
// out, over its span: to reach the face next to it.
const runOut = 0.1

func (c *Curve) validate(f *faults, web func(r3.Vec) float64) {
	f.length("within", c.Within, 0, 100, "must be 0 mm (through the points) to 100 mm")
	if n := len(c.Points); !(3 <= n && n <= mostCurvePoints) {
		f.add("points", fmt.Sprint(n), fmt.Sprintf("must be 3 to %d points along the line", mostCurvePoints))
	}
	for i, p := range c.Points {
		if d := web(p); !(math.Abs(d) <= mostOffWeb) {
			f.add(indexed("points", i), mm(d)+" off the web", "must lie within 25 mm of the web's plane: measure the line where the web meets it")
		}
	}
}

func (face Face) validateCurve(f *faults, web func(r3.Vec) float64) {
	at := f.in("", "curve")
	face.Curve.validate(at, web)
	if face.Plane != (survey.Plane{}) || face.Readings != nil || face.Measured != nil {
		f.add("plane", "", "a curved face has no plane: leave it out")
	}
	if face.Flange != nil {
		f.add("flange", "", "an edge that follows a curve is plain: a flange on a curve is made over a form block")
	}
}

func (w axes) plan(p r3.Vec) r2.Vec {
	d := r3.Sub(p, w.o)
	return r2.Vec{X: r3.Dot(d, w.x), Y: r3.Dot(d, w.y)}
}

// chord is the straight line from the first point of a curve to the last, which
// stands for it until it is known which way the faces run.
func (w axes) chord(c *Curve) moldLine {
	a, b := w.plan(c.Points[0]), w.plan(c.Points[len(c.Points)-1])
	d := r2.Unit(r2.Sub(b, a))
	n := r2.Vec{X: d.Y, Y: -d.X}
	return moldLine{n, r2.Dot(n, a), 90 * measure.Degree}
}

// fair lays the fair line of a curve, as arcs in the plane of the web from its first
// point to its last, and tells how far the farthest point lies from it.
func (w axes) fair(c *Curve) (path outline.Path, worst float64, err error) {
	first, last := w.plan(c.Points[0]), w.plan(c.Points[len(c.Points)-1])
	along := r2.Unit(r2.Sub(last, first))
	readings := make([]loft.Reading, len(c.Points))
	for i, p := range c.Points {
		d := r2.Sub(w.plan(p), first)
		readings[i] = loft.Reading{Station: r2.Dot(d, along), Offset: r2.Cross(along, d), Within: c.Within}
	}
	line, err := loft.Fair(readings, loft.FairOptions{})
	if err != nil {
		return path, 0, err
	}
	for _, r := range line.Residuals {
		worst = max(worst, math.Abs(r))
	}
	if path, err = line.Arcs(lineTolerance / 2); err != nil {
		return path, 0, err
	}
	turn := measure.Angle(math.Atan2(along.Y, along.X))
	return path.Transform(outline.Rotate(r2.Vec{}, turn).Then(outline.Translate(first))), worst, nil
}

// seatCurve is the line that the edge from a toward b follows: the fair line moved
// into the web by the clearance, run out straight at either end.
func (w axes) seatCurve(face Face, a, b r2.Vec) (outline.Path, bend.Step, error) {
	path, worst, err := w.fair(face.Curve)
	step := bend.Step{
		Quantity: fmt.Sprintf("farthest measured point of face %q from its fair line", face.Name), Symbol: "e",
		Formula: "reading less fair line", Value: worst, Unit: bend.Length,
		Source: material.Source{Document: "the fairest line within the readings' tolerance", Provenance: material.Derived},
	}
	if err != nil {
		return path, step, err
	}
	ends := path.Vertices
	if r2.Dot(r2.Sub(ends[len(ends)-1].P, ends[0].P), r2.Sub(b, a)) < 0 {
		path = path.Reverse()
	}
	if face.Clearance > 0 {
		moved, err := path.Parallel(-face.Clearance, outline.OffsetOptions{})
		if err != nil {
			return path, step, err
		}
		if len(moved) != 1 || moved[0].Closed {
			return path, step, fmt.Errorf("turns too tightly for the clearance of %s", mm(face.Clearance))
		}
		path = moved[0]
	}
	return runOn(path), step, nil
}

// runOn carries a path straight on past both its ends.
func runOn(path outline.Path) outline.Path {
	n := path.NumSegments()
	head, tail := path.Segment(0), path.Segment(n-1)
	reach := runOut * r2.Norm(r2.Sub(tail.B, head.A))
	v := make([]outline.Vertex, 0, n+3)
	v = append(v, outline.Vertex{P: r2.Sub(head.A, r2.Scale(reach, head.Tangent(0)))})
	v = append(v, path.Vertices...)
	v[len(v)-1].Bulge = 0
	return outline.Path{Vertices: append(v, outline.Vertex{P: r2.Add(tail.B, r2.Scale(reach, tail.Tangent(1)))})}
}

// crossing is where two paths cross, nearest to a point, and how far along each.
func crossing(p, q outline.Path, near r2.Vec) (at r2.Vec, alongP, alongQ float64, ok bool) {
	best := math.Inf(1)
	startP := 0.0
	for _, s := range p.Segments() {
		startQ := 0.0
		for _, o := range q.Segments() {
			for _, m := range s.Meet(o, coincident) {
				if d := r2.Norm(r2.Sub(m.P, near)); d < best {
					best, at, ok = d, m.P, true
					alongP, alongQ = startP+m.T*s.Length(), startQ+m.U*o.Length()
				}
			}
			startQ += o.Length()
		}
		startP += s.Length()
	}
	return at, alongP, alongQ, ok
}

// follow puts the measured lines in the place of the chords that stood for them:
// it moves the corners to where the lines meet what is next to them, and returns
// the line of each curved face from corner to corner.
func (w axes) follow(site *Site, faces []Face, corners []r2.Vec, number func(int) int) ([]outline.Path, error) {
	n := len(faces)
	lines := make([]outline.Path, n)
	for i, face := range faces {
		a, b := corners[i], corners[(i+1)%n]
		if face.Curve == nil {
			reach := r2.Sub(b, a)
			lines[i] = outline.Polyline(r2.Sub(a, reach), r2.Add(b, reach))
			continue
		}
		var step bend.Step
		var err error
		if lines[i], step, err = w.seatCurve(face, a, b); err != nil {
			return nil, fmt.Errorf("face %d: %w", number(i), err)
		}
		site.Working = append(site.Working, step)
	}
	from, to := make([]float64, n), make([]float64, n)
	near := slices.Clone(corners)
	for i := range faces {
		h := (i + n - 1) % n
		if faces[h].Curve == nil && faces[i].Curve == nil {
			continue
		}
		at, end, start, ok := crossing(lines[h], lines[i], near[i])
		if !ok {
			return nil, fmt.Errorf("faces %d and %d do not meet, the measured line carried straight on by a tenth of its span: measure on past the corner", number(h), number(i))
		}
		corners[i], to[h], from[i] = at, end, start
	}
	for i, face := range faces {
		if face.Curve == nil {
			continue
		}
		if !(to[i]-from[i] > coincident) {
			return nil, fmt.Errorf("the faces next to it leave nothing of face %d", number(i))
		}
		path, err := lines[i].Trim(from[i], to[i])
		if err != nil {
			return nil, err
		}
		// A bend beside the line runs out through its first arc: no crumbs there.
		if path, err = path.Simplify(lineTolerance / 2); err != nil {
			return nil, err
		}
		lines[i] = path
	}
	return lines, nil
}
