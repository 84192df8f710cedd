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
	Sums      []uint32 // of its files, in their order
}

func entryOf(j job, b flat.Blank) entry {
	box := b.Outline.Bounds()
	e := entry{
		Key: j.key, Name: b.Part.Name, Title: b.Part.Title,
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

// A journal remembers in the kit's folder which parts are done. A line is added
// when all files of a part stand; a line cut short by an interruption is ignored.
// Memory holds where each line stands and not the line.
type journal struct {
	made map[uint64]span // by key; not changed after it was read
	file *os.File
}

// A span is where a line of the journal stands.
type span struct{ at, length int64 }

func openJournal(name string) (*journal, error) {
	f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE|os.O_APPEND, 0o644)
	if err != nil {
		return nil, err
	}
	j := &journal{made: map[uint64]span{}, file: f}
	lines := bufio.NewReaderSize(f, 1<<16)
	for at := int64(0); ; {
		line, err := lines.ReadBytes('\n')
		var e entry
		if json.Unmarshal(line, &e) == nil && e.Name != "" {
			j.made[e.Key] = span{at, int64(len(line))}
		}
		at += int64(len(line))
		if err == io.EOF {
			return j, nil
		}
		if err != nil {
			f.Close()
			return nil, fmt.Errorf("%s: %w: delete it to make the kit anew", name, err)
		}
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

// add writes a part down. It starts with a line end, in case the last line was cut
// short.
func (j *journal) add(e entry) error {
	line, err := json.Marshal(e)
	if err != nil {
		return err
	}
	_, err = j.file.Write(append(append([]byte{'\n'}, line...), '\n'))
	return err
}

func (j *journal) close() { j.file.Close() }
