// Package rivet lays out rivets: rows along edges and lines, their check against
// the rules of the trade, the order they are driven in, and the patches and
// doublers they hold.
//
// # Conventions
//
// Lengths are millimetres. A row follows the edge it belongs to on the left of its
// travel: inside a counter-clockwise outline, around a clockwise opening. Stations
// are lengths along a row's line from its start. Edge distance and pitch are
// measured between centres and edges, as the handbooks do.
//
// A layout is plain geometry. Where it stands on a flange or web it becomes holes of
// package flat, drilled under size and opened when the parts are together. [FlangeRows] ask
// for rows along a flange in the part itself, to be laid when it is developed.
//
// # Accuracy
//
// Rows are exact parallels of their edges, arcs and all; holes lie on them to
// outline.Coincidence. On a rolled skin the lines are moved from the face they are
// measured on to the neutral line of each sheet; arcs that become parts of ellipses
// there are fitted with arcs within 0.002 mm.
//
// # Errors
//
// Every error is, or joins, values of type *[Error], which name field, value and
// rule. All faults are reported at once and no input panics. What is valid but
// unwise is a flat.Finding.
//
// # Sources
//
// Edge distance, pitch, spacing and length follow NAVEDTRA 14018 and US Army
// subcourse AL0992; rivets per inch of splices FAA AC 43.13-1B; each finding and
// step names its own. They are general practice: a repair needs approved data.
package rivet

//go:generate go run ./internal/tablegen
