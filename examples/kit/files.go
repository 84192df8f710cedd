package main

import (
	"fmt"
	"hash/crc32"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/hangarflat/hangarflat/dxfout"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/paper"
)

// A file is one of those made of each part.
type file struct {
	kind, suffix string // as the command line and the folder name it
	label        string // on the index page
	render       func(io.Writer, flat.Blank, dxfout.Options) error
}

const picture = "picture"

func allFiles() []file {
	return []file{
		{"dxf", ".dxf", "DXF", func(w io.Writer, b flat.Blank, o dxfout.Options) error { return dxfout.Write(w, drawing.Of(b), o) }},
		{picture, ".svg", "picture", func(w io.Writer, b flat.Blank, _ dxfout.Options) error {
			return paper.SVG(w, b, paper.PictureOptions{})
		}},
		{"card", "-card.pdf", "bench card", func(w io.Writer, b flat.Blank, _ dxfout.Options) error {
			return paper.CardPDF(w, b, paper.CardOptions{})
		}},
		{"text", "-card.txt", "card as text", func(w io.Writer, b flat.Blank, _ dxfout.Options) error { return paper.Card(w, b, paper.CardOptions{}) }},
		{"pattern", "-pattern.pdf", "full-size pattern", func(w io.Writer, b flat.Blank, _ dxfout.Options) error {
			return paper.Pattern(w, b, paper.PatternOptions{})
		}},
		{"png", ".png", "picture as PNG", func(w io.Writer, b flat.Blank, _ dxfout.Options) error {
			return paper.PNG(w, b, paper.PictureOptions{}, 0)
		}},
	}
}

// unlessAsked are the files made where none are named: all but the PNG, which takes longer than
// all the others together.
func unlessAsked() []file {
	return slices.DeleteFunc(allFiles(), func(f file) bool { return f.kind == "png" })
}

func kindsOf(files []file) string {
	var kinds []string
	for _, f := range files {
		kinds = append(kinds, f.kind)
	}
	return strings.Join(kinds, ",")
}

// chosen picks files by their kinds, "dxf,card".
func chosen(kinds string) ([]file, error) {
	all := allFiles()
	wanted := strings.Split(kinds, ",")
	for i, k := range wanted {
		wanted[i] = strings.TrimSpace(k)
		if !slices.ContainsFunc(all, func(f file) bool { return f.kind == wanted[i] }) {
			return nil, fmt.Errorf("kit: files %q: there are %s", k, kindsOf(all))
		}
	}
	return slices.DeleteFunc(all, func(f file) bool { return !slices.Contains(wanted, f.kind) }), nil
}

// save puts a file in place whole or not at all. It does not wait for the disk, as
// paper.Save does, for that takes longer than to make the part: the journal holds a
// checksum of each file instead, and a file that a power cut spoiled is made anew.
func (k kit) save(name string, data []byte) error {
	draft := filepath.Join(k.path(workName), name)
	if err := os.WriteFile(draft, data, 0o644); err != nil {
		os.Remove(draft)
		return err
	}
	return os.Rename(draft, k.path(name))
}

// standing reports whether all files of a part are there and as they were written.
func (k kit) standing(e entry) bool {
	if len(e.Files) != len(k.files) {
		return false
	}
	for _, s := range e.Files {
		if now, err := k.sum(s.Name); err != nil || now != s.Sum {
			return false
		}
	}
	return true
}

// sum is the checksum of a file as it stands.
func (k kit) sum(name string) (uint32, error) {
	f, err := os.Open(k.path(name))
	if err != nil {
		return 0, err
	}
	defer f.Close()
	h := crc32.NewIEEE()
	_, err = io.Copy(h, f)
	return h.Sum32(), err
}
