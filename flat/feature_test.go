package flat_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

// Holes given from the mold lines land on the blank: on the flange the blank has
// them nearer by the deduction 2·SB - BA.
func TestOpeningsLandOnTheBlank(t *testing.T) {
	p := channel(bend.Handbook{})
	p.Web.Holes = []flat.Hole{{Name: "w", At: r2.Vec{X: 40, Y: 25}, Diameter: 6}}
	lower := append([]flat.Flange(nil), p.Web.Edges[0].Flanges...)
	lower[0].Holes = []flat.Hole{{Name: "l", At: r2.Vec{X: 30, Y: 16}, Diameter: 3, Purpose: flat.RivetPilot}}
	lower[0].Slots = []flat.Slot{{Name: "s", From: r2.Vec{X: 60, Y: 16}, To: r2.Vec{X: 80, Y: 16}, Width: 5}}
	p.Web.Edges[0].Flanges = lower
	b, err := flat.Develop(p)
	require.NoError(t, err)
	require.Len(t, b.Holes, 2)
	assert.Equal(t, r2.Vec{X: 40, Y: 25}, b.Holes[0].Center)
	deduction := 2*0.20*inch - 0.279072*inch
	assert.InDelta(t, 30, b.Holes[1].Center.X, 1e-9)
	assert.InDelta(t, -(16 - deduction), b.Holes[1].Center.Y, 1e-9)
	assert.Equal(t, flat.RivetPilot, b.Holes[1].Purpose)
	require.Len(t, b.Cutouts, 1)
	assert.Negative(t, b.Cutouts[0].Path.Area(), "openings run clockwise")
	assert.InDelta(t, 20*5+math.Pi*25/4, -b.Cutouts[0].Path.Area(), 1e-9)
	assert.Less(t, b.Proof.Hole, 1e-9)
}

// The factors of practice notes, 0.43 and 0.72, are the rounded (2 - π/2) = 0.4292
// and (1.5 - π/4) = 0.7146. By hand, D 50, H 6, r 3, t 1:
// d = 50 - 2·(6 - 0.429204·3 - 0.714602·1) = 50 - 2·3.997786 = 42.00443.
func TestPilotOfAFlangedHole(t *testing.T) {
	h := flat.LighteningHole{Diameter: 50, Height: 6, Radius: 3}
	assert.InDelta(t, 42.00443, h.Pilot(1), 1e-5)
	assert.InDelta(t, 50/42.00443-1, h.Stretch(1), 1e-6)
}

// texts of the findings of one severity.
func texts(b flat.Blank, s flat.Severity) string {
	var all []string
	for _, f := range b.Findings {
		if f.Severity == s {
			all = append(all, f.String())
		}
	}
	return strings.Join(all, "\n")
}

func TestOpeningsAreInspected(t *testing.T) {
	for name, c := range map[string]struct {
		change   func(*flat.Part)
		severity flat.Severity
		want     string
	}{
		// Tangent line at y = 5.08 (0.20 in); least clear is 2·1.016 + 4.064 = 6.096.
		"near a bend":   {func(p *flat.Part) { p.Web.Holes = []flat.Hole{{At: r2.Vec{X: 40, Y: 5.08 + 3 + 6.0}, Diameter: 6}} }, flat.Warn, "near the bend"},
		"in a bend":     {func(p *flat.Part) { p.Web.Holes = []flat.Hole{{At: r2.Vec{X: 40, Y: 5.08 + 2.9}, Diameter: 6}} }, flat.Stop, "runs into the bend"},
		"over the edge": {func(p *flat.Part) { p.Web.Holes = []flat.Hole{{At: r2.Vec{X: 2, Y: 25}, Diameter: 6}} }, flat.Stop, "not within the blank"},
		"off the blank": {func(p *flat.Part) { p.Web.Holes = []flat.Hole{{At: r2.Vec{X: -20, Y: 25}, Diameter: 6}} }, flat.Stop, "not within the blank"},
		"near the edge": {func(p *flat.Part) { p.Web.Holes = []flat.Hole{{At: r2.Vec{X: 5, Y: 25}, Diameter: 6}} }, flat.Warn, "edge of the sheet"},
		"two overlapping": {func(p *flat.Part) {
			p.Web.Holes = []flat.Hole{{At: r2.Vec{X: 40, Y: 25}, Diameter: 6}, {At: r2.Vec{X: 45, Y: 25}, Diameter: 6}}
		}, flat.Stop, "runs into"},
		"one in another": {func(p *flat.Part) {
			p.Web.Holes = []flat.Hole{{At: r2.Vec{X: 40, Y: 25}, Diameter: 16}, {At: r2.Vec{X: 42, Y: 25}, Diameter: 3}}
		}, flat.Stop, "runs into"},
		"two close": {func(p *flat.Part) {
			p.Web.Holes = []flat.Hole{{At: r2.Vec{X: 40, Y: 25}, Diameter: 6}, {At: r2.Vec{X: 48, Y: 25}, Diameter: 6}}
		}, flat.Warn, "little metal"},
		"hole by cut-out": {func(p *flat.Part) {
			p.Web.Holes = []flat.Hole{{At: r2.Vec{X: 40, Y: 25}, Diameter: 6}}
			p.Web.Cutouts = []flat.Cutout{{Path: outline.Rect(r2.Vec{X: 44, Y: 20}, r2.Vec{X: 60, Y: 30})}}
		}, flat.Warn, "little metal"},
		"deep lip": {func(p *flat.Part) {
			p.Web.Lightening = []flat.LighteningHole{{At: r2.Vec{X: 60, Y: 25.4}, Diameter: 20, Height: 7, Radius: 3}}
		}, flat.Warn, "stretched"},
	} {
		t.Run(name, func(t *testing.T) {
			p := channel(bend.Handbook{})
			c.change(&p)
			b, err := flat.Develop(p)
			require.NoError(t, err)
			assert.Contains(t, texts(b, c.severity), c.want)
		})
	}
	// And a part that keeps its distances is left in peace.
	p := channel(bend.Handbook{})
	p.Web.Holes = []flat.Hole{{At: r2.Vec{X: 40, Y: 25}, Diameter: 6}, {At: r2.Vec{X: 60, Y: 25}, Diameter: 6}}
	b, err := flat.Develop(p)
	require.NoError(t, err)
	assert.NotContains(t, texts(b, flat.Warn), "hole")
	assert.Empty(t, texts(b, flat.Stop))
}

// The other hand is the mirror image of the blank, and twice mirrored is the part.
func TestMirrored(t *testing.T) {
	p, err := flat.Between(stock(), surroundings())
	require.NoError(t, err)
	p.Sheet.Grain.Stated, p.Sheet.Grain.Angle = true, degrees(20)
	f := &p.Web.Edges[1].Flanges[0]
	f.HeightEnd, f.From, f.To = 25, 20, 70
	f.Start = flat.Trim{Kind: flat.Angled, Angle: degrees(30), Inset: 2}
	f.Holes = []flat.Hole{{At: r2.Vec{X: 40, Y: 12}, Diameter: 4}}
	f.Flanges = []flat.Flange{{Name: "lip", Angle: degrees(80), Height: 15, Turn: flat.Down}}
	p.Web.Cutouts = []flat.Cutout{{Path: outline.Path{Closed: true, Vertices: []outline.Vertex{{P: r2.Vec{X: 60, Y: 40}, Bulge: 0.3}, {P: r2.Vec{X: 90, Y: 45}}, {P: r2.Vec{X: 70, Y: 70}}}}}}

	b, err := flat.Develop(p)
	require.NoError(t, err)
	other, err := flat.Develop(p.Mirrored())
	require.NoError(t, err)

	want := b.Outline.Transform(outline.Mirror(r2.Vec{}, degrees(90))).Reverse()
	require.Len(t, other.Outline.Vertices, len(want.Vertices))
	for _, v := range want.Vertices {
		near := math.Inf(1)
		for _, w := range other.Outline.Vertices {
			near = min(near, r2.Norm(r2.Sub(v.P, w.P)))
		}
		assert.Less(t, near, 1e-9)
	}
	assert.InDelta(t, b.Area, other.Area, 1e-6)
	for _, h := range b.Holes {
		assert.InDelta(t, -h.Center.X, other.Holes[0].Center.X, 1e-9)
		assert.InDelta(t, h.Center.Y, other.Holes[0].Center.Y, 1e-9)
	}
	assert.InDelta(t, 160, p.Mirrored().Sheet.Grain.Angle.Degrees(), 1e-9)

	p.Site = nil
	again := p.Mirrored().Mirrored()
	assert.InDelta(t, p.Web.Edges[2].Start.X, again.Web.Edges[2].Start.X, 1e-12)
	twice, err := flat.Develop(again)
	require.NoError(t, err)
	for i, v := range b.Outline.Vertices {
		assert.InDelta(t, 0, r2.Norm(r2.Sub(v.P, twice.Outline.Vertices[i].P)), 1e-9)
	}
}

// Depth .040, run-out .160: the slope is .1649 long, .0049 more (practice check
// value d²/2L = .005).
func TestJoggle(t *testing.T) {
	j := flat.Joggle{Name: "lap", At: 60, Run: 0.160 * inch, Depth: 0.040 * inch}
	assert.InDelta(t, 0.0049, j.Growth()/inch, 5e-5)
	p := channel(bend.Handbook{})
	f := append([]flat.Flange(nil), p.Web.Edges[0].Flanges...)
	f[0].Joggles = []flat.Joggle{j}
	p.Web.Edges[0].Flanges = f
	b, err := flat.Develop(p)
	require.NoError(t, err)
	require.Len(t, b.Marks, 2)
	assert.InDelta(t, 60, b.Marks[0].Line.Vertices[0].P.X, 1e-9)
	assert.InDelta(t, 60+0.160*inch, b.Marks[1].Line.Vertices[0].P.X, 1e-9)
	assert.NotContains(t, texts(b, flat.Warn), "run-out", "4 to 1 is enough for 2024-T3")

	f[0].Joggles[0].Run = 0.1 * inch
	b, err = flat.Develop(p)
	require.NoError(t, err)
	assert.Contains(t, texts(b, flat.Warn), "run-out is short")

	f[0].Joggles[0].At = 151
	assert.Contains(t, pathsOf(t, p.Validate()), "web.edges[0].flanges[0].joggles[0].at")
	m := p.Mirrored().Web.Edges[3].Flanges[0].Joggles[0]
	assert.InDelta(t, 6*inch-151-0.1*inch, m.At, 1e-9)
	assert.Equal(t, flat.Before, m.Part, "from the other end what lay past it lies before it")
	assert.Equal(t, flat.Joggle{At: 34, Run: 6, Depth: 1, Part: flat.Before}, flat.Joggle{At: 60, Run: 6, Depth: 1}.Reversed(100))
}

// lower is the lower flange of a channel, its own now.
func lower(p *flat.Part) *flat.Flange {
	p.Web.Edges[0].Flanges = slices.Clone(p.Web.Edges[0].Flanges)
	return &p.Web.Edges[0].Flanges[0]
}

// A joggle leaves the level of its bend on the side of the run-out away from what it offsets.
func TestJoggleStartsAtTheLevelOfItsBend(t *testing.T) {
	for part, want := range map[flat.JogglePart][2]float64{flat.Beyond: {60, 70}, flat.Before: {70, 60}} {
		p := channel(bend.Handbook{})
		lower(&p).Joggles = []flat.Joggle{{Name: "lap", At: 60, Run: 10, Depth: 1, Part: part, Side: flat.Outward}}
		b, err := flat.Develop(p)
		require.NoError(t, err)
		require.Len(t, b.Marks, 2)
		for k, end := range []string{"starts", "ends"} {
			assert.Equal(t, `joggle "lap", 0.0394 in (1.000 mm) outward, `+end, b.Marks[k].Text)
			assert.InDelta(t, want[k], b.Marks[k].Line.Vertices[0].P.X, 1e-9, "%v %s", part, end)
		}
	}
}

// Holes of 4 mm beside a run-out from 60 to 70: clear of it where the centre lies 2 mm or more outside. Its slope takes
// √(10² + 3²) - 10 = .440 mm, by which what lies offset may come out of place.
func TestOpeningsBesideAJoggle(t *testing.T) {
	const inIt, displaced = "lies in the run-out", "0.0173 in (0.440 mm) along the flange"
	for _, c := range []struct {
		x                 float64
		part              flat.JogglePart
		inside, displaced bool
	}{
		{57, flat.Beyond, false, false}, {57, flat.Before, false, true},
		{59, flat.Beyond, true, false}, {65, flat.Beyond, true, false}, {71, flat.Before, true, false},
		{73, flat.Beyond, false, true}, {73, flat.Before, false, false},
	} {
		p := channel(bend.Handbook{})
		f := lower(&p)
		f.Joggles = []flat.Joggle{{Name: "lap", At: 60, Run: 10, Depth: 3, Part: c.part}}
		f.Holes = []flat.Hole{{Name: "h", At: r2.Vec{X: c.x, Y: 15}, Diameter: 4}}
		b, err := flat.Develop(p)
		require.NoError(t, err)
		assert.Equal(t, c.inside, strings.Contains(texts(b, flat.Warn), inIt), "%v", c)
		assert.Equal(t, c.displaced, strings.Contains(texts(b, flat.Warn), displaced), "%v", c)
	}
	// By .0010 of a run-out of 50 and a depth of .3 nothing comes out of place.
	p := channel(bend.Handbook{})
	lower(&p).Joggles = []flat.Joggle{{At: 60, Run: 50, Depth: 0.3}}
	lower(&p).Holes = []flat.Hole{{At: r2.Vec{X: 120, Y: 15}, Diameter: 4}}
	b, err := flat.Develop(p)
	require.NoError(t, err)
	assert.NotContains(t, texts(b, flat.Warn), "along the flange")
}

// Every kind of opening tells how far along the flange it reaches.
func TestOpeningsOfEveryKindBesideAJoggle(t *testing.T) {
	for _, f := range []flat.Features{
		{Slots: []flat.Slot{{Name: "s", From: r2.Vec{X: 57, Y: 12}, To: r2.Vec{X: 45, Y: 15}, Width: 8}}},
		{Lightening: []flat.LighteningHole{{Name: "l", At: r2.Vec{X: 52, Y: 15}, Diameter: 18, Height: 5, Radius: 1}}},
		{Cutouts: []flat.Cutout{{Name: "c", Path: outline.Rect(r2.Vec{X: 50, Y: 12}, r2.Vec{X: 61, Y: 16})}}},
	} {
		p := channel(bend.Handbook{})
		lower(&p).Features = f
		for at, want := range map[float64]bool{60: true, 62: false} {
			lower(&p).Joggles = []flat.Joggle{{At: at, Run: 10, Depth: 1}}
			b, err := flat.Develop(p)
			require.NoError(t, err)
			assert.Equal(t, want, strings.Contains(texts(b, flat.Warn), "lies in the run-out"), "%+v at %g", f, at)
		}
	}
}

// A joggle is held to the flange it is in, by the stations of the edge that one stands on.
func TestJoggleStaysInItsFlange(t *testing.T) {
	for at, bad := range map[float64]bool{49: true, 50: false, 80: false, 81: true} {
		p := channel(bend.Handbook{})
		f := lower(&p)
		f.From, f.To = 50, 100
		f.Joggles = []flat.Joggle{{At: at, Run: 20, Depth: 1}}
		if err := p.Validate(); bad {
			require.ErrorContains(t, err, "must lie within the flange, 50 mm to 100 mm", "%g", at)
		} else {
			require.NoError(t, err, "%g", at)
		}
		// Its lip is 50 long, and counts from its own start.
		lip := *f
		lip.From, lip.To, lip.Name = 0, 0, "lip"
		f.Joggles, f.Flanges = nil, []flat.Flange{lip}
		require.ErrorContains(t, p.Validate(), "must lie within the flange, 0 mm to 50 mm", "%g", at)
	}
	p := channel(bend.Handbook{})
	lower(&p).Joggles = []flat.Joggle{{At: 60, Run: 20, Depth: 1, Part: 2, Side: 2}}
	require.ErrorContains(t, p.Validate(), "beyond or before")
	require.ErrorContains(t, p.Validate(), "inward or outward")
}

// The lip of a flanged hole starts to bend half the sheet and the radius outside the hole, which is
// measured to the middle of its lip: 50/2 + 3 + 1/2.
func TestRoomForTheLip(t *testing.T) {
	p := stock()
	p.Sheet.Thickness = 1
	p.Web.Edges = plate(8, 8, .04, .1, [4]*flat.Flange{}).Web.Edges
	p.Web.Edges[0].Flanges = leg(90)
	p.Web.Lightening = []flat.LighteningHole{{Name: "light", At: r2.Vec{X: 100, Y: 100}, Diameter: 50, Height: 6, Radius: 3}}
	b, err := flat.Develop(p)
	require.NoError(t, err)
	require.Len(t, b.Holes, 1)
	assert.InDelta(t, 28.5, b.Holes[0].Keep, 1e-12)
}

// A slot 10 wide from (70, 60) to (100, 100), 3-4-5 askew: its sides lie 5 along (4/5, -3/5) to either side
// of its middle (85, 80), and its round ends reach 5 along (3/5, 4/5) past its own ends.
func TestSlotAskew(t *testing.T) {
	p := stock()
	p.Web.Edges = plate(8, 8, .04, .1, [4]*flat.Flange{}).Web.Edges
	p.Web.Edges[0].Flanges = leg(90)
	p.Web.Slots = []flat.Slot{{Name: "askew", From: r2.Vec{X: 70, Y: 60}, To: r2.Vec{X: 100, Y: 100}, Width: 10}}
	b, err := flat.Develop(p)
	require.NoError(t, err)
	require.Len(t, b.Cutouts, 1)
	cut := b.Cutouts[0].Path
	for _, q := range []r2.Vec{{X: 85 + 4, Y: 80 - 3}, {X: 85 - 4, Y: 80 + 3}, {X: 70 - 3, Y: 60 - 4}, {X: 100 + 3, Y: 100 + 4}} {
		assert.InDelta(t, 0, cut.Distance(q), 1e-9, "%v", q)
	}
	assert.InDelta(t, 50*10+math.Pi*25, -cut.Area(), 1e-9)
}

// A flanged hole and a slot lie in the run-out of a joggle, stations 60 to 70, when their near rim does: of a hole of 20
// about 79 it is at 69, about 82 at 72; of a slot 8 wide from 73 to 90 it is at 69, from 76 at 72.
func TestWideOpeningsBesideAJoggle(t *testing.T) {
	const inIt = "lies in the run-out"
	for x, inside := range map[float64]bool{79: true, 82: false} {
		p := channel(bend.Handbook{})
		f := lower(&p)
		f.Joggles = []flat.Joggle{{At: 60, Run: 10, Depth: 3, Part: flat.Before}}
		f.Lightening = []flat.LighteningHole{{At: r2.Vec{X: x, Y: 25}, Diameter: 20, Height: 4, Radius: 1}}
		b, err := flat.Develop(p)
		require.NoError(t, err)
		assert.Equal(t, inside, strings.Contains(texts(b, flat.Warn), inIt), "hole %g", x)
		f.Lightening = nil
		f.Slots = []flat.Slot{{From: r2.Vec{X: x - 6, Y: 25}, To: r2.Vec{X: 90, Y: 25}, Width: 8}}
		b, err = flat.Develop(p)
		require.NoError(t, err)
		assert.Equal(t, inside, strings.Contains(texts(b, flat.Warn), inIt), "slot %g", x-6)
	}
}

// The lip along its mean line, t = 1.6: a quarter turn of radius 3 + .8 from 3.8 outside the wall at 30, then straight for
// 12 - 1.6 - 3. The pierced edge lies at 30 + 3.8 - 3.8·π/2 - 7.4.
func TestPilotOfAThickSheet(t *testing.T) {
	h := flat.LighteningHole{Diameter: 60, Height: 12, Radius: 3, Turn: flat.Down}
	assert.InDelta(t, 2*(30+3.8-3.8*math.Pi/2-7.4), h.Pilot(1.6), 1e-9)
}

// What a rule allows up to, it allows.
func TestLimitsOfFeaturesAreAllowed(t *testing.T) {
	p := plate(60, 60, .040, .16, [4]*flat.Flange{{Angle: degrees(90), Height: 1 * inch, Start: flat.Trim{Kind: flat.Angled, Angle: degrees(80)}}})
	p.Web.Holes = []flat.Hole{{Diameter: 5e3, Purpose: flat.FlangedPilot}}
	p.Web.Lightening = []flat.LighteningHole{{Diameter: 60, Height: 12, Radius: 3, Turn: flat.Down}}
	assert.NoError(t, p.Validate())
}

// Of a sheet .080 in thick, bent about .16 in, an opening is to lie 2·.080 + .16 = .32 in from the bend; a bend of .24 in setback
// ends .24 in inside the edge, so a hole of .2 in about .64 in lies .3 in from it.
func TestOpeningNearTheBendOfAThickSheet(t *testing.T) {
	p := plate(6, 4, .080, .16, [4]*flat.Flange{{Angle: degrees(90), Height: 1 * inch}})
	p.Web.Holes = []flat.Hole{{Name: "h", At: r2.Vec{X: 3 * inch, Y: .64 * inch}, Diameter: .2 * inch}}
	b, err := flat.Develop(p)
	require.NoError(t, err)
	found := false
	for _, f := range b.Findings {
		if strings.Contains(f.Text, "is near the bend") {
			found = true
			assert.InDelta(t, .3*inch, f.Figure, 1e-9)
			assert.InDelta(t, .32*inch, f.Limit, 1e-9)
		}
	}
	assert.True(t, found)
}

// A remark without a figure says none, and only a stop forbids cutting.
func TestWhatAFindingSays(t *testing.T) {
	assert.NotContains(t, flat.Finding{Severity: flat.Note, Place: "sheet", Text: "words"}.String(), "against")
	assert.Contains(t, flat.Finding{Severity: flat.Warn, Place: "sheet", Text: "words", Limit: 2}.String(), "(0 against 2)")
	assert.False(t, flat.Blank{Findings: []flat.Finding{{Severity: flat.Note}, {Severity: flat.Warn}}}.Stopped())
	assert.True(t, flat.Blank{Findings: []flat.Finding{{Severity: flat.Note}, {Severity: flat.Stop}}}.Stopped())
}
