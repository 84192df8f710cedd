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
// The decimal mark is the point. A line in which commas stand between some numbers
// and none between others is refused: 1,5 2,5 3,5 may be three of them or six.
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
		k, rest := 0, text
		bad := ""
		for k < 3 {
			var cell []byte
			if cell, rest = cut(rest, betweenNumbers); len(cell) == 0 {
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
		case doubtfulComma(text):
			f.add(fmt.Sprintf("line %d", lines.n), strconv.Quote(string(text)), "commas stand between some numbers and none between others: write decimals with a point")
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

// What may stand between the numbers of a line.
const (
	blanks         = " \t"
	betweenNumbers = blanks + ",;"
)

// cut takes the first cell off a line whose cells are parted by what is given.
func cut(s []byte, parted string) (cell, rest []byte) {
	i := gap(s, parted)
	j := i
	for j < len(s) && strings.IndexByte(parted, s[j]) < 0 {
		j++
	}
	return s[i:j], s[j:]
}

// gap is how many bytes stand before the first cell of a line.
func gap(s []byte, parted string) (n int) {
	for n < len(s) && strings.IndexByte(parted, s[n]) >= 0 {
		n++
	}
	return n
}

// doubtfulComma tells whether a comma close between two of the first numbers may be a
// decimal mark, because others of them are parted without one.
func doubtfulComma(line []byte) bool {
	if bytes.IndexByte(line, ',') < 0 {
		return false
	}
	tight, without := false, false
	for k := range 3 {
		_, line = cut(line, betweenNumbers)
		between := line[:gap(line, betweenNumbers)]
		tight = tight || string(between) == ","
		// What follows the third number is another matter, such as a colour.
		without = without || k < 2 && bytes.IndexByte(between, ',') < 0
	}
	return tight && without
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

// text is the line, the first without the mark that some editors put before it.
func (l *lines) text() []byte {
	if l.n == 1 {
		return bytes.TrimPrefix(l.s.Bytes(), []byte("\ufeff"))
	}
	return l.s.Bytes()
}

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
		text := strings.TrimSpace(string(in.text()))
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
