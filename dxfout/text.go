package dxfout

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// longestLine is the most bytes a value may have in R12; R2000 keeps to it too.
const longestLine = 255

// encode turns any text into one line of printable ASCII that a reader shows as
// it was meant. A line break would start a new group, so control characters
// become spaces; "%%", "^" and "\" would be read as commands, so they and what is
// not ASCII are written by number. What is beyond the 16 bits of such a number,
// or is not text at all, becomes "?".
func encode(s string) string {
	clean := true
	for i := 0; i < len(s); i++ {
		if c := s[i]; c < ' ' || c > '~' || c == '%' || c == '^' || c == '\\' {
			clean = false
			break
		}
	}
	if clean {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		switch {
		case r < ' ' || r == 0x7f || r >= 0x80 && r < 0xa0 || r == 0x2028 || r == 0x2029:
			b.WriteByte(' ')
		case r == utf8.RuneError || r > 0xffff:
			b.WriteByte('?')
		case r > '~' || r == '%' || r == '^' || r == '\\':
			fmt.Fprintf(&b, `\U+%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// wrap cuts a text into pieces that each fit one value once encoded, between
// words where there are any.
func wrap(s string, most int) []string {
	if s = strings.TrimSpace(s); s != "" && len(encode(s)) <= most {
		return []string{s}
	}
	var lines []string
	line := ""
	put := func() {
		if line != "" {
			lines = append(lines, line)
		}
		line = ""
	}
	for _, word := range strings.Fields(s) {
		if line != "" && len(encode(line))+1+len(encode(word)) > most {
			put()
		}
		if line != "" {
			line += " "
		}
		for _, r := range word {
			if len(encode(line))+len(encode(string(r))) > most {
				put()
			}
			line += string(r)
		}
	}
	put()
	return lines
}
