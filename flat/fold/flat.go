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
	// Zone are the corners of the metal between the tangent lines: near start, far
	// start, far end, near end.
	Zone []r2.Vec
	// Sections describe a bend whose angle changes along it, in order of At; from
	// one to the next everything changes evenly. Width and Angle above are then not
	// used. Nil is a bend that is the same all along. Nothing hangs from the child
	// of a bend with sections.
	Sections []Section
}

// A Section is a bend cut square to the line A-B at one place.
type Section struct {
	At    float64 // along A-B from A, mm
	Near  float64 // from A-B out to the tangent line beside the parent, mm
	Width float64 // of metal the bend takes up, mm
	Angle measure.Angle
}

// section is the bend at a place along A-B.
func (b *Bend) section(at float64) Section {
	if len(b.Sections) == 0 {
		return Section{At: at, Width: b.Width, Angle: b.Angle}
	}
	i := 1
	for i < len(b.Sections)-1 && b.Sections[i].At < at {
		i++
	}
	p, q := b.Sections[i-1], b.Sections[i]
	t := (at - p.At) / (q.At - p.At)
	return Section{at, p.Near + t*(q.Near-p.Near), p.Width + t*(q.Width-p.Width), p.Angle + measure.Angle(t)*(q.Angle-p.Angle)}
}
