package main

import (
	"bytes"
	"go/format"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/hangarflat/hangarflat/bend/striplog"
)

// handLog is the log that package striplog works by hand.
func handLog(t testing.TB) string {
	data, err := os.ReadFile("../striplog/testdata/by-hand.csv")
	require.NoError(t, err)
	return string(data)
}

// Every fault of every row is reported at once, with line and column, in the order of the file.
func TestBadRows(t *testing.T) {
	log := `strip,material,thickness,radius,angle,blank,leg a,leg b
A,2024-T3,1 mm,3 mm,90 deg,100 mm,51.33 mm,51.33 mm
B,2024-T33,1,3,90,100,51.33,x
,2024-T3,40 mm,3 mm,90 mm,100 mm,51.33 mm,51.33 mm
A,2024-T3,1 mm,3 mm,190 deg,100 mm,0 mm,51.33 mm
short,2024-T3
D,2024-T3,1 mm,-3 mm,90 deg,100 mm,51.33 mm,51.33 mm
E,2024-T3,20 MSG,3 mm,90 deg,100 mm,51.33 mm,51.33 mm
F,2024-T3,20 SWG,3 mm,90 deg,100 mm,51.33 mm,51.33 mm
`
	_, err := generate("shopbends", "log.csv", []byte(log))
	require.Error(t, err)
	text := err.Error()
	for _, want := range []string{
		`line 3, material "2024-T33"`, `line 3, thickness "1": a bare number`, `line 3, angle "90"`, `line 3, radius "3"`, `line 3, blank "100"`, `line 3, leg a "51.33"`, `line 3, leg b "x"`,
		`line 4, strip ""`, `line 4, thickness "40 mm"`, `line 4, angle "90 mm": an angle is wanted`,
		`line 5, angle "190°"`, `line 5, leg a "0 mm"`, `line 5, strip "A": was used in line 2`,
		"line 6: 2 cells where the head has 8", `line 7, radius "-3 mm"`, `line 8, thickness "20 MSG": is the gauge of another metal than 2024-T3`,
	} {
		at := strings.Index(text, want)
		if assert.GreaterOrEqual(t, at, 0, "%s not found, or out of order, in\n%s", want, text) {
			text = text[at:]
		}
	}
	assert.NotContains(t, err.Error(), "line 9")
	var cell *striplog.CellError
	require.ErrorAs(t, err, &cell)
	for name, log := range map[string]string{
		"no row of column names": "",
		"no strips":              "strip,material,thickness,radius,angle,blank,leg a,leg b\n",
		"is missing":             "strip,material,thickness,radius,angle,blank,leg a\n",
		"is none of":             "strip,material,thickness,radius,angle,blank,leg a,leg b,colour\n",
		"stands there twice":     "strip,strip,material,thickness,radius,angle,blank,leg a,leg b\n",
		"quote":                  "strip,material,thickness,radius,angle,blank,leg a,leg b\n\"A,2024-T3\n",
		`say "mold line"`:        strings.Replace(handLog(t), "mold line", "apex", 1),
		"at least three":         strings.Join(strings.SplitAfter(handLog(t), "\n")[:4], ""),
		"slip of unit":           strings.Replace(handLog(t), "100 mm", "100 in", 1),
	} {
		_, err := generate("shopbends", "log.csv", []byte(log))
		if assert.Error(t, err, name) {
			assert.Contains(t, err.Error(), name)
		}
	}
	for _, name := range []string{"", "main", "My", "a b", "func"} {
		_, err := generate(name, "log.csv", []byte(handLog(t)))
		require.Error(t, err, "package %q", name)
	}
}

// The same log gives the same bytes, formatted; a log name cannot break out of its comment.
func TestBytes(t *testing.T) {
	one, err := generate("shopbends", "log\nfunc init() {}.csv", []byte(handLog(t)))
	require.NoError(t, err)
	two, err := generate("shopbends", "log\nfunc init() {}.csv", []byte(handLog(t)))
	require.NoError(t, err)
	assert.True(t, bytes.Equal(one, two))
	formatted, err := format.Source(one)
	require.NoError(t, err)
	assert.True(t, bytes.Equal(one, formatted))
	assert.NotContains(t, string(one), "\nfunc init")
}

// The package of the example is what its log gives today.
func TestExampleIsFresh(t *testing.T) {
	const folder = "../../examples/coupons/"
	raw, err := os.ReadFile(folder + "strips.csv")
	require.NoError(t, err)
	want, err := generate("shopbends", "strips.csv", raw)
	require.NoError(t, err)
	have, err := os.ReadFile(folder + "shopbends/shopbends.go")
	require.NoError(t, err)
	assert.True(t, bytes.Equal(want, have), "stale: run go generate ./examples/coupons")
}

const caller = `package main

import (
	"errors"
	"fmt"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/material"
	"shop.example/shopbends"
)

func main() {
	m, _ := material.Lookup("2024-T3")
	var rule bend.Rule = shopbends.Rule{Material: m}
	a, err := rule.Allowance(bend.Bend{Angle: 1.5707963267948966, Radius: 3, Thickness: 1.016})
	fmt.Printf("%.3f %.3f %s %v\n", a.Length, a.K, a.Law.Source, err)
	var fault *bend.Error
	_, err = rule.Allowance(bend.Bend{Angle: 1, Radius: 4, Thickness: 1.016})
	fmt.Println(errors.As(err, &fault), err)
	_, err = shopbends.Lookup(m, 2, 3)
	fmt.Println(errors.As(err, &fault), err)
	fmt.Println(len(shopbends.Entries()), len(shopbends.Strips()), shopbends.StripCount, shopbends.K2024T3Sheet10160Radius30000 == shopbends.Entries()[0].K)
}
`

// A tool that imports the package compiles and gives the allowance of the strips: R 3, T 1.016, K 0.4 at
// 90° is π/2·(3 + 0.4·1.016) = 5.3508.
func TestPackageCompilesAndRuns(t *testing.T) {
	if testing.Short() {
		t.Skip("builds a program")
	}
	dir := t.TempDir()
	root, err := filepath.Abs("../..")
	require.NoError(t, err)
	sums, err := os.ReadFile(filepath.Join(root, "go.sum"))
	require.NoError(t, err)
	module, err := os.ReadFile(filepath.Join(root, "go.mod"))
	require.NoError(t, err)
	_, requires, _ := strings.Cut(string(module), "\ngo ")
	log := filepath.Join(dir, "log.csv")
	write := func(name, text string) {
		require.NoError(t, os.MkdirAll(filepath.Dir(filepath.Join(dir, name)), 0o755))
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600))
	}
	write("log.csv", handLog(t))
	write("go.sum", string(sums))
	write("go.mod", "module shop.example\n\ngo "+requires+"\nrequire github.com/hangarflat/hangarflat v0.0.0\nreplace github.com/hangarflat/hangarflat => "+root+"\n")
	write("main.go", caller)
	require.NoError(t, os.Mkdir(filepath.Join(dir, "shopbends"), 0o755))
	require.NoError(t, run("shopbends", filepath.Join(dir, "shopbends", "shopbends.go"), []string{log}))

	command := exec.Command("go", "run", "-mod=mod", ".")
	command.Dir = dir
	command.Env = append(os.Environ(), "GOPROXY=off", "GOFLAGS=")
	out, err := command.CombinedOutput()
	require.NoError(t, err, "%s", out)
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	require.Len(t, lines, 4, "%s", out)
	assert.True(t, strings.HasPrefix(lines[0], "5.351 0.400 measured: log.csv, sha256 "), lines[0])
	assert.True(t, strings.HasSuffix(lines[0], "<nil>"), lines[0])
	assert.Contains(t, lines[1], "true radius 4 mm: no test strips of 2024-T3 round it; the nearest tried is 0.1181 in (3.000 mm)")
	assert.Contains(t, lines[2], "true thickness 2 mm: no test strips")
	assert.Equal(t, "1 4 4 true", lines[3])
}

// A run that fails leaves the old file as it was and nothing beside it.
func TestRunLeavesTheOldFile(t *testing.T) {
	dir := t.TempDir()
	log, out := filepath.Join(dir, "log.csv"), filepath.Join(dir, "out.go")
	require.NoError(t, os.WriteFile(log, []byte("strip\n"), 0o600))
	require.NoError(t, os.WriteFile(out, []byte("old"), 0o600))
	require.Error(t, run("shopbends", out, []string{log}))
	require.Error(t, run("shopbends", out, nil))
	require.Error(t, run("shopbends", out, []string{filepath.Join(dir, "none.csv")}))
	have, err := os.ReadFile(out)
	require.NoError(t, err)
	assert.Equal(t, "old", string(have))
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, entries, 2)
}

// No log makes the generator panic, and what it writes is formatted Go.
func FuzzGenerate(f *testing.F) {
	f.Add([]byte(handLog(f)))
	f.Add([]byte("strip,material\n\"\n"))
	f.Add([]byte(strings.ReplaceAll(handLog(f), "90", "180")))
	f.Fuzz(func(t *testing.T, raw []byte) {
		text, err := generate("shopbends", "log.csv", raw)
		if err != nil {
			return
		}
		if again, err := format.Source(text); err != nil || !bytes.Equal(text, again) {
			t.Errorf("%v", err)
		}
	})
}
