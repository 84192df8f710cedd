package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func names(t *testing.T, folder string) (out []string) {
	t.Helper()
	list, err := os.ReadDir(folder)
	require.NoError(t, err)
	for _, e := range list {
		out = append(out, e.Name())
	}
	return out
}

func TestDemoMakesEveryFile(t *testing.T) {
	dir := t.TempDir()
	var screen bytes.Buffer
	require.NoError(t, run([]string{"-o", dir, "chine.csv"}, &screen))
	assert.Equal(t, []string{"chine-board-full-size.pdf", "chine-board.dxf", "chine-chalk.csv", "chine-fair.svg", "chine-offsets.csv"}, names(t, dir))
	assert.NotContains(t, screen.String(), "MEASURE AGAIN")
	// The table's first height, 2 3/16 in, may move by 1/32.
	chalk, err := os.ReadFile(filepath.Join(dir, "chine-chalk.csv"))
	require.NoError(t, err)
	assert.Regexp(t, `(?m)^0,2 (5/32|3/16|7/32|11/64|13/64),`, string(chalk))
	again := t.TempDir()
	require.NoError(t, run([]string{"-o", again, "chine.csv"}, &bytes.Buffer{}))
	for _, n := range names(t, dir) {
		a, err := os.ReadFile(filepath.Join(dir, n))
		require.NoError(t, err)
		b, err := os.ReadFile(filepath.Join(again, n))
		require.NoError(t, err)
		assert.True(t, bytes.Equal(a, b), "%s differs between two runs", n)
	}
}

// The reading that is an inch out is asked for, nothing that could be cut is left
// unmarked, and without it the jig is made.
func TestMisreadingIsAskedFor(t *testing.T) {
	dir := t.TempDir()
	var screen bytes.Buffer
	require.NoError(t, run([]string{"-o", dir, "chine-misread.csv"}, &screen))
	assert.Contains(t, screen.String(), "MEASURE AGAIN station 72.0 in")
	assert.NotContains(t, names(t, dir), "chine-misread-board-full-size.pdf")
	dxf, err := os.ReadFile(filepath.Join(dir, "chine-misread-board.dxf"))
	require.NoError(t, err)
	assert.Contains(t, string(dxf), "NOT FOR CUTTING")
	for _, n := range names(t, dir) { // whoever has but one of the files
		text, err := os.ReadFile(filepath.Join(dir, n))
		require.NoError(t, err)
		assert.True(t, strings.Contains(string(text), "NOT FOR CUTTING"), n)
	}
	screen.Reset()
	dir = t.TempDir()
	require.NoError(t, run([]string{"-o", dir, "-drop", "72 in", "chine-misread.csv"}, &screen))
	assert.Contains(t, screen.String(), "left out: station 72.0 in")
	assert.NotContains(t, screen.String(), "MEASURE AGAIN")
	assert.Contains(t, names(t, dir), "chine-misread-board-full-size.pdf")
}

// A straight chine: no radius, a joint that is straight, and nothing with a minus before it. Then one of wide and
// narrow tolerances that bends: of the readings that lie 1/4 in and 1/32 in off, the widest is told.
func TestReportOfAStraightAndOfAnUnevenTable(t *testing.T) {
	report := func(rows string) (screen, offsets string) {
		dir := t.TempDir()
		name := filepath.Join(dir, "own.csv")
		require.NoError(t, os.WriteFile(name, []byte("station [in],rail [in],chine [in],within [in]\n"+rows), 0o600))
		var b bytes.Buffer
		require.NoError(t, run([]string{"-o", filepath.Join(dir, "out"), name}, &b))
		text, err := os.ReadFile(filepath.Join(dir, "out", "own-offsets.csv"))
		require.NoError(t, err)
		picture, err := os.ReadFile(filepath.Join(dir, "out", "own-fair.svg"))
		require.NoError(t, err)
		assert.True(t, strings.Contains(string(picture), "Chine as faired: own<"), "not the name of the demo's flying boat")
		return b.String(), string(text)
	}
	screen, offsets := report("0,15,1.1,1/32\n12,15,2.2,1/32\n24,15,3.3,1/32\n36,15,4.4,1/32\n48,15,5.5,1/32\n60,15,6.6,1/32\n72,15,7.7,1/32\n")
	assert.Regexp(t, "between stations 12.0 in and 24.0 in: straight\n", screen)
	assert.NotContains(t, offsets, "-0.00")
	screen, _ = report("0,10,-1 1/4,1/32\n12,10,-2,1/4\n24,10,-3,1/4\n36,10,-4 1/2,1/4\n48,10,-5,1/32\n60,10,-6,1/4\n72,10,-7 1/4,1/4\n")
	assert.Contains(t, screen, "6.35 mm at most")
}

func demoTable(t *testing.T) string {
	t.Helper()
	text, err := os.ReadFile("chine.csv")
	require.NoError(t, err)
	return string(text)
}

func TestBadInputWritesNothing(t *testing.T) {
	write := func(text string) string {
		name := filepath.Join(t.TempDir(), "bad.csv")
		require.NoError(t, os.WriteFile(name, []byte(text), 0o600))
		return name
	}
	for says, args := range map[string][]string{
		"no such file":  {"none.csv"},
		`"-drop": one`:  {"chine.csv", "-drop", "72 in"},
		"no unit":       {"-drop", "72", "chine.csv"},
		"0 of the 1":    {"-drop", "73 in", "chine.csv"},
		"-step":         {"-step", "six", "chine.csv"},
		`named "rail"`:  {write("station [in],chine [in]\n0,1\n1,1\n2,1\n")},
		"line 3 column": {write("station [in],chine [in],rail [in]\n0,1,9\n1,x,9\n")},
		"raise the top": {write("station [in],chine [in],rail [in]\n0,1,3\n12,1,3\n24,1,3\n")},
		"at least 3":    {write("station [in],chine [in],rail [in]\n0,1,9\n12,1,9\n")},
		"rail: runs from 0.0 in to 108.0 in, the chine from 0.0 in to 120.0 in": {write(strings.Replace(demoTable(t), "120,16 7/16,", "120,,", 1))},
		"rail: runs from 12.0 in":         {write(strings.Replace(demoTable(t), "\n0,15,", "\n0,,", 1))},
		"least of all at station 1524 mm": {write(strings.Replace(demoTable(t), "60,15 23/32,", "60,16 23/32,", 1))},
		"least of all at station 3048 mm": {write(strings.Replace(demoTable(t), "120,16 7/16,", "120,17 7/16,", 1))},
		"differ by more":                  {write("station [in],chine [in],rail [in]\n0,1,9\n12,1,9\n12,2,9\n24,1,9\n36,1,9\n")},
		"must be above 0 a":               {"-step", "0 mm", "chine.csv"},
	} {
		dir := filepath.Join(t.TempDir(), "out")
		err := run(append([]string{"-o", dir}, args...), &bytes.Buffer{})
		if assert.ErrorContains(t, err, says) {
			_, err := os.Stat(dir)
			assert.ErrorIs(t, err, os.ErrNotExist, says)
		}
	}
}
