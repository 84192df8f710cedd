package main

import (
	"fmt"
	"strings"
)

// bendFiles makes every generated file of package bend.
func bendFiles(dir string) ([]goFile, error) {
	p := newPage("bend", "\t\"math\"\n\n\t\"github.com/hangarflat/hangarflat/material\"")
	test := newPage("bend_test", "")
	for _, write := range []func(p, test *page, dir string) error{steppedTables, lengthTables, springTables} {
		if err := write(p, test, dir); err != nil {
			return nil, err
		}
	}
	code, err := p.file("tables_gen.go")
	if err != nil {
		return nil, err
	}
	rows, err := test.file("tables_gen_test.go")
	return []goFile{code, rows}, err
}

// steppedTables writes K against R/T, one table for each source and process, in the
// order of the file. A source that is a formula elsewhere (d) is left out.
func steppedTables(p, test *page, dir string) error {
	t, err := load(dir, "k_vs_rt.csv")
	if err != nil {
		return err
	}
	p.line("// steppedTables are the tables of K against R/T, in the order of the KTable names.")
	p.line("var steppedTables = [...]steppedTable{")
	test.line("// printedK holds the rows of the tables of K against R/T.")
	test.line("var printedK = [...]struct{ table int; from, to, soft, medium, hard float64 }{")
	open, n := "", 0
	for _, row := range t.rows {
		from := t.key("document " + row[0])
		if from == "" {
			continue
		}
		if key := row[0] + row[1]; key != open {
			if open != "" {
				p.line("}},")
			}
			open = key
			n++
			prov, err := provenance(t.column(row, "provenance"))
			if err != nil {
				return t.fault(row, t.column(row, "provenance"), err)
			}
			p.line("{law: Law{Name: %q, Formula: neutralFormula, Source: material.Source{Document: %q, Place: %q, Provenance: material.%s}}, steps: []kStep{",
				"K by R/T, "+row[1], from, t.key("place "+row[0]), prov)
		}
		upTo := "math.Inf(1)"
		testTo := "-1"
		if row[3] != "inf" {
			upTo, testTo = row[3], row[3]
		}
		p.line("{%s, [3]float64{%s, %s, %s}},", upTo, row[4], row[5], row[6])
		test.line("{%d, %s, %s, %s, %s, %s},", n, row[2], testTo, row[4], row[5], row[6])
	}
	p.line("}},\n}\n")
	test.line("}\n")
	return nil
}

func lengthTables(p, test *page, dir string) error {
	t, err := load(dir, "length_of_bend_constants.csv")
	if err != nil {
		return err
	}
	p.line("// lengthLaws are the handbook's length-of-bend formulas, in the order of the LengthOfBend names.")
	p.line("var lengthLaws = [...]lengthLaw{")
	test.line("// printedLengths holds the constants of the length-of-bend formulas.")
	test.line("var printedLengths = [...]struct{ group string; t, r, k float64 }{")
	for _, row := range t.rows {
		p.line("{%s, %s, Law{Name: %q, Formula: %q, Source: material.Source{Document: %q, Place: %q, Provenance: material.Read}}},",
			row[1], row[2], "length of bend, "+row[0], "BA = ("+row[1]+"·T + "+row[2]+"·R)·A°/90", t.key("document"), t.key("place"))
		test.line("{%q, %s, %s, %s},", row[0], row[1], row[2], row[3])
	}
	p.line("}\n")
	test.line("}\n")
	return nil
}

func springTables(p, test *page, dir string) error {
	t, err := load(dir, "din_springback_factor_kr.csv")
	if err != nil {
		return err
	}
	heads := strings.Join(t.cols[1:], ", ")
	p.line("// springRatios are the wanted R/T the springback factors are printed for.")
	p.line("var springRatios = [...]float64{%s}\n", heads)
	p.line("// springRows are the springback factors, 0 where none is printed, in the order of the SpringFactor names.")
	p.line("var springRows = [...]struct{ name string; kr [len(springRatios)]float64 }{")
	test.line("// printedSpring holds the springback factors, 0 where none is printed.")
	test.line("var printedSpring = [...]struct{ name string; kr [%d]float64 }{", len(t.cols)-1)
	for _, row := range t.rows {
		var cells []string
		for _, c := range row[1:] {
			if c == "" {
				c = "0"
			}
			x, err := decimal(c)
			if err != nil {
				return t.fault(row, c, err)
			}
			cells = append(cells, x)
		}
		line := fmt.Sprintf("{%q, [...]float64{%s}},", row[0], strings.Join(cells, ", "))
		p.line("%s", line)
		test.line("%s", line)
	}
	p.line("}")
	test.line("}")
	test.line("\n// printedRatios are the heads of the springback factors.")
	test.line("var printedRatios = [...]float64{%s}", heads)
	return nil
}
