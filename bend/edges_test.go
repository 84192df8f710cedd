package bend_test

import (
	"math"
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// sameSheets are sheets of which none is a unit thick, so that nothing that is divided by
// a thickness can be multiplied by it unseen.
var sameSheets = []float64{0.5, 1.016, 1.6, 3.25}

// Springback knows no size: a tool and a sheet twice as large leave a bend twice as
// large, turned through the same angle.
func TestSpringbackKnowsNoSize(t *testing.T) {
	for name, m := range map[string]bend.Springback{
		"elastic-plastic": bend.ElasticPlastic{Fty: 290, E: 73e3, K: 0.4},
		"factors":         bend.SpringAlCuMg1,
	} {
		for _, r := range []float64{1.5, 4, 21, 63} {
			one, err := m.Leaves(mm(75, r, 1))
			require.NoError(t, err)
			tool, err := m.Tool(mm(75, r, 1))
			require.NoError(t, err)
			for _, size := range sameSheets {
				left, err := m.Leaves(mm(75, r*size, size))
				require.NoError(t, err)
				assert.InEpsilon(t, one.Radius*size, left.Radius, 1e-12, name)
				assert.InEpsilon(t, float64(one.Angle), float64(left.Angle), 1e-12, name)
				made, err := m.Tool(mm(75, r*size, size))
				require.NoError(t, err)
				assert.InEpsilon(t, tool.Radius*size, made.Radius, 1e-12, name)
				assert.InEpsilon(t, float64(tool.Angle), float64(made.Angle), 1e-12, name)
			}
		}
	}
	// A sharp corner has a sharp tool; the limit is stated for this sheet: 2 mm · 100/2.
	tool, err := bend.ElasticPlastic{Fty: 290, E: 73e3}.Tool(mm(75, 0, 1.6))
	require.NoError(t, err)
	assert.Zero(t, tool.Radius)
	_, err = bend.ElasticPlastic{Fty: 1, E: 100}.Leaves(mm(75, 100, 2)) // x is 1/2 to the bit
	require.ErrorContains(t, err, "stays elastic and springs back flat: R must be below 100 mm")
	// Far out on the curve, where the tool is all but at the limit, Tool still lands.
	e := bend.ElasticPlastic{Fty: 290, E: 73e3}
	for _, r := range []float64{1e3, 1e4, 9e4} {
		tool, err := e.Tool(mm(0.01, r, 1.6))
		require.NoError(t, err)
		left, err := e.Leaves(tool)
		require.NoError(t, err)
		assert.InEpsilon(t, r, left.Radius, 1e-8)
	}
}

// A row of the springback factors ends where its last printed cell does: the tool for
// that cell is found again, one a millionth past it is refused.
func TestSpringFactorsEnd(t *testing.T) {
	for i, row := range printedSpring {
		s := bend.SpringFactor(i + 1)
		var ratios []float64
		for k, kr := range row.kr {
			if kr > 0 {
				ratios = append(ratios, printedRatios[k])
			}
		}
		for _, size := range sameSheets {
			for _, end := range []struct{ ratio, past float64 }{{ratios[0], 1 - 1e-6}, {ratios[len(ratios)-1], 1 + 1e-6}} {
				tool, err := s.Tool(mm(60, end.ratio*size, size))
				require.NoError(t, err)
				left, err := s.Leaves(tool)
				require.NoError(t, err, "%s at R/T %v", s, end.ratio)
				assert.InEpsilon(t, end.ratio*size, left.Radius, 1e-9)
				tool.Radius *= end.past
				_, err = s.Leaves(tool)
				require.ErrorContains(t, err, "cover tools of R/T", "%s past R/T %v", s, end.ratio)
				_, err = s.Tool(mm(60, end.ratio*end.past*size, size))
				require.ErrorContains(t, err, "are printed from")
			}
		}
	}
}

// The ends of what a bend can be belong to it, and a fault beside them is the only
// one told.
func TestLimitsOfABend(t *testing.T) {
	for _, b := range []bend.Bend{mm(180, 0, 0.1), mm(1e-9, 1e5, 30)} {
		require.NoError(t, b.Validate(), "%+v", b)
	}
	for _, c := range []struct {
		b     bend.Bend
		field string
		tells string
	}{
		{mm(180, -1, 0.1), "radius", "0 or more"},
		{mm(180, math.NaN(), 30), "radius", "0 or more"},
		{mm(180, 1.001e5, 30), "radius", "look for a slip of unit"},
		{mm(180, math.Inf(1), 30), "radius", "finite"},
		{mm(180, 1e5, 0.0999), "thickness", "if inches were meant, write 0.0999*measure.Inch"},
		{mm(180, 1e5, 40), "thickness", "if thousandths were meant, write 40*measure.Thou"},
		{mm(180, 1e5, 0), "thickness", "above 0"},
		{mm(180, 1e5, math.Inf(1)), "thickness", "finite"},
		{bend.Bend{Angle: 0, Radius: 0, Thickness: 1}, "angle", "above 0°"},
		{bend.Bend{Angle: 90, Radius: 0, Thickness: 1}, "angle", "if degrees were meant, write 90*measure.Degree"},
		{bend.Bend{Angle: 180, Radius: 0, Thickness: 1}, "angle", "if degrees were meant"},
		{bend.Bend{Angle: -math.Pi, Radius: 0, Thickness: 1}, "angle", "the way it turns is not its sign"},
	} {
		err := c.b.Validate()
		var fault *bend.Error
		require.ErrorAs(t, err, &fault, "%+v", c.b)
		assert.Equal(t, c.field, fault.Field)
		assert.Contains(t, fault.Rule, c.tells)
		assert.Equal(t, fault.Error(), err.Error(), "one fault only: %+v", c.b)
	}
	// A turn of between half and a whole one is neither degrees nor a sign.
	err := bend.Bend{Angle: 2 * math.Pi, Thickness: 1}.Validate()
	require.Error(t, err)
	assert.NotContains(t, err.Error(), "degrees were meant")
	assert.NotContains(t, err.Error(), "sign")
}

// The handbook's law has a K of 0.4469 - 0.001335 R/T (from 0.0078·180/π and
// 0.01743·180/π - 1): a third at R/T 85.1, where its caution begins.
func TestCautionsBeginWhereTheySay(t *testing.T) {
	for _, c := range []struct {
		rule  bend.Rule
		b     bend.Bend
		warns bool
	}{
		{bend.Handbook{}, mm(90, 85.0*1.6, 1.6), false},
		{bend.Handbook{}, mm(90, 85.2*1.6, 1.6), true},
		{bend.NeutralAxis{K: 0.5}, mm(90, 3, 1.6), false},
		{bend.NeutralAxis{K: math.Nextafter(0.5, 1)}, mm(90, 3, 1.6), true},
		{bend.NeutralAxis{K: 1}, mm(90, 3, 1.6), true},
		// R/T 2 to 3 and T 2 to 4 mm, with 1/40 of room at either end.
		{strips(2, 4, 2, 3), mm(90, 2*1.95, 1.95), false},
		{strips(2, 4, 2, 3), mm(90, 2*1.94, 1.94), true},
		{strips(2, 4, 2, 3), mm(90, 2*4.1, 4.1), false},
		{strips(2, 4, 2, 3), mm(90, 2*4.11, 4.11), true},
		{strips(2, 4, 2, 3), mm(90, 1.95*4, 4), false},
		{strips(2, 4, 2, 3), mm(90, 1.94*4, 4), true},
		{strips(2, 4, 2, 3), mm(90, 3.07*2, 2), false},
		{strips(2, 4, 2, 3), mm(90, 3.08*2, 2), true},
	} {
		a, err := c.rule.Allowance(c.b)
		require.NoError(t, err)
		assert.Equal(t, c.warns, a.Caution != "", "%+v, %+v", c.rule, c.b)
	}
	_, err := bend.Calibrated{K: 0.4}.Allowance(mm(90, 3, 1))
	require.ErrorContains(t, err, "law")
	for _, k := range []float64{0, 1.01, math.NaN()} {
		_, err = bend.Calibrated{K: k, Law: bend.CalibratedLaw("log")}.Allowance(mm(90, 3, 1))
		require.ErrorContains(t, err, "inside the sheet")
	}
	_, err = bend.Calibrated{K: 1, Law: bend.CalibratedLaw("log")}.Allowance(mm(90, 3, 1))
	require.NoError(t, err)
	// R/T 5 belongs to the standard's formula: K = (0.65 + 0.5·lg 5)/2 = 0.499743.
	a, err := bend.DIN6935{}.Allowance(mm(90, 10, 2))
	require.NoError(t, err)
	assert.InDelta(t, 0.499743, a.K, 5e-7)
	assert.NotEmpty(t, a.Law.KFormula)
}

func strips(thinnest, thickest, sharpest, roundest float64) bend.Calibrated {
	return bend.Calibrated{K: 0.4, Law: bend.CalibratedLaw("log"), Range: bend.Range{
		Thickness: [2]float64{thinnest, thickest}, Ratio: [2]float64{sharpest, roundest},
	}}
}

// stripOf is a strip of 90° whose bend took up BA = R·A + K·T·A and so much more.
func stripOf(radius, thickness, k, more float64) bend.Strip {
	b := mm(90, radius, thickness)
	const leg = 30.0
	back := radius + thickness // of 90°
	return bend.Strip{Bend: b, LegA: leg, LegB: leg, Blank: 2*leg - 2*back + (radius+k*thickness)*math.Pi/2 + more}
}

// Seven strips of one bend, their allowances off by 0, three times 0.1 either way - and
// one by z. The median slope passes through the strip that is off by 0, which is left
// out; of 0.1, 0.1, 0.1, 0.1, 0.1, z the third is 0.1. So the scatter is
// 1.4826·(1 + 5/6)·0.1 = 0.27181 and a strip 3.5 of it off, 0.95133, is an outlier.
func TestWhereAnOutlierBegins(t *testing.T) {
	for z, out := range map[float64][]int{0.9512: nil, 0.9515: {6}} {
		var list []bend.Strip
		for _, off := range []float64{-0.1, 0.1, -0.1, 0, 0.1, -0.1, z} {
			list = append(list, stripOf(3, 1.6, 0.4, off))
		}
		c, err := bend.Calibrate(list)
		require.NoError(t, err)
		assert.Equal(t, out, c.Outliers, "off by %v", z)
	}
}

// The range is that of the strips that agree: the bad strip, first of all and of another
// sheet, does not widen it.
func TestRangeOfStrips(t *testing.T) {
	c, err := bend.Calibrate([]bend.Strip{
		stripOf(9, 0.5, 0.4, 3), stripOf(4, 1.6, 0.4, 0), stripOf(6, 2, 0.4, 0), stripOf(2, 1.25, 0.4, 0), stripOf(4, 2.5, 0.4, 0),
	})
	require.NoError(t, err)
	assert.Equal(t, []int{0}, c.Outliers)
	assert.Equal(t, bend.Range{Thickness: [2]float64{1.25, 2.5}, Ratio: [2]float64{1.6, 3}}, c.Range)
	assert.InDelta(t, 0.4, c.K, 1e-9)
}

// Half of the root of the squares of the scatter and of the error of K over T·A:
// √(0.03² + (0.01·2·π/2)²)/2 = √0.00188696/2 = 0.0217196.
func TestLegErrorByHand(t *testing.T) {
	got, err := bend.Calibrated{K: 0.4, StdErr: 0.01, Scatter: 0.03, Law: bend.CalibratedLaw("log")}.LegError(mm(90, 3, 2))
	require.NoError(t, err)
	assert.InDelta(t, 0.0217196, got, 5e-8)
}

// 2.2 + 0.6 + 0.2 is 3 and, added in floating point, a little more: DIN's blank is
// rounded up to 3, not to 4. Bends of 10° have a correction of 0.
func TestWholeMillimetres(t *testing.T) {
	nearlyFlat := mm(10, 1, 0.5)
	a, b, c := 2.2, 0.6, 0.2
	require.Greater(t, a+b+c, 3.0)
	length, whole, err := bend.DINBlank([]float64{a, b, c}, []bend.Bend{nearlyFlat, nearlyFlat})
	require.NoError(t, err)
	assert.InDelta(t, 3, length, 1e-12)
	assert.Equal(t, 3.0, whole)
	_, whole, err = bend.DINBlank([]float64{2.2, 0.601, 0.2}, []bend.Bend{nearlyFlat, nearlyFlat})
	require.NoError(t, err)
	assert.Equal(t, 4.0, whole)
	// A leg is above 0 and at most 100 m.
	_, _, err = bend.DINBlank([]float64{1e5, 1}, []bend.Bend{nearlyFlat})
	require.NoError(t, err)
	for _, leg := range []float64{0, 1.0001e5, math.NaN()} {
		_, _, err = bend.DINBlank([]float64{5, leg}, []bend.Bend{nearlyFlat})
		require.ErrorContains(t, err, "leg 2")
	}
	_, _, err = bend.DINBlank([]float64{5}, []bend.Bend{nearlyFlat})
	require.ErrorContains(t, err, "one leg more than bends")
}

// By DIN 6935 a leg is no shorter than its bends take: R + T where they turn 90° and more,
// (R + T)·tan(A/2) below, at 10° too, where v is 0. Of R 20 in 1 mm that is 21, of R 1 in 0.5
// 1.5·tan 5° = 0.1312 and twice that between two bends. A leg of just that is one; the blank
// is then the arc: 21 + 21 - v, v = 42 - arc, arc = π/2·(20 + 0.5·1), k being 1 at R/T 20.
func TestDINLegsAreLongEnough(t *testing.T) {
	wide, nearlyFlat := mm(90, 20, 1), mm(10, 1, 0.5)
	length, whole, err := bend.DINBlank([]float64{21, 21}, []bend.Bend{wide})
	require.NoError(t, err)
	assert.InDelta(t, math.Pi/2*20.5, length, 1e-12)
	assert.Equal(t, 33.0, whole)
	_, _, err = bend.DINBlank([]float64{1, 1}, []bend.Bend{wide})
	require.EqualError(t, err, "leg 1 1 mm: shorter than the bends beside it take: at least 21 mm\nleg 2 1 mm: shorter than the bends beside it take: at least 21 mm")
	for _, c := range []struct {
		legs  []float64
		bends []bend.Bend
		fault string // or none
	}{
		{[]float64{21, 20.99}, []bend.Bend{wide}, "leg 2"},
		{[]float64{21.01, 21.01}, []bend.Bend{mm(120, 20, 1)}, ""}, // 21·tan 60° = 36.4 to the mold line
		{[]float64{0.14, 5}, []bend.Bend{nearlyFlat}, ""},
		{[]float64{0.13, 5}, []bend.Bend{nearlyFlat}, "leg 1"},
		{[]float64{5, 0.27, 5}, []bend.Bend{nearlyFlat, nearlyFlat}, ""},
		{[]float64{5, 0.26, 5}, []bend.Bend{nearlyFlat, nearlyFlat}, "leg 2"},
		{[]float64{50, 50, 50}, []bend.Bend{wide, mm(190, 20, 1)}, "bend 2 angle"},
		{[]float64{50, 50, 50}, []bend.Bend{mm(90, 0, 1), wide}, "bend 1 radius"},
		{[]float64{50}, nil, ""},
	} {
		_, _, err := bend.DINBlank(c.legs, c.bends)
		if c.fault == "" {
			require.NoError(t, err, "%v", c.legs)
			continue
		}
		require.ErrorContains(t, err, c.fault, "%v", c.legs)
		assert.Equal(t, 1, strings.Count(err.Error(), c.fault), "told once: %v", err)
	}
}

// The sheet of the bend and the old sheet are the same to one part in 10⁹.
func TestSameSheet(t *testing.T) {
	alloy, err := material.Lookup("2024-T3")
	require.NoError(t, err)
	sheet := material.Sheet{Material: alloy, Thickness: 0.125 * measure.Inch}
	thin := sheet
	thin.Thickness = 0.063 * measure.Inch
	for off, same := range map[float64]bool{0: true, 5e-10: true, -5e-10: true, 2e-9: false, -2e-9: false} {
		b := mm(90, 12, sheet.Thickness*(1+off))
		_, err := bend.Substitute(bend.Handbook{}, sheet, thin, b)
		assert.Equal(t, same, err == nil, "off by %v: %v", off, err)
	}
}

// Each mark of a section carries the deduction of its bend; a leg may be just what its
// bends take; a fault names the bend.
func TestMarksOfASection(t *testing.T) {
	turned := []bend.Bend{mm(90, 3, 1.6), mm(60, 5, 1.6)}
	first, err := turned[0].Setback()
	require.NoError(t, err)
	s := bend.Section{Legs: []float64{first, 40, 30}, Bends: []bend.SectionBend{{Bend: turned[0]}, {Bend: turned[1]}}}
	l, err := s.Lay(bend.NeutralAxis{K: 0.4})
	require.NoError(t, err)
	assert.Zero(t, l.Flats[0])
	for i, b := range turned {
		want, err := bend.Deduction(bend.NeutralAxis{K: 0.4}, b)
		require.NoError(t, err)
		assert.InDelta(t, want, l.Marks[i].Deduction, 1e-12)
	}
	s.Bends[1].Radius = -1
	_, err = s.Lay(bend.NeutralAxis{K: 0.4})
	require.ErrorContains(t, err, "bend 2 radius")
	s.Legs = s.Legs[:2]
	_, err = s.Lay(bend.NeutralAxis{K: 0.4})
	require.ErrorContains(t, err, "one leg more than bends")
}

// A strip that puts the neutral line ten thicknesses from the middle of the sheet is
// misread and left out; further off it is a slip of unit and refused by name.
func TestWhereASlipOfUnitBegins(t *testing.T) {
	good := []bend.Strip{stripOf(3, 1.6, 0.4, 0), stripOf(3, 1.6, 0.4, 0), stripOf(3, 1.6, 0.4, 0)}
	for k, slip := range map[float64]bool{10.4: false, 10.6: true, -9.4: false, -9.6: true} {
		c, err := bend.Calibrate(append(good, stripOf(3, 1.6, k, 0)))
		if slip {
			require.ErrorContains(t, err, "strip 4 K", "K %v", k)
			require.ErrorContains(t, err, "slip of unit")
			continue
		}
		require.NoError(t, err, "K %v", k)
		assert.Equal(t, []int{3}, c.Outliers)
	}
	for length, good := range map[float64]bool{1e5: true, 1.0001e5: false, 0: false} {
		s := stripOf(3, 1.6, 0.4, 0)
		s.Blank = length
		_, err := s.Taken()
		assert.Equal(t, good, err == nil, "blank of %v mm", length)
	}
}

// One in forty of thickness and of radius, half a degree, 0.05: half of what the
// comment of SheetSpread says for two standard deviations.
func TestSheetSpread(t *testing.T) {
	assert.Equal(t, bend.Spread{Thickness: 0.05, Radius: 0.1, Angle: 0.5 * measure.Degree, K: 0.05}, bend.SheetSpread(mm(90, 4, 2)))
	// The most each may be is still a spread.
	_, err := bend.LegTolerance(bend.Handbook{}, mm(90, 3, 1.6), bend.Spread{Thickness: 30, Radius: 1e5, Angle: math.Pi, K: 1}, bend.CenteredLeg)
	require.NoError(t, err)
}
