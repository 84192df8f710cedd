package paper

import (
	"bytes"
	"image/png"
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

// rowOf is the line of a card that starts with the words.
func rowOf(t *testing.T, card, words string) string {
	t.Helper()
	for _, line := range strings.Split(card, "\n") {
		if strings.HasPrefix(line, words) {
			return line
		}
	}
	require.Fail(t, "no row", "%s in %s", words, card)
	return ""
}

// What the cutter goes round beside the outline: holes of 2.4, 2.4, 6.35 and 6.35, the pilot of the flanged hole, 50 - 2·(8
// - .42920·3 - .71460·1.016) = 38.0273, and a slot with two sides of 20 and round ends of 8: 63.5273·π + 40 = 239.577 mm.
// The slot is listed by its middle, (70, 30) in web coordinates.
func TestCardTellsOfOpenings(t *testing.T) {
	b := develop(t, intercostal())
	card := string(written(t, "card", b))
	assert.Contains(t, rowOf(t, card, "length of cut, openings"), "239.58 mm")
	datum := b.Outline.Bounds().Min
	row := rowOf(t, card, "cut-out S1")
	for _, want := range []string{"web", "see its outline", measure.Fixed(70-datum.X, 3), measure.Fixed(30-datum.Y, 3)} {
		assert.Contains(t, row, want)
	}
	assert.NotContains(t, string(written(t, "card", develop(t, channel()))), "length of cut, openings")

	lettered := 0
	for _, l := range drawing.Of(b).Labels {
		if len(l.Text) == 1 && l.Text[0] == "S1" {
			lettered++
			assert.InDelta(t, 0, r2.Norm(r2.Sub(l.At, r2.Vec{X: 70, Y: 30})), 1e-9)
		}
	}
	assert.Equal(t, 1, lettered)
}

// A flange of 1.000 in with a lip, of .063 in sheet with R .125: 1.000 - 2·.188 = .624 in lie between the two bends.
func TestCardTellsTheFlatUpToALip(t *testing.T) {
	p := channel()
	p.Sheet.Thickness, p.Radius = .063*measure.Inch, .125*measure.Inch
	side := p.Web.Edges[0].Flanges[0]
	side.Name = "side"
	side.Flanges = []flat.Flange{{Name: "lip", Angle: 90 * measure.Degree, Height: 12}}
	p.Web.Edges[0].Flanges = []flat.Flange{side}
	assert.Contains(t, rowOf(t, string(written(t, "card", develop(t, p))), "side: the flat between its bend and that of lip"), "0.6240 / 15.850")
}

// The words that forbid cutting stand beside the blank, not on it.
func TestForbiddingWordsHideNothing(t *testing.T) {
	for forbid, clear := range map[bool]bool{true: true, false: false} {
		room := (&picture{d: drawing.Drawing{NotForCutting: forbid}}).flatRoom()
		assert.Equal(t, clear, room.Min.Y > forbidden.Max.Y)
	}
	// A blank as tall as its room, in a picture that forbids it.
	p := channel()
	p.Web.Edges[2].Start.Y, p.Web.Edges[3].Start.Y = 200, 200
	p.Web.Holes = []flat.Hole{{Name: "off", At: r2.Vec{X: 500, Y: 50}, Diameter: 5}}
	b := develop(t, p)
	require.True(t, b.Stopped())
	pic := picture{c: &boxes{}, b: b, d: drawing.Of(b), p: palettes(Light), width: func(s string) float64 { return float64(len(s)) / 2 }}
	pic.flat(pic.flatRoom())
	all := pic.c.(*boxes)
	require.NotEmpty(t, all.drawn)
	for _, box := range all.drawn {
		assert.False(t, box.Min.X < forbidden.Max.X && box.Min.Y < forbidden.Max.Y, "%v", box)
	}
}

// boxes is a canvas that keeps what stands where.
type boxes struct{ drawn []r2.Box }

func (c *boxes) layer(string) {}

func (c *boxes) shape(loops []outline.Path, _ ink) {
	for _, p := range loops {
		c.drawn = append(c.drawn, p.Bounds())
	}
}

func (c *boxes) text(l lettering) { c.drawn = append(c.drawn, r2.Box{Min: l.at, Max: l.at}) }

// A card prints one size in one way: 1/32 in is 0.0313 in its tables as in its sentences.
func TestCardRoundsInOneWay(t *testing.T) {
	const size = 1. / 32 * measure.Inch
	assert.Equal(t, "0.0313 in (0.794 mm)", measure.Both(size))
	assert.Equal(t, "0.0313 / 0.794", pair(size))
}

// The slots beside a flange that covers a part of its edge stand with the reliefs, each once: what to drill, how
// large and where. Of the handbook's channel, R .16 and T .040, a flange from 1 to 5 in: the slots are 2R = .32 wide,
// and their bottoms lie half of that beyond its ends, on the tangent line .2 in inside the mold line.
func TestCardListsSlotsBesideFlanges(t *testing.T) {
	p := channel()
	side := p.Web.Edges[0].Flanges[0]
	side.Name, side.From, side.To = "side", 1*measure.Inch, 5*measure.Inch
	p.Web.Edges[0].Flanges = []flat.Flange{side}
	b := develop(t, p)
	card := string(written(t, "card", b))
	datum := b.Outline.Bounds().Min
	for end, x := range map[string]float64{"start": .84, "end": 5.16} {
		name := "slot beside side, " + end
		row := rowOf(t, card, name)
		y := .2 - datum.Y/measure.Inch
		for _, want := range []string{"web", "0.3200 / 8.128", measure.Fixed(x-datum.X/measure.Inch, 4), measure.Fixed(y, 4)} {
			assert.Contains(t, row, want)
		}
		assert.Equal(t, 1, strings.Count(card, name))
		crossed := 0
		for _, line := range drawing.Of(b).Paths {
			if line.Name == name && line.Layer == drawing.Note {
				crossed++
				assert.InDelta(t, 0, line.Distance(r2.Vec{X: x * measure.Inch, Y: .2 * measure.Inch}), 1e-9)
			}
		}
		assert.Equal(t, 2, crossed, "a cross to drill at")
	}
}

// The card gives the web from mold line to mold line, where the picture sends to it for a corner it has no room for.
// By hand: an ell of 4 by 3 in with a quarter of 2 by 1 in out of it, its corners 90°, the one in the hollow 270°; and a
// side of 3 in at atan(4/3) = 53.13°, of 36.87° the other end, beside one of 5 in.
func TestCardGivesTheWebsCorners(t *testing.T) {
	p := channel()
	row := func(points []r2.Vec, name string) string {
		p.Web.Edges = nil
		for i, at := range points {
			p.Web.Edges = append(p.Web.Edges, flat.Edge{Name: "side " + string(rune('a'+i)), Start: r2.Scale(measure.Inch, at)})
		}
		return rowOf(t, string(written(t, "card", develop(t, p))), name)
	}
	ell := []r2.Vec{{}, {X: 4}, {X: 4, Y: 2}, {X: 2, Y: 2}, {X: 2, Y: 3}, {Y: 3}}
	assert.Equal(t, []string{"side", "d", "1.0000", "/", "25.400", "270°", "2.0000", "2.0000", "50.800", "50.800"}, strings.Fields(row(ell, "side d")))
	assert.Equal(t, []string{"side", "c", "2.0000", "/", "50.800", "90°", "4.0000", "2.0000", "101.600", "50.800"}, strings.Fields(row(ell, "side c")))
	wedge := []r2.Vec{{}, {X: 4}, {Y: 3}}
	assert.Equal(t, []string{"side", "b", "5.0000", "/", "127.000", "36.87°", "4.0000", "0.0000", "101.600", "0.000"}, strings.Fields(row(wedge, "side b")))
	assert.Equal(t, []string{"side", "c", "3.0000", "/", "76.200", "53.13°", "0.0000", "3.0000", "0.000", "76.200"}, strings.Fields(row(wedge, "side c")))

	// A half circle of 2 in across is π long, and a corner at either end of it is no angle of two lines.
	p.Web.Edges = []flat.Edge{
		{Name: "base"}, {Name: "right", Start: r2.Vec{X: 2 * measure.Inch}},
		{Name: "bow", Start: r2.Vec{X: 2 * measure.Inch, Y: measure.Inch}, Bulge: 1}, {Name: "left", Start: r2.Vec{Y: measure.Inch}},
	}
	card := string(written(t, "card", develop(t, p)))
	for name, want := range map[string]string{"base": "90°", "right": "90°", "bow": "beside an arc", "left": "beside an arc"} {
		assert.Contains(t, rowOf(t, card, name), want)
	}
	assert.Contains(t, rowOf(t, card, "bow"), "3.1416 / 79.796")
}

// Names as long as a sheet do not shrink the blank to nothing: it is drawn at no less than half the size it has with short
// ones, and nothing is lettered beyond the sheet.
func TestLongNamesLeaveThePictureItsScale(t *testing.T) {
	plain, err := newLetters(false)
	require.NoError(t, err)
	bold, err := newLetters(true)
	require.NoError(t, err)
	drawn := func(p flat.Part) (scale float64, right float64) {
		b := develop(t, p)
		page := &inked{plain: plain.width, bold: bold.width}
		pic := picture{c: page, b: b, d: drawing.Of(b), p: palettes(Light), width: plain.width}
		pic.flat(pic.flatRoom())
		pic.foot()
		return pic.scale, page.right
	}
	p := intercostal()
	short, _ := drawn(p)
	long := strings.Repeat("forward lower auxiliary bulkhead ", 12)
	p.Name, p.Title = strings.Repeat("bulkhead-", 20), long
	p.Web.Holes[0].Name = long + "T1"
	for i := range p.Web.Edges {
		p.Web.Edges[i].Name = long + p.Web.Edges[i].Name
	}
	scale, right := drawn(p)
	assert.GreaterOrEqual(t, scale, short/2)
	assert.LessOrEqual(t, right, pictureWidth-margin+1e-9)
}

// An image is opaque to its last row and column, whatever its size: 1500 pixels across are 1060.6 high.
func TestImageHasNoEdgeToSeeThrough(t *testing.T) {
	b := develop(t, channel())
	for _, pixels := range []int{401, 1500} {
		var out bytes.Buffer
		require.NoError(t, PNG(&out, b, PictureOptions{Background: Dark}, pixels))
		im, err := png.Decode(&out)
		require.NoError(t, err)
		last := im.Bounds().Max
		for x := range last.X {
			_, _, _, a := im.At(x, last.Y-1).RGBA()
			require.EqualValues(t, 0xffff, a, "%d across, column %d of the last row", pixels, x)
		}
		for y := range last.Y {
			_, _, _, a := im.At(last.X-1, y).RGBA()
			require.EqualValues(t, 0xffff, a, "%d across, row %d of the last column", pixels, y)
		}
	}
}

// Beside each diameter stands the drill that makes it: 6.35 mm is 1/4 in, 2.4 mm .0945 in, .0007 above 3/32 in
// (.09375) and .001 above No. 42 (.0935); 50 mm less its lip is no drill's.
func TestCardNamesTheDrill(t *testing.T) {
	card := cardWords(t, develop(t, intercostal()), CardOptions{})
	assert.Contains(t, card, "T1 web 0.2500 / 6.350 1/4 in")
	assert.Contains(t, card, "A1 aft 0.0945 / 2.400 3/32 in")
	assert.Contains(t, card, "Drill: the fraction, number or letter within .001 in")
	assert.NotRegexp(t, `L1, lip \w+ web [\d.]+ / [\d.]+ (No|letter|\d+/\d+)`, card)
	assert.NotContains(t, cardWords(t, develop(t, channel()), CardOptions{}), "Drill:", "nothing to drill")
}
