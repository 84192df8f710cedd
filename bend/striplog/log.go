package striplog

import (
	"bytes"
	"crypto/sha256"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
)

// A CellError says which cell of the log is at fault and why.
type CellError struct {
	Line   int    // of the file, from 1
	Column string // name of the column; empty for the whole row
	Value  string
	Rule   string
}

func (e *CellError) Error() string {
	if e.Column == "" {
		return fmt.Sprintf("line %d: %s", e.Line, e.Rule)
	}
	return fmt.Sprintf("line %d, %s %q: %s", e.Line, e.Column, e.Value, e.Rule)
}

// A Strip is one row of the log.
type Strip struct {
	bend.Strip
	Material material.Material
	Line     int // of the file, from 1
}

// A Log is a shop's log of test bends and what its strips say.
type Log struct {
	Name   string // as given to [Read]
	SHA256 string // of the whole file, in hexadecimal
	Strips []Strip
	Groups []Group // by material, thickness and radius
}

// Read reads a log and calibrates its groups. name becomes the document of every
// allowance; nothing is opened. Every fault of every row is returned at
// once, each a [*CellError]; what [bend.Calibrate] refuses of a group names its lines.
func Read(name string, raw []byte) (Log, error) {
	l := Log{Name: name, SHA256: fmt.Sprintf("%x", sha256.Sum256(raw))}
	var err error
	if l.Strips, err = readLog(raw); err != nil {
		return Log{}, err
	}
	if l.Groups, err = l.grouped(); err != nil {
		return Log{}, err
	}
	return l, nil
}

var (
	needed = []string{"strip", "material", "thickness", "radius", "angle", "blank", "leg a", "leg b"}
	known  = append(slices.Clone(needed), "to")
)

// readLog reads every row; all faults of all rows are joined.
func readLog(raw []byte) ([]Strip, error) {
	r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(raw, []byte("\ufeff")))) // spreadsheets put a byte-order mark in front
	r.Comment = '#'
	r.FieldsPerRecord = -1 // counted below, so that one short row does not hide the others
	r.TrimLeadingSpace = true
	head, err := r.Read()
	if err != nil {
		return nil, &CellError{Line: 1, Rule: "no row of column names: " + err.Error()}
	}
	line, _ := r.FieldPos(0)
	at, err := columns(head, line)
	if err != nil {
		return nil, err
	}
	var strips []Strip
	var faults []error
	names := map[string]int{}
	for {
		row, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		var broken *csv.ParseError
		if errors.As(err, &broken) {
			// The rest of the file cannot be trusted after a broken quote.
			faults = append(faults, &CellError{Line: broken.Line, Rule: broken.Err.Error()})
			break
		}
		line, _ := r.FieldPos(0)
		if len(row) != len(head) {
			faults = append(faults, &CellError{Line: line, Rule: fmt.Sprintf("%d cells where the head has %d", len(row), len(head))})
			continue
		}
		s, err := readStrip(row, at, line)
		if first, twice := names[s.Name]; twice && s.Name != "" {
			err = errors.Join(err, &CellError{line, "strip", s.Name, fmt.Sprintf("was used in line %d", first)})
		}
		names[s.Name] = line
		faults = append(faults, err)
		strips = append(strips, s)
	}
	if len(strips) == 0 && len(faults) == 0 {
		faults = append(faults, &CellError{Line: line, Rule: "no strips below the column names"})
	}
	return strips, errors.Join(faults...)
}

// columns finds the place of each named column.
func columns(head []string, line int) (map[string]int, error) {
	at := map[string]int{}
	var faults []error
	for i, cell := range head {
		name := strings.ToLower(strings.Join(strings.Fields(cell), " "))
		if !slices.Contains(known, name) {
			faults = append(faults, &CellError{line, "column", cell, "is none of " + strings.Join(known, ", ")})
		} else if _, twice := at[name]; twice {
			faults = append(faults, &CellError{line, "column", cell, "stands there twice"})
		}
		at[name] = i
	}
	for _, name := range needed {
		if _, there := at[name]; !there {
			faults = append(faults, &CellError{line, "column", name, "is missing"})
		}
	}
	return at, errors.Join(faults...)
}

// readStrip reads one row, all its faults joined.
func readStrip(row []string, at map[string]int, line int) (Strip, error) {
	s := Strip{Line: line}
	var faults []error
	cell := func(column string) string { return strings.TrimSpace(row[at[column]]) }
	bad := func(column string, err error) {
		if err != nil {
			faults = append(faults, &CellError{line, column, cell(column), reason(err)})
		}
	}
	length := func(column string) float64 {
		mm, err := measure.ParseLength(cell(column))
		bad(column, err)
		return mm
	}
	var err error
	if s.Name = cell("strip"); s.Name == "" {
		bad("strip", errors.New("every strip needs its name"))
	}
	var sheet material.Sheet
	sheet.Material, err = material.Lookup(cell("material"))
	bad("material", err)
	sheet.Thickness, sheet.Gauge, err = material.ParseGauged(cell("thickness"))
	bad("thickness", err)
	if _, asked := sheet.GaugeDoubt(); asked {
		bad("thickness", errors.New("is the gauge of another metal than "+sheet.Material.String()+": write the thickness measured"))
	}
	s.Material, s.Thickness = sheet.Material, sheet.Thickness
	s.Angle, err = measure.ParseAngle(cell("angle"))
	bad("angle", err)
	s.Radius, s.Blank, s.LegA, s.LegB = length("radius"), length("blank"), length("leg a"), length("leg b")
	if _, there := at["to"]; there {
		s.To, err = legTo(cell("to"))
		bad("to", err)
	}
	if len(faults) > 0 {
		return s, errors.Join(faults...)
	}
	_, err = s.Taken()
	return s, atLine(err, line)
}

func legTo(word string) (bend.LegTo, error) {
	switch strings.ToLower(word) {
	case "", "mold line", "mould line":
		return bend.MoldLine, nil
	case "outside of fold":
		return bend.OutsideOfFold, nil
	}
	return 0, errors.New(`say "mold line" or "outside of fold"`)
}

// reason is an error without the value, which the cell shows already.
func reason(err error) string {
	var m *material.Error
	var s *measure.SyntaxError
	switch {
	case errors.As(err, &m):
		return m.Rule
	case errors.As(err, &s):
		return s.Rule
	}
	return err.Error()
}

// atLine gives each fault of a strip its line and column.
func atLine(err error, line int) error {
	if err == nil {
		return nil
	}
	if many, ok := err.(interface{ Unwrap() []error }); ok {
		var all []error
		for _, e := range many.Unwrap() {
			all = append(all, atLine(e, line))
		}
		return errors.Join(all...)
	}
	var b *bend.Error
	if errors.As(err, &b) {
		return &CellError{line, strings.ToLower(b.Field), b.Value, b.Rule}
	}
	return err
}

// sameSheet is how far a measured thickness may be off the sheet's.
const sameSheet = 0.025

// sheetSize is the nominal thickness a measured one is a sheet of: the nearest of the
// decimal and the older thicknesses within 2.5 %, else itself.
func sheetSize(measured float64) float64 {
	best := settled(measured)
	near := sameSheet
	for _, t := range append(material.StockThicknesses(), material.OlderStockThicknesses()...) {
		if off := math.Abs(measured-t) / t; off < near {
			best, near = t, off
		}
	}
	return best
}
