package partfile_test

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/hangarflat/hangarflat/flat/partfile"
	"github.com/stretchr/testify/require"
)

// sampleFiles are the parts shipped for a maker to copy, which the tests here read too.
func sampleFiles(t testing.TB) []string {
	const folder = "../../examples/intercostal"
	files, err := filepath.Glob(filepath.Join(folder, "*.toml"))
	require.NoError(t, err)
	more, err := filepath.Glob(filepath.Join(folder, "samples", "*.toml"))
	require.NoError(t, err)
	require.NotEmpty(t, files)
	require.NotEmpty(t, more)
	return append(files, more...)
}

// sampleText is the file of a sample, by its name without the ending.
func sampleText(t testing.TB, name string) string {
	for _, file := range sampleFiles(t) {
		if filepath.Base(file) == name+".toml" {
			data, err := os.ReadFile(file)
			require.NoError(t, err)
			return string(data)
		}
	}
	require.Fail(t, "no sample of this name", name)
	return ""
}

func sample(t *testing.T, name string) partfile.Document {
	doc, err := partfile.Read(name, bytes.NewReader([]byte(sampleText(t, name))))
	require.NoError(t, err)
	return doc
}
