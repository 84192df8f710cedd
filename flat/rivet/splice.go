package rivet

import (
	"fmt"
	"math"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
)

// tableRow is one thickness of the rivets-per-inch table.
type tableRow struct {
	thickness float64    // in
	need      [5]float64 // by tableSizes
}

var tableSource = material.Source{Document: "FAA AC 43.13-1B", Place: "Table 4-10, clad 2014 and 2024, aluminium rivets", Provenance: material.Read}

// PerInch returns how many aluminium rivets of a diameter (mm) an inch of width
// wants in clad 2014 or 2024 sheet of a thickness (mm), as FAA AC 43.13-1B Table
// 4-10 prints it. A thickness between two rows takes the thicker, which wants more.
// It returns an *[Error] for what the table does not hold.
func PerInch(thickness, diameter float64) (float64, error) {
	column := -1
	for i, inches := range tableSizes {
		if math.Abs(inches*measure.Inch-diameter) < sameSize {
			column = i
		}
	}
	if column < 0 {
		return 0, &Error{Field: "rivet diameter", Value: mm(diameter), Rule: "the table has 3/32, 1/8, 5/32, 3/16 and 1/4 in"}
	}
	if first := perInchTable[0].thickness * measure.Inch; !(thickness >= first-measure.Thou/2) {
		return 0, &Error{Field: "thickness", Value: mm(thickness), Rule: "the table starts at .016 in"}
	}
	for _, row := range perInchTable {
		// Half a thou of grace: 1.02 mm stands for .040 in.
		if thickness > row.thickness*measure.Inch+measure.Thou/2 {
			continue
		}
		if row.need[column] == 0 {
			return 0, &Error{Field: "rivet diameter", Value: mm(diameter), Rule: fmt.Sprintf("the table has no figure for it in sheet of %.3f in", row.thickness)}
		}
		return row.need[column], nil
	}
	return 0, &Error{Field: "thickness", Value: mm(thickness), Rule: "the table goes to .128 in"}
}

// Joint is what is spliced. Its notes let some take fewer rivets than the table.
type Joint uint8

const (
	Full              Joint = iota // the table's rivets
	Stringer                       // 80 %
	SingleLap                      // 75 %: single-lap sheet joint
	IntermediateFrame              // 60 %
)

// percent is a whole number because 0.6 is no binary fraction: 60 % of 20 rivets is
// 12 and not 13.
func (j Joint) percent() int {
	switch j {
	case Stringer:
		return 80
	case SingleLap:
		return 75
	case IntermediateFrame:
		return 60
	}
	return 100
}

func (j Joint) String() string {
	switch j {
	case Stringer:
		return "stringer"
	case SingleLap:
		return "single-lap sheet joint"
	case IntermediateFrame:
		return "intermediate frame"
	}
	return "full strength"
}

// A Requirement is how many rivets a splice wants on each side of the joint.
type Requirement struct {
	Joint    Joint
	Width    float64 // of the sheet across the joint, mm
	PerInch  float64 // the table's rivets an inch
	Whole    int     // the table's rivets for the width, rounded up
	Needed   int     // of these the percentage, rounded up again
	Steps    []bend.Step
	Findings []flat.Finding // a repair needs approved data; what the table does not speak of
}

// PerRow is how many rivets each of a number of rows gets: all the same, and no
// fewer than needed in all. It is 0 for no row.
func (r Requirement) PerRow(rows int) int {
	if rows < 1 {
		return 0
	}
	return (r.Needed + rows - 1) / rows
}

// Require works out the rivets on each side of a joint in a sheet, by FAA AC
// 43.13-1B Table 4-10 and its notes, in their order of rounding: the width times
// the table's figure rounded up, of that the percentage, rounded up again. (The circular's
// own sheet joint takes the percentage of the figure an inch first, 4.9·75 % = 3.7; both give
// its 37 rivets in 10 in. The two may differ by a rivet, and in wide sheets that way asks for
// more, 3.7 to 3.675: take the greater where it matters.) Width in
// mm, above 0 and at most 100 m. It refuses another alloy than 2014 and 2024 with
// an *[Error], and remarks on bare sheet, which the table does not speak of.
func Require(sheet material.Sheet, width float64, r Rivet, j Joint) (Requirement, error) {
	var f faults
	f.join(sheet.Validate())
	f.join(r.Validate())
	f.length("splice width", width, 1e-9, longest, "must be above 0 and at most 100 m")
	if j > IntermediateFrame {
		f.add("joint", "", "is not a joint the table's notes speak of")
	}
	if a := sheet.Material.Alloy; a != "2014" && a != "2024" {
		f.add("material", sheet.Material.String(), "Table 4-10 is for clad 2014 and 2024 sheet")
	}
	per, err := PerInch(sheet.Thickness, r.Diameter)
	f.join(err)
	if len(f) > 0 {
		return Requirement{}, f.err()
	}
	need := Requirement{Joint: j, Width: width, PerInch: per}
	// A hair of grace: 10 in times 4.9 is 49 rivets and not 50.
	need.Whole = int(math.Ceil(width/measure.Inch*per - 1e-9))
	need.Needed = (need.Whole*j.percent() + 99) / 100
	need.Steps = need.working()
	need.Findings = append(need.Findings, flat.Finding{Severity: flat.Warn, Place: "splice", Text: "a repair or splice by the table needs approved data", Source: tableSource})
	if !sheet.Material.Clad {
		need.Findings = append(need.Findings, flat.Finding{Severity: flat.Warn, Place: "splice", Text: "the table is for clad sheet, this is bare " + sheet.Material.String(), Source: tableSource})
	}
	return need, nil
}

func (r Requirement) working() []bend.Step {
	notes := tableSource
	notes.Place = "notes to Table 4-10: " + r.Joint.String() + ", rounded up twice"
	return []bend.Step{
		{Quantity: "table's rivets for the width", Symbol: "N", Formula: "round up(w·n)",
			Inputs: []bend.Input{{Symbol: "w", Value: r.Width / measure.Inch, Unit: bend.None}, {Symbol: "n", Value: r.PerInch, Unit: bend.None}},
			Value:  float64(r.Whole), Unit: bend.Count, Source: tableSource},
		{Quantity: "rivets on each side, " + r.Joint.String(), Symbol: "Ns", Formula: "round up(N·p/100)",
			Inputs: []bend.Input{{Symbol: "N", Value: float64(r.Whole), Unit: bend.Count}, {Symbol: "p", Value: float64(r.Joint.percent()), Unit: bend.Count}},
			Value:  float64(r.Needed), Unit: bend.Count, Source: notes},
	}
}
