// Package measure reads and prints the units of the sheet-metal shop: inches,
// thousandths, millimetres, fractions, degrees and minutes.
//
// # Conventions
//
// A length is a float64 in millimetres, everywhere. An angle is an [Angle],
// in radians inside and printed with its degree sign. The constants [Inch],
// [Thou], [Foot] and [Millimetre] multiply a number into a length, [Degree] and
// [Minute] multiply one into an Angle:
//
//	radius := 0.125 * measure.Inch
//	turned := 97.5 * measure.Degree
//
// Text always carries its unit: "0.040 in", "1.2 mm", "3/32 in", "97 30'". A
// bare number is refused, because an inch read as a millimetre scraps a sheet.
// Gauge numbers belong to a gauge table and are read by package material.
//
// # Errors
//
// The parsers return a [*SyntaxError] naming the text and the rule it breaks.
// No input panics.
package measure
