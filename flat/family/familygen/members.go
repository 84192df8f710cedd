package main

import (
	"bytes"
	"errors"
	"fmt"
	"go/token"
	"strings"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/family"
)

// An input is what a package is made from.
type input struct {
	pkg             string
	template, table text
}

// A member is a row of the table that makes a part which proves itself.
type member struct {
	family.Member
	name  string // of its function
	blank flat.Blank
}

// proved is how far a folded blank may be from its part, mm: the accuracy the library
// answers for.
const proved = 1e-6

// read gives the fields and members of the package, or every fault of the table.
func (in input) read() (family.Template, []field, []member, error) {
	var faults []error
	if !token.IsIdentifier(in.pkg) || in.pkg == "main" || strings.ToLower(in.pkg) != in.pkg || strings.HasSuffix(in.pkg, "_test") {
		faults = append(faults, fmt.Errorf("package name %q: want a Go package name in small letters", in.pkg))
	}
	t, err := family.ReadTemplate(in.template.name, bytes.NewReader(in.template.text))
	if err != nil {
		return t, nil, nil, errors.Join(append(faults, err)...)
	}
	fields, err := fieldNames(t)
	faults = append(faults, err)
	var rows []member
	told := map[string]bool{} // faults of the template itself, once for all rows
	for m, err := range t.Members(in.table.name, bytes.NewReader(in.table.text)) {
		row := member{Member: m}
		if err == nil {
			row.blank, err = developed(m)
		}
		for _, fault := range t.Faults(in.table.name, m, err) {
			if fault.Field == "" && fault.Err != nil {
				if told[fault.Err.Error()] {
					continue
				}
				told[fault.Err.Error()] = true
			}
			faults = append(faults, fault)
		}
		if err == nil {
			rows = append(rows, row)
		}
	}
	faults = append(faults, in.memberNames(rows, t))
	if err := errors.Join(faults...); err != nil {
		return t, nil, nil, err
	}
	if len(rows) == 0 {
		return t, nil, nil, &family.Error{File: in.table.name, Rule: "has no member below the names of its columns"}
	}
	members := make([]family.Member, len(rows))
	for i := range rows {
		members[i] = rows[i].Member
	}
	for i := range fields {
		f := kindOf(t, i, members)
		f.name = fields[i].name
		fields[i] = f
	}
	return t, fields, rows, nil
}

// developed develops a member and refuses what no program should build on.
func developed(m family.Member) (flat.Blank, error) {
	b, err := flat.Develop(m.Part)
	if err != nil {
		return b, err
	}
	var faults []error
	for _, f := range b.Findings {
		if f.Severity == flat.Stop {
			faults = append(faults, &family.Error{Rule: flat.NotForCutting + ": " + f.String()})
		}
	}
	if off := b.Proof.Largest(); !(off <= proved) {
		faults = append(faults, &family.Error{Value: fmt.Sprintf("%.3g mm", off), Rule: "its blank folds back to no better than this, and 1e-6 mm is wanted"})
	}
	return b, errors.Join(faults...)
}

// fieldNames names the fields of Params.
func fieldNames(t family.Template) ([]field, error) {
	fields := make([]field, len(t.Words))
	first := map[string]string{}
	var faults []error
	for i, w := range t.Words {
		name := identifier(w)
		fields[i] = field{word: w, name: name}
		fault := func(rule string) {
			faults = append(faults, &family.Error{File: t.File, Field: "<" + w + ">", Rule: rule + ": name it otherwise here and in the table"})
		}
		if other, twice := first[name]; name == "" {
			fault("has no letter or digit to make a Go name of")
		} else if twice {
			fault(fmt.Sprintf("would be the field %s, as <%s> is", name, other))
		}
		first[name] = w
	}
	return fields, errors.Join(faults...)
}

// memberNames names the function of each member after its part.
func (in input) memberNames(rows []member, t family.Template) error {
	column := strings.Join(t.WordsOn(nameLine(t)), ", ")
	first := map[string]member{}
	var faults []error
	for i := range rows {
		m := &rows[i]
		m.name = identifier(m.Part.Name)
		fault := func(rule string) {
			faults = append(faults, &family.Error{File: in.table.name, Line: m.Line, Field: column, Value: fmt.Sprintf("%q", m.Part.Name), Rule: rule})
		}
		use, own := taken[m.name]
		other, twice := first[m.name]
		switch {
		case m.name == "":
			fault("has no letter or digit to make a Go name of")
		case own:
			fault(fmt.Sprintf("would be the function %s, a name the package needs for %s", m.name, use))
		case twice && other.Part.Name == m.Part.Name:
			fault(fmt.Sprintf("is the name of the part of line %d too", other.Line))
		case twice:
			fault(fmt.Sprintf("would be the function %s, as %q of line %d is", m.name, other.Part.Name, other.Line))
		}
		if !twice {
			first[m.name] = *m
		}
	}
	return errors.Join(faults...)
}

// nameLine finds the line of the template that names the part; 0 where it is not
// written plainly.
func nameLine(t family.Template) int {
	for i, line := range strings.Split(t.Text(), "\n") {
		if key, _, ok := strings.Cut(line, "="); ok && strings.TrimSpace(key) == "name" {
			return i + 1 // the part's comes before those of its edges
		}
	}
	return 0
}
