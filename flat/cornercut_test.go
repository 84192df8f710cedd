package flat_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// cornered is a plate of .040 in, R .16, with a flange along its lower edge and one along its next,
// which turns from it by so much; the corner between them lies at (6, 0) in and is cut as asked.
func cornered(turn, first, second measure.Angle, cut flat.Corner) flat.Part {
	p := plate(6, 4, .040, .16, [4]*flat.Flange{{Angle: first, Height: 1 * inch}, {Angle: second, Height: .8 * inch}})
	sin, cos := math.Sincos(turn.Radians())
	p.Web.Edges[1].Corner = cut
	p.Web.Edges[2].Start = r2.Vec{X: (6 + 4*cos/sin) * inch, Y: 4 * inch}
	p.Web.Edges[3].Start = r2.Vec{X: -2 * inch, Y: 4 * inch}
	return p
}

// The tangent lines of two square bends lie .20 in inside the edges. A notch .5 in wide takes .25 in to either
// side of them, so its inner corner lies .45 in inside both edges, and its two others .05 in outside the one
// and .45 in inside the other. With edges at a turn θ what is h inside both lies at (-h·tan(θ/2), h) from the corner,
// and what is h inside the second and k outside the first at x with x·sin θ + k·cos θ = -h.
func TestNotchedCorner(t *testing.T) {
	for _, c := range []struct {
		turn   float64
		width  float64  // in
		points []r2.Vec // in, from the mold corner: the three corners that the cut goes round
	}{
		// .6 in reaches past the far tangent lines, .279 in from the near ones: out of the flanges too.
		{90, .6, []r2.Vec{{X: -.5, Y: -.1}, {X: -.5, Y: .5}, {X: .1, Y: .5}}},
		{90, .5, []r2.Vec{{X: -.45, Y: -.05}, {X: -.45, Y: .45}, {X: .05, Y: .45}}},
		{60, .5, []r2.Vec{
			{X: (-.45 - .05*.5) / math.Sin(math.Pi/3), Y: -.05},
			{X: -.45 * math.Tan(math.Pi/6), Y: .45},
			{X: (.05 + .45*.5) / math.Sin(math.Pi/3), Y: .45},
		}},
		{110, .5, []r2.Vec{{X: -.45 * math.Tan(55*math.Pi/180), Y: .45}}},
	} {
		p := cornered(degrees(c.turn), degrees(90), degrees(90), flat.Corner{Kind: flat.Notched, Width: c.width * inch})
		b, err := flat.Develop(p)
		require.NoError(t, err)
		require.NoError(t, b.Outline.Validate())
		assert.Empty(t, texts(b, flat.Stop))
		assert.Less(t, b.Proof.Largest(), 1e-6)
		for _, q := range c.points {
			at := r2.Scale(inch, r2.Add(q, r2.Vec{X: 6}))
			near := math.Inf(1)
			for _, v := range b.Outline.Vertices {
				near = min(near, r2.Norm(r2.Sub(v.P, at)))
			}
			assert.InDelta(t, 0, near, 1e-9, "turn %g°: a corner of the cut at (%g, %g) in", c.turn, q.X, q.Y)
		}
		require.Len(t, b.Reliefs, 1)
		assert.Equal(t, flat.Notched, b.Reliefs[0].Kind)
		assert.InDelta(t, c.width*inch, b.Reliefs[0].Diameter, 1e-12)
		rim := 0
		for _, v := range b.Outline.Vertices { // nothing is left within the notch
			sin, cos := math.Sincos(c.turn * math.Pi / 180)
			d := r2.Sub(r2.Scale(1/inch, v.P), r2.Vec{X: 6})
			past := max(math.Abs(d.Y-.2), math.Abs(d.X*sin-d.Y*cos+.2))
			assert.GreaterOrEqual(t, past, c.width/2-1e-9, "%v", d)
			if past < c.width/2+1e-9 {
				rim++
			}
		}
		assert.Equal(t, 5, rim, "where the cut comes in, three corners, where it goes out")
		// The same part drawn askew.
		for i := range p.Web.Edges {
			e := &p.Web.Edges[i]
			e.Start = r2.Rotate(e.Start, 0.3, r2.Vec{})
		}
		askew, err := flat.Develop(p)
		require.NoError(t, err)
		assert.InDelta(t, b.Outline.Area(), askew.Outline.Area(), 1e-6)
		assert.InDelta(t, b.Outline.Length(), askew.Outline.Length(), 1e-6)
		assert.Contains(t, texts(b, flat.Note), "sharp inner corners")
		for _, s := range b.Outline.Segments() {
			assert.Zero(t, s.Bulge, "a notch has straight sides")
		}
	}
}

// Where the web turns inward at a corner the notch lies the same way about the crossing of the tangent lines.
func TestNotchAtAReflexCorner(t *testing.T) {
	leg := []flat.Flange{{Angle: degrees(90), Height: .5 * inch}}
	p := plate(6, 4, .040, .16, [4]*flat.Flange{})
	e := p.Web.Edges
	// An L: the upper right quarter is missing, and the two edges that leave it carry flanges.
	p.Web.Edges = []flat.Edge{e[0], e[1],
		{Name: "shelf", Start: r2.Vec{X: 6 * inch, Y: 2 * inch}, Flanges: leg},
		{Name: "rise", Start: r2.Vec{X: 3 * inch, Y: 2 * inch}, Flanges: leg, Corner: flat.Corner{Kind: flat.Notched, Width: .5 * inch}},
		{Name: "upper", Start: r2.Vec{X: 3 * inch, Y: 4 * inch}}, e[3]}
	b, err := flat.Develop(p)
	require.NoError(t, err)
	require.NoError(t, b.Outline.Validate())
	assert.Less(t, b.Proof.Largest(), 1e-6)
	// The tangent lines cross .2 in inside both edges, at (2.8, 1.8); the notch is (2.55, 1.55) to (3.05, 2.05).
	assert.Equal(t, outline.Outside, b.Outline.Side(r2.Vec{X: 2.9 * inch, Y: 1.9 * inch}))
	assert.InDelta(t, 0, b.Outline.Distance(r2.Vec{X: 2.55 * inch, Y: 1.55 * inch}), 1e-9)
	assert.Equal(t, outline.Inside, b.Outline.Side(r2.Vec{X: 2.54 * inch, Y: 1.54 * inch}))
}

// ends are the places of the panel of a bend, folded, on both faces.
func ends(t *testing.T, b flat.Blank, name string) (points []r3.Vec) {
	solid, err := b.Fold()
	require.NoError(t, err)
	for _, l := range b.Bends {
		if l.Name != name {
			continue
		}
		for _, q := range b.Panels[l.Child].Outline {
			for _, z := range []float64{0, -b.Part.Sheet.Thickness} {
				points = append(points, solid.Panel(l.Child, q, z))
			}
		}
	}
	require.NotEmpty(t, points)
	return points
}

// Folded, the flanges of a corner stand half its gap each from the plane midway between their outside faces, and
// those of a closed corner touch it, whatever their bevels, their heights and the turn of the web.
func TestGapOfACorner(t *testing.T) {
	for _, turn := range []float64{60, 90, 115} {
		for _, bevels := range [][2]float64{{90, 90}, {83, 97}, {104, 78}, {95, 112}} {
			for _, c := range []struct {
				cut flat.Corner
				gap float64
			}{
				{flat.Corner{}, 0.8}, {flat.Corner{Gap: 2.1}, 2.1}, {flat.Corner{Kind: flat.Notched, Gap: 0.3}, 0.3}, {flat.Corner{Kind: flat.Notched}, 0.8},
				{flat.Corner{Kind: flat.Closed}, 0}, {flat.Corner{Kind: flat.Closed, Gap: 0.15}, 0.15},
			} {
				p := cornered(degrees(turn), degrees(bevels[0]), degrees(bevels[1]), c.cut)
				p.Gap = 0.8
				b, err := flat.Develop(p)
				require.NoError(t, err)
				assert.Empty(t, texts(b, flat.Stop), "%v", c)
				assert.Less(t, b.Proof.Largest(), 1e-6)
				// Both turn up, so the mold lines lie on the far face, at z = -T, and the outside faces lean out by the
				// bevel: normals (out·sin A, -cos A).
				normal := func(out r2.Vec, a float64) r3.Vec {
					sin, cos := math.Sincos(a * math.Pi / 180)
					return r3.Vec{X: out.X * sin, Y: out.Y * sin, Z: -cos}
				}
				sin, cos := math.Sincos(turn * math.Pi / 180)
				miter := r3.Unit(r3.Sub(normal(r2.Vec{X: sin, Y: -cos}, bevels[1]), normal(r2.Vec{Y: -1}, bevels[0])))
				corner := r3.Vec{X: 6 * inch, Z: -b.Part.Sheet.Thickness}
				first, second := math.Inf(-1), math.Inf(1)
				for _, q := range ends(t, b, "lower") {
					first = max(first, r3.Dot(miter, r3.Sub(q, corner)))
				}
				for _, q := range ends(t, b, "right") {
					second = min(second, r3.Dot(miter, r3.Sub(q, corner)))
				}
				what := fmt.Sprintf("%+v, turn %g°, bevels %v", c.cut, turn, bevels)
				assert.InDelta(t, c.gap/2, math.Abs(first), 1e-6, what)
				assert.InDelta(t, c.gap/2, math.Abs(second), 1e-6, what)
				assert.InDelta(t, c.gap, second-first, 2e-6, what)
			}
		}
	}
}

// A corner's own hole is as wide as it says, others stay by the rule: 2R = .32 in.
func TestHoleOfItsOwn(t *testing.T) {
	leg := &flat.Flange{Angle: degrees(90), Height: 1 * inch}
	p := plate(6, 4, .040, .16, [4]*flat.Flange{leg, leg, leg})
	p.Web.Edges[1].Corner.Width = .4 * inch
	b, err := flat.Develop(p)
	require.NoError(t, err)
	require.Len(t, b.Reliefs, 2)
	by := map[string]float64{}
	for _, r := range b.Reliefs {
		by[r.Corner] = r.Diameter
	}
	assert.InDelta(t, .4*inch, by["lower/right"], 1e-12)
	assert.InDelta(t, .32*inch, by["right/upper"], 1e-12)
	// The other hand has them at the same corners.
	m, err := flat.Develop(p.Mirrored())
	require.NoError(t, err)
	require.Len(t, m.Reliefs, 2)
	for _, r := range m.Reliefs {
		want := .32
		if r.Center.Y < 2*inch {
			want = .4
		}
		assert.InDelta(t, want*inch, r.Diameter, 1e-12, r.Corner)
	}
}

func TestCornersThatCannotBe(t *testing.T) {
	refuses := func(p flat.Part, path, rule string) {
		t.Helper()
		_, err := flat.Develop(p)
		var fault *flat.Error
		if assert.ErrorAs(t, err, &fault) {
			assert.Equal(t, path, fault.Path)
			assert.Contains(t, err.Error(), rule)
		}
	}
	with := func(change func(p *flat.Part, c *flat.Corner)) flat.Part {
		p := cornered(degrees(90), degrees(90), degrees(90), flat.Corner{Kind: flat.Closed})
		change(&p, &p.Web.Edges[1].Corner)
		return p
	}
	const at = "web.edges[1].corner"
	refuses(with(func(_ *flat.Part, c *flat.Corner) { c.Kind = 9 }), at+".kind", "must be drilled, notched or closed")
	refuses(with(func(_ *flat.Part, c *flat.Corner) { c.Width = math.NaN() }), at+".width", "width NaN mm: must be 0 mm")
	refuses(with(func(_ *flat.Part, c *flat.Corner) { c.Width = -1 }), at+".width", "width -1 mm: must be 0 mm")
	refuses(with(func(_ *flat.Part, c *flat.Corner) { c.Gap = 101 }), at+".gap", "gap 101 mm: must be 0 mm")
	refuses(with(func(p *flat.Part, _ *flat.Corner) { p.Web.Edges[0].Flanges = nil }), at, `edge "right": how its corner is cut goes for two flanges that meet there`)
	refuses(with(func(p *flat.Part, _ *flat.Corner) { p.Web.Edges[1].Flanges = nil }), at, "not both edges have one")
	refuses(with(func(p *flat.Part, _ *flat.Corner) { p.Web.Edges[0].Flanges[0].To = 5 * inch }), at, "not both edges have one")
	refuses(with(func(p *flat.Part, _ *flat.Corner) {
		p.Web.Edges[1].Flanges[0].From, p.Web.Edges[1].Flanges[0].To = 1*inch, 3*inch
	}), at, "not both edges have one")
	refuses(with(func(p *flat.Part, _ *flat.Corner) { p.Web.Edges[1].Flanges[0].Turn = flat.Down }), at+".kind", "turned the same way")
	refuses(cornered(degrees(20), degrees(90), degrees(90), flat.Corner{Kind: flat.Notched}), "web.edges[1].flanges[0]", "a notch needs a turn of 30° to 150°")
	// A flange that reaches the corner by its stations is up to it.
	p := with(func(p *flat.Part, _ *flat.Corner) {
		p.Web.Edges[0].Flanges[0].From, p.Web.Edges[0].Flanges[0].To = 1*inch, 6*inch
	})
	_, err := flat.Develop(p)
	assert.NoError(t, err)
}

// A tray whose corners are welded: its walls meet metal to metal, with a relief of 9 mm at the foot of each corner.
func ExampleCorner() {
	leg := &flat.Flange{Angle: 90 * measure.Degree, Height: 30}
	p := plate(6, 4, .040, .16, [4]*flat.Flange{leg, leg, leg, leg})
	p.Rule = bend.Handbook{}
	for i := range p.Web.Edges {
		p.Web.Edges[i].Corner = flat.Corner{Kind: flat.Closed, Width: 9}
	}
	p.Web.Edges[2].Corner = flat.Corner{Kind: flat.Notched, Width: 10} // one corner drains
	b, err := flat.Develop(p)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, r := range b.Reliefs {
		fmt.Printf("%s: %v, %.0f mm\n", r.Corner, r.Kind, r.Diameter)
	}
	// Output:
	// left/lower: closed, 9 mm
	// lower/right: closed, 9 mm
	// right/upper: notched, 10 mm
	// upper/left: closed, 9 mm
}

// Two flanges folded nearly flat, 163° and 165°, that touch at a closed corner: the slabs that stand for their curls
// lie up to (R + T)·(1 - cos 10.3°) = .087 mm off them, and that is no clash.
func TestClosedCornerFoldedNearlyFlat(t *testing.T) {
	p := stock()
	p.Sheet.Thickness, p.Radius, p.Rule = 2.1936752207698835, 3.190255692334432, bend.NeutralAxis{K: 0.40641924909855903}
	p.Web.Edges = []flat.Edge{
		{Name: "a", Start: r2.Vec{X: 100.94883209043208, Y: 169.0429383880386}, Flanges: []flat.Flange{{Angle: degrees(162.9), Height: 39.96427231052403}}},
		{Name: "b", Start: r2.Vec{X: -107.1298220404791, Y: 61.744904500338755}, Flanges: []flat.Flange{{Angle: degrees(164.94), Height: 81.75300448043856}},
			Corner: flat.Corner{Kind: flat.Closed, Width: 10.073621172848016}},
		{Name: "c", Start: r2.Vec{X: 26.416380485781577, Y: -56.348416713426985}},
	}
	b, err := flat.Develop(p)
	require.NoError(t, err)
	assert.NotContains(t, texts(b, flat.Stop), `flange "b" and flange "a"`)
	assert.NotContains(t, texts(b, flat.Stop), `flange "a" and flange "b"`)
	assert.NotContains(t, texts(b, flat.Stop), `flange "b" and bend of flange "a"`)
}

// Two curls that meet metal to metal round a radius of less than the thickness: the slabs that stand for them are as
// long as the neutral line and put the outside face up to ((R + T)·A - W)/16 = .14 mm off, and that is no clash. Nor is it
// where a corner that is drilled keeps .02 mm between them, of a sheet of 3.2 mm.
func TestClosedCornerOfThickSheet(t *testing.T) {
	for _, c := range []struct {
		thickness, radius, angle float64
		corner                   flat.Corner
	}{
		{2.0712292459782087, 1.4711013147936831, 69.39, flat.Corner{Kind: flat.Closed}},
		{3.2, 0.614, 86.94, flat.Corner{Kind: flat.Drilled, Gap: .02}},
	} {
		p := stock()
		p.Sheet.Thickness, p.Radius, p.Rule = c.thickness, c.radius, bend.DIN6935{}
		p.Web.Edges = []flat.Edge{
			{Name: "b", Start: r2.Vec{X: 66.01726505768215, Y: 256.30904510838127}, Flanges: []flat.Flange{{Angle: degrees(c.angle), Height: 104.45347947639355}}},
			{Name: "c", Start: r2.Vec{X: -32.706360374595796, Y: 64.15011114123502}, Flanges: []flat.Flange{{Angle: degrees(90.2), Height: 94.78079027590177, HeightEnd: 111.76497348305391}},
				Corner: c.corner},
			{Name: "d", Start: r2.Vec{X: -391.88312752561166, Y: 111.6529646688199}},
			{Name: "e", Start: r2.Vec{X: -296.3376330458999, Y: -299.86012842628355}},
			{Name: "f", Start: r2.Vec{X: 210, Y: -143}},
		}
		b, err := flat.Develop(p)
		require.NoError(t, err)
		assert.Empty(t, about(t, p, "stand in each other"), "%v", c.corner)
		assert.Less(t, b.Proof.Largest(), 1e-6)
	}
}

// A square end lies as far out as clears all along: where an end cut as far as it can be leans, beside a neighbour that is
// bent past upright as it is itself, it lies at that end's nearest station. An inset takes its length off the mold line.
func TestSquareEnds(t *testing.T) {
	stations := func(trim flat.Trim) (left, right []float64) {
		f := flat.Flange{Angle: degrees(120), Height: 1 * inch}
		cut := f
		cut.Start, cut.End = trim, trim
		b, err := flat.Develop(plate(6, 4, .040, .16, [4]*flat.Flange{&cut, &f, nil, &f}))
		require.NoError(t, err)
		for _, line := range b.Bends {
			if line.Name != "lower" {
				continue
			}
			for _, q := range b.Panels[line.Child].Outline {
				if q.X < 3*inch {
					left = append(left, q.X)
				} else {
					right = append(right, q.X)
				}
			}
		}
		slices.Sort(left)
		slices.Sort(right)
		return left, right
	}
	left, right := stations(flat.Trim{})
	near, far := left[len(left)-1], right[0]
	assert.Greater(t, near-left[0], 1.0, "it leans")
	left, right = stations(flat.Trim{Kind: flat.Square})
	for _, x := range left {
		assert.InDelta(t, near, x, 1e-9)
	}
	for _, x := range right {
		assert.InDelta(t, far, x, 1e-9)
	}
	left, right = stations(flat.Trim{Kind: flat.Square, Inset: 1.5 * inch})
	assert.InDelta(t, 1.5*inch, left[len(left)-1], 1e-9)
	assert.InDelta(t, 4.5*inch, right[0], 1e-9)
}

// An Angled end leans from where its inset leaves the mold line: .5 in and 1 in·tan 20° off the end of an edge of 6 in.
func TestInsetOfAnAngledEnd(t *testing.T) {
	lean := flat.Trim{Kind: flat.Angled, Angle: degrees(20), Inset: .5 * inch}
	b, err := flat.Develop(lowerFlange(flat.Flange{Angle: degrees(90), Height: 1 * inch, Start: lean, End: lean}))
	require.NoError(t, err)
	var stations []float64
	for _, q := range b.Panels[1].Outline {
		if q.Y < -.5*inch {
			stations = append(stations, q.X)
		}
	}
	slices.Sort(stations)
	require.Len(t, stations, 2)
	short := (.5 + math.Tan(20*math.Pi/180)) * inch
	assert.InDelta(t, short, stations[0], 1e-9)
	assert.InDelta(t, 6*inch-short, stations[1], 1e-9)
}

// A flange ends at its neighbour's bevel as that is at their corner. The left flange's goes from 75° to 105° at the corner,
// where it leans in over the web by z·tan 15° at z off the far face. The plane midway between the outside faces, with normal
// (-sin 105°, 1, -cos 105°), lets the inside face of an upright flange, at y = T, begin at x = (T + z·sin 15°)/cos 15°.
func TestEndBesideATwistedNeighbour(t *testing.T) {
	p := plate(6, 4, .040, .16, [4]*flat.Flange{
		{Angle: degrees(90), Height: 1 * inch}, nil, nil, {Angle: degrees(75), AngleEnd: degrees(105), Height: 1 * inch}})
	p.Web.Edges[0].Corner.Kind = flat.Closed
	b, err := flat.Develop(p)
	require.NoError(t, err)
	tip := math.Inf(1)
	for _, q := range b.Panels[1].Outline {
		if q.Y < -.5*inch {
			tip = min(tip, q.X)
		}
	}
	sin, cos := math.Sincos(15 * math.Pi / 180)
	assert.InDelta(t, (.040+1*sin)/cos*inch, tip, 1e-6)
}

// Out of a small relief hole the end of a bend keeps half the gap, as it curls up, off the upright plane through the crossing of
// the tangent lines, .2 in inside either edge: its inside face, .16 in round, is the nearer to it, at .2 - .16·sin φ in from the
// edge when it has turned through φ. It lies φ/90° of the way along the straight cut from the crossing to the end of the bend. The
// hole of .05 in radius takes what lies less than .05/√2 in from the crossing along the bend.
func TestBendKeepsItsGapFromTheReliefOn(t *testing.T) {
	leg := &flat.Flange{Angle: degrees(90), Height: 1 * inch}
	p := plate(6, 4, .040, .16, [4]*flat.Flange{leg, nil, nil, leg})
	p.Gap = 2
	p.Web.Edges[0].Corner.Width = .1 * inch
	b, err := flat.Develop(p)
	require.NoError(t, err)
	far := b.Bends[0].Far.Vertices[0].P.X / inch
	least := math.Inf(1)
	for k := range 25 {
		part := float64(k) / 24
		if across := part * (.01743*.16 + .0078*.04) * 90; across > .05/math.Sqrt2 {
			x, y := .2+part*(far-.2), .2-.16*math.Sin(part*math.Pi/2)
			least = min(least, (x-y)*inch/math.Sqrt2)
		}
	}
	assert.InDelta(t, 1, least, 1e-6)
}

// A wide bend beside a tight one that is bent to 75° stays on its own side of the plane midway between their outside faces
// while it curls up, from where the tight one's flange stands: R - (R + T)·cos 75° off the web. The tangent lines cross at
// (.07·tan 37.5°, .29) in.
func TestWideBendBesideATightOne(t *testing.T) {
	const thick, wide, tight = .04, .25, .03
	for _, turn := range []flat.Turn{flat.Up, flat.Down} {
		p := plate(6, 4, thick, wide, [4]*flat.Flange{
			{Turn: turn, Angle: degrees(90), Height: 1 * inch}, nil, nil, {Turn: turn, Angle: degrees(75), Height: 1 * inch, Radius: tight * inch}})
		p.Web.Edges[0].Corner.Width = .1 * inch
		b, err := flat.Develop(p)
		require.NoError(t, err)
		sin75, cos75 := math.Sincos(75 * math.Pi / 180)
		miter := r3.Unit(r3.Vec{X: -sin75, Y: 1, Z: -cos75})
		lift := tight - (tight+thick)*cos75
		from, to := (tight+thick)*math.Tan(37.5*math.Pi/180), b.Bends[0].Far.Vertices[0].P.X/inch
		nearest := math.Inf(-1)
		for k := 1; k <= 240; k++ {
			part := float64(k) / 240
			sin, cos := math.Sincos(part * math.Pi / 2)
			if wide*(1-cos) < lift+.001 { // within a step of where it begins to
				continue
			}
			for _, r := range []float64{wide, wide + thick} {
				q := r3.Vec{X: from + part*(to-from), Y: .29 - r*sin, Z: wide - r*cos + thick}
				nearest = max(nearest, r3.Dot(miter, q))
			}
		}
		assert.InDelta(t, -1./128, nearest, 1e-6, "%v: half the gap of 1/64 in", turn)
	}
}

// A flange turned up by 20° stands, beside its bend, within the thickness of the web, and so beside a bend turned down. Folded, it
// keeps half the gap off the upright plane through the crossing of the tangent lines, .2 in and .2·tan 10° in inside the edges.
func TestShallowFlangeBesideOneTurnedTheOtherWay(t *testing.T) {
	p := cornered(degrees(90), degrees(20), degrees(90), flat.Corner{})
	p.Web.Edges[1].Flanges[0].Turn = flat.Down
	b, err := flat.Develop(p)
	require.NoError(t, err)
	far := math.Inf(-1)
	for _, q := range ends(t, b, "lower") {
		if q.X > 3*inch {
			far = max(far, (q.X-5.8*inch+q.Y-.2*math.Tan(10*math.Pi/180)*inch)/math.Sqrt2)
		}
	}
	assert.InDelta(t, -inch/128, far, 1e-6)
}

// The sheet does not know which face is looked at: with all its flanges turned the other way a part has the same blank.
func TestTurnedDownIsTheSameBlank(t *testing.T) {
	at := func(turn flat.Turn) flat.Blank {
		b, err := flat.Develop(plate(6, 4, .040, .25, [4]*flat.Flange{
			{Turn: turn, Angle: degrees(100), Height: 1 * inch}, {Turn: turn, Angle: degrees(70), Height: 1 * inch, Radius: .06 * inch},
			{Turn: turn, Angle: degrees(125), Height: .9 * inch}, {Turn: turn, Angle: degrees(80), Height: 1 * inch, HeightEnd: .7 * inch, Radius: .03 * inch}}))
		require.NoError(t, err)
		return b
	}
	up, down := at(flat.Up), at(flat.Down)
	require.Len(t, down.Outline.Vertices, len(up.Outline.Vertices))
	for i, v := range up.Outline.Vertices {
		assert.InDelta(t, 0, r2.Norm(r2.Sub(v.P, down.Outline.Vertices[i].P)), 1e-9)
	}
}

// At an inner corner bends of 150° spread as they lie flat. Each stands half the gap off the line on which the tangent lines
// cross, x - y = 1 in; the shelf from where the hole of .35 in radius ends at 45° on: .35/√2 = .247 in beyond the shelf's tangent line,
// which lies .2·tan 75° in inside it.
func TestBendsAtAnInnerCornerKeepTheirGapFlat(t *testing.T) {
	leg := []flat.Flange{{Angle: degrees(150), Height: 1 * inch}}
	p := plate(6, 4, .040, .16, [4]*flat.Flange{})
	p.Gap = 2
	e := p.Web.Edges
	p.Web.Edges = []flat.Edge{e[0], e[1],
		{Name: "shelf", Start: r2.Vec{X: 6 * inch, Y: 2 * inch}, Flanges: leg},
		{Name: "rise", Start: r2.Vec{X: 3 * inch, Y: 2 * inch}, Flanges: leg, Corner: flat.Corner{Width: .7 * inch}},
		{Name: "upper", Start: r2.Vec{X: 3 * inch, Y: 4 * inch}}, e[3]}
	b, err := flat.Develop(p)
	require.NoError(t, err)
	least := math.Inf(1)
	for _, s := range b.Outline.Segments() {
		for k := range 101 {
			q := s.At(float64(k) / 100)
			if past := q.Y/inch - 2 + .2*math.Tan(75*math.Pi/180); past > .27 && q.X-q.Y > 1*inch {
				least = min(least, (q.X-q.Y-1*inch)/math.Sqrt2)
			}
		}
	}
	assert.InDelta(t, 1, least, 1e-6)
}

// A notch is cut the same wherever the part lies on its sheet.
func TestNotchesWhereverThePartLies(t *testing.T) {
	at := func(move r2.Vec) outline.Path {
		leg := &flat.Flange{Angle: degrees(90), Height: 1 * inch}
		p := plate(6, 4, .040, .16, [4]*flat.Flange{leg, leg, leg, leg})
		for i := range p.Web.Edges {
			p.Web.Edges[i].Start = r2.Add(p.Web.Edges[i].Start, move)
			p.Web.Edges[i].Corner = flat.Corner{Kind: flat.Notched, Width: .5 * inch}
		}
		b, err := flat.Develop(p)
		require.NoError(t, err)
		require.NoError(t, b.Outline.Validate())
		return b.Outline
	}
	here := at(r2.Vec{})
	for _, move := range []r2.Vec{{X: 1000}, {Y: 1000}, {X: -1000}, {Y: -1000}, {X: -3 * inch, Y: -2 * inch}} {
		there := at(move)
		assert.InDelta(t, here.Area(), there.Area(), 1e-6, "%v", move)
		assert.InDelta(t, here.Length(), there.Length(), 1e-6, "%v", move)
	}
}

// A hole wide enough to reach out of the bends, .4 in round where their far tangent lines lie .276 in from the near ones, is cut
// to its own circle in the flanges too.
func TestHoleThatReachesIntoTheFlanges(t *testing.T) {
	b, err := flat.Develop(cornered(degrees(90), degrees(90), degrees(90), flat.Corner{Width: .8 * inch}))
	require.NoError(t, err)
	require.NoError(t, b.Outline.Validate())
	center, on := r2.Vec{X: 5.8 * inch, Y: .2 * inch}, 0
	for _, v := range b.Outline.Vertices {
		off := r2.Norm(r2.Sub(v.P, center))
		assert.GreaterOrEqual(t, off, .4*inch-1e-9)
		if off < .4*inch+1e-9 {
			on++
		}
	}
	assert.Equal(t, 3, on, "where it comes in, halfway round, where it goes out")
}
