// Package paper writes what the bench works from: the card with every number and
// its working, the dimensioned picture, and patterns at full size.
//
// # Conventions
//
// Lengths are millimetres. On paper x runs right and y down from the upper left
// corner of the sheet. What the shop reads carries inches and millimetres side by
// side, angles in degrees, and both the angle turned and the angle between legs.
//
// # Accuracy
//
// A pattern is drawn at exactly 1:1 with true curves; what a printer makes of it
// is another matter, so every sheet carries bars to measure before cutting.
//
// # Errors
//
// Writers return the first error of the file below, or an [*Error] naming what
// cannot be drawn. [Save] leaves no half-written file behind.
package paper
