package material

import (
	"math"

	"github.com/hangarflat/hangarflat/material/measure"
)

// GaugeText is the thickness as the gauge number it was given by, such as "20 SWG"; empty for
// a sheet whose thickness was given as a length.
func (s Sheet) GaugeText() string {
	n, given := s.gaugeNumber()
	if !given {
		return ""
	}
	return gaugeText(n) + " " + s.Gauge.String()
}

// ValidateGauge returns an [*Error] for a sheet whose thickness is none of the gauge it is said to
// be given by.
func (s Sheet) ValidateGauge() error {
	if s.Gauge == 0 {
		return nil
	}
	if _, given := s.gaugeNumber(); given {
		return nil
	}
	return &Error{"gauge", s.Gauge.String(), "has no number for " + measure.Both(s.Thickness) + ": leave the gauge out where the thickness is a length"}
}

// gaugeNumber finds the number again: a table's thicknesses all differ.
func (s Sheet) gaugeNumber() (n int, given bool) {
	n, mm, err := s.Gauge.Nearest(s.Thickness)
	const rounding = 1e-9
	return n, err == nil && math.Abs(mm-s.Thickness) <= rounding*mm
}

// A GaugeDoubt is what a foreman asks before a sheet is fetched whose gauge is that of another
// metal.
type GaugeDoubt struct {
	Text string
	// Usual is the thickness of the same number in the metal's own system, mm; 0 where that
	// table has no such number.
	Usual  float64
	Source Source
}

// GaugeDoubt asks of a sheet whose thickness was given by a gauge of another metal, such as a
// steel gauge for aluminium or Brown & Sharpe for steel, whether that was meant: one number is another
// thickness in each. Nothing is asked of British gauges, which were used for every metal, of steel by
// the US Standard, as older drawings have it, nor of titanium, for which no table at hand names a gauge.
func (s Sheet) GaugeDoubt() (doubt GaugeDoubt, asked bool) {
	usual, source := gaugeOf(s.Material.Alloy)
	n, given := s.gaugeNumber()
	switch {
	case !given, usual == 0, s.Gauge == usual, s.Gauge == SWG, usual == SheetSteel && s.Gauge == USStandard:
		return GaugeDoubt{}, false
	}
	doubt.Source = source
	doubt.Text = "thickness is given as " + s.GaugeText() + ", the gauge of " + s.Gauge.metal() + "; " + s.Material.Alloy + " is numbered by " + usual.String()
	if mm, _, err := usual.Gauge(n); err == nil {
		doubt.Usual = mm
		doubt.Text += ", where " + gaugeText(n) + " is another thickness"
	}
	doubt.Text += ": ask which is meant and measure the sheet"
	return doubt, true
}

// metal is what is numbered by a gauge, as its constant says.
func (g GaugeSystem) metal() string {
	switch g {
	case BrownSharpe:
		return "aluminium and copper alloys"
	case USStandard:
		return "stainless and older steel"
	}
	return "carbon steel"
}

// gaugeOf is the gauge an alloy is numbered by in America, 0 where nothing at hand tells.
func gaugeOf(alloy string) (GaugeSystem, Source) {
	handbook := Source{"Machinery's Handbook 31st edition", "p. 1453, Table 20: gauges of stainless, mild steel and aluminium sheet", Read}
	switch alloy {
	case "1100", "2014", "2017", "2024", "3003", "3004", "3105", "5005", "5050", "5052", "5083", "5086", "6061", "7075", "7178":
		return BrownSharpe, handbook
	case "301", "302", "304", "321":
		return USStandard, handbook
	case "1020", "1025", "4130":
		return SheetSteel, handbook
	case "AZ31B":
		return BrownSharpe, Source{Document: "magnesium sheet by the gauge of aluminium", Provenance: CommonPractice}
	}
	return 0, Source{}
}
