// Command intercostal turns a part file into a blank: a DXF for the cutter, a
// picture, and a bench card, which it also prints.
//
//	go run ./examples/intercostal                  # the demo, into out/
//	go run ./examples/intercostal -o DIR FILE.toml # another part, another folder
//
// Nothing is written unless the part can be developed and every file rendered.
package main

import (
	"bytes"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/hangarflat/hangarflat/dxfout"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/paper"
	"github.com/hangarflat/hangarflat/flat/partfile"
)

// demo is read when no file is named, from the root of the repository.
const demo = "examples/intercostal/keel-bay-7.toml"

func main() {
	if err := run(os.Args[1:], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(args []string, card io.Writer) error {
	flags := flag.NewFlagSet("intercostal", flag.ContinueOnError)
	folder := flags.String("o", "out", "folder the files are written to")
	inches := flags.Bool("inch", false, "write the DXF in inches, not millimetres")
	old := flags.Bool("r12", false, "write the DXF in the older R12 form, for old cutters")
	if err := flags.Parse(args); err != nil {
		return err
	}
	names := flags.Args()
	if len(names) == 0 {
		names = []string{demo}
	}
	var opt dxfout.Options
	if *inches {
		opt.Unit = dxfout.Inch
	}
	if *old {
		opt.Version = dxfout.R12
	}
	for _, name := range names {
		blank, err := develop(name)
		if err != nil {
			return err
		}
		if err := write(*folder, blank, opt, card); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
	}
	return nil
}

// develop reads a part file and lays the part out flat. Faults come out with the
// line of the file they concern.
func develop(name string) (flat.Blank, error) {
	f, err := os.Open(name)
	if err != nil {
		return flat.Blank{}, err
	}
	defer f.Close()
	doc, err := partfile.Read(name, f)
	if err != nil {
		return flat.Blank{}, err
	}
	blank, err := flat.Develop(doc.Part)
	if err != nil {
		return flat.Blank{}, doc.Locate(err)
	}
	return blank, nil
}

// write renders every file of the part before it saves the first.
func write(folder string, b flat.Blank, opt dxfout.Options, card io.Writer) error {
	var dxf, svg, text bytes.Buffer
	if err := dxfout.Write(&dxf, drawing.Of(b), opt); err != nil {
		return err
	}
	if err := paper.SVG(&svg, b, paper.PictureOptions{}); err != nil {
		return err
	}
	if err := paper.Card(&text, b, paper.CardOptions{}); err != nil {
		return err
	}
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	base := filepath.Join(folder, b.Part.Name)
	for _, file := range []struct {
		name string
		data []byte
	}{{base + ".dxf", dxf.Bytes()}, {base + ".svg", svg.Bytes()}, {base + "-card.txt", text.Bytes()}} {
		err := paper.Save(file.name, func(w io.Writer) error { _, err := w.Write(file.data); return err })
		if err != nil {
			return err
		}
	}
	_, err := card.Write(text.Bytes())
	return err
}
