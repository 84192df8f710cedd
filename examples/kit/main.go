// Command kit makes many parts at once: families of one part file filled in with
// the rows of a table. Each part gets its DXF, picture, full-size pattern and bench
// card; the kit gets an index page, a cut list, a list of the material it takes and a
// list of what went wrong.
//
//	go run ./examples/kit                              # the demo: eleven keel bays of the Corrie, into out/kit
//	go run ./examples/kit -o DIR FILE.toml FILE.csv …  # template and table, in pairs
//	go run ./examples/kit -zip                         # all of it in out/kit/kit.zip as well
//	go run ./examples/kit -stock "96 in x 48 in"       # blanks laid out on stock sheets, grain along the 96 in
//	go run ./examples/kit -files dxf,card              # no other files of each part; png is made only where it is asked for
//	go run ./examples/kit -other-hand                  # of every row the part of the other side as well
//
// A run that was interrupted goes on where it stopped when it is started again; parts
// made by another build of the program are made anew. A folder holds one kit: files an
// earlier run made of parts, kinds or a zip that this one no longer has are removed.
// One bad row neither stops nor spoils the others.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime"
	"runtime/debug"
	"syscall"

	"github.com/hangarflat/hangarflat/dxfout"
	"github.com/hangarflat/hangarflat/examples/internal/command"
)

func main() {
	// What a part leaves behind is little; to clear up after every few takes longer than
	// to make them. The heap stays at some tens of MB.
	debug.SetGCPercent(400)
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	command.End(run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}

// A source is a template and the table that fills it in.
type source struct{ template, table string }

var demo = []source{{"examples/kit/keel-bay.toml", "examples/kit/keel-bays.csv"}}

func run(ctx context.Context, args []string, out, progress io.Writer) error {
	flags := flag.NewFlagSet("kit", flag.ContinueOnError)
	folder := flags.String("o", "out/kit", "folder the kit is written to")
	inches := flags.Bool("inch", false, "write DXF files in inches, not millimetres")
	old := flags.Bool("r12", false, "write DXF files in the older R12 form, for old cutters")
	kinds := flags.String("files", kindsOf(unlessAsked()), "files to write of each part, of "+kindsOf(allFiles()))
	zip := flags.Bool("zip", false, "pack the kit into "+zipName+" as well")
	stock := flags.String("stock", "", "lay the blanks out on sheets of this length, along the grain, and width, such as \"96 in x 48 in\"")
	gap := flags.String("gap", "1/4 in", "kept between blanks on a sheet")
	margin := flags.String("margin", "1/2 in", "kept from the edges of a sheet")
	otherHand := flags.Bool("other-hand", false, "make the part of the other side of the aircraft of every row as well")
	workers := flags.Int("workers", runtime.GOMAXPROCS(0), "parts worked on at a time")
	if err := command.Parse(flags, "[template.toml table.csv ...]", args); err != nil {
		return err
	}
	sources := demo
	if names := flags.Args(); len(names) > 0 {
		if len(names)%2 != 0 {
			return fmt.Errorf("kit: template and table come in pairs, and %s has no table", names[len(names)-1])
		}
		sources = nil
		for i := 0; i < len(names); i += 2 {
			sources = append(sources, source{names[i], names[i+1]})
		}
	}
	if !(*workers >= 1 && *workers <= 1024) {
		return fmt.Errorf("kit: workers %d: must be 1 to 1024", *workers)
	}
	k := kit{folder: *folder, workers: *workers, zip: *zip, otherHand: *otherHand}
	var err error
	if k.files, err = chosen(*kinds); err != nil {
		return err
	}
	if k.sheets, err = readStock(*stock, *gap, *margin); err != nil {
		return err
	}
	if *inches {
		k.dxf.Unit = dxfout.Inch
	}
	if *old {
		k.dxf.Version = dxfout.R12
	}
	if k.program, err = thisProgram(); err != nil {
		return err
	}
	sum, err := k.make(ctx, sources, newBar(progress))
	if err != nil {
		return err
	}
	fmt.Fprintf(out, "%s\n", sum)
	if sum.bad > 0 {
		return errors.New("kit: some rows made no part: see " + k.path(faultsName))
	}
	return nil
}
