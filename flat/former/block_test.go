package former_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/bend/formula"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/former"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

// T·tan(A/2) by hand for T = .032 in: .02932 at 85°, .03200 at 90°, .03492 at 95°.
func TestBlockOffsets(t *testing.T) {
	for _, c := range []struct {
		angle measure.Angle
		inch  float64
	}{{85, .02932}, {90, .03200}, {95, .03492}} {
		assert.InDelta(t, c.inch, former.OffsetForBlock(.032*measure.Inch, c.angle*deg)/measure.Inch, 5e-6)
	}
}

// A bulkhead is a round former without an opening.
func bulkhead(t testing.TB, angle measure.Angle) former.Former {
	return former.Former{Name: "bulkhead", Sheet: sheet(t),
		Outer: former.Rim{Contour: outline.Circle(r2.Vec{}, 200), Flange: &former.Flange{Height: 18, Radius: 3, Bevels: []former.Bevel{{Angle: angle}}}}}
}

// Blocks for open, square and closed bevels, an overbend of 2° given: the radii of top
// and bottom by trigonometry, and a part formed over the block checked for size: its
// outside faces meet on the mold line.
func TestBlocks(t *testing.T) {
	for _, angle := range []measure.Angle{85, 90, 95} {
		f := bulkhead(t, angle*deg)
		f.Block = former.BlockSpec{Depth: 30, Overbend: 2 * deg}
		r, err := former.Develop(f)
		require.NoError(t, err)
		b := r.Pieces[0].Block
		top := 200 - 1.2*math.Tan(float64(angle*deg)/2)
		assert.InDelta(t, top, b.Top[0].Segment(0).Radius(), 1e-9)
		lean := float64(angle+2) * math.Pi / 180
		assert.InDelta(t, top+30*math.Cos(lean)/math.Sin(lean), b.Bottom[0].Segment(0).Radius(), 1e-9)
		assert.InDelta(t, float64(angle+2), b.Wall.Degrees(), 1e-9)
		assert.Equal(t, 30.0, b.Depth)

		// The web's outer face is T above the block, the flange's T out from its wall,
		// square to it. Where the two meet, before springback is thought of, is the
		// mold line.
		square := float64(angle) * math.Pi / 180
		n := r2.Vec{X: math.Sin(square), Y: math.Cos(square)} // outward from the wall
		wall := r2.Add(r2.Vec{X: top}, r2.Scale(1.2, n))
		// Along the wall, direction (cos A, -sin A), to the height of the outer face.
		u := (wall.Y - 1.2) / math.Sin(square)
		assert.InDelta(t, 200, wall.X+u*math.Cos(square), 1e-9)
	}
}

// A block the size of the part is drawn because it was asked for, and stopped.
func TestBlockTheSizeOfThePart(t *testing.T) {
	f := bulkhead(t, 90*deg)
	f.Block.Contour = former.PartSize
	r, err := former.Develop(f)
	require.NoError(t, err)
	assert.InDelta(t, 200, r.Pieces[0].Block.Top[0].Segment(0).Radius(), 1e-9)
	assert.True(t, r.Stopped())
	var stop flat.Finding
	for _, x := range r.Findings {
		if x.Severity == flat.Stop {
			stop = x
		}
	}
	assert.InDelta(t, 1.2, stop.Figure, 1e-9)
	assert.Contains(t, stop.Text, "too big")

	f.Block.Contour = former.InsideMold
	r, err = former.Develop(f)
	require.NoError(t, err)
	assert.False(t, r.Stopped())
}

// The cover plate ends 1/8 in inside the mold line, or at the tangent line where that
// is farther in.
func TestCover(t *testing.T) {
	r, err := former.Develop(bulkhead(t, 60*deg))
	require.NoError(t, err)
	assert.InDelta(t, 200-3.175, r.Pieces[0].Block.Cover[0].Segment(0).Radius(), 1e-9, "setback 4.2·tan 30° is 2.42")
	r, err = former.Develop(bulkhead(t, 90*deg))
	require.NoError(t, err)
	assert.InDelta(t, 200-4.2, r.Pieces[0].Block.Cover[0].Segment(0).Radius(), 1e-9)
}

// What the block is rounded to and turned through springs back to the part: the sheet
// is let go by the same law, and the neutral line has kept its length.
func TestSpringbackOfBlock(t *testing.T) {
	f := bulkhead(t, 90*deg)
	f.Sheet.Material = lookup(t, "2024-T3")
	f.Outer.Flange.Radius = 6.5
	r, err := former.Develop(f)
	require.NoError(t, err)
	b := r.Pieces[0].Block
	p, err := f.Sheet.Material.Properties(1.2, material.Typical)
	if err != nil {
		p, err = f.Sheet.Material.Properties(1.2, material.Minimum)
	}
	require.NoError(t, err)
	left, err := bend.ElasticPlastic{Fty: p.Fty, E: p.E}.Leaves(bend.Bend{Angle: b.Wall, Radius: b.Edge, Thickness: 1.2})
	require.NoError(t, err)
	assert.InDelta(t, 6.5, left.Radius, 1e-9)
	assert.InDelta(t, 90, left.Angle.Degrees(), 1e-9)
	assert.Less(t, b.Edge, 6.5)
	assert.Greater(t, b.Wall, 90*deg)
}

// Edge radius and angle of the block are worked out in steps that can be followed, and each says by what: the
// springback of the sheet, the overbend that was given, or neither.
func TestWorkingOfTheBlock(t *testing.T) {
	for _, c := range []struct {
		name, metal string
		overbend    float64 // degrees
		symbols     string
		wall        string // where the angle comes from
	}{
		{"by springback", "2024-T3", 0, "OFF w p r W s", "derived: springback cubic, the neutral line keeping its length"},
		{"overbend given", "2024-T3", 2, "OFF w p r W s", "measured: overbend as given"},
		{"no strengths", "alclad 7075-T6", 0, "OFF r W s", "common practice: no overbend where no springback is known"},
		{"no strengths, overbend given", "alclad 7075-T6", 2, "OFF r W s", "measured: overbend as given"},
	} {
		f := bulkhead(t, 90*deg)
		f.Sheet.Material = lookup(t, c.metal)
		f.Outer.Flange.Radius = 6.5
		f.Block.Overbend = measure.Angle(c.overbend) * deg
		r, err := former.Develop(f)
		require.NoError(t, err, c.name)
		all := r.Working()
		from := slices.IndexFunc(all, func(s bend.Step) bool { return s.Symbol == "OFF" })
		require.NotEqual(t, -1, from, c.name)
		var symbols []string
		block := r.Pieces[0].Block
		for _, s := range all[from:] {
			symbols = append(symbols, s.Symbol)
			require.NoError(t, formula.Check(s, bend.Inches, bend.Millimetres), c.name)
			switch s.Symbol {
			case "r":
				assert.InDelta(t, block.Edge, s.Value, 1e-12, c.name)
			case "W":
				assert.InDelta(t, float64(block.Wall), s.Value, 1e-12, c.name)
				assert.Equal(t, c.wall, s.Source.String(), c.name)
			}
		}
		assert.Equal(t, c.symbols, strings.Join(symbols, " "), c.name)
	}
}

// With a bevel that changes, the top and the bottom of the block follow it at every girth.
func TestBlockOfVaryingBevel(t *testing.T) {
	f := bulkhead(t, 90*deg)
	around := f.Outer.Contour.Length()
	f.Outer.Flange.Bevels = []former.Bevel{{At: around / 8, Angle: 82 * deg}, {At: around * 5 / 8, Angle: 100 * deg}}
	f.Block = former.BlockSpec{Depth: 25, Overbend: 1 * deg}
	r, err := former.Develop(f)
	require.NoError(t, err)
	b := r.Pieces[0].Block
	for k := range 40 {
		part := (float64(k) + 0.25) / 40
		from := math.Mod(part+7./8, 1) // of a round, from the first bevel on
		a := (82 + 18*(1-math.Abs(1-2*from))) * math.Pi / 180
		p, out := station(t, f.Outer.Contour, part*around)
		assert.InDelta(t, -1.2*math.Tan(a/2), distanceAlong(t, p, out, b.Top[0]), 0.006)
		over := a + math.Pi/180
		assert.InDelta(t, -1.2*math.Tan(a/2)+25*math.Cos(over)/math.Sin(over), distanceAlong(t, p, out, b.Bottom[0]), 0.006)
	}
	assert.InDelta(t, 101, b.Wall.Degrees(), 1e-9)
	assert.InDelta(t, 83, b.WallEnd.Degrees(), 1e-9)
	assert.Contains(t, texts(r.Findings), "a closed bevel that goes all round holds the part on its block: make the block in parts that come out one by one")
	assert.Contains(t, fmt.Sprint(texts(r.Findings)), "the bevel changes most here")
}

// Flanges that go both ways do not come off one block.
func TestFlangesBothWays(t *testing.T) {
	f := frame8(t, 0)
	f.Inner.Flange.Turn = flat.Down
	r, err := former.Develop(f)
	require.NoError(t, err)
	assert.Contains(t, fmt.Sprint(texts(r.Findings)), "second block")
}

// The pins of every piece stand on its web, two diameters from tangent lines, cut-outs
// and rivets, and serve blank, block and cover alike because all three have them
// within.
func TestPins(t *testing.T) {
	for _, n := range []int{1, 2, 4} {
		f := frame8(t, 12)
		f.Split.Pieces = n
		r, err := former.Develop(f)
		require.NoError(t, err)
		for _, p := range r.Pieces {
			require.Len(t, p.Pins, 2)
			assert.InDelta(t, 6.35, p.Pin, 1e-12)
			for _, q := range p.Pins {
				for _, near := range p.Near {
					assert.GreaterOrEqual(t, near.Distance(q), 2*p.Pin)
				}
				assert.GreaterOrEqual(t, p.Outline.Distance(q), 2*p.Pin)
				for _, m := range p.Rivets {
					assert.GreaterOrEqual(t, r2.Norm(r2.Sub(m.At, q)), 2*p.Pin)
				}
				for _, part := range []outline.Path{p.Outline, p.Block.Top[0], p.Block.Bottom[0], p.Block.Cover[0]} {
					assert.Equal(t, outline.Inside, part.Side(q))
				}
			}
		}
	}
	f := frame8(t, 12)
	f.Block.Pins = []r2.Vec{{X: 0, Y: 45}, {X: 0, Y: 47}}
	f.Cutouts = append(f.Cutouts, former.Cutout{Name: "drain", Girth: 0, Width: 30, Depth: 36, Radius: 4, Clearance: 1})
	r, err := former.Develop(f)
	require.NoError(t, err)
	assert.Contains(t, fmt.Sprint(texts(r.Findings)), "nearer than two diameters")
	f.Cutouts = nil
	r, err = former.Develop(f)
	require.NoError(t, err)
	assert.Contains(t, fmt.Sprint(texts(r.Findings)), "too near each other")
	for apart, near := range map[float64]bool{3.9: true, 4.01: false} { // diameters of 1/4 in
		f.Block.Pins[1] = r2.Vec{X: apart * 6.35, Y: 45}
		r, err = former.Develop(f)
		require.NoError(t, err)
		require.Len(t, r.Pieces[0].Pins, 2)
		assert.Equal(t, near, strings.Contains(fmt.Sprint(texts(r.Findings)), "too near each other"), "%g diameters apart", apart)
	}
	f.Block.Pins = f.Block.Pins[:1]
	r, err = former.Develop(f)
	require.NoError(t, err)
	assert.Contains(t, fmt.Sprint(texts(r.Findings)), "wants two")
}

// Another sheet: the block moves by the difference of the thicknesses at 90°.
func TestSubstitute(t *testing.T) {
	f := frame8(t, 0)
	other := material.Sheet{Material: lookup(t, "2024-O"), Thickness: 0.040 * measure.Inch}
	list, err := former.Substitute(f, other)
	require.NoError(t, err)
	found := map[string]former.Change{}
	for _, c := range list {
		found[c.Quantity] = c
	}
	c := found["form block inside the mold line, outer"]
	assert.InDelta(t, 1.2, c.Old, 1e-12)
	assert.InDelta(t, 1.016, c.New, 1e-12)
	// BA + H - 2·SB by the handbook, by hand.
	c = found["blank outside the mold line, inner"]
	assert.InDelta(t, (0.01743*3.2+0.0078*1.2)*90+14-2*4.4, c.Old, 1e-9)
	assert.InDelta(t, (0.01743*3.2+0.0078*1.016)*90+14-2*4.216, c.New, 1e-9)
	assert.Less(t, found["mass"].New, found["mass"].Old)
	_, err = former.Substitute(f, material.Sheet{})
	assert.Error(t, err)
}

// A large overbend starts the tangent line farther in than the part wants it, and the
// part comes out smaller by that: R'·tan(A'/2) - R·tan(A/2), told when it is worth it.
func TestShiftByOverbend(t *testing.T) {
	f := bulkhead(t, 90*deg)
	f.Block.Overbend = 10 * deg
	r, err := former.Develop(f)
	require.NoError(t, err)
	shift := r.Pieces[0].Block.Edge*math.Tan(50*math.Pi/180) - 3
	found := false
	for _, x := range r.Findings {
		if x.Place == "form block, outer edge" {
			found = true
			assert.InDelta(t, -shift, x.Figure, 1e-9)
			assert.Negative(t, x.Figure)
		}
	}
	assert.True(t, found)
	f.Block.Overbend = 1 * deg
	r, err = former.Develop(f)
	require.NoError(t, err)
	assert.NotContains(t, fmt.Sprint(texts(r.Findings)), "after springback the mold line")
}
