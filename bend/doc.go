// Package bend computes one bend of a sheet: how much metal it takes up, where
// its tangent lines lie from the mold line, what it springs back, how sure the
// leg is, and what a shop's own test strips say.
//
// # Conventions
//
// Lengths are float64 millimetres and angles [measure.Angle]. The bend angle is
// the angle turned through from flat, 0 < A <= 180°, never the angle between the
// legs. R is the inside radius, T the thickness, SB the setback from mold line to
// tangent line, BA the allowance (metal taken up between the tangent lines), BD
// the deduction 2·SB - BA. Two different numbers are called K in the handbooks:
// here K is always the depth of the neutral line from the inside face over T; the
// setback factor tan(A/2) is written out.
//
// # Errors
//
// Bad input is answered with an [*Error] naming field, value and rule; where
// several fields are at fault the errors are joined and errors.As finds the
// first. Nothing is clamped and no input panics. A bend that is valid but lies
// outside what a law was published for carries a Caution in its [Allowance].
//
// # Sources
//
// FAA-H-8083-31 chapter 4, FAA AC 43.13-1B paragraph 4-56, DIN 6935, Machinery's
// Handbook 31st edition; each [Law] and each [Step] names its own.
//
// The numbers help to lay out a test bend. They approve nothing: prove radius and
// allowance by a test bend in the same sheet and tool.
package bend

//go:generate go run ../material/internal/tablegen -tables ../testdata -out . bend
