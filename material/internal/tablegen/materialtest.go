package main

import "fmt"

// materialTest writes the rows of the tables, as printed, into a test that looks
// each of them up again.
func materialTest(radii []radiusTable, props table) (goFile, error) {
	p := newPage("material_test", "")
	p.line("// printedRadii holds every cell of the radius tables as text.")
	p.line("var printedRadii = [...]struct{ document, material, thickness, cell, provenance string }{")
	for _, r := range radii {
		for _, row := range r.rows {
			for i, cell := range row.cells {
				unit := ""
				if r.inInches && cell != "" && cell != "NR" {
					unit = " in"
				}
				p.line("{%q, %q, %q, %q, %q},", r.key("document"), row.material.name(), r.at[i], cell+unit, row.source[i])
			}
		}
	}
	p.line("}\n")
	p.line("// printedProperties holds the rows of the property table as text.")
	p.line("var printedProperties = [...]struct{ material, ftu, fty, e, density, basis, document string }{")
	for _, row := range props.rows {
		m, clad := propertyMaterial(props, row)
		name := m.name()
		if clad {
			name = "alclad " + name
		}
		col := func(c string) string { return fmt.Sprintf("%q", props.column(row, c)) }
		p.line("{%q, %s, %s, %s, %s, %s, %s},", name, col("Ftu_ksi"), col("Fty_ksi"), col("E_Msi"),
			col("density_lb_in3"), col("basis"), col("document"))
	}
	p.line("}")
	return p.file("tables_gen_test.go")
}
