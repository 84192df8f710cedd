package partfile

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strconv"
)

// An Error is one fault of a part file. [Read] returns every fault of a file, of more than a hundred the
// first hundred and their number, joined in the order of the lines; [Faults] lists them, errors.As finds
// the first.
type Error struct {
	File string // as given to Read
	// Line and Column count from 1, the column in bytes. Both are 0 where the
	// fault is of a part that was never in a file; see [Write].
	Line, Column int
	Field        string // "edge 2 flange 1 angle", things of a kind counted from 1
	Value        string // as it stands in the file; empty where something is missing
	Rule         string // what is wanted instead
	Err          error  // the error of the package that refused the value, or nil
}

func (e *Error) Error() string {
	text := e.File
	if e.Line > 0 {
		text += ":" + strconv.Itoa(e.Line) + ":" + strconv.Itoa(e.Column)
	}
	for _, part := range []string{e.Field, e.Value, e.Rule} {
		if part != "" && text != "" {
			text += ": "
		}
		text += part
	}
	return text
}

// Unwrap returns the error of the package that refused the value, or nil.
func (e *Error) Unwrap() error { return e.Err }

// Faults lists the faults an error of this package holds, in the order of the
// lines of the file.
func Faults(err error) []*Error {
	var list []*Error
	for _, leaf := range leaves(err) {
		var fault *Error
		if errors.As(leaf, &fault) {
			list = append(list, fault)
		}
	}
	return list
}

// leaves takes joined errors apart.
func leaves(err error) []error {
	joined, ok := err.(interface{ Unwrap() []error })
	if !ok {
		if err == nil {
			return nil
		}
		return []error{err}
	}
	var list []error
	for _, e := range joined.Unwrap() {
		list = append(list, leaves(e)...)
	}
	return list
}

// neverInAFile is a fault of a text that Read refused before it became a file: without its places.
func neverInAFile(err error) error {
	var list []error
	for _, f := range Faults(err) {
		e := *f
		e.Line, e.Column = 0, 0
		list = append(list, &e)
	}
	return errors.Join(list...)
}

// A place is where something stands in a file, counted from 1.
type place struct{ line, column int }

// faults collects what is wrong with one file.
type faults struct {
	file string
	list []*Error
}

func (f *faults) add(at place, field, value, rule string, from error) {
	f.list = append(f.list, &Error{f.file, at.line, at.column, field, value, rule, from})
}

func (f *faults) addf(at place, field, value, rule string, args ...any) {
	f.add(at, field, value, fmt.Sprintf(rule, args...), nil)
}

// mostFaults keeps the report of a hopeless file readable.
const mostFaults = 100

// err joins the faults in the order of the file, the first hundred of them; nil if there are none.
func (f *faults) err() error {
	slices.SortStableFunc(f.list, func(a, b *Error) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
	})
	var joined []error
	for _, e := range f.list[:min(len(f.list), mostFaults)] {
		joined = append(joined, e)
	}
	if more := len(f.list) - mostFaults; more > 0 {
		at := f.list[mostFaults]
		joined = append(joined, &Error{File: f.file, Line: at.Line, Column: at.Column, Rule: fmt.Sprintf("%d more faults from here on are not listed", more)})
	}
	return errors.Join(joined...)
}
