package paper

import (
	"fmt"
	"image/color"
	"io"
	"strconv"
	"strings"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/outline"
	"gonum.org/v1/gonum/spatial/r2"
)

// A Background is what a picture stands on.
type Background uint8

const (
	Light Background = iota // for paper
	Dark                    // for a screen in a dim shop
)

// PictureOptions set out a picture. The zero value is light.
type PictureOptions struct {
	Background Background
}

func (o PictureOptions) validate() error {
	if o.Background > Dark {
		return &Error{"background", strconv.Itoa(int(o.Background)), "must be Light or Dark"}
	}
	return nil
}

// The picture is an A4 sheet, landscape, mm.
const (
	pictureWidth, pictureHeight = 297.0, 210.0
	margin                      = 8.0
	sideWidth                   = 86.0 // column of the folded part and the bends
	footHeight                  = 30.0
	labelSize                   = 2.2
)

// SVG draws the blank, dimensioned, with the folded part and a table of its bends
// beside it, on an A4 landscape sheet. It returns an [*Error] for a background that is neither
// light nor dark and for a blank with nothing to draw, or the error of w; what was written by then
// is no picture.
func SVG(w io.Writer, b flat.Blank, opt PictureOptions) error {
	if err := opt.validate(); err != nil {
		return err
	}
	s := newSVG(w, pictureWidth, pictureHeight, oneLine(b.Part.Name+" "+b.Part.Title))
	l, err := newLetters(false)
	if err != nil {
		return err
	}
	if err := drawPicture(s, b, palettes(opt.Background), l.onScreen); err != nil {
		return err
	}
	return s.close()
}

// drawPicture draws the sheet on any canvas. Width measures lettering at size 1.
func drawPicture(c canvas, b flat.Blank, p palette, width func(string) float64) error {
	d := drawing.Of(b)
	if _, ok := d.Bounds(); !ok {
		return &Error{"blank", "empty", "has nothing to draw"}
	}
	c.layer("SHEET")
	c.shape([]outline.Path{outline.Rect(r2.Vec{}, r2.Vec{X: pictureWidth, Y: pictureHeight})}, ink{fill: p.paper})
	pic := picture{c: c, b: b, d: d, p: p, width: width}
	pic.flat(pic.flatRoom())
	left := pictureWidth - margin - sideWidth
	top := pic.fold(r2.Box{Min: r2.Vec{X: left, Y: margin}, Max: r2.Vec{X: left + sideWidth, Y: 84}})
	top = pic.bends(left, top)
	pic.legend(left, top)
	pic.foot()
	return nil
}

// flatRoom is where the flat blank stands: clear of the words that forbid cutting it.
func (pic *picture) flatRoom() r2.Box {
	room := r2.Box{
		Min: r2.Vec{X: margin, Y: margin},
		Max: r2.Vec{X: pictureWidth - 2*margin - sideWidth, Y: pictureHeight - margin - footHeight},
	}
	if pic.d.NotForCutting {
		room.Min.Y = forbidden.Max.Y + margin/4
	}
	return room
}

// forbidden is the box of the words that forbid cutting.
var forbidden = r2.Box{Min: r2.Vec{X: margin, Y: margin}, Max: r2.Vec{X: margin + 76, Y: margin + 11}}

type picture struct {
	c     canvas
	b     flat.Blank
	d     drawing.Drawing
	p     palette
	width func(string) float64
	scale float64 // paper over metal
	left  []string
}

// scales are the reductions a picture is drawn at, paper over metal, so that a
// rule can be laid on it.
var scales = [...]float64{
	5, 4, 3, 2.5, 2, 1.5, 1, 1 / 1.25, 1 / 1.5, 1 / 2., 1 / 2.5, 1 / 3., 1 / 4., 1 / 5., 1 / 6., 1 / 8., 1 / 10., 1 / 12.5, 1 / 15., 1 / 20., 1 / 25.,
	1 / 30., 1 / 40., 1 / 50., 1 / 75., 1 / 100., 1 / 200., 1 / 500., 1 / 1000., 1 / 1e4, 1 / 1e5,
}

// flat draws the blank in a box of the sheet, at the largest of the scales that
// fits with its dimensions.
func (pic *picture) flat(room r2.Box) {
	size := room.Size()
	d := pic.d
	d.Labels = shortLabels(d.Labels, pic.width)
	bare, _ := d.Bounds()
	var laid drawing.Laid
	for _, s := range scales {
		if extent := bare.Size(); extent.X*s > size.X || extent.Y*s > size.Y {
			continue
		}
		laid = d.Lay(drawing.Style{Size: labelSize / s, Width: pic.width})
		pic.scale = s
		if extent := laid.Bounds.Size(); extent.X*s <= size.X && extent.Y*s <= size.Y {
			break
		}
	}
	// Centred in its room, y turned down.
	mid := r2.Scale(0.5, r2.Add(laid.Bounds.Min, laid.Bounds.Max))
	center := r2.Scale(0.5, r2.Add(room.Min, room.Max))
	onPaper := outline.Scale(r2.Vec{}, pic.scale).Then(outline.Mirror(r2.Vec{}, 0)).Then(outline.Translate(r2.Vec{X: center.X - pic.scale*mid.X, Y: center.Y + pic.scale*mid.Y}))
	pic.blank(onPaper)
	pic.c.layer("DIMENSIONS")
	for _, t := range laid.Thin {
		pic.c.shape([]outline.Path{t.Transform(onPaper)}, ink{stroke: pic.p.faint, width: 0.1})
	}
	for _, t := range laid.Lines {
		pic.c.shape([]outline.Path{t.Transform(onPaper)}, ink{stroke: pic.p.text, width: 0.16})
	}
	pic.c.layer(drawing.Note.String())
	for _, t := range laid.Texts {
		pic.letter(t, onPaper)
	}
	pic.left = laid.Left
}

// letter sets a laid text: its frame is 1.25 sizes high, and the base line stands
// about a third of a size below the middle.
func (pic *picture) letter(t drawing.LaidText, onPaper outline.Affine) {
	// Thin lines may run under lettering, so it stands on a patch of its ground.
	ground := pic.p.paper
	if pic.b.Outline.Side(t.Center) == outline.Inside {
		ground = pic.p.metal
	}
	corners := t.Corners()
	pic.c.shape([]outline.Path{outline.Polygon(corners[:]...).Transform(onPaper)}, ink{fill: ground})
	down := r2.Vec{X: t.Along.Y, Y: -t.Along.X}
	base := r2.Add(t.Center, r2.Scale(0.36*labelSize/pic.scale, down))
	pic.c.text(lettering{
		at: onPaper.Apply(base), size: labelSize, turned: angleOf(t.Along), anchor: atMiddle,
		color: pic.p.text, text: oneLine(t.Text),
	})
}

// blank fills the sheet that is left, tints the bends by their way, and draws the
// lines of each layer.
func (pic *picture) blank(onPaper outline.Affine) {
	sheet := []outline.Path{pic.b.Outline.Transform(onPaper)}
	for _, c := range pic.b.Cutouts {
		sheet = append(sheet, c.Path.Transform(onPaper))
	}
	for _, h := range pic.b.Holes {
		sheet = append(sheet, outline.Circle(h.Center, h.Diameter/2).Transform(onPaper))
	}
	pic.c.layer("METAL")
	pic.c.shape(sheet, ink{fill: pic.p.metal})
	for _, l := range pic.b.Bends {
		pic.c.shape([]outline.Path{zonePath(l).Transform(onPaper)}, ink{fill: pic.p.way(l.Turn)})
	}
	for _, layer := range drawing.Layers() {
		k, shown := pic.p.lines(layer)
		if !shown {
			continue
		}
		named := false
		put := func(path outline.Path) {
			if !named {
				pic.c.layer(layer.String() + "_LINES")
				named = true
			}
			pic.c.shape([]outline.Path{path.Transform(onPaper)}, k)
		}
		for _, path := range pic.d.Paths {
			if path.Layer == layer {
				put(path.Path)
			}
		}
		for _, c := range pic.d.Circles {
			if c.Layer == layer {
				put(outline.Circle(c.Center, c.Diameter/2))
			}
		}
	}
}

// zonePath is the metal between the tangent lines.
func zonePath(l flat.BendLine) outline.Path {
	zone := outline.Path{Closed: true}
	zone.Vertices = append(zone.Vertices, l.Near.Vertices...)
	return outline.Path{Closed: true, Vertices: append(zone.Vertices, l.Far.Reverse().Vertices...)}
}

// fold draws the folded part in a box and returns where the next thing may start.
func (pic *picture) fold(room r2.Box) float64 {
	pic.c.layer("FOLDED")
	pic.heading("FOLDED, seen from the marking side", room.Min.X, room.Min.Y+3)
	room.Min.Y += 6
	f, err := fold3D(pic.b)
	size := room.Size()
	if err != nil || !(f.of.X > 0) || !(f.of.Y > 0) {
		pic.say("not drawn: the blank does not fold", room.Min.X, room.Min.Y+4)
		return room.Min.Y + 8
	}
	scale := min(size.X/f.of.X, size.Y/f.of.Y)
	origin := r2.Vec{
		X: room.Min.X + (size.X-scale*f.of.X)/2 - scale*f.min.X,
		Y: room.Min.Y + scale*(f.of.Y+f.min.Y),
	}
	onPaper := outline.Scale(r2.Vec{}, scale).Then(outline.Mirror(r2.Vec{}, 0)).Then(outline.Translate(origin))
	for _, face := range f.faces {
		loops := make([]outline.Path, len(face.loops))
		for i, l := range face.loops {
			loops[i] = l.Transform(onPaper)
		}
		// A hairline of its own colour closes the seam to the next face.
		shade := pic.p.shade(face.light, face.of)
		pic.c.shape(loops, ink{fill: shade, stroke: shade, width: 0.08})
	}
	lines := func(all []outline.Path, k ink) {
		for _, l := range all {
			pic.c.shape([]outline.Path{l.Transform(onPaper)}, k)
		}
	}
	lines(f.hidden, ink{stroke: pic.p.text, width: 0.12, dash: []float64{0.9, 0.7}})
	lines(f.bends, ink{stroke: pic.p.text, width: 0.07})
	lines(f.edges, ink{stroke: pic.p.line, width: 0.2})
	return room.Min.Y + scale*f.of.Y + 8
}

func (pic *picture) heading(s string, x, y float64) {
	pic.c.text(lettering{at: r2.Vec{X: x, Y: y}, size: 2.6, bold: true, color: pic.p.text, text: s})
}

func (pic *picture) say(s string, x, y float64) {
	pic.c.text(lettering{at: r2.Vec{X: x, Y: y}, size: labelSize, color: pic.p.text, text: oneLine(s)})
}

// bends letters the table of bends, as many as there is room for.
func (pic *picture) bends(x, y float64) float64 {
	pic.c.layer("BENDS")
	pic.heading("BENDS", x, y)
	columns := []float64{0, 5, 27, 40, 54, 66}
	heads := []string{"", "flange", "turned", "legs", "radius in [mm]", ""}
	row := func(y float64, cells []string, c color.NRGBA) {
		for i, cell := range cells {
			pic.c.text(lettering{at: r2.Vec{X: x + columns[i], Y: y}, size: labelSize, color: c, text: cell})
		}
	}
	y += 4.2
	row(y, heads[:5], pic.p.faint)
	y += 3.6
	shown := 0
	bottom := pictureHeight - footHeight - margin - 30
	all := ends(pic.b, false)
	for _, e := range all {
		if y > bottom {
			break
		}
		shown++
		swatch := outline.Rect(r2.Vec{X: x + 0.2, Y: y - 2}, r2.Vec{X: x + 3.4, Y: y + 0.4})
		pic.c.shape([]outline.Path{swatch}, ink{fill: pic.p.way(e.line.Turn)})
		a := e.at.Angle
		row(y, []string{e.no, pic.clip(e.name, 21), a.String(), a.Opening().String(), drawing.Dual(e.at.Radius)}, pic.p.text)
		y += 3.4
	}
	if n := len(all); shown < n {
		row(y, []string{"", fmt.Sprintf("and %d more on the bench card", n-shown)}, pic.p.text)
		y += 3.4
	}
	return y + 4
}

// clip shortens a name to a width on paper, with a mark that it did.
func (pic *picture) clip(s string, room float64) string {
	return clipped(s, pic.width, room/labelSize)
}

// legend explains lines and tints.
func (pic *picture) legend(x, y float64) {
	pic.c.layer("LEGEND")
	if y > pictureHeight-footHeight-margin-24 {
		y = pictureHeight - footHeight - margin - 24
	}
	pic.heading("LINES", x, y)
	y += 4
	shown := 0
	for _, l := range []struct {
		layer drawing.Layer
		text  string
		every bool // also where there is none
	}{
		{drawing.Cut, "cut", true}, {drawing.Hole, "hole", true}, {drawing.BendTangent, "bend tangent", true}, {drawing.BendCenter, "bend centre", true},
		{drawing.Sight, "sight line", true}, {drawing.Mold, "mold line of web", true}, {drawing.Mark, "to mark, not to cut", false},
	} {
		if _, there := pic.d.Bounds(l.layer); !there && !l.every {
			continue
		}
		k, _ := pic.p.lines(l.layer)
		at := r2.Vec{X: x + float64(shown%2)*43, Y: y + float64(shown/2)*3.6}
		pic.c.shape([]outline.Path{lineOf(r2.Vec{X: at.X, Y: at.Y - 0.8}, r2.Vec{X: at.X + 9, Y: at.Y - 0.8})}, k)
		pic.say(l.text, at.X+11, at.Y)
		shown++
	}
	y += float64((shown+1)/2) * 3.6
	for i, turn := range []flat.Turn{flat.Up, flat.Down} {
		at := r2.Vec{X: x + float64(i)*43, Y: y}
		pic.c.shape([]outline.Path{outline.Rect(r2.Vec{X: at.X, Y: at.Y - 2}, r2.Vec{X: at.X + 9, Y: at.Y + 0.3})}, ink{fill: pic.p.way(turn)})
		pic.say("bends "+turn.String(), at.X+11, at.Y)
	}
}

// foot is the title block: name, sheet, scale, findings and cautions.
func (pic *picture) foot() {
	pic.c.layer("TITLE")
	top := pictureHeight - margin - footHeight + 4
	pic.c.shape([]outline.Path{lineOf(r2.Vec{X: margin, Y: top}, r2.Vec{X: pictureWidth - margin, Y: top})}, ink{stroke: pic.p.line, width: 0.25})
	y := top + 6
	// The name ends before the scale.
	const nameSize, scaleAt = 4.6, 140.0
	pic.c.text(lettering{at: r2.Vec{X: margin, Y: y}, size: nameSize, bold: true, color: pic.p.text, text: pic.clip(oneLine(pic.d.Name), (scaleAt-margin-4)*labelSize/(boldWider*nameSize))})
	pic.say(scaleText(pic.scale)+" on A4. Lengths inch [mm]. Marking face up, seen from it.", scaleAt, y-2)
	y += 4.2
	lines := pic.d.Notes
	for i, n := range lines {
		column, rowNo := 0.0, i
		if i >= 4 {
			column, rowNo = 132, i-3
		}
		pic.say(pic.clip(oneLine(n), pictureWidth-2*margin-column), margin+column, y+float64(rowNo)*3.4)
	}
	if len(pic.left) > 0 {
		pic.say(pic.clip(oneLine("No room here, see the bench card: "+strings.Join(pic.left, "; ")), pictureWidth-2*margin), margin, y+4*3.4)
	}
	if pic.d.NotForCutting {
		pic.c.layer("STOP")
		box := outline.Rect(forbidden.Min, forbidden.Max)
		pic.c.shape([]outline.Path{box}, ink{fill: pic.p.stop})
		pic.c.text(lettering{at: r2.Vec{X: margin + 38, Y: margin + 8}, size: 7, bold: true, anchor: atMiddle, color: pic.p.paper, text: flat.NotForCutting})
	}
}

func scaleText(s float64) string {
	if s >= 1 {
		return "Scale " + strconv.FormatFloat(s, 'g', 6, 64) + ":1"
	}
	return "Scale 1:" + strconv.FormatFloat(1/s, 'g', 6, 64)
}
