// Package dxfout writes drawings as DXF files that open everywhere: few kinds of
// entity, each exactly as the published reference has it.
//
// [Write] writes a whole drawing. [Writer] streams outlines, circles and text one
// by one on any layers, for a shop tool with geometry of its own; it holds one
// buffer, however long the file.
//
// # Conventions
//
// Lengths are millimetres and are scaled to the unit of the file. A DXF
// coordinate has no unit, so the file says it three times: in $INSUNITS, in
// $MEASUREMENT and in a note that gives the overall size. Outlines run as
// package outline has them; arcs stay arcs. Layers are declared before use.
//
// # Accuracy
//
// A coordinate is printed to 8 decimals of the file's unit, a bulge and an angle to 12. No
// number carries an exponent, a minus zero or a decimal comma.
//
// # Errors
//
// What a file cannot hold or a cutter would trip over is refused with an
// [*Error]: numbers that are not finite, undeclared layers, segments of no
// length. The first error sticks and is returned by [Writer.Close]. Nothing is
// clamped. The same drawing gives the same bytes on every run and machine.
//
// # Sources
//
// The DXF reference published for R12 and R2000 gives the structure.
package dxfout
