package main

import (
	"errors"
	"fmt"
	"os"
	"path"
	"slices"
	"strings"

	"github.com/pelletier/go-toml/v2"
)

// held says which tests hold what: the content of held.toml.
type held struct {
	Formula map[string][]string // "bend: SB = (R + T)·tan(A/2)" -> tests
	Table   map[string]tableEntry
	Told    []toldEntry
}

// A tableEntry is the tests of a table. At least one of them must name the table's
// file, or what is generated from it.
type tableEntry struct {
	Tests []string
	By    string // what a test calls the table, where it is not its file
}

// A toldEntry is a formula that stands in the comment of an exported name.
type toldEntry struct {
	At, Formula, Source string
	Tests               []string
}

func readHeld(name string) (held, error) {
	raw, err := os.ReadFile(name)
	if err != nil {
		return held{}, err
	}
	var h held
	if err := toml.Unmarshal(raw, &h); err != nil {
		return held{}, fmt.Errorf("%s: %w", name, err)
	}
	return h, nil
}

// formulas gives every formula its tests, and refuses a formula without one and a
// line that is for no formula.
func (h held) formulas(all []formula, c code) error {
	var faults []error
	known := map[string]bool{}
	for i := range all {
		f := &all[i]
		known[f.key()] = true
		f.tests = h.Formula[f.key()]
		faults = append(faults, exist("formula "+f.key(), f.tests, c))
	}
	for key := range h.Formula {
		if !known[key] {
			faults = append(faults, fmt.Errorf("held.toml: no package has the formula %s", key))
		}
	}
	return sorted(faults)
}

func (h held) tables(all []table, c code) error {
	var faults []error
	known := map[string]bool{}
	for i := range all {
		t := &all[i]
		known[t.file] = true
		entry := h.Table[t.file]
		t.tests = entry.Tests
		faults = append(faults, exist("table "+t.file, t.tests, c), entry.named(t.file, c))
	}
	for file := range h.Table {
		if !known[file] {
			faults = append(faults, fmt.Errorf("held.toml: there is no table %s", file))
		}
	}
	return sorted(faults)
}

func (h held) told(all []formula, c code) error {
	var faults []error
	for _, f := range all {
		faults = append(faults, exist("formula "+f.key(), f.tests, c))
	}
	return errors.Join(faults...)
}

// exist reports a thing that no test holds, and tests that do not exist.
func exist(what string, tests []string, c code) error {
	if len(tests) == 0 {
		return fmt.Errorf("%s: no test holds it; name one in held.toml", what)
	}
	var faults []error
	for _, t := range tests {
		if _, ok := c.test(t); !ok {
			faults = append(faults, fmt.Errorf("%s: there is no test %s", what, t))
		}
	}
	return errors.Join(faults...)
}

// named reports a table of which no test given speaks.
func (e tableEntry) named(file string, c code) error {
	by := e.By
	if by == "" {
		by = path.Base(file)
	}
	for _, name := range e.Tests {
		if t, ok := c.test(name); ok && t.words[by] {
			return nil
		}
	}
	if len(e.Tests) == 0 {
		return nil // said already
	}
	return fmt.Errorf("table %s: none of its tests names %s", file, by)
}

// sorted joins faults in the order of their texts, so that maps do not show.
func sorted(faults []error) error {
	faults = slices.DeleteFunc(faults, func(e error) bool { return e == nil })
	slices.SortFunc(faults, func(a, b error) int { return strings.Compare(a.Error(), b.Error()) })
	return errors.Join(faults...)
}
