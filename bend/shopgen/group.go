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
	for _, s := range strips {
		g := group{material: s.material, thickness: sheetSize(s.Thickness), radius: settled(s.Radius)}
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
