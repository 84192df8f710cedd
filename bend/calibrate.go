package bend

import (
	"errors"
	"math"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/stat"

	"github.com/hangarflat/hangarflat/material"
)

// A Calibration is the K of a shop's own brake, found from test strips.
type Calibration struct {
	K       float64
	StdErr  float64 // standard error of K
	Scatter float64 // mm, standard deviation of one strip's allowance about the fit
	Strips  int     // how many were given
	// Outliers are the places of the strips left out of the fit, Residuals the
	// allowance of every strip less the fitted one, mm; both in the order given.
	Outliers  []int
	Residuals []float64
	Range     Range // what the strips that agree cover
}

// A Range is the bends a calibration rests on, least and most. A bend outside it is a
// guess.
type Range struct {
	Thickness [2]float64 // mm
	Ratio     [2]float64 // R/T
}

const (
	// fewest strips that must agree: two always lie close to some K.
	fewest = 3
	// cutoff is how many standard deviations off a strip is named an outlier. The
	// scatter comes from few strips, so a narrow cut would name good ones.
	cutoff = 3.5
	// readingScatter is the least scatter a strip's allowance can have, mm: three
	// readings (blank and two legs), each uniform within a vernier's step of 0.02 mm.
	readingScatter = 0.02 * 0.5 // √3 readings · step/√12
)

// Calibrate finds K from at least three test strips. Each strip says
//
//	BA - R·A = K·(T·A)
//
// K is first the slope of least absolute deviations, which nearly half of the strips cannot
// spoil; the scatter follows from the median residual, with the allowance for few strips;
// strips more than 3.5 of it off are named outliers; and K is the
// least-squares slope of the others, with its standard error. (Reweighted least squares
// after Rousseeuw and Leroy, Robust Regression and Outlier Detection, from memory.) The
// scatter is never taken for less than a vernier can tell.
//
// Fewer than three strips, or fewer than three that agree, are refused, as is a
// strip that only a slip of unit can explain and a K outside the sheet. All faulty
// strips are reported at once, by name or, unnamed, by place.
func Calibrate(strips []Strip) (Calibration, error) {
	x, y, err := equations(strips)
	if err != nil {
		return Calibration{}, err
	}
	if len(strips) < fewest {
		return Calibration{}, &Error{"strips", strconv.Itoa(len(strips)), "at least three test strips are needed to tell a good one from a bad one"}
	}
	c := Calibration{Strips: len(strips), Residuals: make([]float64, len(strips))}
	start := medianSlope(x, y)
	limit := cutoff * medianScatter(x, y, start)
	var fitX, fitY []float64
	for i, s := range strips {
		if math.Abs(y[i]-start*x[i]) > limit {
			c.Outliers = append(c.Outliers, i)
			continue
		}
		c.Range.widen(s.Bend, len(fitX) == 0)
		fitX, fitY = append(fitX, x[i]), append(fitY, y[i])
	}
	if len(fitX) < fewest {
		return Calibration{}, &Error{"strips", strconv.Itoa(len(fitX)) + " of " + strconv.Itoa(len(strips)) + " agree",
			"at least three must: measure again or replace " + c.outlierNames(strips)}
	}
	c.fit(fitX, fitY)
	for i := range strips {
		c.Residuals[i] = y[i] - c.K*x[i]
	}
	if !(0 < c.K && c.K <= 1) {
		return Calibration{}, &Error{"K", trim(c.K, 4), "the strips put the neutral line outside the sheet: check that the radius is the inside one and how the legs were measured"}
	}
	return c, nil
}

// equations gives T·A and BA - R·A of each strip.
func equations(strips []Strip) (x, y []float64, err error) {
	var faults []error
	for i, s := range strips {
		taken, err := s.Taken()
		if err == nil {
			if k := s.ownK(taken); !plausible(k) {
				err = &Error{"K", trim(k, 1), "no bend puts the neutral line there: look for a slip of unit in blank, legs or radius"}
			}
		}
		if err != nil {
			faults = append(faults, within(s.place(i), err))
		}
		x = append(x, s.Thickness*float64(s.Angle))
		y = append(y, taken-s.Radius*float64(s.Angle))
	}
	return x, y, errors.Join(faults...)
}

// place is what a strip is called in a message.
func (s Strip) place(i int) string {
	if s.Name == "" {
		return "strip " + strconv.Itoa(i+1)
	}
	return "strip " + strconv.Quote(s.Name)
}

func (c Calibration) outlierNames(strips []Strip) string {
	var names []string
	for _, i := range c.Outliers {
		names = append(names, strips[i].place(i))
	}
	return strings.Join(names, ", ")
}

// fit is the least-squares slope through nought, with its standard error.
func (c *Calibration) fit(x, y []float64) {
	_, c.K = stat.LinearRegression(x, y, nil, true)
	var squares, weight float64
	for i := range x {
		squares += (y[i] - c.K*x[i]) * (y[i] - c.K*x[i])
		weight += x[i] * x[i]
	}
	c.Scatter = max(math.Sqrt(squares/float64(len(x)-1)), readingScatter)
	c.StdErr = c.Scatter / math.Sqrt(weight)
}

func (r *Range) widen(b Bend, first bool) {
	ratio := b.Radius / b.Thickness
	if first {
		r.Thickness, r.Ratio = [2]float64{b.Thickness, b.Thickness}, [2]float64{ratio, ratio}
		return
	}
	r.Thickness = [2]float64{min(r.Thickness[0], b.Thickness), max(r.Thickness[1], b.Thickness)}
	r.Ratio = [2]float64{min(r.Ratio[0], ratio), max(r.Ratio[1], ratio)}
}

// medianSlope is the slope through nought of least absolute deviations: the median of
// the strips' own slopes y/x, each weighted by its x. x is above 0.
func medianSlope(x, y []float64) float64 {
	slopes, weights := make([]float64, len(x)), slices.Clone(x)
	for i := range x {
		slopes[i] = y[i] / x[i]
	}
	stat.SortWeighted(slopes, weights)
	return stat.Quantile(0.5, stat.Empirical, slopes, weights)
}

// medianScatter is the standard deviation that the median residual means for normal
// errors: 1.4826 is 1/0.6745, the quartile of the normal law, and 1 + 5/(n - 1) allows for
// few strips (Rousseeuw and Leroy, from memory). The median slope runs through one strip,
// whose residual of 0 is left out.
func medianScatter(x, y []float64, slope float64) float64 {
	off := make([]float64, len(x))
	for i := range x {
		off[i] = math.Abs(y[i] - slope*x[i])
	}
	slices.Sort(off)
	off = off[1:]
	few := 1 + 5/float64(len(x)-1)
	return max(1.4826*few*off[(len(off)-1)/2], readingScatter)
}

// LegError returns the standard deviation in mm that is left in a leg when this K is
// used and the bend is struck on its centre line, so that each leg takes half the
// error of the deduction: the scatter of a single bend, and how well K is known.
func (c Calibration) LegError(b Bend) (float64, error) { return c.Rule("").LegError(b) }

// LegError is [Calibration.LegError] of the calibration the rule came from.
func (c Calibrated) LegError(b Bend) (float64, error) {
	if !b.valid() {
		return 0, b.Validate()
	}
	return math.Hypot(c.Scatter, c.StdErr*b.Thickness*float64(b.Angle)) / 2, nil
}

// Rule returns the calibration as a rule. Document says where the strips are written
// down, and becomes the source of every allowance the rule gives.
func (c Calibration) Rule(document string) Calibrated {
	return Calibrated{K: c.K, StdErr: c.StdErr, Scatter: c.Scatter, Range: c.Range, Law: CalibratedLaw(document)}
}

// CalibratedLaw is the law of test strips written down in a document.
func CalibratedLaw(document string) *Law {
	return &Law{
		Name: "test strips", Formula: neutralFormula,
		Source: material.Source{Document: document, Place: "test strips", Provenance: material.Measured},
	}
}

// Calibrated is the rule of a shop's own test strips: a neutral axis with the K they
// gave and the bends they covered. It needs its Law, so that no number goes without
// the record it came from.
type Calibrated struct {
	K, StdErr float64
	Scatter   float64 // mm, standard deviation of one bend's allowance
	Range     Range
	Law       *Law
}

// outsideStrips is how far R/T or thickness may lie past the strips' without a
// caution: sheet of the same gauge, a tool of the same size.
const outsideStrips = 0.025

// Allowance answers any valid bend, with a caution where its thickness or R/T lies
// outside what the strips covered. It returns the errors of [Bend.Validate], and an [*Error] for a
// K outside the sheet or a Law that is missing.
func (c Calibrated) Allowance(b Bend) (Allowance, error) {
	switch {
	case !b.valid():
		return Allowance{}, b.Validate()
	case !(0 < c.K && c.K <= 1):
		return Allowance{}, &Error{"K", plain(c.K), "a calibrated K lies inside the sheet, above 0 and at most 1"}
	case c.Law == nil:
		return Allowance{}, &Error{"law", "none", "say where the test strips are written down"}
	}
	a := arc(b, c.K, c.Law)
	if outside(c.Range.Thickness, b.Thickness) || outside(c.Range.Ratio, b.Radius/b.Thickness) {
		a.Caution = "outside the thickness and R/T the test strips covered: bend a strip of this one"
	}
	return a, nil
}

func outside(r [2]float64, x float64) bool {
	return !(r[0]*(1-outsideStrips) <= x && x <= r[1]*(1+outsideStrips))
}
