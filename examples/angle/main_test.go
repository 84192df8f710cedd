package main

import (
	"bytes"
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/material/measure"
)

// By hand, R 1/4, T .040, 90°: BA = (0.01743·0.25 + 0.0078·0.04)·90 = 0.420255 in, and
// the blank is 2 - 2·0.29 + 0.420255 = 1.840255 in wide.
func TestBracket(t *testing.T) {
	p, err := bracket("6 in", "1 in", "90 deg", "1/4 in")
	require.NoError(t, err)
	b, err := flat.Develop(p)
	require.NoError(t, err)
	box := b.Outline.Bounds()
	assert.InDelta(t, 1.840255, (box.Max.Y-box.Min.Y)/measure.Inch, 1e-9)
	assert.False(t, b.Stopped())
	dir := t.TempDir()
	var screen bytes.Buffer
	require.NoError(t, run([]string{"-o", dir}, &screen))
	assert.Contains(t, screen.String(), "0.420")
	for _, name := range []string{"angle.dxf", "angle.svg", "angle-card.txt"} {
		assert.FileExists(t, dir+"/"+name)
	}
}

// Every slip of the command line is reported at once, and a part that cannot be made
// says which of its numbers is at fault.
func TestBracketRefuses(t *testing.T) {
	_, err := bracket("6", "1 inc", "90", "1/4 in")
	for _, want := range []string{`"6"`, `"1 inc"`, `"90"`} {
		assert.ErrorContains(t, err, want)
	}
	dir := t.TempDir() + "/out"
	err = run([]string{"-o", dir, "-turned", "190 deg"}, &bytes.Buffer{})
	var fault *flat.Error
	require.True(t, errors.As(err, &fault))
	assert.NoDirExists(t, dir)
}
