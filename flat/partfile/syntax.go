package partfile

import (
	"bytes"
	"errors"
	"regexp"
	"slices"
	"sort"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// largest bounds a part file, bytes. A part of a thousand edges takes a tenth.
const largest = 4 << 20

// mostSyntax bounds the faults of form that are listed: after so many, this is
// not a part file.
const mostSyntax = 25

// lines holds the offset at which each line of a file starts.
type lines []int

func newLines(data []byte) lines {
	l := lines{0}
	for i, b := range data {
		if b == '\n' {
			l = append(l, i+1)
		}
	}
	return l
}

func (l lines) number(offset int) int {
	return sort.SearchInts(l, offset+1)
}

func (l lines) place(offset int) place {
	n := l.number(offset)
	return place{n, offset - l[n-1] + 1}
}

// parse reads the whole file into a tree and goes on after a line that is not
// TOML, so that one quotation mark forgotten does not hide the other faults. A
// key whose value could not be read stands in the tree as an Invalid node;
// headless is true if a [header] or a line without a key had to be left out.
func parse(data []byte, f *faults) (root *node, headless bool) {
	data = slices.Clip(bytes.TrimPrefix(data, []byte("\ufeff"))) // text editors put a byte-order mark in front
	g := grower{faults: f, data: data, lines: newLines(data), root: newTable(place{1, 1}, header)}
	g.table = g.root
	for g.base < len(data) && len(f.list) < mostSyntax {
		p := new(unstable.Parser)
		p.Reset(data[g.base:])
		g.p = p
		end := g.base // of the last good expression
		for p.NextExpression() {
			end = g.base + lastByte(p.Expression())
			g.expression(p.Expression())
		}
		if p.Error() == nil {
			break
		}
		at := len(data) - 1
		var broken *unstable.ParserError
		if errors.As(p.Error(), &broken) && len(broken.Highlight) > 0 {
			at = g.base + int(p.Range(broken.Highlight).Offset)
		}
		g.base = g.broken(g.statement(end, at), at, p.Error())
	}
	return g.root, g.headless
}

// lastByte is the end of what an expression is known to cover.
func lastByte(e *unstable.Node) int {
	end := int(e.Raw.Offset + e.Raw.Length)
	for it := e.Key(); it.Next(); {
		end = max(end, int(it.Node().Raw.Offset+it.Node().Raw.Length))
	}
	return end
}

// statement finds the line, counted from 0, in which the statement that broke at
// an offset begins: the first after the last good one, which ended at end, that is
// neither blank nor remark.
func (g *grower) statement(end, at int) int {
	first := g.lines.number(end)
	if end == g.base {
		first-- // nothing good yet: the statement may begin in this very line
	}
	for n := first; n < len(g.lines) && g.lines[n] <= at; n++ {
		if line := bytes.TrimSpace(g.line(n)); len(line) > 0 && line[0] != '#' {
			return n
		}
	}
	return g.lines.number(at) - 1
}

// line is a line of the file, counted from 0.
func (g *grower) line(n int) []byte {
	if n+1 < len(g.lines) {
		return g.data[g.lines[n]:g.lines[n+1]]
	}
	return g.data[g.lines[n]:]
}

var (
	statementStart = regexp.MustCompile(`^[ \t]*(\[\[?[ \t]*[A-Za-z]|[A-Za-z0-9_-]+[ \t]*=)`)
	keyAndValue    = regexp.MustCompile(`^[ \t]*([A-Za-z0-9_-]+)[ \t]*=[ \t]*(.*?)[ \t]*(#.*)?\r?\n?$`)
)

// broken records a fault of form, in the statement that begins in line start, and
// returns the offset at which to read on.
func (g *grower) broken(start, at int, err error) (next int) {
	n := g.lines.number(at) - 1
	if at == len(g.data)-1 && n > start { // something was opened and never closed:
		n, at = start, g.lines[start] // say where it was opened, and read on from there
	}
	g.faults.add(g.lines.place(at), "", shown(string(bytes.TrimSpace(g.line(n)))), formRule(g.line(n), err), nil)
	if m := keyAndValue.FindSubmatch(g.line(start)); m != nil && g.table != nil {
		if key := string(m[1]); g.table.get(key) == nil {
			g.table.add(step{key, g.lines.place(at)}, &node{kind: unstable.Invalid, at: g.lines.place(at), made: complete})
		}
	} else {
		g.headless = true
		if bytes.HasPrefix(bytes.TrimSpace(g.line(start)), []byte("[")) {
			g.table = nil // the keys below have no home
		}
	}
	for n++; n < len(g.lines); n++ {
		if statementStart.Match(g.line(n)) {
			return g.lines[n]
		}
	}
	return len(g.data)
}

// shown is a text of the file as a fault prints it: quoted, and not all of it if
// it is long.
func shown(s string) string {
	const most = 80
	if len(s) > most {
		s = strings.ToValidUTF8(s[:most], "") + "..."
	}
	return strconv.Quote(s)
}

// formRule says in the maker's words what is wrong with a line that is not TOML.
func formRule(line []byte, err error) string {
	m := keyAndValue.FindSubmatch(line)
	if m == nil {
		return err.Error()
	}
	key, value := string(m[1]), string(m[2])
	switch {
	case value == "":
		return "the value is missing: write it after the equals sign, in quotation marks"
	case strings.ContainsAny(value, "\u201c\u201d\u201e\u201f"):
		return `these are a word processor's quotation marks: write straight ones, "`
	case strings.HasPrefix(value, `"`) && strings.HasSuffix(value, `""`):
		return `write the inch as in: ` + key + ` = "` + strings.Trim(value, `"`) + ` in"`
	case strings.HasPrefix(value, `"`) && strings.Count(value, `"`) == 1:
		return `the closing quotation mark is missing`
	case !strings.ContainsAny(value, `"'[]{}=`):
		return "write the value in quotation marks: " + key + ` = "` + value + `"`
	}
	return err.Error()
}
