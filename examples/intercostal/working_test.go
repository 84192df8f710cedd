package main

import (
	"path/filepath"
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/internal/formula"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every number of the working of every part shipped can be worked again from what is printed beside it.
func TestWorkingCanBeWorkedAgain(t *testing.T) {
	more, err := filepath.Glob("../../flat/partfile/testdata/*.toml")
	require.NoError(t, err)
	require.NotEmpty(t, more)
	for _, name := range append(parts(t), more...) {
		b, err := develop(name)
		require.NoError(t, err)
		steps := b.Working()
		require.NotEmpty(t, steps, name)
		for _, s := range steps {
			assert.NoError(t, formula.Check(s, bend.Inches, bend.Millimetres), name)
		}
	}
}
