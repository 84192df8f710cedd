package bend

import (
	"errors"
	"math"
)

// A Strip is one test bend: a strip cut to a known length, bent once and measured.
type Strip struct {
	Name string // as it is marked
	Bend        // as made: angle measured, inside radius of the bar, thickness measured
	// Blank is the length of the strip before bending, LegA and LegB its legs
	// afterwards, measured to what To says: an outside caliper reads to the mold line
	// with a square, to the outside of the fold without.
	Blank, LegA, LegB float64 // mm
	To                LegTo
}

// Taken is the metal the bend took up, mm: the blank less the straight parts of the
// legs, BA = blank - legs + 2·SB.
//
// Errors, joined: those of [Bend.Validate], and an [*Error] for each length that is not above 0
// and at most 100 m; then that of [Bend.Setback], or of [Bend.FoldDepth] for legs to the outside
// of the fold.
func (s Strip) Taken() (float64, error) {
	faults := []error{s.Bend.Validate()}
	for _, f := range []struct {
		name  string
		value float64
	}{{"blank", s.Blank}, {"leg A", s.LegA}, {"leg B", s.LegB}} {
		if !(0 < f.value && f.value <= largestRadius) {
			faults = append(faults, &Error{f.name, lengthText(f.value), "must be above 0 and at most 100 m"})
		}
	}
	if err := errors.Join(faults...); err != nil {
		return 0, err
	}
	back, err := s.back(s.To)
	if err != nil {
		return 0, err
	}
	return s.Blank - s.LegA - s.LegB + 2*back, nil
}

// ownK is the K this strip alone means.
func (s Strip) ownK(taken float64) float64 {
	return (taken/float64(s.Angle) - s.Radius) / s.Thickness
}

// plausible tells a misread strip, which the fit leaves out by itself, from a slip of
// unit, which it must not be asked to judge. The neutral line lies in the sheet; a
// reading off by a few millimetres puts it a few thicknesses beyond, an inch taken
// for a millimetre puts it far away.
func plausible(k float64) bool { return math.Abs(k-0.5) <= 10 }
