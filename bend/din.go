package bend

import (
	"math"
	"strconv"

	"github.com/hangarflat/hangarflat/material/measure"
)

// dinFlat is the bend angle below which DIN 6935 makes no correction: an opening of
// more than 165°.
const dinFlat = 15 * measure.Degree

// DINCorrection returns the standard's own v in mm, which is taken off the sum of
// the legs for one bend (β is the opening, 180° - A):
//
//	β <= 90°         v = 2(R + T) - arc         legs to the outside of the fold
//	90° < β <= 165°  v = 2(R + T)·tan(A/2) - arc  legs to the mold line
//	β > 165°         v = 0
//
// with the arc of [DIN6935]. Below 90° of opening the standard measures legs to the
// outside of the fold, not to the mold line: 60° of opening with R 6, T 5 gives 5.82
// (5.77 with the k of 0.7 a table book reads off its diagram), where the mold-line
// deduction, Deduction(DIN6935{}, b), gives 21.93. The two agree
// at 90° and from there up to 165°, where the standard's v jumps from a few hundredths
// of R + T to 0. It returns the errors of [Bend.Validate] and of [DIN6935.Allowance].
func DINCorrection(b Bend) (float64, error) {
	bd, err := DeductionTo(dinTo(b), DIN6935{}, b)
	return dinV(b, bd), err
}

// dinV is what the standard takes off for a bend of which the deduction is known.
func dinV(b Bend, deduction float64) float64 {
	if b.Angle < dinFlat*(1-1e-12) { // 15° computed from another unit is still 15°
		return 0
	}
	return deduction
}

// dinTo is what the standard dimensions the legs of a bend to.
func dinTo(b Bend) LegTo {
	if b.Angle >= math.Pi/2 {
		return OutsideOfFold
	}
	return MoldLine
}

// DINBlank returns the blank length of a section by DIN 6935: the sum of the legs, in
// mm and dimensioned as [DINCorrection] says, less v for each bend. The standard rounds
// it up to the whole millimetre, which is the second answer. There is one leg more
// than bends, and none is shorter than the bends beside it take, were their v 0 or not.
// All faults are reported at once, each an [*Error].
func DINBlank(legs []float64, bends []Bend) (length, whole float64, err error) {
	if len(legs) != len(bends)+1 {
		return 0, 0, &Error{"legs", strconv.Itoa(len(legs)), "a section of " + strconv.Itoa(len(bends)) + " bends has one leg more than bends"}
	}
	s := Section{Legs: legs}
	for _, b := range bends {
		s.Bends = append(s.Bends, SectionBend{Bend: b, To: dinTo(b)})
	}
	laid, err := s.flats(DIN6935{})
	if err != nil {
		return 0, 0, err
	}
	for _, leg := range legs {
		length += leg
	}
	for i, b := range bends {
		length -= dinV(b, laid.Marks[i].Deduction)
	}
	// A length that is whole but for rounding error in the sum stays what it is.
	return length, math.Ceil(length - 1e-9), nil
}

func legFault(i int, leg float64) error {
	if 0 < leg && leg <= largestRadius {
		return nil
	}
	return &Error{"leg " + strconv.Itoa(i+1), lengthText(leg), "a leg must be above 0 and at most 100 m"}
}
