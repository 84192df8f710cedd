package striplog

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
)

// A Group is the strips of one material, sheet and radius, and what they say.
type Group struct {
	Material          material.Material
	Thickness, Radius float64 // mm; the thickness is nominal
	Tried             []Strip // in the order of the log
	bend.Calibration
	law *bend.Law
}

// grouped sorts the strips into groups, each calibrated; the faults of all groups are joined.
func (l Log) grouped() ([]Group, error) {
	strips := l.Strips
	var groups []Group
	sheets := sheetsOf(strips)
	for n, s := range strips {
		g := Group{Material: s.Material, Thickness: sheets[n], Radius: settled(s.Radius)}
		i := slices.IndexFunc(groups, func(have Group) bool { return order(have, g) == 0 })
		if i < 0 {
			i = len(groups)
			groups = append(groups, g)
		}
		groups[i].Tried = append(groups[i].Tried, s)
	}
	slices.SortStableFunc(groups, order)
	var faults []error
	for i := range groups {
		if err := groups[i].calibrate(l); err != nil {
			faults = append(faults, err)
		}
	}
	return groups, errors.Join(faults...)
}

// sheetsOf is the nominal thickness of each strip. What was measured of one material within 5 %, from
// the thinnest up, is one sheet: looked up one by one in tables that stand closer than sheet is rolled, strips
// of one sheet would part, and sheet that stands in no table would have as many sizes as readings.
func sheetsOf(strips []Strip) []float64 {
	by := make([]int, len(strips))
	for n := range by {
		by[n] = n
	}
	slices.SortStableFunc(by, func(a, b int) int {
		return cmp.Or(strings.Compare(strips[a].Material.String(), strips[b].Material.String()), cmp.Compare(strips[a].Thickness, strips[b].Thickness))
	})
	sheets := make([]float64, len(strips))
	for len(by) > 0 {
		thinnest := &strips[by[0]]
		n := 1
		for n < len(by) && strips[by[n]].Material == thinnest.Material && strips[by[n]].Thickness <= thinnest.Thickness*(1+2*sameSheet) {
			n++
		}
		size := sheetSize((thinnest.Thickness + strips[by[n-1]].Thickness) / 2)
		for _, k := range by[:n] {
			sheets[k] = size
		}
		by = by[n:]
	}
	return sheets
}

// settled is a length to the tenth of a micron, so that 3/16 in and 0.1875 in are one.
func settled(mm float64) float64 { return math.Round(mm*1e4) / 1e4 }

func order(a, b Group) int {
	return cmp.Or(strings.Compare(a.Material.String(), b.Material.String()), cmp.Compare(a.Thickness, b.Thickness), cmp.Compare(a.Radius, b.Radius))
}

func (g *Group) calibrate(l Log) (err error) {
	var strips []bend.Strip
	var lines []string
	for _, s := range g.Tried {
		strips = append(strips, s.Strip)
		lines = append(lines, fmt.Sprint(s.Line))
	}
	if g.Calibration, err = bend.Calibrate(strips); err != nil {
		return fmt.Errorf("lines %s, %s: %w", strings.Join(lines, ", "), g, err)
	}
	g.law = bend.CalibratedLaw(l.Name)
	g.law.Source.Place = fmt.Sprintf("sha256 %.12s: K %.4f ± %.4f of %d strips, %d left out", l.SHA256, g.K, g.StdErr, g.Strips, len(g.Outliers))
	return nil
}

// Rule gives the allowances of the group; the log with its hash, K with its standard error and
// the number of strips are the source of each.
func (g Group) Rule() bend.Calibrated {
	return bend.Calibrated{K: g.K, StdErr: g.StdErr, Scatter: g.Scatter, Range: g.Range, Law: g.law}
}

// String names the group by material, sheet and radius.
func (g Group) String() string {
	return fmt.Sprintf("%s %.3f mm (%.4f in), R %.3f mm (%.4f in)", g.Material, g.Thickness, g.Thickness/25.4, g.Radius, g.Radius/25.4)
}

// sameRadius is how far a radius may differ from a group's and still be of it.
const sameRadius = 0.025

// Lookup returns the group of a material, a thickness and a radius (mm). What was not tried is a
// [*bend.Error] that names the nearest radius tried, or the thicknesses.
func (l *Log) Lookup(m material.Material, thickness, radius float64) (*Group, error) {
	near, sheets := math.Inf(1), []string(nil)
	for i := range l.Groups {
		g := &l.Groups[i]
		switch {
		case g.Material != m:
		case !(math.Abs(thickness-g.Thickness) <= sameSheet*g.Thickness):
			sheets = append(sheets, measure.Both(g.Thickness))
		case math.Abs(radius-g.Radius) <= sameRadius*g.Radius+1e-9:
			return g, nil
		case math.Abs(radius-g.Radius) < math.Abs(radius-near):
			near = g.Radius
		}
	}
	switch {
	case !math.IsInf(near, 1):
		return nil, &bend.Error{Field: "radius", Value: measure.Both(radius), Rule: l.Name + " has no test strips of this " + m.String() + " round it; the nearest tried is " + measure.Both(near)}
	case sheets != nil:
		return nil, &bend.Error{Field: "thickness", Value: measure.Both(thickness), Rule: l.Name + " has no test strips of " + m.String() + " in it, only of " + strings.Join(slices.Compact(sheets), ", ")}
	}
	return nil, &bend.Error{Field: "material", Value: m.String(), Rule: l.Name + " has no test strips of it"}
}
