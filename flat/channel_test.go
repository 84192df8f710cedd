package flat_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

const inch = measure.Inch

// channel is the U-channel of FAA-H-8083-31 chapter 4: 0.040 in 2024-T3, inside
// radius 0.16 in, mold lines 1.00, 2.00 and 1.00 in.
func channel(rule bend.Rule) flat.Part {
	leg := []flat.Flange{{Angle: 90 * measure.Degree, Height: 1 * inch}}
	const length = 6 * inch // the handbook gives none
	return flat.Part{
		Name:   "channel",
		Sheet:  material.Sheet{Material: material.Material{Alloy: "2024", Temper: "T3"}, Thickness: 0.040 * inch},
		Rule:   rule,
		Radius: 0.16 * inch,
		Web: flat.Web{Edges: []flat.Edge{
			{Name: "lower", Start: r2.Vec{}, Flanges: leg},
			{Name: "right", Start: r2.Vec{X: length}},
			{Name: "upper", Start: r2.Vec{X: length, Y: 2 * inch}, Flanges: leg},
			{Name: "left", Start: r2.Vec{Y: 2 * inch}},
		}},
	}
}

// chartReading is the allowance as the handbook's worked channel prints it.
type chartReading struct{ allowance float64 }

var printed = bend.Law{Name: "chart reading", Formula: "BA as printed", Source: material.Source{
	Document: "FAA-H-8083-31", Place: "ch. 4, U-channel example", Provenance: material.Read}}

func (c chartReading) Allowance(b bend.Bend) (bend.Allowance, error) {
	return bend.Allowance{Length: c.allowance, Law: &printed}, nil
}

// The handbook's numbers: setback 0.20, flats 0.80, 1.60 and 0.80, and with the
// printed allowance of 0.27 in a bend, 3.74 in developed. The chart cell
// (from memory, .273) gives 3.746 and the formula 3.758.
func TestHandbookChannel(t *testing.T) {
	for _, c := range []struct {
		rule   bend.Rule
		width  float64 // in
		within float64
	}{
		{chartReading{0.27 * inch}, 3.74, 1e-9},
		// (0.01743·0.16 + 0.0078·0.040)·90 = 0.279072; 0.8+1.6+0.8+2·0.279072
		{bend.Handbook{}, 3.758144, 1e-9},
		// 2π(R + T/2)/4 = π/2·0.18 = 0.2827433
		{bend.NeutralAxis{K: 0.5}, 3.7654867, 1e-7},
	} {
		b, err := flat.Develop(channel(c.rule))
		require.NoError(t, err)
		box := b.Outline.Bounds()
		assert.InDelta(t, c.width, (box.Max.Y-box.Min.Y)/inch, c.within)
		assert.Less(t, box.Max.Y-box.Min.Y, 4.0*inch, "developed width comes out smaller than the sum of the mold lines")
		for _, line := range b.Bends {
			assert.InDelta(t, 0.20, line.Setback/inch, 1e-12)
			assert.InDelta(t, 0.80, (line.Height-line.Setback)/inch, 1e-12)
		}
		lower, upper := b.Bends[0].Near.Vertices[0].P, b.Bends[1].Near.Vertices[0].P
		assert.InDelta(t, 1.60, (upper.Y-lower.Y)/inch, 1e-12, "flat of the web between the tangent lines")
		assert.InDelta(t, 6, (box.Max.X-box.Min.X)/inch, 1e-12)
		assert.Less(t, b.Proof.Largest(), 1e-9)
	}
}

func ExampleDevelop() {
	b, err := flat.Develop(channel(bend.Handbook{}))
	if err != nil {
		fmt.Println(err)
		return
	}
	box := b.Outline.Bounds()
	fmt.Printf("developed width %s\n", measure.InchText(box.Max.Y-box.Min.Y, 3))
	for _, line := range b.Bends {
		fmt.Printf("%s: setback %s, allowance %s\n", line.Name, measure.InchText(line.Setback, 3), measure.InchText(line.Allowance.Length, 4))
	}
	fmt.Printf("folds back to within %.0e mm\n", max(b.Proof.Largest(), 1e-9))
	// Output:
	// developed width 3.758 in
	// lower: setback 0.200 in, allowance 0.2791 in
	// upper: setback 0.200 in, allowance 0.2791 in
	// folds back to within 1e-09 mm
}

// A zed: one flange up, one down. Same developed width as the channel, since the
// flats and allowances do not ask which way the bend turns.
func TestZedDevelopsAsTheChannel(t *testing.T) {
	p := channel(bend.Handbook{})
	p.Web.Edges[2].Flanges = []flat.Flange{{Angle: 90 * measure.Degree, Height: 1 * inch, Turn: flat.Down}}
	b, err := flat.Develop(p)
	require.NoError(t, err)
	box := b.Outline.Bounds()
	assert.InDelta(t, 3.758144, (box.Max.Y-box.Min.Y)/inch, 1e-9)

	solid, err := b.Fold()
	require.NoError(t, err)
	// The free edge of the upper flange hangs below the far face: z = -(1 in) from
	// the mold line on the marking face.
	tip := solid.Panel(b.Bends[1].Child, b.Panels[b.Bends[1].Child].At(r2.Vec{Y: 1 * inch}), 0)
	assert.InDelta(t, -1*inch, tip.Z, 1e-9)
	assert.InDelta(t, 2*inch, tip.Y, 1e-9, "the outside face stands on the mold line")
}

// A tray with four walls at 90°, folded: each pair of ends meets along the miter
// with the corner gap between them, and the blank is symmetrical.
func TestTrayCorners(t *testing.T) {
	wall := func(name string) []flat.Flange {
		return []flat.Flange{{Name: name, Angle: 90 * measure.Degree, Height: 20}}
	}
	p := flat.Part{
		Name: "tray", Radius: 3, Gap: 0.5,
		Sheet: material.Sheet{Material: material.Material{Alloy: "2024", Temper: "O"}, Thickness: 1},
		Web: flat.Web{Edges: []flat.Edge{
			{Name: "s", Start: r2.Vec{}, Flanges: wall("s")},
			{Name: "e", Start: r2.Vec{X: 120}, Flanges: wall("e")},
			{Name: "n", Start: r2.Vec{X: 120, Y: 80}, Flanges: wall("n")},
			{Name: "w", Start: r2.Vec{Y: 80}, Flanges: wall("w")},
		}},
	}
	b, err := flat.Develop(p)
	require.NoError(t, err)
	solid, err := b.Fold()
	require.NoError(t, err)
	// Wall s ends where its inside face, at y = T, comes within half the gap of the
	// plane x + y = 0 lying 45° through the mold corner: (x + ... )/√2 = gap/2, so
	// x = T + gap/√2 from the corner.
	want := 1 + 0.5/1.4142135623730951
	least := 1e9
	for _, corner := range b.Panels[b.Bends[0].Child].Outline {
		least = min(least, solid.Panel(b.Bends[0].Child, corner, 0).X)
	}
	assert.InDelta(t, want, least, 1e-9)
	require.Len(t, b.Reliefs, 4)
	assert.InDelta(t, 6, b.Reliefs[0].Diameter, 1e-12, "2R = 6 mm is above the handbook's 1/8 in")
	for _, f := range b.Findings {
		assert.NotEqual(t, flat.Stop, f.Severity, f.String())
	}
}

func degrees(a float64) measure.Angle { return measure.Angle(a) * measure.Degree }

// A web with a curved end between two flanges: each bend runs out where its tangent
// line crosses the arc, and the arc stays an arc of the same circle.
func TestCurvedEndBesideFlanges(t *testing.T) {
	p := channel(bend.Handbook{})
	p.Web.Edges[1].Bulge = 0.4 // bulges outward
	b, err := flat.Develop(p)
	require.NoError(t, err)
	require.NoError(t, b.Outline.Validate())
	assert.Less(t, b.Proof.Largest(), 1e-9)

	// Arc over a chord of 2 in with bulge 0.4: radius c·(1+b²)/(4b) = 1.45 in, centre
	// c·(1-b²)/(4b) = 1.05 in left of the chord x = 6 in, at half height.
	radius, center := 1.45*inch, r2.Vec{X: 6*inch - 1.05*inch, Y: 1 * inch}
	near := b.Bends[0].Near.Vertices
	end := near[len(near)-1].P
	assert.InDelta(t, 0.20*inch, end.Y, 1e-9)
	assert.InDelta(t, radius, r2.Norm(r2.Sub(end, center)), 1e-9)
	arcs := 0
	for _, s := range b.Outline.Segments() {
		if s.Bulge > 0 {
			arcs++
			assert.InDelta(t, radius, s.Radius(), 1e-9)
			assert.InDelta(t, 0, r2.Norm(r2.Sub(s.Center(), center)), 1e-9)
		}
	}
	assert.Equal(t, 1, arcs)
}

// A tray with a return lip on every wall: round each corner the lips are mitered as
// the walls are, and nothing stands in anything.
func TestTrayWithReturnLips(t *testing.T) {
	for _, c := range []struct{ wall, lip float64 }{{90, 90}, {96, 80}, {84, 95}, {90, 60}, {75, 120}} {
		wall := func(name string) []flat.Flange {
			lip := flat.Flange{Name: name + " lip", Angle: degrees(c.lip), Height: 14}
			return []flat.Flange{{Name: name, Angle: degrees(c.wall), Height: 30, Flanges: []flat.Flange{lip}}}
		}
		p := stock()
		p.Web.Edges = []flat.Edge{
			{Name: "s", Start: r2.Vec{}, Flanges: wall("s")},
			{Name: "e", Start: r2.Vec{X: 160, Y: 10}, Flanges: wall("e")},
			{Name: "n", Start: r2.Vec{X: 150, Y: 120}, Flanges: wall("n")},
			{Name: "w", Start: r2.Vec{X: -15, Y: 110}, Flanges: wall("w")},
		}
		b, err := flat.Develop(p)
		require.NoError(t, err)
		assert.Empty(t, texts(b, flat.Stop), "%+v", c)
		assert.Len(t, b.Bends, 8)
		assert.Less(t, b.Proof.Largest(), 1e-9)
	}
}

// A rule that cannot be right is named as a fault of the part.
func TestRulesAreHeldToSense(t *testing.T) {
	for _, length := range []float64{0, -3, math.NaN(), math.Inf(1), 1e300} {
		_, err := flat.Develop(channel(chartReading{length}))
		var fault *flat.Error
		require.ErrorAs(t, err, &fault, "%g", length)
		assert.Contains(t, fault.Path, "web.edges[0].flanges[0]")
		assert.Contains(t, fault.Rule, "the rule of the part allows")
	}
	_, err := flat.Develop(channel(lawless{}))
	var fault *flat.Error
	require.ErrorAs(t, err, &fault)
	assert.Contains(t, fault.Rule, "by which law")
}

// lawless is a rule that does not say what it goes by.
type lawless struct{}

func (lawless) Allowance(bend.Bend) (bend.Allowance, error) { return bend.Allowance{Length: 7}, nil }
