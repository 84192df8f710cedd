// Package outline is the plane geometry of a blank: chains of straight lines and
// circular arcs, measured, cut, joined, moved inward and outward and fitted to
// curves, with the arcs kept as arcs.
//
// # Conventions
//
// Lengths are millimetres, angles [measure.Angle]. A closed path that bounds
// material runs counter-clockwise, a hole in it clockwise, seen from the marking
// face, so material lies on the left of the travel. The bulge of a vertex is the
// tangent of a quarter of the sweep of the arc that starts there, positive when
// the arc turns counter-clockwise (the convention of the open exchange format's
// polylines). An offset distance is positive toward the right of the travel:
// outward from a counter-clockwise outline, into a hole.
//
// # Accuracy
//
// Decisions on points and straight lines ([Orient], [Path.Side] away from arcs)
// are exact for all finite coordinates that neither overflow nor underflow.
// Decisions that involve an arc, and all constructed points, are good to
// [Coincidence] times the size of the figure. No result of [Offset], [Union] or
// [Difference] is returned before it is checked; a result that fails its check is
// an error, never a wrong loop.
//
// # Errors
//
// Every error is, or joins, values of type [*Fault], which names the function,
// the place and the rule. All faults of an input are reported at once. No input
// panics, not-a-number and infinities included.
//
// # Sources
//
// The arc formulas are elementary and derived where they stand. The orientation
// predicate and its error bound follow Shewchuk, "Adaptive Precision Floating-Point
// Arithmetic and Fast Robust Geometric Predicates" (1997).
package outline
