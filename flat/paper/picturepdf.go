package paper

import (
	"io"

	"github.com/hangarflat/hangarflat/flat"
)

// PDF draws the picture of [SVG] as one landscape page of A4 with its fonts
// embedded. Its errors are those of SVG, and nothing is written before the page is whole.
func PDF(w io.Writer, b flat.Blank, opt PictureOptions) error {
	if err := opt.validate(); err != nil {
		return err
	}
	l, err := newLetters(false)
	if err != nil {
		return err
	}
	p := newPDF(oneLine(b.Part.Name))
	p.page(pictureWidth, pictureHeight)
	if err := drawPicture(p, b, palettes(opt.Background), l.width); err != nil {
		return err
	}
	return p.write(w)
}
