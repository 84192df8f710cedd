package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strings"
)

// A room is one package: its source and its tests.
type room struct {
	dir    string // from the root, "flat/rivet"
	files  []sourceFile
	values map[string]ast.Expr // constants and variables of the package
	funcs  map[string]*ast.FuncDecl
	docs   map[string]string // of what is declared; methods and fields as "Rivet.Pitch"
	tests  map[string]testFunc
}

type sourceFile struct {
	name string // from the root
	tree *ast.File
}

// A testFunc is a test with the words its body holds.
type testFunc struct {
	file  string // from the root
	words map[string]bool
}

// code is all the packages, sorted by folder.
type code []*room

// readCode reads the packages of the library; examples, generators and testdata are
// not among them, but their tests are.
func readCode(root string) (code, error) {
	rooms := map[string]*room{}
	set := token.NewFileSet()
	for _, top := range []string{"material", "bend", "flat", "dxfout"} {
		err := filepath.WalkDir(filepath.Join(root, top), func(name string, d fs.DirEntry, err error) error {
			if err != nil {
				return err
			}
			if d.IsDir() && d.Name() == "testdata" {
				return filepath.SkipDir
			}
			if !strings.HasSuffix(name, ".go") {
				return nil
			}
			rel, err := filepath.Rel(root, name)
			if err != nil {
				return err
			}
			tree, err := parser.ParseFile(set, name, nil, parser.ParseComments)
			if err != nil {
				return err
			}
			f := sourceFile{filepath.ToSlash(rel), tree}
			dir := path.Dir(f.name)
			if rooms[dir] == nil {
				rooms[dir] = &room{dir: dir, values: map[string]ast.Expr{}, funcs: map[string]*ast.FuncDecl{}, docs: map[string]string{}, tests: map[string]testFunc{}}
			}
			rooms[dir].take(f)
			return nil
		})
		if err != nil {
			return nil, err
		}
	}
	var c code
	for _, r := range rooms {
		slices.SortFunc(r.files, func(a, b sourceFile) int { return strings.Compare(a.name, b.name) })
		c = append(c, r)
	}
	slices.SortFunc(c, func(a, b *room) int { return strings.Compare(a.dir, b.dir) })
	return c, nil
}

func (r *room) take(f sourceFile) {
	if strings.HasSuffix(f.name, "_test.go") {
		for _, d := range f.tree.Decls {
			fn, ok := d.(*ast.FuncDecl)
			if ok && fn.Recv == nil && (strings.HasPrefix(fn.Name.Name, "Test") || strings.HasPrefix(fn.Name.Name, "Example")) {
				r.tests[fn.Name.Name] = testFunc{f.name, wordsOf(fn)}
			}
		}
		return
	}
	if strings.Contains(f.name, "internal/") || f.tree.Name.Name == "main" {
		return
	}
	r.files = append(r.files, f)
	for _, d := range f.tree.Decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			r.takeFunc(d)
		case *ast.GenDecl:
			r.takeSpecs(d)
		}
	}
}

func (r *room) takeFunc(d *ast.FuncDecl) {
	name := d.Name.Name
	if d.Recv == nil {
		r.funcs[name] = d
	} else {
		on := d.Recv.List[0].Type
		if star, ok := on.(*ast.StarExpr); ok {
			on = star.X
		}
		if id, ok := on.(*ast.Ident); ok {
			name = id.Name + "." + name
		}
	}
	r.docs[name] = d.Doc.Text()
}

func (r *room) takeSpecs(d *ast.GenDecl) {
	for _, s := range d.Specs {
		switch s := s.(type) {
		case *ast.TypeSpec:
			r.docs[s.Name.Name] = d.Doc.Text() + s.Doc.Text()
			if fields, ok := s.Type.(*ast.StructType); ok {
				for _, f := range fields.Fields.List {
					for _, id := range f.Names {
						r.docs[s.Name.Name+"."+id.Name] = f.Doc.Text()
					}
				}
			}
		case *ast.ValueSpec:
			for i, id := range s.Names {
				r.docs[id.Name] = s.Doc.Text()
				if i < len(s.Values) {
					r.values[id.Name] = s.Values[i]
				}
			}
		}
	}
}

// wordsOf are the identifiers and the texts of a test.
func wordsOf(fn *ast.FuncDecl) map[string]bool {
	words := map[string]bool{}
	ast.Inspect(fn, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.Ident:
			words[n.Name] = true
		case *ast.BasicLit:
			words[strings.Trim(n.Value, `"`)] = true
		}
		return true
	})
	return words
}

func (c code) room(dir string) *room {
	for _, r := range c {
		if r.dir == dir {
			return r
		}
	}
	return nil
}

// called is the package that an import name stands for: the last part of its folder.
func (c code) called(name string) *room {
	for _, r := range c {
		if path.Base(r.dir) == name {
			return r
		}
	}
	return nil
}

// test finds "bend.TestCubic" or "flat/rivet.TestShank".
func (c code) test(name string) (testFunc, bool) {
	dot := strings.LastIndexByte(name, '.')
	if dot < 0 {
		return testFunc{}, false
	}
	r := c.room(name[:dot])
	if r == nil {
		return testFunc{}, false
	}
	t, ok := r.tests[name[dot+1:]]
	return t, ok
}
