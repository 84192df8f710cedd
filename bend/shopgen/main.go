// Shopgen turns a shop's log of test bends into a Go package of that shop's own
// allowances, which a shop tool imports.
//
//	shopgen -package NAME -out FILE.go LOG.csv
//
// The log is a CSV file. Lines that begin with # are remarks. The first row names the
// columns, in any order:
//
//	strip      what is written on the strip; no two the same
//	material   as package material names it: "2024-T3", "alclad 2024-T3"
//	thickness  measured, with its unit or gauge: "0.0402 in", "1.02 mm", "20 SWG";
//	           the gauge of another metal is refused
//	radius     inside radius of the bar, with its unit: "1/8 in"
//	angle      turned through from flat, with its unit: "90 deg"
//	blank      length before bending, with its unit
//	leg a      a leg after bending, by outside caliper, with its unit
//	leg b      the other leg
//	to         may be left out: "mold line" (also when empty) or "outside of fold"
//
// Strips of one material, one sheet (thicknesses measured within 5 %, so that 0.0402 in and
// 0.0398 in go together; named by the standard thickness nearest, if one is within 2.5 %) and one radius make a group; a group of at least
// three that agree gives one K. Bad rows are reported all at once with line and column,
// and then nothing is written. The same log gives the same bytes.
package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
)

func main() {
	name := flag.String("package", "shopbends", "name of the package to write")
	out := flag.String("out", "", "Go file to write; empty for the standard output")
	flag.Parse()
	if err := run(*name, *out, flag.Args()); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(name, out string, args []string) error {
	if len(args) != 1 {
		return fmt.Errorf("shopgen: want one log of test bends, got %q", args)
	}
	raw, err := os.ReadFile(args[0])
	if err != nil {
		return err
	}
	log := filepath.Base(args[0])
	text, err := generate(name, log, raw)
	if err != nil {
		return fmt.Errorf("%s: nothing written:\n%w", log, err)
	}
	if out == "" {
		_, err = os.Stdout.Write(text)
		return err
	}
	return replaceFile(out, text)
}

// replaceFile writes beside the file and renames, so that a full disk leaves the old
// one whole.
func replaceFile(name string, text []byte) error {
	temporary, err := os.CreateTemp(filepath.Dir(name), ".shopgen-*")
	if err != nil {
		return err
	}
	defer os.Remove(temporary.Name()) // gone already when all went well
	_, err = temporary.Write(text)
	if closed := temporary.Close(); err == nil {
		err = closed
	}
	if err == nil {
		err = os.Chmod(temporary.Name(), 0o644)
	}
	if err == nil {
		err = os.Rename(temporary.Name(), name)
	}
	return err
}
