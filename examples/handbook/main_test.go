package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The page is what the source of today makes, twice the same.
func TestPageIsFresh(t *testing.T) {
	if testing.Short() {
		t.Skip("go generate makes the page; CI looks whether it was run")
	}
	first, err := pageOf("../..")
	require.NoError(t, err)
	second, err := pageOf("../..")
	require.NoError(t, err)
	assert.Equal(t, string(first), string(second))
	have, err := os.ReadFile("README.md")
	require.NoError(t, err)
	assert.True(t, string(have) == string(first), "the page is stale: run go generate ./examples/handbook")
}

// What any reader of the page looks for is on it: a law, a formula of a step whose
// source is set in another function, a told one, a table, a finding's source.
func TestPageHolds(t *testing.T) {
	if testing.Short() {
		t.Skip("goes with TestPageIsFresh")
	}
	page, err := pageOf("../..")
	require.NoError(t, err)
	for _, want := range []string{
		"| bend | setback | `SB = (R + T)·tan(A/2)` | FAA AC 43.13-1B, para 4-56 b | `bend.TestSetbackFactorTable`",
		"`BA = (0.01743·R + 0.0078·T)·A°`",
		"`W = A + O` | common practice: no overbend where no springback is known; measured: overbend as given |",
		"| bend | SpringFactor | `R1 = kR·(R2 + T/2) - T/2` | German metalwork table book, springback factor kR |",
		"| [swg_bs3737](../../testdata/swg_bs3737.csv) | 57 | BS 3737 standard wire gauge",
		"| common practice: trial piece | [flat/former/guidance.go]",
		"APPROVES NOTHING",
	} {
		assert.Contains(t, string(page), want)
	}
}

// small is a library of one table, one law, one step and their tests.
func small() map[string]string {
	return map[string]string{
		"testdata/sizes.csv":    "# source: a document\nsize\n1\n2\n",
		"flat/rivet/per.csv":    "# source: another\nper\n3\n",
		"material/table.go":     "package material\n",
		"material/some_test.go": "package material\nfunc TestSizes() { read(\"sizes.csv\") }\nfunc TestPer() { _ = printedPer }\nfunc TestElse() {}\n",
		"dxfout/doc.go":         "package dxfout\n",
		"flat/step.go": "package flat\n// Told is told: a = b + c.\nfunc Told() {}\n" +
			"func step(name string) bend.Step {\n\tsource := here\n\tsource.Place = \"page 2\"\n" +
			"\treturn bend.Step{Quantity: \"width of \" + name, Symbol: \"w\", Formula: \"a + b\", Source: source}\n}\n" +
			"var here = material.Source{Document: \"Book\", Place: \"page 1\", Provenance: material.Read}\n",
		"bend/bend_test.go": "package bend\nfunc TestBend() {}\n",
		"examples/handbook/held.toml": `[formula]
"bend: SB = (R + T)·tan(A/2)" = ["bend.TestBend"]
"bend: BD = 2·SB - BA" = ["bend.TestBend"]
"bend: SL = R" = ["bend.TestBend"]
"bend: FD = R + T" = ["bend.TestBend"]
"bend: BD = 2·FD - BA" = ["bend.TestBend"]
"flat: w = a + b" = ["material.TestElse"]
[table]
"testdata/sizes.csv" = { tests = ["material.TestSizes"] }
"flat/rivet/per.csv" = { tests = ["material.TestPer"], by = "printedPer" }
[[told]]
at = "flat.Told"
formula = "a = b + c"
source = "derived: so"
tests = ["material.TestElse"]
`,
	}
}

func laid(t *testing.T, files map[string]string) string {
	root := t.TempDir()
	for name, text := range files {
		name = filepath.Join(root, filepath.FromSlash(name))
		require.NoError(t, os.MkdirAll(filepath.Dir(name), 0o755))
		require.NoError(t, os.WriteFile(name, []byte(text), 0o644))
	}
	return root
}

func TestSmallLibrary(t *testing.T) {
	page, err := pageOf(laid(t, small()))
	require.NoError(t, err)
	assert.Contains(t, string(page), "| flat | width | `w = a + b` | Book, page 2 | `material.TestElse` |")
	assert.Contains(t, string(page), "| [sizes](../../testdata/sizes.csv) | 2 | a document | `material.TestSizes` |")
	assert.Contains(t, string(page), "| flat | Told | `a = b + c` | derived: so | `material.TestElse` |")
	assert.Contains(t, string(page), "| Book, page 1 | [flat/step.go]")
}

// No page is made of a library in which a table or a formula has no test, or in which
// what is said of it is not so; what is wrong is named, and nothing is written.
func TestRefuses(t *testing.T) {
	const list = "examples/handbook/held.toml"
	for _, c := range []struct{ file, from, to, want string }{
		{list, `"testdata/sizes.csv" = { tests = ["material.TestSizes"] }`, ``, "table testdata/sizes.csv: no test holds it"},
		{list, `tests = ["material.TestSizes"]`, `tests = []`, "table testdata/sizes.csv: no test holds it"},
		{list, `tests = ["material.TestSizes"]`, `tests = ["material.TestSize"]`, "there is no test material.TestSize"},
		{list, `tests = ["material.TestSizes"]`, `tests = ["material.TestElse"]`, "none of its tests names sizes.csv"},
		{list, `"testdata/sizes.csv"`, `"testdata/size.csv"`, "there is no table testdata/size.csv"},
		{list, `, by = "printedPer"`, ``, "none of its tests names per.csv"},
		{list, `"flat: w = a + b" = ["material.TestElse"]`, ``, "formula flat: w = a + b: no test holds it"},
		{list, `"bend: SL = R"`, `"bend: SL = 2·R"`, "no package has the formula bend: SL = 2·R"},
		{list, `formula = "a = b + c"`, `formula = "a = b - c"`, `the comment of flat.Told does not say "a = b - c"`},
		{list, `at = "flat.Told"`, `at = "flat.Untold"`, "flat.Untold is no documented name"},
		{list, `[table]`, `[table`, list},
		{"testdata/sizes.csv", "# source: a document\n", "", `no "# source:" line`},
		{"flat/step.go", `Formula: "a + b"`, `Formula: name`, "cannot be read from the source"},
		{"flat/step.go", "return", "retur n(", "step.go"},
	} {
		files := small()
		require.Contains(t, files[c.file], c.from)
		files[c.file] = strings.Replace(files[c.file], c.from, c.to, 1)
		root := laid(t, files)
		out := filepath.Join(root, "page.md")
		err := run([]string{"-root", root, "-o", out})
		if assert.Error(t, err, c.want) {
			assert.Contains(t, filepath.ToSlash(err.Error()), c.want)
		}
		assert.NoFileExists(t, out)
	}
}
