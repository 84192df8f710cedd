package material

import (
	"strconv"
	"strings"
)

// A Material is an alloy in a temper, bare or clad. The zero value names no
// material and answers every look-up with an error.
type Material struct {
	Alloy  string // "2024", "4130", "Ti-6Al-4V"
	Temper string // "T3", "O", "normalized"
	Clad   bool
}

// String prints the material as the trade writes it and as [Lookup] reads it:
// "2024-T3", "alclad 2024-T3", "4130 normalized", "Ti-6Al-4V annealed".
func (m Material) String() string {
	if m.Alloy == "" {
		return "no material"
	}
	sep := " "
	if m.Temper == "" {
		sep = ""
	} else if strings.HasPrefix(m.Alloy, "AZ") || strings.ContainsRune("OHT", rune(m.Temper[0])) {
		sep = "-"
	}
	clad := ""
	if m.Clad {
		clad = "alclad "
	}
	return clad + m.Alloy + sep + m.Temper
}

// Known returns every material that some table speaks of, sorted, bare.
func Known() []Material { return append([]Material(nil), materials[:]...) }

// canBeClad tells which alloys were rolled with a pure or low-alloy face: 2014,
// 2024 and 7075 stand so in the tables; clad 2017 (Alclad 17S) is from memory.
func canBeClad(alloy string) bool {
	return alloy == "2014" || alloy == "2017" || alloy == "2024" || alloy == "7075"
}

// fault says what is wrong with a material, or nil.
func (m Material) fault() error {
	switch {
	case m.Alloy == "":
		return &Error{"material", "(none)", "name an alloy and its temper, such as 2024-T3"}
	case index(m.Alloy, m.Temper) < 0:
		return &Error{"material", strconv.Quote(m.String()), "is in none of the tables" + suggestion(m.String())}
	case m.Clad && !canBeClad(m.Alloy):
		return &Error{"material", strconv.Quote(m.String()), "no table speaks of a clad form; clad are 2014, 2017, 2024 and 7075"}
	}
	return nil
}

// Lookup reads the name of a material: "2024-T3", "alclad 2024-T3", "4130
// normalized", "302 1/4 hard", "Ti-6Al-4V" (an alloy with a single temper needs
// none). Upper and lower case are the same. A name no table knows returns an
// [*Error] with the nearest names.
func Lookup(name string) (Material, error) {
	bare, clad := strings.CutPrefix(name, "alclad ")
	i := find(bare)
	if i < 0 {
		bare, clad = canonical(name)
		i = find(bare)
	}
	if i < 0 {
		return Material{}, unknown(name, bare)
	}
	m := materials[i]
	m.Clad = clad
	if clad && !canBeClad(m.Alloy) {
		return Material{}, m.fault()
	}
	return m, nil
}

// find tries every way of parting a name into alloy and temper.
func find(name string) int {
	for i := 1; i < len(name)-1; i++ {
		if c := name[i]; c == '-' || c == ' ' {
			if n := index(name[:i], name[i+1:]); n >= 0 {
				return n
			}
		}
	}
	return soleTemper(name)
}

// soleTemper finds an alloy that all tables know in one temper only.
func soleTemper(alloy string) int {
	at := -1
	for i, m := range materials {
		if m.Alloy != alloy {
			continue
		}
		if at >= 0 {
			return -1
		}
		at = i
	}
	return at
}

// canonical writes a name the way the tables do: one space, the tables' capitals,
// "clad" and "Alclad" taken off, British "normalised" as "normalized", and 4130N or
// 4130-N, as the trade writes it, as 4130 normalized.
func canonical(name string) (bare string, clad bool) {
	words := strings.Fields(strings.ToLower(name))
	if len(words) > 1 && (words[0] == "alclad" || words[0] == "clad") {
		words, clad = words[1:], true
	}
	low := strings.ReplaceAll(strings.Join(words, " "), "normalised", "normalized")
	switch low {
	case "4130n", "4130-n", "4130 n":
		low = "4130 normalized"
	}
	for _, m := range materials {
		if folded := strings.ToLower(m.String()); folded == low || strings.Replace(folded, "-", " ", 1) == low {
			return m.String(), clad
		}
		if strings.ToLower(m.Alloy) == low {
			return m.Alloy, clad
		}
	}
	return low, clad
}

// unknown is the answer to a name that was not found.
func unknown(name, bare string) error {
	e := &Error{Field: "material", Value: strconv.Quote(name)}
	var tempers []string
	for _, m := range materials {
		if m.Alloy == bare {
			tempers = append(tempers, m.String())
		}
	}
	switch {
	case strings.TrimSpace(name) == "":
		e.Rule = "name an alloy and its temper, such as 2024-T3"
	case tempers != nil:
		e.Rule = "the temper is missing: " + strings.Join(tempers, ", ")
	default:
		if e.Rule = formerName(name); e.Rule == "" {
			e.Rule = "is in none of the tables" + suggestion(bare)
		}
	}
	return e
}

// formerName recognises a designation or specification that is no alloy and temper
// of today and repeats what a source states of it.
func formerName(name string) string {
	whole := strings.TrimSpace(name)
	designation, _, _ := strings.Cut(whole, "-")
	for _, n := range []string{whole, designation} {
		if found := Specifications(n); n != "" && len(found) > 0 {
			return "is an older name or a specification, give the alloy and temper of today: " + found[0].String()
		}
	}
	return ""
}

// suggestion names the known materials that differ least in spelling, or nothing.
func suggestion(name string) string {
	best, near := 3, []string(nil)
	for _, m := range materials {
		d := edits(strings.ToLower(name), strings.ToLower(m.String()))
		if d < best {
			best, near = d, nil
		}
		if d == best {
			near = append(near, m.String())
		}
	}
	if near == nil {
		return ""
	}
	if len(near) > 4 {
		near = near[:4]
	}
	return "; did you mean " + strings.Join(near, " or ") + "?"
}

// edits counts the letters to add, drop or change to turn a into b (Levenshtein's
// distance). Names longer than any material are far from all of them.
func edits(a, b string) int {
	if len(a) > 40 {
		return len(a)
	}
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		diagonal := row[0]
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := diagonal
			if a[i-1] != b[j-1] {
				cost++
			}
			diagonal = row[j]
			row[j] = min(cost, row[j]+1, row[j-1]+1)
		}
	}
	return row[len(b)]
}
