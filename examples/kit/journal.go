package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"os"
	"sync"

	"github.com/hangarflat/hangarflat/flat"
)

// An entry is what the lists of the kit say of a part. The journal keeps them, so
// that a run that goes on need not make a part again to list it.
type entry struct {
	Key       string
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
type journal struct {
	mu   sync.Mutex
	made map[string]entry
	file *os.File
}

func openJournal(name string) (*journal, error) {
	f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE|os.O_APPEND, 0o644)
	if err != nil {
		return nil, err
	}
	j := &journal{made: map[string]entry{}, file: f}
	lines := bufio.NewScanner(f)
	lines.Buffer(nil, 1<<20)
	for lines.Scan() {
		var e entry
		if json.Unmarshal(lines.Bytes(), &e) == nil && e.Key != "" {
			j.made[e.Key] = e
		}
	}
	if err := lines.Err(); err != nil {
		f.Close()
		return nil, fmt.Errorf("%s: %w: delete it to make the kit anew", name, err)
	}
	return j, nil
}

func (j *journal) done(key string) (entry, bool) {
	j.mu.Lock()
	defer j.mu.Unlock()
	e, ok := j.made[key]
	return e, ok
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
