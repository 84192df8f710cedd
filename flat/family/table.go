package family

import (
	"errors"
	"fmt"
	"io"
	"iter"
	"slices"
	"strings"

	"github.com/hangarflat/hangarflat/flat/partfile"
)

// A Member is one row of a table, filled in.
type Member struct {
	Line  int      // of the table
	Texts []string // in the order of the template's words
	partfile.Document
}

// Members reads a table row by row and fills the template in with each; memory
// does not grow with the table. A row that is at fault is given with its error,
// and the next follows. A fault of the head of the table is the only thing given.
func (t Template) Members(name string, r io.Reader) iter.Seq2[Member, error] {
	return func(yield func(Member, error) bool) {
		rows, head, err := t.begin(name, r)
		if err != nil {
			yield(Member{}, err)
			return
		}
		for {
			row, err := rows.next()
			if err == io.EOF {
				return
			}
			if err != nil {
				fault, more := rows.fault(err)
				if !yield(Member{Line: fault.Line}, fault) || !more {
					return
				}
				continue
			}
			line, _ := rows.FieldPos(0)
			if !yield(t.member(name, line, head, row)) {
				return
			}
		}
	}
}

// CountRows counts the rows below the head of a table without filling them in, and
// returns the faults of the head. Each is an [*Error]. It returns one too for text that cannot be
// read on, and none for a row at fault, which is counted.
func (t Template) CountRows(name string, r io.Reader) (int, error) {
	rows, _, err := t.begin(name, r)
	if err != nil {
		return 0, err
	}
	rows.ReuseRecord = true
	for n := 0; ; n++ {
		if _, err := rows.next(); err == io.EOF {
			return n, nil
		} else if err != nil {
			if fault, more := rows.fault(err); !more {
				return 0, fault
			}
		}
	}
}

// A heading is the first row of a table.
type heading struct {
	names   []string // of its columns; "" of a column that must be blank
	columns []int    // in which each word of the template stands
}

// begin reads a table's first row.
func (t Template) begin(name string, r io.Reader) (rows, heading, error) {
	rows, err := rowsOf(name, r)
	if err != nil {
		return rows, heading{}, err
	}
	names, err := rows.next()
	switch {
	case err == io.EOF:
		return rows, heading{}, &Error{File: name, Rule: "has no first row that names the columns"}
	case err != nil:
		fault, _ := rows.fault(err)
		return rows, heading{}, fault
	}
	line, _ := rows.FieldPos(0)
	head, err := t.heading(name, line, names)
	return rows, head, err
}

// heading finds each word of the template among the names of the columns, and every
// fault of these. Behind the last name spreadsheets save columns of nothing.
func (t Template) heading(name string, line int, names []string) (heading, error) {
	var faults []error
	fault := func(field, rule string) {
		faults = append(faults, &Error{File: name, Line: line, Field: field, Rule: rule})
	}
	for i, n := range names {
		names[i] = wordOf(n)
		switch {
		case names[i] == "":
		case slices.Contains(names[:i], names[i]):
			fault(names[i], "stands at the head of two columns")
		case !slices.Contains(t.Words, names[i]):
			fault(names[i], fmt.Sprintf("is no word of %s, which has: %s", t.File, strings.Join(t.Words, ", ")))
		}
	}
	for names[len(names)-1] == "" { // the row is not blank
		names = names[:len(names)-1]
	}
	columns := make([]int, len(t.Words))
	for i, w := range t.Words {
		if columns[i] = slices.Index(names, w); columns[i] < 0 {
			fault(w, "this word of "+t.File+" has no column")
		}
	}
	return heading{names, columns}, errors.Join(faults...)
}

func (t Template) member(name string, line int, head heading, row []string) (Member, error) {
	m := Member{Line: line, Texts: make([]string, len(head.columns))}
	for len(row) > len(head.names) && strings.TrimSpace(row[len(row)-1]) == "" {
		row = row[:len(row)-1]
	}
	if len(row) != len(head.names) {
		return m, &Error{File: name, Line: line, Value: fmt.Sprintf("%d cells", len(row)), Rule: fmt.Sprintf("the table has %d columns", len(head.names))}
	}
	for i, cell := range row {
		if head.names[i] == "" && strings.TrimSpace(cell) != "" {
			return m, &Error{File: name, Line: line, Value: fmt.Sprintf("%q", cell), Rule: fmt.Sprintf("stands in column %d, which has no name in the first row", i+1)}
		}
	}
	for i, c := range head.columns {
		m.Texts[i] = strings.TrimSpace(row[c])
	}
	var err error
	if m.Document, err = t.Fill(m.Texts); err != nil {
		return m, &Error{File: name, Line: line, Rule: "makes no part", Err: err}
	}
	return m, nil
}
