package paper

import (
	"bytes"
	"io"
	"math"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

// patternFile writes the pattern of a drawing.
func patternFile(t *testing.T, d drawing.Drawing, opt PatternOptions) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "pattern.pdf")
	require.NoError(t, Save(name, func(w io.Writer) error { return PatternOf(w, d, opt) }))
	return name
}

// A stroke is a line of a page as poppler reads it, which knows nothing of this project:
// the places the pen goes through, mm from the lower left of the page, and its dashes.
type stroke struct {
	at     []r2.Vec
	dashed bool
}

// strokes reads the lines of a page. Of a curve they hold the ends.
func strokes(t *testing.T, file string) (all []stroke) {
	t.Helper()
	svg, err := outside(t, "pdftocairo", "-svg", "-f", "1", "-l", "1", file, "-").Output()
	require.NoError(t, err)
	pen := regexp.MustCompile(`([MLC]) ((?:-?[\d.]+ )+)`)
	for _, p := range regexp.MustCompile(`<path style="fill:none;([^"]*)" d="([^"]*)"`).FindAllSubmatch(svg, -1) {
		s := stroke{dashed: bytes.Contains(p[1], []byte("dasharray"))}
		loop, _, _ := bytes.Cut(p[2], []byte("Z")) // behind it stands where a next one would begin
		for _, m := range pen.FindAllSubmatch(loop, -1) {
			n := bytes.Fields(m[2])
			x, y := number(t, n[len(n)-2]), number(t, n[len(n)-1])
			s.at = append(s.at, r2.Scale(25.4/72, r2.Vec{X: x, Y: y}))
		}
		all = append(all, s)
	}
	return all
}

// roundOf looks for a circle of the diameter given: every place the pen goes through is as far
// from their middle.
func roundOf(all []stroke, diameter float64) (found []stroke) {
	for _, s := range all {
		middle := r2.Vec{}
		for _, p := range s.at[:len(s.at)-1] { // the last is the first again
			middle = r2.Add(middle, r2.Scale(1/float64(len(s.at)-1), p))
		}
		round := len(s.at) > 4
		for _, p := range s.at {
			round = round && math.Abs(2*r2.Norm(r2.Sub(p, middle))-diameter) < 2*printUnit
		}
		if round {
			found = append(found, s)
		}
	}
	return found
}

// straightOf looks for a line from one point to another that lies so far from it.
func straightOf(all []stroke, run r2.Vec) (found []stroke) {
	for _, s := range all {
		if len(s.at) == 2 && r2.Norm(r2.Sub(r2.Sub(s.at[1], s.at[0]), run)) < 2*printUnit {
			found = append(found, s)
		}
	}
	return found
}

// printUnit is the last digit of a length in the file, 1/100 of 1/72 in: 0.0035 mm.
const printUnit = 0.01 * 25.4 / 72

// Every kind of line of a drawing that never was a blank comes out at full size: a form block's
// circle of 123.4 mm, a mark that runs 120 mm across and 55 up, a pilot of 25.4 mm, and a trimming line of
// 100 mm. The block and the trimming line are not taken for the cut: they are dashed.
func TestPatternOfADrawingIsFullSize(t *testing.T) {
	var d drawing.Drawing
	d.Name = "block"
	d.Add(drawing.Cut, "saw", outline.Rect(r2.Vec{X: -65, Y: -65}, r2.Vec{X: 65, Y: 65}))
	d.Add(drawing.Block, "top", outline.Circle(r2.Vec{}, 61.7))
	d.AddLine(drawing.Mark, "bend", r2.Vec{X: -60, Y: -20}, r2.Vec{X: 60, Y: 35})
	d.AddLine(drawing.Note, "trim", r2.Vec{X: -50, Y: 40}, r2.Vec{X: 50, Y: 40})
	d.AddLine(drawing.Note, "cross", r2.Vec{X: -4, Y: -40}, r2.Vec{X: 4, Y: -40})
	d.Circles = []drawing.Circle{{Layer: drawing.Rivet, Center: r2.Vec{X: 20, Y: -10}, Diameter: 25.4}}
	for name, opt := range map[string]PatternOptions{"A4": {}, "Letter": {Paper: Letter}, "roll": {Paper: Roll, RollWidth: 610}} {
		all := strokes(t, patternFile(t, d, opt))
		one := func(s []stroke, dashed bool, what string) {
			if assert.Len(t, s, 1, "%s: %s", name, what) {
				assert.Equal(t, dashed, s[0].dashed, "%s: %s", name, what)
			}
		}
		one(roundOf(all, 123.4), true, "top of the block")
		one(roundOf(all, 25.4), false, "pilot")
		one(straightOf(all, r2.Vec{X: 120, Y: 55}), true, "mark")
		one(straightOf(all, r2.Vec{X: 100}), true, "trimming line")
		one(straightOf(all, r2.Vec{X: 8}), false, "cross of a relief")
	}
	// A printer that makes 100 mm come out at 98 across: 120/0.98 and 55.
	all := strokes(t, patternFile(t, d, PatternOptions{Measured: r2.Vec{X: 98, Y: 100}}))
	assert.Len(t, straightOf(all, r2.Vec{X: 120 / 0.98, Y: 55}), 1)
}

// readPages is what a reader finds lettered, page by page.
func readPages(t *testing.T, file string) []string {
	t.Helper()
	text, err := outside(t, "pdftotext", "-layout", file, "-").Output()
	require.NoError(t, err)
	return strings.Split(strings.TrimSuffix(string(text), "\f"), "\f")
}

// What the foot has no room for stands on a sheet of its own: every note, what each kind of line is, and
// that the drawing must not be cut. A few short notes stand on every sheet, and there is none of its own.
func TestPatternOfADrawingCarriesItsNotes(t *testing.T) {
	d := drawing.Drawing{Name: "frame-block", Title: "Form block", NotForCutting: true, Notes: append([]string{"Round the top edge."}, drawing.Cautions()...)}
	d.Add(drawing.Cut, "saw here", outline.Rect(r2.Vec{}, r2.Vec{X: 300, Y: 60}))
	d.Add(drawing.Block, "top", outline.Rect(r2.Vec{X: 10, Y: 10}, r2.Vec{X: 290, Y: 50}))
	d.Add(drawing.Block, "top", outline.Rect(r2.Vec{X: 20, Y: 20}, r2.Vec{X: 30, Y: 50}))
	for i := range 6 {
		d.Circles = append(d.Circles, drawing.Circle{Layer: drawing.Rivet, Name: "pilot " + string(rune('1'+i)), Center: r2.Vec{X: 50 + 20*float64(i), Y: 30}, Diameter: 3})
	}
	pages := readPages(t, patternFile(t, d, PatternOptions{Paper: A3}))
	require.Len(t, pages, 2)
	assert.Contains(t, pages[0], "Notes: on the last sheet")
	last := strings.Join(strings.Fields(pages[1]), " ")
	for _, says := range append([]string{"NOT FOR CUTTING", "CUT: saw here", "BLOCK: top ", "RIVET: pilot 1 to pilot 6, 6 in all"}, d.Notes...) {
		assert.Contains(t, last, says)
	}
	for i, says := range []string{"frame-block", "Form block", "NOT FOR CUTTING"} {
		assert.Contains(t, pages[0], says)
		assert.Equal(t, 1, strings.Count(pages[1], says), "%d", i)
	}
	d.Notes = []string{"Round the top edge.", "Scale 1:1"}
	pages = readPages(t, patternFile(t, d, PatternOptions{Paper: A3}))
	require.Len(t, pages, 1)
	assert.Contains(t, pages[0], "Round the top edge.")
	// More notes than a sheet holds, and a word that is longer than one, go on over the next.
	d.Notes = nil
	for range 90 {
		d.Notes = append(d.Notes, strings.Repeat("w", 400))
	}
	assert.Greater(t, len(readPages(t, patternFile(t, d, PatternOptions{}))), 3)
}

// Of a ring only the sheets that show something are printed. By hand, on A4 across, which shows 273 x 166
// mm: 1008 mm with its room takes 4 columns, 261 mm apart, and 7 rows, 154 mm apart, 28 sheets, where upright it takes
// 6 x 5. The middle columns show 253 to 787 of the room's 0 to 1008 mm and the rows B to F 72 to 850 from the bottom
// edge of the ring: within the opening, that begins 40 mm inside. A plate without opening takes all 28.
func TestSheetsOfNothingAreLeftOut(t *testing.T) {
	pages := func(d drawing.Drawing) int { return len(readPages(t, patternFile(t, d, PatternOptions{}))) }
	var d drawing.Drawing
	d.Add(drawing.Cut, "plate", outline.Rect(r2.Vec{}, r2.Vec{X: 1000, Y: 1000}))
	assert.Equal(t, 28, pages(d), "metal is shown though no line runs there")
	d.Add(drawing.Cut, "opening", outline.Rect(r2.Vec{X: 40, Y: 40}, r2.Vec{X: 960, Y: 960}).Reverse())
	assert.Equal(t, 28-2*5, pages(d))
	// A line that only crosses a sheet, from edge to edge, is shown.
	d.AddLine(drawing.Mark, "", r2.Vec{X: 400, Y: 0}, r2.Vec{X: 400, Y: 1000})
	assert.Equal(t, 28-5, pages(d))
}

// A drawing of nothing, or of something that is nowhere, is refused, and nothing written.
func TestPatternOfRefuses(t *testing.T) {
	at := func(x float64) (d drawing.Drawing) {
		d.AddLine(drawing.Mark, "", r2.Vec{}, r2.Vec{X: x, Y: 1})
		return d
	}
	far := at(10)
	far.Labels = []drawing.Label{{Text: []string{"far"}, At: r2.Vec{X: 1e12}}}
	lost := at(10)
	lost.Labels = []drawing.Label{{Text: []string{"lost"}, At: r2.Vec{X: math.NaN()}}}
	for says, d := range map[string]drawing.Drawing{
		"nothing to draw": {}, "drawing NaN mm": at(math.NaN()), "drawing +Inf mm": at(math.Inf(1)), "drawing 1e+12 mm": at(1e12), "within 10 km": far, "sheets": at(2e6),
	} {
		var out bytes.Buffer
		err := PatternOf(&out, d, PatternOptions{})
		var e *Error
		require.ErrorAs(t, err, &e, says)
		assert.ErrorContains(t, err, says)
		assert.Zero(t, out.Len(), "nothing is written")
	}
	assert.NotPanics(t, func() { _ = PatternOf(io.Discard, lost, PatternOptions{}) })
	assert.ErrorContains(t, PatternOf(io.Discard, at(10), PatternOptions{Paper: 9}), "paper")
}
