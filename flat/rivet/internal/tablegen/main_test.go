package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The source that stands in the package is what its table gives.
func TestGeneratedIsFresh(t *testing.T) {
	out := filepath.Join(t.TempDir(), "out.go")
	require.NoError(t, run("../../rivets_per_inch.csv", out))
	got, err := os.ReadFile(out)
	require.NoError(t, err)
	want, err := os.ReadFile("../../rivets_per_inch_gen.go")
	require.NoError(t, err)
	assert.Equal(t, string(want), string(got))
	assert.Equal(t, 43, strings.Count(string(got), ".")-countDots(string(got)), "figures")
}

// countDots counts the points that are not in a figure of the table: those of thicknesses, sizes and words.
func countDots(source string) int {
	n := 0
	for line := range strings.Lines(source) {
		if !strings.Contains(line, "{thickness:") {
			n += strings.Count(line, ".")
			continue
		}
		n++ // of the thickness
	}
	return n
}

func TestBadTables(t *testing.T) {
	const head = "# source: a document\nthickness_in,1,2,3,4,5\n"
	for says, table := range map[string]string{
		"# source:":       "thickness_in,1,2,3,4,5\n.1,1,2,3,4,5\n",
		"and rows":        head,
		"no number":       head + ".1,1,two,3,4,5\n",
		"wrong number of": head + ".1,1,2\n",
		".1: \"-1\"":      head + ".1,-1,2,3,4,5\n",
		"\"NaN\"":         head + ".1,NaN,2,3,4,5\n",
	} {
		_, err := generate([]byte(table))
		assert.ErrorContains(t, err, says)
	}
	assert.Error(t, run("nowhere.csv", filepath.Join(t.TempDir(), "x.go")))
}
