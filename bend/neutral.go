package bend

import (
	"math"

	"github.com/hangarflat/hangarflat/material"
)

const neutralFormula = "BA = (R + K·T)·A°·π/180"

var neutralLaw = Law{
	Name:    "neutral axis",
	Formula: neutralFormula,
	Source:  material.Source{Document: "arc of the neutral line", Provenance: material.Derived},
}

// NeutralAxis takes the neutral line to lie K·T from the inside face and the
// allowance to be its arc, BA = (R + K·T)·A. K comes from the maker: a test bend, a
// table, a drawing. It must be above 0 and at most 1; 0.5 is the middle of the
// sheet and the largest a bend without tension shows.
type NeutralAxis struct {
	K float64
}

// Allowance answers any valid bend when K lies in (0, 1]; above 0.5 with a caution. It returns an
// [*Error] for any other K, and the errors of [Bend.Validate].
func (n NeutralAxis) Allowance(b Bend) (Allowance, error) {
	if !b.valid() {
		return Allowance{}, b.Validate()
	}
	if !(0 < n.K && n.K <= 1) {
		return Allowance{}, &Error{"K", plain(n.K), "the neutral line lies inside the sheet: K must be above 0 and at most 1"}
	}
	a := arc(b, n.K, &neutralLaw)
	if n.K > 0.5 {
		a.Caution = "K above 0.5 puts the neutral line outside the middle of the sheet, which bending alone does not do"
	}
	return a, nil
}

// arc is the neutral line of b at depth k·T.
func arc(b Bend, k float64, law *Law) Allowance {
	return Allowance{Length: (b.Radius + float64(k*b.Thickness)) * float64(b.Angle), K: k, Law: law}
}

var (
	din6935Law = Law{
		Name:     "DIN 6935",
		Formula:  neutralFormula,
		KFormula: "(0.65 + 0.5·lg(R/T))/2",
		Source:   dinSource,
	}
	din6935WideLaw = Law{Name: "DIN 6935", Formula: neutralFormula, KFormula: "1/2", Source: dinSource}
	dinSource      = material.Source{Document: "German metalwork table book", Place: "DIN 6935 page", Provenance: material.Read}
)

// DIN6935 takes K = k/2 with the standard's correction k = 0.65 + 0.5·lg(R/T) up
// to R/T = 5 and k = 1 above (at 5 the two differ by 0.0005). The allowance is the
// arc of that neutral line at every angle; the standard's own bookkeeping of blank
// lengths, which differs for closed and for nearly flat bends, is [DINCorrection].
type DIN6935 struct{}

// Allowance answers any valid bend whose R/T is above 0.0502; sharper than that the
// formula puts the neutral line outside the sheet. Such a bend is refused with an [*Error], any
// other that is not valid with the errors of [Bend.Validate].
func (DIN6935) Allowance(b Bend) (Allowance, error) {
	if !b.valid() {
		return Allowance{}, b.Validate()
	}
	k, err := dinK(b)
	if err != nil {
		return Allowance{}, err
	}
	if k == 1 {
		return arc(b, 0.5, &din6935WideLaw), nil
	}
	return arc(b, k/2, &din6935Law), nil
}

// dinK is the standard's k, twice the depth of the neutral line over T.
func dinK(b Bend) (float64, error) {
	ratio := b.Radius / b.Thickness
	if ratio > 5 {
		return 1, nil
	}
	k := 0.65 + float64(0.5*math.Log10(ratio))
	if !(k > 0) {
		return 0, &Error{"radius", lengthText(b.Radius), "DIN 6935 has no k for R/T below 0.0502, where its formula falls below 0"}
	}
	return k, nil
}
