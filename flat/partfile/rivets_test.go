package partfile_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/partfile"
	"github.com/hangarflat/hangarflat/flat/rivet"
	"github.com/hangarflat/hangarflat/material/measure"
)

// riveted is a file of one edge with a flange, of which the lines given are the rivets.
func riveted(lines ...string) string {
	return `kind = "edges"
name = "rail"
[sheet]
material = "2024-T3"
thickness = "0.040 in"
[bends]
radius = "3/16 in"
[[edge]]
length = "8 in"
corner = "90 deg"
[[edge.flange]]
name = "keel"
turn = "up"
angle = "90 deg"
height = "3/4 in"
[[edge.flange.rivets]]
` + strings.Join(lines, "\n") + `
[[edge]]
length = "4 in"
corner = "90 deg"
[[edge]]
length = "8 in"
[[edge]]
`
}

// Every key, as it stands in the part, and written again in the same words.
func TestRowsOfRivetsRead(t *testing.T) {
	doc, err := read(riveted(`name = "seam"`, `rivet = "3/32 in"`, `head = "dimpled"`, `pitch = "3/4 in"`, `from_mold = "7/16 in"`, `end_distance = "1/4 in"`,
		`rows = 2`, `row_spacing = "1/4 in"`, `stagger = "yes"`, `drill = "mark"`, `onto = "1/16 in"`))
	require.NoError(t, err)
	const in = measure.Inch
	rows := doc.Part.Web.Edges[0].Flanges[0].Rivets
	require.Len(t, rows, 1)
	r, ok := rows[0].(rivet.FlangeRows)
	require.True(t, ok)
	for _, c := range [][2]float64{{r.Rivet.Diameter, 3. / 32}, {r.Pitch, .75}, {r.FromMold, 7. / 16}, {r.End, .25}, {r.Spacing, .25}, {r.Onto, 1. / 16}} {
		assert.InDelta(t, c[1]*in, c[0], 1e-9)
	}
	assert.Equal(t, []any{"seam", rivet.Dimpled, 2, true, rivet.MarkOnly}, []any{r.Name, r.Rivet.Head, r.Rows, r.Stagger, r.Drill})
	var out strings.Builder
	require.NoError(t, partfile.Write(&out, doc.Part))
	assert.Contains(t, out.String(), `[[edge.flange.rivets]]
name = "seam"
rivet = "3/32 in"
head = "dimpled"
pitch = "3/4 in"
from_mold = "7/16 in"
end_distance = "1/4 in"
rows = 2
row_spacing = "1/4 in"
stagger = "yes"
drill = "mark"
onto = "1/16 in"
`)
	again, err := read(out.String())
	require.NoError(t, err)
	assert.Equal(t, doc.Part, again.Part)

	doc, err = read(riveted(`rivet = "1/8 in"`, `pitch = "1 in"`))
	require.NoError(t, err)
	assert.Equal(t, []flat.Riveting{rivet.FlangeRows{Rivet: rivet.Rivet{Diameter: in / 8}, Pitch: in}}, doc.Part.Web.Edges[0].Flanges[0].Rivets)
}

// Slips, each at its line and column: the rivets' first line is line 17.
func TestRowsOfRivetsRefused(t *testing.T) {
	good := []string{`rivet = "1/8 in"`, `pitch = "1 in"`}
	for _, c := range []struct {
		line string // the third, or one for one of the good
		want []string
	}{
		{`rivet = "1/2 in"`, []string{`bay.toml:17:9: edge 1 flange 1 rivets 1 rivet: "1/2 in": a solid rivet is 1 to 10 mm thick`}},
		{`rivet = 0.125`, []string{`bay.toml:17:9`, `write "0.125 in" or "0.125 mm"`}},
		{`pitch = "0 in"`, []string{`bay.toml:18:9: edge 1 flange 1 rivets 1 pitch`, "must be above 0"}},
		{`pitch = "0.01 in"`, []string{`bay.toml:18:9`, "must be 0.5 mm to 10 m"}},
		{`rows = 1.5`, []string{`bay.toml:19:8`, "must be a whole number, such as rows = 2"}},
		{`rows = "2"`, []string{`bay.toml:19:8`, "must be a plain number"}},
		{`rows = 21`, []string{`bay.toml:19:8`, "must be 1 to 20"}},
		{`stagger = "yes"`, []string{`bay.toml:19:11`, "there is one row only"}},
		{`row_spacing = "1 in"`, []string{`bay.toml:19:15`, "there is one row only"}},
		{`drill = "pilots"`, []string{`bay.toml:19:9`, `did you mean "pilot"?`}},
		{`head = "flush"`, []string{`bay.toml:19:8`, `"protruding"`, `"countersunk"`}},
		{`from_mould = "1/2 in"`, []string{`bay.toml:19:1`, `did you mean "from_mold"?`}},
		{`diameter = "1/2 in"`, []string{`bay.toml:19:1`, "is not known here"}},
	} {
		lines := append([]string(nil), good...)
		switch key, _, _ := strings.Cut(c.line, " "); key {
		case "rivet":
			lines[0] = c.line
		case "pitch":
			lines[1] = c.line
		default:
			lines = append(lines, c.line)
		}
		_, err := read(riveted(lines...))
		require.Len(t, partfile.Faults(err), 1, "%s: %v", c.line, err)
		for _, want := range c.want {
			assert.ErrorContains(t, err, want, c.line)
		}
	}
	_, err := read(riveted(`rows = "two"`, `stagger = "yes"`, `drill = "full"`))
	var got []string
	for _, f := range partfile.Faults(err) {
		got = append(got, fmt.Sprintf("%d:%d %s", f.Line, f.Column, f.Field))
	}
	assert.Equal(t, []string{"16:15 edge 1 flange 1 rivets 1 rivet", "16:15 edge 1 flange 1 rivets 1 pitch", "17:8 edge 1 flange 1 rivets 1 rows"}, got)
	two := riveted(append(good, `name = "a"`, `[[edge.flange.rivets]]`, `name = "a"`, good[0], good[1])...)
	_, err = read(two)
	assert.ErrorContains(t, err, `bay.toml:21:8: edge 1 flange 1 rivets 2 name: "a": another table of rivets of this flange has this name, in line 19`)
	_, err = read(strings.Replace(riveted(good...), `angle = "90 deg"`, "angle = \"90 deg\"\nangle_end = \"80 deg\"", 1))
	assert.ErrorContains(t, err, "bay.toml:17:15: edge 1 flange 1 rivets")
	assert.ErrorContains(t, err, "bends along curves")
}

// What is found only when the part is developed comes out with the line of the table.
func TestRowWithoutRoomHasItsLine(t *testing.T) {
	doc, err := read(riveted(`rivet = "1/8 in"`, `pitch = "1 in"`, `from_mold = "7/8 in"`))
	require.NoError(t, err)
	_, err = flat.Develop(doc.Part)
	assert.ErrorContains(t, doc.Locate(err), "bay.toml:16:15: edge 1 flange 1 rivets 1: the flange: leaves no room for a row 22.225 mm from its mold line")
}

// In a section a leg's rows lie alike on both sides of the web, though the legs run opposite ways: 5 3/4 in between
// ends of 1/8 in are 6 spaces of no more than an inch. A row on the web is refused.
func TestRowsOfRivetsInASection(t *testing.T) {
	rows := func(leg string) string {
		return leg + "\n[[section.leg.rivets]]\nrivet = \"1/8 in\"\npitch = \"1 in\"\nend_distance = \"1/8 in\"\n"
	}
	text := func(web string) string {
		return `kind = "section"
name = "channel"
[sheet]
material = "2024-T3"
thickness = "0.040 in"
[bends]
radius = "0.16 in"
[section]
length = "6 in"
[[section.leg]]
name = "near"
width = "1 in"
bend = "90 deg"
turn = "up"
` + rows("") + `[[section.leg]]
name = "base"
width = "2 in"
bend = "90 deg"
turn = "up"
` + web + `[[section.leg]]
name = "far"
width = "1 in"
` + rows("")
	}
	doc, err := read(text(""))
	require.NoError(t, err)
	b, err := flat.Develop(doc.Part)
	require.NoError(t, doc.Locate(err))
	require.Len(t, b.Rows, 2)
	require.Len(t, b.Rows[0].Centers, 7)
	require.Len(t, b.Rows[1].Centers, 7)
	for k, c := range b.Rows[0].Centers {
		far := b.Rows[1].Centers[6-k]
		assert.InDelta(t, (.125+5.75/6*float64(k))*measure.Inch, c.X, 1e-9)
		assert.InDelta(t, 0, r2.Norm(r2.Sub(far, r2.Vec{X: c.X, Y: 2*measure.Inch - c.Y})), 1e-9)
	}
	_, err = read(text(rows("")))
	assert.ErrorContains(t, err, "section leg 2 rivets")
	assert.ErrorContains(t, err, "give a rivet in the web as a hole")
}

// The sample: the keel row stays 9/16 in from its mold line and 1/4 in from the trimmed ends; the skin's two rows are only marked.
func TestRivetedIntercostal(t *testing.T) {
	doc := sample(t, "keel-bay-8")
	b, err := flat.Develop(doc.Part)
	require.NoError(t, doc.Locate(err))
	require.Len(t, b.Rows, 3)
	assert.Equal(t, []string{"keel row", "skin row 1", "skin row 2"}, []string{b.Rows[0].Name, b.Rows[1].Name, b.Rows[2].Name})
	assert.Len(t, b.Holes, len(b.Rows[0].Centers))
	assert.Len(t, b.Rows[2].Centers, len(b.Rows[1].Centers)-1)
	p := b.Panels[b.Rows[0].Panel]
	for k, c := range b.Rows[0].Centers {
		assert.InDelta(t, 9./16*measure.Inch, r2.Dot(r2.Sub(c, p.Origin), p.Out), 1e-9)
		if k > 0 {
			apart := r2.Norm(r2.Sub(c, b.Rows[0].Centers[k-1]))
			assert.LessOrEqual(t, apart, .75*measure.Inch)
			assert.Greater(t, apart, .6*measure.Inch)
		}
	}
	for _, f := range b.Findings {
		assert.Equal(t, flat.Note, f.Severity, f.String())
	}
	assert.Less(t, b.Proof.Largest(), 1e-6)
}

// A riveting of a program's own cannot be written.
func TestOwnRivetingIsNotWritten(t *testing.T) {
	doc, err := read(riveted(`rivet = "1/8 in"`, `pitch = "1 in"`))
	require.NoError(t, err)
	doc.Part.Web.Edges[0].Flanges[0].Rivets = []flat.Riveting{ownRows{}}
	var out strings.Builder
	assert.ErrorContains(t, partfile.Write(&out, doc.Part), "lay these, and write their holes")
	assert.Empty(t, out.String())
}

type ownRows struct{ rivet.FlangeRows }

func (ownRows) Validate(func(field, value, rule string)) {}
