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
// order of the table: "L109" and "BS L109:1971" find "BS L109:1971", "L72" finds "DTD
// 610 -> L72". An empty name returns all.
func Specifications(name string) []Specification {
	want := strings.ToUpper(strings.TrimSpace(name))
	undated, _, _ := strings.Cut(strings.TrimPrefix(want, "BS "), ":")
	var found []Specification
	for _, s := range specifications {
		if want == "" || slices.Contains(specNames(s.Name), undated) {
			found = append(found, s)
		}
	}
	return found
}

// specNames are the names a specification is found by: "L109" of "BS L109:1971", "DTD
// 610" and "L72" of "DTD 610 -> L72".
func specNames(name string) []string {
	var names []string
	words := strings.FieldsFunc(strings.ToUpper(name), func(r rune) bool { return strings.ContainsRune(" /:>", r) })
	for i, w := range words {
		switch {
		case i > 0 && words[i-1] == "DTD":
			names = append(names, "DTD "+w)
		case strings.ContainsAny(w[:1], "LH"), strings.HasSuffix(w, "S") && w != "BS":
			names = append(names, w)
		}
	}
	return names
}
