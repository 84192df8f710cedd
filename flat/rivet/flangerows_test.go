package rivet_test

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/rivet"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
)

var threeThirtySeconds = rivet.Rivet{Diameter: 3. / 32 * inch}

// onOneFlange is a web 8 in by 4 in with one flange turned up at 90° from its lower edge: sheet 0.040 in, radius
// 3/16 in, so that by the handbook SB = 0.2275 in, BA = (0.01743·0.1875 + 0.0078·0.04)·90 = 0.32221125 in
// and BD = 2·SB - BA = 0.13278875 in.
func onOneFlange(height float64, rows ...flat.Riveting) flat.Part {
	return flat.Part{
		Name: "rail", Radius: 3. / 16 * inch,
		Sheet: material.Sheet{Material: material.Material{Alloy: "2024", Temper: "T3"}, Thickness: .04 * inch},
		Web: flat.Web{Edges: []flat.Edge{
			{Name: "keel", Start: at(0, 0), Flanges: []flat.Flange{{Name: "keel", Angle: 90 * measure.Degree, Height: height, Rivets: rows}}},
			{Start: at(8*inch, 0)}, {Start: at(8*inch, 4*inch)}, {Start: at(0, 4*inch)},
		}},
	}
}

const (
	setback = .2275 * inch
	back    = .13278875 * inch // bend deduction
)

func develop(t *testing.T, p flat.Part) flat.Blank {
	t.Helper()
	b, err := flat.Develop(p)
	require.NoError(t, err)
	return b
}

// Between ends of 2·3/32 = 3/16 in the row is 7 5/8 in long: 11 spaces of no more than 3/4 in, 12 rivets.
// The middle of the flat lies (0.2275 + 0.75)/2 = 0.48875 in from the mold line, and a point y from
// it at BD - y on the blank. Pilots are 1/16 in.
func TestRowLaidByRule(t *testing.T) {
	b := develop(t, onOneFlange(.75*inch, rivet.FlangeRows{Rivet: threeThirtySeconds, Pitch: .75 * inch}))
	require.Len(t, b.Rows, 1)
	assert.Equal(t, "keel", b.Rows[0].Name)
	assert.Equal(t, "3/32 in, protruding head", b.Rows[0].Rivet)
	require.Len(t, b.Rows[0].Centers, 12)
	require.Len(t, b.Holes, 12)
	for k, h := range b.Holes {
		want := at((.1875+7.625/11*float64(k))*inch, back-.48875*inch)
		assert.InDelta(t, 0, r2.Norm(r2.Sub(want, h.Center)), 1e-9, h.Name)
		assert.Equal(t, h.Center, b.Rows[0].Centers[k])
		assert.Equal(t, flat.RivetPilot, h.Purpose)
		assert.Equal(t, 1, h.Row)
		assert.InDelta(t, inch/16, h.Diameter, 1e-12)
	}
	assert.Equal(t, "keel 12", b.Holes[11].Name)
	assert.Less(t, b.Proof.Hole, 1e-6, "folded back, the holes are where they were asked for")
	bare := develop(t, onOneFlange(.75*inch))
	assert.InDelta(t, 12*math.Pi/4*math.Pow(inch/16, 2), bare.Area-b.Area, 1e-6, "the holes are weighed")
	assert.Empty(t, b.Part.Web.Edges[0].Flanges[0].Holes, "what the part asks for stays as it was")
}

// Two rows 3/8 in apart about the middle of the flat of a flange 1 1/4 in high: that is
// (0.2275 + 1.25)/2 = 0.73875 in out, the rows 0.55125 and 0.92625 in. The second, staggered, stands midway.
func TestStaggeredRowsAboutTheMiddle(t *testing.T) {
	ask := rivet.FlangeRows{Name: "seam", Rivet: threeThirtySeconds, Pitch: .75 * inch, Rows: 2, Spacing: .375 * inch, Stagger: true}
	b := develop(t, onOneFlange(1.25*inch, ask))
	require.Len(t, b.Rows, 2)
	require.Len(t, b.Rows[0].Centers, 12)
	require.Len(t, b.Rows[1].Centers, 11)
	assert.Equal(t, "seam row 2", b.Rows[1].Name)
	for i, y := range []float64{.55125, .92625} {
		for k, c := range b.Rows[i].Centers {
			x := .1875 + 7.625/11*(float64(k)+float64(i)/2)
			assert.InDelta(t, 0, r2.Norm(r2.Sub(at(x*inch, back-y*inch), c)), 1e-9, "row %d rivet %d", i, k)
		}
		assert.Len(t, b.Rows[i].Holes, len(b.Rows[i].Centers))
		assert.Equal(t, b.Rows[i].Centers[0], b.Holes[12*i].Center)
	}
	// Left out, the spacing is three quarters of the pitch; from the mold line the first row is the near one.
	ask.Spacing, ask.FromMold = 0, .4*inch
	b = develop(t, onOneFlange(1.25*inch, ask))
	assert.InDelta(t, back-.4*inch, b.Rows[0].Centers[0].Y, 1e-9)
	assert.InDelta(t, back-(.4+.5625)*inch, b.Rows[1].Centers[0].Y, 1e-9)
}

// An end cut back at 45° leans 1 mm in for each mm out: a row y out ends clear of it at y + √2 times the
// clearance. Of two rows the outer is the shorter, and both end there, so that they stay opposite each other.
func TestRowsKeepClearOfALeaningEnd(t *testing.T) {
	p := onOneFlange(1.25*inch, rivet.FlangeRows{Rivet: threeThirtySeconds, Pitch: 20, FromMold: 13, Rows: 2, Spacing: 10, End: 5})
	p.Web.Edges[0].Flanges[0].Start = flat.Trim{Kind: flat.Angled, Angle: 45 * measure.Degree}
	b := develop(t, p)
	require.Len(t, b.Rows, 2)
	for i := range b.Rows {
		n := len(b.Rows[i].Centers)
		assert.InDelta(t, 23+5*math.Sqrt2, b.Rows[i].Centers[0].X, 1e-6)
		assert.InDelta(t, 8*inch-5, b.Rows[i].Centers[n-1].X, 1e-6)
	}
	assert.Empty(t, worded(b.Findings, "edge distance"))
}

// Cut back at its bend alone to clear its neighbours, a flange is longest at its free edge and the inner row the
// shorter. By hand: its ends lean out by 10 mm in 25, so that 12 mm out one lies at 10 - 0.4·(12 - 5) = 7.2 mm, and a row
// clear of it by 5 mm begins 5·√(1 + 0.4²) farther in.
func TestRowsKeepClearOfANarrowedBend(t *testing.T) {
	b := flat.Blank{
		Part: flat.Part{Sheet: material.Sheet{Material: material.Material{Alloy: "2024", Temper: "T3"}, Thickness: 1}},
		Panels: []flat.Panel{{Name: "web", Bend: -1}, {
			Name: "floor", Along: at(1, 0), Out: at(0, -1), Outline: []r2.Vec{at(10, -5), at(0, -30), at(100, -30), at(90, -5)},
		}},
		Bends: []flat.BendLine{{Name: "floor", Child: 1, Setback: 5, Far: line(at(10, -5), at(90, -5))}},
	}
	rows, _, err := rivet.FlangeRows{Rivet: threeThirtySeconds, Pitch: 20, FromMold: 12, Rows: 2, Spacing: 10, End: 5}.Lay(b, 1)
	require.NoError(t, err)
	require.Len(t, rows, 2)
	for _, row := range rows {
		assert.InDelta(t, 7.2+5*math.Sqrt(1.16), row.Centers[0].X, 1e-9)
		assert.InDelta(t, 100-7.2-5*math.Sqrt(1.16), row.Centers[len(row.Centers)-1].X, 1e-9)
	}
}

// Of a flange that tapers from 3/4 to 1 1/4 in the middle of the flat goes up by half as much: 1/4 in in 8.
func TestRowOfATaperedFlange(t *testing.T) {
	p := onOneFlange(.75*inch, rivet.FlangeRows{Rivet: threeThirtySeconds, Pitch: .75 * inch})
	p.Web.Edges[0].Flanges[0].HeightEnd = 1.25 * inch
	b := develop(t, p)
	require.Len(t, b.Rows, 1)
	for _, c := range b.Rows[0].Centers {
		assert.InDelta(t, back-.48875*inch-c.X/32, c.Y, 1e-9)
	}
	assert.Less(t, b.Proof.Hole, 1e-6)
}

// A lip from 3 to 5 in along the free edge leaves the row below it whole: 12 rivets, as without it.
func TestRowBelowALipOnAPartOfTheFlange(t *testing.T) {
	ask := rivet.FlangeRows{Rivet: threeThirtySeconds, Pitch: .75 * inch, FromMold: .5 * inch}
	p := onOneFlange(1.25*inch, ask)
	p.Web.Edges[0].Flanges[0].Flanges = []flat.Flange{{Name: "lip", Angle: 90 * measure.Degree, Height: .5 * inch, From: 3 * inch, To: 5 * inch}}
	b := develop(t, p)
	require.Len(t, b.Rows, 1)
	require.Len(t, b.Rows[0].Centers, 12)
	assert.InDelta(t, .1875*inch, b.Rows[0].Centers[0].X, 1e-9)
	assert.InDelta(t, 7.8125*inch, b.Rows[0].Centers[11].X, 1e-9)
	// In line with the lip's bend it runs into the slots beside that: there is no row to be laid by rule.
	ask.FromMold = 1.1 * inch
	p.Web.Edges[0].Flanges[0].Rivets = []flat.Riveting{ask}
	_, err := flat.Develop(p)
	assert.ErrorContains(t, err, "leaves no room for a row 27.94 mm from its mold line")
	// On the lip itself a row goes by the lip's own edge.
	p.Web.Edges[0].Flanges[0].Rivets = nil
	p.Web.Edges[0].Flanges[0].Flanges[0].Height = .75 * inch
	p.Web.Edges[0].Flanges[0].Flanges[0].Rivets = []flat.Riveting{rivet.FlangeRows{Rivet: threeThirtySeconds, Pitch: .75 * inch}}
	b = develop(t, p)
	require.Len(t, b.Rows, 1)
	assert.Equal(t, "lip", b.Panels[b.Rows[0].Panel].Name)
	n := len(b.Rows[0].Centers)
	assert.InDelta(t, 8*inch, b.Rows[0].Centers[0].X+b.Rows[0].Centers[n-1].X, 1e-6, "midway along the lip, which stands midway")
	assert.Less(t, b.Proof.Hole, 1e-6)
}

// Rivets only marked have crosses and no holes; the sheet is not pierced.
func TestMarkedRows(t *testing.T) {
	b := develop(t, onOneFlange(.75*inch, rivet.FlangeRows{Rivet: threeThirtySeconds, Pitch: .75 * inch, Drill: rivet.MarkOnly}))
	assert.Empty(t, b.Holes)
	assert.Empty(t, b.Marks)
	require.Len(t, b.Rows, 1)
	require.Len(t, b.Rows[0].Centers, 12)
	require.Len(t, b.Rows[0].Marks, 24)
	for i, m := range b.Rows[0].Marks {
		mid := r2.Scale(.5, r2.Add(m.Line.Vertices[0].P, m.Line.Vertices[1].P))
		assert.InDelta(t, 0, r2.Norm(r2.Sub(b.Rows[0].Centers[i/2], mid)), 1e-9)
	}
	full := develop(t, onOneFlange(.75*inch, rivet.FlangeRows{Rivet: threeThirtySeconds, Pitch: .75 * inch, Drill: rivet.FullSize}))
	require.Len(t, full.Holes, 12)
	assert.InDelta(t, .098*inch, full.Holes[0].Diameter, 1e-12) // No. 40
	assert.Equal(t, flat.Opening, full.Holes[0].Purpose)
}

// What the rivets go through settles their length: 0.040 + 0.050 + 1.5·3/32 = 0.230625 in, 1/4 in from stock.
func TestRowTellsTheLengthOfItsRivets(t *testing.T) {
	b := develop(t, onOneFlange(.75*inch, rivet.FlangeRows{Rivet: threeThirtySeconds, Pitch: .75 * inch, Onto: .05 * inch}))
	require.Len(t, b.Rows, 1)
	assert.Equal(t, "3/32 in, protruding head, 1/4 in long", b.Rows[0].Rivet)
	var lengths []float64
	for _, s := range b.Working() {
		if s.Symbol == "L" {
			lengths = append(lengths, s.Value)
		}
	}
	require.Len(t, lengths, 1)
	assert.InDelta(t, .230625*inch, lengths[0], 1e-9)
}

// The part of the other hand has the same rows the other way round.
func TestRowsOfTheOtherHand(t *testing.T) {
	p := askew()
	for i := range p.Web.Edges {
		ask := rivet.FlangeRows{Rivet: threeThirtySeconds, Pitch: 20}
		if i == 2 {
			ask.Rows, ask.Stagger, ask.Spacing = 2, true, 6
		}
		p.Web.Edges[i].Flanges[0].Rivets = []flat.Riveting{ask}
	}
	b, other := develop(t, p), develop(t, p.Mirrored())
	require.Len(t, b.Rows, 5)
	require.Len(t, other.Rows, 5)
	for _, row := range b.Rows {
		found := false
		for _, o := range other.Rows {
			if o.Name != row.Name {
				continue
			}
			found = true
			require.Len(t, o.Centers, len(row.Centers))
			for k, c := range row.Centers {
				assert.InDelta(t, 0, r2.Norm(r2.Sub(at(-c.X, c.Y), o.Centers[len(o.Centers)-1-k])), 1e-6, "%s %d", row.Name, k+1)
			}
		}
		assert.True(t, found, row.Name)
	}
	assert.Less(t, other.Proof.Hole, 1e-6)
}

// What a foreman says of a row, once a row, with its source. On a flange 3/4 in high:
// a 1/8 in rivet 0.55 in out lies 0.20 in from the edge, below 2 diameters; one 0.30 in out lies 0.0725 in from the
// tangent line, where half a driven head is 3/4·1/8 = 0.09375 in; rivets 1/4 in apart lie closer than 3 diameters.
func TestFindingsOfARow(t *testing.T) {
	eighth := rivet.Rivet{Diameter: inch / 8}
	for _, c := range []struct {
		name  string
		ask   rivet.FlangeRows
		words string
		is    float64
		limit float64
	}{
		{"edge", rivet.FlangeRows{Rivet: eighth, Pitch: inch, FromMold: .55 * inch}, "edge distance to the edge of the sheet is below 2 diameters", .2, .25},
		{"bend", rivet.FlangeRows{Rivet: eighth, Pitch: inch, FromMold: .3 * inch}, `driven head would stand on the bend of flange "keel"`, .0725, .09375},
		{"marked", rivet.FlangeRows{Rivet: eighth, Pitch: inch, FromMold: .3 * inch, Drill: rivet.MarkOnly}, `driven head would stand on the bend of flange "keel"`, .0725, .09375},
		{"pitch", rivet.FlangeRows{Rivet: eighth, Pitch: .25 * inch}, "pitch is below 3 diameters", 7.5 / 30, .375},
	} {
		c.ask.Name = c.name
		b := develop(t, onOneFlange(.75*inch, c.ask))
		list := worded(b.Findings, c.words)
		require.Len(t, list, 1, c.name)
		f := list[0]
		assert.Equal(t, flat.Stop, f.Severity)
		assert.Contains(t, f.Place, `rivets "`+c.name+`"`)
		assert.InDelta(t, c.is*inch, f.Figure, 1e-6, c.name)
		assert.InDelta(t, c.limit*inch, f.Limit, 1e-6, c.name)
		assert.NotEmpty(t, f.Source.Document)
		assert.True(t, b.Stopped())
	}
	// What is found of a hole and not of a rivet is said once a row too, with how many there are: pilots of 3/32 in lie
	// 0.26125 - 3/64 = 0.214 in from the bend, below 2T + R = 0.2675 in. In 7 1/2 in there are 8 spaces of no more than an inch.
	b := develop(t, onOneFlange(.75*inch, rivet.FlangeRows{Rivet: eighth, Pitch: inch}))
	list := worded(b.Findings, "is near the bend")
	require.Len(t, list, 1)
	assert.Contains(t, list[0].Place, "the worst of 9")
	assert.InDelta(t, (.26125-3./64)*inch, list[0].Figure, 1e-6)
}

// A hole that the maker gives in the flange is an edge of the sheet to its rivets: 6 mm across, 7 mm from the
// fifth rivet's centre, it leaves 4 mm.
func TestRowBesideAHole(t *testing.T) {
	p := onOneFlange(.75*inch, rivet.FlangeRows{Rivet: threeThirtySeconds, Pitch: .75 * inch})
	p.Web.Edges[0].Flanges[0].Holes = []flat.Hole{{Name: "drain", At: at((.1875+4*7.625/11)*inch+7, .48875*inch), Diameter: 6}}
	list := worded(develop(t, p).Findings, `edge distance to hole "drain" is below 2 diameters`)
	require.Len(t, list, 1)
	assert.InDelta(t, 4, list[0].Figure, 1e-4)
	assert.Contains(t, list[0].Place, "rivet 5")
}

// A flange with a lip is held by it: its own rivets hold no edge down. Without, more than 4 diameters is told.
func TestEdgeHeldDownByALip(t *testing.T) {
	p := onOneFlange(2*inch, rivet.FlangeRows{Rivet: threeThirtySeconds, Pitch: .75 * inch, FromMold: inch})
	assert.NotEmpty(t, worded(develop(t, p).Findings, "the edge may lift"))
	p.Web.Edges[0].Flanges[0].Flanges = []flat.Flange{{Name: "lip", Angle: 90 * measure.Degree, Height: .5 * inch}}
	assert.Empty(t, worded(develop(t, p).Findings, "the edge may lift"))
}

func TestNoRoomForARow(t *testing.T) {
	for words, ask := range map[string]rivet.FlangeRows{
		"leaves no room for a row 20.32 mm from its mold line": {Rivet: threeThirtySeconds, Pitch: 20, FromMold: .8 * inch},
		"leaves no room for a row 5.08 mm from its mold line":  {Rivet: threeThirtySeconds, Pitch: 20, FromMold: .2 * inch}, // in the bend
		"leaves no room for a row clear of its ends by 102 mm": {Rivet: threeThirtySeconds, Pitch: 20, End: 102},
	} {
		_, err := flat.Develop(onOneFlange(.75*inch, ask))
		var fault *flat.Error
		require.True(t, errors.As(err, &fault), "%v", err)
		assert.Equal(t, "web.edges[0].flanges[0].rivets[0]", fault.Path)
		assert.Contains(t, fault.Rule, words)
	}
	b := develop(t, onOneFlange(.75*inch))
	for _, panel := range []int{-1, 0, 2} {
		_, _, err := rivet.FlangeRows{Rivet: threeThirtySeconds, Pitch: 20}.Lay(b, panel)
		assert.ErrorContains(t, err, "is no flange")
	}
}

// All faults at once, each under its own name.
func TestFlangeRowsRefused(t *testing.T) {
	fields := func(r rivet.FlangeRows) (list []string) {
		r.Validate(func(field, _, rule string) {
			list = append(list, field)
			assert.NotEmpty(t, rule)
		})
		return list
	}
	nan := math.NaN()
	assert.Equal(t, []string{"rivet", "pitch", "from_mold", "end_distance", "row_spacing", "onto", "row_spacing"},
		fields(rivet.FlangeRows{Rivet: rivet.Rivet{Diameter: nan}, Pitch: nan, FromMold: nan, End: nan, Spacing: nan, Onto: nan}))
	assert.Equal(t, []string{"head", "rows", "stagger", "drill"}, fields(rivet.FlangeRows{Rivet: rivet.Rivet{Diameter: 3, Head: 3}, Pitch: 20, Rows: -1, Stagger: true, Drill: 3}))
	assert.Equal(t, []string{"rows"}, fields(rivet.FlangeRows{Rivet: threeThirtySeconds, Pitch: 20, Rows: 21}))
	assert.Equal(t, []string{"drill"}, fields(rivet.FlangeRows{Rivet: rivet.Rivet{Diameter: 6}, Pitch: 20, Drill: rivet.FullSize}))
	assert.Empty(t, fields(rivet.FlangeRows{Rivet: threeThirtySeconds, Pitch: 20, Rows: 2, Stagger: true, Drill: rivet.FullSize}))
	_, _, err := rivet.FlangeRows{}.Lay(flat.Blank{}, 0)
	assert.ErrorContains(t, err, "pitch 0 mm")
	assert.ErrorContains(t, err, "is no flange")
}
