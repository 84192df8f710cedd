// Package flat turns a part - a web and its flanges, dimensioned to mold lines -
// into the flat blank it is cut from. [Develop] does it; [Between] makes a part of the
// measured faces it must fit.
//
// # Conventions
//
// Lengths are millimetres, angles [measure.Angle]. A web is seen from its marking face,
// its edges counter-clockwise; an edge that carries a flange is a mold line. A bend angle
// is turned from flat, above 0° and at most 170°: open below 90°, closed above. [Up] turns
// toward the viewer. Outlines of the [Blank] run counter-clockwise, openings clockwise, in
// the coordinates of the web.
//
// # Accuracy
//
// Every blank is folded again, and [Proof] tells how far mold lines, flange planes and
// hole centres come out from what was asked for: for straight bends rounding alone, below
// 1e-6 mm. Where the bevel changes along an edge, tangent lines and free edges are curves,
// and the proof holds what fitting them leaves.
//
// # Errors
//
// Every error is, or joins, values of type *[Error], which name field, value and rule. All
// faults are reported at once and no input panics. What is valid but unwise is a
// [Finding]; one of severity [Stop] marks every output NOT FOR CUTTING and hides nothing.
//
// # Sources
//
// The order of working follows FAA-H-8083-31 chapter 4: setback, flat, allowance, relief
// holes. Each finding and each step of [Blank.Working] names its own source.
package flat
