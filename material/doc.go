// Package material says what a sheet is: its alloy and temper, the gauges it comes
// in, how sharply it may be bent and how strong and heavy it is, each value with the
// table it stands in and whether that table was read or is remembered.
//
// # Conventions
//
// Lengths are float64 millimetres, strengths and moduli megapascals, densities grams
// per cubic centimetre. A table is a set of steps, not a line: a thickness between
// two rows takes the stricter of them, and a thickness outside the table is answered
// with an error that says so. Tables disagree; all of them can be reached, and the
// default is the strictest that was read in print.
//
// # Errors
//
// Bad input returns an [*Error] naming field, value and rule. No input panics.
//
// # Sources
//
// The tables are the CSV files of the repository's testdata folder, turned into Go
// source and into its table test by go generate. Nothing is parsed at start-up and a
// look-up of one value allocates nothing. A value from memory says so wherever it is
// printed; it may warn, it must not be cited.
package material

//go:generate go run ./internal/tablegen -tables ../testdata -out . material
