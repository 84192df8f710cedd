package material

import (
	"slices"
	"strings"
)

// A Specification is what a source states of an old or British sheet
// specification. It recommends nothing: which sheet may replace another is for
// the aircraft's approved data to say.
type Specification struct {
	Name      string // "BS L109:1971", "DTD 390"
	Form      string // form and condition
	Statement string // what the source says of it; may be empty
	Source    Source
}

// String prints name, form and statement with the source.
func (s Specification) String() string {
	text := s.Name + ": " + s.Form
	if s.Statement != "" {
		text += "; " + s.Statement
	}
	return text + " [" + s.Source.String() + "]"
}

// Specifications returns every statement at hand that speaks of a name, in the
// order of the table: "L109" finds "BS L109:1971", "L72" finds "DTD 610 -> L72". An
// empty name returns all.
func Specifications(name string) []Specification {
	want := strings.ToUpper(strings.TrimSpace(name))
	var found []Specification
	for _, s := range specifications {
		if want == "" || slices.Contains(specWords(s.Name), want) || strings.ToUpper(s.Name) == want {
			found = append(found, s)
		}
	}
	return found
}

// specWords are the words a specification's name is found by: those with a figure.
func specWords(name string) []string {
	words := strings.FieldsFunc(strings.ToUpper(name), func(r rune) bool { return strings.ContainsRune(" /:>", r) })
	for i := range words {
		if i > 0 && words[i-1] == "DTD" {
			words = append(words, "DTD "+words[i])
		}
	}
	return slices.DeleteFunc(words, func(w string) bool { return w == "BS" || w == "DTD" || w == "-" })
}
