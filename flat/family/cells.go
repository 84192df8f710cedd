package family

import (
	"errors"
	"slices"
	"strings"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/partfile"
)

// Text returns the template as it was read.
func (t Template) Text() string { return t.text }

// WordsOn returns the words that stand on a line of the template, counted from 1, in
// the order of Words. Remarks hold none.
func (t Template) WordsOn(line int) []string {
	if line < 1 || line > len(t.lines) {
		return nil
	}
	var on []string
	for _, w := range t.Words {
		if slices.ContainsFunc(word.FindAllStringSubmatch(t.lines[line-1], -1), func(m []string) bool { return wordOf(m[1]) == w }) {
			on = append(on, w)
		}
	}
	return on
}

// Alone reports whether a word fills whole values of the part file wherever it
// stands: "<length>", and never "bay <length>". Such a word is of one kind, a length
// or an angle or a name; another is text.
func (t Template) Alone(w string) bool {
	there := false
	for _, code := range t.lines {
		for _, at := range word.FindAllStringSubmatchIndex(code, -1) {
			if wordOf(code[at[2]:at[3]]) != w {
				continue
			}
			if there = true; !quoted(code, at[0], at[1]) {
				return false
			}
		}
	}
	return there
}

// quoted reports whether code[from:to] stands between two quotation marks of a kind.
func quoted(code string, from, to int) bool {
	return from > 0 && to < len(code) && code[from-1] == code[to] && (code[to] == '"' || code[to] == '\'')
}

// Faults takes apart what is wrong with one row of the table called name, whether
// filling it in was refused or what came after, such as its development. A fault
// that stands on a line of the template with words to fill in is the fault of the
// cells of those words, and has the word in Field and the cell in Value; where one of
// them is quoted by the fault, of that one alone. Any other has neither.
func (t Template) Faults(name string, m Member, err error) []*Error {
	var list []*Error
	for _, leaf := range leaves(err) {
		var own *Error
		var filled *partfile.Error
		var part *flat.Error
		switch {
		case errors.As(leaf, &own) && within(own.Err):
			list = append(list, t.Faults(name, m, own.Err)...)
		case errors.As(leaf, &own):
			list = append(list, &Error{File: name, Line: m.Line, Field: own.Field, Value: own.Value, Rule: own.Rule, Err: own.Err})
		case errors.As(leaf, &filled):
			list = append(list, t.cells(name, m, filled)...)
		case errors.As(leaf, &part):
			for _, at := range partfile.Faults(m.Locate(leaf)) {
				list = append(list, t.cells(name, m, at)...)
			}
		default:
			list = append(list, &Error{File: name, Line: m.Line, Rule: "makes no part", Err: leaf})
		}
	}
	return list
}

// within reports whether an error holds faults that know more of their place.
func within(err error) bool {
	var own *Error
	return errors.As(err, &own) || len(partfile.Faults(err)) > 0
}

// cells gives a fault of the filled-in part file to the cells it comes from.
func (t Template) cells(name string, m Member, fault *partfile.Error) []*Error {
	words := t.WordsOn(fault.Line)
	cell := func(w string) string {
		if i := slices.Index(t.Words, w); i >= 0 && i < len(m.Texts) {
			return m.Texts[i]
		}
		return ""
	}
	named := slices.DeleteFunc(slices.Clone(words), func(w string) bool { return cell(w) == "" || !strings.Contains(fault.Value, cell(w)) })
	if len(named) > 0 {
		words = named
	}
	if len(words) == 0 {
		return []*Error{{File: name, Line: m.Line, Rule: "makes no part", Err: fault}}
	}
	var list []*Error
	for _, w := range words {
		list = append(list, &Error{File: name, Line: m.Line, Field: w, Value: `"` + cell(w) + `"`, Rule: "makes no part", Err: fault})
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
