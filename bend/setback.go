package bend

import (
	"math"

	"github.com/hangarflat/hangarflat/material"
)

// setbackSource is where SB = K(R+T) with K = tan(A/2) is printed.
var setbackSource = material.Source{Document: "FAA AC 43.13-1B", Place: "para 4-56 b", Provenance: material.Read}

// Setback returns the distance in mm from the mold line to a tangent line of the
// bend, measured along the outside of the leg:
//
//	SB = (R + T)·tan(A/2)
//
// It holds for open and closed bends (FAA AC 43.13-1B, para 4-56 b). A bend
// of 180° has no mold line and returns an [*Error]: dimension it to the outside of
// the fold, see [Bend.FoldDepth]. The setback grows without limit as A nears 180°.
func (b Bend) Setback() (float64, error) {
	if !b.valid() {
		return 0, b.Validate()
	}
	if b.Angle == math.Pi {
		return 0, &Error{"angle", "180°", "legs folded flat against each other never meet in a mold line: dimension to the outside of the fold"}
	}
	return float64((b.Radius + b.Thickness) * math.Tan(float64(b.Angle)/2)), nil
}

// FoldDepth returns the distance in mm from a tangent line to the outside of the
// fold, measured along that leg: R + T. This is where a caliper laid along the leg
// touches, and what a closed bend, a hem or a return may be dimensioned to in place
// of a mold line. A bend of less than 90° never turns square to its leg and returns
// an [*Error].
func (b Bend) FoldDepth() (float64, error) {
	if !b.valid() {
		return 0, b.Validate()
	}
	if b.Angle < math.Pi/2 {
		return 0, &Error{"angle", b.Angle.String(), "an open bend has no outside of the fold: dimension to its mold line"}
	}
	return b.Radius + b.Thickness, nil
}

// Deduction returns what is taken off the sum of two mold-line legs to get the
// flat length, in mm: BD = 2·SB - BA. It is positive for the usual bend; a very
// open bend of a thick neutral line can make it slightly negative.
func Deduction(rule Rule, b Bend) (float64, error) {
	sb, err := b.Setback()
	if err != nil {
		return 0, err
	}
	ba, err := allowance(rule, b)
	if err != nil {
		return 0, err
	}
	return 2*sb - ba.Length, nil
}

// SightLine returns how far the sight line lies from the tangent line that is held
// in the brake, in mm, toward the bend: one radius. With that line straight under
// the nose of a clamping bar whose nose has radius R, the tangent line is where the
// nose's curve begins. It does not depend on the angle, so on a bend of small angle
// it can lie past the other tangent line. (Common practice; the wording in
// FAA-H-8083-31 chapter 4 is remembered, not seen.)
func (b Bend) SightLine() (float64, error) {
	if !b.valid() {
		return 0, b.Validate()
	}
	return b.Radius, nil
}

// allowance asks a rule that may be missing.
func allowance(rule Rule, b Bend) (Allowance, error) {
	if rule == nil {
		return Allowance{}, &Error{"rule", "none", "name the rule to compute the allowance by, such as bend.Handbook{}"}
	}
	return rule.Allowance(b)
}
