package material_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/hangarflat/hangarflat/material"
)

func gauged(t *testing.T, alloy, thickness string) (s material.Sheet) {
	t.Helper()
	var err error
	s.Material = lookup(t, alloy)
	s.Thickness, s.Gauge, err = material.ParseGauged(thickness)
	require.NoError(t, err, thickness)
	require.NoError(t, s.Validate(), thickness)
	return s
}

// One number is four sheets: 20 is .032 B&S, .036 SWG, .0375 by the statute (1.5 lb at 40 lb the inch) and .0359 of mild
// steel. What is asked of a metal depends on the columns of Machinery's Handbook 31, Table 20: aluminium .0320, stainless
// .0375, mild steel .0359.
func TestGaugeDoubt(t *testing.T) {
	for _, c := range []struct {
		alloy, given string
		usual        float64 // in; 0 where nothing is asked
	}{
		{"2024-T3", "20 B&S", 0}, {"2024-T3", "20 SWG", 0}, {"2024-T3", "0.0359 in", 0},
		{"2024-T3", "20 MSG", .032}, {"alclad 2024-T3", "20 MSG", .032}, {"6061-T6", "20 USG", .032}, {"1100-O", "20 USG", .032},
		{"4130 normalized", "20 MSG", 0}, {"4130 normalized", "20 USG", 0}, {"4130 normalized", "20 SWG", 0}, {"4130 normalized", "20 B&S", .0359},
		{"302 1/4 hard", "20 USG", 0}, {"302 1/4 hard", "20 SWG", 0}, {"302 1/4 hard", "20 B&S", .0375}, {"302 1/4 hard", "20 MSG", .0375},
		{"AZ31B-O", "20 MSG", .032}, {"AZ31B-O", "20 B&S", 0}, {"Ti-6Al-4V", "20 MSG", 0},
	} {
		doubt, asked := gauged(t, c.alloy, c.given).GaugeDoubt()
		require.Equal(t, c.usual > 0, asked, "%s %s", c.given, c.alloy)
		assert.InDelta(t, c.usual*in, doubt.Usual, 1e-9, "%s %s", c.given, c.alloy)
		if asked {
			assert.Contains(t, doubt.Text, c.given)
			assert.NotEqual(t, material.Unstated, doubt.Source.Provenance)
		}
	}
	// The sheet-steel gauge begins at 3: of 2 B&S on steel no other thickness can be told.
	doubt, asked := gauged(t, "4130 normalized", "2 B&S").GaugeDoubt()
	require.True(t, asked)
	assert.Zero(t, doubt.Usual)
	assert.NotContains(t, doubt.Text, "another thickness")
}

// Every alloy of the tables but titanium has a gauge of its own: the aluminium alloys are those of four figures that are
// no steel of the 10xx and 41xx series.
func TestEveryAlloyHasItsGauge(t *testing.T) {
	for _, m := range material.Known() {
		s := gauged(t, m.String(), "20 MSG")
		_, asked := s.GaugeDoubt()
		steel := strings.HasPrefix(m.Alloy, "10") || strings.HasPrefix(m.Alloy, "41")
		assert.Equal(t, !steel && !strings.HasPrefix(m.Alloy, "Ti"), asked, m.String())
	}
}

// Every number of every gauge that is sheet is found again from its thickness.
func TestGaugeText(t *testing.T) {
	tried := 0
	for _, g := range []material.GaugeSystem{material.BrownSharpe, material.SWG, material.USStandard, material.SheetSteel} {
		for n := -6; n <= 50; n++ {
			number := fmt.Sprint(n)
			if n < 0 {
				number = fmt.Sprintf("%d/0", 1-n)
			}
			text := number + " " + g.String()
			if mm, by, err := material.ParseGauged(text); err == nil {
				tried++
				assert.Equal(t, g, by)
				assert.Equal(t, text, material.Sheet{Thickness: mm, Gauge: by}.GaugeText())
			}
		}
	}
	assert.Greater(t, tried, 130)
	assert.Empty(t, sheet(t, "2024-T3", .036*in).GaugeText(), "a length is no gauge")
	mm, by, err := material.ParseGauged("20 gauge")
	require.Error(t, err)
	assert.Zero(t, mm)
	assert.Zero(t, by)
}

// A thickness that was changed is none of its gauge any more, and no gauge of its own is known by a number alone.
func TestValidateGauge(t *testing.T) {
	s := gauged(t, "2024-T3", "20 SWG")
	for _, spoil := range []func(*material.Sheet){
		func(s *material.Sheet) { s.Thickness = 1 },
		func(s *material.Sheet) { s.Gauge = 77 },
	} {
		bad := s
		spoil(&bad)
		var fault *material.Error
		require.ErrorAs(t, bad.Validate(), &fault)
		assert.Equal(t, "gauge", fault.Field)
		assert.Empty(t, bad.GaugeText())
		_, asked := bad.GaugeDoubt()
		assert.False(t, asked)
	}
	s.Thickness, s.Gauge = 1, 0
	require.NoError(t, s.Validate())
}

// A steel gauge on aluminium: 20 MSG is a tenth thicker than 20 B&S.
func ExampleSheet_GaugeDoubt() {
	s := material.Sheet{Material: material.Material{Alloy: "2024", Temper: "T3"}}
	s.Thickness, s.Gauge, _ = material.ParseGauged("20 MSG")
	if doubt, asked := s.GaugeDoubt(); asked {
		fmt.Println(doubt.Text)
		fmt.Printf("%.4f in against %.4f in\n", s.Thickness/in, doubt.Usual/in)
	}

	// Output:
	// thickness is given as 20 MSG, the gauge of carbon steel; 2024 is numbered by B&S, where 20 is another thickness: ask which is meant and measure the sheet
	// 0.0359 in against 0.0320 in
}
