// Package former develops formers: webs of any smooth contour with curved flanges,
// such as hull frames and bulkheads. It gives the blank, whole or in pieces with
// their splices, what the metal at the edge has to bear, the form block and cover
// plate to make it over, and where the stringers pass.
//
// # Conventions
//
// Lengths are millimetres, angles measure.Angle. Contours are mold lines where they
// carry a flange and run with the material on their left: the outer counter-clockwise,
// the inner clockwise, seen from the marking face. Girth is the length along a contour
// from its first vertex, in its direction. Curvature is 1/R, positive where the contour
// bulges away from the material: there the edge of the flange shrinks; where it is
// negative the edge stretches. Strains are (formed - blank)/blank length of the edge,
// negative for shrinking. A bend angle is the angle turned from flat.
//
// # Accuracy
//
// Where bend angle and curvature are constant along an arc, the edge of the blank is
// an exact arc. Where either changes, arcs are fitted within 0.005 mm. What a curved
// flange does to the metal is not exact at all: two models of it are offered, and the
// difference between them is a fair measure of what to leave for trimming.
//
// # Errors
//
// Every error is, or joins, values of type *[Error], which name field, value and rule.
// All faults are reported at once and no input panics. What is valid but unwise
// is a flat.Finding.
//
// # Sources
//
// The geometry is derived where it stands. Guidance on how far an edge may be stretched or
// shrunk is remembered, not read: it may warn and refuses nothing.
package former
