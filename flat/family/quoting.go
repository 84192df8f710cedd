package family

import "strings"

// quoting is what a place of a part file stands in, by the rules of TOML.
type quoting uint8

const (
	bare quoting = iota
	basic
	literal
	basicLines // over several lines, as literalLines
	literalLines
)

// marks open a quoted text and close it.
var marks = [...]string{basic: `"`, literal: `'`, basicLines: `"""`, literalLines: `'''`}

// line reads one line of a file that begins in q: the line with its remark cut off, what
// each byte of that stands in, and what the next line begins in.
func (q quoting) line(text string) (code string, in []quoting, next quoting) {
	for len(in) < len(text) {
		rest := text[len(in):]
		if q == bare && rest[0] == '#' {
			return text[:len(in)], in, bare
		}
		after, n := q.step(rest)
		for range n {
			in = append(in, q)
		}
		q = after
	}
	if q == basic || q == literal {
		q = bare // never closed: the reader of part files says so
	}
	return text, in, q
}

// step reads the next character, or quotation marks that stand together, and returns what
// follows them stands in and how many bytes they are.
func (q quoting) step(rest string) (after quoting, n int) {
	switch {
	case q == bare:
		for _, open := range [...]quoting{basicLines, literalLines, basic, literal} {
			if strings.HasPrefix(rest, marks[open]) {
				return open, len(marks[open])
			}
		}
	case (q == basic || q == basicLines) && rest[0] == '\\':
		return q, min(2, len(rest))
	case strings.HasPrefix(rest, marks[q]):
		// Two marks more may stand before the three that close text of several lines.
		for n = len(marks[q]); q >= basicLines && n < 5 && n < len(rest) && rest[n] == rest[0]; n++ {
		}
		return bare, n
	}
	return q, 1
}
