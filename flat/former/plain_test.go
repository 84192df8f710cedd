package former_test

import (
	"math"
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/former"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

// plainRing is a flat ring between two circles.
func plainRing(outer, inner float64) former.Former {
	return former.Former{
		Name:  "ring",
		Sheet: material.Sheet{Material: material.Material{Alloy: "2024", Temper: "O"}, Thickness: 1.2},
		Outer: former.Rim{Contour: outline.Circle(r2.Vec{}, outer)},
		Inner: former.Rim{Contour: outline.Circle(r2.Vec{}, inner).Reverse()},
	}
}

// Rivets of a splice keep two diameters from the cut all the way in, and rows three from each other, however tight
// the ring: the joints of a ring cut in two at girth 0 and half lie on the x axis, the cuts half the gap off it.
func TestSpliceRivetsKeepTheirDistanceFromTheJoint(t *testing.T) {
	for _, ring := range [][2]float64{{400, 330}, {400, 250}, {200, 120}, {150, 60}} {
		for _, gap := range []float64{0, 2} {
			f := plainRing(ring[0], ring[1])
			f.Split = former.Split{Pieces: 2, Joints: []float64{0, math.Pi * ring[0]}, Gap: gap}
			r, err := former.Develop(f)
			require.NoError(t, err)
			for _, s := range r.Splices {
				first := 0
				for i, h := range s.Holes {
					off := math.Abs(h.Y) - gap/2
					assert.GreaterOrEqual(t, off, 2*s.Rivet-1e-6, "%v gap %g, rivet %d", ring, gap, i)
					if off < 2*s.Rivet+1e-6 {
						first++
					}
					row := (off - 2*s.Rivet) / (3 * s.Rivet)
					assert.InDelta(t, math.Round(row), row, 1e-6, "rows stand three diameters apart")
					depth := ring[0] - math.Hypot(h.X, h.Y)
					assert.True(t, depth > 2*s.Rivet && depth < ring[0]-ring[1]-2*s.Rivet, "%v: depth %g", ring, depth)
					assert.GreaterOrEqual(t, s.Plate.Distance(h), 2*s.Rivet-0.02, "%v gap %g: edge distance in the plate", ring, gap)
					for _, o := range s.Holes[:i] {
						assert.GreaterOrEqual(t, r2.Norm(r2.Sub(h, o)), 3*s.Rivet-1e-6)
					}
				}
				assert.Positive(t, first)
			}
		}
	}
}

// A block whose wall leans in on one side and out on the other: bevels of 70° and 110° round a circle of 200, 40 deep. The
// block is 1 mm inside the mold line at its top edge; over its depth the wall goes 40·tan 20° = 14.559 out or in. At each side the
// farther of top and bottom counts.
func TestBlockHoldsTopAndBottom(t *testing.T) {
	f := plainRing(200, 100)
	f.Inner = former.Rim{}
	f.Sheet.Thickness = 1
	f.Outer.Flange = &former.Flange{Height: 20, Radius: 3, Bevels: []former.Bevel{{Angle: 70 * deg}, {At: math.Pi * 200, Angle: 110 * deg}}}
	f.Block.Depth = 40
	r, err := former.Develop(f)
	require.NoError(t, err)
	b := r.Pieces[0].Block
	// The least rectangle, of any turn, that holds both.
	least, want := math.Inf(1), 0.0
	for k := range 1800 {
		turn := outline.Rotate(r2.Vec{}, measure.Angle(float64(k))*deg/20)
		top, bottom := b.Top[0].Transform(turn).Bounds(), b.Bottom[0].Transform(turn).Bounds()
		long := max(top.Max.X, bottom.Max.X) - min(top.Min.X, bottom.Min.X)
		wide := max(top.Max.Y, bottom.Max.Y) - min(top.Min.Y, bottom.Min.Y)
		if long*wide < least {
			least, want = long*wide, max(long, wide)
		}
	}
	assert.InDelta(t, want, b.Size.Length, 0.3)
	for _, one := range []outline.Path{b.Top[0], b.Bottom[0]} {
		assert.Greater(t, b.Size.Length, former.SizeOf(one).Length+5, "neither holds the other")
	}
	f.Split.BlockStock = former.Stock{Length: want - 3, Width: want - 3} // more than either alone
	r, err = former.Develop(f)
	require.NoError(t, err)
	assert.False(t, r.Choice().FitsBlock)
}

// A block glued up of parts whose bottom is larger than their top: a flange of 70° leaves 400 mm of mold line 40 deep with
// a bottom of 413.4 mm radius, of which a half takes 826.8 by 413.4.
func TestGluedUpPartsHoldTheirBottom(t *testing.T) {
	f := plainRing(400, 330)
	f.Sheet.Thickness = 1
	f.Outer.Flange = &former.Flange{Height: 20, Radius: 3, Bevels: []former.Bevel{{Angle: 70 * deg}}}
	f.Block.Depth = 40
	for stock, parts := range map[former.Stock]int{{Length: 802, Width: 402}: 3, {Length: 830, Width: 415}: 2} {
		f.Split.BlockStock = stock
		r, err := former.Develop(f)
		require.NoError(t, err)
		assert.Len(t, r.Pieces[0].Block.Segments, parts, "%v", stock)
	}
}

// Cut to equal area a flange is wider than cut to equal arc, and its edge shorter round a hole. In all it must take up what
// is beyond the guidance along that edge: for a hole of radius 80 with a setback of 4, 2π·(80 - (w - 4)).
func TestTakeUpByEqualArea(t *testing.T) {
	for _, model := range []former.Model{former.EqualArc, former.EqualArea} {
		f := plainRing(300, 80)
		f.Sheet.Thickness = 1
		f.Inner.Flange = &former.Flange{Height: 18, Radius: 3, Bevels: []former.Bevel{{Angle: 90 * deg}}}
		f.Inner.Flange.Model = model
		r, err := former.Develop(f)
		require.NoError(t, err)
		require.NotEmpty(t, r.Remedies)
		require.NotEmpty(t, r.Inner.Strains)
		e := r.Inner.Strains[0]
		effort := e.ByArc
		if model == former.EqualArea {
			effort = e.ByArea
			assert.Greater(t, math.Abs(effort.Width-e.ByArc.Width), 0.3)
		}
		total := 0.0
		for _, h := range r.Remedies {
			total += h.TakeUp * float64(max(len(h.Places), 1))
		}
		assert.InEpsilon(t, (effort.Strain-0.10)*2*math.Pi*(80-(effort.Width-4)), total, 1e-3, "%v", model)
	}
}

// A flange of a former is held against the tables as the flange of any part is. 2024-T3 of .040 in: AC 43.13-1B
// Table 4-6 prints 3t to 5t, .120 to .200 in, and the largest least is .188. What was not read in print never stops.
func TestRadiusOfAFormersFlange(t *testing.T) {
	const inch = 25.4
	told := func(alloy string, radius float64) (found []flat.Finding) {
		f := bulkhead(t, 90*deg)
		f.Sheet.Material, f.Sheet.Thickness = lookup(t, alloy), .040*inch
		f.Outer.Flange.Radius = radius * inch
		r, err := former.Develop(f)
		require.NoError(t, err)
		for _, g := range r.Findings {
			if strings.Contains(g.Text, "inside bend radius is") {
				found = append(found, g)
			}
		}
		return found
	}
	assert.Empty(t, told("2024-T3", .200))
	for _, c := range []struct {
		radius, limit float64
		severity      flat.Severity
	}{{3. / 16, .200, flat.Note}, {.170, .188, flat.Warn}, {.110, .120, flat.Stop}} {
		found := told("2024-T3", c.radius)
		require.Len(t, found, 1, "%v", c.radius)
		assert.Equal(t, c.severity, found[0].Severity, "%v", c.radius)
		assert.InDelta(t, c.limit*inch, found[0].Limit, 1e-9)
		assert.Equal(t, "outer flange", found[0].Place)
	}
	remembered := told("AZ31B-O", .100)
	require.NotEmpty(t, remembered)
	assert.Equal(t, flat.Warn, remembered[0].Severity)
}

// The strain of an edge, and the width of one cut to equal area, can be worked again from their printed inputs in
// inches: e = k·(x - w)/(1 + k·w), w = 2·c/(1 + √(1 + 2·k·c)).
func TestWorkingOfAFlangeCanBeWorkedAgain(t *testing.T) {
	const inch = 25.4
	for _, model := range []former.Model{former.EqualArc, former.EqualArea} {
		f := bulkhead(t, 90*deg)
		f.Outer.Flange.Model = model
		r, err := former.Develop(f)
		require.NoError(t, err)
		worked := 0
		for _, s := range r.Working() {
			in := map[string]float64{}
			for _, i := range s.Inputs {
				in[i.Symbol] = i.Value
				if i.Unit == bend.Length {
					in[i.Symbol] /= inch
				}
			}
			switch s.Formula {
			case "k·(x - w)/(1 + k·w)":
				assert.InDelta(t, in["k"]*(in["x"]-in["w"])/(1+in["k"]*in["w"]), s.Value, 1e-12)
				worked++
			case "2·c/(1 + √(1 + 2·k·c))":
				assert.InDelta(t, 2*in["c"]/(1+math.Sqrt(1+2*in["k"]*in["c"])), s.Value/inch, 1e-9)
				worked++
			}
		}
		assert.GreaterOrEqual(t, worked, map[former.Model]int{former.EqualArc: 1, former.EqualArea: 2}[model])
	}
}
