package rivet

import (
	"fmt"
	"math"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material"
	"gonum.org/v1/gonum/spatial/r2"
)

// Fitting is how a patch sits on the skin or in it.
type Fitting uint8

const (
	// Lap lays the patch on the outer face of the skin, over the opening.
	Lap Fitting = iota
	// Joggled puts the rim behind the skin and offsets the middle out into the opening,
	// level with the skin.
	Joggled
	// Insert fills the opening level with the skin, held by a doubler behind.
	Insert
	// Ring is a doubler behind an opening that stays open.
	Ring
)

func (k Fitting) String() string {
	switch k {
	case Joggled:
		return "joggled, level with the skin"
	case Insert:
		return "flush insert with a doubler behind"
	case Ring:
		return "doubler round an opening"
	}
	return "lapped on the skin"
}

// A Patch is what is wanted: a sheet, or two, over, in or round an opening of a skin. All of it is
// seen from outside and measured along the outer face of the skin.
type Patch struct {
	Name    string // names the files
	Title   string
	Fitting Fitting
	Opening outline.Path   // in the skin, counter-clockwise, its corners rounded
	Skin    material.Sheet // with the opening in it
	Sheet   material.Sheet // of the patch, the insert or the ring
	Doubler material.Sheet // behind an insert; its zero value takes Sheet
	// Gap is left between the edge of an insert, or the foot of a joggled patch's run-out, and the
	// opening, mm; the level middle begins a run-out farther in.
	Gap float64
	// RunOut is the length of the joggle over its depth; zero takes 6. The depth is the skin.
	RunOut float64
	// Edge is the distance of rivets from the edges, mm; zero takes the least.
	Edge float64
	// Overlap is how far the patch or doubler reaches beyond the opening, mm; zero takes what
	// the rows need. Behind an insert the doubler reaches as far inward.
	Overlap float64

	Rivet   Rivet
	Rows    int // round the opening, 100 at most; zero is one
	Pitch   float64
	Spacing float64 // zero is three quarters of the pitch
	Stagger bool
	Keep    []Keepout // of all rows, those of members too
	Found   []Found   // holes of the old structure, in any of the rows round the opening
	// Members are rows into what lies behind: stringers, frames, coamings.
	Members []Member
	Roll    Roll
}

// A Member is structure behind the skin that the patch or the skin is riveted to.
type Member struct {
	Pattern
	Sheet material.Sheet // of its flange
}

// A Group is rows that go through the same sheets.
type Group struct {
	Name     string
	From, To int              // rows of the layout, To not included
	Stack    []material.Sheet // from outside in
	Shank    Shank
	Count    int
}

// A Piece is one sheet to cut, laid flat.
type Piece struct {
	Name     string
	Sheet    material.Sheet
	Above    float64 // its neutral line outside the outer face of the skin, mm; of a joggled patch, that of its middle
	Outline  outline.Path
	Openings []outline.Path // clockwise
	Lines    []Line         // to mark
	Holes    []r2.Vec       // of the rivets that go through it
	Area     float64        // mm², rivet holes not taken off
	Mass     float64        // g; zero when the density is not known
}

// A Line is a line to mark on a piece.
type Line struct {
	Name string
	Path outline.Path
}

// Fitted is a patch worked out.
type Fitted struct {
	Patch    Patch
	Layout   Layout // all rows, along the outer face of the skin
	Groups   []Group
	Order    []Drive
	Pieces   []Piece
	Findings []flat.Finding
	Sides    []Side // what the table asks for on each side of the opening
	Steps    []bend.Step
	Rivets   int
	Mass     float64 // of pieces and rivets, g
}

// Stopped reports whether a finding forbids cutting.
func (f Fitted) Stopped() bool {
	for _, x := range f.Findings {
		if x.Severity == flat.Stop {
			return true
		}
	}
	return false
}

// usualRunOut of a joggle, lengths to depth: within what is remembered for 2024-T3, 4 to 6.
const usualRunOut = 6

// filled returns the patch with its defaults put in.
func (p Patch) filled() Patch {
	if p.RunOut == 0 {
		p.RunOut = usualRunOut
	}
	if p.Edge == 0 {
		p.Edge, _ = p.Rivet.EdgeDistance()
	}
	if p.Spacing == 0 {
		_, p.Spacing = p.Rivet.RowSpacing(p.Pitch)
	}
	if p.Rows == 0 {
		p.Rows = 1
	}
	if p.Overlap == 0 { // fewer rows than one are refused as rows, not as an overlap too
		p.Overlap = 2*p.Edge + float64(max(p.Rows, 1)-1)*p.Spacing
	}
	if p.Doubler == (material.Sheet{}) {
		p.Doubler = p.Sheet
	}
	return p
}

func (p Patch) validate() error {
	var f faults
	f.join(p.Rivet.Validate())
	if p.Fitting > Ring {
		f.add("fitting", "", "is not a fitting this package knows")
	}
	f.path("opening", p.Opening)
	if !p.Opening.Closed {
		f.add("opening", "", "must be closed")
	} else if p.Opening.Area() < 0 {
		f.add("opening", "", "must run counter-clockwise")
	}
	thickest := 0.0
	for _, s := range []struct {
		field string
		sheet material.Sheet
	}{{"skin", p.Skin}, {"patch sheet", p.Sheet}, {"doubler", p.Doubler}} {
		if err := s.sheet.Validate(); err != nil {
			f = append(f, &Error{Field: s.field, Rule: err.Error(), cause: err})
		}
		thickest = math.Max(thickest, s.sheet.Thickness)
	}
	f.length("gap", p.Gap, 0, 50, "must be 0 to 50 mm")
	f.length("run-out", p.RunOut, 1, 100, "is a ratio of length to depth, 1 to 100")
	f.length("edge distance", p.Edge, 0.1, 1000, "must be 0.1 mm to 1 m")
	f.length("overlap", p.Overlap, 0.1, 1e4, "must be 0.1 mm to 10 m")
	f.length("pitch", p.Pitch, 0.5, 1e4, "must be 0.5 mm to 10 m; are the units millimetres?")
	f.length("spacing", p.Spacing, 0, 1e4, "must be 0 to 10 m")
	if !(0 <= p.Rows && p.Rows <= 100) {
		f.add("rows", plain(p.Rows), "must be 0 to 100; 0 is one")
	}
	p.Roll.check(&f, thickest)
	for i, k := range p.Keep {
		k.check(&f, fmt.Sprintf("keep-out %d %q", i+1, k.Name))
	}
	for i, m := range p.Members {
		if err := m.Sheet.Validate(); err != nil {
			f = append(f, &Error{Field: fmt.Sprintf("member %d %q sheet", i+1, m.Name), Rule: err.Error(), cause: err})
		}
		f.join(m.Pattern.validate(p.Rivet))
	}
	for i, h := range p.Found {
		f.point(fmt.Sprintf("found hole %d", i+1), h.At)
	}
	return f.err()
}

// Fit works the patch out: its pieces laid flat, the rivets round the opening and into the
// members behind, what each goes through and how long it is, the driving order and what is to
// be said of it. Every fault is an *[Error], joined.
func (p Patch) Fit() (Fitted, error) {
	p = p.filled()
	if err := p.validate(); err != nil {
		return Fitted{}, err
	}
	j := fitting{out: Fitted{Patch: p, Layout: Layout{Rivet: p.Rivet}}}
	for _, step := range []func() error{j.shapes, j.rows, j.members, j.pieces, j.drive} {
		if err := step(); err != nil {
			return Fitted{}, err
		}
	}
	j.remarks()
	return j.out, nil
}

// A fitting is a patch while it is worked out. The shapes are on the outer face of the skin.
type fitting struct {
	out Fitted
	// outer is the edge of patch or doubler; insert the edge of an insert; hollow the inner
	// edge of the doubler behind it, or of a ring.
	outer, insert, hollow outline.Path
}

// one is the single loop an offset must give.
func one(p outline.Path, d float64, what string) (outline.Path, error) {
	list, err := p.Offset(d, outline.OffsetOptions{})
	if err != nil {
		return outline.Path{}, refused(what, "cannot be drawn "+mm(math.Abs(d))+" from the opening", err)
	}
	if len(list) != 1 {
		return outline.Path{}, &Error{Field: what, Rule: "comes apart where the opening is narrow"}
	}
	return list[0], nil
}

// roundedIn is a cut-out the given distance inside the opening, no corner sharper than a cut-out's may be:
// farther in by the radius, and out again.
func roundedIn(p outline.Path, d float64, what string) (outline.Path, error) {
	inner, err := one(p, -d-cutOutCorner, what)
	if err != nil {
		return outline.Path{}, err
	}
	return one(inner, cutOutCorner, what)
}

func (j *fitting) shapes() error {
	p := &j.out.Patch
	var err error
	if j.outer, err = one(p.Opening, p.Overlap, "patch edge"); err != nil {
		return err
	}
	switch p.Fitting {
	case Insert:
		if j.insert, err = one(p.Opening, -p.Gap, "insert edge"); err != nil {
			return err
		}
		j.hollow, err = roundedIn(p.Opening, p.Gap+p.Overlap, "inner edge of the doubler")
	case Ring:
		j.hollow = p.Opening
	case Joggled:
		j.out.Steps = append(j.out.Steps, j.joggleSteps()...)
	}
	return err
}

// ring lays rows round the opening. They follow the given edge, inside it.
func (j *fitting) ring(name string, edge outline.Path, inset float64, stack ...material.Sheet) error {
	p := &j.out.Patch
	pattern := Pattern{Name: name, Edge: edge, Inset: inset, Rows: p.Rows, Spacing: p.Spacing, Pitch: p.Pitch, Stagger: p.Stagger, Keep: p.Keep, Found: p.foundOf(name)}
	return j.lay(pattern, stack)
}

// foundOf gives the found holes to the rows of the rim, those within an insert to its own.
func (p *Patch) foundOf(name string) (list []Found) {
	for _, h := range p.Found {
		if inner := p.Fitting == Insert && p.Opening.Side(h.At) == outline.Inside; inner == (name == insertRows) {
			list = append(list, h)
		}
	}
	return list
}

const (
	skinRows   = "rim"
	insertRows = "insert"
)

func (j *fitting) lay(pattern Pattern, stack []material.Sheet) error {
	l, err := pattern.Lay(j.out.Patch.Rivet)
	if err != nil {
		return err
	}
	shank, err := l.Rivet.Shank(Grip(stack))
	if err != nil {
		return err
	}
	from := len(j.out.Layout.Rows)
	j.out.Layout.Rows = append(j.out.Layout.Rows, l.Rows...)
	j.out.Findings = append(j.out.Findings, l.Findings...)
	j.out.Groups = append(j.out.Groups, Group{pattern.Name, from, from + len(l.Rows), stack, shank, l.Count()})
	j.out.Steps = append(j.out.Steps, l.Rivet.shankStep(pattern.Name, shank))
	return nil
}

func (j *fitting) rows() error {
	p := &j.out.Patch
	switch p.Fitting {
	case Lap:
		return j.ring(skinRows, j.outer, p.Edge, p.Sheet, p.Skin)
	case Joggled, Ring:
		return j.ring(skinRows, j.outer, p.Edge, p.Skin, p.Sheet)
	}
	if err := j.ring(skinRows, j.outer, p.Edge, p.Skin, p.Doubler); err != nil {
		return err
	}
	return j.ring(insertRows, j.insert, p.Edge, p.Sheet, p.Doubler)
}

// members lays the rows into what lies behind: through the sheet outside and the member, and
// under a lapped patch through a filler as thick as the skin.
func (j *fitting) members() error {
	p := &j.out.Patch
	for _, m := range p.Members {
		stack := []material.Sheet{p.Sheet, m.Sheet}
		switch p.Fitting {
		case Lap:
			stack = []material.Sheet{p.Sheet, p.Skin, m.Sheet}
		case Ring:
			stack[0] = p.Skin
		}
		m.Keep = append(p.Keep[:len(p.Keep):len(p.Keep)], m.Keep...)
		if err := j.lay(m.Pattern, stack); err != nil {
			return err
		}
	}
	return nil
}

// drive puts all rivets in order and counts them.
func (j *fitting) drive() error {
	var err error
	if j.out.Order, err = DrivingOrder(j.out.Layout.Rows); err != nil {
		return err
	}
	j.out.Rivets = j.out.Layout.Count()
	for _, g := range j.out.Groups {
		j.out.Mass += float64(g.Count) * j.out.Layout.Rivet.Mass(g.Shank.Stock)
	}
	for _, piece := range j.out.Pieces {
		j.out.Mass += piece.Mass
	}
	return nil
}
