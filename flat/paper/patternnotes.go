package paper

import (
	"fmt"
	"slices"
	"strings"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/outline"
	"gonum.org/v1/gonum/spatial/r2"
)

const (
	notesSize   = 3.2 // of the lettering on a sheet of notes, mm
	notesMargin = 15.0
	notesLine   = 1.4  // from one line to the next, sizes
	sampleLine  = 22.0 // of each kind of line, mm
)

// notes prints what a pattern's foot had no room for: its name in full, what each kind of
// line is, and the notes.
func (s *sheet) notes() {
	n := noteSheet{s, s.t.page.Y}
	n.say(notesMargin, 1.5*notesSize, true, s.d.Name)
	if s.d.Title != "" {
		n.say(notesMargin, notesSize, false, s.d.Title)
	}
	if s.d.NotForCutting {
		n.down(3 * notesSize)
		s.p.text(lettering{at: r2.Vec{X: notesMargin, Y: n.y}, size: 2 * notesSize, bold: true, color: s.ink.stop, text: flat.NotForCutting})
	}
	n.down(notesSize)
	for _, layer := range drawing.Layers() {
		if k, shown := s.ink.lines(layer); shown {
			n.kind(layer, onPattern(k, layer, sampleLine))
		}
	}
	n.down(notesSize)
	for _, note := range s.d.Notes {
		n.say(notesMargin, notesSize, false, note)
	}
}

// A noteSheet is filled from above, line by line.
type noteSheet struct {
	*sheet
	y float64 // of the last line
}

// down goes on to a line so far below, on a new sheet where this one is full.
func (n *noteSheet) down(height float64) {
	if n.y += height; n.y > n.t.page.Y-notesMargin {
		n.p.page(n.t.page.X, n.t.page.Y)
		n.p.layer("NOTES")
		n.y = notesMargin + height
	}
}

// say sets words, on as many lines as they take.
func (n *noteSheet) say(from, size float64, bold bool, words string) {
	room := (n.t.page.X - notesMargin - from) / size
	if bold {
		room /= boldWider
	}
	for _, part := range breakLines(oneLine(words), func(t string) bool { return n.width(t) <= room }) {
		n.down(notesLine * size)
		n.p.text(lettering{at: r2.Vec{X: from, Y: n.y}, size: size, bold: bold, color: n.ink.text, text: clipped(part, n.width, room)})
	}
}

// kind shows the lines of a layer, with what is drawn on it, where anything is.
func (n *noteSheet) kind(layer drawing.Layer, k ink) {
	names, there := n.named(layer)
	if !there {
		return
	}
	n.down(notesLine * notesSize)
	at := r2.Vec{X: notesMargin, Y: n.y - 0.35*notesSize}
	n.p.shape([]outline.Path{lineOf(at, r2.Add(at, r2.Vec{X: sampleLine}))}, k)
	n.y -= notesLine * notesSize // the words stand beside the line
	text := layer.String()
	const most = 4
	switch last := len(names) - 1; {
	case last >= most:
		text += fmt.Sprintf(": %s to %s, %d in all", names[0], names[last], len(names))
	case last >= 0:
		text += ": " + strings.Join(names, "; ")
	}
	n.say(notesMargin+sampleLine+4, notesSize, false, text)
}

// named are the names of what is drawn on a layer, each once, and whether anything is.
func (s *sheet) named(layer drawing.Layer) (names []string, there bool) {
	add := func(on drawing.Layer, name string) {
		there = there || on == layer
		if name = oneLine(name); on == layer && name != "" && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	for _, p := range s.d.Paths {
		add(p.Layer, p.Name)
	}
	for _, c := range s.d.Circles {
		add(c.Layer, c.Name)
	}
	return names, there
}
