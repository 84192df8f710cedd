package flat

import (
	"fmt"
	"math"
	"slices"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat/survey"
	"github.com/hangarflat/hangarflat/material"
	"gonum.org/v1/gonum/spatial/r3"
)

// A FaceFit is the plane laid through more than three points of a face, and how far
// each of them lies off it.
type FaceFit struct {
	Place string // `face "frame 407"`, or "web"
	// PlaneFit has its normal, and with it the sign of the residuals, away from the web;
	// that of the web itself points off the marking face, to the reader.
	survey.PlaneFit
	// Error is how far any reading may be off as stated, mm; 0 where it was not.
	Error float64
}

// Fits lists the faces that were measured by more than three points ([survey.Touched]),
// the web first, then in the order of the surroundings. What no plane can be laid through
// [Between] has refused; of a site made otherwise it is left out.
func (s Site) Fits() []FaceFit {
	list := fitsOf(s.Surroundings)
	for i := range list {
		fit := &list[i].FaceFit
		out := s.Z
		if face := list[i].face; face >= 0 {
			if at := slices.Index(s.FaceOf, face); at >= 0 && at < len(s.Seats) {
				out = s.Seats[at].Normal
			}
		}
		if r3.Dot(fit.Normal, out) < 0 {
			fit.Plane = fit.Flip()
			for k := range fit.Residuals {
				fit.Residuals[k] = -fit.Residuals[k]
			}
		}
	}
	fits := make([]FaceFit, len(list))
	for i, f := range list {
		fits[i] = f.FaceFit
	}
	return fits
}

// A touchedFace is the fit of a face; face -1 is the web.
type touchedFace struct {
	FaceFit
	face int
}

func fitsOf(s Surroundings) (list []touchedFace) {
	add := func(face int, place string, by Measurement) {
		touched, ok := by.(survey.Touched)
		if !ok {
			return
		}
		if fit, err := touched.Fit(); err == nil {
			list = append(list, touchedFace{FaceFit{place, fit, touched.Error}, face})
		}
	}
	add(-1, "web", s.WebMeasured)
	for i, f := range s.Faces {
		add(i, quoted("face", f.Name, i), f.Measured)
	}
	return list
}

// Farthest is the reading farthest off the plane of those it was laid by, its place in the
// list of points, and how far off it is, mm, never negative.
func (f FaceFit) Farthest() (reading int, off float64) {
	reading = -1
	for i, r := range f.Residuals {
		if !slices.Contains(f.Outliers, i) && (reading < 0 || math.Abs(r) > off) {
			reading, off = i, math.Abs(r)
		}
	}
	return reading, off
}

var leastSquares = material.Source{Document: "plane of least squares, square to the plane", Provenance: material.Derived}

// planeSteps tells of each plane laid through more than three points how far the farthest of
// them lies from it.
func planeSteps(s Surroundings) (steps []bend.Step) {
	for _, f := range fitsOf(s) {
		_, off := f.Farthest()
		n := len(f.Residuals)
		steps = append(steps, bend.Step{
			Quantity: fmt.Sprintf("plane of %s, by least squares through %d of %d points: the farthest of them from it", f.Place, n-len(f.Outliers), n),
			Symbol:   "e", Formula: "reading less plane", Value: off, Unit: bend.Length,
			Source: leastSquares,
		})
	}
	return steps
}

// inspectSurvey tells of readings that were set aside, and of those that lie farther off
// their plane than they can by the error stated.
func (l *layout) inspectSurvey() {
	if l.part.Site == nil {
		return
	}
	for _, f := range fitsOf(l.part.Site.Surroundings) {
		for _, i := range f.Outliers {
			l.find(Finding{
				Severity: Warn, Place: f.Place, Text: fmt.Sprintf("point %d is set aside: it lies off the plane of the others, farther than readings of this spread do; take it again", i+1),
				Figure: math.Abs(f.Residuals[i]), Limit: f.Spread, Unit: bend.Length, Source: leastSquares,
			})
		}
		if i, off := f.Farthest(); f.Error > 0 && off > f.Error+coincident {
			l.find(Finding{
				Severity: Warn, Place: f.Place, Text: fmt.Sprintf("point %d lies off the plane laid through the points by more than the stated error of a reading: a reading is wrong, or the face is not flat", i+1),
				Figure: off, Limit: f.Error, Unit: bend.Length, Source: leastSquares,
			})
		}
	}
}
