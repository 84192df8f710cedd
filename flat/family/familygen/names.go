package main

import (
	"strings"
	"unicode"
)

// identifier makes an exported Go name of a maker's words: "keel length" is
// KeelLength, "bay-7" Bay7, "7" No7. Between two digits it keeps them apart, so that
// bay-1-1 (Bay1_1) is not bay-11. It is empty where no letter or digit is to be had.
func identifier(words string) string {
	var b strings.Builder
	var last rune // of b; 0 at the start
	apart := true // something stood between last and what comes
	for _, r := range words {
		digit, letter := unicode.IsDigit(r), unicode.IsLetter(r)
		switch {
		case !digit && !letter:
			apart = true
			continue
		case last == 0 && digit:
			b.WriteString("No")
		case last == 0 && !unicode.IsUpper(unicode.ToUpper(r)):
			b.WriteString("X") // a letter without capitals, which would not be exported
		case digit && apart && unicode.IsDigit(last):
			b.WriteByte('_')
		}
		if apart {
			r = unicode.ToUpper(r)
		}
		b.WriteRune(r)
		last, apart = r, false
	}
	return b.String()
}

// taken are the names the package has for its own use.
var taken = map[string]string{
	"Params": "its type", "New": "its constructor", "All": "the list of its members",
	"Template": "what it says of its template", "TemplateSHA256": "what it says of its template",
	"Table": "what it says of its table", "TableSHA256": "what it says of its table", "Count": "the number of its members",
	"TestMembers": "its test", "TestAll": "its test", "TestNewRefuses": "its test",
}
