package main

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"
)

// A fault is one thing wrong with a file and where it stands.
type fault struct {
	file  string
	place place
	field string
	value string
	rule  string
	err   error
}

// A place in the file, from 1; zero where it is not known.
type place struct{ line, column int }

func (f *fault) Error() string {
	at := f.file
	if f.place.line > 0 {
		at += fmt.Sprintf(":%d:%d", f.place.line, f.place.column)
	}
	if f.value != "" {
		return fmt.Sprintf("%s: %s %s: %s", at, f.field, f.value, f.rule)
	}
	return at + ": " + f.field + ": " + f.rule
}

func (f *fault) Unwrap() error { return f.err }

// An input is a file laid out by path: `member[1].line[0][1]`. What is asked for is
// ticked off, so that what is left over is known to nobody.
type input struct {
	file   string
	values map[string]scalar
	lists  map[string]int   // items of an array or of a [[list]]
	places map[string]place // of keys and of group heads
	order  []string         // paths of the keys, as they come
	asked  map[string]bool
	faults []*fault
}

// A scalar is a single value as it stands in the file.
type scalar struct {
	text string
	kind unstable.Kind
	at   place
}

// parse lays a file out, or returns what makes it no TOML.
func parse(file string, data []byte) (*input, error) {
	var whole map[string]any
	if err := toml.Unmarshal(data, &whole); err != nil {
		f := &fault{file: file, field: "file", rule: strings.TrimPrefix(err.Error(), "toml: "), err: err}
		var where *toml.DecodeError
		if errors.As(err, &where) {
			f.place.line, f.place.column = where.Position()
		}
		return nil, f
	}
	in := &input{file: file, values: map[string]scalar{}, lists: map[string]int{}, places: map[string]place{}, asked: map[string]bool{}}
	var p unstable.Parser
	p.Reset(data)
	group := ""
	for p.NextExpression() {
		e := p.Expression()
		switch e.Kind {
		case unstable.Table, unstable.ArrayTable:
			path, at := in.key(&p, e, "")
			if e.Kind == unstable.ArrayTable {
				in.lists[path]++
				path += "[" + strconv.Itoa(in.lists[path]-1) + "]"
			}
			group = path
			in.note(path, at)
		case unstable.KeyValue:
			path, at := in.key(&p, e, group)
			in.note(path, at)
			in.value(&p, path, at, e.Value())
		}
	}
	return in, nil
}

func (in *input) note(path string, at place) {
	in.places[path] = at
	in.order = append(in.order, path)
}

// key is the path of a key or group head; of a [[list]] on the way the last item is
// meant.
func (in *input) key(p *unstable.Parser, e *unstable.Node, path string) (string, place) {
	var at place
	for it := e.Key(); it.Next(); {
		if n := in.lists[path]; path != "" && n > 0 && !strings.HasSuffix(path, "]") {
			path += "[" + strconv.Itoa(n-1) + "]"
		}
		if at == (place{}) {
			start := p.Shape(it.Node().Raw).Start
			at = place{start.Line, start.Column}
		}
		path = strings.TrimPrefix(path+"."+string(it.Node().Data), ".")
	}
	return path, at
}

func (in *input) value(p *unstable.Parser, path string, at place, v *unstable.Node) {
	switch v.Kind {
	case unstable.Array:
		n := 0
		for it := v.Children(); it.Next(); n++ {
			item := path + "[" + strconv.Itoa(n) + "]"
			in.value(p, item, at, it.Node())
		}
		in.lists[path] = n
	case unstable.InlineTable:
		for it := v.Children(); it.Next(); {
			inner, where := in.key(p, it.Node(), path)
			in.note(inner, where)
			in.value(p, inner, where, it.Node().Value())
		}
	default:
		if v.Raw.Length > 0 {
			start := p.Shape(v.Raw).Start
			at = place{start.Line, start.Column}
		}
		in.values[path] = scalar{string(v.Data), v.Kind, at}
	}
}

// refuse notes a fault at a path. What is missing is a fault of its group.
func (in *input) refuse(path, value, rule string, err error) {
	f := &fault{file: in.file, field: spoken(path), value: value, rule: rule, err: err}
	for at := path; at != ""; at = outer(at) {
		if v, ok := in.values[at]; ok {
			f.place = v.at
			break
		}
		if p, ok := in.places[at]; ok {
			f.place = p
			break
		}
	}
	in.faults = append(in.faults, f)
}

// outer is the path of what holds a key.
func outer(path string) string { return path[:max(0, strings.LastIndexAny(path, ".["))] }

// spoken is a path as the maker would say it: `member 2 line 1`.
func spoken(path string) string {
	var b strings.Builder
	for rest := path; rest != ""; {
		head, tail, found := strings.Cut(rest, "[")
		b.WriteString(strings.ReplaceAll(head, ".", " "))
		if !found {
			break
		}
		number, after, _ := strings.Cut(tail, "]")
		n, _ := strconv.Atoi(number)
		b.WriteString(" " + strconv.Itoa(n+1))
		rest = after
	}
	return b.String()
}

// leftOver notes every key that was never asked for, with the one that was probably
// meant.
func (in *input) leftOver() {
	for _, path := range in.order {
		if in.asked[plainPath(path)] {
			continue
		}
		if head := outer(path); head != "" && !in.asked[plainPath(head)] && in.places[head] != (place{}) {
			continue // said of its group
		}
		rule := "is not a word of this file"
		if near := in.nearest(plainPath(path)); near != "" {
			rule += fmt.Sprintf(": did you mean %q?", near)
		}
		in.refuse(path, "", rule, nil)
	}
}

// plainPath leaves the numbers out.
func plainPath(path string) string {
	var b strings.Builder
	for i, part := range strings.Split(path, "[") {
		if i > 0 {
			_, part, _ = strings.Cut(part, "]")
		}
		b.WriteString(part)
	}
	return b.String()
}

// nearest is the word asked for in the same group that is nearest in its letters.
func (in *input) nearest(path string) string {
	group, word := "", path
	if dot := strings.LastIndex(path, "."); dot >= 0 {
		group, word = path[:dot+1], path[dot+1:]
	}
	best, least := "", len(word)/3+1
	for known := range in.asked {
		name, same := strings.CutPrefix(known, group)
		if !same || strings.Contains(name, ".") {
			continue
		}
		if d := letters(word, name); d < least || d == least && best != "" && name < best {
			best, least = name, d
		}
	}
	return best
}

// letters counts what to add, drop and change to make one word of the other.
func letters(a, b string) int {
	if len(a) > 40 {
		return len(a)
	}
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range a {
		corner := row[0]
		row[0]++
		for j := range b {
			change := corner
			if a[i] != b[j] {
				change++
			}
			corner, row[j+1] = row[j+1], min(change, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}

// err joins the faults in the order of the lines.
func (in *input) err() error {
	slices.SortStableFunc(in.faults, func(a, b *fault) int { return a.place.line - b.place.line })
	list := make([]error, len(in.faults))
	for i, f := range in.faults {
		list[i] = f
	}
	return errors.Join(list...)
}
