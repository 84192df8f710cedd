// Package command reads the command lines of the examples and ends them: every slip is
// told once, and help that was asked for is no fault. What the lines ask for of a drawing
// it makes the files of.
package command

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/hangarflat/hangarflat/dxfout"
	"github.com/hangarflat/hangarflat/flat/paper"
)

// Help is what a program answers that was asked for help, with no work done.
type Help string

func (h Help) Error() string { return string(h) }

// End ends a program whose work came to err.
func End(err error) {
	var help Help
	switch {
	case err == nil:
	case errors.As(err, &help):
		fmt.Print(help)
	default:
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// Parse reads the arguments of a program into its flags. files says, for its help, what may stand
// behind them; where it is empty nothing may. Asked for help the error is a [Help].
func Parse(flags *flag.FlagSet, files string, args []string) error {
	flags.SetOutput(io.Discard) // the error is told by who ends the program
	err := flags.Parse(args)
	switch {
	case errors.Is(err, flag.ErrHelp):
		return helpOf(flags, files)
	case err != nil:
		return fmt.Errorf("%s: %w; -h tells what can be asked", flags.Name(), err)
	case files == "" && flags.NArg() > 0:
		return fmt.Errorf("%s: %q: no file is read; -h tells what can be asked", flags.Name(), flags.Arg(0))
	}
	return nil
}

func helpOf(flags *flag.FlagSet, files string) Help {
	var text strings.Builder
	fmt.Fprintf(&text, "go run ./examples/%s %s\n", flags.Name(), strings.TrimSpace("[flags] "+files))
	flags.SetOutput(&text)
	flags.PrintDefaults()
	return Help(text.String())
}

// A Line is what the command line asks for.
type Line struct {
	Folder  string // to write to
	DXF     dxfout.Options
	Pattern paper.PatternOptions
	Files   []string // to read, the demo where none is named
}

// Read reads the arguments of the named example of those that make DXF files and patterns of the
// files named, or of its demo. more adds the flags that are its own; it may be nil.
func Read(name, demo string, args []string, more func(*flag.FlagSet)) (Line, error) {
	flags := flag.NewFlagSet(name, flag.ContinueOnError)
	folder := flags.String("o", "out", "folder the files are written to")
	inches := flags.Bool("inch", false, "write the DXF in inches, not millimetres")
	old := flags.Bool("r12", false, "write the DXF in the older R12 form, for old cutters")
	sheets := Sheets{Paper: "A4"}
	sheets.Flags(flags)
	if more != nil {
		more(flags)
	}
	if err := Parse(flags, "["+filepath.Base(demo)+" ...]", args); err != nil {
		return Line{}, err
	}
	pattern, err := sheets.Options()
	if err != nil {
		return Line{}, err
	}
	line := Line{Folder: *folder, Pattern: pattern, Files: flags.Args()}
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
