package main

import (
	"bytes"
	"errors"
	"fmt"
	"go/ast"
	"go/doc"
	"go/format"
	"go/parser"
	"go/token"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/hangarflat/hangarflat/examples/keelbays/keelbays"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/family"
	"gonum.org/v1/gonum/spatial/r2"
)

// A stringer of the Corrie, invented: words of every kind.
const stringer = `kind = "section"
name = "stringer-<station>"
title = "Corrie stringer, station <station>, <hand> hand"

[sheet]
material  = "2024-T3"
thickness = "<gauge>"

[bends]
radius = "0.16 in"

[section]
length = "<run>"

[[section.leg]]
name  = "upper"
width = "<upper leg>"
bend  = "<bevel>"
turn  = "up"

[[section.leg]]
name  = "lower"
width = "2.00 in"
`

const stringerHead = "station,hand,gauge,run,upper leg,bevel\n"

var demo = input{"stringers", text{"stringer.toml", []byte(stringer)}, text{"stringers.csv", []byte(stringerHead)}}

// stringers is an input of rows.
func stringers(rows ...string) input {
	in := demo
	in.table.text = []byte(stringerHead + strings.Join(rows, "\n") + "\n")
	return in
}

const (
	good  = `4,port,0.040 in,6 in,1 in,90 deg`
	other = `5-1,starboard,20 SWG,7 1/3 in,31.75 mm,82 30'`
)

func TestKinds(t *testing.T) {
	files, err := generate(stringers(good, other))
	require.NoError(t, err)
	code := string(files[0].text)
	for _, want := range []string{
		"Station  string        // station: text",
		"Gauge    string        // gauge: text",
		"UpperLeg float64       // upper leg: mm; 1.0000 in (25.400 mm) to 1.2500 in (31.750 mm) in the table",
		"Bevel    measure.Angle // bevel: 82.5° to 90° in the table",
		"func Stringer4() Params {",
		"func Stringer5_1() Params {",
		`// Stringer5_1 is stringer-5-1: Corrie stringer, station 5-1, starboard hand (line 3 of stringers.csv).`,
		"UpperLeg: 1.25 * measure.Inch,",
		"Bevel:    82.5 * measure.Degree,",
	} {
		assert.Contains(t, code, want)
	}
}

// Every function and type is documented, and the same files give the same bytes.
func TestDocumentedAndDeterministic(t *testing.T) {
	one, err := generate(stringers(good, other))
	require.NoError(t, err)
	two, err := generate(stringers(good, other))
	require.NoError(t, err)
	assert.Equal(t, one, two)
	for _, f := range one {
		again, err := format.Source(f.text)
		require.NoError(t, err)
		assert.Equal(t, string(again), string(f.text), "gofmt would change %s", f.name)
	}
	set := token.NewFileSet()
	file, err := parser.ParseFile(set, one[0].name, one[0].text, parser.ParseComments)
	require.NoError(t, err)
	p, err := doc.NewFromFiles(set, []*ast.File{file}, "shop.example/stringers")
	require.NoError(t, err)
	assert.Contains(t, p.Doc, "IT APPROVES NOTHING")
	require.Len(t, p.Types, 1)
	assert.NotEmpty(t, p.Types[0].Doc)
	// Constructors of Params are listed under it.
	require.Len(t, p.Types[0].Funcs, 3)
	for _, f := range append(p.Funcs, p.Types[0].Funcs...) {
		assert.NotEmpty(t, f.Doc, f.Name)
	}
}

// A literal is short where it can be, and what the cell reads as.
func TestLiterals(t *testing.T) {
	for _, c := range []struct {
		kind
		cell, want string
	}{
		{length, "13 1/4 in", "13.25 * measure.Inch"},
		{length, "40 thou", "0.04 * measure.Inch"},
		{length, "0 mm", "0"},
		{length, "300.1 mm", "300.1"},
		{angle, "90 deg", "90 * measure.Degree"},
		{angle, "-2 30'", "-2.5 * measure.Degree"},
		{angle, "1 rad", "1"},
		{words, "a \"b\"\n", `"a \"b\"\n"`},
	} {
		assert.Equal(t, c.want, c.literal(c.cell), c.cell)
	}
	// 7 1/3 in has no short form; it is given in mm, and exactly.
	third := length.literal("7 1/3 in")
	mm, _ := length.read("7 1/3 in")
	var back float64
	_, err := fmt.Sscan(third, &back)
	require.NoError(t, err)
	assert.Equal(t, math.Float64bits(mm), math.Float64bits(back))
}

// All faults of the table come at once, by row and column.
func TestFaults(t *testing.T) {
	_, err := generate(stringers(
		good,
		`6,port,0.040 in,6 in,1,90 deg`,         // no unit
		`7,port,0.040 in,6,1 in,190 deg`,        // two cells of one row
		`8,port,0.040 in`,                       // short
		`9,port,0.040 in,6 in,1 in,90 deg`,      //
		`9,starboard,0.040 in,6 in,1 in,90 deg`, // the same name
		`../x,port,0.040 in,6 in,1 in,90 deg`,   // a path
		`5-1,port,0.040 in,6 in,1 in,90 deg`,    //
		`5_1,port,0.040 in,6 in,1 in,90 deg`,    // another name, the same identifier
		`12,port,0.040 in,6 in,0.05 in,90 deg`,  // shorter than its bend
		`13,"po""rt",0.040 in,6 in,1 in,90 deg`, // would break out of its quotes
		`14,port,0.500 in,6 in,3 in,90 deg`,     // cracks at the radius of this family
	))
	require.Error(t, err)
	text := err.Error()
	for _, want := range []string{
		`stringers.csv:3: upper leg: "1": makes no part`,
		`stringers.csv:4: bevel: "190 deg": makes no part`,
		`stringers.csv:4: run: "6": makes no part`,
		`stringers.csv:5: 3 cells: the table has 6 columns`,
		`stringers.csv:8: station: "../x": makes no part`,
		"stringers.csv:11: upper leg: \"0.05 in\": makes no part:\nstringer.toml:17:9: section leg 1 width: \"0.05 in\": stands 0.0500 in",
		`stringers.csv:12: hand: "po\"rt"`,
		`stringers.csv:13: NOT FOR CUTTING`,
		`stringers.csv:7: station: "stringer-9": is the name of the part of line 6 too`,
		`stringers.csv:10: station: "stringer-5_1": would be the function Stringer5_1, as "stringer-5-1" of line 9 is`,
	} {
		assert.Contains(t, text, want)
	}
	var fault *family.Error
	require.ErrorAs(t, err, &fault)

	// What the template itself does wrong is said once, not once a row.
	in := stringers(good, other)
	in.template.text = bytes.Replace(in.template.text, []byte("0.16 in"), []byte("0.16"), 1)
	_, err = generate(in)
	require.Error(t, err)
	assert.Equal(t, 1, strings.Count(err.Error(), "bare number"), "%v", err)
}

func TestFaultsOfNames(t *testing.T) {
	for want, change := range map[string]func(*input){
		`package name ""`:       func(in *input) { in.pkg = "" },
		`package name "main"`:   func(in *input) { in.pkg = "main" },
		`package name "a b"`:    func(in *input) { in.pkg = "a b" },
		`package name "x_test"`: func(in *input) { in.pkg = "x_test" },
		"has no member":         func(in *input) { in.table.text = []byte(stringerHead) },
		"no first row":          func(in *input) { in.table.text = nil },
		"has no word":           func(in *input) { in.template.text = []byte("kind = \"section\"\n") },
		`has no column`:         func(in *input) { in.table.text = []byte("station\n1\n") },
		"would be the field UpperLeg, as <upper leg> is": func(in *input) {
			in.template.text = bytes.Replace(in.template.text, []byte(`"2.00 in"`), []byte(`"<upper-leg>"`), 1)
			in.table.text = []byte("station,hand,gauge,run,upper leg,bevel,upper-leg\n" + good + ",2 in\n")
		},
		"<?>: has no letter or digit": func(in *input) {
			in.template.text = bytes.Replace(in.template.text, []byte(`"2.00 in"`), []byte(`"<?>"`), 1)
			in.table.text = []byte("station,hand,gauge,run,upper leg,bevel,?\n" + good + ",2 in\n")
		},
		"would be the function All, a name the package needs": func(in *input) {
			in.template.text = bytes.Replace(in.template.text, []byte("stringer-<station>"), []byte("<station>"), 1)
			in.table.text = []byte(stringerHead + "all,port,0.040 in,6 in,1 in,90 deg\n")
		},
		`"-": has no letter or digit`: func(in *input) {
			in.template.text = bytes.Replace(in.template.text, []byte("stringer-<station>"), []byte("<station>"), 1)
			in.table.text = []byte(stringerHead + "-,port,0.040 in,6 in,1 in,90 deg\n")
		},
	} {
		in := stringers(good)
		change(&in)
		_, err := generate(in)
		if assert.Error(t, err, want) {
			assert.Contains(t, err.Error(), want)
		}
	}
}

func TestIdentifier(t *testing.T) {
	for words, want := range map[string]string{
		"keel length": "KeelLength", "keel-bay-7": "KeelBay7", "7": "No7", "bay-1-1": "Bay1_1", "bay-11": "Bay11",
		"höhe": "Höhe", "長さ": "X長さ", "": "", "-._": "", "func": "Func", "a1b": "A1b", "1/2 lip": "No1_2Lip", "é": "É", "e\u0301x": "EX",
	} {
		assert.Equal(t, want, identifier(words), words)
	}
}

// No words make a name that is not one.
func FuzzIdentifier(f *testing.F) {
	for _, s := range []string{"keel length", "7", "長さ", "ǆ", "\u0301", "a\x00b", "٣", "ª", "_"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, words string) {
		if name := identifier(words); name != "" && (!token.IsIdentifier(name) || !token.IsExported(name)) {
			t.Errorf("%q makes %q", words, name)
		}
	})
}

// Whatever the words, cells and file names hold, what is written is formatted Go that
// declares nothing but what it should.
func FuzzGenerate(f *testing.F) {
	f.Add("station", "4", "port", "stringer.toml")
	f.Add("a*/", "x", "//go:build ignore", "a\nfunc init() {}")
	f.Add("`", "1", "`+evil()+`", "`")
	f.Add("station", "all", "# heading", "\u2028")
	f.Add("長さ", "1-1", "Deprecated: - list", "*/")
	declared := regexp.MustCompile(`(?m)^(func|var|type|import) `)
	f.Fuzz(func(t *testing.T, word, station, hand, name string) {
		in := stringers(good)
		in.template.text = []byte(strings.ReplaceAll(string(in.template.text), "<station>", "<"+word+">"))
		in.template.name = name
		in.table.name = name
		quote := func(s string) string { return `"` + strings.ReplaceAll(s, `"`, `""`) + `"` }
		in.table.text = []byte(quote(word) + ",hand,gauge,upper leg,bevel,run\n" + quote(station) + "," + quote(hand) + ",0.040 in,6 in,1 in,90 deg\n")
		files, err := generate(in)
		if err != nil {
			return
		}
		for i, file := range files {
			again, err := format.Source(file.text)
			if err != nil || !bytes.Equal(again, file.text) {
				t.Fatalf("%v\n%s", err, file.text)
			}
			parsed, err := parser.ParseFile(token.NewFileSet(), "x.go", file.text, parser.ParseComments)
			if err != nil {
				t.Fatal(err)
			}
			if n := len(declared.FindAll(file.text, -1)); n > []int{7, 8}[i] { // as of a plain family
				t.Errorf("%d declarations\n%s", n, file.text)
			}
			for _, group := range parsed.Comments {
				for _, c := range group.List {
					if strings.HasPrefix(c.Text, "//go:") {
						t.Errorf("an order to the compiler: %s", c.Text)
					}
				}
			}
			for _, d := range parsed.Decls {
				if fn, ok := d.(*ast.FuncDecl); ok && (fn.Name.Name == "init" || fn.Name.Name == "main") {
					t.Errorf("func %s", fn.Name.Name)
				}
			}
		}
	})
}

// The package of the example is what its template and table give today.
func TestExampleIsFresh(t *testing.T) {
	kit := "../../../examples/kit/"
	args := []string{"-check", "-package", "keelbays", "-out", "../../../examples/keelbays/keelbays", kit + "keel-bay.toml", kit + "keel-bays.csv"}
	require.NoError(t, run(args), "stale: run go generate ./examples/keelbays")
}

// What a member's params make is what its row makes, but for roundings.
func TestParamsAreTheRow(t *testing.T) {
	template, err := os.ReadFile("../../../examples/kit/keel-bay.toml")
	require.NoError(t, err)
	table, err := os.Open("../../../examples/kit/keel-bays.csv")
	require.NoError(t, err)
	defer table.Close()
	tmpl, err := family.ReadTemplate("keel-bay.toml", bytes.NewReader(template))
	require.NoError(t, err)
	all := keelbays.All()
	for m, err := range tmpl.Members("keel-bays.csv", table) {
		require.NoError(t, err)
		require.NotEmpty(t, all)
		part, err := keelbays.New(all[0])
		require.NoError(t, err)
		assert.Equal(t, m.Part.Title, part.Title)
		want, err := flat.Develop(m.Part)
		require.NoError(t, err)
		have, err := flat.Develop(part)
		require.NoError(t, err)
		require.Len(t, have.Outline.Vertices, len(want.Outline.Vertices))
		for i, v := range have.Outline.Vertices {
			w := want.Outline.Vertices[i]
			assert.InDelta(t, 0, r2.Norm(r2.Sub(v.P, w.P)), 1e-9)
			assert.InDelta(t, w.Bulge, v.Bulge, 1e-9)
		}
		all = all[1:]
	}
	assert.Empty(t, all)
}

// A run that fails leaves the old files as they were and nothing beside them; a stale
// package is found out; a file of the maker's own is not written over.
func TestRun(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) string {
		name = filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(name, []byte(text), 0o600))
		return name
	}
	in := stringers(good, other)
	template, table := write("stringer.toml", string(in.template.text)), write("stringers.csv", string(in.table.text))
	out := filepath.Join(dir, "stringers")
	args := []string{"-package", "stringers", "-out", out, template, table}
	check := append([]string{"-check"}, args...)

	require.ErrorContains(t, run(check), "members.go", "nothing is there yet")
	require.NoError(t, run(args))
	require.NoError(t, run(check))
	before, err := os.ReadFile(filepath.Join(out, "members.go"))
	require.NoError(t, err)

	write("stringers.csv", stringerHead+good+"\n")
	require.ErrorContains(t, run(check), "is stale: run go generate")
	write("stringers.csv", stringerHead+"4,port\n")
	require.ErrorContains(t, run(args), "nothing written")
	after, err := os.ReadFile(filepath.Join(out, "members.go"))
	require.NoError(t, err)
	assert.Equal(t, string(before), string(after))
	entries, err := os.ReadDir(out)
	require.NoError(t, err)
	assert.Len(t, entries, 2)

	write("stringers.csv", stringerHead+good+"\n")
	require.NoError(t, os.WriteFile(filepath.Join(out, "members.go"), []byte("package mine\n"), 0o600))
	require.ErrorContains(t, run(args), "was not written by familygen")
	for _, bad := range [][]string{nil, {template}, {"-package", "x", "none.toml", table}, {"-package", "x", template, "none.csv"}, {"-nope"}} {
		require.Error(t, run(bad), "%v", bad)
	}
}

const caller = `package main

import (
	"fmt"

	"github.com/hangarflat/hangarflat/flat"
	"shop.example/stringers"
)

func main() {
	p := stringers.Stringer4()
	p.UpperLeg += 10
	part, err := stringers.New(p)
	if err != nil {
		panic(err)
	}
	b, err := flat.Develop(part)
	box := b.Outline.Bounds()
	fmt.Printf("%s %d %.2f %v\n", part.Name, len(stringers.All()), box.Max.Y-box.Min.Y, err)
	p.Bevel = 0
	_, err = stringers.New(p)
	fmt.Println(err != nil)
}
`

// A tool of another module imports the package, compiles, passes its test and gets its
// part. By hand: legs 1 in + 10 mm and 2 in, R 0.16 in, T .040 in, 90°: the handbook's
// allowance (0.01743·R + 0.0078·T)·90 is 0.27907 in and the setback R + T 0.2 in, so the blank is
// 25.4 + 10 + 50.8 - 2·5.08 + 7.0884 = 83.128 mm.
func TestPackageCompilesProvesAndRuns(t *testing.T) {
	if testing.Short() {
		t.Skip("builds a program")
	}
	dir := t.TempDir()
	root, err := filepath.Abs("../../..")
	require.NoError(t, err)
	sums, err := os.ReadFile(filepath.Join(root, "go.sum"))
	require.NoError(t, err)
	module, err := os.ReadFile(filepath.Join(root, "go.mod"))
	require.NoError(t, err)
	_, requires, _ := strings.Cut(string(module), "\ngo ")
	in := stringers(good, other)
	for name, text := range map[string]string{
		"go.sum": string(sums), "main.go": caller, "stringer.toml": string(in.template.text), "stringers.csv": string(in.table.text),
		"go.mod": "module shop.example\n\ngo " + requires + "\nrequire github.com/hangarflat/hangarflat v0.0.0\nreplace github.com/hangarflat/hangarflat => " + root + "\n",
	} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600))
	}
	out := filepath.Join(dir, "stringers")
	require.NoError(t, run([]string{"-package", "stringers", "-out", out, filepath.Join(dir, "stringer.toml"), filepath.Join(dir, "stringers.csv")}))

	golang := func(args ...string) (string, error) {
		command := exec.Command("go", args...)
		command.Dir = dir
		command.Env = append(os.Environ(), "GOPROXY=off", "GOFLAGS=-mod=mod")
		text, err := command.CombinedOutput()
		return string(text), err
	}
	text, err := golang("run", ".")
	require.NoError(t, err, text)
	assert.Equal(t, "stringer-4 2 83.13 <nil>\ntrue\n", text)
	text, err = golang("vet", "./...")
	require.NoError(t, err, text)
	text, err = golang("test", "./stringers")
	require.NoError(t, err, text)

	// The test can fail: a member that was changed by hand is found out.
	code, err := os.ReadFile(filepath.Join(out, "members.go"))
	require.NoError(t, err)
	changed := bytes.Replace(code, []byte("1 * measure.Inch"), []byte("1.01 * measure.Inch"), 1)
	require.NotEqual(t, code, changed)
	require.NoError(t, os.WriteFile(filepath.Join(out, "members.go"), changed, 0o600))
	text, err = golang("test", "./stringers")
	var exit *exec.ExitError
	require.True(t, errors.As(err, &exit), text)
	assert.Contains(t, text, "TestMembers/stringer-4")
	assert.NotContains(t, text, "TestMembers/stringer-5-1")
}
