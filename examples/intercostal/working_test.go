package main

import (
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/bend/formula"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every number of the working of every part shipped can be worked again from what is printed beside it.
func TestWorkingCanBeWorkedAgain(t *testing.T) {
	for _, name := range parts(t) {
		blanks, err := develop(name, false)
		require.NoError(t, err)
		steps := blanks[0].Working()
		require.NotEmpty(t, steps, name)
		for _, s := range steps {
			assert.NoError(t, formula.Check(s, bend.Inches, bend.Millimetres), name)
		}
	}
}
