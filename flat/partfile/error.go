package partfile

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strconv"
)

// An Error is one fault of a part file. [Read] returns every fault of a file,
// joined in the order of the lines; [Faults] lists them, errors.As finds the
// first.
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

// err joins the faults in the order of the file; nil if there are none.
func (f *faults) err() error {
	slices.SortStableFunc(f.list, func(a, b *Error) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
	})
	joined := make([]error, len(f.list))
	for i, e := range f.list {
		joined[i] = e
	}
	return errors.Join(joined...)
}
