// Package survey turns measured points into the planes, lines, circles, angles and
// sections that a part must fit, and compares a made part with the wanted one.
//
// # Conventions
//
// Coordinates and lengths are millimetres, angles are [measure.Angle]. A [Plane]
// has a unit normal; a distance is positive on the side the normal points to. The
// frame of an aeroplane is the caller's choice; where a default is needed, X runs
// aft, Y to the right-hand wing tip and Z up.
//
// # Accuracy
//
// A fit is least squares over the readings kept, square to the thing fitted. The
// readings kept are found from a least median of squares start, which up to half
// of all readings may spoil, so one slipped probe does not drag the answer. Every
// reading's residual is returned, also those of the readings that were set aside.
// Spreads and standard errors are first order and hold for small errors that do
// not hang together; a tape that is stretched shows in none of them.
//
// # Errors
//
// Every fault of an input is an [*Error], naming what is wrong, its value and the
// rule; several are joined. NaN and infinite coordinates are refused. No input
// panics, and nothing is clamped.
//
// # Sources
//
// Robust start and reweighting: P. J. Rousseeuw, "Least Median of Squares
// Regression", J. Am. Stat. Assoc. 79 (1984), from memory. Rigid fit: W. Kabsch,
// "A solution for the best rotation to relate two sets of vectors", Acta Cryst.
// A32 (1976), from memory. Both are checked here against independent solutions.
package survey
