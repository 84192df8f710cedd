package bend_test

import (
	"fmt"
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func of2024(t *testing.T) bend.ElasticPlastic {
	t.Helper()
	m, err := material.Lookup("2024-T3")
	require.NoError(t, err)
	spring, p, err := bend.SheetSpringback(material.Sheet{Material: m, Thickness: .040 * measure.Inch})
	require.NoError(t, err)
	// The Aluminum Association's typical 2024-T3: 50 and 10,600 ksi; 1 ksi is 6.894757 MPa.
	assert.InDelta(t, 344.738, spring.Fty, 1e-3)
	assert.InDelta(t, 73084.4, spring.E, .1)
	assert.Equal(t, material.Typical, p.Basis)
	return spring
}

// The handbook's channel in 2024-T3, R .16, T .040, by hand: x = .16·50/(10600·.040) = 1/53 = .0188679;
// 4x³ - 3x + 1 = .0000269 - .0566038 + 1 = .9434231, so .16 leaves .16/.9434231 = .169595; the neutral line
// keeps its length where 90° become 90·(.169595 + .020)/(.16 + .020) = 94.798°.
func TestOverbendRoundTheSameNose(t *testing.T) {
	model := bend.SameNose{ElasticPlastic: of2024(t)}
	tool, err := model.Tool(in(90, .16, .040))
	require.NoError(t, err)
	assert.InDelta(t, .16, tool.Radius/measure.Inch, 1e-12)
	assert.InDelta(t, 94.798, tool.Angle.Degrees(), 5e-4)
	left, err := model.Leaves(tool)
	require.NoError(t, err)
	assert.InDelta(t, 90, left.Angle.Degrees(), 1e-9, "released it is the angle wanted")
	steps, err := model.Working(in(90, .16, .040), "bend")
	require.NoError(t, err)
	require.Len(t, steps, 3)
	assert.InDelta(t, 100./53, steps[0].Value, 1e-9)
	assert.InDelta(t, .169595, steps[1].Value/measure.Inch, 1e-6)
	assert.InDelta(t, 94.798, measure.Angle(steps[2].Value).Degrees(), 5e-4)
}

// The block of a former turned about: a tool of .16 leaves .169595 (above), so that .169595 wants a tool of .16,
// of x = 1/53, and 90° want 90·.189595/.18 = 94.798°. Of .169595 x would be .169595·50/(10600·.040) = .0199994.
func TestWorkingOfATool(t *testing.T) {
	want := in(90, .16/(1-3./53+4./(53*53*53)), .040)
	steps, err := of2024(t).Working(want, "bend")
	require.NoError(t, err)
	require.Len(t, steps, 4)
	assert.InDelta(t, 1.99994, steps[0].Value, 1e-5)
	assert.InDelta(t, 100./53, steps[1].Value, 1e-6)
	assert.InDelta(t, .16, steps[2].Value/measure.Inch, 1e-9)
	assert.InDelta(t, 94.798, measure.Angle(steps[3].Value).Degrees(), 5e-4)
}

// Where the model has no answer it says why, and a job is set up for the bend wanted.
func TestFirstTry(t *testing.T) {
	model := bend.SameNose{ElasticPlastic: of2024(t)}
	for want, bad := range map[string]bend.Bend{
		"radius of 0":        in(90, 0, .040),
		"past flat":          in(180, .125, .040),
		"stays elastic":      in(90, 5, .040), // E/(2·Fty) = 106 thicknesses are 4.24 in
		"must be 0° to 180°": {},
	} {
		_, err := model.Tool(bad)
		var fault *bend.Error
		require.ErrorAs(t, err, &fault, want)
		_, err = model.Working(bad, "bend")
		require.ErrorAs(t, err, &fault, want)
		tool, err := bend.FirstTry{Springback: model}.Tool(bad)
		if bad == (bend.Bend{}) {
			require.ErrorAs(t, err, &fault, "what is no bend has no first try")
			continue
		}
		assert.Contains(t, fault.Rule, want)
		require.NoError(t, err, want)
		assert.Equal(t, bad, tool, want)
	}
	_, err := of2024(t).Working(in(90, 0, .040), "bend")
	require.ErrorContains(t, err, "radius of 0")

	square := in(90, .16, .040)
	tool, err := bend.FirstTry{Springback: model}.Tool(square)
	require.NoError(t, err)
	assert.InDelta(t, 94.798, tool.Angle.Degrees(), 5e-4)
	left, err := bend.FirstTry{Springback: model}.Leaves(tool)
	require.NoError(t, err)
	assert.InDelta(t, 90, left.Angle.Degrees(), 1e-9)
	for _, ask := range []func(bend.Bend) (bend.Bend, error){bend.FirstTry{}.Tool, bend.FirstTry{}.Leaves} {
		same, err := ask(square)
		require.NoError(t, err)
		assert.Equal(t, square, same, "nothing known")
	}
}

// A material for which no row gives strength and modulus has no springback, and the words say which.
func TestSheetWithoutSpringback(t *testing.T) {
	m, err := material.Lookup("alclad 7075-T6")
	require.NoError(t, err)
	_, _, err = bend.SheetSpringback(material.Sheet{Material: m, Thickness: 1})
	require.ErrorContains(t, err, "alclad 7075-T6: no table at hand gives typical strengths")
	_, _, err = bend.SheetSpringback(material.Sheet{})
	require.Error(t, err)
}

func ExampleSameNose() {
	m, _ := material.Lookup("2024-T3")
	spring, from, err := bend.SheetSpringback(material.Sheet{Material: m, Thickness: 0.040 * measure.Inch})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(from.Basis, "values:", from.Source)
	model := bend.SameNose{ElasticPlastic: spring}
	wanted := bend.Bend{Angle: 90 * measure.Degree, Radius: 0.16 * measure.Inch, Thickness: 0.040 * measure.Inch}
	tool, _ := model.Tool(wanted)
	left, _ := model.Leaves(tool)
	fmt.Printf("round R %s to %s; let go: R %s, %s\n", measure.InchText(tool.Radius, 3), tool.Angle.Text(1), measure.InchText(left.Radius, 4), left.Angle)

	// A fold flat on itself has no overbend: it is set up as it is wanted.
	hem := bend.Bend{Angle: 180 * measure.Degree, Radius: 0.125 * measure.Inch, Thickness: 0.040 * measure.Inch}
	_, err = model.Tool(hem)
	fmt.Println(err != nil)
	tool, err = bend.FirstTry{Springback: model}.Tool(hem)
	fmt.Println(tool.Angle, err)
	// Output:
	// typical values: Aluminum Association, typical properties
	// round R 0.160 in to 94.8°; let go: R 0.1696 in, 90°
	// true
	// 180° <nil>
}
