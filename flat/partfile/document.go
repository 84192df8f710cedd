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
	// at tells where each field of the part stands, for Locate.
	at atlas
}

// Read reads a part file. name is printed in front of every fault; it is the
// file's name, nothing is opened.
//
// Every fault of the file is returned at once, each an [*Error] with its line and
// column; see [Faults]. The Document is of use only if there is none.
func Read(name string, r io.Reader) (Document, error) {
	d, root := open(name, r)
	if root == nil {
		return Document{}, d.err()
	}
	doc := d.document(root)
	doc.File, doc.at = name, d.atlas
	if err := d.err(); err != nil {
		return Document{}, err
	}
	return doc, nil
}

// open reads a file into a tree. The table is nil where it is no text to begin with.
func open(name string, r io.Reader) (*decoder, *table) {
	d := &decoder{faults: faults{file: name}, atlas: newAtlas()}
	data, err := io.ReadAll(io.LimitReader(r, largest+1))
	switch {
	case err != nil:
		d.add(place{}, "", "", "cannot be read: "+err.Error(), err)
		return d, nil
	case len(data) > largest:
		d.addf(place{}, "", "", "is more than %d MiB: not a part file", largest>>20)
		return d, nil
	case !utf8.Valid(data):
		n := badByte(data)
		d.addf(newLines(data).place(n), "", fmt.Sprintf("byte 0x%02X", data[n]), "is not UTF-8 text: save the file as UTF-8 in your editor")
		return d, nil
	}
	root, headless := parse(data, &d.faults)
	d.headless = headless
	return d, &table{d: d, n: root}
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

// take adds the faults another package finds in what was read, but those of fields
// whose value is lost, about which something was said already.
func (d *decoder) take(err error) {
	for _, leaf := range leaves(err) {
		var fault *flat.Error
		if errors.As(leaf, &fault) && !d.silent(fault.Path) {
			d.list = append(d.list, d.locate(d.file, fault))
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
		var fault *flat.Error
		if errors.As(leaf, &fault) {
			f.list = append(f.list, doc.at.locate(doc.File, fault))
		} else {
			others = append(others, leaf)
		}
	}
	return errors.Join(append([]error{f.err()}, others...)...)
}

// locate finds the line of a fault of the part: that of the field at fault, or of
// the table it belongs to.
func (a *atlas) locate(file string, fault *flat.Error) *Error {
	s, rest := a.find(fault.Path)
	value := fault.Value
	switch {
	case rest == "" && s.value != "" && s.value != "[...]":
		value = s.value
	case rest != "" && (value == "0 mm" || value == "0°"):
		value = "" // it was left out
	}
	return &Error{file, s.at.line, s.at.column, joined(s.field, " ", plainPath(rest)), value, fault.Rule, fault}
}

// plainPath writes a path of the part as a maker would say it.
func plainPath(path string) string {
	return strings.Join(strings.FieldsFunc(path, func(r rune) bool { return r == '.' }), " ")
}
