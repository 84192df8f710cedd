package material

// Provenance says how a value came to be known, so that a reader can tell a
// figure read in print from one that still has to be looked up.
type Provenance uint8

const (
	// Unstated is the zero value; no published value carries it.
	Unstated Provenance = iota
	// Read: read in the document named.
	Read
	// Memory: remembered from the document named, the page not seen. Such a value
	// may warn; it never refuses a part and is never cited.
	Memory
	// CommonPractice: what the trade does, without a document.
	CommonPractice
	// Derived: follows from geometry or mechanics, derived where it stands.
	Derived
	// Measured: the shop's own measurement, or the maker's own input.
	Measured
)

func (p Provenance) String() string {
	switch p {
	case Read:
		return "read"
	case Memory:
		return "from memory"
	case CommonPractice:
		return "common practice"
	case Derived:
		return "derived"
	case Measured:
		return "measured"
	}
	return "unstated"
}

// A Source names where a value or a formula comes from.
type Source struct {
	Document   string // "FAA AC 43.13-1B"
	Place      string // "Table 4-6", "para 4-56"; may be empty
	Provenance Provenance
}

// String prints the source as a bench card does. A remembered value says so in
// words and is never printed as a citation.
func (s Source) String() string {
	where := s.Document
	if s.Place != "" {
		where += ", " + s.Place
	}
	switch {
	case s.Provenance == Memory:
		return "from memory of " + where + ": check before use"
	case where == "":
		return s.Provenance.String()
	case s.Provenance == CommonPractice, s.Provenance == Derived, s.Provenance == Measured:
		return s.Provenance.String() + ": " + where
	}
	return where
}
