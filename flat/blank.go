package flat

import (
	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat/fold"
	"github.com/hangarflat/hangarflat/flat/outline"
	"gonum.org/v1/gonum/spatial/r2"
)

// A Blank is the flat sheet to cut, marked with all it takes to bend it, seen
// from the marking face in the coordinates of the web.
type Blank struct {
	Part     Part
	Outline  outline.Path // the cut line: closed, counter-clockwise, reliefs included
	Holes    []BlankHole
	Cutouts  []BlankCutout // clockwise
	Reliefs  []Relieved
	EndSlots []EndSlot  // where bends stop beside flat metal
	Marks    []Mark     // lines that are neither cut nor bent along
	Rows     []RivetRow // in the order of their flanges; their holes stand among Holes
	Bends    []BendLine
	Panels   []Panel // Panels[0] is the web
	Findings []Finding
	Proof    Proof
	Area     float64 // of the sheet that is left, openings taken off, mm²
	Mass     float64 // g; zero when the material's density is not known
}

// A BlankHole is a round hole where it lands on the blank.
type BlankHole struct {
	Name     string
	Panel    int
	Center   r2.Vec
	Diameter float64 // as pierced
	Purpose  Purpose
	// Keep is the radius about Center that the finished feature takes up: the hole
	// itself, or out to where the lip of a flanged hole starts to bend.
	Keep float64
	// Lip is the finished lip of a FlangedPilot, as the part gives it.
	Lip LighteningHole
	// Row is the place in Rows, counted from 1, of the row it belongs to; zero for a hole
	// that the part gives by its place.
	Row int
	own r2.Vec // in the panel's own coordinates, as asked for
}

// A BlankCutout is an opening where it lands on the blank.
type BlankCutout struct {
	Name  string
	Panel int
	Path  outline.Path
}

// A Relieved corner is where a relief hole is drilled, or a notch cut. Its rim is part
// of the blank's Outline.
type Relieved struct {
	Corner   string // "aft/keel"
	Center   r2.Vec
	Diameter float64 // of the hole; the width of a notch
	Kind     CornerKind
}

// An EndSlot is cut where a bend stops beside metal that stays flat, as a flange on a part of its
// edge does. Its bottom is half of a round hole; its rim is part of the blank's Outline.
type EndSlot struct {
	Flange string // whose bend stops there
	AtEnd  bool   // at the end of the flange; else where it starts
	Panel  int    // that the flange hangs from
	Center r2.Vec // of the round bottom
	Width  float64
}

// Place names the end of the bend that stops there: "aft, start".
func (s EndSlot) Place() string {
	if s.AtEnd {
		return s.Flange + ", end"
	}
	return s.Flange + ", start"
}

// A BendLine is one bend as it is marked on the blank. All lines run in the
// direction of the edge, the parent panel on their left.
type BendLine struct {
	Name      string
	Parent    int // index of the panel that holds still
	Child     int // index of the panel that turns
	Turn      Turn
	Along     r2.Vec    // unit, along the mold line
	Bend      bend.Bend // at the start of the edge
	EndBend   bend.Bend // at the far end; equal to Bend unless the bevel changes
	Allowance bend.Allowance
	Setback   float64
	// Height of the flange from its mold line on the outside face, and at the far
	// end of the edge, mm.
	Height, HeightEnd float64
	Near              outline.Path // tangent line beside the parent
	Center            outline.Path // midway between the tangents
	Far               outline.Path // tangent line beside the child
	Zone              []r2.Vec     // corners of the metal between the tangent lines
	// Sections are set where the bevel changes along the edge: the bend at places
	// along it, from the start of Near.
	Sections []fold.Section
	Sight    outline.Path // one radius from Near, inside the bend: set under the brake nose
}

// A Panel is one flat piece of the part, on the blank.
type Panel struct {
	Name    string
	Bend    int      // index into Bends of the bend it hangs from; -1 for the web
	Outline []r2.Vec // counter-clockwise corners on the blank, bends and reliefs not taken off
	// Origin, Along and Out place the panel's own coordinates on the blank: a
	// point (x, y) of the panel, measured from its mold line, lies at
	// Origin + x·Along + y·Out.
	Origin, Along, Out r2.Vec
}
