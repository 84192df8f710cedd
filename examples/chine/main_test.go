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
	screen.Reset()
	dir = t.TempDir()
	require.NoError(t, run([]string{"-o", dir, "-drop", "72 in", "chine-misread.csv"}, &screen))
	assert.Contains(t, screen.String(), "left out: station 72.0 in")
	assert.NotContains(t, screen.String(), "MEASURE AGAIN")
	assert.Contains(t, names(t, dir), "chine-misread-board-full-size.pdf")
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
		"no such file":                    {"none.csv"},
		"no unit":                         {"-drop", "72", "chine.csv"},
		"0 of the 1":                      {"-drop", "73 in", "chine.csv"},
		"-step":                           {"-step", "six", "chine.csv"},
		`named "rail"`:                    {write("station [in],chine [in]\n0,1\n1,1\n2,1\n")},
		"line 3 column":                   {write("station [in],chine [in],rail [in]\n0,1,9\n1,x,9\n")},
		"raise the top":                   {write("station [in],chine [in],rail [in]\n0,1,3\n12,1,3\n24,1,3\n")},
		"at least 3":                      {write("station [in],chine [in],rail [in]\n0,1,9\n12,1,9\n")},
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
