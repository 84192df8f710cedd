package bend_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var dural = material.Material{Alloy: "2024", Temper: "T3"}

// Stock twice as thick, .020 for .040, bend 97°, R .25 in. By hand: tan 48.5° = 1.13029, so
// SB grows by .020·1.13029 = .022606 in, BA by .0078·.020·97 = .015132 in, BD by
// 2·.022606 - .015132 = .030080 in; the mold line moves out by .022606, the flange
// face by .020. The limit at .040, AC 43.13-1B Table 4-6 5t = .20, lets R .25 stand.
func TestTwiceAsThick(t *testing.T) {
	old := material.Sheet{Material: dural, Thickness: .020 * inch}
	stock := material.Sheet{Material: dural, Thickness: .040 * inch}
	r, err := bend.Substitute(bend.Handbook{}, old, stock, in(97, .25, .020))
	require.NoError(t, err)
	assert.InDelta(t, .022606, r.Setback/inch, 1e-6)
	assert.InDelta(t, .030080, r.Deduction/inch, 2e-6)
	assert.InDelta(t, .022606, r.MoldLine/inch, 1e-6)
	assert.InDelta(t, .020, r.FlangeFit/inch, 1e-12)
	assert.Zero(t, r.RadiusRaised)
	assert.Equal(t, "FAA AC 43.13-1B", r.Limit.Source.Document)
	// A radius too sharp for the new sheet is raised to its limit, 5t = .200.
	r, err = bend.Substitute(bend.Handbook{}, old, stock, in(97, .09, .020))
	require.NoError(t, err)
	assert.InDelta(t, .110, r.RadiusRaised/inch, 1e-9)
	assert.InDelta(t, .200, r.New.Radius/inch, 1e-9)
}

// The design-book page prints 3/32 in for 304 of .040 as .094: a bend of 3/32 in stays as it is, one of 1/16 in is
// raised to what stands there.
func TestSubstituteKeepsARadiusTheTableRounds(t *testing.T) {
	stainless := material.Material{Alloy: "304", Temper: "annealed"}
	old := material.Sheet{Material: stainless, Thickness: .032 * inch}
	stock := material.Sheet{Material: stainless, Thickness: .040 * inch}
	r, err := bend.Substitute(bend.Handbook{}, old, stock, in(90, 3./32, .032))
	require.NoError(t, err)
	assert.Zero(t, r.RadiusRaised)
	r, err = bend.Substitute(bend.Handbook{}, old, stock, in(90, 1./16, .032))
	require.NoError(t, err)
	assert.InDelta(t, .094-.0625, r.RadiusRaised/inch, 1e-9)
}

// Without a table of radii the geometry still follows, and the limit says it has no source.
func TestSubstituteWithoutTable(t *testing.T) {
	old := material.Sheet{Material: dural, Thickness: .036 * inch}
	stock := material.Sheet{Material: material.Material{Alloy: "2017", Temper: "T4"}, Thickness: .040 * inch}
	r, err := bend.Substitute(bend.Handbook{}, old, stock, in(90, .05, .036))
	require.NoError(t, err)
	assert.Equal(t, material.Unstated, r.Limit.Source.Provenance)
	assert.Zero(t, r.RadiusRaised)
	assert.InDelta(t, .004, r.Setback/inch, 1e-9)
}

func TestSubstituteRefuses(t *testing.T) {
	sheet := func(m material.Material, t float64) material.Sheet {
		return material.Sheet{Material: m, Thickness: t * inch}
	}
	stainless := material.Material{Alloy: "302", Temper: "annealed"}
	for _, c := range []struct {
		name       string
		old, stock material.Sheet
		b          bend.Bend
		want       string
	}{
		{"bend of another sheet", sheet(dural, .032), sheet(dural, .040), in(90, .2, .040), "another thickness"},
		{"advised against", sheet(dural, .125), sheet(stainless, .125), in(90, .5, .125), "not recommended"},
		{"fold", sheet(dural, .032), sheet(dural, .040), in(180, .2, .032), "mold line"},
		{"NaN", sheet(dural, math.NaN()), sheet(dural, .040), in(90, .2, .032), "thickness"},
	} {
		_, err := bend.Substitute(bend.Handbook{}, c.old, c.stock, c.b)
		if assert.Error(t, err, c.name) {
			assert.Contains(t, err.Error(), c.want, c.name)
		}
	}
}

func ExampleSubstitute() {
	// 20 SWG dural is not rolled any more; the next sheet up is .040.
	swg, _, err := material.SWG.Gauge(20)
	if err != nil {
		fmt.Println(err)
		return
	}
	m, _ := material.Lookup("2024-T3")
	b := bend.Bend{Angle: 90 * measure.Degree, Radius: 0.25 * measure.Inch, Thickness: swg}
	r, err := bend.Substitute(bend.Handbook{}, material.Sheet{Material: m, Thickness: swg},
		material.Sheet{Material: m, Thickness: 0.040 * measure.Inch}, b)
	if err != nil {
		fmt.Println(err)
		return
	}
	// tan 45° = 1: mold line and flange face move out by .040 - .036.
	fmt.Println("mold line moves out", measure.InchText(r.MoldLine, 3))
	fmt.Println("flange face moves out", measure.InchText(r.FlangeFit, 3))
	// Output:
	// mold line moves out 0.004 in
	// flange face moves out 0.004 in
}
