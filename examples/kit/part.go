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

// do makes the parts of a row. None is made unless all of them can be.
func (k worker) do(j job, past *journal) result {
	r := result{number: j.number, err: j.err}
	var blanks []flat.Blank
	for i := 0; i < len(j.hands) && r.err == nil; i++ {
		var p part
		var b flat.Blank
		if p, b, r.err = k.lay(j, j.hands[i], past); r.err == nil {
			r.parts, blanks = append(r.parts, p), append(blanks, b)
		}
	}
	for i := 0; i < len(r.parts) && r.err == nil; i++ {
		if p := &r.parts[i]; !p.kept {
			r.err = k.write(&p.made, blanks[i], j, past)
		}
	}
	return r
}

// lay lays a part of a row out flat, where its files do not stand already or sheets want its
// outline.
func (k worker) lay(j job, of flat.Part, past *journal) (p part, b flat.Blank, err error) {
	key := keyOfHand(j, of)
	made, ok := past.done(key)
	p.kept = ok && made.Name == of.Name && k.standing(made)
	if p.kept && !k.sheets.wanted {
		p.made = made
		return p, b, nil
	}
	if b, err = flat.Develop(of); err != nil {
		return p, b, j.fault(err)
	}
	if k.sheets.wanted {
		p.cut = toCut(b)
	}
	p.made = made
	if !p.kept {
		p.made = entryOf(key, b)
	}
	return p, b, nil
}

// keyOfHand is the key of the row, and another for the other hand of its part.
func keyOfHand(j job, of flat.Part) uint64 {
	if of.Name == j.member.Part.Name {
		return j.key
	}
	return hash(fmt.Sprint(j.key), of.Name)
}

// write renders the files of a part, all before the first is saved, writes them down and
// saves them.
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
