package family

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"
)

// mostHead bounds what is looked at to find out how a table was saved, bytes.
const mostHead = 1 << 16

// rows reads a table as spreadsheets save it.
type rows struct {
	name string // of the table
	*csv.Reader
}

// rowsOf finds out how a table was saved: with a byte-order mark or without, its cells
// parted by commas, semicolons or tabs. What is no CSV in UTF-8 is refused.
func rowsOf(name string, r io.Reader) (rows, error) {
	text := bufio.NewReaderSize(r, mostHead)
	start, err := text.Peek(mostHead)
	refuse := func(rule string, err error) (rows, error) {
		return rows{}, &Error{File: name, Rule: rule, Err: err}
	}
	switch {
	case err != nil && !errors.Is(err, io.EOF):
		return refuse("cannot be read", err)
	case bytes.HasPrefix(start, []byte("\xff\xfe")) || bytes.HasPrefix(start, []byte("\xfe\xff")):
		return refuse(`is UTF-16 text, not UTF-8: save it as "CSV UTF-8" in the spreadsheet`, nil)
	case bytes.HasPrefix(start, []byte("PK\x03\x04")):
		return refuse(`is a workbook, not a table of text: save it as "CSV UTF-8" in the spreadsheet`, nil)
	case bytes.ContainsRune(start, '\r') && !bytes.ContainsRune(start, '\n'):
		return refuse(`has lines that end in carriage returns alone: save it as "CSV UTF-8" in the spreadsheet`, nil)
	}
	if mark := []byte("\ufeff"); bytes.HasPrefix(start, mark) {
		start = start[len(mark):]
		text.Discard(len(mark)) // has been read
	}
	c := csv.NewReader(&cellErrors{text: text, begins: true})
	c.Comma = parting(start)
	c.Comment = '#'
	c.TrimLeadingSpace = c.Comma != '\t' // a cell that is blank is not a blank before the next
	c.FieldsPerRecord = -1               // a short row is its own fault, not the table's
	return rows{name, c}, nil
}

// parting is what parts the cells of a table: what stands oftenest in its first row,
// outside quotation marks.
func parting(start []byte) rune {
	var count [3]int
	marks := []byte{',', ';', '\t'}
	quoted := false
	for len(start) > 0 {
		line, rest, _ := bytes.Cut(start, []byte("\n"))
		if start = rest; !quoted && (len(bytes.TrimSpace(line)) == 0 || line[0] == '#') {
			continue
		}
		for _, b := range line {
			if b == '"' {
				quoted = !quoted
			} else if i := bytes.IndexByte(marks, b); i >= 0 && !quoted {
				count[i]++
			}
		}
		if !quoted {
			break
		}
	}
	return rune(marks[slices.Index(count[:], slices.Max(count[:]))])
}

// next reads the next row that is not blank: spreadsheets save blank rows as cells of
// nothing.
func (r rows) next() ([]string, error) {
	for {
		row, err := r.Read()
		if err != nil || slices.ContainsFunc(row, func(cell string) bool { return strings.TrimSpace(cell) != "" }) {
			return row, err
		}
	}
}

// fault says why a row could not be read, and whether another may follow.
func (r rows) fault(err error) (fault *Error, more bool) {
	var broken *csv.ParseError
	if !errors.As(err, &broken) {
		return &Error{File: r.name, Rule: "cannot be read", Err: err}, false
	}
	rule := "is not a row of the table"
	switch {
	case errors.Is(broken, csv.ErrBareQuote):
		rule += `: a quotation mark stands within a cell; write inches as "13 1/4 in"`
	case errors.Is(broken, csv.ErrQuote):
		rule += ": the quotation marks of a cell do not close, or something follows them"
	}
	return &Error{File: r.name, Line: broken.StartLine, Rule: rule, Err: err}, true
}

// cellErrors puts a blank before every line that begins with an error of the
// spreadsheet, "#REF!": the row is at fault, and would be lost without a word were it
// taken for a remark.
type cellErrors struct {
	text   *bufio.Reader
	line   []byte // what is left of it
	begins bool   // a line begins with what is read next
}

var cellError = regexp.MustCompile(`^#([A-Z0-9/_]+[!?]|N/A)`)

func (c *cellErrors) Read(p []byte) (int, error) {
	if len(c.line) == 0 {
		line, err := c.text.ReadSlice('\n') // or as much of it as there is room for
		if len(line) == 0 {
			return 0, err
		}
		marked := c.begins && cellError.Match(line)
		c.line, c.begins = line, line[len(line)-1] == '\n'
		if marked && len(p) > 0 {
			p[0] = ' '
			return 1, nil
		}
	}
	n := copy(p, c.line)
	c.line = c.line[n:]
	return n, nil
}

// wordOf is a word of a template or of the head of a table: however its parts stand
// apart, by line ends too.
func wordOf(text string) string { return strings.Join(strings.Fields(text), " ") }

// notText is the rule that a text breaks which is filled in, or "".
func notText(text string) string {
	switch {
	case !utf8.ValidString(text):
		return `is not UTF-8 text: save the table as "CSV UTF-8" in the spreadsheet`
	case strings.ContainsRune(text, '"'):
		return `a quotation mark cannot be filled in: write inches as "13 1/4 in"`
	case strings.ContainsFunc(text, func(r rune) bool { return r < ' ' || r == 0x7f || r == '\\' }):
		return "a backslash, a line end or another control character cannot be filled in"
	}
	return ""
}
