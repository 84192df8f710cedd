// Package nest lays blanks out on stock sheets: how many sheets a kit takes, which
// blank is cut from which, and what is left over.
//
// # Conventions
//
// Lengths are millimetres. A sheet lies with its lower left corner at the origin, its
// length along x. The length is the direction it was rolled in: the grain runs along
// x. A blank whose grain is stated is turned so that its grain runs along the sheet's,
// one way or the other; a blank whose grain is not stated is tried in the four ways
// square to the sheet. No blank is turned over: the marking face stays up.
//
// # Accuracy
//
// Blanks keep at least the gap from each other and the margin from the edges, by
// their true outlines; openings are kept clear of as if they were metal. How many
// sheets it takes is what a careful cutter would find by eye, not the least possible:
// blanks are slid, the largest first, as far along the sheet as those before them let
// them, in bands a small part of the sheet wide.
//
// # Errors
//
// What cannot be used is an [*Error] naming field, value and rule, all of them joined.
// A blank that fits no sheet is no error: it is listed with the reason. No input
// panics.
package nest
