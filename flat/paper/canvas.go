package paper

import (
	"image/color"

	"github.com/hangarflat/hangarflat/flat/outline"
	"gonum.org/v1/gonum/spatial/r2"
)

// A canvas is paper to draw on: mm from the upper left corner, y down. One
// picture is drawn on any of them.
type canvas interface {
	// layer begins a named group; the one before ends.
	layer(name string)
	// shape fills and strokes loops together; where they overlap, even and odd
	// alternate, so a loop within a loop is a hole.
	shape(loops []outline.Path, k ink)
	// text letters one line.
	text(t lettering)
}

// An ink is how a shape is drawn. A colour of no alpha draws nothing.
type ink struct {
	fill, stroke color.NRGBA
	width        float64   // of the stroke, mm
	dash         []float64 // mm on, mm off; nil is solid
}

// A lettering is one line of text on paper.
type lettering struct {
	at     r2.Vec  // on the base line
	size   float64 // of the font, mm
	turned float64 // direction of reading, radians counter-clockwise as seen
	anchor anchor
	bold   bool
	color  color.NRGBA
	text   string
}

type anchor uint8

const (
	atStart anchor = iota
	atMiddle
	atEnd
)

// lineOf is a straight line as a path.
func lineOf(a, b r2.Vec) outline.Path { return outline.Polyline(a, b) }
