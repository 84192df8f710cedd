package main

import (
	"errors"
	"fmt"
	"go/ast"
	"math"
	"slices"
	"strings"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/material/measure"
)

// A formula is one line of the page.
type formula struct {
	room    string // package
	name    string // what it is for
	text    string // "SB = (R + T)·tan(A/2)"
	sources []string
	tests   []string
}

// key is how held.toml names a formula.
func (f formula) key() string { return f.room + ": " + f.text }

// formulas are all formulas of steps and laws: those written in the source, and those
// the working of a bend puts together as it runs.
func (c code) formulas() ([]formula, error) {
	all, err := bendSteps()
	if err != nil {
		return nil, err
	}
	for _, r := range c {
		for _, f := range r.files {
			for _, d := range f.tree.Decls {
				fn, _ := d.(*ast.FuncDecl)
				s := scope{c, r, fn, nil}
				ast.Inspect(d, func(n ast.Node) bool {
					lit, ok := n.(*ast.CompositeLit)
					if !ok {
						return true
					}
					more, bad := s.literal(lit)
					if bad != nil {
						err = errors.Join(err, fmt.Errorf("%s: %w", f.name, bad))
					}
					all = append(all, more...)
					return true
				})
			}
		}
	}
	return merged(all), err
}

// literal is the formulas of one literal of a step or a law, which may be none.
func (s scope) literal(lit *ast.CompositeLit) ([]formula, error) {
	fields := map[string]ast.Expr{}
	for _, e := range lit.Elts {
		if kv, ok := e.(*ast.KeyValueExpr); ok {
			if id, ok := kv.Key.(*ast.Ident); ok {
				fields[id.Name] = kv.Value
			}
		}
	}
	if fields["Formula"] == nil {
		return nil, nil
	}
	var sources []string
	if fields["Source"] != nil {
		for _, src := range s.sources(fields["Source"]) {
			sources = append(sources, src.String())
		}
	}
	if sources == nil {
		sources = []string{"the table or rule in use"}
	}
	var all []formula
	if law := fields["Name"]; law != nil {
		for _, name := range s.texts(law) {
			for _, text := range s.texts(fields["Formula"]) {
				all = append(all, formula{room: s.room.dir, name: name, text: text, sources: sources})
			}
			if fields["KFormula"] != nil {
				all = append(all, formula{room: s.room.dir, name: name, text: "K = " + s.texts(fields["KFormula"])[0], sources: sources})
			}
		}
		return all, known(all)
	}
	name := s.quantity(fields["Quantity"])
	for _, symbol := range s.texts(fields["Symbol"]) {
		for _, text := range s.texts(fields["Formula"]) {
			all = append(all, formula{room: s.room.dir, name: name, text: symbol + " = " + text, sources: sources})
		}
	}
	if s.room.dir == "bend" { // bendSteps has what is put together as it runs
		all = slices.DeleteFunc(all, func(f formula) bool { return strings.Contains(f.text, unknown) })
	}
	return all, known(all)
}

func known(all []formula) error {
	for _, f := range all {
		if strings.Contains(f.text, unknown) {
			return fmt.Errorf("the formula of %q cannot be read from the source: %s", f.name, f.text)
		}
	}
	return nil
}

// quantity is what a step computes, without the name of the bend or the part.
func (s scope) quantity(e ast.Expr) string {
	if call, ok := e.(*ast.CallExpr); ok && len(call.Args) > 0 {
		e = call.Args[0] // the format of a Sprintf
	}
	if e == nil {
		return ""
	}
	text := s.texts(e)[0]
	for _, verb := range []string{"%q", "%s", "%d"} {
		text = strings.ReplaceAll(text, verb, unknown)
	}
	return strings.TrimSuffix(strings.TrimRight(text, " ,"+unknown), " of")
}

// bendSteps is the working of a bend and of a fold, as the library gives it.
func bendSteps() ([]formula, error) {
	var all []formula
	for _, a := range []measure.Angle{math.Pi / 2, math.Pi} {
		steps, err := bend.Working(bend.Handbook{}, bend.Bend{Angle: a, Radius: 4, Thickness: 1}, "")
		if err != nil {
			return nil, err
		}
		for _, st := range steps {
			if st.Symbol != "BA" { // stands with its law
				all = append(all, formula{room: "bend", name: strings.TrimSuffix(st.Quantity, " of "), text: st.Symbol + " = " + st.Formula, sources: []string{st.Source.String()}})
			}
		}
	}
	return all, nil
}

// merged sorts formulas and makes one of those that differ in name or source alone.
func merged(all []formula) []formula {
	slices.SortStableFunc(all, func(a, b formula) int { return strings.Compare(a.key(), b.key()) })
	var out []formula
	for _, f := range all {
		if n := len(out); n == 0 || out[n-1].key() != f.key() {
			out = append(out, f)
			continue
		}
		last := &out[len(out)-1]
		if f.name != "" && !slices.Contains(strings.Split(last.name, "; "), f.name) {
			last.name += "; " + f.name
		}
		for _, src := range f.sources {
			if !slices.Contains(last.sources, src) {
				last.sources = append(last.sources, src)
			}
		}
	}
	for i := range out {
		slices.Sort(out[i].sources)
	}
	return out
}

// told is a formula that stands in the comment of an exported name and in no step.
func (c code) told(t toldEntry) (formula, error) {
	dir, name, _ := strings.Cut(t.At, ".")
	r := c.room(dir)
	if r == nil || r.docs[name] == "" {
		return formula{}, fmt.Errorf("held.toml: %s is no documented name of the library", t.At)
	}
	if !strings.Contains(strings.Join(strings.Fields(r.docs[name]), " "), t.Formula) {
		return formula{}, fmt.Errorf("held.toml: the comment of %s does not say %q", t.At, t.Formula)
	}
	source := t.Source
	if dir, fn, ok := strings.Cut(t.Source, "."); ok && c.room(dir) != nil {
		found := scope{code: c}.called(c.room(dir), fn, nil)
		if len(found) != 1 {
			return formula{}, fmt.Errorf("held.toml: %s does not answer with one source", t.Source)
		}
		source = found[0].String()
	}
	return formula{room: r.dir, name: name, text: t.Formula, sources: []string{source}, tests: t.Tests}, nil
}

// sources are all sources written in the library, each with the files it stands in.
func (c code) sources() []sourceUse {
	uses := map[string][]string{}
	for _, r := range c {
		for _, f := range r.files {
			if strings.HasSuffix(f.name, "_gen.go") {
				continue // the tables, listed on their own
			}
			for _, d := range f.tree.Decls {
				fn, _ := d.(*ast.FuncDecl)
				s := scope{c, r, fn, nil}
				ast.Inspect(d, func(n ast.Node) bool {
					e, ok := n.(ast.Expr)
					if !ok {
						return true
					}
					if lit, ok := e.(*ast.CompositeLit); ok && (!isSource(lit.Type) || len(lit.Elts) == 0) {
						return true
					}
					if _, ok := e.(*ast.Ident); ok {
						return true
					}
					for _, src := range s.sources(e) {
						if text := src.String(); !strings.Contains(text, unknown) && src.Document != "" && !slices.Contains(uses[text], f.name) {
							uses[text] = append(uses[text], f.name)
						}
					}
					return true
				})
			}
		}
	}
	var all []sourceUse
	for text, files := range uses {
		all = append(all, sourceUse{text, files})
	}
	slices.SortFunc(all, func(a, b sourceUse) int { return strings.Compare(a.text, b.text) })
	return all
}

// A sourceUse is a source and the files that name it.
type sourceUse struct {
	text  string
	files []string
}
