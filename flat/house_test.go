package flat_test

import (
	"go/ast"
	"go/doc"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const module = "github.com/hangarflat/hangarflat/"

// mayImport is the one way imports run: a package may import those listed, and
// what they may import. See DEVELOPERS.md.
var mayImport = map[string][]string{
	"material/measure": {},
	"material":         {"material/measure"},
	"bend":             {"material"},
	"bend/striplog":    {"bend"},
	"bend/formula":     {"bend"},
	"flat/outline":     {"material/measure"},
	"flat/fold":        {"flat/outline"},
	"flat/nest":        {"flat/outline", "material"},
	"flat/loft":        {"flat/outline"},
	"flat/survey":      {"flat/outline"},
	"flat":             {"bend", "flat/fold", "flat/loft", "flat/survey"},
	"flat/brake":       {"flat"},
	"flat/former":      {"flat", "flat/loft"},
	"flat/rivet":       {"flat"},
	"flat/partfile":    {"flat/brake", "flat/rivet", "bend/striplog"},
	"flat/family":      {"flat/partfile"},
	"flat/drawing":     {"flat/former", "flat/rivet", "flat/partfile"},
	"flat/paper":       {"flat/drawing", "flat/brake"},
	"dxfout":           {"flat/drawing"},
}

// touchesFiles are the packages that may use io.Writer's world and files; the
// generators and the examples may too.
var touchesFiles = map[string]bool{"bend/striplog": true, "flat/paper": true, "dxfout": true, "flat/partfile": true, "flat/family": true, "flat/survey": true, "flat/loft": true}

func allowed(from, to string) bool {
	for _, p := range mayImport[from] {
		if p == to || allowed(p, to) {
			return true
		}
	}
	return false
}

// Imports run one way, from what a sheet is to what the shop holds in its hand,
// and only the packages at the end of the road touch a file.
func TestImportDirection(t *testing.T) {
	root := ".."
	seen := map[string]bool{}
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		require.NoError(t, err)
		if d.IsDir() && (strings.HasPrefix(d.Name(), ".") && path != root || d.Name() == "testdata" || d.Name() == "out") {
			return filepath.SkipDir
		}
		if !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return nil
		}
		rel, err := filepath.Rel(root, filepath.Dir(path))
		require.NoError(t, err)
		pkg := filepath.ToSlash(rel)
		_, listed := mayImport[pkg]
		free := strings.HasPrefix(pkg, "examples/") || strings.Contains(pkg, "internal") || pkg == "bend/shopgen" || pkg == "flat/family/familygen"
		if !free && !assert.True(t, listed, "package %s has no place in the order of imports", pkg) {
			return nil
		}
		seen[pkg] = true
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		require.NoError(t, err)
		for _, spec := range file.Imports {
			to, err := strconv.Unquote(spec.Path.Value)
			require.NoError(t, err)
			if own, ours := strings.CutPrefix(to, module); ours && !free {
				ok := own == pkg || allowed(pkg, own) || strings.HasPrefix(own, pkg+"/internal")
				assert.True(t, ok, "%s imports %s: imports run one way", path, own)
			}
			if (to == "os" || to == "io") && !free {
				assert.True(t, touchesFiles[pkg], "%s imports %s: only the ends of the road touch files", path, to)
			}
		}
		return nil
	})
	require.NoError(t, err)
	for pkg := range mayImport {
		assert.True(t, seen[pkg], "package %s is in the order of imports and not in the tree", pkg)
	}
	assert.False(t, allowed("material", "flat"), "the check can fail")
}

// The top level holds what DEVELOPERS.md says it does.
func TestTopLevel(t *testing.T) {
	want := map[string]bool{
		"bend": true, "flat": true, "material": true, "dxfout": true, "examples": true, "testdata": true,
		"go.mod": true, "go.sum": true, "README.md": true, "DEVELOPERS.md": true,
	}
	entries, err := os.ReadDir("..")
	require.NoError(t, err)
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), ".") && e.Name() != "out" {
			assert.True(t, want[e.Name()], "%s does not belong at the top level", e.Name())
		}
		delete(want, e.Name())
	}
	assert.Empty(t, want)
}

// An Example runs only when the last of its comments begins with "Output:"; with a
// word above it in the same comment it is compiled and never held to anything.
func TestExamplesRun(t *testing.T) {
	found := 0
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		require.NoError(t, err)
		if d.IsDir() && strings.HasPrefix(d.Name(), ".") && path != ".." {
			return filepath.SkipDir
		}
		if !strings.HasSuffix(path, "_test.go") {
			return nil
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ParseComments)
		require.NoError(t, err)
		for _, example := range doc.Examples(file) {
			found++
			assert.True(t, example.Output != "" || example.EmptyOutput, "%s: Example%s is never run: no comment of its own begins with Output:", path, example.Name)
		}
		return nil
	})
	require.NoError(t, err)
	assert.NotZero(t, found)
}

// tellsOfErrors are the words by which a comment says when an error comes.
var tellsOfErrors = regexp.MustCompile(`(?i)\berrors?\b|\brefuse[sd]?\b|(Error|Fault)\]`)

// Who calls a function that can fail reads when it does: its comment tells of its errors.
func TestErrorsAreTold(t *testing.T) {
	found := 0
	for pkg := range mayImport {
		files, err := filepath.Glob(filepath.Join("..", filepath.FromSlash(pkg), "*.go"))
		require.NoError(t, err)
		for _, path := range files {
			if strings.HasSuffix(path, "_test.go") {
				continue
			}
			file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ParseComments)
			require.NoError(t, err)
			for _, decl := range file.Decls {
				if f, ok := decl.(*ast.FuncDecl); ok && public(f) && canFail(f) {
					found++
					assert.Regexp(t, tellsOfErrors, f.Doc.Text(), "%s: %s does not say when it returns an error", path, f.Name.Name)
				}
			}
		}
	}
	assert.Greater(t, found, 100)
}

// public reports whether other programs can call a function: a method counts by its type.
func public(f *ast.FuncDecl) bool {
	if !f.Name.IsExported() {
		return false
	}
	if f.Recv == nil {
		return true
	}
	of := f.Recv.List[0].Type
	if star, ok := of.(*ast.StarExpr); ok {
		of = star.X
	}
	name, plain := of.(*ast.Ident)
	return !plain || name.IsExported() // a type with parameters is looked at
}

func canFail(f *ast.FuncDecl) bool {
	if f.Type.Results == nil {
		return false
	}
	last, ok := f.Type.Results.List[len(f.Type.Results.List)-1].Type.(*ast.Ident)
	return ok && last.Name == "error"
}
