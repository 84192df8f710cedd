package main

import (
	"cmp"
	"encoding/csv"
	"fmt"
	"maps"
	"slices"
	"strconv"

	"github.com/hangarflat/hangarflat/material/measure"
)

// A sheetKind is what a store keeps in one rack.
type sheetKind struct {
	material  string
	thickness float64 // mm
}

func (s sheetKind) String() string { return s.material + " " + measure.Both(s.thickness) }

// A need is how much of a kind of sheet the kit takes.
type need struct {
	parts, grain, stopped int
	area, grams           float64
}

// A materialList adds up what the kit takes, sheet by sheet. It grows with the kinds
// of sheet and not with the kit.
type materialList map[sheetKind]need

func (l materialList) add(e entry) {
	kind := sheetKind{e.Sheet, e.Thickness}
	n := l[kind]
	n.parts++
	if e.Grain != "not stated" {
		n.grain++
	}
	if e.Stopped {
		n.stopped++
	}
	n.area += e.Area
	n.grams += e.Grams
	l[kind] = n
}

func (l materialList) kinds() []sheetKind {
	return slices.SortedFunc(maps.Keys(l), func(a, b sheetKind) int {
		return cmp.Or(cmp.Compare(a.material, b.material), cmp.Compare(a.thickness, b.thickness))
	})
}

func (l materialList) write(rows *csv.Writer) error {
	rows.Write([]string{"sheet", "thickness in", "thickness mm", "parts", "of them with grain stated", "of them not for cutting", "net area m2", "net mass kg"})
	for _, k := range l.kinds() {
		n := l[k]
		rows.Write([]string{
			k.material, decimals(k.thickness/measure.Inch, 4), decimals(k.thickness, 3),
			strconv.Itoa(n.parts), strconv.Itoa(n.grain), strconv.Itoa(n.stopped), decimals(n.area/1e6, 4), decimals(n.grams/1000, 3),
		})
	}
	rows.Flush()
	return rows.Error()
}

// say puts the list in words, a line a kind of sheet.
func (l materialList) say() []string {
	var lines []string
	for _, k := range l.kinds() {
		n := l[k]
		lines = append(lines, fmt.Sprintf("%s: %d parts, %s m², %s kg net", k, n.parts, decimals(n.area/1e6, 3), decimals(n.grams/1000, 3)))
	}
	return lines
}

func decimals(x float64, n int) string { return strconv.FormatFloat(x, 'f', n, 64) }
