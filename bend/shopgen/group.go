package main

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/material"
)

// A group is the strips of one material, sheet and radius, and what they say.
type group struct {
	material  material.Material
	thickness float64 // mm, nominal
	radius    float64 // mm
	strips    []strip
	bend.Calibration
}

// grouped sorts the strips into groups, each calibrated; the faults of all groups are joined.
func grouped(strips []strip) ([]group, error) {
	var groups []group
	sheets := sheetsOf(strips)
	for n, s := range strips {
		g := group{material: s.material, thickness: sheets[n], radius: settled(s.Radius)}
		i := slices.IndexFunc(groups, func(have group) bool { return order(have, g) == 0 })
		if i < 0 {
			i = len(groups)
			groups = append(groups, g)
		}
		groups[i].strips = append(groups[i].strips, s)
	}
	slices.SortStableFunc(groups, order)
	var faults []error
	for i := range groups {
		if err := groups[i].calibrate(); err != nil {
			faults = append(faults, err)
		}
	}
	return groups, errors.Join(faults...)
}

// sheetsOf is the nominal thickness of each strip. What was measured of one material within 5 %, from
// the thinnest up, is one sheet: looked up one by one in tables that stand closer than sheet is rolled, strips
// of one sheet would part, and sheet that stands in no table would have as many sizes as readings.
func sheetsOf(strips []strip) []float64 {
	by := make([]int, len(strips))
	for n := range by {
		by[n] = n
	}
	slices.SortStableFunc(by, func(a, b int) int {
		return cmp.Or(strings.Compare(strips[a].material.String(), strips[b].material.String()), cmp.Compare(strips[a].Thickness, strips[b].Thickness))
	})
	sheets := make([]float64, len(strips))
	for len(by) > 0 {
		thinnest := &strips[by[0]]
		n := 1
		for n < len(by) && strips[by[n]].material == thinnest.material && strips[by[n]].Thickness <= thinnest.Thickness*(1+2*sameSheet) {
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

func order(a, b group) int {
	return cmp.Or(strings.Compare(a.material.String(), b.material.String()), cmp.Compare(a.thickness, b.thickness), cmp.Compare(a.radius, b.radius))
}

func (g *group) calibrate() (err error) {
	var strips []bend.Strip
	var lines []string
	for _, s := range g.strips {
		strips = append(strips, s.Strip)
		lines = append(lines, fmt.Sprint(s.line))
	}
	if g.Calibration, err = bend.Calibrate(strips); err != nil {
		return fmt.Errorf("lines %s, %s: %w", strings.Join(lines, ", "), g, err)
	}
	return nil
}

func (g group) String() string {
	return fmt.Sprintf("%s %.3f mm (%.4f in), R %.3f mm (%.4f in)", g.material, g.thickness, g.thickness/25.4, g.radius, g.radius/25.4)
}

// identifier names the group's constant: K2024T3Sheet10160Radius31750 is 1.0160 mm sheet
// round 3.1750 mm.
func (g group) identifier() string {
	name := strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' {
			return r
		}
		return -1
	}, g.material.String())
	return fmt.Sprintf("K%s%sSheet%dRadius%d", strings.ToUpper(name[:1]), name[1:], int(math.Round(g.thickness*1e4)), int(math.Round(g.radius*1e4)))
}
