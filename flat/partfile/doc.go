// Package partfile reads and writes the text file in which a maker describes a
// part: see [Read], [Write] and the annotated files in examples/intercostal and its samples.
//
// # Conventions
//
// The file is TOML 1.0. Every length and angle is a text with its unit, "0.040
// in", "97 30'"; a bare number is refused, because an inch read as a millimetre
// scraps a sheet. Pure numbers (the neutral-axis factor, the bulge of an arc, a
// unit normal) stand bare. Angles of bends are turned from flat; corners of a web
// are measured inside it. Webs are walked counter-clockwise as seen from the
// marking face, "up" is toward the viewer.
//
// There are three kinds of file: [Edges], [Section] and [Between]. What a part fits
// between is given as it was measured: three points of a face or more, a point and a direction,
// angle and distance off a base line, distances at two heights, readings of a spirit
// level, or the points of a curve; the annotated files show each. [ReadBrake] reads the
// dimensions of a shop's brake from a file of the same make. A flange, a lip or a leg may ask
// for rows of rivets ([rivet.FlangeRows]); its Part asks for them too, and developing it lays them.
//
// A file may have its bends allowed for by the shop's own log of test strips and says where that is;
// see [TestStrips] and [Document.Calibrate].
//
// # Errors
//
// Every fault of a file is reported at once: an [*Error] with line, column, field,
// value and rule. What another package finds wrong with the part comes out with
// the line it came from; see [Document.Locate] for faults found later on. No input
// panics, nothing is clamped, and an unknown key is a fault.
package partfile
