package main

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The tool prints every group and the strip that was read from the wrong jaw, and gives the
// bend asked for by hand: .040 sheet, R 3/16, 90°, SB = .1875 + .040 = .2275.
func TestRun(t *testing.T) {
	dir := t.TempDir()
	var out bytes.Buffer
	require.NoError(t, run([]string{"-o", dir, "-angle", "90 deg"}, &out))
	for _, want := range []string{"27 test strips of strips.csv", "4130 normalized", "5052-H32", "strip S10 (line 14) was left out", "= 0.2275 in (", "measured: strips.csv", "SHARPER", "APPROVES NOTHING"} {
		assert.Contains(t, out.String(), want)
	}
	plot, err := os.ReadFile(filepath.Join(dir, "strip-residuals.svg"))
	require.NoError(t, err)
	marks := 0
	d := xml.NewDecoder(bytes.NewReader(plot))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
		if e, ok := token.(xml.StartElement); ok && e.Name.Local == "circle" {
			marks++
		}
	}
	assert.Equal(t, 27+2, marks, "a mark for each strip and two in the key")
	assert.Contains(t, string(plot), "S10: -1.60 mm")
}

// 16 B&S is .0508 in, within the group of .050, and 4130 is numbered by the steel gauge.
func TestRunAsksOfTheGauge(t *testing.T) {
	var out bytes.Buffer
	require.NoError(t, run([]string{"-o", t.TempDir(), "-material", "4130 normalized", "-sheet", "16 B&S", "-radius", "5/32 in"}, &out))
	assert.Contains(t, out.String(), "given as 16 B&S")
}

// Faults of the command line are reported all at once, and nothing is written.
func TestRunRefuses(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	for _, c := range []struct{ args, want string }{
		{"-material 2024-T33|-sheet 0.040|-radius x|-angle 90", `did you mean 2024-T3?|bare number|"x"|"90"`},
		{"-angle 190 deg", "at most 180°"},
		{"-radius 1/2 in", "the nearest tried is 0.2500 in"},
		{"-sheet 0.063 in", "no test strips of alclad 2024-T3 in this thickness"},
	} {
		args := []string{"-o", dir}
		for _, pair := range strings.Split(c.args, "|") {
			name, value, _ := strings.Cut(pair, " ")
			args = append(args, name, value)
		}
		err := run(args, io.Discard)
		require.Error(t, err, c.args)
		for _, want := range strings.Split(c.want, "|") {
			assert.Contains(t, err.Error(), want)
		}
		assert.NoDirExists(t, dir)
	}
}
