package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const tables = "../../../testdata"

// What stands in the packages is what the tables give today, byte for byte; a table
// changed without go generate, or a generated file changed by hand, fails here.
func TestGeneratedFilesAreFresh(t *testing.T) {
	for pkg, folder := range map[string]string{"material": "../..", "bend": "../../../bend"} {
		files, err := generate(pkg, tables)
		require.NoError(t, err)
		again, err := generate(pkg, tables)
		require.NoError(t, err)
		assert.Equal(t, files, again, "two runs differ")
		for _, f := range files {
			have, err := os.ReadFile(filepath.Join(folder, f.name))
			require.NoError(t, err)
			assert.True(t, string(have) == string(f.text), "%s is stale: run go generate ./material ./bend", f.name)
		}
		found, err := filepath.Glob(filepath.Join(folder, "*_gen*.go"))
		require.NoError(t, err)
		assert.Len(t, found, len(files), "a generated file no generator makes any more")
	}
	_, err := generate("flat", tables)
	require.Error(t, err)
}

// A damaged table stops the generator with the file, the row and what is wrong.
func TestDamagedTables(t *testing.T) {
	for _, c := range []struct{ pkg, file, from, to, want string }{
		{"material", "aa_min_bend_radii_90deg.csv", "1100,O,0,0", "1100,O,zero,0", "want a radius"},
		{"material", "aa_min_bend_radii_90deg.csv", "1100,O,0,0", "1100,O,-1,0", "want a radius"},
		{"material", "aa_min_bend_radii_90deg.csv", "1.5,seen\n1100,H12", "1.5,heard\n1100,H12", "provenance"},
		{"material", "aa_min_bend_radii_90deg.csv", "1100,O,0", "1100,O,0,0", "wrong number of fields"},
		{"material", "faa_min_bend_radius_fig4_125.csv", "# source", "# sauce", "# source:"},
		{"material", "faa_min_bend_radius_fig4_125.csv", "2024-T3 / 2024-T4", "2024", "an alloy and its temper"},
		{"material", "mechanical_properties.csv", "1100,O,,,13,5,35,10.0,0.098,typical", "1100,O,,,13,5,35,10.0,0.098,usual", "basis"},
		{"material", "mechanical_properties.csv", "1100,O,,,13,5", "1100,O,,,13,x", "want a number"},
		{"material", "swg_bs3737.csv", "\n20,0.036", "\n18,0.036", "must be whole and rise"},
		{"material", "swg_bs3737.csv", "\n20,0.036", "\n20,thin", "want a number"},
		{"material", "british_sheet_specs.csv", "memory (medium)", "hearsay", "provenance"},
		{"bend", "din_springback_factor_kr.csv", "DC04,.99", "DC04,x", "want a number"},
	} {
		dir := t.TempDir()
		names, err := filepath.Glob(filepath.Join(tables, "*.csv"))
		require.NoError(t, err)
		for _, name := range names {
			raw, err := os.ReadFile(name)
			require.NoError(t, err)
			if filepath.Base(name) == c.file {
				damaged := strings.Replace(string(raw), c.from, c.to, 1)
				require.NotEqual(t, string(raw), damaged, "%+v changes nothing", c)
				raw = []byte(damaged)
			}
			require.NoError(t, os.WriteFile(filepath.Join(dir, filepath.Base(name)), raw, 0o600))
		}
		_, err = generate(c.pkg, dir)
		if assert.Error(t, err, "%+v", c) {
			assert.Contains(t, err.Error(), c.file)
			assert.Contains(t, err.Error(), c.want)
		}
	}
}

func TestRunWritesFiles(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, run(tables, dir, []string{"bend"}))
	found, err := filepath.Glob(filepath.Join(dir, "*.go"))
	require.NoError(t, err)
	assert.Len(t, found, 2)
	require.Error(t, run(tables, dir, nil))
	require.Error(t, run(t.TempDir(), dir, []string{"material"}))
}
