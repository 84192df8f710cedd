package family

import (
	"bytes"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"

	"github.com/hangarflat/hangarflat/flat/partfile"
)

// An Error is a fault of a template or of a table, with the place it stands in.
type Error struct {
	File  string
	Line  int    // from 1; 0 of a whole file
	Field string // the word or column
	Value string
	Rule  string
	Err   error // what refused the filled-in part, or nil
}

func (e *Error) Error() string {
	s := e.File
	if e.Line > 0 {
		s = fmt.Sprintf("%s:%d", s, e.Line)
	}
	for _, part := range []string{e.Field, e.Value, e.Rule} {
		if part != "" {
			s += ": " + part
		}
	}
	if e.Err != nil {
		s += ":\n" + e.Err.Error()
	}
	return s
}

// Unwrap returns the error of the part file that a row filled in, or nil.
func (e *Error) Unwrap() error { return e.Err }

// A Template is a part file with words to fill in.
type Template struct {
	File   string
	Words  []string // in the order they first stand in the file
	text   string
	lines  []string // of text, remarks cut off
	blanks []blank
	rest   string // of text, behind the last blank
	// single has, for each word, whether it stands between single quotation marks anywhere.
	single []bool
}

// A blank is where a word is filled in.
type blank struct {
	before string // the text since the last one
	word   int
}

// word is what stands in angle brackets.
var word = regexp.MustCompile(`<([^<>"\n]*)>`)

// ReadTemplate reads a template. name is printed in front of faults; nothing is
// opened. It returns an [*Error] for text that cannot be read or is more than 1 MiB, for angle
// brackets that hold no word, and for a text that has no word to fill in.
func ReadTemplate(name string, r io.Reader) (Template, error) {
	const largest = 1 << 20
	data, err := io.ReadAll(io.LimitReader(r, largest+1))
	switch {
	case err != nil:
		return Template{}, &Error{File: name, Rule: "cannot be read", Err: err}
	case len(data) > largest:
		return Template{}, &Error{File: name, Rule: "is more than 1 MiB: not a template"}
	}
	t := Template{File: name, text: string(data)}
	var code string
	var in []quoting
	next := bare
	for i, line := range strings.Split(t.text, "\n") {
		code, in, next = next.line(line) // a remark may hold anything
		t.lines = append(t.lines, code)
		for _, at := range word.FindAllStringSubmatchIndex(code, -1) {
			w := wordOf(code[at[2]:at[3]])
			if w == "" {
				return Template{}, &Error{File: name, Line: i + 1, Value: code[at[0]:at[1]], Rule: "holds no word to fill in"}
			}
			t.add(w, in[at[0]])
		}
	}
	if len(t.Words) == 0 {
		return Template{}, &Error{File: name, Rule: `has no word in angle brackets, such as "<length>": every member would be the same part`}
	}
	t.findBlanks()
	return t, nil
}

// findBlanks takes the text apart, once for all members.
func (t *Template) findBlanks() {
	from := 0
	for _, at := range word.FindAllStringSubmatchIndex(t.text, -1) {
		if i := slices.Index(t.Words, wordOf(t.text[at[2]:at[3]])); i >= 0 { // not in a remark
			t.blanks = append(t.blanks, blank{t.text[from:at[0]], i})
			from = at[1]
		}
	}
	t.rest = t.text[from:]
}

// add takes a word that stands in the file.
func (t *Template) add(w string, in quoting) {
	i := slices.Index(t.Words, w)
	if i < 0 {
		i = len(t.Words)
		t.Words, t.single = append(t.Words, w), append(t.single, false)
	}
	t.single[i] = t.single[i] || in == literal || in == literalLines
}

// Fill puts one text for each of the template's words in its place and reads the
// part file that results. Texts are given in the order of Words. It returns an [*Error] for more
// or fewer of them than Words and for one that cannot stand in its place, and the errors of
// [partfile.Read].
func (t Template) Fill(texts []string) (partfile.Document, error) {
	if len(texts) != len(t.Words) {
		return partfile.Document{}, &Error{File: t.File, Value: fmt.Sprint(len(texts), " texts"), Rule: fmt.Sprintf("the template has %d words", len(t.Words))}
	}
	for i, text := range texts {
		rule := notText(text)
		if rule == "" && t.single[i] && strings.Contains(text, "'") {
			rule = fmt.Sprintf(`would end the single quotation marks that the word stands between: write "<%s>" in the template`, t.Words[i])
		}
		if rule != "" {
			return partfile.Document{}, &Error{File: t.File, Field: t.Words[i], Value: fmt.Sprintf("%q", text), Rule: rule}
		}
	}
	var filled bytes.Buffer
	for _, b := range t.blanks {
		filled.WriteString(b.before)
		filled.WriteString(texts[b.word])
	}
	filled.WriteString(t.rest)
	return partfile.Read(t.File, &filled)
}
