package flat

import (
	"errors"
	"fmt"
	"math"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/flat/survey"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Surroundings are what a part must fit between, measured on the aircraft in any
// one set of axes, mm.
type Surroundings struct {
	// Web is the plane that one face of the web lies in.
	Web survey.Plane
	// WebFace says which face of the web lies in that plane.
	WebFace WebFace
	// MarkingSide is any point well off the web on the side that the marking face
	// looks to.
	MarkingSide r3.Vec
	// Faces are what stands round the web, in order, either way round.
	Faces []Face
	// WebReadings are the three points that Web was laid through, or WebMeasured
	// what it was laid by instead, as by more than three points. ReadingError is how far any reading of a length or
	// a point may be off, mm, and AngleError any of an angle: see [Doubts]. All may be
	// left out.
	WebReadings  []r3.Vec
	WebMeasured  Measurement
	ReadingError float64
	AngleError   measure.Angle
}

// A Measurement is what a worker read off to lay a plane: a [survey.Touched] of more than
// three points, a [survey.Leaning], [survey.TwoHeights] or [survey.Levelled].
type Measurement interface {
	// Plane lays the plane.
	Plane() (survey.Plane, error)
	// Misread lays it anew for each reading in turn wrong by its error.
	Misread(survey.ReadingErrors) ([]survey.Misreading, error)
}

// WebFace names a face of the web.
type WebFace uint8

const (
	MarkingFace WebFace = iota // the face that is drawn on
	FarFace                    // the other
)

// A Face is one thing the part touches or stays clear of.
type Face struct {
	Name string
	// Plane is the surface of the structure. Which way its normal points does not
	// matter.
	Plane survey.Plane
	// Clearance is kept between the structure and the part: a shim, paint,
	// sealant; mm.
	Clearance float64
	// Flange lies against the face; its angle is worked out and must be left zero.
	// Nil leaves a plain edge there, clear of the face at both faces of the web.
	Flange *Flange
	// Corner says how the corner with the face before it in the list is cut; with the last
	// for the first.
	Corner Corner
	// Readings are the three points that Plane was laid through, or Measured what it
	// was laid by instead, as by more than three points; may be left out.
	Readings []r3.Vec
	Measured Measurement
	// Curve is what a curved structure was measured by; Plane and Flange are then
	// left out. Nil where the structure is flat.
	Curve *Curve
}

// A Site is where a part belongs: its surroundings, and its own axes among them. A
// point (x, y) of the web, z off its marking face, lies at O + x·X + y·Y + z·Z.
type Site struct {
	Surroundings Surroundings
	O, X, Y, Z   r3.Vec
	// Seats[i] is the plane that the outside face of the flange on web edge i, or
	// the nearest of its plain edge, comes to: the structure less the clearance, its
	// normal outward. Zero where the edge follows a [Curve].
	Seats []survey.Plane
	// FaceOf[i] is the index, in the surroundings, of the face that edge i comes to.
	// A curved face takes several edges, one to an arc.
	FaceOf  []int
	Working []bend.Step // how far readings lie off the planes laid through them, and the bend angles from the planes
}

// Point places a point of the web among the surroundings.
func (s Site) Point(p r3.Vec) r3.Vec {
	return r3.Add(s.O, r3.Add(r3.Scale(p.X, s.X), r3.Add(r3.Scale(p.Y, s.Y), r3.Scale(p.Z, s.Z))))
}

// leastLean is the least angle at which a face may stand to the web, so that where
// they meet is settled by the measurements.
const leastLean = 5 * measure.Degree

// Between works out the part that fits between its surroundings: the mold lines
// where each face, less its clearance, meets the web, and the bend angle each
// flange needs to lie flat against its face. p gives name, sheet, rule, radius and
// relief; its web is filled in, features kept, and [Part.Site] set. The web's own
// axes start at the first mold-line corner of the first face, x along that face's
// mold line. Every fault is an [*Error], joined.
func Between(p Part, around Surroundings) (Part, error) {
	var all []error
	f := (&faults{all: &all, index: -1}).in("surroundings", "surroundings")
	around.validate(f, p.Sheet.Thickness)
	if len(all) > 0 {
		return Part{}, errors.Join(all...)
	}
	w := webAxes(p, around)
	lines := make([]moldLine, len(around.Faces))
	for i, face := range around.Faces {
		if face.Curve != nil {
			lines[i] = w.chord(face.Curve)
			continue
		}
		lines[i] = w.meet(face.Plane, 0)
		if lean := lines[i].lean; !(lean >= leastLean) {
			f.nth("face", face.Name, "faces", i).add("plane", lean.String(), "lies within 5° of the plane of the web and does not bound it")
		}
	}
	if len(all) > 0 {
		return Part{}, errors.Join(all...)
	}
	faces := append([]Face(nil), around.Faces...)
	of := make([]int, len(faces))
	for i := range of {
		of[i] = i
	}
	number := func(i int) int { return of[i] + 1 }
	// The first round, with no clearance, tells which side of each face the web is on.
	corners, err := w.corners(lines, number)
	if err != nil {
		f.add("faces", "", err.Error())
		return Part{}, errors.Join(all...)
	}
	if outline.Polygon(corners...).Area() < 0 {
		// Listed clockwise as seen from the marking face: walk them the other way,
		// still from the first.
		for i, j := 1, len(faces)-1; i < j; i, j = i+1, j-1 {
			faces[i], faces[j] = faces[j], faces[i]
			of[i], of[j] = of[j], of[i]
			lines[i], lines[j] = lines[j], lines[i]
		}
		corners, _ = w.corners(lines, number)
	}
	site := Site{Surroundings: around}
	seats := make([]survey.Plane, len(faces))
	for i := range faces {
		if faces[i].Curve != nil {
			continue // its chord stands for it
		}
		seat := w.outward(faces[i].Plane, corners[i], corners[(i+1)%len(corners)]).Offset(-faces[i].Clearance)
		seats[i] = seat
		lines[i] = w.seatLine(seat, faces[i].Flange)
	}
	seated, err := w.corners(lines, number)
	if err == nil {
		err = sameWay(corners, seated, number)
	}
	site.Working = planeSteps(around)
	var curves []outline.Path
	if err == nil {
		curves, err = w.follow(&site, faces, seated, number)
	}
	if err != nil {
		f.add("faces", "", err.Error())
		return Part{}, errors.Join(all...)
	}
	p.Web.Edges = w.edges(&site, faces, seated, fitted{of, seats, curves})
	p.Site = &site
	return p, nil
}

func (s Surroundings) validate(f *faults, thickness float64) {
	plane := func(at *faults, p survey.Plane, by Measurement) {
		if err := p.Validate(); err != nil {
			at.add("plane", "", err.Error())
			return
		}
		if by == nil {
			return
		}
		if laid, err := by.Plane(); err != nil {
			at.add("measured", "", err.Error())
		} else if laid != p {
			at.add("measured", "", "does not lay the plane given: set the plane to what its Plane returns")
		}
	}
	plane(f.in("web", "web"), s.Web, s.WebMeasured)
	const far = 1e6
	for _, x := range []float64{s.MarkingSide.X, s.MarkingSide.Y, s.MarkingSide.Z} {
		if !(math.Abs(x) <= far) {
			f.add("marking_side", mm(x), "must be within a kilometre")
		}
	}
	if d := math.Abs(s.Web.Distance(s.MarkingSide)); !(d > 1) {
		f.add("marking_side", mm(d)+" off the web", "must lie more than 1 mm off the web, on the side the marking face looks to")
	}
	if s.WebFace > FarFace {
		f.add("web_face", fmt.Sprint(s.WebFace), "must be the marking face or the far face")
	}
	if !(LeastThickness <= thickness && thickness <= MostThickness) {
		f.in("sheet", "sheet").add("thickness", mm(thickness), thicknessRule(thickness))
	}
	if len(s.Faces) < 3 {
		f.add("faces", fmt.Sprint(len(s.Faces)), "at least 3 faces bound a web")
	}
	for i, face := range s.Faces {
		at := f.nth("face", face.Name, "faces", i)
		if face.Curve == nil {
			plane(at, face.Plane, face.Measured)
		} else {
			face.validateCurve(at, s.Web.Distance)
		}
		at.length("clearance", face.Clearance, 0, 100, "must be 0 mm to 100 mm")
		face.Corner.measures(at.in("corner", "corner"))
		if g := face.Flange; g != nil && (g.Angle != 0 || g.AngleEnd != 0) {
			at.in("", "flange").add("angle", g.Angle.String(), "is worked out from the planes: leave it out")
		}
	}
}

// axes are the plane of the web while the part is fitted; z is 0 on the marking
// face.
type axes struct {
	o, x, y, z r3.Vec
	thickness  float64
}

func webAxes(p Part, s Surroundings) axes {
	plane := s.Web.Facing(s.MarkingSide)
	if s.WebFace == FarFace {
		plane = plane.Offset(p.Sheet.Thickness)
	}
	// Any x within the plane will do until the mold lines are known.
	along := r3.Vec{X: 1}
	if math.Abs(plane.Normal.X) > 0.7 {
		along = r3.Vec{Y: 1}
	}
	y := r3.Unit(r3.Cross(plane.Normal, along))
	return axes{plane.Point, r3.Cross(y, plane.Normal), y, plane.Normal, p.Sheet.Thickness}
}

// A moldLine is where a plane cuts a face of the web: the plan points p with
// normal·p = reach.
type moldLine struct {
	normal r2.Vec // unit
	reach  float64
	lean   measure.Angle // between the plane and the web
}

// meet cuts a plane with the web at height z off the marking face.
func (w axes) meet(p survey.Plane, z float64) moldLine {
	n := r2.Vec{X: r3.Dot(p.Normal, w.x), Y: r3.Dot(p.Normal, w.y)}
	size := r2.Norm(n)
	// In web axes the plane is n·p + nz·z = d.
	d := r3.Dot(p.Normal, r3.Sub(p.Point, w.o)) - r3.Dot(p.Normal, w.z)*z
	return moldLine{r2.Scale(1/size, n), d / size, measure.Angle(math.Asin(min(1, size)))}
}

// seatLine is the mold line of a flange on its seat: on the far face of the web
// for a flange turned up, on the marking face for one turned down. A plain edge
// stays clear of the seat at both faces.
func (w axes) seatLine(seat survey.Plane, g *Flange) moldLine {
	near, far := w.meet(seat, 0), w.meet(seat, -w.thickness)
	switch {
	case g == nil && far.reach < near.reach, g != nil && g.Turn == Up:
		return far
	}
	return near
}

// corners are where each mold line meets the one before it. number is that of a
// face in the list.
func (w axes) corners(lines []moldLine, number func(int) int) ([]r2.Vec, error) {
	points := make([]r2.Vec, len(lines))
	for i, b := range lines {
		h := (i + len(lines) - 1) % len(lines)
		a := lines[h]
		cross := r2.Cross(a.normal, b.normal)
		if !(math.Abs(cross) > math.Sin(float64(leastLean))) {
			return nil, fmt.Errorf("faces %d and %d run within 5° of each other: neighbours in the list must meet at a corner of the web", number(h), number(i))
		}
		points[i] = r2.Scale(1/cross, r2.Vec{
			X: a.reach*b.normal.Y - b.reach*a.normal.Y,
			Y: b.reach*a.normal.X - a.reach*b.normal.X,
		})
	}
	if err := outline.Polygon(points...).Validate(); err != nil {
		return nil, fmt.Errorf("the faces, in the order listed, do not bound a simple web: %w", err)
	}
	return points, nil
}

// outward turns a plane's normal away from the web that lies left of a-b.
func (w axes) outward(p survey.Plane, a, b r2.Vec) survey.Plane {
	d := r2.Sub(b, a)
	if out := (r2.Vec{X: d.Y, Y: -d.X}); r2.Dot(out, w.meet(p, 0).normal) < 0 {
		return p.Flip()
	}
	return p
}

// sameWay reports an edge that clearances have turned inside out.
func sameWay(before, after []r2.Vec, number func(int) int) error {
	n := len(before)
	for i := range before {
		a, b := r2.Sub(before[(i+1)%n], before[i]), r2.Sub(after[(i+1)%n], after[i])
		if !(r2.Dot(a, b) > 0) {
			return fmt.Errorf("the clearances leave nothing of the edge at face %d", number(i))
		}
	}
	return nil
}

// A fitted web is what was found of each face: its place among the surroundings, its
// seat, and the line it follows where it is curved.
type fitted struct {
	of     []int
	seats  []survey.Plane
	curves []outline.Path
}

// edges writes the web in its own axes, from the first corner along the first
// mold line, and fills in the site.
func (w axes) edges(site *Site, faces []Face, corners []r2.Vec, by fitted) []Edge {
	ex := r2.Unit(r2.Sub(corners[1], corners[0]))
	ey := r2.Vec{X: -ex.Y, Y: ex.X}
	space := func(v r2.Vec) r3.Vec { return r3.Add(r3.Scale(v.X, w.x), r3.Scale(v.Y, w.y)) }
	site.O, site.X, site.Y, site.Z = r3.Add(w.o, space(corners[0])), space(ex), space(ey), w.z
	edges := make([]Edge, 0, len(corners))
	add := func(i int, name string, from r2.Vec, bulge float64) *Edge {
		d := r2.Sub(from, corners[0])
		edges = append(edges, Edge{Name: name, Start: r2.Vec{X: r2.Dot(d, ex), Y: r2.Dot(d, ey)}, Bulge: bulge})
		site.Seats = append(site.Seats, by.seats[i])
		site.FaceOf = append(site.FaceOf, by.of[i])
		return &edges[len(edges)-1]
	}
	for i, face := range faces {
		if face.Curve != nil {
			first := len(edges)
			for k, s := range by.curves[i].Segments() {
				name := face.Name
				if k > 0 && name != "" {
					name = fmt.Sprintf("%s, arc %d", name, k+1)
				}
				add(i, name, s.A, s.Bulge)
			}
			edges[first].Corner = cornerBefore(site.Surroundings.Faces, by.of, i)
			continue
		}
		edge := add(i, face.Name, corners[i], 0)
		edge.Corner = cornerBefore(site.Surroundings.Faces, by.of, i)
		if face.Flange == nil {
			continue
		}
		g := *face.Flange
		if g.Name == "" {
			g.Name = face.Name
		}
		step := bendAngle(g, by.seats[i].Normal, w.z)
		g.Angle = measure.Angle(step.Value)
		site.Working = append(site.Working, step)
		edge.Flanges = []Flange{g}
	}
	return edges
}

// cornerBefore is how the corner at which edge i of the walk starts is cut. Where the faces are
// listed the other way round, the face that comes before it there comes after it in the list.
func cornerBefore(faces []Face, of []int, i int) Corner {
	n := len(of)
	here, before := of[i], of[(i+n-1)%n]
	if (before+1)%n == here {
		return faces[here].Corner
	}
	return faces[before].Corner
}

// bendAngle is the angle that lays a flange's outside face against its seat. The
// seat's normal n points outward, the web's m off its marking face, both in the
// axes of the survey: square to the web gives 90°, leaning the way the flange
// turns, a closed bend.
func bendAngle(g Flange, n, m r3.Vec) bend.Step {
	cos, formula := -r3.Dot(n, m), "acos(-(nx·mx + ny·my + nz·mz))"
	if g.Turn == Down {
		cos, formula = -cos, "acos(nx·mx + ny·my + nz·mz)"
	}
	return bend.Step{
		Quantity: fmt.Sprintf("bend angle of flange %q, its face's normal n outward, the marking face's m", g.Name),
		Symbol:   "A", Formula: formula,
		Inputs: []bend.Input{
			{Symbol: "nx", Value: n.X}, {Symbol: "mx", Value: m.X},
			{Symbol: "ny", Value: n.Y}, {Symbol: "my", Value: m.Y},
			{Symbol: "nz", Value: n.Z}, {Symbol: "mz", Value: m.Z},
		},
		Value: math.Acos(max(-1, min(1, cos))), Unit: bend.Degrees,
		Source: material.Source{Document: "angle between two planes", Provenance: material.Derived},
	}
}
