package family

import (
	"encoding/csv"
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
		rows := rowsOf(r)
		head, err := rows.Read()
		if err != nil {
			yield(Member{}, headless(name, err))
			return
		}
		columns, err := t.columns(name, head)
		if err != nil {
			yield(Member{}, err)
			return
		}
		for {
			row, err := rows.Read()
			if err == io.EOF {
				return
			}
			m, err := t.member(name, rows, head, columns, row, err)
			if !yield(m, err) {
				return
			}
			var broken *csv.ParseError
			if err != nil && !errors.As(err, &broken) && row == nil {
				return // the reader itself failed; no row will follow
			}
		}
	}
}

// CountRows counts the rows below the head of a table without filling them in, and
// returns the faults of the head.
func (t Template) CountRows(name string, r io.Reader) (int, error) {
	rows := rowsOf(r)
	rows.ReuseRecord = true
	head, err := rows.Read()
	if err != nil {
		return 0, headless(name, err)
	}
	if _, err := t.columns(name, slices.Clone(head)); err != nil {
		return 0, err
	}
	for n := 0; ; n++ {
		var broken *csv.ParseError
		if _, err := rows.Read(); err == io.EOF {
			return n, nil
		} else if err != nil && !errors.As(err, &broken) {
			return 0, &Error{File: name, Rule: "cannot be read", Err: err}
		}
	}
}

func rowsOf(r io.Reader) *csv.Reader {
	rows := csv.NewReader(r)
	rows.Comment = '#'
	rows.TrimLeadingSpace = true
	rows.FieldsPerRecord = -1 // a short row is its own fault, not the table's
	return rows
}

func headless(name string, err error) error {
	if err == io.EOF {
		err = nil
	}
	return &Error{File: name, Rule: "has no first row that names the columns", Err: err}
}

// columns finds each word of the template in the head of the table, and every
// fault of the head.
func (t Template) columns(name string, head []string) ([]int, error) {
	var faults []error
	for i := range head {
		head[i] = strings.TrimSpace(strings.TrimPrefix(head[i], "\ufeff"))
		switch {
		case slices.Contains(head[:i], head[i]):
			faults = append(faults, &Error{File: name, Line: 1, Field: head[i], Rule: "stands at the head of two columns"})
		case !slices.Contains(t.Words, head[i]):
			faults = append(faults, &Error{File: name, Line: 1, Field: head[i], Rule: fmt.Sprintf("is no word of %s, which has: %s", t.File, strings.Join(t.Words, ", "))})
		}
	}
	columns := make([]int, len(t.Words))
	for i, w := range t.Words {
		if columns[i] = slices.Index(head, w); columns[i] < 0 {
			faults = append(faults, &Error{File: name, Line: 1, Field: w, Rule: "this word of " + t.File + " has no column"})
		}
	}
	return columns, errors.Join(faults...)
}

func (t Template) member(name string, rows *csv.Reader, head []string, columns []int, row []string, err error) (Member, error) {
	if err != nil {
		var broken *csv.ParseError
		if errors.As(err, &broken) {
			return Member{Line: broken.Line}, &Error{File: name, Line: broken.Line, Rule: "is not a row of the table", Err: err}
		}
		return Member{}, &Error{File: name, Rule: "cannot be read", Err: err}
	}
	line, _ := rows.FieldPos(0)
	m := Member{Line: line, Texts: make([]string, len(columns))}
	if len(row) != len(head) {
		return m, &Error{File: name, Line: line, Value: fmt.Sprintf("%d cells", len(row)), Rule: fmt.Sprintf("the table has %d columns", len(head))}
	}
	for i, c := range columns {
		m.Texts[i] = strings.TrimSpace(row[c])
	}
	if m.Document, err = t.Fill(m.Texts); err != nil {
		return m, &Error{File: name, Line: line, Rule: "makes no part", Err: err}
	}
	return m, nil
}
