package paper

import (
	"fmt"
	"math"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// A sheet draws one page of a pattern after another.
type sheet struct {
	p     *pdf
	b     flat.Blank
	d     drawing.Drawing
	t     tiling
	laid  drawing.Laid
	ink   palette
	width func(string) float64
}

func (s *sheet) draw(row, column int) {
	s.p.page(s.t.width, s.t.height)
	s.pattern(row, column)
	s.marks(row, column)
	s.bars()
	s.foot(row, column)
}

// pattern draws the part of the blank that falls on this sheet.
func (s *sheet) pattern(row, column int) {
	corner := r2.Vec{X: unprinted + barStrip, Y: unprinted}
	w, h := s.t.tile.X*s.t.zoom.X, s.t.tile.Y*s.t.zoom.Y
	s.p.endLayer()
	s.p.f.ClipRect(corner.X, corner.Y, w, h, false)
	for _, layer := range drawing.Layers() {
		k, shown := s.ink.lines(layer)
		if !shown {
			continue
		}
		k.width = patternWidth(layer)
		s.p.layer(layer.String())
		for _, p := range s.d.Paths {
			if p.Layer == layer {
				s.p.shape([]outline.Path{s.t.path(p.Path, row, column)}, k)
			}
		}
		for _, c := range s.d.Circles {
			if c.Layer == layer {
				s.p.shape([]outline.Path{s.t.path(outline.Circle(c.Center, c.Diameter/2), row, column)}, k)
				s.cross(c, row, column)
			}
		}
	}
	place := s.t.place(row, column)
	s.p.layer(drawing.Note.String())
	for _, l := range s.laid.Thin {
		s.p.shape([]outline.Path{s.t.path(l, row, column)}, ink{stroke: s.ink.faint, width: 0.1})
	}
	for _, t := range s.laid.Texts {
		down := r2.Vec{X: t.Along.Y, Y: -t.Along.X}
		s.p.text(lettering{
			at: place(r2.Add(t.Center, r2.Scale(0.36*patternSize, down))), size: patternSize, turned: angleOf(t.Along), anchor: atMiddle,
			color: s.ink.text, text: oneLine(t.Text),
		})
	}
	if s.b.Stopped() {
		s.p.text(lettering{at: r2.Vec{X: corner.X + w/2, Y: corner.Y + h/2}, size: 15, turned: 0.6, anchor: atMiddle, bold: true, color: s.ink.stop, text: flat.NotForCutting})
		s.p.text(lettering{at: r2.Vec{X: corner.X + 2, Y: corner.Y + 6}, size: 5, bold: true, color: s.ink.stop, text: flat.NotForCutting + ": see the bench card"})
	}
	s.p.endLayer()
	s.p.f.ClipEnd()
}

// patternWidth is thin enough to set a scriber on: the middle of the line counts.
func patternWidth(l drawing.Layer) float64 {
	if l == drawing.Cut || l == drawing.Block {
		return 0.25
	}
	return 0.15
}

// cross marks the centre of a hole for the punch.
func (s *sheet) cross(c drawing.Circle, row, column int) {
	for _, line := range crossOf(c) {
		s.p.shape([]outline.Path{s.t.path(line, row, column)}, ink{stroke: s.ink.line, width: 0.1})
	}
}

func crossOf(c drawing.Circle) []outline.Path {
	arm := min(max(c.Diameter, 2), 10)
	x, y := r2.Vec{X: arm}, r2.Vec{Y: arm}
	return []outline.Path{
		outline.Polyline(r2.Sub(c.Center, x), r2.Add(c.Center, x)), outline.Polyline(r2.Sub(c.Center, y), r2.Add(c.Center, y)),
	}
}

// crosses are the centre marks of all holes of a drawing.
func crosses(d drawing.Drawing) []outline.Path {
	var all []outline.Path
	for _, c := range d.Circles {
		all = append(all, crossOf(c)...)
	}
	return all
}

// A matchMark stands at the same place of the pattern on two sheets: lay one on the
// other.
type matchMark struct {
	at   r2.Vec
	name string
}

const markRadius = 1.8

// marks are those in the overlaps of a sheet.
func (t tiling) marks(row, column int) []matchMark {
	w := t.window(row, column)
	half := t.lap / 2
	var all []matchMark
	for _, part := range []struct {
		name string
		of   float64
	}{{"a", 0.25}, {"b", 0.75}} {
		y, x := w.Min.Y+part.of*t.tile.Y, w.Min.X+part.of*t.tile.X
		if column > 0 {
			all = append(all, matchMark{r2.Vec{X: w.Min.X + half, Y: y}, t.label(row, column-1) + "-" + t.label(row, column) + part.name})
		}
		if column+1 < t.columns {
			all = append(all, matchMark{r2.Vec{X: w.Max.X - half, Y: y}, t.label(row, column) + "-" + t.label(row, column+1) + part.name})
		}
		if row > 0 {
			all = append(all, matchMark{r2.Vec{X: x, Y: w.Max.Y - half}, t.label(row-1, column) + "-" + t.label(row, column) + part.name})
		}
		if row+1 < t.rows {
			all = append(all, matchMark{r2.Vec{X: x, Y: w.Min.Y + half}, t.label(row, column) + "-" + t.label(row+1, column) + part.name})
		}
	}
	return all
}

// marks draws the border of the sheet's part and the marks in its overlaps.
func (s *sheet) marks(row, column int) {
	s.p.layer("SHEETS")
	w := s.t.window(row, column)
	border := s.t.path(outline.Rect(w.Min, w.Max), row, column)
	s.p.shape([]outline.Path{border}, ink{stroke: s.ink.faint, width: 0.1, dash: []float64{2, 2}})
	k := ink{stroke: s.ink.sight, width: 0.15}
	for _, m := range s.t.marks(row, column) {
		for _, v := range []r2.Vec{{X: 2 * markRadius}, {Y: 2 * markRadius}} {
			s.p.shape([]outline.Path{s.t.path(outline.Polyline(r2.Sub(m.at, v), r2.Add(m.at, v)), row, column)}, k)
		}
		s.p.shape([]outline.Path{s.t.path(outline.Circle(m.at, markRadius), row, column)}, k)
		s.p.text(lettering{at: r2.Add(s.t.place(row, column)(m.at), r2.Vec{Y: -4}), size: 2, anchor: atMiddle, color: s.ink.sight, text: m.name})
	}
}

// bars draws 100 mm across and upright, and 4 in across, all corrected as the
// pattern is.
func (s *sheet) bars() {
	s.p.layer("BARS")
	foot := s.t.height - unprinted - footStrip
	x := unprinted + barStrip
	s.bar(r2.Vec{X: x, Y: foot + 7}, r2.Vec{X: barLength * s.t.zoom.X}, "100 mm")
	s.bar(r2.Vec{X: x, Y: foot + 14}, r2.Vec{X: 4 * measure.Inch * s.t.zoom.X}, "4 in")
	s.bar(r2.Vec{X: unprinted + 5, Y: unprinted + barLength*s.t.zoom.Y}, r2.Vec{Y: -barLength * s.t.zoom.Y}, "100 mm")
	s.p.text(lettering{at: r2.Vec{X: x, Y: foot + 20}, size: 2.8, bold: true, color: s.ink.text,
		text: "MEASURE THESE BARS, AND THE UPRIGHT ONE, BEFORE YOU CUT."})
	words := "Print at actual size: any fitting to the page shrinks the part."
	if s.t.zoom != (r2.Vec{X: 1, Y: 1}) {
		words = fmt.Sprintf("Corrected for a printer whose 100 mm bars measured %s and %s mm.", measured(s.t.measured.X), measured(s.t.measured.Y))
	}
	s.p.text(lettering{at: r2.Vec{X: x, Y: foot + 24}, size: footSize, color: s.ink.text, text: words})
	s.p.text(lettering{at: r2.Vec{X: x, Y: foot + 27.5}, size: footSize, color: s.ink.text,
		text: "Paper moves with the weather. The cut is the middle of the line. Approved data governs."})
}

func measured(x float64) string {
	if x == 0 {
		x = barLength
	}
	return measure.Fixed(x, 2)
}

// bar draws a bar of exactly the length given between the middles of its end
// ticks, which stand square to it.
func (s *sheet) bar(from, length r2.Vec, name string) {
	k := ink{stroke: s.ink.line, width: 0.2}
	to := r2.Add(from, length)
	tick := r2.Scale(2/r2.Norm(length), r2.Vec{X: -length.Y, Y: length.X})
	s.p.shape([]outline.Path{lineOf(from, to), lineOf(r2.Sub(from, tick), r2.Add(from, tick)), lineOf(r2.Sub(to, tick), r2.Add(to, tick))}, k)
	mid := r2.Scale(0.5, r2.Add(from, to))
	t := lettering{at: r2.Vec{X: mid.X, Y: mid.Y - 0.8}, size: 2.6, anchor: atMiddle, color: s.ink.text, text: name}
	if length.X == 0 {
		t.at, t.turned = r2.Vec{X: mid.X - 0.8, Y: mid.Y}, math.Pi/2
	}
	s.p.text(t)
}

// footSize is that of the words in the foot, mm.
const footSize = 2.4

// leastMap is the width of a map of sheets that can be read, mm.
const leastMap = 5.0

// foot names the sheet and shows where it belongs.
func (s *sheet) foot(row, column int) {
	s.p.layer("TITLE")
	right := s.t.width - unprinted
	top := s.t.height - unprinted - footStrip + 3
	x := unprinted + barStrip + 4*measure.Inch*s.t.zoom.X + 5
	s.p.text(lettering{at: r2.Vec{X: x, Y: top + 9}, size: 9, bold: true, color: s.ink.text, text: s.t.label(row, column)})
	// The words are cut short where they would leave the sheet.
	room := (right - x) / footSize
	say := func(y float64, t string) {
		s.p.text(lettering{at: r2.Vec{X: x, Y: top + y}, size: footSize, color: s.ink.text, text: clipped(t, s.width, room)})
	}
	say(14, fmt.Sprintf("row %d of %d, column %d of %d", row+1, s.t.rows, column+1, s.t.columns))
	for i, n := range []string{oneLine(s.d.Name), drawing.SheetText(s.b.Part.Sheet), "Marking face up. Scale 1:1"} {
		say(18.5+3.1*float64(i), n)
	}
	s.mapOf(row, column, r2.Box{Min: r2.Vec{X: max(x+28, right-34), Y: top}, Max: r2.Vec{X: right, Y: top + 15}})
}

// mapOf draws how the sheets lie together, this one filled. A narrow roll has no room for it.
func (s *sheet) mapOf(row, column int, room r2.Box) {
	if room.Max.X-room.Min.X < leastMap {
		return
	}
	all := s.t.window(0, 0)
	all = drawing.Join(all, s.t.window(s.t.rows-1, s.t.columns-1))
	size, have := all.Size(), room.Size()
	scale := min(have.X/size.X, have.Y/size.Y)
	onPaper := outline.Translate(r2.Scale(-1, all.Min)).Then(outline.Scale(r2.Vec{}, scale)).Then(outline.Mirror(r2.Vec{}, 0)).
		Then(outline.Translate(r2.Vec{X: room.Max.X - scale*size.X, Y: room.Min.Y + scale*size.Y}))
	w := s.t.window(row, column)
	s.p.shape([]outline.Path{outline.Rect(w.Min, w.Max).Transform(onPaper)}, ink{fill: s.ink.up})
	for r := range s.t.rows {
		for c := range s.t.columns {
			w := s.t.window(r, c)
			s.p.shape([]outline.Path{outline.Rect(w.Min, w.Max).Transform(onPaper)}, ink{stroke: s.ink.faint, width: 0.08})
		}
	}
	s.p.shape([]outline.Path{s.b.Outline.Transform(onPaper)}, ink{stroke: s.ink.line, width: 0.15})
}
