package main

import (
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/bend/formula"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every number of the working of both patches, and of the slack, can be worked again from what is printed beside it.
func TestWorkingCanBeWorkedAgain(t *testing.T) {
	for _, name := range []string{"hatch-skin.toml", "hatch-insert.toml"} {
		r, err := work(name, []byte(text(t, name)))
		require.NoError(t, err)
		steps := append(r.fitted.Steps, r.slack.Step(), r.endsFirst.Step())
		for _, s := range steps {
			assert.NoError(t, formula.Check(s, bend.Inches, bend.Millimetres), name)
		}
	}
}
