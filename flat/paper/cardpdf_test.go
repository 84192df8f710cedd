package paper

import (
	"strconv"
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/brake"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// noted keeps the bold lettering set on it, and the rule drawn next below.
type noted struct {
	pages    []lettering // the head of each
	headings []headed
	open     []lettering // no rule below yet
}

// A headed part of a card: the lines of one, and the end of the rule below them.
type headed struct {
	lines []lettering
	right float64
}

func (n *noted) layer(string) {}

func (n *noted) text(t lettering) {
	switch {
	case t.bold && strings.HasPrefix(t.text, "BENCH CARD"):
		n.pages = append(n.pages, t)
	case t.bold:
		n.open = append(n.open, t)
	}
}

func (n *noted) shape(loops []outline.Path, k ink) {
	if len(n.open) > 0 && k.width > 0 {
		n.headings = append(n.headings, headed{n.open, loops[0].Vertices[1].P.X})
		n.open = nil
	}
}

// planOf bends a blank in the order proposed, in no brake.
func planOf(b flat.Blank) *brake.Plan {
	plan := brake.Plan{}
	for _, i := range BendOrder(b) {
		l := b.Bends[i]
		plan.Steps = append(plan.Steps, brake.Step{Bend: i, Name: l.Name, Turn: l.Turn, Hold: l.Parent, Held: b.Panels[l.Parent].Name, Angle: l.Bend.Angle, To: l.Bend.Angle})
	}
	return &plan
}

// Every heading of a card with all there is on one ends within its column, the rule below it being as
// wide, at every size of lettering; the two cards differ in who gives the order of bends. All is said.
func TestHeadingsStayInTheirColumns(t *testing.T) {
	bold, err := newLetters(true)
	require.NoError(t, err)
	plain, err := newLetters(false)
	require.NoError(t, err)
	p := intercostal()
	p.Web.Edges[0].Flanges[0].Joggles = []flat.Joggle{{Name: "lap", At: 60, Run: 0.160 * measure.Inch, Depth: 0.040 * measure.Inch}}
	b := develop(t, p)
	broken := 0
	for _, opt := range []CardOptions{{}, {Plan: planOf(b)}} {
		opt.Fractions, opt.Doubts = true, []flat.Doubt{{Reading: "keel, point 1"}}
		blocks := cardBlocks(b, opt)
		want := 18 // all, with the proposal
		if opt.Plan != nil {
			want = 19 // and with the lines held
		}
		require.Len(t, blocks, want)
		for size := 1.75; size < 2.75; size += 0.05 {
			page := &noted{}
			s := setting{width: plain.width, bold: bold.width, size: size, c: page}
			s.card(b, blocks)
			require.Len(t, page.headings, len(blocks))
			for i, h := range append(page.headings, headed{page.pages, cardRight}) {
				var said []string
				for _, line := range h.lines {
					assert.LessOrEqual(t, line.at.X+bold.width(line.text)*line.size, h.right, "%q at %.2f mm", line.text, size)
					said = append(said, strings.Fields(line.text)...)
				}
				assert.LessOrEqual(t, h.right, cardRight)
				if i < len(blocks) {
					assert.Equal(t, strings.Fields(blocks[i].title), said)
					broken = max(broken, len(h.lines))
					if len(h.lines) == 1 {
						assert.Equal(t, blocks[i].title, h.lines[0].text, "its spaces are kept")
					}
				}
			}
		}
	}
	assert.Equal(t, 2, broken, "lines of the longest heading where it is narrowest")
}

// inked is a canvas that keeps how far to the right its lettering and lines reach.
type inked struct {
	plain, bold func(string) float64
	right       float64
	said        []string
}

func (c *inked) layer(string) {}

func (c *inked) shape(loops []outline.Path, _ ink) {
	for _, p := range loops {
		c.right = max(c.right, p.Bounds().Max.X)
	}
}

func (c *inked) text(l lettering) {
	width := c.plain
	if l.bold {
		width = c.bold
	}
	end := l.at.X
	if l.anchor == atStart {
		end += width(l.text) * l.size
	}
	c.right = max(c.right, end)
	c.said = append(c.said, strings.Fields(l.text)...)
}

// However long the names of a part are, its card stays on the page, and no word of them is lost.
func TestLongNamesStayOnTheCard(t *testing.T) {
	bold, err := newLetters(true)
	require.NoError(t, err)
	plain, err := newLetters(false)
	require.NoError(t, err)
	long := func(of string) string { return strings.Repeat("forward lower auxiliary bulkhead ", 5) + of }
	p := intercostal()
	p.Title = long("title") + " " + long("end")
	for i := range p.Web.Edges {
		p.Web.Edges[i].Name = long(p.Web.Edges[i].Name)
	}
	p.Web.Edges[1].Flanges[0].Holes[0].Name = long("A1")
	b := develop(t, p)
	for _, opt := range []CardOptions{{}, {Plan: planOf(b), Fractions: true}} {
		for size := 1.75; size < 2.75; size += 0.25 {
			page := &inked{plain: plain.width, bold: bold.width}
			s := setting{width: plain.width, bold: bold.width, size: size, c: page}
			s.card(b, cardBlocks(b, opt))
			assert.LessOrEqual(t, page.right, cardRight+1e-9, "at %.2f mm", size)
			assert.ElementsMatch(t, wordsOf(b, cardBlocks(b, opt), s.pages), page.said, "at %.2f mm", size)
		}
	}
}

// The lines to write on end on the page too, however far the table they stand in is spread.
func TestLinesToWriteOnStayOnTheCard(t *testing.T) {
	plain, err := newLetters(false)
	require.NoError(t, err)
	bold, err := newLetters(true)
	require.NoError(t, err)
	b := develop(t, intercostal())
	for size := 1.75; size < 2.75; size += 0.25 {
		page := &inked{plain: plain.width, bold: bold.width}
		s := setting{width: plain.width, bold: bold.width, size: size, c: page}
		s.card(b, cardBlocks(b, CardOptions{}))
		assert.LessOrEqual(t, page.right, cardRight+1e-9, "at %.2f mm", size)
	}
}

// wordsOf are the words of a card of so many pages, but for what is left open to be written in.
func wordsOf(b flat.Blank, blocks []block, pages int) (all []string) {
	say := func(texts ...string) {
		for _, t := range texts {
			all = append(all, strings.Fields(t)...)
		}
	}
	for i := range pages {
		say("BENCH CARD", b.Part.Name, b.Part.Title, "page", strconv.Itoa(i+1))
	}
	for _, b := range blocks {
		say(b.title)
		for _, c := range b.columns {
			say(c.head)
		}
		for _, r := range b.rows {
			for _, cell := range r {
				if strings.Trim(cell, "_") != "" {
					say(cell)
				}
			}
		}
		for _, w := range b.working {
			say(w.symbol, w.quantity, w.formula, "["+w.source+"]", w.answer)
		}
		say(b.lines...)
	}
	return all
}
