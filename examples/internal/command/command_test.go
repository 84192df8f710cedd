package command

import (
	"flag"
	"strings"
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
	require.EqualError(t, err, "x: flag provided but not defined: -no-such; -h tells what can be asked")
}

// Help names the program as it is run, the files it reads and every flag.
func TestReadTellsHelp(t *testing.T) {
	_, err := Read("x", "examples/x/demo.toml", []string{"-h", "a"}, nil)
	var help Help
	require.ErrorAs(t, err, &help)
	assert.True(t, strings.HasPrefix(string(help), "go run ./examples/x [flags] [demo.toml ...]\n"), help)
	for _, flag := range []string{"-o string", "-inch", "-r12"} {
		assert.Contains(t, string(help), flag)
	}
}

// A program that reads no file does not pass over one that is named.
func TestParseTakesNoFile(t *testing.T) {
	flags := flag.NewFlagSet("x", flag.ContinueOnError)
	flags.Bool("loud", false, "")
	require.NoError(t, Parse(flags, "", []string{"-loud"}))
	require.EqualError(t, Parse(flags, "", []string{"-loud", "my.toml"}), `x: "my.toml": no file is read; -h tells what can be asked`)
	require.NoError(t, Parse(flags, "FILE", []string{"-loud", "my.toml"}))
	assert.EqualError(t, Parse(flags, "", []string{"--help"}), "go run ./examples/x [flags]\n  -loud\n    \t\n")
}
