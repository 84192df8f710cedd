package paper

import (
	"bytes"
	"image"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

// plate is a bare rectangle with a round hole: what a rule can be laid on.
func plate(width, height float64) flat.Blank {
	corner := r2.Vec{X: width, Y: height}
	return flat.Blank{
		Part:    flat.Part{Name: "plate", Sheet: material.Sheet{Material: material.Material{Alloy: "2024", Temper: "T3"}, Thickness: 1}},
		Outline: outline.Rect(r2.Vec{}, corner),
		Holes:   []flat.BlankHole{{Name: "H", Center: r2.Scale(0.5, corner), Diameter: 40}},
		Panels:  []flat.Panel{{Name: "web", Bend: -1, Outline: []r2.Vec{{}, {X: width}, corner, {Y: height}}}},
	}
}

// A print is a page rasterised by poppler, which knows nothing of this project.
type print struct {
	image.Image
	perMm float64
}

const dotsPerInch = 300

func printed(t *testing.T, b flat.Blank, opt PatternOptions) []print {
	t.Helper()
	folder := t.TempDir()
	name := filepath.Join(folder, "pattern.pdf")
	require.NoError(t, Save(name, func(w io.Writer) error { return Pattern(w, b, opt) }))
	// Of poppler's two renderers the one that does not move thin lines to whole pixels.
	require.NoError(t, outside(t, "pdftocairo", "-r", "300", "-gray", "-png", name, filepath.Join(folder, "page")).Run())
	files, err := filepath.Glob(filepath.Join(folder, "page*.png"))
	require.NoError(t, err)
	var pages []print
	for _, f := range files {
		r, err := os.Open(f)
		require.NoError(t, err)
		img, err := png.Decode(r)
		require.NoError(t, err)
		require.NoError(t, r.Close())
		pages = append(pages, print{img, dotsPerInch / 25.4})
	}
	return pages
}

// across returns the middles of the dark lines that a scan along x at height y
// meets, mm, weighted by their darkness; up does so along y.
func (p print) across(y, from, to float64) []float64 {
	return p.scan(from, to, func(i int) uint32 { v, _, _, _ := p.At(i, int(y*p.perMm)).RGBA(); return v })
}

func (p print) up(x, from, to float64) []float64 {
	return p.scan(from, to, func(i int) uint32 { v, _, _, _ := p.At(int(x*p.perMm), i).RGBA(); return v })
}

func (p print) scan(from, to float64, at func(int) uint32) (lines []float64) {
	dark, moment := 0.0, 0.0
	for i := int(from * p.perMm); i <= int(to*p.perMm); i++ {
		d := 1 - float64(at(i))/0xffff
		if d > 0.03 {
			dark += d
			moment += d * (float64(i) + 0.5)
			continue
		}
		if dark > 0.5 {
			lines = append(lines, moment/dark/p.perMm)
		}
		dark, moment = 0, 0
	}
	return lines
}

// halfPixel at 300 dots an inch is 0.042 mm.
const halfPixel = 0.5 * 25.4 / dotsPerInch

// bar returns what a bar measures between the middles of its end ticks.
func (p print) bar(y float64) float64 {
	// The ticks reach 2 mm either way; the bar itself and its name stand inside 1.2.
	lines := p.across(y+1.5, 10, 130)
	if len(lines) < 2 {
		return math.NaN()
	}
	return lines[1] - lines[0]
}

func TestPatternIsFullSize(t *testing.T) {
	for name, paper := range map[string]Paper{"A4": A4, "A3": A3, "Letter": Letter} {
		pages := printed(t, plate(150, 90), PatternOptions{Paper: paper})
		require.Len(t, pages, 1, name)
		p := pages[0]
		width, height := float64(p.Bounds().Dx())/p.perMm, float64(p.Bounds().Dy())/p.perMm
		foot := height - unprinted - footStrip
		assert.InDelta(t, 100, p.bar(foot+7), halfPixel, "%s: 100 mm bar", name)
		assert.InDelta(t, 101.6, p.bar(foot+14), halfPixel, "%s: 4 in bar", name)
		upright := p.up(unprinted+5+1.5, 5, 125)
		require.GreaterOrEqual(t, len(upright), 2)
		assert.InDelta(t, 100, upright[1]-upright[0], halfPixel, "%s: upright bar", name)

		// The plate itself: its left and right edges on a line that misses all
		// lettering, then its lower and upper edge. The sheet's own dashed border is
		// the first and may be the last line met.
		left, top := unprinted+barStrip, unprinted
		edges := p.across(top+patternRoom+80, left+1, width-unprinted-1)
		require.Len(t, edges, 2, name)
		assert.InDelta(t, 150, edges[1]-edges[0], halfPixel, name)
		edges = p.up(left+patternRoom+20, top+1, foot-1)
		require.Len(t, edges, 2, name)
		assert.InDelta(t, 90, edges[1]-edges[0], halfPixel, name)
		// The hole, 10 mm off its centre to miss the cross: 2·√(20² - 10.5²) wide.
		rim := p.across(top+patternRoom+45+10.5, left+patternRoom+40, left+patternRoom+110)
		require.GreaterOrEqual(t, len(rim), 2)
		row := math.Floor((top+patternRoom+45+10.5)*p.perMm) + 0.5 // the row of pixels that was read
		off := row/p.perMm - (top + patternRoom + 45)
		assert.InDelta(t, 2*math.Sqrt(400-off*off), rim[len(rim)-1]-rim[0], 2*halfPixel, name)
	}
}

// A printer that makes 100 mm come out at 98 is made up for: the file is larger by
// 100/98, so what leaves that printer is true.
func TestMeasuredBarCorrects(t *testing.T) {
	p := printed(t, plate(150, 90), PatternOptions{Measured: r2.Vec{X: 98, Y: 101}})[0]
	height := float64(p.Bounds().Dy()) / p.perMm
	foot := height - unprinted - footStrip
	assert.InDelta(t, 100, p.bar(foot+7)*0.98, halfPixel)
	left, top := unprinted+barStrip, unprinted
	edges := p.across(top+(patternRoom+80)*100/101, left+1, 200)
	require.Len(t, edges, 2)
	assert.InDelta(t, 150, (edges[1]-edges[0])*0.98, halfPixel)
	edges = p.up(left+(patternRoom+20)*100/98, top+1, foot-1)
	require.Len(t, edges, 2)
	assert.InDelta(t, 90, (edges[1]-edges[0])*1.01, halfPixel)
}

// Neighbouring sheets show their overlap alike: the left edge of the plate on one,
// the right on the next, and the sheets are a tile less the overlap apart.
func TestSheetsJoin(t *testing.T) {
	pages := printed(t, plate(350, 90), PatternOptions{})
	require.Len(t, pages, 2)
	left := unprinted + barStrip
	y := unprinted + patternRoom + 80
	height := float64(pages[0].Bounds().Dy()) / pages[0].perMm
	width := float64(pages[0].Bounds().Dx()) / pages[0].perMm
	tile := width - 2*unprinted - barStrip
	if height > width { // laid upright
		y = unprinted + patternRoom + 80
	}
	first := pages[0].across(y, left+1, width-unprinted-1)
	second := pages[1].across(y, left+1, width-unprinted-1)
	require.Len(t, first, 1)
	require.Len(t, second, 1)
	assert.InDelta(t, 350, second[0]+tile-defaultLap-first[0], 2*halfPixel)
}

// Every point of the pattern lies on a sheet, and the marks in an overlap have the
// same place of the pattern on both.
func TestTiling(t *testing.T) {
	for _, opt := range []PatternOptions{{}, {Paper: A3}, {Paper: Letter, Overlap: 20}, {Paper: Roll, RollWidth: 610}, {Measured: r2.Vec{X: 95, Y: 105}}} {
		for _, size := range []r2.Vec{{X: 30, Y: 30}, {X: 180, Y: 700}, {X: 1500, Y: 40}, {X: 900, Y: 900}} {
			tl := newTiling(r2.Box{Min: r2.Vec{X: -7, Y: 3}, Max: r2.Add(r2.Vec{X: -7, Y: 3}, size)}, opt)
			first, last := tl.window(0, 0), tl.window(tl.rows-1, tl.columns-1)
			assert.LessOrEqual(t, first.Min.X, tl.box.Min.X)
			assert.GreaterOrEqual(t, first.Max.Y, tl.box.Max.Y-1e-9)
			assert.GreaterOrEqual(t, last.Max.X, tl.box.Max.X-1e-9)
			assert.LessOrEqual(t, last.Min.Y, tl.box.Min.Y+1e-9)
			for c := 1; c < tl.columns; c++ {
				assert.InDelta(t, tl.lap, tl.window(0, c-1).Max.X-tl.window(0, c).Min.X, 1e-9)
			}
			for r := 1; r < tl.rows; r++ {
				assert.InDelta(t, tl.lap, tl.window(r, 0).Max.Y-tl.window(r-1, 0).Min.Y, 1e-9)
			}
		}
	}
	assert.Equal(t, "A1", tiling{}.label(0, 0))
	assert.Equal(t, "Z3", tiling{}.label(25, 2))
	assert.Equal(t, "AA1", tiling{}.label(26, 0))
}

// An A4 sheet shows 186 x 253 mm upright and 273 x 166 across; 12 mm less of each next one is new. So 360 mm
// take two upright and a hair more takes three, for which two across do, and 494 mm take two high. Where as
// many do either way they stand upright.
func TestSheetsAreCounted(t *testing.T) {
	for _, c := range []struct {
		x, y          float64
		columns, rows int
		width         float64
	}{{186, 253, 1, 1, 210}, {100, 100, 1, 1, 210}, {360, 100, 2, 1, 210}, {360.01, 100, 2, 1, 297}, {100, 494, 1, 2, 210}, {100, 494.01, 1, 3, 210}, {273, 166, 1, 1, 297}} {
		tl := newTiling(r2.Box{Max: r2.Vec{X: c.x - 2*patternRoom, Y: c.y - 2*patternRoom}}, PatternOptions{})
		assert.Equal(t, []any{c.columns, c.rows, c.width}, []any{tl.columns, tl.rows, tl.width}, "%g x %g", c.x, c.y)
	}
}

// A part longer than the roll is wide is laid along it, on one strip; one that fits
// across takes the way with less paper. By hand, with 7 mm unprinted, 10 mm for the
// upright bar and 30 mm for the foot: 800 x 100 on a roll of 610 lies along it on
// 24 + 800 mm; 550 x 1000 stands across it on 44 + 1000 mm.
func TestRollTurns(t *testing.T) {
	roll := PatternOptions{Paper: Roll, RollWidth: 610}
	of := func(x, y float64) tiling {
		room := 2 * patternRoom
		return newTiling(r2.Box{Max: r2.Vec{X: x - room, Y: y - room}}, roll)
	}
	along := of(800, 100)
	assert.Equal(t, 1, along.rows*along.columns)
	assert.InDelta(t, 824, along.width, 1e-9)
	assert.InDelta(t, 610, along.height, 1e-9)
	across := of(550, 1000)
	assert.Equal(t, 1, across.rows*across.columns)
	assert.InDelta(t, 610, across.width, 1e-9)
	assert.InDelta(t, 1044, across.height, 1e-9)
}

// Every line of a pattern's lettering stands whole on one sheet at least, clear of the
// match marks and of the centre marks of holes.
func TestPatternLetteringIsWhole(t *testing.T) {
	b := develop(t, intercostal())
	for _, opt := range []PatternOptions{{}, {Paper: Letter}, {Paper: A3}, {Paper: Roll, RollWidth: 200}} {
		l, err := newLetters(false)
		require.NoError(t, err)
		laid, tl := layPattern(drawing.Of(b), opt, l.width)
		require.NotEmpty(t, laid.Texts)
		for _, text := range laid.Texts {
			whole := false
			for row := range tl.rows {
				for column := range tl.columns {
					w := tl.window(row, column)
					in := true
					for _, c := range text.Corners() {
						in = in && c.X > w.Min.X-1e-6 && c.X < w.Max.X+1e-6 && c.Y > w.Min.Y-1e-6 && c.Y < w.Max.Y+1e-6
					}
					whole = whole || in
					for _, m := range tl.marks(row, column) {
						corners := text.Corners()
						assert.NotEqual(t, outline.Inside, outline.Polygon(corners[:]...).Side(m.at), "%q on a mark", text.Text)
					}
				}
			}
			assert.True(t, whole, "%q is cut by the edge of a sheet", text.Text)
		}
	}
}

// The map on each sheet shows the sheet it is on, filled: of two sheets side by side the
// left half is dark on the first and the right half on the second.
func TestAssemblyMap(t *testing.T) {
	pages := printed(t, plate(350, 90), PatternOptions{})
	require.Len(t, pages, 2)
	for i, p := range pages {
		width, height := float64(p.Bounds().Dx())/p.perMm, float64(p.Bounds().Dy())/p.perMm
		top := height - unprinted - footStrip + 3
		tone := func(x float64) uint32 { // low in the map, off the plate, away from its lines
			v, _, _, _ := p.At(int(x*p.perMm), int((top+1)*p.perMm)).RGBA()
			return v
		}
		right := width - unprinted
		var filled [2]bool
		for k, share := range []float64{0.97, 0.03} {
			// The map ends at the right border and is no wider than 34 mm.
			tl := newTiling(r2.Box{Max: r2.Vec{X: 350, Y: 90}}, PatternOptions{})
			all := drawing.Join(tl.window(0, 0), tl.window(tl.rows-1, tl.columns-1)).Size()
			x := unprinted + barStrip + 4*25.4 + 5
			wide := right - max(x+28, right-34)
			scale := min(wide/all.X, 15/all.Y)
			filled[k] = tone(right-share*scale*all.X) < 0xf800
		}
		assert.Equal(t, [2]bool{i == 0, i == 1}, filled, "sheet %d", i+1)
	}
}

func TestPatternRefuses(t *testing.T) {
	b := plate(150, 90)
	for says, opt := range map[string]PatternOptions{
		"paper 9":             {Paper: 9},
		"roll width 0 mm":     {Paper: Roll},
		"roll width NaN mm":   {Paper: Roll, RollWidth: math.NaN()},
		"overlap -1 mm":       {Overlap: -1},
		"overlap NaN mm":      {Overlap: math.NaN()},
		"overlap 300 mm":      {Overlap: 300},
		"measured bar, x 3.9": {Measured: r2.Vec{X: 3.937}},
		"measured bar, y NaN": {Measured: r2.Vec{Y: math.NaN()}},
	} {
		var out bytes.Buffer
		err := Pattern(&out, b, opt)
		var e *Error
		require.ErrorAs(t, err, &e, says)
		assert.ErrorContains(t, err, says)
		assert.Zero(t, out.Len(), "nothing is written")
	}
	err := Pattern(io.Discard, b, PatternOptions{Paper: 9, Overlap: -1})
	assert.ErrorContains(t, err, "paper")
	assert.ErrorContains(t, err, "overlap")
	assert.ErrorContains(t, Pattern(io.Discard, plate(2e4, 2e4), PatternOptions{}), "sheets")
	assert.ErrorContains(t, Pattern(io.Discard, flat.Blank{}, PatternOptions{}), "nothing to draw")
}

// However long the names, what the foot of a pattern says stays on the sheet, and what is
// lettered on the blank makes the pattern no larger than a lettering of 36 sizes of 3 mm does on
// either side: 110 mm and a leader of 14 sizes.
func TestLongNamesStayOnThePattern(t *testing.T) {
	words := strings.Repeat("forward lower auxiliary bulkhead ", 12)
	for name, opt := range map[string]PatternOptions{
		"A4": {}, "Letter": {Paper: Letter}, "roll": {Paper: Roll, RollWidth: 150}, "stretched": {Measured: r2.Vec{X: 90, Y: 90}},
	} {
		b := plate(100, 90)
		b.Part.Name, b.Part.Sheet.Material.Alloy = strings.Repeat("bulkhead-", 20)+"end", words
		folder := t.TempDir()
		file := filepath.Join(folder, "pattern.pdf")
		require.NoError(t, Save(file, func(w io.Writer) error { return Pattern(w, b, opt) }))
		text, err := outside(t, "pdftotext", "-bbox", file, "-").Output()
		require.NoError(t, err)
		page := regexp.MustCompile(`<page width="([\d.]+)" height="([\d.]+)"`).FindSubmatch(text)
		require.NotNil(t, page, name)
		width, height := number(t, page[1]), number(t, page[2])
		border := unprinted / 25.4 * 72
		for _, w := range regexp.MustCompile(`xMax="([\d.]+)" yMax="([\d.]+)">([^<]*)`).FindAllSubmatch(text, -1) {
			assert.LessOrEqual(t, number(t, w[1]), width-border+0.5, "%s: %s", name, w[3])
			assert.LessOrEqual(t, number(t, w[2]), height-border+0.5, "%s: %s", name, w[3])
		}
	}
	p := intercostal()
	p.Web.Holes[0].Name = words + "T1"
	for i := range p.Web.Edges {
		p.Web.Edges[i].Name = words + p.Web.Edges[i].Name
	}
	b := develop(t, p)
	l, err := newLetters(false)
	require.NoError(t, err)
	laid, _ := layPattern(drawing.Of(b), PatternOptions{Paper: Roll, RollWidth: 2000}, l.width)
	blank, most := b.Outline.Bounds(), (36.5+14+1)*patternSize
	assert.Greater(t, laid.Bounds.Min.X, blank.Min.X-most)
	assert.Less(t, laid.Bounds.Max.X, blank.Max.X+most)
}

func number(t *testing.T, text []byte) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(string(text), 64)
	require.NoError(t, err)
	return x
}
