package paper

import (
	"io"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/outline"
)

// A Background is what a picture stands on.
type Background uint8

const (
	Light Background = iota // for paper
	Dark                    // for a screen in a dim shop
)

// PictureOptions set out a picture. The zero value is an A4 landscape sheet,
// light.
type PictureOptions struct {
	Background Background
}

// SVG draws the blank, dimensioned, and the folded part beside it.
func SVG(w io.Writer, b flat.Blank, opt PictureOptions) error {
	d := drawing.Of(b)
	box, _ := d.Bounds()
	size := box.Size()
	s := newSVG(w, size.X, size.Y, d.Title)
	for _, p := range d.Paths {
		s.layer(p.Layer.String())
		s.shape([]outline.Path{p.Path}, ink{})
	}
	return s.close()
}
