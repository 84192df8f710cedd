package main

import (
	"bytes"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A bay whose keel and skin edges are an inch longer has a blank as much longer, but for
// the skin's slope of some degrees: bay 7, 13 1/4 in in the table.
func TestLonger(t *testing.T) {
	width := func(args ...string) (keel, blank string) {
		var out bytes.Buffer
		require.NoError(t, run(args, &out))
		assert.Contains(t, out.String(), "APPROVES NOTHING")
		lines := strings.Split(out.String(), "\n")
		require.True(t, strings.HasPrefix(lines[7], "7 "), lines[7])
		cells := strings.Fields(lines[7])
		return cells[1], cells[5]
	}
	keel, blank := width()
	longerKeel, longerBlank := width("-longer", "1 in")
	assert.Equal(t, "13.2500", keel)
	assert.Equal(t, "14.2500", longerKeel)
	assert.InDelta(t, 1, number(t, longerBlank)-number(t, blank), 0.005)
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err)
	return x
}

func TestRefused(t *testing.T) {
	for _, args := range [][]string{{"-longer", "1"}, {"-longer", "-13 in"}, {"-nope"}} {
		require.Error(t, run(args, &bytes.Buffer{}), "%v", args)
	}
}
