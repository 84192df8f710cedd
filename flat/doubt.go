package flat

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/hangarflat/hangarflat/flat/survey"
	"github.com/hangarflat/hangarflat/material/measure"
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
	n := len(right.Web.Edges)
	shifts, turns := make([]float64, n), make([]float64, n) // sums of squares
	for face := -1; face < len(around.Faces); face++ {
		name := "web"
		if face >= 0 {
			name = quoted("face", around.Faces[face].Name, face)
		}
		wrongs, err := around.misread(face)
		if err != nil {
			return nil, Doubt{}, err
		}
		for _, w := range wrongs {
			wrong, err := Between(p, around.with(face, w.Plane))
			if err != nil {
				return nil, Doubt{}, err
			}
			d := Doubt{Reading: name + ", " + w.Reading}
			for i := range right.Web.Edges {
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

// misread lays one face anew for each of its readings wrong by its error; face -1 is
// the web.
func (s Surroundings) misread(face int) ([]survey.Misreading, error) {
	plane, readings, by := s.Web, s.WebReadings, s.WebMeasured
	if face >= 0 {
		f := s.Faces[face]
		plane, readings, by = f.Plane, f.Readings, f.Measured
	}
	if by != nil {
		return by.Misread(survey.ReadingErrors{Length: s.ReadingError, Angle: s.AngleError})
	}
	if len(readings) != 3 || s.ReadingError == 0 {
		return nil, nil
	}
	list := make([]survey.Misreading, 3)
	for k := range list {
		wrong := slices.Clone(readings)
		wrong[k] = r3.Add(wrong[k], r3.Scale(s.ReadingError, plane.Normal))
		p, err := survey.ThreePoints(wrong[0], wrong[1], wrong[2])
		if err != nil {
			return nil, err
		}
		list[k] = survey.Misreading{Reading: fmt.Sprintf("point %d", k+1), Plane: p}
	}
	return list, nil
}

// with puts another plane in the place of a face's, or of the web's.
func (s Surroundings) with(face int, p survey.Plane) Surroundings {
	if face < 0 {
		s.Web, s.WebMeasured = p, nil
		return s
	}
	s.Faces = slices.Clone(s.Faces)
	s.Faces[face].Plane, s.Faces[face].Measured = p, nil
	return s
}

// moved is how far corner i and the bend angle of edge i differ between two fits.
func moved(p, q Part, i int) (shift float64, turn measure.Angle) {
	corner := func(p Part) r3.Vec {
		s := p.Web.Edges[i].Start
		return p.Site.Point(r3.Vec{X: s.X, Y: s.Y})
	}
	if f, g := p.Web.Edges[i].Flanges, q.Web.Edges[i].Flanges; len(f) > 0 {
		turn = measure.Angle(math.Abs(float64(f[0].Angle - g[0].Angle)))
	}
	return apart(corner(p), corner(q)), turn
}
