package paper

import (
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"io"
	"math"
	"slices"
	"strconv"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/outline"
	"golang.org/x/image/font/sfnt"
	fix "golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
	"gonum.org/v1/gonum/spatial/r2"
)

// PNG draws the picture of [SVG] as an image of the given number of pixels
// across, 400 to 20000; 0 takes 2400, about 205 to the inch of an A4 sheet. It returns an [*Error]
// for any other number; its other errors are those of SVG.
func PNG(w io.Writer, b flat.Blank, opt PictureOptions, pixels int) error {
	if err := opt.validate(); err != nil {
		return err
	}
	if pixels == 0 {
		pixels = 2400
	}
	if pixels < 400 || pixels > 20000 {
		return &Error{"pixels across", strconv.Itoa(pixels), "must be 400 to 20000"}
	}
	c, err := newRaster(pixels)
	if err != nil {
		return err
	}
	if err := drawPicture(c, b, palettes(opt.Background), c.regular.width); err != nil {
		return err
	}
	return png.Encode(w, c.image)
}

// raster is a canvas of pixels.
type raster struct {
	image         *image.NRGBA
	scale         float64 // pixels in a mm
	regular, bold *letters
	pen           vector.Rasterizer
	strokes       []penStroke // of the shape being drawn
}

// A penStroke is one movement of the pen, in pixels: to At, by a control point
// where it curves.
type penStroke struct {
	op      sfnt.SegmentOp
	via, at [2]float32
	last    bool // the loop closes after it
}

func newRaster(pixels int) (*raster, error) {
	regular, err := newLetters(false)
	if err != nil {
		return nil, err
	}
	bold, err := newLetters(true)
	if err != nil {
		return nil, err
	}
	scale := float64(pixels) / pictureWidth
	height := int(pictureHeight * scale) // a row that the sheet fills in part would show through
	return &raster{
		image: image.NewNRGBA(image.Rect(0, 0, pixels, height)), scale: scale,
		regular: regular, bold: bold,
	}, nil
}

func (c *raster) layer(string) {}

// ink fills what was drawn since the last time. The rasteriser works on the whole
// of its field, so the field is no larger than the shape.
func (c *raster) ink(k color.NRGBA) {
	defer func() { c.strokes = c.strokes[:0] }()
	lo, hi := [2]float32{math.MaxFloat32, math.MaxFloat32}, [2]float32{-math.MaxFloat32, -math.MaxFloat32}
	for _, s := range c.strokes {
		for axis := range 2 {
			lo[axis] = min(lo[axis], s.at[axis], s.via[axis])
			hi[axis] = max(hi[axis], s.at[axis], s.via[axis])
		}
	}
	box := image.Rect(int(lo[0])-1, int(lo[1])-1, int(hi[0])+2, int(hi[1])+2).Intersect(c.image.Bounds())
	if len(c.strokes) == 0 || box.Empty() {
		return
	}
	c.pen.Reset(box.Dx(), box.Dy())
	x0, y0 := float32(box.Min.X), float32(box.Min.Y)
	for _, s := range c.strokes {
		switch x, y := s.at[0]-x0, s.at[1]-y0; s.op {
		case sfnt.SegmentOpMoveTo:
			c.pen.MoveTo(x, y)
		case sfnt.SegmentOpLineTo:
			c.pen.LineTo(x, y)
		default:
			c.pen.QuadTo(s.via[0]-x0, s.via[1]-y0, x, y)
		}
		if s.last {
			c.pen.ClosePath()
		}
	}
	c.pen.DrawOp = draw.Over
	c.pen.Draw(c.image, box, image.NewUniform(k), image.Point{})
}

func (c *raster) add(op sfnt.SegmentOp, via, at [2]float32) {
	c.strokes = append(c.strokes, penStroke{op: op, via: via, at: at})
}

func (c *raster) close() {
	if n := len(c.strokes); n > 0 {
		c.strokes[n-1].last = true
	}
}

func (c *raster) to(p r2.Vec) [2]float32 {
	return [2]float32{float32(p.X * c.scale), float32(p.Y * c.scale)}
}

// shape fills by winding, so holes are run against what they lie in.
func (c *raster) shape(loops []outline.Path, k ink) {
	const sag = 0.01 // mm: a tenth of a pixel
	if k.fill.A > 0 {
		for i, loop := range loops {
			chords := drawing.Chords(loop, sag)
			if hole := i > 0; len(chords) > 2 && (loop.Area() < 0) != hole {
				slices.Reverse(chords)
			}
			c.polygon(chords)
		}
		c.ink(k.fill)
	}
	if k.stroke.A == 0 {
		return
	}
	for _, loop := range loops {
		chords := drawing.Chords(loop, sag)
		if loop.Closed && len(chords) > 0 {
			chords = append(chords, chords[0])
		}
		for _, run := range dashed(chords, k.dash) {
			c.stroke(run, max(k.width, 0.9/c.scale))
		}
	}
	c.ink(k.stroke)
}

func (c *raster) polygon(p []r2.Vec) {
	for i, q := range p {
		op := sfnt.SegmentOpLineTo
		if i == 0 {
			op = sfnt.SegmentOpMoveTo
		}
		c.add(op, c.to(q), c.to(q))
	}
	c.close()
}

// stroke lays a bar along each chord and a round at each end; all are run the
// same way round, so that where they overlap they do not undo each other.
func (c *raster) stroke(chain []r2.Vec, width float64) {
	for i, p := range chain {
		c.polygon(drawing.Chords(outline.Circle(p, width/2), 0.02))
		if i == 0 {
			continue
		}
		a := chain[i-1]
		d := r2.Sub(p, a)
		if n := r2.Norm(d); n > 0 {
			side := r2.Scale(width/2/n, r2.Vec{X: -d.Y, Y: d.X})
			c.polygon([]r2.Vec{r2.Sub(a, side), r2.Sub(p, side), r2.Add(p, side), r2.Add(a, side)})
		}
	}
}

// dashed cuts a chain into the runs that a dash pattern shows.
func dashed(chain []r2.Vec, dash []float64) [][]r2.Vec {
	if len(dash) < 2 || len(chain) < 2 {
		return [][]r2.Vec{chain}
	}
	var runs [][]r2.Vec
	k, left := 0, dash[0]
	run := []r2.Vec{chain[0]}
	for i := 1; i < len(chain); i++ {
		a, b := chain[i-1], chain[i]
		for {
			d := r2.Norm(r2.Sub(b, a))
			if d <= left {
				left -= d
				if k%2 == 0 {
					run = append(run, b)
				}
				break
			}
			a = r2.Add(a, r2.Scale(left/d, r2.Sub(b, a)))
			if k%2 == 0 {
				runs = append(runs, append(run, a))
			}
			k++
			run, left = []r2.Vec{a}, dash[k%len(dash)]
		}
	}
	if k%2 == 0 && len(run) > 1 {
		runs = append(runs, run)
	}
	return runs
}

// text fills the outlines of the embedded font's letters.
func (c *raster) text(t lettering) {
	l := c.regular
	if t.bold {
		l = c.bold
	}
	x := 0.0
	switch t.anchor {
	case atMiddle:
		x = -l.width(t.text) * t.size / 2
	case atEnd:
		x = -l.width(t.text) * t.size
	}
	sin, cos := math.Sincos(t.turned)
	for _, r := range t.text {
		g, err := l.font.GlyphIndex(&l.buf, r)
		if err != nil {
			continue
		}
		segments, err := l.font.LoadGlyph(&l.buf, g, fix.I(unitsPerSize), nil)
		if err == nil {
			c.glyph(segments, func(p fix.Point26_6) [2]float32 {
				// Letters stand on the base line with y down, as the paper has it.
				u := x + float64(p.X)/64/unitsPerSize*t.size
				v := float64(p.Y) / 64 / unitsPerSize * t.size
				return c.to(r2.Vec{X: t.at.X + u*cos + v*sin, Y: t.at.Y - u*sin + v*cos})
			})
		}
		x += l.width(string(r)) * t.size
	}
	c.ink(t.color)
}

// glyph draws one letter. The embedded font has lines and quadratic curves only.
func (c *raster) glyph(segments sfnt.Segments, at func(fix.Point26_6) [2]float32) {
	for _, s := range segments {
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			c.close()
			fallthrough
		case sfnt.SegmentOpLineTo:
			c.add(s.Op, at(s.Args[0]), at(s.Args[0]))
		case sfnt.SegmentOpQuadTo:
			c.add(s.Op, at(s.Args[0]), at(s.Args[1]))
		}
	}
	c.close()
}
