package paper

import (
	"github.com/hangarflat/hangarflat/flat/drawing"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	fix "golang.org/x/image/math/fixed"
)

// letters measures lettering by the tables of the font that is embedded in what
// is printed.
type letters struct {
	font  *sfnt.Font
	buf   sfnt.Buffer
	known map[rune]float64
}

// unitsPerSize is the size glyphs are measured at.
const unitsPerSize = 1000

func newLetters(bold bool) (*letters, error) {
	data := goregular.TTF
	if bold {
		data = gobold.TTF
	}
	f, err := sfnt.Parse(data)
	if err != nil {
		return nil, err
	}
	return &letters{font: f, known: map[rune]float64{}}, nil
}

// width is the length of a line lettered at size 1.
func (l *letters) width(s string) float64 {
	sum := 0.0
	for _, r := range s {
		w, known := l.known[r]
		if !known {
			w = l.advance(r)
			l.known[r] = w
		}
		sum += w
	}
	return sum
}

// screenSpread is how much wider than the embedded font a viewer's own may be that
// letters an SVG: DejaVu Sans, the widest in common use, runs about a sixth wider.
const screenSpread = 1.17

// onScreen is the width to allow for where the viewer chooses the font.
func (l *letters) onScreen(s string) float64 { return screenSpread * l.width(s) }

func (l *letters) advance(r rune) float64 {
	const em = fix.Int26_6(unitsPerSize * 64)
	g, err := l.font.GlyphIndex(&l.buf, r)
	if err != nil {
		return 1
	}
	a, err := l.font.GlyphAdvance(&l.buf, g, em, font.HintingNone)
	if err != nil {
		return 1
	}
	return float64(a) / 64 / unitsPerSize
}

// boldWider is how much wider than plain letters bold ones are, at most.
const boldWider = 1.15

// clipped shortens a line to a length in sizes of its lettering, with a mark that it did.
func clipped(s string, width func(string) float64, room float64) string {
	if width(s) <= room {
		return s
	}
	r := []rune(s)
	for len(r) > 0 && width(string(r)+"…") > room {
		r = r[:len(r)-1]
	}
	return string(r) + "…"
}

// How much of a name over other words, and of any line, is lettered on the blank, in sizes of the lettering:
// beside one as long as the sheet the blank would shrink to nothing, or the pattern run over sheets that
// hold nothing else. The card has all of it.
const longestName, longestLine = 40 / labelSize, 80 / labelSize

// shortLabels are the labels of a drawing, each line of them no longer than that.
func shortLabels(labels []drawing.Label, width func(string) float64) []drawing.Label {
	all := make([]drawing.Label, len(labels))
	for i, l := range labels {
		text := make([]string, len(l.Text))
		for k, line := range l.Text {
			room := longestLine
			if k == 0 && len(l.Text) > 1 {
				room = longestName
			}
			text[k] = clipped(line, width, room)
		}
		l.Text = text
		all[i] = l
	}
	return all
}
