// Package command reads the command line that the examples which make DXF files share.
package command

import (
	"flag"

	"github.com/hangarflat/hangarflat/dxfout"
)

// A Line is what the command line asks for.
type Line struct {
	Folder string // to write to
	DXF    dxfout.Options
	Files  []string // to read, the demo where none is named
}

// Read reads the arguments of the named example. more adds the flags that are its
// own; it may be nil.
func Read(name, demo string, args []string, more func(*flag.FlagSet)) (Line, error) {
	flags := flag.NewFlagSet(name, flag.ContinueOnError)
	folder := flags.String("o", "out", "folder the files are written to")
	inches := flags.Bool("inch", false, "write the DXF in inches, not millimetres")
	old := flags.Bool("r12", false, "write the DXF in the older R12 form, for old cutters")
	if more != nil {
		more(flags)
	}
	if err := flags.Parse(args); err != nil {
		return Line{}, err
	}
	line := Line{Folder: *folder, Files: flags.Args()}
	if len(line.Files) == 0 {
		line.Files = []string{demo}
	}
	if *inches {
		line.DXF.Unit = dxfout.Inch
	}
	if *old {
		line.DXF.Version = dxfout.R12
	}
	return line, nil
}
