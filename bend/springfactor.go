package bend

import (
	"math"

	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
)

// SpringFactor is a row of the German table of springback factors kR: what is bent
// to A/kR round R1 = kR·(R2 + T/2) - T/2 springs back to A and R2. The radius formula
// is the angle formula with the middle of the sheet keeping its length.
type SpringFactor uint8

// The rows, by the material names of the table.
const (
	SpringDC04        SpringFactor = 1 + iota // deep-drawing steel
	SpringDC01                                // cold-rolled mild steel
	SpringX12CrNi188                          // austenitic stainless, 18-8
	SpringCopper                              // E-Cu, R20
	SpringBrass                               // CuZn33, R29
	SpringNickelBrass                         // CuNi18Zn20
	SpringAl99                                // commercially pure aluminium
	SpringAlCuMg1                             // the duralumin group, near 2017
	SpringAlSiMgMn                            // near 6082
)

// SpringSource is where the factors stand. Their values were read; the R/T they are
// printed for are remembered.
func SpringSource() material.Source {
	return material.Source{Document: "German metalwork table book", Place: "springback factor kR", Provenance: material.Read}
}

// String is the table's name of the material.
func (s SpringFactor) String() string {
	if s < SpringDC04 || s > SpringAlSiMgMn {
		return "no springback factor"
	}
	return springRows[s-1].name
}

// rounding is the room that both ends of a row are taken with, of the ratio: R and T
// were multiplied and divided on the way, and a Tool of the table is to be found again.
const rounding = 1e-12

// Factor returns kR for a wanted R/T. Between two printed ratios it follows a straight
// line over lg(R/T), as the table's ratios rise in equal steps of it; outside the
// printed ones it returns an [*Error].
func (s SpringFactor) Factor(wanted float64) (float64, error) {
	row, first, last, err := s.row()
	if err != nil {
		return 0, err
	}
	if !(springRatios[first]*(1-rounding) <= wanted && wanted <= springRatios[last]*(1+rounding)) {
		return 0, &Error{"R/T", plain(wanted), "the springback factors of " + s.String() + " are printed from " +
			plain(springRatios[first]) + " to " + plain(springRatios[last])}
	}
	i := first
	for i+1 < last && wanted > springRatios[i+1] {
		i++
	}
	part := math.Log(wanted/springRatios[i]) / math.Log(springRatios[i+1]/springRatios[i])
	return row[i] + part*(row[i+1]-row[i]), nil
}

// row gives the printed factors and the first and last column that has one.
func (s SpringFactor) row() (row *[len(springRatios)]float64, first, last int, err error) {
	if s < SpringDC04 || s > SpringAlSiMgMn {
		return nil, 0, 0, &Error{"material", plain(float64(s)), "name a row of the springback factors, such as bend.SpringAlCuMg1"}
	}
	row = &springRows[s-1].kr
	last = len(row) - 1
	for row[first] == 0 {
		first++
	}
	for row[last] == 0 {
		last--
	}
	return row, first, last, nil
}

// Tool implements [Springback]. An overbend past 180° is an [*Error].
func (s SpringFactor) Tool(want Bend) (Bend, error) {
	if err := want.Validate(); err != nil {
		return Bend{}, err
	}
	k, err := s.Factor(want.Radius / want.Thickness)
	if err != nil {
		return Bend{}, err
	}
	tool := want
	tool.Radius = k*(want.Radius+want.Thickness/2) - want.Thickness/2
	tool.Angle = want.Angle / measure.Angle(k)
	return tool, overbent(tool, want)
}

// Leaves implements [Springback]: it finds the wanted R/T whose tool this is. The
// tool's R/T grows with the wanted one in every row (a test holds this), so there is
// one answer or the tool lies outside the table. The latter is an [*Error], as is a row that is
// none of those named; a tool that is not valid returns the errors of [Bend.Validate].
func (s SpringFactor) Leaves(tool Bend) (Bend, error) {
	if err := tool.Validate(); err != nil {
		return Bend{}, err
	}
	row, first, last, err := s.row()
	if err != nil {
		return Bend{}, err
	}
	toolRatio := func(wanted, k float64) float64 { return k*(wanted+0.5) - 0.5 }
	target := tool.Radius / tool.Thickness
	low, high := springRatios[first], springRatios[last]
	least, most := toolRatio(low, row[first]), toolRatio(high, row[last])
	if !(least*(1-rounding) <= target && target <= most*(1+rounding)) {
		return Bend{}, &Error{"radius", lengthText(tool.Radius), "the springback factors of " + s.String() +
			" cover tools of R/T " + trim(least, 3) + " to " + trim(most, 3)}
	}
	for range 100 {
		mid := (low + high) / 2
		k, err := s.Factor(mid)
		if err != nil {
			return Bend{}, err
		}
		if toolRatio(mid, k) < target {
			low = mid
		} else {
			high = mid
		}
	}
	k, err := s.Factor(high)
	left := tool
	left.Radius = high * tool.Thickness
	left.Angle = tool.Angle * measure.Angle(k)
	return left, err
}
