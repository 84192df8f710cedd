package output

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestAllOrNothing(t *testing.T) {
	good := File{"a.txt", func(w io.Writer) error { _, err := io.WriteString(w, "a"); return err }}
	fault := errors.New("no ink")
	bad := File{"b.txt", func(io.Writer) error { return fault }}
	dir := filepath.Join(t.TempDir(), "out")
	err := Save(dir, []File{good, bad})
	require.ErrorIs(t, err, fault)
	assert.ErrorContains(t, err, "b.txt")
	_, err = os.Stat(dir)
	require.ErrorIs(t, err, os.ErrNotExist)
	require.NoError(t, Save(dir, []File{good}))
	text, err := os.ReadFile(filepath.Join(dir, "a.txt"))
	require.NoError(t, err)
	assert.Equal(t, "a", string(text))
}
