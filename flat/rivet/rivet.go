package rivet

import (
	"math"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
)

// Head is the head a rivet is made with and how it sits in the outer sheet.
type Head uint8

const (
	Protruding  Head = iota // stands on the sheet
	Countersunk             // flush, the outer sheet cut to take it
	Dimpled                 // flush, the sheets pressed to take it
)

func (h Head) String() string {
	switch h {
	case Countersunk:
		return "flush, countersunk"
	case Dimpled:
		return "flush, dimpled"
	}
	return "protruding"
}

// Flush reports whether the head lies level with the sheet.
func (h Head) Flush() bool { return h == Countersunk || h == Dimpled }

// A Rivet is a solid aluminium rivet.
type Rivet struct {
	Diameter float64 // of the shank, mm
	Head     Head
}

// Validate reports each fault as an *[Error]: the diameter must lie between 1 and
// 10 mm, 1/16 to 3/8 in and a little round it.
func (r Rivet) Validate() error {
	var f faults
	if d := r.Diameter; !(smallest <= d && d <= largest) {
		rule := "a solid rivet is 1 to 10 mm thick"
		if 0.04 <= d && d < smallest {
			rule += "; if inches were meant, multiply by measure.Inch"
		}
		f.add("rivet diameter", mm(d), rule)
	}
	if r.Head > Dimpled {
		f.add("rivet head", "", "is not a head this package knows")
	}
	return f.err()
}

const (
	smallest, largest = 1.0, 10.0         // mm
	sixteenth         = measure.Inch / 16 // rivets are stocked by sixteenths of length
	sizeStep          = measure.Inch / 32 // and by thirty-seconds of diameter
	sameSize          = 0.05              // mm within which a diameter is a size: sizes are 0.8 mm apart
)

// Documents the rules are read in.
var (
	navSource  = material.Source{Document: "NAVEDTRA 14018", Place: "ch. 13, rivets", Provenance: material.Read}
	armySource = material.Source{Document: "US Army subcourse AL0992", Place: "rivet layout", Provenance: material.Read}
	acSource   = material.Source{Document: "FAA AC 43.13-1B", Place: "ch. 4, rivet diameter", Provenance: material.Read}
	rowSource  = material.Source{Document: "TM 10-5410-229-13&P", Place: "rivet rows", Provenance: material.Read}
	sinkSource = material.Source{Document: "TM 9-2320-363", Place: "least thickness to countersink", Provenance: material.Read}
	burrSource = material.Source{Document: "MIL-R-47196A", Place: "deburring, as quoted elsewhere", Provenance: material.Memory}
	geometry   = material.Source{Document: "geometry", Provenance: material.Derived}
)

func practice(what string) material.Source {
	return material.Source{Document: what, Provenance: material.CommonPractice}
}

// EdgeDistance returns the least and the most distance of a rivet's centre from the
// edge of the sheet, mm: 2 diameters, 2½ under a flush head, to 4.
func (r Rivet) EdgeDistance() (least, most float64) {
	if r.Head.Flush() {
		return 2.5 * r.Diameter, 4 * r.Diameter
	}
	return 2 * r.Diameter, 4 * r.Diameter
}

// Pitch returns the least and the most distance between rivets of a row, mm: 3 to
// 10 diameters.
func (r Rivet) Pitch() (least, most float64) { return 3 * r.Diameter, 10 * r.Diameter }

// UsualPitch returns the pitches most rows have, mm: 4 to 8 diameters.
func (r Rivet) UsualPitch() (from, to float64) { return 4 * r.Diameter, 8 * r.Diameter }

// RowSpacing returns the least distance between rows, mm, and what is usual at a
// pitch: 2½ diameters, and three quarters of the pitch.
func (r Rivet) RowSpacing(pitch float64) (least, usual float64) {
	return 2.5 * r.Diameter, 0.75 * pitch
}

// Pilot is the hole to drill before the parts are together, mm: one size under the
// rivet, that is 1/32 in (common practice).
func (r Rivet) Pilot() float64 { return math.Max(r.Diameter-sizeStep, r.Diameter/2) }

// A Drill opens the hole a rivet is driven in.
type Drill = material.Drill

// drills are the usual ones, by the diameter of the rivet in thirty-seconds.
var drills = [...]struct {
	size int
	name string
}{{3, "No. 40"}, {4, "No. 30"}, {5, "No. 21"}, {6, "No. 11"}}

var drillSource = material.Source{Document: "shop table of rivet drills", Provenance: material.Memory}

// Drill returns the drill for a rivet of 3/32, 1/8, 5/32 or 3/16 in; false for
// another.
func (r Rivet) Drill() (Drill, bool) {
	for _, d := range drills {
		if math.Abs(r.Diameter-float64(d.size)*sizeStep) < sameSize {
			drill, ok := material.NamedDrill(d.name)
			drill.Source = drillSource
			return drill, ok
		}
	}
	return Drill{}, false
}

// A Shank is how long a rivet has to be for what it goes through, mm.
type Shank struct {
	Grip   float64 // thickness of all sheets
	Wanted float64 // grip and 1½ diameters for the driven head
	Stock  float64 // next length rivets are stocked in, by 1/16 in
}

// Shank returns the length for a grip, mm. Grip must be above 0 and at most 50 mm. It returns an
// [*Error] for a grip outside that, and those of [Rivet.Validate].
func (r Rivet) Shank(grip float64) (Shank, error) {
	f := faults{}
	f.join(r.Validate())
	f.length("grip", grip, 1e-9, 50, "must be above 0 and at most 50 mm")
	if len(f) > 0 {
		return Shank{}, f.err()
	}
	wanted := grip + 1.5*r.Diameter
	// A thou of grace: a length that is short by less is not worth another sixteenth.
	return Shank{grip, wanted, math.Ceil((wanted-measure.Thou)/sixteenth) * sixteenth}, nil
}

// Grip is the thickness of a stack of sheets, mm.
func Grip(stack []material.Sheet) float64 {
	sum := 0.0
	for _, s := range stack {
		sum += s.Thickness
	}
	return sum
}

// DrivenHead is the diameter and height a head is driven to, mm.
func (r Rivet) DrivenHead() (across, high float64) { return 1.5 * r.Diameter, 0.5 * r.Diameter }

// rivetDensity of the usual aluminium rivet alloy, g/mm³ (from memory; for the
// estimate of a mass only).
const rivetDensity = 0.00275

// Mass estimates one rivet of a stock length, g: the shank, and a made head taken
// to hold as much metal as the driven one.
func (r Rivet) Mass(stock float64) float64 {
	across, high := r.DrivenHead()
	return rivetDensity * math.Pi / 4 * (r.Diameter*r.Diameter*stock + across*across*high)
}

// shankStep is the working of a rivet's length.
func (r Rivet) shankStep(name string, s Shank) bend.Step {
	return bend.Step{
		Quantity: "length of rivet, " + name, Symbol: "L", Formula: "G + 1.5·D",
		Inputs: []bend.Input{{Symbol: "G", Value: s.Grip, Unit: bend.Length}, {Symbol: "D", Value: r.Diameter, Unit: bend.Length}},
		Value:  s.Wanted, Unit: bend.Length, Source: navSource,
	}
}
