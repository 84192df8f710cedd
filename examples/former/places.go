package main

import (
	"errors"
	"fmt"
	"slices"
	"sort"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"
)

// A fault is one thing wrong with a file and where it stands.
type fault struct {
	file         string
	line, column int // from 1; 0 where the place is not known
	field        string
	value        string
	rule         string
	meant        string // of an unknown key, the path of the one that was probably meant
	err          error
}

func (f *fault) Error() string {
	s := f.file
	if f.line > 0 {
		s += fmt.Sprintf(":%d:%d", f.line, f.column)
	}
	s += ": " + f.field
	if f.value != "" {
		s += " " + strconv.Quote(f.value)
	}
	return s + ": " + f.rule
}

func (f *fault) Unwrap() error { return f.err }

// A place in the file, from 1.
type place struct{ line, column int }

// places finds where every key and value of a TOML file stands, by its path:
// "outer.leg[1].to[0]". Of a table it is the header.
func places(data []byte) map[string]place {
	found := map[string]place{}
	count := map[string]int{}
	at := func(p *unstable.Parser, r unstable.Range) place {
		s := p.Shape(r).Start
		return place{s.Line, s.Column}
	}
	var p unstable.Parser
	p.Reset(data)
	prefix := ""
	for p.NextExpression() {
		e := p.Expression()
		path, where := keyPath(&p, e)
		switch e.Kind {
		case unstable.Table:
			prefix = opened(path, count)
			found[prefix] = at(&p, where)
		case unstable.ArrayTable:
			count[path]++
			prefix = opened(path, count)
			found[prefix] = at(&p, where)
		case unstable.KeyValue:
			if prefix != "" {
				path = prefix + "." + path
			}
			found[path] = at(&p, where)
			within(&p, e.Value(), path, found)
		}
	}
	return found
}

func keyPath(p *unstable.Parser, e *unstable.Node) (path string, where unstable.Range) {
	var parts []string
	for it := e.Key(); it.Next(); {
		if len(parts) == 0 {
			where = it.Node().Raw
		}
		parts = append(parts, string(it.Node().Data))
	}
	return strings.Join(parts, "."), where
}

// opened puts the number of its last item behind every list on the way of a header.
func opened(path string, count map[string]int) string {
	parts := strings.Split(path, ".")
	done, plain := "", ""
	for i, part := range parts {
		if i > 0 {
			done, plain = done+".", plain+"."
		}
		done, plain = done+part, plain+part
		if n := count[plain]; n > 0 {
			done += "[" + strconv.Itoa(n-1) + "]"
		}
	}
	return done
}

// within adds the items of an array.
func within(p *unstable.Parser, v *unstable.Node, path string, found map[string]place) {
	if v.Kind != unstable.Array {
		return
	}
	i := 0
	for it := v.Children(); it.Next(); i++ {
		item := path + "[" + strconv.Itoa(i) + "]"
		found[item] = found[path]
		if n := it.Node(); n.Raw.Length > 0 {
			s := p.Shape(n.Raw).Start
			found[item] = place{s.Line, s.Column}
		}
		within(p, it.Node(), item, found)
	}
}

// decode reads the file strictly: a key nobody knows is a fault, with the key that was
// probably meant.
func decode(name string, data []byte, into *file) []error {
	d := toml.NewDecoder(strings.NewReader(string(data)))
	d.DisallowUnknownFields()
	err := d.Decode(into)
	var unknown *toml.StrictMissingError
	var syntax *toml.DecodeError
	switch {
	case errors.As(err, &unknown):
		var list []error
		for _, e := range unknown.Errors {
			line, column := e.Position()
			key := e.Key()
			rule := "is not a key of this file"
			near := nearest(key[len(key)-1])
			if near != "" {
				rule += fmt.Sprintf(": did you mean %q?", near)
			}
			list = append(list, &fault{file: name, line: line, column: column, field: strings.Join(key, "."), rule: rule,
				meant: strings.Join(append(slices.Clone(key[:len(key)-1]), near), ".")})
		}
		return list
	case errors.As(err, &syntax):
		line, column := syntax.Position()
		field := strings.Join(syntax.Key(), ".")
		if field == "" {
			field = "line"
		}
		return []error{&fault{file: name, line: line, column: column, field: field, rule: strings.TrimPrefix(syntax.Error(), "toml: "), err: err}}
	case err != nil:
		return []error{&fault{file: name, field: "file", rule: err.Error(), err: err}}
	}
	return nil
}

// known are the words that stand left of an equals sign or in brackets.
var known = [...]string{"name", "title", "pieces", "method", "sheet", "bends", "outer", "inner", "cutout", "split", "block", "substitute",
	"material", "thickness", "rule", "neutral", "mirror", "start", "leg", "points", "tolerance", "inset", "flange", "to", "radius", "turn", "long",
	"height", "bevel", "bevels", "model", "trim", "rivets", "diameter", "pitch", "line", "girth", "angle", "centre", "both", "width", "depth",
	"clearance", "cut", "stock", "block_stock", "gap", "neighbours", "stagger", "rivet", "joints", "overbend", "size", "pin", "pins", "cover"}

// nearest is the known word at most a third of whose letters are wrong, or "".
func nearest(word string) string {
	best, least := "", len(word)/3+1
	for _, k := range known {
		if d := distance(strings.ToLower(word), k); d < least {
			best, least = k, d
		}
	}
	return best
}

// distance counts the letters to put in, take out or change to turn a into b.
func distance(a, b string) int {
	a = a[:min(len(a), 64)] // no key is longer
	last := make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := range len(a) {
		next := make([]int, len(b)+1)
		next[0] = i + 1
		for j := range len(b) {
			change := last[j]
			if a[i] != b[j] {
				change++
			}
			next[j+1] = min(change, last[j+1]+1, next[j]+1)
		}
		last = next
	}
	return last[len(b)]
}

// inOrder joins faults by their line.
func inOrder(list []error) error {
	line := func(e error) int {
		var f *fault
		if errors.As(e, &f) {
			return f.line
		}
		return 1 << 30
	}
	sort.SliceStable(list, func(i, j int) bool { return line(list[i]) < line(list[j]) })
	return errors.Join(slices.Clip(list)...)
}
