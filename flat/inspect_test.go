package flat_test

import (
	"math"
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/spatial/r2"
)

// about returns the findings whose text holds a phrase.
func about(t *testing.T, p flat.Part, phrase string) (found []flat.Finding) {
	t.Helper()
	b, err := flat.Develop(p)
	require.NoError(t, err)
	for _, f := range b.Findings {
		if strings.Contains(f.Text, phrase) {
			found = append(found, f)
		}
	}
	return found
}

// lowerFlange is a plate with one flange along its lower edge: .040 in, R .16.
func lowerFlange(f flat.Flange) flat.Part { return plate(6, 4, .040, .16, [4]*flat.Flange{&f}) }

// 20 by the gauge of sheet steel is .0359 in, by that of aluminium .0320 (Machinery's Handbook 31, Table 20). A sheet whose
// thickness is a length, or a number of its own gauge, is not asked about, and a thickness that is none of its gauge is refused.
func TestGaugeOfAnotherMetalIsAskedAbout(t *testing.T) {
	p := lowerFlange(flat.Flange{Angle: degrees(90), Height: inch})
	for given, asked := range map[string]int{"20 MSG": 1, "20 B&S": 0, "0.0359 in": 0} {
		var err error
		p.Sheet.Thickness, p.Sheet.Gauge, err = material.ParseGauged(given)
		require.NoError(t, err)
		found := about(t, p, "ask which is meant")
		require.Len(t, found, asked, given)
		if asked > 0 {
			assert.Equal(t, flat.Warn, found[0].Severity)
			assert.InDelta(t, .0359*inch, found[0].Figure, 1e-9)
			assert.InDelta(t, .032*inch, found[0].Limit, 1e-9)
			assert.Contains(t, found[0].String(), "(0.0359 in (0.912 mm) against 0.0320 in (0.813 mm)) [Machinery's Handbook 31st edition")
		}
	}
	// A number the metal's own table has not: there is nothing to hold the figure against.
	p.Sheet.Material = material.Material{Alloy: "4130", Temper: "normalized"}
	var err error
	p.Sheet.Thickness, p.Sheet.Gauge, err = material.ParseGauged("2 B&S")
	require.NoError(t, err)
	f, asked := flat.AskGauge("sheet", p.Sheet)
	require.True(t, asked)
	assert.Zero(t, f.Figure)

	p.Sheet.Thickness = 1
	var fault *flat.Error
	require.ErrorAs(t, p.Validate(), &fault)
	assert.Equal(t, "sheet.gauge", fault.Path)
}

// A brake needs a flat of 2.5 T beyond the bend: .100 in of .040 in sheet. The flat is the height less the
// setback of .2·tan(A/2), the least of both ends.
func TestFlatToHoldInABrake(t *testing.T) {
	for _, c := range []struct {
		flange flat.Flange
		flat   float64 // in; 0 where nothing is said
	}{
		{flat.Flange{Angle: degrees(90), Height: .31 * inch}, 0},
		{flat.Flange{Angle: degrees(90), Height: .29 * inch}, .09},
		{flat.Flange{Angle: degrees(90), Height: .29 * inch, HeightEnd: .5 * inch}, .09},
		{flat.Flange{Angle: degrees(90), Height: .5 * inch, HeightEnd: .29 * inch}, .09},
		{flat.Flange{Angle: degrees(90), AngleEnd: degrees(120), Height: .46 * inch}, 0},
		{flat.Flange{Angle: degrees(90), AngleEnd: degrees(120), Height: .43 * inch}, .43 - .2*math.Sqrt(3)},
		{flat.Flange{Angle: degrees(120), AngleEnd: degrees(90), Height: .43 * inch}, .43 - .2*math.Sqrt(3)},
	} {
		found := about(t, lowerFlange(c.flange), "too narrow to hold")
		if c.flat == 0 {
			assert.Empty(t, found, "%+v", c.flange)
			continue
		}
		require.Len(t, found, 1, "%+v", c.flange)
		assert.Equal(t, flat.Warn, found[0].Severity)
		assert.InDelta(t, c.flat*inch, found[0].Figure, 1e-9)
		assert.InDelta(t, .1*inch, found[0].Limit, 1e-12)
	}
}

// A bend within 30° of the grain is warned of, whichever way either runs.
func TestBendsAlongTheGrain(t *testing.T) {
	askew := lowerFlange(flat.Flange{Angle: degrees(90), Height: 1 * inch})
	askew.Web.Edges[1].Start = r2.Vec{X: 4 * inch, Y: 4 * inch} // its lower edge rises at 45°
	askew.Web.Edges[2].Start = r2.Vec{X: 2 * inch, Y: 6 * inch}
	level := lowerFlange(flat.Flange{Angle: degrees(90), Height: 1 * inch})
	for _, c := range []struct {
		part         flat.Part
		grain, along float64 // along: -1 where nothing is said
	}{
		{level, 0, 0}, {level, 29, 29}, {level, 31, -1}, {level, 90, -1}, {level, 151, 29}, {level, 180, 0}, {level, -29, 29},
		{askew, 45, 0}, {askew, 20, 25}, {askew, -20, -1}, {askew, 70, 25}, {askew, 110, -1},
	} {
		c.part.Sheet.Grain.Stated, c.part.Sheet.Grain.Angle = true, degrees(c.grain)
		assert.Empty(t, about(t, c.part, "grain direction is not stated"))
		found := about(t, c.part, "lies along the grain")
		if c.along < 0 {
			assert.Empty(t, found, "grain at %g°", c.grain)
			continue
		}
		require.Len(t, found, 1, "grain at %g°", c.grain)
		assert.InDelta(t, c.along, measure.Angle(found[0].Figure).Degrees(), 1e-9)
		assert.InDelta(t, 30, measure.Angle(found[0].Limit).Degrees(), 1e-9)
		assert.Contains(t, found[0].String(), " against 30", "also where the figure is nought")
	}
	assert.Len(t, about(t, level, "grain direction is not stated"), 1)
	assert.Empty(t, about(t, plate(6, 4, .040, .16, [4]*flat.Flange{}), "grain"), "a plate without bends has no need of it")
}

// A bevel from 80° to 100° along the 4 in between stations 1 and 5 winds 20° in 101.6 mm.
func TestTwistByItsOwnLength(t *testing.T) {
	p := lowerFlange(flat.Flange{Angle: degrees(80), AngleEnd: degrees(100), Height: 1 * inch, From: 1 * inch, To: 5 * inch})
	found := about(t, p, "bevel changes")
	require.Len(t, found, 1)
	assert.Contains(t, found[0].Text, "twist of 19.69° in 100 mm") // 20/1.016 = 19.685
}

// The free edge of a flange 3 in high that winds from 60° to 120° along 6 in of a straight mold line is a
// helix about it: √(1 + (h·A')²) longer than the edge. On the blank it is cut at w = h - 2·SB + BA from the mold
// line, so its length there is the integral of √(1 + w'²). SB = .2·tan(A/2) and BA = .177664·A in inches.
func TestStretchOfATwistedFreeEdge(t *testing.T) {
	p := lowerFlange(flat.Flange{Angle: degrees(60), AngleEnd: degrees(120), Height: 3 * inch})
	found := about(t, p, "free edge is stretched")
	require.Len(t, found, 1)
	wind := math.Pi / 3 / 6 // rad per inch
	formed := math.Hypot(1, 3*wind)
	perRadian := (0.01743*.16 + 0.0078*.040) * 180 / math.Pi
	cut := quad.Fixed(func(x float64) float64 {
		a := math.Pi/3 + wind*x
		slope := wind * (perRadian - .2/math.Pow(math.Cos(a/2), 2))
		return math.Hypot(1, slope)
	}, 0, 6, 40, nil, 0) / 6
	assert.InDelta(t, formed/cut-1, found[0].Figure, 1e-3)
	assert.Equal(t, 0.002, found[0].Limit)
	// 1° along 6 in with 1 in: (π/180/6)²/2 = 4e-6 is nothing.
	assert.Empty(t, about(t, lowerFlange(flat.Flange{Angle: degrees(90), AngleEnd: degrees(91), Height: 1 * inch}), "free edge is stretched"))
}

// A relief of the handbook's least diameter, 1/8 in to .064 in thick, is enough; less is not.
func TestReliefBelowTheLeast(t *testing.T) {
	leg := &flat.Flange{Angle: degrees(90), Height: 1 * inch}
	p := plate(6, 4, .040, .06, [4]*flat.Flange{leg, leg})
	p.Relief.Diameter = inch / 8
	assert.Empty(t, about(t, p, "below the handbook's least"))
	p.Relief.Diameter = 3
	found := about(t, p, "below the handbook's least")
	require.Len(t, found, 1)
	assert.Equal(t, flat.Warn, found[0].Severity)
	assert.InDelta(t, 3, found[0].Figure, 1e-12)
	assert.InDelta(t, inch/8, found[0].Limit, 1e-12)
}

// cautious is a rule that answers outside the range it was proved in, and says so.
type cautious struct{ bend.Handbook }

func (c cautious) Allowance(b bend.Bend) (bend.Allowance, error) {
	a, err := c.Handbook.Allowance(b)
	a.Caution = "sharper than the rule was tried"
	return a, err
}

// What a rule says of its own answer stands among the findings.
func TestCautionOfTheRule(t *testing.T) {
	p := lowerFlange(flat.Flange{Angle: degrees(90), Height: 1 * inch})
	assert.Empty(t, about(t, p, "sharper than the rule"))
	p.Rule = cautious{}
	found := about(t, p, "sharper than the rule was tried")
	require.Len(t, found, 1)
	assert.Equal(t, flat.Warn, found[0].Severity)
}

// A lip must reach past its own bend: at least the radius and the sheet, and the pierced hole must be a hole.
func TestLipsThatCannotBe(t *testing.T) {
	lip := func(h flat.LighteningHole) error {
		p := lowerFlange(flat.Flange{Angle: degrees(90), Height: 1 * inch})
		h.At = r2.Vec{X: 75, Y: 50}
		p.Web.Lightening = []flat.LighteningHole{h}
		return p.Validate()
	}
	// 3 + 1.016 = 4.016
	assert.NoError(t, lip(flat.LighteningHole{Diameter: 40, Height: 4.02, Radius: 3}))
	assert.ErrorContains(t, lip(flat.LighteningHole{Diameter: 40, Height: 4, Radius: 3}), "at least its radius and the thickness, 4.016 mm")
	// d = 12 - 2·(9 - .429204·3 - .714602·1.016) = 12 - 2·6.98635 < 0
	assert.ErrorContains(t, lip(flat.LighteningHole{Diameter: 12, Height: 9, Radius: 3}), "pilot")
}

// Two openings 1 mm apart in sheet of 1.016 mm, in any order and direction, one or both of them round, are told
// of: 2·T should be left. 3 mm apart they are left in peace.
func TestOpeningsCloseTogether(t *testing.T) {
	box := func(at r2.Vec) outline.Path {
		return outline.Rect(r2.Vec{X: at.X - 3, Y: at.Y - 3}, r2.Vec{X: at.X + 3, Y: at.Y + 3})
	}
	for _, way := range []r2.Vec{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}} {
		for _, gap := range []float64{1, 3} {
			one := r2.Vec{X: 75, Y: 50}
			two := r2.Add(one, r2.Scale(6+gap, way))
			for name, f := range map[string]flat.Features{
				"holes":      {Holes: []flat.Hole{{At: one, Diameter: 6}, {At: two, Diameter: 6}}},
				"hole, slot": {Holes: []flat.Hole{{At: one, Diameter: 6}}, Cutouts: []flat.Cutout{{Path: box(two)}}},
				"cut-outs":   {Cutouts: []flat.Cutout{{Path: box(one)}, {Path: box(two)}}},
			} {
				p := lowerFlange(flat.Flange{Angle: degrees(90), Height: 1 * inch})
				p.Web.Features = f
				found := about(t, p, "little metal is left")
				if gap > 2.032 {
					assert.Empty(t, found, "%s, %v", name, way)
					continue
				}
				require.Len(t, found, 1, "%s, %v", name, way)
				assert.InDelta(t, gap, found[0].Figure, 1e-9)
				assert.InDelta(t, 2.032, found[0].Limit, 1e-12)
			}
		}
	}
}

// The sheet that is left of a plate 6 in by 4 in with one square flange of 1 in: 4 + 1 - 2·.2 + .279072 = 4.879072 in
// wide (see TestHandbookChannel) by 6 in is 29.274432 in², less a hole of 1 in, .785398, and a cut-out of 1 by .5:
// 27.989034 in². Of .040 in 2024 at .100 lb/in³ (from memory) that is .1120 lb, 50.78 g.
func TestMassByHand(t *testing.T) {
	p := lowerFlange(flat.Flange{Angle: degrees(90), Height: 1 * inch})
	p.Web.Holes = []flat.Hole{{At: r2.Vec{X: 1.5 * inch, Y: 2 * inch}, Diameter: 1 * inch}}
	p.Web.Cutouts = []flat.Cutout{{Path: outline.Rect(r2.Vec{X: 4 * inch, Y: 2 * inch}, r2.Vec{X: 5 * inch, Y: 2.5 * inch})}}
	b, err := flat.Develop(p)
	require.NoError(t, err)
	const area = 27.989034 // in²
	assert.InDelta(t, area*inch*inch, b.Area, 1e-3)
	assert.InEpsilon(t, area*.040*.100*453.59237, b.Mass, 0.006, "the density may be given as 2.78 g/cm³ as well")
	p.Sheet.Thickness *= 2
	p.Radius = .12 * inch // R + T stays, so the setback does
	twice, err := flat.Develop(p)
	require.NoError(t, err)
	assert.InEpsilon(t, 2*twice.Area/b.Area, twice.Mass/b.Mass, 1e-12)
}

// Two flanges beside an inner corner of an L, the second from half an inch up its edge, are cut from the same metal.
// The first stands on y = 2 in, up to 2 + 1 - .120928 (the deduction of 2·.2 - .279072), from x = 3.32, clear of its
// slot; the second on x = 3 in, out to 3.879072, from y = 2.5. So they overlap from (3.32, 2.5) to (3.879072, 2.879072) in,
// .675 in across: 17.16 mm.
func TestOverlapIsToldWithItsSize(t *testing.T) {
	p := plate(6, 4, .040, .16, [4]*flat.Flange{})
	e := p.Web.Edges
	p.Web.Edges = []flat.Edge{e[0], e[1],
		{Name: "shelf", Start: r2.Vec{X: 6 * inch, Y: 2 * inch}, Flanges: []flat.Flange{{Angle: degrees(90), Height: 1 * inch}}},
		{Name: "rise", Start: r2.Vec{X: 3 * inch, Y: 2 * inch}, Flanges: []flat.Flange{{Angle: degrees(90), Height: 1 * inch, From: .5 * inch, To: 2 * inch}}},
		{Name: "upper", Start: r2.Vec{X: 3 * inch, Y: 4 * inch}}, e[3]}
	found := about(t, p, "overlaps itself")
	require.Len(t, found, 1)
	assert.Equal(t, flat.Stop, found[0].Severity)
	assert.Contains(t, found[0].Text, ", 17.2 mm across")
	place := r2.Scale(1/inch, found[0].At)
	near := min(r2.Norm(r2.Sub(place, r2.Vec{X: 3.32, Y: 2.5})), r2.Norm(r2.Sub(place, r2.Vec{X: 3.879072, Y: 2.879072})))
	assert.InDelta(t, 0, near, 1e-6)
}

// Two lips that turn toward each other over a web narrower than both stand in each other where they pass, as
// deep as half the sheet: that of the one lies in the other's very place.
func TestClashIsToldWithItsDepth(t *testing.T) {
	lip := []flat.Flange{{Angle: degrees(90), Height: .8 * inch}}
	side := &flat.Flange{Angle: degrees(90), Height: 1 * inch, Flanges: lip}
	found := about(t, plate(6, 1.2, .040, .16, [4]*flat.Flange{side, nil, side}), "stand in each other")
	require.NotEmpty(t, found)
	assert.Equal(t, flat.Stop, found[0].Severity)
	assert.Contains(t, found[0].Text, " mm, at least 0.51 mm deep", "half of .040 in, 1.016 mm")
}

// A radius between the tables is held against the largest of their least radii, whichever table that stands in; just
// above it nothing is warned of, and below the smallest that was read in print the part stops.
func TestRadiusBetweenTheTables(t *testing.T) {
	sheet := lowerFlange(flat.Flange{Angle: degrees(90), Height: 1 * inch}).Sheet
	limits, err := sheet.Material.MinBendRadii(sheet.Thickness)
	require.NoError(t, err)
	least, most := math.Inf(1), 0.0
	for _, l := range limits {
		require.False(t, l.NotRecommended)
		most = max(most, l.Least)
		if l.Source.Provenance == material.Read {
			least = min(least, l.Least)
		}
	}
	require.Greater(t, most, least+.02*inch, "the tables differ")
	with := func(radius float64) flat.Part {
		return lowerFlange(flat.Flange{Angle: degrees(90), Height: 1 * inch, Radius: radius})
	}
	found := about(t, with(most-.01*inch), "below the least of a table")
	require.Len(t, found, 1)
	assert.Equal(t, flat.Warn, found[0].Severity)
	assert.InDelta(t, most, found[0].Limit, 1e-12)
	assert.Empty(t, about(t, with(most+.001*inch), "below the least"))
	found = about(t, with(least-.01*inch), "below the least of every table")
	require.Len(t, found, 1)
	assert.Equal(t, flat.Stop, found[0].Severity)
	assert.InDelta(t, least, found[0].Limit, 1e-12)
}

// The one table that speaks of 304 of .040 in prints 3/32 in as .094: that radius is within it, and a thousandth
// of an inch less is not.
func TestRadiusThatATableRounds(t *testing.T) {
	with := func(radius float64) flat.Part {
		p := lowerFlange(flat.Flange{Angle: degrees(90), Height: 1 * inch, Radius: radius})
		p.Sheet.Material = material.Material{Alloy: "304", Temper: "annealed"}
		return p
	}
	assert.Empty(t, about(t, with(3*inch/32), "inside bend radius is"))
	found := about(t, with(.0928*inch), "inside bend radius is below the least of every table")
	require.Len(t, found, 1)
	assert.InDelta(t, .094*inch, found[0].Limit, 1e-9)
}

// A run-out of four depths is long enough in 2024-T3, of three in annealed sheet, of eight in 7075-T6; a
// little less is warned of, with what it is.
func TestRunOutOfAJoggle(t *testing.T) {
	for _, c := range []struct {
		alloy, temper string
		least         float64
	}{{"2024", "T3", 4}, {"2024", "O", 3}, {"7075", "O", 3}, {"7075", "T6", 8}} {
		for _, depth := range []float64{1.5, 1.51} {
			p := lowerFlange(flat.Flange{Angle: degrees(90), Height: 1 * inch, Joggles: []flat.Joggle{{At: 40, Run: 1.5 * c.least, Depth: depth}}})
			p.Sheet.Material.Alloy, p.Sheet.Material.Temper = c.alloy, c.temper
			found := about(t, p, "run-out is short")
			if depth == 1.5 {
				assert.Empty(t, found, "%+v", c)
				continue
			}
			require.Len(t, found, 1, "%+v", c)
			assert.InDelta(t, 1.5*c.least/1.51, found[0].Figure, 1e-12)
			assert.Equal(t, c.least, found[0].Limit)
		}
	}
}

// What is found of a bend stands in the middle of its centre line: of a lower edge 6 in long, with nothing beside it,
// at 3 in.
func TestFindingsStandInTheMiddleOfTheBend(t *testing.T) {
	found := about(t, lowerFlange(flat.Flange{Angle: degrees(90), Height: .29 * inch}), "too narrow to hold")
	require.Len(t, found, 1)
	assert.InDelta(t, 3*inch, found[0].At.X, 1e-9)
}
