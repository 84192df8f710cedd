package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"os"

	"github.com/hangarflat/hangarflat/flat"
)

// An entry is what the lists of the kit say of a part. The journal keeps them, so
// that a run that goes on need not make a part again to list it.
type entry struct {
	Key       uint64
	Name      string
	Title     string
	Sheet     string // material
	Thickness float64
	Grain     string
	Width     float64 // of the blank along x, mm
	Height    float64
	Area      float64 // mm²
	Grams     float64
	Stopped   bool
	Warnings  int
	Files     []stamp // made of it
}

// A stamp is a file as it was written.
type stamp struct {
	Name string
	Sum  uint32
}

func entryOf(key uint64, b flat.Blank) entry {
	box := b.Outline.Bounds()
	e := entry{
		Key: key, Name: b.Part.Name, Title: b.Part.Title,
		Sheet: b.Part.Sheet.Material.String(), Thickness: b.Part.Sheet.Thickness, Grain: "not stated",
		Width: box.Max.X - box.Min.X, Height: box.Max.Y - box.Min.Y,
		Area: b.Area, Grams: b.Mass, Stopped: b.Stopped(),
	}
	if g := b.Part.Sheet.Grain; g.Stated {
		e.Grain = g.Angle.String()
	}
	for _, f := range b.Findings {
		if f.Severity == flat.Warn {
			e.Warnings++
		}
	}
	return e
}

// A journal remembers in the kit's folder which files were made of which parts, and the
// zip, as an entry of no part. A line is added before the first of its files is put in
// place, so that none stands that a later run does not know as its own; whether they all
// came to stand is told by their checksums. A line cut short by an interruption is
// ignored. Memory holds where each line stands and not the line.
type journal struct {
	made map[uint64]span // by key; not changed after it was read
	file *os.File
	past int64 // where the lines of this run begin
}

// A span is where a line of the journal stands.
type span struct{ at, length int64 }

func openJournal(name string) (*journal, error) {
	f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE|os.O_APPEND, 0o644)
	if err != nil {
		return nil, err
	}
	j := &journal{made: map[uint64]span{}, file: f}
	if err = j.read(); err != nil {
		f.Close()
		return nil, fmt.Errorf("%s: %w: delete it to make the kit anew", name, err)
	}
	return j, nil
}

// read finds out where the lines of earlier runs stand.
func (j *journal) read() error {
	info, err := j.file.Stat()
	if err != nil {
		return err
	}
	j.past = info.Size()
	return j.each(func(e entry, at span) error {
		if e.Name != "" {
			j.made[e.Key] = at
		}
		return nil
	})
}

// each goes through the lines of earlier runs.
func (j *journal) each(do func(e entry, at span) error) error {
	lines := bufio.NewReaderSize(io.NewSectionReader(j.file, 0, j.past), 1<<16)
	for at := int64(0); ; {
		line, end := lines.ReadBytes('\n')
		if end != nil && end != io.EOF {
			return end
		}
		var e entry
		if json.Unmarshal(line, &e) == nil {
			if err := do(e, span{at, int64(len(line))}); err != nil {
				return err
			}
		}
		if end == io.EOF {
			return nil
		}
		at += int64(len(line))
	}
}

// done returns what an earlier run wrote down of a part.
func (j *journal) done(key uint64) (e entry, ok bool) {
	s, ok := j.made[key]
	if !ok {
		return e, false
	}
	line := make([]byte, s.length)
	if _, err := j.file.ReadAt(line, s.at); err != nil {
		return e, false
	}
	return e, json.Unmarshal(bytes.TrimSpace(line), &e) == nil
}

// add writes an entry down, from any worker. It starts with a line end, in case the last
// line was cut short.
func (j *journal) add(e entry) error {
	line, err := json.Marshal(e)
	if err != nil {
		return err
	}
	_, err = j.file.Write(append(append([]byte{'\n'}, line...), '\n'))
	return err
}

func (j *journal) close() { j.file.Close() }
