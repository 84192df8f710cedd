package flat

import (
	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// A Part is a flat web and the flanges turned from its edges, as a drawing gives
// it: dimensioned to mold lines, angles turned from flat.
type Part struct {
	Name   string // "keel-bay-7"; names the files made from the part
	Title  string // "Keel-bay intercostal, bay 7, port"
	Sheet  material.Sheet
	Rule   bend.Rule // nil works by the handbook formula
	Radius float64   // inside bend radius of every flange that states none, mm
	Relief Relief    // at corners where two bends meet
	// Gap is the clear space kept between flange ends that meet at a corner, mm.
	// Zero keeps [DefaultGap].
	Gap float64
	Web Web
	// Site is where the part belongs, when [Between] worked it out; nil otherwise.
	Site *Site
}

// DefaultGap is the corner gap of a part that states none: 1/64 in, common
// practice for flange ends that are filed to fit.
const DefaultGap = measure.Inch / 64

// A Web is the panel that stays flat, seen from the marking face. Its edges run
// counter-clockwise and are mold lines where they carry a flange.
type Web struct {
	Edges []Edge
	Features
}

// An Edge runs from Start to the Start of the next edge.
type Edge struct {
	Name  string
	Start r2.Vec // mm
	// Bulge makes a plain edge an arc: the tangent of a quarter of its sweep.
	// An edge with a flange is straight.
	Bulge   float64
	Flanges []Flange // none leaves the edge plain
	Corner  Corner   // how the corner at Start is cut, where two flanges meet there
}

// Turn is the way a flange is bent, seen from the marking face.
type Turn uint8

const (
	Up   Turn = iota // toward the viewer
	Down             // away from the viewer
)

func (t Turn) String() string {
	if t == Down {
		return "down"
	}
	return "up"
}

// A Flange is one bend along an edge and the panel beyond it.
type Flange struct {
	Name string
	Turn Turn
	// Angle is the bend angle, turned from flat, 0 < A <= 170°. AngleEnd is the
	// angle at the far end of the edge, or at station To, where the bevel changes
	// along it; zero keeps Angle all along.
	Angle, AngleEnd measure.Angle
	// Height is measured on the face of the flange from the mold line to the free
	// edge, by Basis, mm. HeightEnd is the height at the far end of a tapered
	// flange; zero keeps Height all along.
	Height, HeightEnd float64
	Basis             Basis
	Radius            float64 // inside radius, mm; zero takes the part's
	// From and To are the stations along the edge, mm from its Start, between
	// which the flange stands. Both zero is the whole edge. The edge that a flange's own flanges stand
	// along is its free edge, which starts where the flange itself does.
	From, To   float64
	Start, End Trim
	Features   // in the plane of the flange: X along the edge from its Start, Y from the mold line outward
	Joggles    []Joggle
	Rivets     []Riveting // rows laid by rule once the ends of the flange are known
	Flanges    []Flange   // along the free edge: return lips, zeds, hats
}

// Basis says from where a height is measured.
type Basis uint8

const (
	// MoldLine measures on the outside face from the mold line, as drawings do.
	MoldLine Basis = iota
	// InsideMold measures on the inside face from where the inside faces would meet.
	InsideMold
	// Tangent measures the flat alone, from the bend tangent line.
	Tangent
)

// A Trim is how the end of a flange is cut.
type Trim struct {
	Kind TrimKind
	// Angle leans an Angled end from square: positive shortens the free edge.
	Angle measure.Angle
	// Inset moves a Square or Angled end back along the mold line, mm.
	Inset float64
}

// TrimKind names the ways of cutting a flange end.
type TrimKind uint8

const (
	// Auto keeps the largest flange that clears its neighbour, folded and flat.
	Auto TrimKind = iota
	// Square cuts at right angles to the mold line, as far out as clears.
	Square
	// Angled cuts at Trim.Angle from square, through the mold-line corner, and no
	// farther out than clears.
	Angled
)

// A Relief is what is cut where two bends meet, a hole but for a [Notched] corner, centred on the intersection
// of the inside bend tangent lines.
type Relief struct {
	// Diameter in mm; zero takes the larger of twice the bend radius and the
	// handbook's least diameter for the thickness.
	Diameter float64
}
