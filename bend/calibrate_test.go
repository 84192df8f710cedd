package bend_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// strip makes a test strip of known K: blank 100 mm, legs as that K leaves them, each
// read with an error of the given standard deviation.
func strip(t *testing.T, b bend.Bend, k, noise float64, r *rand.Rand) bend.Strip {
	bd, err := bend.Deduction(bend.NeutralAxis{K: k}, b)
	require.NoError(t, err)
	leg := (100 + bd) / 2
	return bend.Strip{Bend: b, Blank: 100, LegA: leg + noise*r.NormFloat64(), LegB: leg + noise*r.NormFloat64()}
}

// A known K comes back through noise and one grossly misread strip, which is named.
func TestCalibrationFindsK(t *testing.T) {
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	r := rand.New(rand.NewPCG(seed, 1))
	within, wrongly := 0, 0
	const rounds = 200
	for range rounds {
		k := 0.3 + 0.2*r.Float64()
		var strips []bend.Strip
		for range 9 {
			b := mm(60+60*r.Float64(), 2+4*r.Float64(), 0.8+1.2*r.Float64())
			strips = append(strips, strip(t, b, k, 0.03, r))
		}
		strips[4].LegA += 1.5 // an inch rule read from the wrong end
		c, err := bend.Calibrate(strips)
		require.NoError(t, err)
		require.Contains(t, c.Outliers, 4)
		wrongly += len(c.Outliers) - 1
		assert.InDelta(t, k, c.K, 0.06)
		if d := c.K - k; d > -2*c.StdErr && d < 2*c.StdErr {
			within++
		}
		// The leg that a new bend gets by this K.
		b := mm(90, 4, 1)
		e, err := c.LegError(b)
		require.NoError(t, err)
		assert.Less(t, e, 0.1)
		a, err := c.Rule("test").Allowance(b)
		require.NoError(t, err)
		assert.InDelta(t, c.K, a.K, 1e-12)
	}
	// Eight good strips a round: seldom is one named that only lies far out by chance.
	assert.Less(t, wrongly, rounds*8*3/100)
	assert.Greater(t, within, rounds*8/10, "two standard errors hold K as often as they should")
}

// Exact strips give K exactly, also when the legs are measured to the outside of the
// fold, and ordinary least squares would be led astray where this is not.
func TestCalibrationExact(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	var strips []bend.Strip
	for i := range 5 {
		s := strip(t, mm(120, 3+float64(i), 1), 0.41, 0, r)
		back, _ := s.Setback()
		depth, _ := s.FoldDepth()
		s.LegA, s.LegB, s.To = s.LegA-back+depth, s.LegB-back+depth, bend.OutsideOfFold
		strips = append(strips, s)
	}
	c, err := bend.Calibrate(strips)
	require.NoError(t, err)
	assert.InDelta(t, 0.41, c.K, 1e-12)
	assert.Empty(t, c.Outliers)
	assert.Positive(t, c.StdErr, "a caliper is never exact")
}

func TestCalibrationRefuses(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	good := func() bend.Strip { return strip(t, mm(90, 3, 1), 0.4, 0.02, r) }
	_, err := bend.Calibrate([]bend.Strip{good(), good()})
	var fault *bend.Error
	require.ErrorAs(t, err, &fault)
	assert.Equal(t, "strips", fault.Field)

	bad := good()
	bad.Name, bad.Blank, bad.Thickness = "7", -1, 0.04
	inches := good()
	inches.Blank = 4 // inches
	_, err = bend.Calibrate([]bend.Strip{bad, inches, good()})
	require.Error(t, err)
	for _, want := range []string{`strip "7" blank`, `strip "7" thickness`, "strip 2", "slip of unit"} {
		assert.Contains(t, err.Error(), want)
	}
	_, err = bend.Calibrated{K: 0.4}.Allowance(mm(90, 3, 1))
	require.ErrorAs(t, err, &fault, "a rule without its law")
}

func ExampleCalibrate() {
	// Five strips of .040 sheet round a 3/16 bar, 4 in blanks, legs by outside caliper.
	// By hand: four sums of legs about 4.1355 in, so BA = 4 - 4.1355 + 2·0.2275 = 0.3195
	// and K = (0.3195·2/π - 0.1875)/0.040 = 0.40; the fifth took 0.0315 in more.
	made := bend.Bend{Angle: 90 * measure.Degree, Radius: 0.1875 * measure.Inch, Thickness: 0.040 * measure.Inch}
	var strips []bend.Strip
	for _, legs := range [][2]float64{{2.066, 2.069}, {2.071, 2.066}, {2.060, 2.074}, {2.064, 2.072}, {2.036, 2.068}} {
		strips = append(strips, bend.Strip{Bend: made, Blank: 4 * measure.Inch, LegA: legs[0] * measure.Inch, LegB: legs[1] * measure.Inch})
	}
	c, err := bend.Calibrate(strips)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("K %.2f ± %.2f from %d strips\n", c.K, c.StdErr, c.Strips)
	for _, i := range c.Outliers {
		fmt.Printf("strip %d is off by %.2f mm and was left out\n", i+1, c.Residuals[i])
	}
	leg, _ := c.LegError(made)
	fmt.Printf("leg ±%.3f mm\n", leg)
	// Output:
	// K 0.40 ± 0.01 from 5 strips
	// strip 5 is off by 0.80 mm and was left out
	// leg ±0.018 mm
}

// Three strips of which one is grossly misread cannot say which: refused, named.
func TestCalibrationNeedsThreeThatAgree(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 1))
	strips := []bend.Strip{strip(t, mm(90, 3, 1), 0.4, 0.01, r), strip(t, mm(90, 3, 1), 0.4, 0.01, r), strip(t, mm(90, 3, 1), 0.4, 0.01, r)}
	_, err := bend.Calibrate(strips)
	require.NoError(t, err)
	strips[1].Name, strips[1].LegB = "7b", strips[1].LegB+3
	_, err = bend.Calibrate(strips)
	require.Error(t, err)
	assert.Contains(t, err.Error(), `strip "7b"`)
	_, err = bend.Calibrate(nil)
	require.Error(t, err)
}

// The rule of a calibration warns outside the thickness and R/T of its strips.
func TestCalibratedCaution(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 1))
	var strips []bend.Strip
	for range 4 {
		strips = append(strips, strip(t, mm(90, 3, 1), 0.4, 0.01, r))
	}
	c, err := bend.Calibrate(strips)
	require.NoError(t, err)
	rule := c.Rule("strip log")
	for b, warns := range map[bend.Bend]bool{mm(45, 3, 1): false, mm(90, 3.05, 1): false, mm(90, 4, 1): true, mm(90, 6, 2): true} {
		a, err := rule.Allowance(b)
		require.NoError(t, err)
		assert.Equal(t, warns, a.Caution != "", "%+v", b)
		assert.Equal(t, "measured: strip log, test strips", a.Law.Source.String())
	}
}
