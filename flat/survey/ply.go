package survey

import (
	"bufio"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
)

// A plyType is a kind of number the polygon file format stores.
type plyType uint8

const (
	plyInt8 plyType = iota
	plyUint8
	plyInt16
	plyUint16
	plyInt32
	plyUint32
	plyFloat32
	plyFloat64
)

func plyTypeOf(name string) (t plyType, ok bool) {
	switch name {
	case "char", "int8":
		return plyInt8, true
	case "uchar", "uint8":
		return plyUint8, true
	case "short", "int16":
		return plyInt16, true
	case "ushort", "uint16":
		return plyUint16, true
	case "int", "int32":
		return plyInt32, true
	case "uint", "uint32":
		return plyUint32, true
	case "float", "float32":
		return plyFloat32, true
	case "double", "float64":
		return plyFloat64, true
	}
	return 0, false
}

// size is the bytes one such number takes.
func (t plyType) size() int { return [...]int{1, 1, 2, 2, 4, 4, 4, 8}[t] }

// value reads the number at the start of b.
func (t plyType) value(b []byte, bigEndian bool) float64 {
	var bits uint64
	switch {
	case t.size() == 1:
		bits = uint64(b[0])
	case bigEndian:
		for _, c := range b[:t.size()] {
			bits = bits<<8 | uint64(c)
		}
	case t.size() == 2:
		bits = uint64(binary.LittleEndian.Uint16(b))
	case t.size() == 4:
		bits = uint64(binary.LittleEndian.Uint32(b))
	default:
		bits = binary.LittleEndian.Uint64(b)
	}
	switch t {
	case plyInt8:
		return float64(int8(bits))
	case plyInt16:
		return float64(int16(bits))
	case plyInt32:
		return float64(int32(bits))
	case plyFloat32:
		return float64(math.Float32frombits(uint32(bits)))
	case plyFloat64:
		return math.Float64frombits(bits)
	}
	return float64(bits)
}

type plyProperty struct {
	name  string
	typ   plyType
	list  bool
	count plyType // of a list
}

type plyElement struct {
	name  string
	count int
	props []plyProperty
}

type plyHeader struct {
	text, bigEndian bool
	elements        []plyElement
}

// ReadPLY reads the vertices of a file in the polygon file format, text or binary of
// either byte order. unit is the length of the file's unit in mm, which the format
// does not say. Faces, colours and normals are passed over. Memory is 24 bytes a
// point. Faults are [*Error]s, with their line in the header and their vertex
// after it.
func ReadPLY(r io.Reader, unit float64) ([]r3.Vec, error) {
	if err := checkUnit(unit); err != nil {
		return nil, err
	}
	in := bufio.NewReaderSize(r, 1<<16)
	head, err := readPLYHeader(in)
	if err != nil {
		return nil, err
	}
	for _, e := range head.elements {
		if e.name != "vertex" {
			if err := skipElement(in, head, e); err != nil {
				return nil, err
			}
			continue
		}
		if head.text {
			return readTextVertices(in, e, unit)
		}
		return readBinaryVertices(in, head.bigEndian, e, unit)
	}
	return nil, &Error{"header", "", "has no element vertex"}
}

func readPLYHeader(in *bufio.Reader) (h plyHeader, err error) {
	format := false
	for n := 1; ; n++ {
		line, err := shortLine(in)
		at := fmt.Sprintf("header line %d", n)
		if err != nil {
			return h, &Error{at, "", "the file ends, or runs on without a new line, inside its header"}
		}
		words := strings.Fields(line)
		switch {
		case n == 1:
			if line != "ply" {
				return h, &Error{at, strconv.Quote(line), `must be "ply"`}
			}
		case n > 1000:
			return h, &Error{at, "", "the header is too long"}
		case len(words) == 0 || words[0] == "comment" || words[0] == "obj_info":
		case words[0] == "end_header":
			if !format {
				return h, &Error{at, "", "the format is missing"}
			}
			return h, nil
		case words[0] == "format" && len(words) == 3 && words[2] == "1.0":
			switch words[1] {
			case "ascii":
				h.text = true
			case "binary_little_endian":
			case "binary_big_endian":
				h.bigEndian = true
			default:
				return h, &Error{at, words[1], "must be ascii, binary_little_endian or binary_big_endian"}
			}
			format = true
		case words[0] == "element" && len(words) == 3:
			count, err := strconv.Atoi(words[2])
			if err != nil || count < 0 || count > mostPoints {
				return h, &Error{at, words[2], fmt.Sprintf("a count must be 0 to %d", mostPoints)}
			}
			h.elements = append(h.elements, plyElement{name: words[1], count: count})
		case words[0] == "property" && len(h.elements) > 0:
			p, ok := plyPropertyOf(words)
			if !ok {
				return h, &Error{at, line, "is no property this format has"}
			}
			e := &h.elements[len(h.elements)-1]
			e.props = append(e.props, p)
		default:
			return h, &Error{at, line, "is not a line of such a header"}
		}
	}
}

func plyPropertyOf(words []string) (p plyProperty, ok bool) {
	if len(words) == 5 && words[1] == "list" {
		c, ok1 := plyTypeOf(words[2])
		t, ok2 := plyTypeOf(words[3])
		return plyProperty{words[4], t, true, c}, ok1 && ok2
	}
	if len(words) != 3 {
		return p, false
	}
	t, ok := plyTypeOf(words[1])
	return plyProperty{name: words[2], typ: t}, ok
}

// shortLine reads a line of a header, without its end.
func shortLine(in *bufio.Reader) (string, error) {
	b, err := in.ReadSlice('\n')
	if err != nil {
		return "", err
	}
	return strings.TrimRight(string(b), "\r\n"), nil
}

// mostList bounds the list of one face.
const mostList = 1 << 20

// errShort is given when a body ends before its counts are met.
func errShort(e plyElement, i int) error {
	return &Error{fmt.Sprintf("%s %d", e.name, i), "", fmt.Sprintf("the file ends, of %d %ss", e.count, e.name)}
}

func skipElement(in *bufio.Reader, h plyHeader, e plyElement) error {
	for i := range e.count {
		if h.text {
			if _, err := in.ReadSlice('\n'); err != nil && !errors.Is(err, io.EOF) || errors.Is(err, io.EOF) && i+1 < e.count {
				return errShort(e, i)
			}
			continue
		}
		for _, p := range e.props {
			n := p.typ.size()
			if p.list {
				b, err := in.Peek(p.count.size())
				if err != nil {
					return errShort(e, i)
				}
				k := p.count.value(b, h.bigEndian)
				if !(k >= 0 && k <= mostList) {
					return &Error{fmt.Sprintf("%s %d %s", e.name, i, p.name), fmt.Sprintf("%g", k), fmt.Sprintf("a list must have 0 to %d entries", mostList)}
				}
				n = p.count.size() + int(k)*p.typ.size()
			}
			if _, err := in.Discard(n); err != nil {
				return errShort(e, i)
			}
		}
		if len(e.props) == 0 {
			return nil // nothing is stored, however many there are
		}
	}
	return nil
}

// coordinates returns where x, y and z stand among the properties.
func (e plyElement) coordinates() (at [3]int, err error) {
	at = [3]int{-1, -1, -1}
	for i, p := range e.props {
		if p.list {
			return at, &Error{"header", "vertex property " + p.name, "a vertex with lists is not read"}
		}
		for k, name := range [3]string{"x", "y", "z"} {
			if p.name == name {
				at[k] = i
			}
		}
	}
	for k, i := range at {
		if i < 0 {
			return at, &Error{"header", "vertex", fmt.Sprintf("has no property %c", "xyz"[k])}
		}
	}
	return at, nil
}

// firstCapacity is how many points are made room for on the word of a header, 24 MB;
// the rest as they come.
const firstCapacity = 1 << 20

func readTextVertices(in *bufio.Reader, e plyElement, unit float64) ([]r3.Vec, error) {
	at, err := e.coordinates()
	if err != nil {
		return nil, err
	}
	var f faults
	out := make([]r3.Vec, 0, min(e.count, firstCapacity))
	for i := range e.count {
		// A last line without its end may have lost digits, so it counts as cut off.
		line, err := in.ReadSlice('\n')
		if err != nil {
			return nil, errShort(e, i)
		}
		line = trimEnd(line)
		var p [3]float64
		for k := range e.props {
			var cell []byte
			cell, line = cut(line, blanks)
			if len(cell) == 0 {
				f.add(fmt.Sprintf("vertex %d", i), fmt.Sprintf("%d numbers", k), fmt.Sprintf("must have %d, one for each property", len(e.props)))
				break
			}
			for c := range at {
				if at[c] != k {
					continue
				}
				v, err := strconv.ParseFloat(string(cell), 64)
				if err != nil {
					f.add(fmt.Sprintf("vertex %d %c", i, "xyz"[c]), strconv.Quote(string(cell)), "must be a number")
				}
				p[c] = v * unit
			}
		}
		q := r3.Vec{X: p[0], Y: p[1], Z: p[2]}
		if !finite3(q) {
			f.point3(fmt.Sprintf("vertex %d", i), q)
		}
		out = append(out, q)
	}
	return finish(out, nil, &f)
}

func trimEnd(b []byte) []byte {
	for len(b) > 0 && (b[len(b)-1] == '\n' || b[len(b)-1] == '\r') {
		b = b[:len(b)-1]
	}
	return b
}

func readBinaryVertices(in *bufio.Reader, bigEndian bool, e plyElement, unit float64) ([]r3.Vec, error) {
	at, err := e.coordinates()
	if err != nil {
		return nil, err
	}
	var offset [3]int
	size := 0
	for i, p := range e.props {
		for k := range at {
			if at[k] == i {
				offset[k] = size
			}
		}
		size += p.typ.size()
	}
	var f faults
	out := make([]r3.Vec, 0, min(e.count, firstCapacity))
	types := [3]plyType{e.props[at[0]].typ, e.props[at[1]].typ, e.props[at[2]].typ}
	for i := range e.count {
		buf, err := in.Peek(size) // a header of 1000 lines keeps size below the buffer's
		if err != nil {
			return nil, errShort(e, i)
		}
		var p [3]float64
		for k := range p {
			p[k] = types[k].value(buf[offset[k]:], bigEndian) * unit
		}
		if _, err := in.Discard(size); err != nil {
			return nil, errShort(e, i)
		}
		q := r3.Vec{X: p[0], Y: p[1], Z: p[2]}
		if !finite3(q) {
			f.point3(fmt.Sprintf("vertex %d", i), q)
		}
		out = append(out, q)
	}
	return finish(out, nil, &f)
}
