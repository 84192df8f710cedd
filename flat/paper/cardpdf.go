package paper

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"gonum.org/v1/gonum/spatial/r2"
)

// CardPDF sets the bench card on a page of A4, or on as few more as lettering that can
// still be read takes, in the largest that keeps to them. The table of the cut outline is
// left to [Card]. Its errors are those of Card.
func CardPDF(w io.Writer, b flat.Blank, opt CardOptions) error {
	if err := opt.validate(b); err != nil {
		return err
	}
	l, err := newLetters(false)
	if err != nil {
		return err
	}
	bold, err := newLetters(true)
	if err != nil {
		return err
	}
	blocks := slices.DeleteFunc(cardBlocks(b, opt), func(b block) bool { return b.title == outlineTitle })
	const largest, smallest, finer = 2.7, 1.75, 0.05 // mm
	s := setting{width: l.width, bold: bold.width, size: smallest}
	s.card(b, blocks)
	fewest := s.pages
	for s.size = largest; s.size > smallest; s.size -= finer {
		s.pages = 0
		s.card(b, blocks)
		if s.pages == fewest {
			break
		}
	}
	p := newPDF("Bench card " + oneLine(b.Part.Name))
	s.pages, s.c, s.p = 0, p, p
	s.card(b, blocks)
	return p.write(w)
}

// A setting sets blocks on pages. Without a canvas it counts the pages it takes.
type setting struct {
	width func(string) float64 // of plain lettering at size 1
	bold  func(string) float64 // of headings
	size  float64
	pages int
	y     float64
	c     canvas
	p     *pdf
	hand  bool // the lines now set are filled in by hand
	head  func()
}

const (
	cardMargin = 9.0
	cardRight  = 210 - cardMargin
	cardBottom = 297 - cardMargin
	columnGap  = 5.0
)

func (s *setting) pitch() float64 {
	if s.hand {
		return max(1.32*s.size, handPitch)
	}
	return 1.32 * s.size
}

// handPitch is how far lines stand apart that are filled in by hand, mm.
const handPitch = 6.0

func (s *setting) card(b flat.Blank, blocks []block) {
	s.head = func() {
		s.letter(cardMargin, s.y+4, 4.4, true, false, "BENCH CARD   "+oneLine(b.Part.Name))
		s.letter(cardRight, s.y+4, 2.6, false, true, fmt.Sprintf("page %d", s.pages))
		const size = 2.6
		fits := func(t string) bool { return s.width(t)*size <= cardRight-cardMargin }
		s.y += 10
		for i, part := range breakLines(oneLine(b.Part.Title), fits) {
			s.y += float64(min(i, 1)) * 1.32 * size
			s.letter(cardMargin, s.y-2, size, false, false, part)
		}
		if b.Stopped() {
			if s.c != nil {
				s.c.shape([]outline.Path{outline.Rect(r2.Vec{X: 128, Y: cardMargin - 1}, r2.Vec{X: cardRight - 14, Y: cardMargin + 8})}, ink{fill: palettes(Light).stop})
				s.c.text(lettering{at: r2.Vec{X: (128 + cardRight - 14) / 2, Y: cardMargin + 5.6}, size: 5.4, bold: true, anchor: atMiddle, color: palettes(Light).paper, text: flat.NotForCutting})
			}
		}
	}
	s.newPage()
	for i := 0; i < len(blocks); {
		if i+1 < len(blocks) && s.natural(blocks[i])+s.natural(blocks[i+1])+2*columnGap <= cardRight-cardMargin {
			half := cardMargin + s.natural(blocks[i]) + 2*columnGap
			s.pair(blocks[i], blocks[i+1], half)
			i += 2
			continue
		}
		s.block(blocks[i], cardMargin, cardRight)
		i++
	}
}

// pair sets two blocks side by side.
func (s *setting) pair(a, b block, half float64) {
	need := max(s.height(a, cardMargin, half-columnGap), s.height(b, half, cardRight))
	if s.y+need > cardBottom {
		s.newPage()
	}
	top := s.y
	s.block(a, cardMargin, half-columnGap)
	low := s.y
	s.y = top
	s.block(b, half, cardRight)
	s.y = max(s.y, low)
}

// height is what a block takes up, found by setting it on nothing.
func (s *setting) height(b block, left, right float64) float64 {
	dry := *s
	dry.c, dry.p, dry.y, dry.head = nil, nil, -1e6, func() {}
	dry.block(b, left, right)
	return dry.y + 1e6
}

func (s *setting) newPage() {
	s.pages++
	s.y = cardMargin
	if s.p != nil {
		s.p.page(210, 297)
	}
	s.head()
}

func (s *setting) letter(x, y, size float64, bold, toRight bool, text string) {
	if s.c == nil || text == "" {
		return
	}
	t := lettering{at: r2.Vec{X: x, Y: y}, size: size, bold: bold, color: palettes(Light).text, text: text}
	if toRight {
		t.anchor = atEnd
	}
	s.c.text(t)
}

// natural is the width a block takes when nothing forces it: all of the page for
// prose, working and what is filled in by hand.
func (s *setting) natural(b block) float64 {
	if len(b.working) > 0 || len(b.columns) == 0 || b.written {
		return cardRight
	}
	sum := 0.0
	for _, w := range s.columns(b) {
		sum += w + s.size
	}
	return sum
}

func (s *setting) columns(b block) []float64 {
	widths := make([]float64, len(b.columns))
	for i, c := range b.columns {
		widths[i] = s.width(c.head) * s.size
		for _, r := range b.rows {
			widths[i] = max(widths[i], s.width(r[i])*s.size)
		}
	}
	return widths
}

// fitted are the columns of a block as wide as there is room for them: of those that read from the left
// the widest give way, down to a few words, and are broken into lines.
func (s *setting) fitted(b block, room float64) (widths []float64, total float64) {
	widths = s.columns(b)
	for _, w := range widths {
		total += w
	}
	room -= float64(len(widths)-1) * s.size
	for total > room {
		widest := -1
		for i, c := range b.columns {
			if !c.right && (widest < 0 || widths[i] > widths[widest]) {
				widest = i
			}
		}
		const fewWords = 12 // sizes
		if widest < 0 || widths[widest] <= fewWords*s.size {
			break
		}
		give := min(total-room, max(widths[widest]/8, 0.01), widths[widest]-fewWords*s.size)
		widths[widest], total = widths[widest]-give, total-give
	}
	return widths, total
}

// line moves down one line and turns the page where there is none left.
func (s *setting) line() float64 {
	if s.y+s.pitch() > cardBottom {
		s.newPage()
	}
	s.y += s.pitch()
	return s.y - 0.3*s.size
}

func (s *setting) block(b block, left, right float64) {
	s.y += 0.7 * s.size
	for _, part := range s.titleLines(b.title, right-left) {
		s.letter(left, s.line(), s.size, true, false, part)
	}
	s.rule(left, right, s.y+0.15)
	s.y += 0.3 * s.size
	s.table(b, left, right)
	for _, w := range b.working {
		s.working(w, left, right)
	}
	for i, l := range b.lines {
		s.hand = b.written && i > 0
		for _, part := range s.wrap(l, right-left) {
			s.letter(left, s.line(), s.size, false, false, part)
		}
	}
	s.hand = false
}

func (s *setting) table(b block, left, right float64) {
	widths, total := s.fitted(b, right-left)
	gap := s.size
	if n := len(widths); n > 1 { // spread, but not so far that the eye loses the row
		gap = max(gap, min(4*s.size, (right-left-total)/float64(n-1)))
	}
	line := func(cells []string) {
		y, x := s.line(), left
		for i, c := range cells {
			switch {
			case strings.Trim(c, "_") == "" && c != "": // to write on, up to the next column
				s.rule(x, min(x+widths[i]+gap-s.size, right), y+0.4)
			case b.columns[i].right:
				s.letter(x+widths[i], y, s.size, false, true, c)
			default:
				s.letter(x, y, s.size, false, false, c)
			}
			x += widths[i] + gap
		}
	}
	row := func(cells []string) {
		for more := true; more; {
			more = false
			now, rest := make([]string, len(cells)), make([]string, len(cells))
			for i, c := range cells {
				now[i] = c
				if !b.columns[i].right && s.width(c)*s.size > widths[i]+1e-9 {
					parts := s.wrap(c, widths[i])
					now[i], rest[i] = parts[0], strings.Join(parts[1:], " ")
					more = more || rest[i] != ""
				}
			}
			line(now)
			cells = rest
		}
	}
	heads := make([]string, len(b.columns))
	named := false
	for i, c := range b.columns {
		heads[i] = c.head
		named = named || c.head != ""
	}
	if named {
		row(heads)
	}
	s.hand = b.written
	for _, r := range b.rows {
		row(r)
	}
	s.hand = false
}

func (s *setting) rule(from, to, y float64) {
	if s.c != nil {
		s.c.shape([]outline.Path{lineOf(r2.Vec{X: from, Y: y}, r2.Vec{X: to, Y: y})}, ink{stroke: palettes(Light).text, width: 0.12})
	}
}

// working sets a step on one line where it fits: what, how, answer; the source
// stands smaller below.
func (s *setting) working(w workingLine, left, right float64) {
	y := s.line()
	s.letter(left, y, s.size, false, false, w.symbol)
	s.letter(right, y, s.size, false, true, w.answer)
	quantity := s.wrap(w.quantity, right-left-6*s.size-s.width(w.answer)*s.size)
	s.letter(left+4*s.size, y, s.size, false, false, quantity[0])
	for _, part := range quantity[1:] {
		s.letter(left+4*s.size, s.line(), s.size, false, false, part)
	}
	how := w.formula + "   [" + w.source + "]"
	// Beside the quantity if there is room for all of it.
	from := left + max(4*s.size+s.width(w.quantity)*s.size+2*s.size, 62)
	if from+s.width(how)*s.size+2*s.size+s.width(w.answer)*s.size <= right {
		s.letter(from, y, s.size, false, false, how)
		return
	}
	for _, part := range s.wrap(how, right-left-8*s.size) {
		s.letter(left+8*s.size, s.line(), s.size, false, false, part)
	}
}

// titleLines breaks a heading that is longer than its column. One that is not stays as it
// stands, with the spaces that part it.
func (s *setting) titleLines(t string, room float64) []string {
	fits := func(t string) bool { return s.bold(t)*s.size <= room }
	if fits(t) {
		return []string{t}
	}
	return breakLines(t, fits)
}

func (s *setting) wrap(t string, room float64) []string {
	return breakLines(t, func(t string) bool { return s.width(t)*s.size <= room })
}
