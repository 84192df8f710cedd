package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A template may name the shop's log of test strips: its cards name the log, another log makes them anew, and without one each
// part is at fault.
func TestKitOfTestStrips(t *testing.T) {
	data, err := os.ReadFile(template)
	require.NoError(t, err)
	strips, err := os.ReadFile("../coupons/strips.csv")
	require.NoError(t, err)
	const sheet, radius = `material  = "2024-T3"`, `radius = "3/16 in"`
	require.Contains(t, string(data), sheet)
	require.Contains(t, string(data), radius)
	text := strings.Replace(string(data), sheet, `material = "alclad 2024-T3"`, 1)
	text = strings.Replace(text, radius, radius+"\nrule = \"test strips\"\nstrips = \"strips.csv\"", 1)

	dir := t.TempDir()
	write := func(name, text string) string {
		file := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(file, []byte(text), 0o600))
		return file
	}
	part, table, log := write("bay.toml", text), write("bays.csv", tableHead+bay("1")+"\n"), filepath.Join(dir, "strips.csv")
	made := func() (card string, err error) {
		var out bytes.Buffer
		err = run(context.Background(), []string{"-o", filepath.Join(dir, "kit"), "-files", "text", part, table}, &out, &bytes.Buffer{})
		cards, _ := filepath.Glob(filepath.Join(dir, "kit", "*-card.txt"))
		if len(cards) == 1 {
			raw, err := os.ReadFile(cards[0])
			require.NoError(t, err)
			card = string(raw)
		}
		return card + out.String(), err
	}
	out, err := made()
	assert.Error(t, err)
	faults, _ := os.ReadFile(filepath.Join(dir, "kit", "faults.txt"))
	assert.Contains(t, out+err.Error()+string(faults), "its test strips: ")

	write("strips.csv", string(strips))
	first, err := made()
	require.NoError(t, err)
	assert.Contains(t, first, "measured: strips.csv, sha256 ")

	require.NoError(t, os.WriteFile(log, append(strips, "# a remark\n"...), 0o600))
	second, err := made()
	require.NoError(t, err)
	sum := func(card string) string {
		_, rest, _ := strings.Cut(card, "sha256 ")
		return rest[:12]
	}
	assert.NotEqual(t, sum(first), sum(second), "the parts of the old log are made anew")
}
