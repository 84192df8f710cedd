package loft

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/hangarflat/hangarflat/material/measure"
)

// A Table is a sheet of offsets as measured: one line of the aircraft, or several
// side by side over the same stations.
type Table struct {
	Lines []TableLine
}

// A TableLine is one named column of a table.
type TableLine struct {
	Name     string
	Readings []Reading
	Rows     []int // line of the file each reading stands on
}

// Line returns the readings of the line with that name; ok is false when there is
// none.
func (t Table) Line(name string) (line TableLine, ok bool) {
	for _, l := range t.Lines {
		if l.Name == name {
			return l, true
		}
	}
	return TableLine{}, false
}

// mostRows bounds a table of offsets taken by hand.
const mostRows = 100_000

// ReadTable reads a table of offsets from comma-separated text. The first row
// names the columns: "station", then one column for each line, and optionally
// "within", the tolerance ± of the row's readings, and "remark". A name carries its
// unit in brackets, mm, cm, m, in, thou or ft, as in "station [in]", or each of its
// cells does, "12 1/2 in"; a bare number without either is refused. An offset left
// empty was not taken. Rows come in order of station; a station given twice is a
// repeated reading. Rows that start with # are comments.
//
// within is the tolerance, mm, of rows that give none. Every fault is an [*Error]
// with its line and column, joined.
func ReadTable(r io.Reader, within float64) (Table, error) {
	var f faults
	if !(within >= 0 && within <= mostWithin) {
		f.add("tolerance", mm(within), "must be 0 to 1000 mm; is it in the right units?")
		return Table{}, f.err()
	}
	rows := csv.NewReader(r)
	rows.Comment = '#'
	rows.TrimLeadingSpace = true
	rows.FieldsPerRecord = -1
	head, err := rows.Read()
	if err != nil {
		return Table{}, csvFault(err, "a table starts with a row that names its columns, such as station [in],chine [in]")
	}
	cols := readHead(head, &f)
	if err := f.err(); err != nil {
		return Table{}, err
	}
	t := Table{}
	for _, c := range cols {
		if c.role == offsetColumn {
			t.Lines = append(t.Lines, TableLine{Name: c.name})
		}
	}
	for count := 0; ; count++ {
		cells, err := rows.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return Table{}, csvFault(err, "rows are cells parted by commas")
		}
		if count == mostRows {
			return Table{}, &Error{"table", fmt.Sprintf("more than %d rows", mostRows), "a scan belongs to package survey"}
		}
		line, _ := rows.FieldPos(0)
		readRow(cells, line, cols, within, &t, &f)
	}
	for _, l := range t.Lines {
		for i := 1; i < len(l.Readings); i++ {
			if a, b := l.Readings[i-1].Station, l.Readings[i].Station; b < a-sameStation {
				f.add(fmt.Sprintf("line %d column station", l.Rows[i]), mm(b), fmt.Sprintf("must not be less than the one before, %s: list the stations in order", mm(a)))
			}
		}
		if len(l.Readings) == 0 && len(f.list) == 0 {
			f.add("column "+l.Name, "no readings", "a line needs some")
		}
	}
	if err := f.err(); err != nil {
		return Table{}, err
	}
	return t, nil
}

func csvFault(err error, rule string) error {
	var p *csv.ParseError
	if errors.As(err, &p) {
		return &Error{fmt.Sprintf("line %d column %d", p.Line, p.Column), p.Err.Error(), rule}
	}
	if errors.Is(err, io.EOF) {
		return &Error{"table", "empty", rule}
	}
	return fmt.Errorf("loft: reading a table: %w", err)
}

type columnRole uint8

const (
	offsetColumn columnRole = iota
	stationColumn
	withinColumn
	remarkColumn
)

type column struct {
	name string
	unit string // "" when each cell carries its own
	role columnRole
}

// headUnits are what may stand in brackets after the name of a column.
var headUnits = []string{"mm", "cm", "m", "in", "thou", "ft"}

func readHead(head []string, f *faults) []column {
	cols := make([]column, len(head))
	var stations, offsets int
	var seen []string
	for i, h := range head {
		name, unit, bracket := strings.Cut(strings.TrimSpace(strings.TrimPrefix(h, "\ufeff")), "[")
		c := &cols[i]
		c.name = strings.TrimSpace(name)
		field := fmt.Sprintf("column %d", i+1)
		if bracket {
			c.unit = strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(unit), "]"))
			// What merely makes a length of a number in front may hold a number itself: 1/8 in.
			if !slices.Contains(headUnits, strings.ToLower(c.unit)) {
				f.add(field, h, "the unit in brackets must be mm, cm, m, in, thou or ft")
			}
		}
		switch strings.ToLower(c.name) {
		case "station":
			c.role = stationColumn
			stations++
		case "within":
			c.role = withinColumn
		case "remark":
			c.role = remarkColumn
		case "":
			f.add(field, h, "a column needs a name")
		default:
			offsets++
		}
		if slices.Contains(seen, strings.ToLower(c.name)) {
			f.add(field, h, "this name stands twice")
		}
		seen = append(seen, strings.ToLower(c.name))
	}
	if stations == 0 {
		f.add("table", strings.Join(head, ","), "one column must be named station")
	}
	if offsets == 0 {
		f.add("table", strings.Join(head, ","), "at least one column of offsets is needed")
	}
	return cols
}

func readRow(cells []string, line int, cols []column, within float64, t *Table, f *faults) {
	if len(cells) != len(cols) {
		f.add(fmt.Sprintf("line %d", line), fmt.Sprintf("%d cells", len(cells)), fmt.Sprintf("must have %d, like the first row", len(cols)))
		return
	}
	values, given := make([]float64, len(cols)), make([]bool, len(cols))
	station := 0.0
	good := true
	for i, c := range cols {
		if c.role == remarkColumn {
			continue
		}
		text := strings.TrimSpace(cells[i])
		field := fmt.Sprintf("line %d column %s", line, c.name)
		if text == "" {
			if c.role == stationColumn {
				f.add(field, "empty", "every row needs a station")
				good = false
			}
			continue
		}
		v, err := readCell(text, c.unit)
		switch {
		case err != nil:
			f.add(field, text, err.Error())
			good = false
		case !isLength(v):
			f.add(field, text, lengthRule)
			good = false
		case c.role == withinColumn && !(v >= 0 && v <= mostWithin):
			f.add(field, text, "a tolerance must be 0 to 1000 mm")
			good = false
		}
		values[i], given[i] = v, true
		switch c.role {
		case stationColumn:
			station = v
		case withinColumn:
			within = v
		}
	}
	if !good {
		return
	}
	k := 0
	for i, c := range cols {
		if c.role != offsetColumn {
			continue
		}
		if given[i] {
			l := &t.Lines[k]
			l.Readings = append(l.Readings, Reading{Station: station, Offset: values[i], Within: within})
			l.Rows = append(l.Rows, line)
		}
		k++
	}
}

// readCell reads a length that carries its unit, or takes the column's.
func readCell(text, unit string) (float64, error) {
	if unit != "" && strings.ContainsAny(text[len(text)-1:], "0123456789.") {
		text += " " + unit
	}
	v, err := measure.ParseLength(text)
	var s *measure.SyntaxError
	if errors.As(err, &s) {
		return 0, errors.New(s.Rule)
	}
	return v, err
}
