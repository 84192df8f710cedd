package paper

import (
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// A Paper is a sheet to print on.
type Paper uint8

const (
	A4 Paper = iota
	A3
	Letter // 8 1/2 by 11 in
	Roll   // of the width given, as long as the pattern
)

// PatternOptions set out a full-size pattern. The zero value prints on A4.
type PatternOptions struct {
	Paper     Paper
	RollWidth float64 // of a Roll, mm
	// Overlap is how much of the pattern neighbouring sheets both show, mm. Zero
	// takes 12 mm.
	Overlap float64
	// Measured is what the 100 mm bars of an earlier print measured, along x (the
	// bar across the sheet) and y, mm. The pattern is then drawn larger or smaller
	// to make up for the printer. Zero prints as it is.
	Measured r2.Vec
}

const (
	unprinted   = 7.0  // border a printer may not reach, mm
	barStrip    = 10.0 // left of the pattern, for the upright bar
	footStrip   = 30.0 // below it, for the bars, the map and the words
	barLength   = 100.0
	defaultLap  = 12.0
	patternRoom = 4.0 // kept clear round the blank
)

func (o PatternOptions) validate() error {
	var faults []error
	fault := func(field string, x float64, rule string) {
		faults = append(faults, &Error{field, fmt.Sprintf("%g mm", x), rule})
	}
	if o.Paper > Roll {
		faults = append(faults, &Error{"paper", strconv.Itoa(int(o.Paper)), "must be A4, A3, Letter or Roll"})
	}
	if o.Paper == Roll && !(150 <= o.RollWidth && o.RollWidth <= 2000) {
		fault("roll width", o.RollWidth, "must be 150 to 2000 mm")
	}
	if !(o.Overlap == 0 || 5 <= o.Overlap && o.Overlap <= 40) {
		fault("overlap", o.Overlap, "must be 5 to 40 mm, or 0 for 12 mm")
	}
	for _, m := range []struct {
		field string
		x     float64
	}{{"measured bar, x", o.Measured.X}, {"measured bar, y", o.Measured.Y}} {
		if !(m.x == 0 || 90 <= m.x && m.x <= 110) {
			fault(m.field, m.x, "must be what the 100 mm bar measured, 90 to 110 mm: for more, set the printer to actual size first")
		}
	}
	return errors.Join(faults...)
}

// zoom is how much larger to draw, each way, so that the print comes out true.
func (o PatternOptions) zoom() r2.Vec {
	z := r2.Vec{X: 1, Y: 1}
	if o.Measured.X != 0 {
		z.X = barLength / o.Measured.X
	}
	if o.Measured.Y != 0 {
		z.Y = barLength / o.Measured.Y
	}
	return z
}

// Pattern prints the blank at full size for hand layout: on as many sheets as it
// takes, with overlap, match marks, a map of the sheets, and bars of 100 mm and
// 4 in on each to measure before cutting. Set the printer to actual size.
//
// Errors: an [*Error] for each option out of its range, for a blank with nothing to draw and for a
// pattern of too many sheets; or that of w.
func Pattern(w io.Writer, b flat.Blank, opt PatternOptions) error {
	d := drawing.Of(b)
	d.Notes = []string{drawing.SheetText(b.Part.Sheet), "Marking face up. Scale 1:1"} // the card has the others
	return PatternOf(w, d, opt)
}

// PatternOf prints a drawing at full size, as [Pattern] does a blank: a form block, a
// ring in pieces, a patch, anything flat. All of its layers are printed, and its
// labels; dimensions are not, for a rule can be laid on the print. Sheets that
// would show neither a line nor metal are left out.
//
// Notes that find room in the foot stand on every sheet. Where they find none they
// follow on a sheet of their own, with what each kind of line is.
//
// Lines come out within 0.004 mm of the drawing, arcs within 5 millionths of their radius
// besides. A drawing without paths and circles, or with
// one that lies farther than 10 km from the origin, is an [*Error].
func PatternOf(w io.Writer, d drawing.Drawing, opt PatternOptions) error {
	if err := opt.validate(); err != nil {
		return err
	}
	box, ok := d.Bounds()
	if !ok {
		return &Error{"drawing", "empty", "has nothing to draw"}
	}
	if err := inReach(box); err != nil {
		return err
	}
	l, err := newLetters(false)
	if err != nil {
		return err
	}
	laid, t := layPattern(d, opt, l.width)
	if err := inReach(t.box); err != nil {
		return err
	}
	if n := t.columns * t.rows; n > mostSheets {
		return &Error{"pattern", fmt.Sprintf("%d sheets", n), fmt.Sprintf("must be at most %d: take larger paper", mostSheets)}
	}
	p := newPDF(oneLine(d.Name) + " full size")
	s := sheet{p: p, d: d, t: t, laid: laid, ink: palettes(Light), width: l.width}
	s.words, s.apart = s.footWords()
	for i, shown := range s.shown() {
		if shown {
			s.draw(i/t.columns, i%t.columns)
		}
	}
	if s.apart {
		s.notes()
	}
	return p.write(w)
}

// inReach refuses what lies so far off that its sheets cannot be counted.
func inReach(box r2.Box) error {
	const most = 1e7 // mm
	for _, x := range []float64{box.Min.X, box.Min.Y, box.Max.X, box.Max.Y} {
		if !(math.Abs(x) <= most) {
			return &Error{"drawing", fmt.Sprintf("%g mm", x), "must lie within 10 km of the origin"}
		}
	}
	return nil
}

// layPattern sets the lettering and counts the sheets. What is lettered outside the
// metal makes the pattern larger, and more sheets have more joints to keep clear of: a
// second look settles it.
func layPattern(d drawing.Drawing, opt PatternOptions, width func(string) float64) (laid drawing.Laid, t tiling) {
	d.Dimensions, d.Labels = nil, shortLabels(d.Labels, width)
	box, _ := d.Bounds()
	style := drawing.Style{Size: patternSize, Width: width}
	for range 4 {
		laid = d.Lay(style)
		before := t
		box = drawing.Join(box, laid.Bounds)
		t = newTiling(box, opt)
		if t == before || t.columns*t.rows > mostSheets {
			break
		}
		style.Avoid = append(t.joints(), crosses(d)...)
	}
	return laid, t
}

// patternSize is the size of lettering on a pattern, mm.
const patternSize = 3.0

// mostSheets is more than anyone tapes together.
const mostSheets = 400

// A tiling lays a pattern out on sheets, row A on top, column 1 on the left.
type tiling struct {
	box           r2.Box // of the pattern with its room, mm on the metal
	width, height float64
	tile          r2.Vec // of the pattern that a sheet shows, mm on the metal
	lap           float64
	rows, columns int
	zoom          r2.Vec
	measured      r2.Vec
	page          r2.Vec // a sheet without pattern, mm: of a roll a length of A4
}

func newTiling(box r2.Box, opt PatternOptions) tiling {
	room := r2.Vec{X: patternRoom, Y: patternRoom}
	t := tiling{box: r2.Box{Min: r2.Sub(box.Min, room), Max: r2.Add(box.Max, room)}, lap: opt.Overlap, zoom: opt.zoom(), measured: opt.Measured}
	if t.lap == 0 {
		t.lap = defaultLap
	}
	if opt.Paper == Roll {
		t.roll(opt.RollWidth)
		t.page = r2.Vec{X: opt.RollWidth, Y: 297}
		return t
	}
	size := map[Paper]r2.Vec{A4: {X: 210, Y: 297}, A3: {X: 297, Y: 420}, Letter: {X: 8.5 * measure.Inch, Y: 11 * measure.Inch}}[opt.Paper]
	upright, across := t, t
	upright.set(size.X, size.Y)
	across.set(size.Y, size.X)
	if across.rows*across.columns < upright.rows*upright.columns {
		return across
	}
	return upright
}

// set takes a size of sheet and counts how many it takes.
func (t *tiling) set(width, height float64) {
	t.width, t.height = width, height
	t.page = r2.Vec{X: width, Y: height}
	t.tile = r2.Vec{X: (width - 2*unprinted - barStrip) / t.zoom.X, Y: (height - 2*unprinted - footStrip) / t.zoom.Y}
	size := t.box.Size()
	t.columns, t.rows = t.count(size.X, t.tile.X), t.count(size.Y, t.tile.Y)
}

func (t *tiling) count(size, tile float64) int {
	if size <= tile {
		return 1
	}
	return int(math.Ceil((size - t.lap) / (tile - t.lap)))
}

// roll makes one sheet as long as the pattern where the roll is wide enough, and
// strips side by side where it is not. The pattern lies along the roll or across it,
// whichever takes fewer strips and then less paper.
func (t *tiling) roll(width float64) {
	size := t.box.Size()
	along := *t
	t.set(width, max(size.Y*t.zoom.Y, barLength*t.zoom.Y+4)+2*unprinted+footStrip)
	t.rows = 1
	if width < barLength*t.zoom.Y+4+2*unprinted+footStrip {
		return // too narrow for the upright bar
	}
	words := 4*measure.Inch*t.zoom.X + footWords
	along.set(max(size.X*t.zoom.X, words)+2*unprinted+barStrip, width)
	along.columns = 1
	if along.rows < t.columns || along.rows == t.columns && along.width < t.height {
		*t = along
	}
}

// footWords is the room the name of the sheet and the map take beside the bars.
const footWords = 68.0

// joints are the edges of the sheets and what is printed in their overlaps.
func (t tiling) joints() []outline.Path {
	var all []outline.Path
	for row := range t.rows {
		for column := range t.columns {
			w := t.window(row, column)
			all = append(all, outline.Rect(w.Min, w.Max))
			for _, m := range t.marks(row, column) {
				all = append(all, outline.Circle(m.at, 2*markRadius), outline.Circle(m.at, markRadius),
					outline.Rect(r2.Vec{X: m.at.X - 7, Y: m.at.Y + 3.5}, r2.Vec{X: m.at.X + 7, Y: m.at.Y + 6}))
			}
		}
	}
	return all
}

// origin is the lower left of a sheet's part of the pattern; row A is on top.
func (t tiling) origin(row, column int) r2.Vec {
	return r2.Vec{
		X: t.box.Min.X + float64(column)*(t.tile.X-t.lap),
		Y: t.box.Max.Y - t.tile.Y - float64(row)*(t.tile.Y-t.lap),
	}
}

func (t tiling) window(row, column int) r2.Box {
	o := t.origin(row, column)
	return r2.Box{Min: o, Max: r2.Add(o, t.tile)}
}

// label is the name of a sheet: "B3".
func (t tiling) label(row, column int) string {
	name := ""
	for r := row; ; r = r/26 - 1 {
		name = string(rune('A'+r%26)) + name
		if r < 26 {
			break
		}
	}
	return name + strconv.Itoa(column+1)
}

// place is where a point of the pattern comes to lie on the paper of a sheet.
func (t tiling) place(row, column int) func(r2.Vec) r2.Vec {
	o := t.origin(row, column)
	return func(p r2.Vec) r2.Vec {
		return r2.Vec{
			X: unprinted + barStrip + (p.X-o.X)*t.zoom.X,
			Y: unprinted + (o.Y+t.tile.Y-p.Y)*t.zoom.Y,
		}
	}
}

// path places a path on a sheet. A printer that is out differently along x and y
// needs ellipses where there were arcs: those are drawn as chords within 0.005 mm.
func (t tiling) path(p outline.Path, row, column int) outline.Path {
	place := t.place(row, column)
	if t.zoom.X == t.zoom.Y {
		at := place(r2.Vec{})
		return p.Transform(outline.Scale(r2.Vec{}, t.zoom.X).Then(outline.Mirror(r2.Vec{}, 0)).Then(outline.Translate(at)))
	}
	chords := drawing.Chords(p, 0.005)
	for i, c := range chords {
		chords[i] = place(c)
	}
	placed := outline.Polyline(chords...)
	placed.Closed = p.Closed
	return placed
}
