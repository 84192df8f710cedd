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

// LegTo says where the leg of a bend is dimensioned to.
type LegTo uint8

const (
	// MoldLine: where the outside faces of the two legs would meet. Drawings do.
	MoldLine LegTo = iota
	// OutsideOfFold: the outside of the bend, square to the leg. A caliper does, on
	// a closed bend, and DIN 6935. The two are the same at 90°.
	OutsideOfFold
)

// back is the distance from the tangent line to where the leg is dimensioned to.
func (b Bend) back(to LegTo) (float64, error) {
	switch to {
	case MoldLine:
		return b.Setback()
	case OutsideOfFold:
		return b.FoldDepth()
	}
	return 0, &Error{"leg dimension", plain(float64(to)), "say bend.MoldLine or bend.OutsideOfFold"}
}

// Deduction returns what is taken off the sum of two mold-line legs to get the
// flat length, in mm: BD = 2·SB - BA. It is positive for every neutral line inside the
// sheet, because tan(A/2) is more than A/2. It returns an [*Error] for no rule and for a bend of
// 180°, which has no mold line, the errors of [Bend.Validate], and those of the rule.
func Deduction(rule Rule, b Bend) (float64, error) { return DeductionTo(MoldLine, rule, b) }

// DeductionTo is [Deduction] for legs dimensioned as to says: 2·(R + T) - BA for the
// outside of the fold, which also answers for a hem or return of 180°. It returns an [*Error] for
// a to that is neither, for the outside of the fold of a bend of less than 90°, and otherwise as
// Deduction does.
func DeductionTo(to LegTo, rule Rule, b Bend) (float64, error) {
	back, err := b.back(to)
	if err != nil {
		return 0, err
	}
	ba, err := allowance(rule, b)
	if err != nil {
		return 0, err
	}
	return 2*back - ba.Length, nil
}

// SightLine returns how far the sight line lies from the tangent line that is held
// in the brake, in mm, toward the bend: one radius. With that line straight under
// the nose of a clamping bar whose nose has radius R, the tangent line is where the
// nose's curve begins. It does not depend on the angle, so on a bend of small angle
// it can lie past the other tangent line. (Common practice; the wording in
// FAA-H-8083-31 chapter 4 is remembered, not seen.) Its errors are those of [Bend.Validate].
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
