package bend

// KTable names a published table of K against R/T.
type KTable uint8

// The tables. Those of bottoming and coining are from memory.
const (
	TextbookK  KTable = 1 + iota // a manufacturing textbook: one step at R/T 2
	AirBendK                     // air bending, by hardness
	BottomingK                   // bottoming, by hardness; from memory
	CoiningK                     // coining, by hardness; from memory
	CourseK                      // a university course: steps at R/T 0.2 and 4
)

// Hardness picks the column of a table that has one for each; others give the same
// K for all three. The zero value is not an answer.
type Hardness uint8

const (
	Soft   Hardness = 1 + iota // annealed aluminium, copper
	Medium                     // half-hard aluminium, mild steel
	Hard                       // hard aluminium, stainless and alloy steel
)

// SteppedK takes K from a table that goes by R/T. The tables are steps: R/T on a step
// takes the upper side of it, so R = 2T of the textbook is 0.50. A small change of
// radius across a step jumps the allowance.
type SteppedK struct {
	Table    KTable
	Hardness Hardness
}

type steppedTable struct {
	law   Law
	steps []kStep
}

// kStep gives K for R/T below its end.
type kStep struct {
	below float64
	k     [3]float64 // soft, medium, hard
}

// Allowance answers any valid bend by the table's K at its R/T. It returns an [*Error] for a table
// or a hardness that is none of those named, and the errors of [Bend.Validate].
func (s SteppedK) Allowance(b Bend) (Allowance, error) {
	if !b.valid() {
		return Allowance{}, b.Validate()
	}
	if s.Table < TextbookK || s.Table > CourseK {
		return Allowance{}, &Error{"table", plain(float64(s.Table)), "name a table of K, such as bend.AirBendK"}
	}
	if s.Hardness < Soft || s.Hardness > Hard {
		return Allowance{}, &Error{"hardness", plain(float64(s.Hardness)), "say bend.Soft, bend.Medium or bend.Hard"}
	}
	table := &steppedTables[s.Table-1]
	ratio := b.Radius / b.Thickness
	for i := range table.steps {
		if ratio < table.steps[i].below {
			return arc(b, table.steps[i].k[s.Hardness-1], &table.law), nil
		}
	}
	return Allowance{}, &Error{"radius", lengthText(b.Radius), "R/T lies beyond the table"}
}
