package main

import (
	"go/ast"
	"go/token"
	"slices"
	"strconv"

	"github.com/hangarflat/hangarflat/material"
)

// unknown stands in a text for what only the running program knows.
const unknown = "…"

// A scope is where an expression stands: its package, its function, and what the
// function was called with.
type scope struct {
	code code
	room *room
	fn   *ast.FuncDecl
	args map[string]string
}

// texts are the values a text can have: more than one where a variable is set in
// more than one place.
func (s scope) texts(e ast.Expr) []string {
	switch e := e.(type) {
	case *ast.BasicLit:
		if e.Kind == token.STRING {
			if text, err := strconv.Unquote(e.Value); err == nil {
				return []string{text}
			}
		}
	case *ast.ParenExpr:
		return s.texts(e.X)
	case *ast.Ident:
		if v, ok := s.args[e.Name]; ok {
			return []string{v}
		}
		if set := s.assigned(e.Name); len(set) > 0 {
			var all []string
			for _, v := range set {
				all = append(all, s.texts(v)...)
			}
			return all
		}
		if v, ok := s.room.values[e.Name]; ok {
			return scope{s.code, s.room, nil, nil}.texts(v)
		}
	case *ast.BinaryExpr:
		if e.Op == token.ADD {
			var all []string
			for _, a := range s.texts(e.X) {
				for _, b := range s.texts(e.Y) {
					all = append(all, a+b)
				}
			}
			return all
		}
	}
	return []string{unknown}
}

// assigned are the values a variable is given in the function.
func (s scope) assigned(name string) []ast.Expr {
	if s.fn == nil {
		return nil
	}
	var set []ast.Expr
	ast.Inspect(s.fn, func(n ast.Node) bool {
		a, ok := n.(*ast.AssignStmt)
		if !ok {
			return true
		}
		for i, left := range a.Lhs {
			if id, ok := left.(*ast.Ident); ok && id.Name == name {
				if len(a.Lhs) == len(a.Rhs) {
					set = append(set, a.Rhs[i])
				} else {
					set = append(set, a.Rhs[0]) // of several results: a call, not known here
				}
			}
		}
		return true
	})
	return set
}

// sources are the sources an expression can stand for, none where the program alone knows.
func (s scope) sources(e ast.Expr) []material.Source {
	switch e := e.(type) {
	case *ast.CompositeLit:
		if isSource(e.Type) && len(e.Elts) > 0 {
			return s.written(e)
		}
	case *ast.Ident:
		if set := s.assigned(e.Name); len(set) > 0 {
			var all []material.Source
			for _, v := range set {
				all = append(all, s.sources(v)...)
			}
			return s.placed(e.Name, all)
		}
		if v, ok := s.room.values[e.Name]; ok {
			return scope{s.code, s.room, nil, nil}.sources(v)
		}
	case *ast.CallExpr:
		switch f := e.Fun.(type) {
		case *ast.Ident:
			return s.called(s.room, f.Name, e.Args)
		case *ast.SelectorExpr:
			if id, ok := f.X.(*ast.Ident); ok {
				return s.called(s.code.called(id.Name), f.Sel.Name, e.Args)
			}
		}
	}
	return nil
}

// placed gives sources kept in a variable the place that is set afterwards.
func (s scope) placed(name string, all []material.Source) []material.Source {
	ast.Inspect(s.fn, func(n ast.Node) bool {
		a, ok := n.(*ast.AssignStmt)
		if !ok || len(a.Lhs) != 1 || len(a.Rhs) != 1 {
			return true
		}
		sel, ok := a.Lhs[0].(*ast.SelectorExpr)
		if !ok || sel.Sel.Name != "Place" {
			return true
		}
		if id, ok := sel.X.(*ast.Ident); ok && id.Name == name {
			for i := range all {
				all[i].Place = s.texts(a.Rhs[0])[0]
			}
		}
		return true
	})
	return all
}

// called are the sources a function returns.
func (s scope) called(r *room, name string, args []ast.Expr) []material.Source {
	if r == nil || r.funcs[name] == nil {
		return nil
	}
	fn := r.funcs[name]
	if fn.Type.Results.NumFields() != 1 || !isSource(fn.Type.Results.List[0].Type) {
		return nil
	}
	in := scope{s.code, r, fn, map[string]string{}}
	i := 0
	for _, p := range fn.Type.Params.List {
		for _, id := range p.Names {
			if i < len(args) {
				in.args[id.Name] = s.texts(args[i])[0]
			}
			i++
		}
	}
	var all []material.Source
	ast.Inspect(fn.Body, func(n ast.Node) bool {
		if ret, ok := n.(*ast.ReturnStmt); ok && len(ret.Results) == 1 {
			all = append(all, in.sources(ret.Results[0])...)
		}
		return true
	})
	return all
}

func isSource(t ast.Expr) bool {
	switch t := t.(type) {
	case *ast.Ident:
		return t.Name == "Source"
	case *ast.SelectorExpr:
		return t.Sel.Name == "Source"
	}
	return false
}

// written reads a source written out.
func (s scope) written(lit *ast.CompositeLit) []material.Source {
	var document, place = []string{""}, []string{""}
	var p material.Provenance
	for i, e := range lit.Elts {
		key, value := []string{"Document", "Place", "Provenance"}[i], e
		if kv, ok := e.(*ast.KeyValueExpr); ok {
			key, value = kv.Key.(*ast.Ident).Name, kv.Value
		}
		switch key {
		case "Document":
			document = s.texts(value)
		case "Place":
			place = s.texts(value)
		case "Provenance":
			p = provenance(value)
		}
	}
	var all []material.Source
	for _, d := range document {
		for _, at := range place {
			all = append(all, material.Source{Document: d, Place: at, Provenance: p})
		}
	}
	return all
}

func provenance(e ast.Expr) material.Provenance {
	name := ""
	switch e := e.(type) {
	case *ast.Ident:
		name = e.Name
	case *ast.SelectorExpr:
		name = e.Sel.Name
	}
	names := []string{"Unstated", "Read", "Memory", "CommonPractice", "Derived", "Measured"}
	return material.Provenance(max(0, slices.Index(names, name)))
}
