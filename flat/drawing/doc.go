// Package drawing lays a blank out as what a sheet of metal or paper carries:
// cut lines, holes, bend lines, marks, labels, dimensions and notes, each on its
// layer. It knows no file format: packages dxfout and paper write what it holds.
//
// # Conventions
//
// All lengths are millimetres, seen from the marking face, x to the right and y
// up, in the coordinates of the blank. Outlines run counter-clockwise, openings
// clockwise. A circle is a [Circle], never a path of arcs.
//
// A [Drawing] says what is to be shown; where a label or a dimension comes to
// stand depends on the size of the lettering and is found by [Drawing.Lay].
package drawing
