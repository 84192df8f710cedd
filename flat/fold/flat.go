// Package fold bends flat panels along their bend lines into three dimensions.
// It knows nothing of parts or of how a blank was developed, so it can prove one.
package fold

import (
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// A Flat is a sheet before bending: marking face up at z = 0, the metal below it
// down to z = -Thickness. Panels[0] holds still.
type Flat struct {
	Thickness float64
	Panels    [][]r2.Vec // counter-clockwise corners
	Bends     []Bend
}

// A Bend joins two panels. Bends stand in the order of the tree: a parent is
// placed before its child.
type Bend struct {
	Parent, Child int
	// A, B is the tangent line beside the parent, the parent on its left.
	A, B r2.Vec
	// Width is the metal the bend takes up, measured at right angles to A-B.
	Width  float64
	Angle  measure.Angle // turned from flat
	Radius float64       // inside
	Up     bool          // toward the marking face
	Zone   []r2.Vec      // counter-clockwise corners of the metal between the tangent lines
}
