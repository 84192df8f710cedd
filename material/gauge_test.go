package material_test

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
)

// gaugeRows reads a gauge table of testdata: number, then its columns.
func gaugeRows(t *testing.T, name string) (numbers []int, rows [][]string) {
	t.Helper()
	_, rows = tableOf(t, name)
	for _, row := range rows {
		whole, many := strings.CutSuffix(row[0], "/0")
		n, err := strconv.Atoi(whole)
		require.NoError(t, err)
		if many {
			n = 1 - n
		}
		numbers = append(numbers, n)
	}
	return numbers, rows
}

func decimals(s string) int {
	_, after, _ := strings.Cut(s, ".")
	return len(after)
}

// The American wire gauge has a formula (ASTM B258), d = .005·92^((36-n)/39) in; every
// printed size is that to its last place, two of them two units off in the sixth.
func TestBrownSharpe(t *testing.T) {
	numbers, rows := gaugeRows(t, "awg_brown_sharpe.csv")
	for i, n := range numbers {
		mm, source, err := material.BrownSharpe.Gauge(n)
		require.NoError(t, err)
		assert.Equal(t, material.Read, source.Provenance)
		assert.InDelta(t, mustFloat(t, rows[i][1]), mm/in, 1e-12)
		want := .005 * math.Pow(92, (36-float64(n))/39)
		unit := math.Pow(10, -float64(decimals(rows[i][1])))
		assert.InDelta(t, want, mm/in, max(0.5001*unit, 2e-6), "gauge %d", n)
	}
	assert.Len(t, numbers, 46)
}

// The statute gives inches and pounds a square foot of iron, 40 lb for the inch.
func TestUSStandard(t *testing.T) {
	numbers, rows := gaugeRows(t, "us_standard_gauge_15usc206.csv")
	for i, n := range numbers {
		mm, source, err := material.USStandard.Gauge(n)
		require.NoError(t, err)
		assert.InDelta(t, mustFloat(t, rows[i][3])/40, mm/in, 1e-12, "gauge %d", n)
		assert.Equal(t, n >= 31, source.Provenance == material.Memory, "gauge %d", n)
	}
	assert.Len(t, numbers, 45)
}

// British gauges carry inches and mm; 0 SWG prints 8.236 for 8.230, a misprint.
func TestSWG(t *testing.T) {
	numbers, rows := gaugeRows(t, "swg_bs3737.csv")
	for i, n := range numbers {
		mm, _, err := material.SWG.Gauge(n)
		require.NoError(t, err)
		printed := mustFloat(t, rows[i][2])
		if n == 0 {
			assert.InDelta(t, 8.236, printed, 0)
			printed = 8.230
		}
		assert.InDelta(t, printed, mm, 0.00051, "gauge %d", n)
	}
	assert.Len(t, numbers, 57)
}

// The sheet-steel gauge is the US standard times 40/41.82, the weight of steel against
// iron as the makers took it; the printed gauge 10, .1395, is a misprint of .1345, as its
// mm column (3.416) shows.
func TestSheetSteel(t *testing.T) {
	numbers, rows := gaugeRows(t, "gauge_stainless_mild_aluminium_mh31.csv")
	for i, n := range numbers {
		mm, source, err := material.SheetSteel.Gauge(n)
		require.NoError(t, err)
		us, _, err := material.USStandard.Gauge(n)
		require.NoError(t, err)
		assert.InDelta(t, us*40/41.82, mm, 0.0003*in, "gauge %d", n)
		if n == 10 {
			assert.Equal(t, material.Derived, source.Provenance, "corrected")
			assert.Equal(t, "0.1395", rows[i][3])
			assert.InDelta(t, 3.416, mm, 0.001)
			continue
		}
		assert.InDelta(t, mustFloat(t, rows[i][3]), mm/in, 1e-12)
	}
	for _, n := range []int{2, 24, 25, 31} {
		_, _, err := material.SheetSteel.Gauge(n)
		require.Error(t, err, "gauge %d is not printed", n)
	}
}

func TestParseThickness(t *testing.T) {
	for text, want := range map[string]float64{
		"0.040 in": 1.016, "1.2 mm": 1.2, "40 thou": 1.016, `.040"`: 1.016, "1/16 in": 1.5875,
		"20 SWG": .036 * in, "20swg": .036 * in, "SWG 20": .036 * in, "No. 20 SWG": .036 * in, "#20 SWG": .036 * in,
		"18 B&S": .0403 * in, "18 AWG": .0403 * in, "18 b & s": .0403 * in,
		"22 USG": .03125 * in, "16 MSG": .0598 * in, "2/0 SWG": .348 * in, "7/0 SWG": .5 * in,
	} {
		got, err := material.ParseThickness(text)
		require.NoError(t, err, text)
		assert.InDelta(t, want, got, 1e-9, text)
	}
	for text, want := range map[string]string{
		"20": "unit", "": "number", "20 gauge": "which system", "20.5 SWG": "whole gauge number", "60 SWG": "runs from 7/0 to 50",
		"99/0 SWG": "runs from", "24 MSG": "is left out of the table", "1/0 SWG": "whole gauge", "40 mm": "slip of unit", "0.040 mm": "slip of unit", "-1 mm": "slip of unit", "90 deg": "angle",
		"50 SWG": "slip of unit", "12 B&S SWG": "unknown unit", "SWG": "number",
	} {
		_, err := material.ParseThickness(text)
		if assert.Error(t, err, text) {
			assert.Contains(t, err.Error(), want, text)
			var fault *material.Error
			var syntax *measure.SyntaxError
			assert.True(t, errors.As(err, &fault) || errors.As(err, &syntax), text)
		}
	}
}

func FuzzParseThickness(f *testing.F) {
	for _, s := range []string{"20 SWG", "2/0 B&S", "No. 7 USG", "1 3/8 in", "0.04in", "/0 SWG", "SWG SWG 3"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		mm, err := material.ParseThickness(s)
		if err == nil && !(0.1 <= mm && mm <= 30) {
			t.Errorf("%q is %v mm", s, mm)
		}
	})
}

// The nearest gauge, found by looking at all of them.
func TestNearest(t *testing.T) {
	for _, g := range []material.GaugeSystem{material.BrownSharpe, material.SWG, material.USStandard, material.SheetSteel} {
		for _, mm := range []float64{0.3, 0.9144, 1.016, 2.5, 7} {
			n, got, err := g.Nearest(mm)
			require.NoError(t, err)
			for other := -6; other <= 50; other++ {
				if size, _, err := g.Gauge(other); err == nil {
					assert.LessOrEqual(t, math.Abs(got-mm), math.Abs(size-mm), "%v %v: %d against %d", g, mm, n, other)
				}
			}
		}
		_, _, err := g.Nearest(math.NaN())
		require.Error(t, err)
	}
	_, _, err := material.GaugeSystem(0).Nearest(1)
	require.Error(t, err)
	_, _, err = material.GaugeSystem(0).Gauge(20)
	require.Error(t, err)
}

func ExampleParseThickness() {
	for _, s := range []string{"20 SWG", "18 B&S", "22 USG", "0.040 in", "20"} {
		mm, err := material.ParseThickness(s)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(s, "is", measure.Both(mm))
	}
	// 22 USG is 1/32 in, .03125, which prints to the even figure.

	// Output:
	// 20 SWG is 0.0360 in (0.914 mm)
	// 18 B&S is 0.0403 in (1.024 mm)
	// 22 USG is 0.0313 in (0.794 mm)
	// 0.040 in is 0.0400 in (1.016 mm)
	// "20": a bare number has no unit: write "20 mm" or "20 in"
}

// One number is a different sheet in each system: 20 SWG is .036 in (BS 3737), 20 B&S
// .032 in (ASTM B258, .0320).
func ExampleGaugeSystem_Gauge() {
	for _, g := range []material.GaugeSystem{material.SWG, material.BrownSharpe} {
		mm, _, err := g.Gauge(20)
		fmt.Println(20, g, measure.InchText(mm, 3), err)
	}
	// Output:
	// 20 SWG 0.036 in <nil>
	// 20 B&S 0.032 in <nil>
}

// The sheets thinner than 1/32 in that are rolled to today.
func ExampleStockThicknesses() {
	for _, mm := range material.StockThicknesses() {
		if mm < measure.Inch/32 {
			fmt.Println(measure.InchText(mm, 3))
		}
	}
	// Output:
	// 0.012 in
	// 0.016 in
	// 0.020 in
	// 0.025 in
}
