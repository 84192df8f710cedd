package command

import (
	"flag"
	"testing"

	"github.com/hangarflat/hangarflat/dxfout"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestRead(t *testing.T) {
	line, err := Read("x", "demo.toml", nil, nil)
	require.NoError(t, err)
	assert.Equal(t, Line{Folder: "out", Files: []string{"demo.toml"}}, line)

	both := false
	line, err = Read("x", "demo.toml", []string{"-o", "d", "-inch", "-r12", "-both", "a", "b"}, func(f *flag.FlagSet) {
		f.BoolVar(&both, "both", false, "")
	})
	require.NoError(t, err)
	assert.True(t, both)
	assert.Equal(t, Line{"d", dxfout.Options{Unit: dxfout.Inch, Version: dxfout.R12}, []string{"a", "b"}}, line)

	_, err = Read("x", "demo.toml", []string{"-no-such"}, nil)
	require.Error(t, err)
}
