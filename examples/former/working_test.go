package main

import (
	"os"
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/bend/formula"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every number of the working of both frames can be worked again from what is printed beside it, in inches as the card
// has it: a curvature stands in 1/in.
func TestWorkingCanBeWorkedAgain(t *testing.T) {
	for _, name := range []string{"frame-8.toml", "frame-2.toml"} {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		j, err := read(name, data)
		require.NoError(t, err)
		choices, err := lay(j)
		require.NoError(t, err)
		for _, c := range choices {
			steps := c.Ring.Working()
			for _, s := range c.Ring.Splices {
				steps = append(steps, s.Steps...)
			}
			require.NotEmpty(t, steps, name)
			for _, s := range steps {
				assert.NoError(t, formula.Check(s, bend.Inches), name)
			}
		}
	}
}
