package flat

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/flat/survey"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// A Doubt is what one reading of the survey, wrong by the stated error, does to
// the part.
type Doubt struct {
	Reading string        // `frame 407, point 2`
	Shift   float64       // largest move of a mold-line corner of the web, mm
	Turn    measure.Angle // largest change of a bend angle
}

// Doubts tells how much the fit moves for the error of the readings behind each
// plane (readings and measurements of [Face] and [Surroundings], and how far off
// they may be there), the worst first: re-measure that one first. Ties of the
// corner's move go by the turn of the bend. A plane of which neither is known is
// taken as exact. total is all of them together, each by its own error
// independent of the others (root of the sum of squares). Errors are those of
// [Between]; a reading error below 0, or both at 0, is one.
func Doubts(p Part, around Surroundings) (list []Doubt, total Doubt, err error) {
	if err := around.validErrors(); err != nil {
		return nil, Doubt{}, err
	}
	right, err := Between(p, around)
	if err != nil {
		return nil, Doubt{}, err
	}
	n := len(around.Faces)
	shifts, turns := make([]float64, n), make([]float64, n) // sums of squares
	for face := -1; face < len(around.Faces); face++ {
		name := "web"
		if face >= 0 {
			name = quoted("face", around.Faces[face].Name, face)
		}
		wrongs, err := around.misread(face)
		if err != nil {
			return nil, Doubt{}, &Error{Place: name, Path: pathOfFace(face), Rule: "cannot be laid with its readings off by their error: " + err.Error()}
		}
		for _, w := range wrongs {
			wrong, err := Between(p, w.around)
			if err != nil {
				return nil, Doubt{}, err
			}
			d := Doubt{Reading: name + ", " + w.reading}
			for i := range around.Faces {
				shift, turn := moved(right, wrong, i)
				d.Shift, d.Turn = max(d.Shift, shift), max(d.Turn, turn)
				shifts[i] += shift * shift
				turns[i] += float64(turn * turn)
			}
			list = append(list, d)
		}
	}
	slices.SortStableFunc(list, func(a, b Doubt) int {
		if math.Abs(a.Shift-b.Shift) > 1e-9 {
			return cmp.Compare(b.Shift, a.Shift)
		}
		return cmp.Compare(b.Turn, a.Turn)
	})
	total = Doubt{Reading: "all readings"}
	for i := range shifts {
		total.Shift = max(total.Shift, math.Sqrt(shifts[i]))
		total.Turn = max(total.Turn, measure.Angle(math.Sqrt(turns[i])))
	}
	return list, total, nil
}

// mostAngleError is the worst protractor or level of a shop.
const mostAngleError = 10 * measure.Degree

func (s Surroundings) validErrors() error {
	var all []error
	f := (&faults{all: &all, index: -1}).in("surroundings", "surroundings")
	f.length("reading_error", s.ReadingError, 0, 100, "must be 0 mm (exact) to 100 mm")
	f.angle("angle_error", s.AngleError, 0, mostAngleError, "must be 0° (exact) to 10°")
	if s.ReadingError == 0 && s.AngleError == 0 {
		f.add("reading_error", mm(0), "must be above 0 mm, or the angle error above 0°, to tell what either does")
	}
	return errors.Join(all...)
}

// A mistake is the surroundings with one reading wrong.
type mistake struct {
	reading string
	around  Surroundings
}

// misread gives the surroundings anew for each reading of one face wrong by its
// error; face -1 is the web.
func (s Surroundings) misread(face int) (list []mistake, err error) {
	plane, readings, by := s.Web, s.WebReadings, s.WebMeasured
	if face >= 0 {
		f := s.Faces[face]
		if f.Curve != nil {
			return s.misreadCurve(face), nil
		}
		plane, readings, by = f.Plane, f.Readings, f.Measured
	}
	var wrongs []survey.Misreading
	switch {
	case by != nil:
		wrongs, err = by.Misread(survey.ReadingErrors{Length: s.ReadingError, Angle: s.AngleError})
	case len(readings) == 3 && s.ReadingError > 0:
		wrongs, err = misreadPoints(plane, readings, s.ReadingError)
	}
	for _, w := range wrongs {
		list = append(list, mistake{w.Reading, s.with(face, w.Plane)})
	}
	return list, err
}

func pathOfFace(face int) string {
	if face < 0 {
		return "surroundings.web"
	}
	return "surroundings." + indexed("faces", face)
}

// misreadPoints lays a plane through three points anew for each of them off it.
func misreadPoints(plane survey.Plane, readings []r3.Vec, by float64) (list []survey.Misreading, err error) {
	for k := range readings {
		wrong := slices.Clone(readings)
		wrong[k] = r3.Add(wrong[k], r3.Scale(by, plane.Normal))
		p, err := survey.ThreePoints(wrong[0], wrong[1], wrong[2])
		if err != nil {
			return nil, err
		}
		list = append(list, survey.Misreading{Reading: fmt.Sprintf("point %d", k+1), Plane: p})
	}
	return list, nil
}

// misreadCurve moves each point of a measured line square to its chord, in the plane
// of the web.
func (s Surroundings) misreadCurve(face int) (list []mistake) {
	if s.ReadingError == 0 {
		return nil
	}
	points := s.Faces[face].Curve.Points
	square := r3.Unit(r3.Cross(s.Web.Normal, r3.Sub(points[len(points)-1], points[0])))
	for k := range points {
		wrong := *s.Faces[face].Curve
		wrong.Points = slices.Clone(points)
		wrong.Points[k] = r3.Add(points[k], r3.Scale(s.ReadingError, square))
		around := s.unmeasured()
		around.Faces[face].Curve = &wrong
		list = append(list, mistake{fmt.Sprintf("point %d", k+1), around})
	}
	return list
}

// with puts another plane in the place of a face's, or of the web's.
func (s Surroundings) with(face int, p survey.Plane) Surroundings {
	s = s.unmeasured()
	if face < 0 {
		s.Web = p
		return s
	}
	s.Faces[face].Plane = p
	return s
}

// unmeasured is the surroundings by their planes alone: that these are what the readings lay
// has been seen, and laying them anew for every mistake would take its time.
func (s Surroundings) unmeasured() Surroundings {
	s.WebMeasured = nil
	s.Faces = slices.Clone(s.Faces)
	for i := range s.Faces {
		s.Faces[i].Measured = nil
	}
	return s
}

// moved is how far the corner at which the edge along a face starts, and its bend
// angle, differ between two fits; of a curved face, how far any end of an arc lies
// from the other fit's line.
func moved(p, q Part, face int) (shift float64, turn measure.Angle) {
	i, j := slices.Index(p.Site.FaceOf, face), slices.Index(q.Site.FaceOf, face)
	corner := func(p Part, i int) r3.Vec {
		s := p.Web.Edges[i].Start
		return p.Site.Point(r3.Vec{X: s.X, Y: s.Y})
	}
	if f, g := p.Web.Edges[i].Flanges, q.Web.Edges[j].Flanges; len(f) > 0 {
		turn = measure.Angle(math.Abs(float64(f[0].Angle - g[0].Angle)))
	}
	shift = apart(corner(p, i), corner(q, j))
	for k := i + 1; k < len(p.Site.FaceOf) && p.Site.FaceOf[k] == face; k++ {
		shift = max(shift, q.fromLine(face, corner(p, k)))
	}
	return shift, turn
}

// fromLine is how far a point among the surroundings lies from the line that the
// edges along a face make.
func (p Part) fromLine(face int, at r3.Vec) float64 {
	d := r3.Sub(at, p.Site.O)
	own := r2.Vec{X: r3.Dot(d, p.Site.X), Y: r3.Dot(d, p.Site.Y)}
	least := math.Inf(1)
	for i, e := range p.Web.Edges {
		if p.Site.FaceOf[i] == face {
			s := outline.Segment{A: e.Start, B: p.Web.Edges[(i+1)%len(p.Web.Edges)].Start, Bulge: e.Bulge}
			least = min(least, s.Distance(own))
		}
	}
	return least
}
