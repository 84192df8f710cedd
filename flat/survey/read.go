package survey

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"github.com/hangarflat/hangarflat/material/measure"
)

// mostPoints bounds a scan: a hundred million points are 2.4 GB.
const mostPoints = 100_000_000

// mostLine bounds a line of a text file, bytes.
const mostLine = 1 << 16

func checkUnit(unit float64) error {
	if !(unit > 0 && unit <= 1e6) {
		return &Error{"unit", fmt.Sprintf("%g mm", unit), "must be the length of the file's unit: measure.Millimetre, measure.Metre, measure.Inch"}
	}
	return nil
}

// ReadXYZ reads a scan of one point a line: x, y and z parted by spaces, tabs,
// commas or semicolons; what follows them (brightness, colour, normals) is left.
// Lines that are empty or start with # or // are skipped. unit is the length of
// the file's unit in mm, which such files do not say. Memory is 24 bytes a point.
// Faults are [*Error]s with their line, joined, at most twenty.
func ReadXYZ(r io.Reader, unit float64) ([]r3.Vec, error) {
	if err := checkUnit(unit); err != nil {
		return nil, err
	}
	var f faults
	var out []r3.Vec
	lines := newLines(r)
	for lines.scan() {
		text := bytes.TrimSpace(lines.text())
		if len(text) == 0 || text[0] == '#' || bytes.HasPrefix(text, []byte("//")) {
			continue
		}
		var p [3]float64
		k := 0
		bad := ""
		for k < 3 {
			var cell []byte
			if cell, text = cut(text); len(cell) == 0 {
				break
			}
			v, err := strconv.ParseFloat(string(cell), 64)
			if err != nil {
				bad = string(cell)
				break
			}
			p[k] = v * unit
			k++
		}
		q := r3.Vec{X: p[0], Y: p[1], Z: p[2]}
		switch {
		case bad != "":
			f.add(fmt.Sprintf("line %d", lines.n), strconv.Quote(bad), "must be a number")
		case k < 3:
			f.add(fmt.Sprintf("line %d", lines.n), fmt.Sprintf("%d numbers", k), "a point has x, y and z")
		case !finite3(q):
			f.point3(fmt.Sprintf("line %d", lines.n), q)
		case len(out) >= mostPoints:
			f.add("scan", "", fmt.Sprintf("more than %d points", mostPoints))
			return nil, f.err()
		default:
			out = append(out, q)
		}
	}
	return finish(out, lines.err(), &f)
}

func finish(out []r3.Vec, err error, f *faults) ([]r3.Vec, error) {
	if err != nil {
		return nil, err
	}
	if len(f.list) == 0 && len(out) == 0 {
		f.add("scan", "0 points", "there must be some")
	}
	if err := f.err(); err != nil {
		return nil, err
	}
	return out, nil
}

// cut takes the first cell off a line.
func cut(s []byte) (cell, rest []byte) {
	part := func(c byte) bool { return c == ' ' || c == '\t' || c == ',' || c == ';' }
	i := 0
	for i < len(s) && part(s[i]) {
		i++
	}
	j := i
	for j < len(s) && !part(s[j]) {
		j++
	}
	return s[i:j], s[j:]
}

// lines counts the lines it hands out.
type lines struct {
	s *bufio.Scanner
	n int
}

func newLines(r io.Reader) *lines {
	s := bufio.NewScanner(r)
	s.Buffer(make([]byte, 0, 4096), mostLine)
	return &lines{s: s}
}

func (l *lines) scan() bool {
	l.n++
	return l.s.Scan()
}

func (l *lines) text() []byte { return l.s.Bytes() }

func (l *lines) err() error {
	err := l.s.Err()
	if errors.Is(err, bufio.ErrTooLong) {
		return &Error{fmt.Sprintf("line %d", l.n), "", fmt.Sprintf("is longer than %d bytes: is this a text file?", mostLine)}
	}
	if err != nil {
		return fmt.Errorf("survey: reading a scan: %w", err)
	}
	return nil
}

// ReadCSV reads points from comma-separated text whose first row names the columns
// x, y and z among others, each with its unit in brackets: "x [mm],y [mm],z [mm]".
// Faults are [*Error]s with their line, joined.
func ReadCSV(r io.Reader) ([]r3.Vec, error) {
	var f faults
	in := newLines(r)
	var head []string
	for in.scan() {
		text := strings.TrimSpace(strings.TrimPrefix(string(in.text()), "\ufeff"))
		if text != "" && text[0] != '#' {
			head = strings.Split(text, ",")
			break
		}
	}
	col := [3]int{-1, -1, -1}
	var unit [3]float64
	for i, h := range head {
		name, rest, bracket := strings.Cut(strings.ToLower(strings.TrimSpace(h)), "[")
		k := strings.Index("xyz", strings.TrimSpace(name))
		if k < 0 || len(strings.TrimSpace(name)) != 1 {
			continue
		}
		if col[k] >= 0 {
			f.add(fmt.Sprintf("line %d column %d", in.n, i+1), h, "this column stands twice")
		}
		col[k] = i
		size, err := measure.ParseLengthUnit(strings.TrimSuffix(strings.TrimSpace(rest), "]"))
		if !bracket || err != nil {
			f.add(fmt.Sprintf("line %d column %d", in.n, i+1), h, "must carry its unit in brackets, such as x [mm]: mm, cm, m, in, thou or ft")
		}
		unit[k] = size
	}
	for k, c := range col {
		if c < 0 {
			f.add("table", strings.Join(head, ","), fmt.Sprintf("the first row must name a column %c", "xyz"[k]))
		}
	}
	if err := in.err(); err != nil {
		return nil, err
	}
	if err := f.err(); err != nil {
		return nil, err
	}
	var out []r3.Vec
	for in.scan() {
		text := strings.TrimSpace(string(in.text()))
		if text == "" || text[0] == '#' {
			continue
		}
		cells := strings.Split(text, ",")
		if len(cells) != len(head) {
			f.add(fmt.Sprintf("line %d", in.n), fmt.Sprintf("%d cells", len(cells)), fmt.Sprintf("must have %d, like the first row", len(head)))
			continue
		}
		var p [3]float64
		good := true
		for k, c := range col {
			v, err := strconv.ParseFloat(strings.TrimSpace(cells[c]), 64)
			if err != nil {
				f.add(fmt.Sprintf("line %d column %c", in.n, "xyz"[k]), cells[c], "must be a number")
				good = false
			}
			p[k] = v * unit[k]
		}
		q := r3.Vec{X: p[0], Y: p[1], Z: p[2]}
		if good {
			f.point3(fmt.Sprintf("line %d", in.n), q)
			out = append(out, q)
		}
	}
	return finish(out, in.err(), &f)
}
