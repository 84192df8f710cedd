package main

import (
	"fmt"
	"slices"
	"strings"
)

// materialFiles makes every generated file of package material.
func materialFiles(dir string) ([]goFile, error) {
	var radii []radiusTable
	for _, f := range radiusFiles {
		r, err := loadRadii(dir, f)
		if err != nil {
			return nil, err
		}
		radii = append(radii, r)
	}
	props, err := load(dir, "mechanical_properties.csv")
	if err != nil {
		return nil, err
	}
	all := names(radii, props)
	var files []goFile
	for _, make := range []func() (goFile, error){
		func() (goFile, error) { return namesFile(all) },
		func() (goFile, error) { return radiiFile(all, radii) },
		func() (goFile, error) { return propertiesFile(all, props) },
		func() (goFile, error) { return gaugesFile(dir) },
		func() (goFile, error) { return drillsFile(dir) },
		func() (goFile, error) { return specsFile(dir) },
		func() (goFile, error) { return materialTest(radii, props) },
	} {
		f, err := make()
		if err != nil {
			return nil, err
		}
		files = append(files, f)
	}
	return files, nil
}

// propertyMaterial splits "Alclad 2024" from its temper.
func propertyMaterial(t table, row []string) (m material, clad bool) {
	alloy, clad := strings.CutPrefix(t.column(row, "alloy"), "Alclad ")
	return material{alloy, t.column(row, "temper")}, clad
}

// names lists every material of any table, sorted.
func names(radii []radiusTable, props table) []material {
	var all []material
	for _, r := range radii {
		for _, row := range r.rows {
			all = append(all, row.material)
		}
	}
	for _, row := range props.rows {
		m, _ := propertyMaterial(props, row)
		all = append(all, m)
	}
	slices.SortFunc(all, func(a, b material) int {
		if c := strings.Compare(a.alloy, b.alloy); c != 0 {
			return c
		}
		return strings.Compare(a.temper, b.temper)
	})
	return slices.Compact(all)
}

func namesFile(all []material) (goFile, error) {
	p := newPage("material", "")
	p.line("// materials lists every alloy and temper a table speaks of, sorted.")
	p.line("var materials = [...]Material{")
	for _, m := range all {
		p.line("{Alloy: %q, Temper: %q},", m.alloy, m.temper)
	}
	p.line("}\n")
	p.line("// index gives the place of a material in materials, -1 when it is not there.")
	p.line("func index(alloy, temper string) int {\nswitch alloy {")
	for i := 0; i < len(all); {
		j := i
		p.line("case %q:\nswitch temper {", all[i].alloy)
		for ; j < len(all) && all[j].alloy == all[i].alloy; j++ {
			p.line("case %q:\nreturn %d", all[j].temper, j)
		}
		p.line("}")
		i = j
	}
	p.line("}\nreturn -1\n}\n")
	return p.file("names_gen.go")
}

func radiiFile(all []material, radii []radiusTable) (goFile, error) {
	p := newPage("material", "")
	p.line("// radiusTables are the published tables of smallest bend radii.")
	p.line("var radiusTables = [...]radiusTable{")
	for _, r := range radii {
		var at []string
		for _, c := range r.at {
			x, err := inches(c)
			if err != nil {
				return goFile{}, r.fault(r.cols, c, err)
			}
			at = append(at, x)
		}
		p.line("{document: %q, place: %q, lengths: %v, bands: %v,\nat: []float64{%s}},",
			r.key("document"), r.key("place"), r.inInches, r.bands, strings.Join(at, ", "))
	}
	p.line("}\n")
	p.line("// radiiOf gives the rows of all tables for each of materials.")
	p.line("var radiiOf = [len(materials)][]radiusRow{")
	for i, m := range all {
		var rows []string
		for n, r := range radii {
			for _, row := range r.rows {
				if row.material != m {
					continue
				}
				text, err := goRow(n, r, row)
				if err != nil {
					return goFile{}, err
				}
				rows = append(rows, text)
			}
		}
		if rows != nil {
			p.line("%d: { // %s\n%s\n},", i, m.name(), strings.Join(rows, "\n"))
		}
	}
	p.line("}")
	return p.file("radii_gen.go")
}

func goRow(n int, r radiusTable, row radiusRow) (string, error) {
	var cells []string
	for i, c := range row.cells {
		text, err := goCell(c, row.source[i])
		if err != nil {
			return "", fmt.Errorf("%s: %s: %q: %w", r.file, row.material.name(), c, err)
		}
		cells = append(cells, scaled(text, r.inInches))
	}
	return fmt.Sprintf("{%d, %q, []radiusCell{%s}},", n, row.note, strings.Join(cells, ", ")), nil
}

// scaled turns the two numbers of a cell in inches into mm.
func scaled(cell string, inInches bool) string {
	if !inInches || cell == "{}" {
		return cell
	}
	parts := strings.SplitN(strings.Trim(cell, "{}"), ", ", 3)
	return "{" + parts[0] + " * inch, " + parts[1] + " * inch, " + parts[2] + "}"
}

func propertiesFile(all []material, props table) (goFile, error) {
	p := newPage("material", "")
	p.line("// propertiesOf gives the published strengths of each of materials.")
	p.line("var propertiesOf = [len(materials)][]propertyRow{")
	for i, m := range all {
		var rows []string
		for _, row := range props.rows {
			if of, clad := propertyMaterial(props, row); of == m {
				text, err := goProperty(props, row, clad)
				if err != nil {
					return goFile{}, err
				}
				rows = append(rows, text)
			}
		}
		if rows != nil {
			p.line("%d: { // %s\n%s\n},", i, m.name(), strings.Join(rows, "\n"))
		}
	}
	p.line("}")
	return p.file("properties_gen.go")
}

func goProperty(t table, row []string, clad bool) (string, error) {
	prov, err := provenance(t.column(row, "provenance"))
	if err != nil {
		return "", t.fault(row, t.column(row, "provenance"), err)
	}
	var basis string
	switch b := t.column(row, "basis"); b {
	case "typical":
		basis = "Typical"
	case "minimum":
		basis = "Minimum"
	default:
		return "", t.fault(row, b, fmt.Errorf("basis must be typical or minimum"))
	}
	var fields []string
	for _, f := range []struct{ column, field, unit string }{
		{"t_from_in", "From", " * inch"}, {"t_to_in", "To", " * inch"},
		{"Ftu_ksi", "Ftu", " * ksi"}, {"Fty_ksi", "Fty", " * ksi"},
		{"elong_pct", "Elongation", ""}, {"E_Msi", "E", " * 1000 * ksi"},
		{"density_lb_in3", "Density", " * poundPerCubicInch"},
	} {
		cell := t.column(row, f.column)
		if cell == "" {
			continue
		}
		x, err := decimal(cell)
		if err != nil {
			return "", t.fault(row, cell, err)
		}
		fields = append(fields, f.field+": "+x+f.unit)
	}
	return fmt.Sprintf("{%v, Properties{%s, Basis: %s, Source: Source{Document: %q, Provenance: %s}}},",
		clad, strings.Join(fields, ", "), basis, t.column(row, "document"), prov), nil
}
