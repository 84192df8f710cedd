package main

import (
	"fmt"
	"slices"
	"strings"
)

// radiusFiles are the tables of smallest bend radii, in the order look-ups list
// them.
var radiusFiles = [...]string{
	"aa_min_bend_radii_90deg.csv",
	"ac43_13_table_4_6.csv",
	"faa_min_bend_radius_fig4_125.csv",
	"design_book_min_radii_inch.csv",
	"titanium_astm_b265.csv",
	"min_radii_from_memory.csv",
}

// A radiusTable is a table of radii brought to one shape.
type radiusTable struct {
	table
	inInches bool
	bands    bool     // columns are upper limits, not thicknesses
	at       []string // thickness columns, inches as printed
	rows     []radiusRow
}

type radiusRow struct {
	material material
	note     string
	cells    []string // as printed
	source   []string // provenance of each cell
}

type material struct{ alloy, temper string }

// name is how package material prints it.
func (m material) name() string {
	if m.hyphen() {
		return m.alloy + "-" + m.temper
	}
	return m.alloy + " " + m.temper
}

// hyphen: aluminium and magnesium take their temper after a hyphen.
func (m material) hyphen() bool {
	return strings.HasPrefix(m.alloy, "AZ") || strings.ContainsAny(m.temper[:1], "OHT")
}

func parseMaterial(s string) (material, error) {
	cut := strings.IndexAny(s, " -")
	if strings.HasPrefix(s, "Ti") {
		return material{s, "annealed"}, nil
	}
	if cut < 0 {
		return material{}, fmt.Errorf("want an alloy and its temper")
	}
	return material{s[:cut], s[cut+1:]}, nil
}

func loadRadii(dir, file string) (radiusTable, error) {
	t, err := load(dir, file)
	if err != nil {
		return radiusTable{}, err
	}
	r := radiusTable{table: t, inInches: t.key("unit") == "in"}
	if t.cols[0] == "thickness_in" {
		return r, r.byThickness()
	}
	return r, r.byAlloy()
}

// byAlloy reads a table whose rows are alloys and whose columns are thicknesses.
func (r *radiusTable) byAlloy() error {
	var cols []int
	for i, c := range r.cols {
		under, isUnder := strings.CutPrefix(c, "bend_r_over_t_under_")
		_, upTo, isBand := strings.Cut(c, "_to_")
		switch {
		case isUnder:
			r.at, r.bands = append(r.at, under), true
		case isBand:
			r.at, r.bands = append(r.at, upTo), true
		case strings.HasPrefix(c, "t0.") || c[0] >= '0' && c[0] <= '9':
			r.at = append(r.at, strings.TrimPrefix(c, "t"))
		default:
			continue
		}
		cols = append(cols, i)
	}
	for _, row := range r.table.rows {
		name := row[0]
		if r.cols[1] == "temper" {
			name += " " + row[1]
		}
		name, marks, _ := strings.Cut(name, "(")
		m, err := parseMaterial(name)
		if err != nil {
			return r.fault(row, name, err)
		}
		out := radiusRow{material: m, note: r.notes(marks)}
		word := r.column(row, "provenance")
		if word == "" {
			word = r.key("provenance")
		}
		p, err := provenance(word)
		if err != nil {
			return r.fault(row, word, err)
		}
		for _, i := range cols {
			out.cells = append(out.cells, row[i])
			out.source = append(out.source, p)
		}
		r.rows = append(r.rows, out)
	}
	return nil
}

// notes spells out the marks of a row, such as "1)(2)", and adds the table's own.
func (r *radiusTable) notes(marks string) string {
	notes := slices.Clone(r.head["note"])
	for _, n := range []string{"1", "2"} {
		if strings.Contains(marks, n+")") {
			notes = append(notes, r.key("note "+n))
		}
	}
	return strings.Join(notes, "; ")
}

// byThickness reads a table whose rows are thicknesses and whose columns are
// lists of alloys.
func (r *radiusTable) byThickness() error {
	p, err := provenance(r.key("provenance"))
	if err != nil {
		return fmt.Errorf("%s: %w", r.file, err)
	}
	for _, row := range r.table.rows {
		r.at = append(r.at, row[0])
	}
	for i, list := range r.cols[1:] {
		for _, name := range strings.Split(list, " / ") {
			m, err := parseMaterial(name)
			if err != nil {
				return r.fault(r.cols, name, err)
			}
			out := radiusRow{material: m, note: r.notes("")}
			for _, row := range r.table.rows {
				cell, seen := strings.CutSuffix(row[i+1], " seen")
				out.cells = append(out.cells, cell)
				if seen {
					out.source = append(out.source, "Read")
				} else {
					out.source = append(out.source, p)
				}
			}
			r.rows = append(r.rows, out)
		}
	}
	return nil
}

// goCell is the Go text for a printed cell: "", "NR", "2-4t", ".16", "1.5".
func goCell(cell, source string) (string, error) {
	switch cell {
	case "":
		return "{}", nil
	case "NR":
		return "{0, 0, " + source + ", true}", nil
	}
	least, most, isRange := strings.Cut(strings.TrimSuffix(cell, "t"), "-")
	if !isRange {
		most = least
	}
	lo, err1 := decimal(least)
	hi, err2 := decimal(most)
	if err1 != nil || err2 != nil {
		return "", fmt.Errorf("want a radius, a range, NR or nothing")
	}
	return "{" + lo + ", " + hi + ", " + source + ", false}", nil
}
