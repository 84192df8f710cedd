// Command handbook writes the page that lists every formula and every table of the
// library with its source and the tests that hold it. It reads the source of the
// packages, so the page says what the code says: a formula or a table that no test
// holds stops it, and so does a test that is named and does not exist.
//
//	go generate ./examples/handbook      # after a change of a formula, a table or held.toml
//
// Which test holds what stands in held.toml.
package main

import (
	"bytes"
	"errors"
	"flag"
	"io"
	"os"
	"path/filepath"

	"github.com/hangarflat/hangarflat/examples/internal/command"
	"github.com/hangarflat/hangarflat/flat/paper"
)

//go:generate go run .

func main() {
	command.End(run(os.Args[1:]))
}

func run(args []string) error {
	flags := flag.NewFlagSet("handbook", flag.ContinueOnError)
	root := flags.String("root", "../..", "the repository")
	out := flags.String("o", "README.md", "the page to write")
	if err := command.Parse(flags, "", args); err != nil {
		return err
	}
	page, err := pageOf(*root)
	if err != nil {
		return err
	}
	return paper.Save(*out, func(w io.Writer) error { _, err := w.Write(page); return err })
}

// pageOf is the page of the repository that stands in a folder.
func pageOf(root string) ([]byte, error) {
	held, err := readHeld(filepath.Join(root, "examples", "handbook", "held.toml"))
	if err != nil {
		return nil, err
	}
	code, err := readCode(root)
	if err != nil {
		return nil, err
	}
	formulas, err := code.formulas()
	if err != nil {
		return nil, err
	}
	tables, err := readTables(root)
	if err != nil {
		return nil, err
	}
	var told []formula
	for _, t := range held.Told {
		f, err := code.told(t)
		if err != nil {
			return nil, err
		}
		told = append(told, f)
	}
	if err := errors.Join(held.formulas(formulas, code), held.tables(tables, code), held.told(told, code)); err != nil {
		return nil, err
	}
	var b bytes.Buffer
	write(&b, formulas, told, tables, code.sources())
	return b.Bytes(), nil
}
