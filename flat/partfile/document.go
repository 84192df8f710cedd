package partfile

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"github.com/hangarflat/hangarflat/flat"
)

// A Document is what a part file says.
type Document struct {
	File string // as given to [Read]
	Kind Kind
	Part flat.Part
	// at remembers where each field of the part stands, for Locate.
	at map[string]spot
}

// Read reads a part file. name is printed in front of every fault; it is the
// file's name, nothing is opened.
//
// Every fault of the file is returned at once, each an [*Error] with its line and
// column; see [Faults]. The Document is of use only if there is none.
func Read(name string, r io.Reader) (Document, error) {
	d := decoder{faults: faults{file: name}, spots: map[string]spot{}, lost: map[string]bool{}}
	data, err := io.ReadAll(io.LimitReader(r, largest+1))
	switch {
	case err != nil:
		d.add(place{}, "", "", "cannot be read: "+err.Error(), err)
		return Document{}, d.err()
	case len(data) > largest:
		d.addf(place{}, "", "", "is more than %d MiB: not a part file", largest>>20)
		return Document{}, d.err()
	case !utf8.Valid(data):
		n := badByte(data)
		d.addf(newLines(data).place(n), "", fmt.Sprintf("byte 0x%02X", data[n]), "is not UTF-8 text: save the file as UTF-8 in your editor")
		return Document{}, d.err()
	}
	root, headless := parse(data, &d.faults)
	d.headless = headless
	doc := d.document(&table{d: &d, n: root})
	doc.File, doc.at = name, d.spots
	if err := d.err(); err != nil {
		return Document{}, err
	}
	return doc, nil
}

func badByte(data []byte) int {
	for i := 0; i < len(data); {
		r, size := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && size <= 1 {
			return i
		}
		i += size
	}
	return len(data) - 1
}

func (d *decoder) document(t *table) (doc Document) {
	d.mark("", spot{at: t.n.at})
	kind, known, p := d.head(t)
	if !known {
		kind, known = likeliest(t.n)
	}
	doc.Kind, doc.Part = kind, p
	switch {
	case !known:
		return doc // what may stand in the file hangs on its kind
	case kind == Edges:
		d.edges(t, &doc.Part.Web)
	case kind == Section:
		d.section(t, &doc.Part.Web)
	case kind == Between:
		doc.Part = d.between(t, p)
	}
	t.done()
	if kind != Between {
		d.take(doc.Part.Validate())
		d.unique(doc.Part)
	}
	return doc
}

// take adds the faults another package finds in what was read.
func (d *decoder) take(err error) {
	for _, leaf := range leaves(err) {
		if e := locate(leaf, &d.faults, d.spots, d.lost); e != nil {
			d.list = append(d.list, e)
		}
	}
}

// likeliest guesses the kind of a file that states none, so that its other faults
// come out in the same run.
func likeliest(n *node) (Kind, bool) {
	for kind, key := range []string{Edges: "edge", Section: "section", Between: "face"} {
		if n.get(key) != nil {
			return Kind(kind), true
		}
	}
	return 0, false
}

// Locate turns errors of package flat about the document's part, as developing it
// returns them, into [*Error] values with the line of the file that is at fault.
// Other errors are kept as they are.
func (doc Document) Locate(err error) error {
	f := faults{file: doc.File}
	var others []error
	for _, leaf := range leaves(err) {
		if e := locate(leaf, &f, doc.at, nil); e != nil {
			f.list = append(f.list, e)
		} else {
			others = append(others, leaf)
		}
	}
	return errors.Join(append([]error{f.err()}, others...)...)
}

// locate finds the line of a fault of a part: that of the field at fault, or of
// the table it belongs to. It returns nil for an error that names no field, and
// for a field whose value is lost, which was said already.
func locate(err error, f *faults, spots map[string]spot, lost map[string]bool) *Error {
	var fault *flat.Error
	if !errors.As(err, &fault) {
		return nil
	}
	for path := range lost {
		if below(fault.Path, path) {
			return nil
		}
		// The shape of a web does not hang on its flanges.
		if below(path, fault.Path) && !strings.Contains(path[len(fault.Path):], ".flanges[") {
			return nil
		}
	}
	path := fault.Path
	for {
		s, known := spots[path]
		rest := strings.Trim(strings.TrimPrefix(fault.Path, path), ".")
		if known || path == "" {
			value := fault.Value
			switch {
			case rest == "" && s.value != "" && s.value != "[...]":
				value = s.value
			case rest != "" && (value == "0 mm" || value == "0°"):
				value = "" // it was left out
			}
			return &Error{f.file, s.at.line, s.at.column, joined(s.field, " ", plainPath(rest)), value, fault.Rule, fault}
		}
		path = path[:max(strings.LastIndexAny(path, ".["), 0)]
	}
}

// below reports whether a path is another or lies in it.
func below(path, in string) bool {
	rest, ok := strings.CutPrefix(path, in)
	return ok && (rest == "" || rest[0] == '.' || rest[0] == '[')
}

// plainPath writes a path of the part as a maker would say it.
func plainPath(path string) string {
	return strings.Join(strings.FieldsFunc(path, func(r rune) bool { return r == '.' }), " ")
}
