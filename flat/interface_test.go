package flat_test

import (
	"bytes"
	"flag"
	"go/ast"
	"go/parser"
	"go/printer"
	"go/token"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write testdata/interface anew")

// What other programs build on stands as text in testdata/interface, a file a
// package. A change there is a change they will feel: it is made on purpose, by
// "go test ./flat -run PublicInterface -update", and is seen in the diff.
func TestPublicInterface(t *testing.T) {
	const folder = "../testdata/interface"
	packages := append(slices.Sorted(maps.Keys(mayImport)), "bend/shopgen")
	want := map[string]bool{}
	for _, pkg := range packages {
		name := strings.ReplaceAll(pkg, "/", "-") + ".txt"
		want[name] = true
		text := publicInterface(t, filepath.Join("..", pkg))
		if *update {
			require.NoError(t, os.MkdirAll(folder, 0o755))
			require.NoError(t, os.WriteFile(filepath.Join(folder, name), []byte(text), 0o644))
		}
		frozen, err := os.ReadFile(filepath.Join(folder, name))
		require.NoError(t, err)
		assert.Equal(t, string(frozen), text, "%s: the public interface has changed; if on purpose: go test ./flat -run PublicInterface -update", pkg)
	}
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	for _, e := range entries {
		assert.True(t, want[e.Name()], "%s is of no package", e.Name())
	}
}

// publicInterface is every exported declaration of a package, without comments and
// bodies, in an order that does not hang on the files they stand in.
func publicInterface(t *testing.T, dir string) string {
	files, err := filepath.Glob(filepath.Join(dir, "*.go"))
	require.NoError(t, err)
	fset := token.NewFileSet()
	var decls []string
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(fset, name, nil, parser.SkipObjectResolution)
		require.NoError(t, err)
		ast.FileExports(file)
		for _, d := range file.Decls {
			switch d := d.(type) {
			case *ast.FuncDecl:
				d.Body = nil
			case *ast.GenDecl:
				if d.Tok == token.IMPORT {
					continue
				}
				withoutTables(d)
			}
			var text bytes.Buffer
			// Printed without the places of the source, so that remarks and line breaks leave
			// no trace.
			layout := printer.Config{Mode: printer.UseSpaces | printer.TabIndent, Tabwidth: 4}
			require.NoError(t, layout.Fprint(&text, token.NewFileSet(), d))
			decls = append(decls, text.String())
		}
	}
	slices.Sort(decls)
	return strings.Join(decls, "\n") + "\n"
}

// withoutTables drops what a variable holds: its type is the promise.
func withoutTables(d *ast.GenDecl) {
	for _, spec := range d.Specs {
		if v, ok := spec.(*ast.ValueSpec); ok && d.Tok == token.VAR && v.Type != nil {
			v.Values = nil
		}
	}
}
