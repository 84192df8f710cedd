package measure_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/hangarflat/hangarflat/material/measure"
)

// What a maker writes, in mm worked by hand from 25.4 mm to the inch.
func TestParseLength(t *testing.T) {
	for text, want := range map[string]float64{
		"1.2 mm": 1.2, "0.040 in": 1.016, ".040in": 1.016, "3/32 in": 2.38125, "1 3/8 in": 34.925, `2.5"`: 63.5, "2.5″": 63.5,
		"40 thou": 1.016, "40 mil": 1.016, "2 ft": 609.6, "1.5 m": 1500, "12 cm": 120, "-1 3/8 in": -34.925, "- 2 mm": -2,
		" 5 MM ": 5, "5. mm": 5, "1 inch": 25.4, "3 inches": 76.2, "0 mm": 0, "7 millimetres": 7,
	} {
		got, err := measure.ParseLength(text)
		require.NoError(t, err, text)
		assert.InDelta(t, want, got, 1e-9, text)
	}
}

func TestParseLengthRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"": "number and its unit", "mm": "number and its unit", "1.2": "bare number", "3/32": "bare number", "1.2 furlong": "unknown unit", "0.040 in 2024-T3": "number and its unit",
		"90 deg": "angle", "90°": "angle", "1e3 mm": "not a number", "0x10 mm": "not a number", "inf mm": "number and its unit", "NaN mm": "number and its unit",
		"1/0 in": "not a number", "1.5 3/8 in": "not a number", "1 9/8 in": "not a number", "1 2 3 mm": "not a number", "1,5 mm": "not a number",
		"--1 mm": "not a number", "1..2 mm": "not a number", "+1 mm": "not a number", "9e999 mm": "not a number",
	} {
		_, err := measure.ParseLength(text)
		var syntax *measure.SyntaxError
		require.ErrorAs(t, err, &syntax, text)
		assert.Equal(t, text, syntax.Text)
		assert.Contains(t, err.Error(), want, text)
	}
}

// A unit alone, by every name that may stand after a number; nothing that merely makes a
// length of a digit put in front.
func TestParseLengthUnit(t *testing.T) {
	for text, want := range map[string]float64{"mm": 1, " CM ": 10, "m": 1000, "in": 25.4, `"`: 25.4, "thou": 0.0254, "feet": 304.8} {
		got, err := measure.ParseLengthUnit(text)
		require.NoError(t, err, text)
		assert.InDelta(t, want, got, 1e-12, text)
	}
	for _, text := range []string{"", "1/8 in", "0 mm", "1 mm", "deg", "furlong", "mm mm"} {
		_, err := measure.ParseLengthUnit(text)
		var syntax *measure.SyntaxError
		require.ErrorAs(t, err, &syntax, text)
		assert.Equal(t, text, syntax.Text)
	}
}

func TestParseAngle(t *testing.T) {
	for text, want := range map[string]float64{
		"97.5 deg": 97.5, "97.5°": 97.5, "90 degrees": 90, "97 30'": 97.5, "97° 30'": 97.5, "97 deg 30 min": 97.5, "97°30′": 97.5,
		"-2 15'": -2.25, "-0 30'": -0.5, "30'": 0.5, "45 min": 0.75, "1.5707963267948966 rad": 90, "0 deg": 0,
	} {
		got, err := measure.ParseAngle(text)
		require.NoError(t, err, text)
		assert.InDelta(t, want, got.Degrees(), 1e-12, text)
	}
	for text, want := range map[string]string{
		"": "number and its unit", "90": "bare number", "90 mm": "length", "97 30": `write "97 30'"`, "-2 15": `write "-2 15'"`, "97° 30": `write "97° 30'"`, "97 75": "number and its unit", "97 3/4": "bare number", "97.5 deg 2": "number and its unit", "90 grad": "unknown unit", "97 60'": "under 60 minutes", "97.5 30'": "whole number",
		"97 -30'": "degrees and minutes", "x deg": "number and its unit", "1e2 deg": "not a number", "1/0 deg": "not a number",
	} {
		_, err := measure.ParseAngle(text)
		var syntax *measure.SyntaxError
		require.ErrorAs(t, err, &syntax, text)
		assert.Contains(t, err.Error(), want, text)
	}
}

// The constants are the legal definitions: 25.4 mm to the inch, 12 in to the foot, 180° to π.
func TestConstants(t *testing.T) {
	assert.Equal(t, 25.4, measure.Inch)
	assert.Equal(t, 304.8, measure.Foot)
	assert.Equal(t, 0.0254, measure.Thou)
	assert.Equal(t, math.Pi, float64(180*measure.Degree))
	assert.InDelta(t, math.Pi/180, float64(60*measure.Minute), 1e-18)
	assert.InDelta(t, 82.5, (97.5 * measure.Degree).Opening().Degrees(), 1e-12)
	assert.Equal(t, 0.5, measure.Angle(0.5).Radians())
}

func TestPrinting(t *testing.T) {
	assert.Equal(t, "0.040 in", measure.InchText(1.016, 3))
	// The sixteenths and thirty-seconds of a rule to three places, halves up, as decimal equivalents are printed.
	for n, want := range map[float64]string{1: "0.063", 3: "0.188", 5: "0.313", 7: "0.438", 9: "0.563", 11: "0.688", 13: "0.813", 15: "0.938"} {
		assert.Equal(t, want+" in", measure.InchText(n/16*measure.Inch, 3))
		assert.Equal(t, "-"+want, measure.Fixed(-n/16*25.4/25.4, 3))
	}
	assert.Equal(t, "0.062", measure.Fixed(0.0625-1e-9, 3), "less than a half is none")
	assert.Equal(t, "0.00", measure.Fixed(-0.004, 2))
	assert.NotContains(t, measure.Fixed(math.MaxFloat64, 0), "Inf")
	assert.Equal(t, "0.000 mm", measure.MmText(-1e-9, 3), "no minus before nought")
	assert.Equal(t, "0.0400 in (1.016 mm)", measure.Both(1.016))
	assert.Equal(t, "97.5°", (97.5 * measure.Degree).String())
	assert.Equal(t, "0°", measure.Angle(-1e-12).String())
	assert.Equal(t, "NaN°", measure.Angle(math.NaN()).String())
	assert.Equal(t, "100°", (100 * measure.Degree).String(), "noughts before the point stay")
	for mm, want := range map[float64]string{
		0: "0 in", 34.925: "1 3/8 in", -34.925: "-1 3/8 in", 25.4: "1 in", 25.4 / 64: "1/64 in", 12.7: "1/2 in", 0.1: "0 in",
	} {
		text, rest := measure.FractionText(mm)
		assert.Equal(t, want, text, "%v", mm)
		assert.LessOrEqual(t, math.Abs(rest), 25.4/128+1e-12)
	}
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e300} {
		text, _ := measure.FractionText(bad)
		assert.NotEmpty(t, text)
	}
}

// A length printed and read again is the same to the printed place, over decades; a
// fraction with its rest is the length itself.
func TestPrintedLengthsComeBack(t *testing.T) {
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	r := rand.New(rand.NewPCG(seed, 1))
	for range 5000 {
		mm := math.Pow(10, 5*r.Float64()-2)
		if r.IntN(2) == 0 {
			mm = -mm
		}
		for text, place := range map[string]float64{measure.MmText(mm, 3): 1e-3, measure.InchText(mm, 4): 1e-4 * 25.4} {
			got, err := measure.ParseLength(text)
			require.NoError(t, err, text)
			assert.InDelta(t, mm, got, place/2*1.001, text)
		}
		text, rest := measure.FractionText(mm)
		got, err := measure.ParseLength(text)
		require.NoError(t, err, text)
		assert.InDelta(t, mm, got+rest, 1e-9*math.Abs(mm)+1e-9, text)
		a := measure.Angle(mm/1e4) * measure.Degree
		read, err := measure.ParseAngle(a.Text(6))
		require.NoError(t, err, a)
		assert.InDelta(t, a.Degrees(), read.Degrees(), 5.1e-7)
	}
}

// No text makes the parsers panic or answer with what is not finite, and what is read from
// plain "number unit" is what the Go parser reads times the unit.
func FuzzParseLength(f *testing.F) {
	for _, s := range []string{"1.2 mm", "1 3/8 in", "-3/32 in", `2"`, "97 30'", "1e400 mm", "٣ mm", "\xff1 mm", "1/4294967296 in"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		mm, err := measure.ParseLength(s)
		if err == nil && (math.IsNaN(mm) || math.IsInf(mm, 0)) {
			t.Errorf("%q is %v", s, mm)
		}
		if x, plain := strconv.ParseFloat(s, 64); plain == nil {
			if err == nil {
				t.Errorf("the bare number %q was read as %v mm", s, mm)
			}
			text := strconv.FormatFloat(x, 'f', -1, 64)
			if got, err := measure.ParseLength(text + " mm"); err == nil && got != x {
				t.Errorf("%q mm is %v, want %v", text, got, x)
			}
		}
	})
}

func FuzzParseAngle(f *testing.F) {
	for _, s := range []string{"97.5 deg", "97 30'", "-0 30'", "97° 60'", "1 rad", "999999999999999999999 1'", "' '"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		a, err := measure.ParseAngle(s)
		if err == nil && (math.IsNaN(float64(a)) || math.IsInf(float64(a), 0)) {
			t.Errorf("%q is %v", s, a)
		}
	})
}

func ExampleParseLength() {
	for _, s := range []string{"0.040 in", "3/32 in", "40 thou", "1.2"} {
		mm, err := measure.ParseLength(s)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(measure.Both(mm))
	}
	// Output:
	// 0.0400 in (1.016 mm)
	// 0.0938 in (2.381 mm)
	// 0.0400 in (1.016 mm)
	// "1.2": a bare number has no unit: write "1.2 mm" or "1.2 in"
}

func ExampleParseAngle() {
	for _, s := range []string{"97.5 deg", "97 30'", "97"} {
		a, err := measure.ParseAngle(s)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(a, "turned,", a.Opening(), "between the legs")
	}
	// Output:
	// 97.5° turned, 82.5° between the legs
	// 97.5° turned, 82.5° between the legs
	// "97": a bare number has no unit: write "97 deg"
}

func ExampleFractionText() {
	text, rest := measure.FractionText(9.6)
	fmt.Printf("%s and %.3f mm\n", text, rest)
	// 24/64 in is 9.525 mm.

	// Output: 3/8 in and 0.075 mm
}

// The angle a flange turns from flat, and the angle between its legs.
func ExampleAngle() {
	turned := 97.5 * measure.Degree
	fmt.Println(turned, "turned,", turned.Opening(), "between the legs")
	fmt.Printf("%.4f rad\n", turned.Radians()) // 97.5·π/180
	// Output:
	// 97.5° turned, 82.5° between the legs
	// 1.7017 rad
}

// The same length as the shop may want to read it.
func ExampleBoth() {
	fmt.Println(measure.Both(0.040 * measure.Inch))
	fmt.Println(measure.MmText(0.040*measure.Inch, 2))
	// Output:
	// 0.0400 in (1.016 mm)
	// 1.02 mm
}
