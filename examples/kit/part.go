package main

import (
	"bytes"
	"fmt"
	"hash/crc32"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/family"
)

// A writeError is the folder's fault, not the part's.
type writeError struct{ err error }

func (e *writeError) Error() string {
	return "kit: " + e.err.Error() + ": the kit is not complete; put it right and start again to go on"
}
func (e *writeError) Unwrap() error { return e.err }

// keyOf says what a part is made from, how, and by which program: the same key makes the
// same files. Another build may bend by other numbers, so none of its parts is kept.
func (k kit) keyOf(template string, m family.Member) uint64 {
	how := fmt.Sprint(k.dxf, kindsOf(k.files))
	return hash(append([]string{k.program, template, how}, m.Texts...)...)
}

// A worker makes parts one after another, each file into the same memory.
type worker struct {
	kit
	data []bytes.Buffer
}

func (k kit) worker() worker { return worker{k, make([]bytes.Buffer, len(k.files))} }

// do makes one part: all its files are rendered before the first is saved.
func (k worker) do(j job, past *journal) result {
	r := result{number: j.number, err: j.err}
	if r.err != nil {
		return r
	}
	made, ok := past.done(j.key)
	r.kept = ok && made.Name == j.member.Part.Name && k.standing(made)
	if r.kept && !k.sheets.wanted {
		r.made = made
		return r
	}
	b, err := flat.Develop(j.member.Part)
	if err != nil {
		r.err = j.fault(err)
		return r
	}
	if k.sheets.wanted {
		r.cut = toCut(b)
	}
	if r.kept {
		r.made = made
		return r
	}
	r.made = entryOf(j, b)
	r.err = k.write(&r.made, b, j, past)
	return r
}

// write renders the files of a part, writes them down and saves them.
func (k worker) write(e *entry, b flat.Blank, j job, past *journal) error {
	data := k.data
	for i, f := range k.files {
		data[i].Reset()
		if err := f.render(&data[i], b, k.dxf); err != nil {
			return fmt.Errorf("%s:%d: %s: %w", j.source.table, j.member.Line, e.Name+f.suffix, err)
		}
		e.Files = append(e.Files, stamp{e.Name + f.suffix, crc32.ChecksumIEEE(data[i].Bytes())})
	}
	if err := past.add(*e); err != nil {
		return &writeError{err}
	}
	for i, s := range e.Files {
		if err := k.save(s.Name, data[i].Bytes()); err != nil {
			return &writeError{err}
		}
	}
	return nil
}
