package flat_test

import (
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

// shelf is a plate 200 by 80 mm of 1 mm sheet, with a flange 30 mm high from station 20 to 180 of its front edge, and
// lips 15 mm high on that.
func shelf(lips ...flat.Flange) flat.Part {
	front := flat.Flange{Name: "front", Angle: 90 * measure.Degree, Height: 30, From: 20, To: 180, Flanges: lips}
	return flat.Part{
		Name:   "shelf",
		Sheet:  material.Sheet{Material: material.Material{Alloy: "6061", Temper: "O"}, Thickness: 1},
		Rule:   bend.Handbook{},
		Radius: 3,
		Web: flat.Web{Edges: []flat.Edge{
			{Name: "front", Flanges: []flat.Flange{front}}, {Start: r2.Vec{X: 200}}, {Start: r2.Vec{X: 200, Y: 80}}, {Start: r2.Vec{Y: 80}},
		}},
	}
}

func shelfLip(name string, from, to float64) flat.Flange {
	return flat.Flange{Name: name, Angle: 90 * measure.Degree, Height: 15, From: from, To: to}
}

// A lip along a part of a flange's free edge. At 90° the setback is 3 + 1 = 4, the allowance (.01743·3 + .0078)·90 = 5.4081
// and the deduction 2·4 - 5.4081 = 2.5919. So the free edge lies 30 - 2.5919 = 27.4081 off the web's mold line, the lip's
// tangent lines 30 - 2.5919 - 4 = 23.4081 and 23.4081 + 5.4081 = 28.8162, its own edge 30 + 15 - 2·2.5919 = 39.8162. The slots
// beside it are as wide as the reliefs: twice the radius, 6.
func TestLipAlongAPartOfItsFlange(t *testing.T) {
	const free, near, far, tip = 27.4081, 23.4081, 28.8162, 39.8162
	lip := func(from, to float64) []r2.Vec {
		return []r2.Vec{
			{X: from - 6, Y: -free}, {X: from - 6, Y: -near}, {X: from, Y: -near}, {X: from, Y: -far}, {X: from, Y: -tip},
			{X: to, Y: -tip}, {X: to, Y: -far}, {X: to, Y: -near}, {X: to + 6, Y: -near}, {X: to + 6, Y: -free},
		}
	}
	for name, c := range map[string]struct {
		lips []flat.Flange
		want [][]r2.Vec
	}{
		"in the middle":        {[]flat.Flange{shelfLip("lip", 40, 100)}, [][]r2.Vec{lip(60, 120)}},
		"two":                  {[]flat.Flange{shelfLip("a", 10, 50), shelfLip("b", 80, 120)}, [][]r2.Vec{lip(30, 70), lip(100, 140)}},
		"up to the start":      {[]flat.Flange{shelfLip("lip", 0, 100)}, [][]r2.Vec{lip(20, 120)[3:]}},
		"up to the end":        {[]flat.Flange{shelfLip("lip", 60, 160)}, [][]r2.Vec{lip(80, 180)[:7]}},
		"up to both, in words": {[]flat.Flange{shelfLip("lip", 0, 160)}, [][]r2.Vec{lip(20, 180)[3:7]}},
	} {
		b, err := flat.Develop(shelf(c.lips...))
		require.NoError(t, err, name)
		assert.Less(t, b.Proof.Largest(), 1e-9, name)
		var below []r2.Vec // what lies beyond the middle of the flange, in the order of the outline
		for _, v := range b.Outline.Vertices {
			if v.P.Y < -15 {
				below = append(below, v.P)
			}
		}
		for _, want := range c.want {
			for _, q := range want {
				nearest := 1e9
				for _, p := range below {
					nearest = min(nearest, r2.Norm(r2.Sub(p, q)))
				}
				assert.Less(t, nearest, 1e-3, "%s: no corner at %v", name, q)
			}
		}
		for i, l := range c.lips {
			line := b.Bends[1+i].Near.Vertices
			assert.InDelta(t, 20+l.From, line[0].P.X, 1e-9, name)
			assert.InDelta(t, 20+l.To, line[1].P.X, 1e-9, name)
		}
	}
}

// The stations of a lip are held to the edge it stands on, not to the web's.
func TestLipsStayOnTheirEdge(t *testing.T) {
	_, err := flat.Develop(shelf(shelfLip("lip", 100, 170)))
	require.ErrorContains(t, err, "at most the length of the edge, 160 mm")

	sloped := shelf(shelfLip("lip", 100, math.Hypot(160, 12)))
	front := &sloped.Web.Edges[0].Flanges[0]
	front.HeightEnd = 42
	_, err = flat.Develop(sloped)
	require.NoError(t, err)
	front.Flanges[0].To = 160.5 // √(160² + 12²) = 160.4494
	_, err = flat.Develop(sloped)
	require.ErrorContains(t, err, "at most the length of the edge, 160.449")

	// The end leans in by 30·tan 20° = 10.919: nothing of the edge is left beyond 149.081.
	leaning := shelf(shelfLip("lip", 150, 160))
	leaning.Web.Edges[0].Flanges[0].End = flat.Trim{Kind: flat.Angled, Angle: 20 * measure.Degree}
	_, err = flat.Develop(leaning)
	require.ErrorContains(t, err, "beyond what the end trims leave of the edge, 0 mm to 149.08")
}

// The proof sees a tangent line that runs past the stations its flange stands within, here 20 to 180, at either end.
func TestProofSeesATangentLineTooLong(t *testing.T) {
	for _, c := range [][3]float64{{20, 180, 0}, {25, 170, 0}, {15, 180, 5}, {20, 187, 7}, {15, 187, 7}, {10, 187, 10}} {
		past := flat.PastItsStations(shelf(), c[0], c[1])
		require.Len(t, past, 1)
		assert.InDelta(t, c[2], past[0], 1e-12, "%v", c)
	}
	whole := shelf()
	whole.Web.Edges[0].Flanges[0].From, whole.Web.Edges[0].Flanges[0].To = 0, 0
	assert.Equal(t, []float64{0}, flat.PastItsStations(whole, -50, 250), "round a corner it may run on")
}

// A flange of 1.000 in turned 90° with a lip turned 90°, of .063 in sheet, R .125: both setbacks are .188, so .812 lie beyond
// the first bend and 1.000 - 2·.188 = .624 between the two, which is what a brake can hold.
func TestFlatOfAFlangeWithALip(t *testing.T) {
	lip := flat.Flange{Name: "lip", Angle: 90 * measure.Degree, Height: .5 * inch}
	side := flat.Flange{Name: "side", Angle: 90 * measure.Degree, Height: 1 * inch, Flanges: []flat.Flange{lip}}
	b, err := flat.Develop(plate(6, 4, .063, .125, [4]*flat.Flange{&side}))
	require.NoError(t, err)
	flats := map[string]float64{}
	for _, s := range b.Working() {
		if s.Symbol == "W" {
			flats[s.Quantity] = s.Value / inch
		}
	}
	assert.Len(t, flats, 3)
	assert.InDelta(t, .812, flats[`flat of flange "side" at the start of its edge`], 1e-12)
	assert.InDelta(t, .624, flats[`flat of flange "side" at the start of its edge, to the bend of flange "lip"`], 1e-12)
	assert.InDelta(t, .312, flats[`flat of flange "lip" at the start of its edge`], 1e-12)
	assert.Empty(t, about(t, b.Part, "too narrow to hold"))

	// Of .5 in there are .124 between the bends, where 2.5·.063 = .1575 are wanted; .312 without the lip.
	narrow := side
	narrow.Height = .5 * inch
	found := about(t, plate(6, 4, .063, .125, [4]*flat.Flange{&narrow}), "too narrow to hold")
	require.Len(t, found, 1)
	assert.InDelta(t, .124*inch, found[0].Figure, 1e-9)
	narrow.Flanges = nil
	assert.Empty(t, about(t, plate(6, 4, .063, .125, [4]*flat.Flange{&narrow}), "too narrow to hold"))
}

// A web 37 deep cannot take a bend whose tangent line lies 46.15 inside its mold line: turned 167.32° with R 3.28 and T
// 1.85 the setback is 5.128·tan 83.66°. Its outline would come out inside out, with the slots through the far side.
func TestWebShallowerThanItsBend(t *testing.T) {
	p := shelf()
	p.Sheet.Thickness, p.Radius = 1.8461527, 3.2815657
	p.Web.Edges = []flat.Edge{
		{Name: "a", Start: r2.Vec{X: 71.63617546, Y: 27.98548699}, Flanges: []flat.Flange{{
			Turn: flat.Down, Angle: 167.32 * measure.Degree, Height: 47.14664382, HeightEnd: 34.61656215, From: 42.46490651, To: 101.58388157,
		}}},
		{Name: "b", Start: r2.Vec{X: -69.47330305, Y: 1.63847827}},
		{Name: "c", Start: r2.Vec{X: -8.83975794, Y: -24.22270934}},
	}
	_, err := flat.Develop(p)
	require.ErrorContains(t, err, "the web is too small for them")
}

// A plain piece of a hair's length beside a lip is a piece of its edge still, however the plate lies: too short for the slot
// that must part the two.
func TestHairOfAnEdgeBesideALip(t *testing.T) {
	for deg := 1.0; deg < 360; deg += 7 {
		p := shelf(shelfLip("lip", 40, 160-2e-4))
		for i := range p.Web.Edges {
			p.Web.Edges[i].Start = r2.Rotate(p.Web.Edges[i].Start, deg*math.Pi/180, r2.Vec{X: 4000, Y: 1000})
		}
		_, err := flat.Develop(p)
		require.ErrorContains(t, err, "the plain piece beside the flange is 0.0002", "%g°", deg)
	}
}

// The slots beside flanges and lips that stop within their edge, by hand as above: half a width, 3, beyond the
// ends of the bend, their round bottoms about the tangent line the bend begins at. Where an edge turns on by
// 30° into a plain one the slot lies in the flange instead.
func TestSlotsBesideBendsThatStop(t *testing.T) {
	on := shelf()
	on.Web.Edges[0].Flanges[0].From, on.Web.Edges[0].Flanges[0].To = 20, 200
	on.Web.Edges[1].Start, on.Web.Edges[2].Start.X = r2.Vec{X: 200}, 200+50*math.Sqrt(3)
	on.Web.Edges[2].Start.Y = 50
	for name, c := range map[string]struct {
		part flat.Part
		want []flat.EndSlot
	}{
		"flange and lip": {shelf(shelfLip("lip", 40, 100)), []flat.EndSlot{
			{Flange: "front", Panel: 0, Center: r2.Vec{X: 17, Y: 4}}, {Flange: "front", AtEnd: true, Panel: 0, Center: r2.Vec{X: 183, Y: 4}},
			{Flange: "lip", Panel: 1, Center: r2.Vec{X: 57, Y: -23.4081}}, {Flange: "lip", AtEnd: true, Panel: 1, Center: r2.Vec{X: 123, Y: -23.4081}},
		}},
		"at a corner": {on, []flat.EndSlot{
			{Flange: "front", Panel: 0, Center: r2.Vec{X: 17, Y: 4}}, {Flange: "front", AtEnd: true, Panel: 0, Center: r2.Vec{X: 197, Y: 4}},
		}},
		"lip all along": {shelf(shelfLip("lip", 0, 160)), []flat.EndSlot{
			{Flange: "front", Panel: 0, Center: r2.Vec{X: 17, Y: 4}}, {Flange: "front", AtEnd: true, Panel: 0, Center: r2.Vec{X: 183, Y: 4}},
		}},
	} {
		b, err := flat.Develop(c.part)
		require.NoError(t, err, name)
		require.Len(t, b.EndSlots, len(c.want), name)
		for _, want := range c.want {
			found := 0
			for _, s := range b.EndSlots {
				if s.Flange == want.Flange && s.AtEnd == want.AtEnd {
					found++
					assert.Equal(t, want.Panel, s.Panel, name)
					assert.InDelta(t, 0, r2.Norm(r2.Sub(want.Center, s.Center)), 1e-9, "%s: %s at %v", name, s.Place(), s.Center)
					assert.InDelta(t, 6, s.Width, 1e-9, name)
					assert.InDelta(t, 3, b.Outline.Distance(s.Center), 1e-9, "%s: the rim of %s", name, s.Place())
				}
			}
			assert.Equal(t, 1, found, "%s: %s", name, want.Place())
		}
		assert.Empty(t, b.Reliefs, name)
	}
}

// A relief of 2 mm is less than the 1/8 in the handbook gives 1 mm sheet, also where it is the width of a slot.
func TestNarrowSlotsAreTold(t *testing.T) {
	p := shelf()
	p.Relief.Diameter = 2
	found := about(t, p, "slot is narrower")
	require.Len(t, found, 2)
	assert.Equal(t, "slot beside front, start", found[0].Place)
	assert.InDelta(t, 2, found[0].Figure, 1e-9)
	assert.InDelta(t, 3.175, found[0].Limit, 1e-12)
	assert.Empty(t, about(t, shelf(), "slot is narrower"))
	p.Relief.Diameter = 3.175
	assert.Empty(t, about(t, p, "slot is narrower"), "just as wide")
}

// A joggle's marks run over the flat of its flange, by hand as above: from its tangent line, at 4 - 5.4081 = -1.4081,
// to its free edge at -27.4081, or where there is a lip no farther than the lip's tangent line at -23.4081.
func TestJoggleMarksEndAtTheLip(t *testing.T) {
	p := shelf(shelfLip("lip", 40, 100))
	p.Web.Edges[0].Flanges[0].Joggles = []flat.Joggle{{At: 70, Run: 50, Depth: 1}} // stations of the edge: the lip's are 60 to 120
	b, err := flat.Develop(p)
	require.NoError(t, err)
	require.Len(t, b.Marks, 2)
	for i, want := range []float64{-23.4081, -23.4081} {
		line := b.Marks[i].Line.Vertices
		require.Len(t, line, 2)
		assert.InDelta(t, -1.4081, line[0].P.Y, 1e-9)
		assert.InDelta(t, want, line[1].P.Y, 1e-9)
	}
	p.Web.Edges[0].Flanges[0].Joggles[0].Run = 60 // it ends at 130, past the lip
	b, err = flat.Develop(p)
	require.NoError(t, err)
	assert.InDelta(t, -27.4081, b.Marks[1].Line.Vertices[1].P.Y, 1e-9)
}

// The first of two flanges on an edge may begin at its start. Tapered, it has its two heights at its own ends: 30 at station 0 and 42
// at station 80, each less the deduction of 2.5919 on the blank.
func TestFlangeFromTheStartOfItsEdge(t *testing.T) {
	p := shelf()
	p.Web.Edges[0].Flanges = []flat.Flange{
		{Name: "first", Angle: degrees(90), Height: 30, HeightEnd: 42, To: 80},
		{Name: "second", Angle: degrees(90), Height: 30, From: 120, To: 200},
	}
	b, err := flat.Develop(p)
	require.NoError(t, err)
	require.Len(t, b.Bends, 2)
	for _, q := range []r2.Vec{{X: 0, Y: -27.4081}, {X: 80, Y: -39.4081}, {X: 120, Y: -27.4081}} {
		least := math.Inf(1)
		for _, v := range b.Outline.Vertices {
			least = min(least, r2.Norm(r2.Sub(v.P, q)))
		}
		assert.Less(t, least, 1e-6, "%v", q)
	}
}

// A flange may begin where the one before it ends, by what it states of itself, and not before.
func TestFlangesThatTouchAreInOrder(t *testing.T) {
	p := shelf()
	at := func(from float64) error {
		p.Web.Edges[0].Flanges = []flat.Flange{{Angle: degrees(90), Height: 30, To: 80}, {Angle: degrees(90), Height: 30, From: from, To: 200}}
		return p.Validate()
	}
	assert.NoError(t, at(80))
	assert.ErrorContains(t, at(79.9), "must not lie before the end of the flange before it, at 80 mm")
}
