package paper

import (
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The card lists the worst readings in the order given, six of them, counts the rest, and names the first as
// the one to take again.
func TestCardTellsTheDoubts(t *testing.T) {
	b := plate(120, 80)
	var none strings.Builder
	require.NoError(t, Card(&none, b, CardOptions{}))
	assert.NotContains(t, none.String(), "DOUBT OF THE SURVEY")

	doubts := make([]flat.Doubt, 8)
	for i := range doubts {
		doubts[i] = flat.Doubt{Reading: `face "frame", point ` + string(rune('1'+i)), Shift: 2.54 / float64(i+1), Turn: measure.Degree / 4}
	}
	opt := CardOptions{Doubts: doubts, Doubt: flat.Doubt{Shift: 5.08, Turn: measure.Degree}}
	var text strings.Builder
	require.NoError(t, Card(&text, b, opt))
	_, rest, found := strings.Cut(text.String(), "DOUBT OF THE SURVEY")
	require.True(t, found)
	lines := strings.Split(rest, "\n")
	assert.Regexp(t, `^face "frame", point 1 +0\.1000 / 2\.540 +0\.25°$`, lines[3])
	assert.Regexp(t, `^face "frame", point 6 +0\.0167 / 0\.423 +0\.25°$`, lines[8])
	assert.Regexp(t, `^2 more, which move the corners less$`, lines[9])
	assert.Regexp(t, `^all together .* 0\.2000 / 5\.080 +1\.00°$`, lines[10])
	assert.Contains(t, rest, `take again first: face "frame", point 1.`)

	opt.Doubts = doubts[:6]
	text.Reset()
	require.NoError(t, Card(&text, b, opt))
	assert.NotContains(t, text.String(), "which move the corners less")
}
