package paper

import (
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/rivet"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
)

// A row of rivets is one line of the card. By hand: ends so far off that 5 1/2 in lie between first and last rivet leave
// 8 spaces of 0.6875 in, 17.4625 mm; 9/16 in from the mold line.
func TestCardGivesALineToARow(t *testing.T) {
	p := channel()
	long := p.Web.Edges[1].Start.X - p.Web.Edges[0].Start.X
	flange := p.Web.Edges[0].Flanges[0]
	flange.Name = "side"
	rows := rivet.FlangeRows{
		Name: "seam", Rivet: rivet.Rivet{Diameter: measure.Inch / 8}, Pitch: .75 * measure.Inch, FromMold: 9. / 16 * measure.Inch,
		End: (long - 5.5*measure.Inch) / 2, Onto: .05 * measure.Inch,
	}
	flange.Rivets = []flat.Riveting{rows}
	p.Web.Edges[0].Flanges = []flat.Flange{flange}
	b := develop(t, p)
	card := string(written(t, "card", b))
	row := rowOf(t, card, "seam ")
	for _, want := range []string{"side", " 9 ", "0.6875 / 17.463", "0.5625 / 14.288"} {
		assert.Contains(t, row, want)
	}
	datum := b.Outline.Bounds().Min
	first, last := b.Rows[0].Centers[0], b.Rows[0].Centers[8]
	assert.InDelta(t, 5.5*measure.Inch, last.X-first.X, 1e-9)
	for _, x := range []float64{first.X - datum.X, last.X - datum.X} {
		assert.Contains(t, row, measure.Fixed(x, 2)+",")
	}
	assert.Contains(t, card, "seam: 1/8 in, protruding head, 5/16 in long; rivet pilots Ø 0.0938 in (2.381 mm).") // 0.04 + 0.05 + 0.1875 = 0.2775
	assert.NotContains(t, card, "rivet pilot seam", "its holes are not listed again")
	assert.NotContains(t, string(written(t, "card", develop(t, channel()))), "RIVET ROWS")

	rows.Drill = rivet.MarkOnly
	rows.FromMold, flange.HeightEnd = 0, flange.Height+measure.Inch/2
	other := rows
	other.Name = "other"
	other.Rivet.Head = rivet.Dimpled
	again := rows
	again.Name = "again"
	flange.Rivets = []flat.Riveting{rows, other, again}
	p.Web.Edges[0].Flanges[0] = flange
	card = string(written(t, "card", develop(t, p)))
	assert.Contains(t, card, "seam, again: 1/8 in, protruding head, 5/16 in long; mark with a cross and drill in place.")
	assert.Contains(t, card, "other: 1/8 in, flush, dimpled head, 5/16 in long; mark with a cross and drill in place.")
	assert.Contains(t, rowOf(t, card, "seam "), " to ", "along a taper it lies nearer at one end")
	assert.False(t, strings.Contains(card, "LINES TO MARK"), "crosses are told with their row")
}
