package main

import (
	"fmt"
	"strconv"
	"strings"
)

// gaugeTables are the gauge systems: Go name of the table, file, column in inches.
var gaugeTables = [...]struct{ name, file, column string }{
	{"brownSharpe", "awg_brown_sharpe.csv", "inch_printed"},
	{"swg", "swg_bs3737.csv", "inch"},
	{"usStandard", "us_standard_gauge_15usc206.csv", "inch"},
	{"sheetSteel", "gauge_stainless_mild_aluminium_mh31.csv", "mild_steel_in"},
}

func gaugesFile(dir string) (goFile, error) {
	p := newPage("material", "")
	for _, g := range gaugeTables {
		t, err := load(dir, g.file)
		if err != nil {
			return goFile{}, err
		}
		if err := goGauge(p, t, g.name, g.column); err != nil {
			return goFile{}, err
		}
	}
	t, err := load(dir, "aircraft_aluminium_thicknesses.csv")
	if err != nil {
		return goFile{}, err
	}
	for _, series := range []struct{ name, word, doc string }{
		{"currentStock", "current", "the decimal thicknesses aircraft sheet is rolled to today"},
		{"olderStock", "older", "the rounded Brown & Sharpe thicknesses of older drawings"},
	} {
		p.line("// %s is %s.\nvar %s = [...]float64{", series.name, series.doc, series.name)
		for _, row := range t.rows {
			if strings.HasPrefix(t.column(row, "series"), series.word) {
				x, err := inches(t.column(row, "inch"))
				if err != nil {
					return goFile{}, t.fault(row, row[0], err)
				}
				p.line("%s,", x)
			}
		}
		p.line("}\n")
	}
	return p.file("gauges_gen.go")
}

// gaugeNumber reads "7/0" as -6, "0" as 0, "12" as 12.
func gaugeNumber(s string) (int, error) {
	if n, many := strings.CutSuffix(s, "/0"); many {
		x, err := strconv.Atoi(n)
		return 1 - x, err
	}
	return strconv.Atoi(s)
}

func goGauge(p *page, t table, name, column string) error {
	first, err := gaugeNumber(t.rows[0][0])
	if err != nil {
		return t.fault(t.rows[0], t.rows[0][0], err)
	}
	corrected := map[string]string{}
	for _, c := range t.head["correct"] {
		number, value, _ := strings.Cut(c, " ")
		corrected[number] = value
	}
	p.line("var %s = gaugeTable{first: %d, document: %q, place: %q, sizes: []gaugeSize{", name, first, t.key("document"), t.key("place"))
	next := first
	for _, row := range t.rows {
		n, err := gaugeNumber(row[0])
		if err != nil || n < next {
			return t.fault(row, row[0], fmt.Errorf("gauge numbers must be whole and rise"))
		}
		for ; next < n; next++ {
			p.line("{}, // %d is not printed", next)
		}
		next++
		word := t.column(row, "provenance")
		if word == "" {
			word = t.key("provenance")
		}
		prov, err := provenance(word)
		if err != nil {
			return t.fault(row, word, err)
		}
		cell := t.column(row, column)
		if value, wrong := corrected[row[0]]; wrong {
			cell, prov = value, "Derived"
		}
		x, err := inches(cell)
		if err != nil {
			return t.fault(row, cell, err)
		}
		p.line("{%s, %s},", x, prov)
	}
	p.line("}}\n")
	return nil
}

// drillsFile is the drills that have a number or a letter, rising.
func drillsFile(dir string) (goFile, error) {
	t, err := load(dir, "drill_sizes.csv")
	if err != nil {
		return goFile{}, err
	}
	prov, err := provenance(t.key("provenance"))
	if err != nil {
		return goFile{}, t.fault(t.rows[0], t.key("provenance"), err)
	}
	p := newPage("material", "")
	p.line("var drillSource = Source{Document: %q, Provenance: %s}\n", t.key("document"), prov)
	p.line("var namedDrills = [...]drillSize{")
	for _, row := range t.rows {
		x, err := inches(t.column(row, "inch"))
		if err != nil {
			return goFile{}, t.fault(row, t.column(row, "inch"), err)
		}
		p.line("{%q, %s},", row[0], x)
	}
	p.line("}")
	return p.file("drills_gen.go")
}

func specsFile(dir string) (goFile, error) {
	p := newPage("material", "")
	british, err := load(dir, "british_sheet_specs.csv")
	if err != nil {
		return goFile{}, err
	}
	p.line("// specifications are statements about sheet specifications, in the order of their table.")
	p.line("var specifications = [...]Specification{")
	for _, row := range british.rows {
		word := british.column(row, "provenance")
		prov, err := provenance(word)
		if err != nil {
			return goFile{}, british.fault(row, word, err)
		}
		statement := british.column(row, "statement")
		if statement == "-" {
			statement = ""
		}
		_, document, _ := strings.Cut(word, "(")
		document = strings.TrimSuffix(document, ")")
		if prov == "Memory" {
			document = "British sheet specifications"
		}
		p.line("{Name: %q, Form: %q, Statement: %q, Source: Source{Document: %q, Provenance: %s}},",
			row[0], british.column(row, "form_condition"), statement, document, prov)
	}
	old, err := load(dir, "old_us_designations.csv")
	if err != nil {
		return goFile{}, err
	}
	for _, row := range old.rows {
		p.line("{Name: %q, Form: %q, Statement: %q, Source: Source{Document: %q, Provenance: Memory}},",
			row[0], "American designation before 1954 of "+row[1], row[2], old.key("document"))
	}
	p.line("}")
	return p.file("specs_gen.go")
}
