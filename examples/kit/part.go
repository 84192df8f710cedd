package main

import (
	"bytes"
	"fmt"
	"hash/fnv"
	"io"
	"os"

	"github.com/hangarflat/hangarflat/dxfout"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/family"
	"github.com/hangarflat/hangarflat/flat/paper"
)

// A writeError is the folder's fault, not the part's.
type writeError struct{ err error }

func (e *writeError) Error() string { return "kit: " + e.err.Error() }
func (e *writeError) Unwrap() error { return e.err }

func hash(parts ...string) uint64 {
	h := fnv.New64a()
	for _, p := range parts {
		io.WriteString(h, p)
		h.Write([]byte{0})
	}
	return h.Sum64()
}

// keyOf says what a part is made from, and how: the same key makes the same files.
func (k kit) keyOf(template string, m family.Member) string {
	how := fmt.Sprint(k.dxf, k.patterns)
	return fmt.Sprintf("%016x", hash(append([]string{template, how}, m.Texts...)...))
}

// do makes one part: all its files are rendered before the first is saved.
func (k kit) do(j job, past *journal) result {
	r := result{number: j.number, err: j.err}
	if r.err != nil {
		return r
	}
	name := j.member.Part.Name
	if made, ok := past.done(j.key); ok && made.Name == name && k.standing(name) {
		r.made, r.kept = made, true
		return r
	}
	b, err := flat.Develop(j.member.Part)
	if err != nil {
		r.err = fmt.Errorf("%s:%d: makes no part:\n%w", j.source.table, j.member.Line, j.member.Locate(err))
		return r
	}
	files := k.files()
	data := make([]bytes.Buffer, len(files))
	for i, f := range files {
		if err := f.render(&data[i], b); err != nil {
			r.err = fmt.Errorf("%s:%d: %s: %w", j.source.table, j.member.Line, name+f.suffix, err)
			return r
		}
	}
	for i, f := range files {
		err := paper.Save(k.path(name+f.suffix), func(w io.Writer) error { _, err := w.Write(data[i].Bytes()); return err })
		if err != nil {
			r.err = &writeError{err}
			return r
		}
	}
	r.made = entryOf(j, b)
	return r
}

// A file is one of those made of each part.
type file struct {
	suffix string
	render func(io.Writer, flat.Blank) error
}

func (k kit) files() []file {
	files := []file{
		{".dxf", func(w io.Writer, b flat.Blank) error { return dxfout.Write(w, drawing.Of(b), k.dxf) }},
		{".svg", func(w io.Writer, b flat.Blank) error { return paper.SVG(w, b, paper.PictureOptions{}) }},
		{"-card.txt", func(w io.Writer, b flat.Blank) error { return paper.Card(w, b, paper.CardOptions{}) }},
	}
	if k.patterns {
		files = append(files, file{"-pattern.pdf", func(w io.Writer, b flat.Blank) error { return paper.Pattern(w, b, paper.PatternOptions{}) }})
	}
	return files
}

// standing reports whether all files of a part are there.
func (k kit) standing(name string) bool {
	for _, f := range k.files() {
		if _, err := os.Stat(k.path(name + f.suffix)); err != nil {
			return false
		}
	}
	return true
}
