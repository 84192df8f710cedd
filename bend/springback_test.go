package bend_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Tool and Leaves undo each other, by both models, and angle and radius follow from a
// neutral line that keeps its length.
func TestSpringbackBothWays(t *testing.T) {
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	r := rand.New(rand.NewPCG(seed, 1))
	models := map[string]bend.Springback{
		"elastic-plastic": bend.ElasticPlastic{Fty: 290, E: 73e3},
		"factors":         bend.SpringAlCuMg1,
	}
	for name, m := range models {
		for range 500 {
			want := mm(5+70*r.Float64(), math.Exp(math.Log(1.2)+3.5*r.Float64()), 1)
			tool, err := m.Tool(want)
			require.NoError(t, err, "%s %+v", name, want)
			assert.Less(t, tool.Radius, want.Radius, "the tool is sharper")
			assert.Greater(t, tool.Angle, want.Angle, "and turned further")
			assert.InEpsilon(t, float64(want.Angle)*(want.Radius+0.5), float64(tool.Angle)*(tool.Radius+0.5), 1e-12, name)
			left, err := m.Leaves(tool)
			require.NoError(t, err)
			assert.InEpsilon(t, want.Radius, left.Radius, 1e-9, name)
			assert.InEpsilon(t, float64(want.Angle), float64(left.Angle), 1e-9, name)
		}
	}
}

// The cubic as published, Ri/Rf = 4x³ - 3x + 1, against the product the code works by.
func TestCubic(t *testing.T) {
	e := bend.ElasticPlastic{Fty: 290, E: 73e3}
	for ri := 1.0; ri < 120; ri *= 1.3 {
		x := ri * 290 / 73e3
		left, err := e.Leaves(mm(60, ri, 1))
		require.NoError(t, err)
		assert.InEpsilon(t, 4*x*x*x-3*x+1, ri/left.Radius, 1e-9)
	}
}

// At R/T = E/(2·Fty) = 125.86 the sheet stays elastic: an error that states the limit,
// never a negative radius. Round a tool just inside it the sheet comes off nearly flat.
func TestElasticLimit(t *testing.T) {
	e := bend.ElasticPlastic{Fty: 290, E: 73e3}
	assert.InDelta(t, 125.862, e.YieldRatio(), 1e-3)
	for _, r := range []float64{125.87, 200, 1e4} {
		_, err := e.Leaves(mm(90, r, 1))
		var fault *bend.Error
		require.ErrorAs(t, err, &fault)
		assert.Equal(t, "radius", fault.Field)
		assert.Contains(t, fault.Rule, "125.8")
	}
	left, err := e.Leaves(mm(90, 115, 1)) // x = 0.4568: (1-2x)²(1+x) = 0.01086
	require.NoError(t, err)
	assert.Greater(t, left.Radius, 10000.0)
	tool, err := e.Tool(mm(1, 5000, 1))
	require.NoError(t, err)
	assert.Less(t, tool.Radius, 125.862)
	_, err = e.Tool(mm(179.9, 30, 1))
	var fault *bend.Error
	require.ErrorAs(t, err, &fault, "an overbend past 180°")
	for _, bad := range []bend.ElasticPlastic{{}, {Fty: math.NaN(), E: 1e4}, {Fty: 290, E: 73}, {Fty: 290, E: 73e3, K: 2}, {Fty: 290, E: math.Inf(1)}} {
		_, err := bad.Leaves(mm(90, 3, 1))
		require.ErrorAs(t, err, &fault, "%+v", bad)
	}
}

// The printed factors, cell by cell, and between two of them in between.
func TestSpringFactors(t *testing.T) {
	for i, row := range printedSpring {
		s := bend.SpringFactor(i + 1)
		assert.Equal(t, row.name, s.String())
		for k, want := range row.kr {
			got, err := s.Factor(printedRatios[k])
			if want == 0 {
				require.Error(t, err, "%s R/T %v is not printed", row.name, printedRatios[k])
				continue
			}
			require.NoError(t, err)
			assert.Equal(t, want, got)
		}
	}
	for _, s := range []bend.SpringFactor{0, 99} {
		_, err := s.Factor(4)
		require.Error(t, err)
	}
	_, err := bend.SpringAlCuMg1.Factor(math.NaN())
	require.Error(t, err)
}

// What Leaves relies on: in every row the tool's R/T grows with the wanted one.
func TestToolGrowsWithTheWantedRadius(t *testing.T) {
	for i := range printedSpring {
		s := bend.SpringFactor(i + 1)
		last := math.Inf(-1)
		for wanted := 1.0; wanted <= 100; wanted *= 1.002 {
			if k, err := s.Factor(wanted); err == nil {
				tool := k*(wanted+0.5) - 0.5
				require.Greater(t, tool, last, "%v at %v", s, wanted)
				last = tool
			}
		}
	}
}

func ExampleElasticPlastic_Leaves() {
	// A university course's example: Fty 210 MPa, E 210 GPa, T 1 mm, tool radius 100 mm.
	steel := bend.ElasticPlastic{Fty: 210, E: 210e3}
	left, err := steel.Leaves(bend.Bend{Angle: 90 * measure.Degree, Radius: 100, Thickness: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("springs back to R %.3f mm, %s\n", left.Radius, left.Angle)
	fmt.Printf("stays elastic from R/T %.0f\n", steel.YieldRatio())
	// Output:
	// springs back to R 142.045 mm, 63.45°
	// stays elastic from R/T 500
}

func ExampleSpringFactor_Tool() {
	// Wanted: 90° round R 4 mm in 1 mm AlCuMg1. R/T 4: kR 0.98.
	tool, err := bend.SpringAlCuMg1.Tool(bend.Bend{Angle: 90 * measure.Degree, Radius: 4, Thickness: 1})
	fmt.Printf("R %.2f mm, bend to %s, %v\n", tool.Radius, tool.Angle, err)
	// Output: R 3.91 mm, bend to 91.84°, <nil>
}
