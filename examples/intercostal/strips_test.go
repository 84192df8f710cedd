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

// A part whose rule is "test strips" is worked out by the log beside it; the card names log and check sum. Nothing is
// written where the log is missing, at fault, or has no strips round the part's radius.
func TestPartOfTestStrips(t *testing.T) {
	data, err := os.ReadFile("keel-bay-7.toml")
	require.NoError(t, err)
	strips, err := os.ReadFile("../coupons/strips.csv")
	require.NoError(t, err)
	const rule, sheet, radius = `rule   = "handbook"`, `material  = "2024-T3"`, `radius = "3/16 in"`
	text := string(data)
	for _, old := range []string{rule, sheet, radius} {
		require.Contains(t, text, old)
	}
	text = strings.Replace(text, rule, "rule = \"test strips\"\nstrips = \"shop/strips.csv\"", 1)
	text = strings.Replace(text, sheet, `material = "alclad 2024-T3"`, 1)
	for _, c := range []struct{ part, log, want string }{
		{text, string(strips), ""},
		{text, "", "its test strips: "},
		{text, "strip\n", "line 1, column"},
		{strings.Replace(text, radius, `radius = "5/32 in"`, 1), string(strips), "the nearest tried is 0.1875 in (4.763 mm)"},
	} {
		dir := t.TempDir()
		part := filepath.Join(dir, "part.toml")
		require.NoError(t, os.WriteFile(part, []byte(c.part), 0o600))
		require.NoError(t, os.Mkdir(filepath.Join(dir, "shop"), 0o700))
		if c.log != "" {
			require.NoError(t, os.WriteFile(filepath.Join(dir, "shop", "strips.csv"), []byte(c.log), 0o600))
		}
		var card bytes.Buffer
		err := run([]string{"-o", filepath.Join(dir, "out"), part}, &card)
		if c.want == "" {
			require.NoError(t, err)
			assert.Regexp(t, `allowance +test strips: BA = .* \[measured: strips.csv, sha256 [0-9a-f]{12}: K 0\.\d+ ± 0\.\d+ of 7 strips, 1 left out\]`, card.String())
			continue
		}
		assert.ErrorContains(t, err, c.want)
		assert.NoDirExists(t, filepath.Join(dir, "out"))
	}
}
