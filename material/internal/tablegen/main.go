// Tablegen turns the published tables in testdata (CSV with a "# source:" head)
// into Go source for packages material and bend, and the rows of each table into
// the test that holds the source to them.
//
//	tablegen -tables DIR -out DIR material
//	tablegen -tables DIR -out DIR bend
//
// The same tables give the same bytes.
package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
)

func main() {
	tables := flag.String("tables", "testdata", "folder of the CSV tables")
	out := flag.String("out", ".", "folder to write Go source to")
	flag.Parse()
	if err := run(*tables, *out, flag.Args()); err != nil {
		fmt.Fprintln(os.Stderr, "tablegen:", err)
		os.Exit(1)
	}
}

func run(tables, out string, args []string) error {
	if len(args) != 1 {
		return fmt.Errorf("want one package to generate for, material or bend, got %q", args)
	}
	files, err := generate(args[0], tables)
	if err != nil {
		return err
	}
	for _, f := range files {
		if err := os.WriteFile(filepath.Join(out, f.name), f.text, 0o644); err != nil {
			return err
		}
	}
	return nil
}

// A goFile is one generated file.
type goFile struct {
	name string
	text []byte
}

// generate makes the files of one package without touching the disk but for
// reading the tables.
func generate(pkg, tables string) ([]goFile, error) {
	switch pkg {
	case "material":
		return materialFiles(tables)
	case "bend":
		return bendFiles(tables)
	}
	return nil, fmt.Errorf("no tables for package %q: material or bend", pkg)
}
