package command

import (
	"flag"
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/dxfout"
	"github.com/hangarflat/hangarflat/flat/paper"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

func TestRead(t *testing.T) {
	line, err := Read("x", "demo.toml", nil, nil)
	require.NoError(t, err)
	assert.Equal(t, Line{Folder: "out", Files: []string{"demo.toml"}}, line)

	both := false
	line, err = Read("x", "demo.toml", []string{"-o", "d", "-inch", "-r12", "-both", "-paper", "a3", "a", "b"}, func(f *flag.FlagSet) {
		f.BoolVar(&both, "both", false, "")
	})
	require.NoError(t, err)
	assert.True(t, both)
	assert.Equal(t, Line{"d", dxfout.Options{Unit: dxfout.Inch, Version: dxfout.R12}, paper.PatternOptions{Paper: paper.A3}, []string{"a", "b"}}, line)

	_, err = Read("x", "demo.toml", []string{"-paper", "foolscap"}, nil)
	require.ErrorContains(t, err, "-paper")
	_, err = Read("x", "demo.toml", []string{"-no-such"}, nil)
	require.EqualError(t, err, "x: flag provided but not defined: -no-such; -h tells what can be asked")
}

// Help names the program as it is run, the files it reads and every flag.
func TestReadTellsHelp(t *testing.T) {
	_, err := Read("x", "examples/x/demo.toml", []string{"-h", "a"}, nil)
	var help Help
	require.ErrorAs(t, err, &help)
	assert.True(t, strings.HasPrefix(string(help), "go run ./examples/x [flags] [demo.toml ...]\n"), help)
	for _, flag := range []string{"-o string", "-inch", "-r12", "-paper string", "-bars string"} {
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

// The paper and the measured bars are taken as the shop writes them, or refused with
// what is wrong.
func TestSheets(t *testing.T) {
	for _, c := range []struct {
		paper, bars string
		want        paper.PatternOptions
	}{
		{"A4", "", paper.PatternOptions{}},
		{"a3", "", paper.PatternOptions{Paper: paper.A3}},
		{"letter", "99.5 mm x 4 in", paper.PatternOptions{Paper: paper.Letter, Measured: r2.Vec{X: 99.5, Y: 101.6}}},
		{"24 in", "", paper.PatternOptions{Paper: paper.Roll, RollWidth: 609.6}},
	} {
		got, err := Sheets{c.paper, c.bars}.Options()
		require.NoError(t, err)
		assert.InDelta(t, c.want.RollWidth, got.RollWidth, 1e-9)
		got.RollWidth = c.want.RollWidth
		assert.Equal(t, c.want, got)
	}
	for bad, says := range map[[2]string]string{
		{"foolscap", ""}: "-paper", {"24", ""}: "-paper", {"A4", "100 mm"}: "-bars", {"A4", "99 x 100"}: "-bars",
	} {
		_, err := Sheets{bad[0], bad[1]}.Options()
		assert.ErrorContains(t, err, says)
	}
}
