package bend_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// First order and sampling agree where the spread is small.
func TestToleranceByTwoWays(t *testing.T) {
	for _, b := range []bend.Bend{in(90, .1875, .040), in(82.7, .1875, .040), in(97, .125, .032), in(30, .25, .064), in(135, .16, .051)} {
		s := bend.SheetSpread(b)
		tol, err := bend.LegTolerance(bend.Handbook{}, b, s, bend.CenteredLeg)
		require.NoError(t, err)
		mean, deviation, err := bend.SampleLeg(bend.Handbook{}, b, s, bend.CenteredLeg, 200_000, 1)
		require.NoError(t, err)
		assert.InEpsilon(t, tol.Leg, deviation, 0.02, "%+v", b)
		assert.Less(t, math.Abs(mean), 0.1*deviation)
		assert.Less(t, tol.AfterStrips, tol.Leg)
	}
}

// By hand, 90°, R 4, T 1, K 0.5: dLeg/dT = 1 - π/8 = 0.60730, dLeg/dR = 1 - π/4 =
// 0.21460, dLeg/dA = 5/(2·½) - 4.5/2 = 2.75 mm a radian, dLeg/dK = -π/4 = -0.78540.
func TestToleranceByHand(t *testing.T) {
	s := bend.Spread{Thickness: 0.05, Radius: 0.1, Angle: measure.Degree, K: 0.04}
	tol, err := bend.LegTolerance(bend.NeutralAxis{K: 0.5}, mm(90, 4, 1), s, bend.CenteredLeg)
	require.NoError(t, err)
	want := [4]float64{0.60730 * 0.05, 0.21460 * 0.1, 2.75 * math.Pi / 180, 0.78540 * 0.04}
	var sum float64
	for i, w := range want {
		assert.InDelta(t, w, tol.Shares[i].Leg, 1e-6, tol.Shares[i].Name)
		sum += w * w
	}
	assert.InDelta(t, math.Sqrt(sum), tol.Leg, 1e-6)
	assert.Equal(t, "angle", tol.Largest.Name)
}

func TestToleranceRefuses(t *testing.T) {
	for _, s := range []bend.Spread{{Thickness: -1}, {Radius: math.NaN()}, {Angle: measure.Angle(math.Inf(1))}, {K: 2}} {
		_, err := bend.LegTolerance(bend.Handbook{}, mm(90, 3, 1), s, bend.CenteredLeg)
		var fault *bend.Error
		require.ErrorAs(t, err, &fault, "%+v", s)
		_, _, err = bend.SampleLeg(bend.Handbook{}, mm(90, 3, 1), s, bend.CenteredLeg, 10, 1)
		require.ErrorAs(t, err, &fault)
	}
	_, err := bend.LegTolerance(bend.Handbook{}, mm(180, 3, 1), bend.Spread{}, bend.CenteredLeg)
	require.Error(t, err)
	_, _, err = bend.SampleLeg(bend.Handbook{}, mm(90, 3, 1), bend.Spread{}, bend.CenteredLeg, 1, 1)
	require.Error(t, err)
}

func ExampleLegTolerance() {
	b := bend.Bend{Angle: 90 * measure.Degree, Radius: 0.1875 * measure.Inch, Thickness: 0.040 * measure.Inch}
	tol, err := bend.LegTolerance(bend.Handbook{}, b, bend.Spread{Thickness: 0.025, Radius: 0.1, K: 0.05}, bend.CenteredLeg)
	if err != nil {
		fmt.Println(err)
		return
	}
	// By hand, K 0.4407: thickness 0.025·(1 - 0.4407·π/4) = 0.0163, radius 0.1·(1 - π/4) =
	// 0.0215, K 0.05·1.016·π/4 = 0.0399, which strips bring to 0.005/√3 = 0.0029.
	fmt.Printf("leg ±%.3f mm, most of it from %s; three test strips would bring this to ±%.3f mm\n", tol.Leg, tol.Largest.Name, tol.AfterStrips)
	// Output: leg ±0.048 mm, most of it from K; three test strips would bring this to ±0.027 mm
}

// What each way of making the bend does to a leg, by hand for 90°, R 4, T 1, K 0.5 and K
// alone in doubt by 0.04: dBA = π/2·0.04 = 0.06283.
func TestToleranceByLeg(t *testing.T) {
	const dBA = math.Pi / 2 * 0.04
	for leg, want := range map[bend.Leg]float64{bend.HeldLeg: 0, bend.CenteredLeg: dBA / 2, bend.TurnedLeg: dBA, bend.BothLegs: dBA} {
		tol, err := bend.LegTolerance(bend.NeutralAxis{K: 0.5}, mm(90, 4, 1), bend.Spread{K: 0.04}, leg)
		require.NoError(t, err)
		assert.InDelta(t, want, tol.Leg, 1e-12)
		_, deviation, err := bend.SampleLeg(bend.NeutralAxis{K: 0.5}, mm(90, 4, 1), bend.Spread{K: 0.04}, leg, 20_000, 2)
		require.NoError(t, err)
		assert.InDelta(t, want, deviation, 0.03*dBA)
	}
	_, err := bend.LegTolerance(bend.Handbook{}, mm(90, 4, 1), bend.Spread{}, bend.Leg(9))
	var fault *bend.Error
	require.ErrorAs(t, err, &fault)
	wide := bend.Spread{Thickness: 0.5}
	_, _, err = bend.SampleLeg(bend.Handbook{}, mm(90, 4, 1), wide, bend.BothLegs, 1000, 1)
	require.ErrorAs(t, err, &fault, "a draw that is no sheet")
}
