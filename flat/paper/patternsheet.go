package paper

import (
	"fmt"
	"math"
	"slices"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// A sheet draws one page of a pattern after another.
type sheet struct {
	p     *pdf
	d     drawing.Drawing
	t     tiling
	laid  drawing.Laid
	ink   palette
	width func(string) float64
	words []string // in the foot of every sheet
	apart bool     // the notes stand on a sheet of their own
}

func (s *sheet) draw(row, column int) {
	s.p.page(s.t.width, s.t.height)
	s.pattern(row, column)
	s.marks(row, column)
	s.bars()
	s.foot(row, column)
}

// shown tells of each sheet, row by row, whether it shows anything: a line, metal
// between lines, or lettering that is whole on no other.
func (s *sheet) shown() []bool {
	all := make([]bool, s.t.rows*s.t.columns)
	lines := s.chains()
	for i := range all {
		w := s.t.window(i/s.t.columns, i%s.t.columns)
		all[i] = entered(w, lines) || s.metal(w.Center())
	}
	for _, t := range s.laid.Texts {
		corners := t.Corners()
		first := -1
		for i := range all {
			w := s.t.window(i/s.t.columns, i%s.t.columns)
			if slices.ContainsFunc(corners[:], func(p r2.Vec) bool { return !holds(w, p) }) {
				continue
			}
			if first < 0 || all[i] {
				first = i
			}
		}
		if first >= 0 {
			all[first] = true
		}
	}
	return all
}

// holds reports whether a point lies in a box, or on its edge.
func holds(b r2.Box, p r2.Vec) bool {
	return b.Min.X <= p.X && p.X <= b.Max.X && b.Min.Y <= p.Y && p.Y <= b.Max.Y
}

// metal reports whether a point lies within what is cut, and in no opening of it.
func (s *sheet) metal(p r2.Vec) bool {
	in := false
	for _, c := range s.d.Paths {
		if c.Layer == drawing.Cut && c.Closed && c.Side(p) == outline.Inside {
			in = !in
		}
	}
	return in
}

// chains are the lines of the drawing as chords.
func (s *sheet) chains() [][]r2.Vec {
	const sag = 0.1 // mm
	all := make([][]r2.Vec, 0, len(s.d.Paths)+len(s.d.Circles))
	add := func(p outline.Path) {
		chords := drawing.Chords(p, sag)
		if p.Closed && len(chords) > 0 {
			chords = append(chords, chords[0])
		}
		all = append(all, chords)
	}
	for _, p := range s.d.Paths {
		add(p.Path)
	}
	for _, c := range s.d.Circles {
		add(outline.Circle(c.Center, c.Diameter/2))
	}
	return all
}

// entered reports whether a line of the chains enters a box.
func entered(box r2.Box, chains [][]r2.Vec) bool {
	window := drawing.Frame{Center: box.Center(), Along: r2.Vec{X: 1}, Half: r2.Scale(0.5, box.Size())}
	for _, chain := range chains {
		for i := 1; i < len(chain); i++ {
			d := r2.Sub(chain[i], chain[i-1])
			length := r2.Norm(d)
			if !(length > 0) {
				continue
			}
			line := drawing.Frame{Center: r2.Add(chain[i-1], r2.Scale(0.5, d)), Along: r2.Scale(1/length, d), Half: r2.Vec{X: length / 2}}
			if window.Overlaps(line) {
				return true
			}
		}
	}
	return false
}

// pattern draws the part of the drawing that falls on this sheet.
func (s *sheet) pattern(row, column int) {
	corner := r2.Vec{X: unprinted + barStrip, Y: unprinted}
	w, h := s.t.tile.X*s.t.zoom.X, s.t.tile.Y*s.t.zoom.Y
	s.p.endLayer()
	s.p.f.ClipRect(corner.X, corner.Y, w, h, false)
	room := s.t.window(row, column)
	for _, layer := range drawing.Layers() {
		k, shown := s.ink.lines(layer)
		if !shown {
			continue
		}
		s.p.layer(layer.String())
		draw := func(p outline.Path, k ink) {
			if meet(p.Bounds(), room) {
				s.p.shape([]outline.Path{s.t.path(p, row, column)}, k)
			}
		}
		for _, p := range s.d.Paths {
			if p.Layer == layer {
				draw(p.Path, onPattern(k, layer, p.Length()))
			}
		}
		for _, c := range s.d.Circles {
			if c.Layer == layer {
				draw(outline.Circle(c.Center, c.Diameter/2), onPattern(k, layer, 0))
				for _, line := range crossOf(c) { // for the punch
					draw(line, ink{stroke: s.ink.line, width: 0.1})
				}
			}
		}
	}
	s.lettering(row, column)
	if s.d.NotForCutting {
		s.p.text(lettering{at: r2.Vec{X: corner.X + w/2, Y: corner.Y + h/2}, size: 15, turned: 0.6, anchor: atMiddle, bold: true, color: s.ink.stop, text: flat.NotForCutting})
		s.p.text(lettering{at: r2.Vec{X: corner.X + 2, Y: corner.Y + 6}, size: 5, bold: true, color: s.ink.stop, text: flat.NotForCutting + ": see the bench card"})
	}
	s.p.endLayer()
	s.p.f.ClipEnd()
}

// meet reports whether two boxes share a point.
func meet(a, b r2.Box) bool {
	return a.Min.X <= b.Max.X && b.Min.X <= a.Max.X && a.Min.Y <= b.Max.Y && b.Min.Y <= a.Max.Y
}

// lettering draws what stands on this sheet of the labels, with their leaders.
func (s *sheet) lettering(row, column int) {
	place := s.t.place(row, column)
	w := s.t.window(row, column)
	window := drawing.Frame{Center: w.Center(), Along: r2.Vec{X: 1}, Half: r2.Scale(0.5, w.Size())}
	s.p.layer(drawing.Note.String())
	for _, l := range s.laid.Thin {
		s.p.shape([]outline.Path{s.t.path(l, row, column)}, ink{stroke: s.ink.faint, width: 0.1})
	}
	for _, t := range s.laid.Texts {
		if !window.Overlaps(t.Frame) {
			continue
		}
		down := r2.Vec{X: t.Along.Y, Y: -t.Along.X}
		s.p.text(lettering{
			at: place(r2.Add(t.Center, r2.Scale(0.36*patternSize, down))), size: patternSize, turned: angleOf(t.Along), anchor: atMiddle,
			color: s.ink.text, text: oneLine(t.Text),
		})
	}
}

// onPattern is how a line of a layer and a length is drawn: thin enough to set a scriber
// on, for the middle of it counts, and unlike the cut line that may run close beside it, on a
// printer without colours too.
func onPattern(k ink, l drawing.Layer, length float64) ink {
	const short = 20 // mm: the cross of a relief, an arrow
	k.width = 0.15
	switch {
	case l == drawing.Cut:
		k.width = 0.25
	case l == drawing.Block:
		k.width, k.dash = 0.25, []float64{8, 1.2}
	case l == drawing.Note && length > short:
		k.dash = []float64{1.5, 1}
	}
	return k
}

// crossOf marks the centre of a hole for the punch.
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

// footLeft is where the words of the foot begin, beside the bars.
func (t tiling) footLeft() float64 { return unprinted + barStrip + 4*measure.Inch*t.zoom.X + 5 }

// footRoom is how long its words may be, in sizes.
func (t tiling) footRoom() float64 { return (t.width - unprinted - t.footLeft()) / footSize }

// footLines is how many of them there is room for.
const footLines = 3

// footWords are the words in the foot of every sheet, the name and the notes, and whether
// the notes found no room there.
func (s *sheet) footWords() (words []string, apart bool) {
	words = []string{oneLine(s.d.Name)}
	for _, n := range s.d.Notes {
		n = oneLine(n)
		words = append(words, n)
		apart = apart || s.width(n) > s.t.footRoom()
	}
	if apart || len(words) > footLines {
		return []string{words[0], oneLine(s.d.Title), "Scale 1:1. Notes: on the last sheet"}, true
	}
	return words, false
}

// foot names the sheet and shows where it belongs.
func (s *sheet) foot(row, column int) {
	s.p.layer("TITLE")
	right := s.t.width - unprinted
	top := s.t.height - unprinted - footStrip + 3
	x := s.t.footLeft()
	s.p.text(lettering{at: r2.Vec{X: x, Y: top + 9}, size: 9, bold: true, color: s.ink.text, text: s.t.label(row, column)})
	// The words are cut short where they would leave the sheet.
	room := s.t.footRoom()
	say := func(y float64, t string) {
		s.p.text(lettering{at: r2.Vec{X: x, Y: top + y}, size: footSize, color: s.ink.text, text: clipped(t, s.width, room)})
	}
	say(14, fmt.Sprintf("row %d of %d, column %d of %d", row+1, s.t.rows, column+1, s.t.columns))
	for i, n := range s.words {
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
	for _, p := range s.d.Paths {
		if p.Layer == drawing.Cut || p.Layer == drawing.Block {
			s.p.shape([]outline.Path{p.Transform(onPaper)}, ink{stroke: s.ink.line, width: 0.15})
		}
	}
}
