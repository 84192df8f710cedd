package flat

import (
	"cmp"
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
// plane ([Face.Readings], [Surroundings.WebReadings], [Surroundings.ReadingError]),
// the worst first: re-measure that one first. A plane without three readings is
// taken as exact. total is all of them together, each by its own error
// independent of the others (root of the sum of squares). Errors are those of
// [Between]; a reading error that is not above 0 mm is one.
func Doubts(p Part, around Surroundings) (list []Doubt, total Doubt, err error) {
	if !(around.ReadingError > 0 && around.ReadingError <= 100) {
		return nil, Doubt{}, &Error{Place: "surroundings", Path: "surroundings.reading_error", Value: mm(around.ReadingError), Rule: "must be above 0 mm and at most 100 mm"}
	}
	right, err := Between(p, around)
	if err != nil {
		return nil, Doubt{}, err
	}
	n := len(right.Web.Edges)
	shifts, turns := make([]float64, n), make([]float64, n) // sums of squares
	for face := -1; face < len(around.Faces); face++ {
		name, readings := "web", around.WebReadings
		if face >= 0 {
			name, readings = quoted("face", around.Faces[face].Name, face), around.Faces[face].Readings
		}
		if len(readings) != 3 {
			continue
		}
		for k := range readings {
			wrong, err := misread(p, around, face, k)
			if err != nil {
				return nil, Doubt{}, err
			}
			d := Doubt{Reading: fmt.Sprintf("%s, point %d", name, k+1)}
			for i := range right.Web.Edges {
				shift, turn := moved(right, wrong, i)
				d.Shift, d.Turn = max(d.Shift, shift), max(d.Turn, turn)
				shifts[i] += shift * shift
				turns[i] += float64(turn * turn)
			}
			list = append(list, d)
		}
	}
	slices.SortStableFunc(list, func(a, b Doubt) int { return cmp.Compare(b.Shift, a.Shift) })
	total = Doubt{Reading: "all readings"}
	for i := range shifts {
		total.Shift = max(total.Shift, math.Sqrt(shifts[i]))
		total.Turn = max(total.Turn, measure.Angle(math.Sqrt(turns[i])))
	}
	return list, total, nil
}

// misread fits the part with one reading off its plane by the reading error; face
// -1 is the web.
func misread(p Part, around Surroundings, face, k int) (Part, error) {
	at := &around.Web
	readings := around.WebReadings
	if face >= 0 {
		around.Faces = slices.Clone(around.Faces)
		at, readings = &around.Faces[face].Plane, around.Faces[face].Readings
	}
	wrong := slices.Clone(readings)
	wrong[k] = r3.Add(wrong[k], r3.Scale(around.ReadingError, at.Normal))
	var err error
	if *at, err = survey.ThreePoints(wrong[0], wrong[1], wrong[2]); err != nil {
		return Part{}, err
	}
	return Between(p, around)
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
