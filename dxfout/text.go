package dxfout

import (
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
	b.Grow(encodedLen(s))
	for _, r := range s {
		if c := shown(r); c != 0 {
			b.WriteByte(c)
			continue
		}
		b.WriteString(`\U+`)
		for shift := 12; shift >= 0; shift -= 4 {
			b.WriteByte(hex[r>>shift&0xF])
		}
	}
	return b.String()
}

// shown is the byte that stands for a rune in a value, 0 where it is written by
// number.
func shown(r rune) byte {
	switch {
	case r < ' ' || r == 0x7f || r >= 0x80 && r < 0xa0 || r == 0x2028 || r == 0x2029:
		return ' '
	case r == utf8.RuneError || r > 0xffff:
		return '?'
	case r > '~' || r == '%' || r == '^' || r == '\\':
		return 0
	}
	return byte(r)
}

// encodedLen is the length of what encode makes of s.
func encodedLen(s string) int {
	n := 0
	for _, r := range s {
		if shown(r) == 0 {
			n += len(`\U+0000`)
		} else {
			n++
		}
	}
	return n
}

// wrap cuts a text into pieces that each fit one value once encoded, between
// words where there are any.
func wrap(s string, most int) []string {
	if s = strings.TrimSpace(s); s != "" && encodedLen(s) <= most {
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
		if line != "" && encodedLen(line)+1+encodedLen(word) > most {
			put()
		}
		if line != "" {
			line += " "
		}
		for _, r := range word {
			if encodedLen(line)+encodedLen(string(r)) > most {
				put()
			}
			line += string(r)
		}
	}
	put()
	return lines
}
