package survey

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Touched is a face measured by four points of it or more, as [FitPlane] lays it:
// least squares, wild readings set aside.
type Touched struct {
	Points []r3.Vec // 4 to 100, mm
	// Error is how far any one point may be off square to the face, mm. 0: it is not
	// known, and the points are judged by each other.
	Error float64
}

const (
	// mostTouched points are a scan, to be cut first.
	mostTouched = 100
	// fewestAgreeing is how many points must agree before another is set aside. Three
	// lie in a plane whatever they are, so of four no one can tell which is off.
	fewestAgreeing = 4
	// leastBreadth is the least breadth of a set of points over its length. Below it a
	// reading wrong by 0.1 mm over 100 mm tilts the face by 5 degrees.
	leastBreadth = 0.01
)

// Fit lays the face by [FitPlane] with Error as the known noise, and keeps every
// point where fewer than four would be left to agree. Too few points or too many, a
// coordinate or an error out of range, and points so near one line that they do not
// tell how the face leans (breadth under a hundredth of the length) are an [*Error],
// joined.
func (t Touched) Fit() (PlaneFit, error) {
	var f faults
	if n := len(t.Points); !(fewestAgreeing <= n && n <= mostTouched) {
		f.add("points", fmt.Sprint(n), fmt.Sprintf("must be %d to %d points of the face: three leave nothing to judge them by", fewestAgreeing, mostTouched))
	}
	f.length("error", t.Error, 0, 100, "must be 0 mm (not known) to 100 mm")
	if err := f.err(); err != nil {
		return PlaneFit{}, err
	}
	fit, err := FitPlane(t.Points, FitOptions{Noise: t.Error})
	if err == nil && len(t.Points)-len(fit.Outliers) < fewestAgreeing {
		fit, err = FitPlane(t.Points, FitOptions{Noise: t.Error, Reject: math.Inf(1)})
	}
	if err != nil {
		return PlaneFit{}, err
	}
	if long, broad := t.extent(fit); !(broad > leastBreadth*long) {
		return PlaneFit{}, &Error{"points", fmt.Sprintf("%s over %s", mm(broad), mm(long)), "they lie on one line, or nearly: take some well to the side"}
	}
	return fit, nil
}

// extent is how far the points kept spread along the axes of the fit, mm: the root of
// the mean square.
func (t Touched) extent(fit PlaneFit) (long, broad float64) {
	keep := complement(fit.Outliers, len(t.Points))
	for _, i := range keep {
		d := r3.Sub(t.Points[i], fit.Point)
		long += sq(r3.Dot(d, fit.Axes[0]))
		broad += sq(r3.Dot(d, fit.Axes[1]))
	}
	n := float64(len(keep))
	return math.Sqrt(long / n), math.Sqrt(broad / n)
}

func sq(x float64) float64 { return x * x }

// Plane lays the face, its normal as [FitPlane] turns it. Errors are those of
// [Touched.Fit].
func (t Touched) Plane() (Plane, error) {
	fit, err := t.Fit()
	return fit.Plane, err
}

// Misread lays the face anew for each point in turn off it by the error of a length,
// the others kept as they were judged: a point that was set aside does nothing and is
// not among them. The more points, the less each does. Errors are those of
// [Touched.Fit].
func (t Touched) Misread(by ReadingErrors) ([]Misreading, error) {
	fit, err := t.Fit()
	if err != nil || !(by.Length > 0) {
		return nil, err
	}
	keep := complement(fit.Outliers, len(t.Points))
	s := &planeShape{points: append([]r3.Vec(nil), t.Points...)}
	var list []Misreading
	for _, k := range keep {
		right := t.Points[k]
		s.points[k] = r3.Add(right, r3.Scale(by.Length, fit.Normal))
		ok := s.fit(keep)
		s.points[k] = right
		if !ok {
			return nil, &Error{"points", fmt.Sprint(len(keep)), fmt.Sprintf("lie on one line with point %d wrong by its error", k+1)}
		}
		p := s.Plane
		if r3.Dot(p.Normal, fit.Normal) < 0 {
			p = p.Flip()
		}
		list = append(list, Misreading{fmt.Sprintf("point %d", k+1), p})
	}
	return list, nil
}
