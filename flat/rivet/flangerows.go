package rivet

import (
	"fmt"
	"math"
	"strconv"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
)

// FlangeRows ask for rivets along a flange by rule, as a [flat.Riveting] of
// [flat.Flange.Rivets]: they are laid when the part is developed, on the flange as its ends
// were trimmed. Each row is divided into equal spaces, so that a row is the same from either end.
type FlangeRows struct {
	Name  string // empty takes the flange's
	Rivet Rivet
	// Pitch is the widest wanted, mm: see [Pattern.Pitch].
	Pitch float64
	// FromMold is the distance of the first row from the mold line, mm, on the flange's
	// outside face. Zero lays the rows about the middle of the flat, also where it tapers.
	FromMold float64
	// End is how far the rivets keep from the flange's ends, mm; zero is the rivet's
	// least edge distance.
	End  float64
	Rows int // zero is one
	// Spacing between rows, mm, the next farther out; zero is three quarters of the pitch.
	Spacing float64
	Stagger bool // every second row's rivets midway between those of the first
	Drill   Drilling
	// Onto is the thickness of what the flange is riveted to, mm, from which the length of
	// the rivets follows. Zero holds their diameter against a sheet as thick as the part's own.
	Onto float64
}

// Drilling says what is done for a rivet while the part is flat.
type Drilling uint8

const (
	Pilots   Drilling = iota // drilled under size, opened when the parts are together
	FullSize                 // drilled for the rivet
	MarkOnly                 // marked with a cross, drilled in place
)

func (d Drilling) String() string {
	switch d {
	case FullSize:
		return "full"
	case MarkOnly:
		return "mark"
	}
	return "pilot"
}

const mostRows = 20 // on a flange; more is a slip

// Validate says what is wrong with the request itself. Fields go by the names they have in a part file.
func (r FlangeRows) Validate(say func(field, value, rule string)) {
	within := func(field string, x, lo, hi float64, rule string) {
		if !(lo <= x && x <= hi) {
			say(field, mm(x), rule)
		}
	}
	within("rivet", r.Rivet.Diameter, smallest, largest, "a solid rivet is 1 to 10 mm thick, 3/64 to 3/8 in")
	if r.Rivet.Head > Dimpled {
		say("head", strconv.Itoa(int(r.Rivet.Head)), "must be protruding, countersunk or dimpled")
	}
	within("pitch", r.Pitch, 0.5, flat.MostLength, "must be 0.5 mm to 10 m")
	within("from_mold", r.FromMold, 0, flat.MostLength, "must be 0, for the middle of the flat, to 10 m")
	within("end_distance", r.End, 0, flat.MostLength, "must be 0, for the least edge distance, to 10 m")
	within("row_spacing", r.Spacing, 0, flat.MostLength, "must be 0, for three quarters of the pitch, to 10 m")
	within("onto", r.Onto, 0, flat.MostThickness, "must be 0, where it is not known, to "+mm(flat.MostThickness))
	if !(0 <= r.Rows && r.Rows <= mostRows) {
		say("rows", strconv.Itoa(r.Rows), "must be 1 to "+strconv.Itoa(mostRows))
	}
	if r.Rows < 2 {
		if r.Spacing != 0 {
			say("row_spacing", mm(r.Spacing), "there is one row only: say how many rows there are, or leave it out")
		}
		if r.Stagger {
			say("stagger", "yes", "there is one row only: say how many rows there are, or leave it out")
		}
	}
	if r.Drill > MarkOnly {
		say("drill", strconv.Itoa(int(r.Drill)), "must be pilot, full or mark")
	}
	if _, known := r.Rivet.Drill(); r.Drill == FullSize && !known && r.Rivet.Diameter >= smallest && r.Rivet.Diameter <= largest {
		say("drill", r.Drill.String(), "no drill is known for this rivet: take pilots, or give each hole")
	}
}

// Lay lays the rows on a flange of the blank and holds them against the rules of the trade:
// those of [Check], with the edge of the sheet and of each opening in the flange, and that
// driven heads lie clear of bends. A flange without room for a row is an *[Error].
func (r FlangeRows) Lay(b flat.Blank, panel int) ([]flat.RivetRow, []flat.Finding, error) {
	var f faults
	r.Validate(f.add)
	s := f.strip(b, panel)
	if len(f) > 0 {
		return nil, nil, f.err()
	}
	if r.Name == "" {
		r.Name = b.Panels[panel].Name
	}
	s.name = "the flange" // which one, the part tells
	layout, err := r.lay(s)
	if err != nil {
		return nil, nil, err
	}
	on := layout.OnBlank(b.Panels[panel])
	findings, err := r.findings(b, panel, on)
	if err != nil {
		return nil, nil, err
	}
	rows, err := r.rows(b, panel, layout, on)
	return rows, findings, err
}

// lay lays the rows in the flange's own coordinates.
func (r FlangeRows) lay(s flangeStrip) (Layout, error) {
	rows, spacing, end := max(r.Rows, 1), r.Spacing, r.End
	if spacing == 0 {
		_, spacing = r.Rivet.RowSpacing(r.Pitch)
	}
	if end == 0 {
		end, _ = r.Rivet.EdgeDistance()
	}
	apart := make([]float64, rows)
	for k := range apart {
		apart[k] = float64(k) * spacing
	}
	line, err := s.row(r.FromMold, end, apart...)
	if err != nil {
		return Layout{}, err
	}
	return Pattern{Name: r.Name, Edge: line, Rows: rows, Spacing: spacing, Pitch: r.Pitch, Stagger: r.Stagger}.Lay(r.Rivet)
}

// rows are the rows as the part has them.
func (r FlangeRows) rows(b flat.Blank, panel int, own, on Layout) ([]flat.RivetRow, error) {
	words := sizeText(r.Rivet.Diameter) + ", " + r.Rivet.Head.String() + " head"
	var working []bend.Step
	if r.Onto > 0 {
		shank, err := r.Rivet.Shank(r.Onto + b.Part.Sheet.Thickness)
		if err != nil {
			return nil, err
		}
		words += ", " + sizeText(shank.Stock) + " long"
		working = append(working, r.Rivet.shankStep(r.Name, shank))
	}
	holes, err := r.holes(own)
	if err != nil {
		return nil, err
	}
	rows := make([]flat.RivetRow, len(own.Rows))
	for i, row := range own.Rows {
		rows[i] = flat.RivetRow{Name: row.Name, Rivet: words, Panel: panel}
		for _, h := range on.Rows[i].Holes {
			rows[i].Centers = append(rows[i].Centers, h.At)
		}
		if r.Drill == MarkOnly {
			one := Layout{Rivet: r.Rivet, Rows: own.Rows[i : i+1]}
			if rows[i].Marks, err = one.Marks(b, panel, r.Rivet.Diameter); err != nil {
				return nil, err
			}
			continue
		}
		rows[i].Holes, holes = holes[:len(row.Holes)], holes[len(row.Holes):]
	}
	rows[0].Working = working
	return rows, nil
}

// holes are what is drilled while the part is flat, row by row.
func (r FlangeRows) holes(own Layout) ([]flat.Hole, error) {
	switch r.Drill {
	case MarkOnly:
		return nil, nil
	case FullSize:
		drill, _ := r.Rivet.Drill() // validated
		return own.Holes(r.Name, drill.Diameter), nil
	}
	return own.Holes(r.Name, 0), nil
}

// findings hold the rows on the blank against the rules. They stand under the name of the rows.
func (r FlangeRows) findings(b flat.Blank, panel int, on Layout) ([]flat.Finding, error) {
	for i := range on.Rows {
		on.Rows[i].Name = quoted(on.Rows[i].Name)
	}
	own := material.Sheet{Material: b.Part.Sheet.Material, Thickness: b.Part.Sheet.Thickness} // its gauge has been asked about
	other := own
	if r.Onto > 0 {
		other.Thickness = r.Onto
	}
	i := inspection{Check: Check{Layout: on, Stack: []material.Sheet{other, own}, Edges: edgesOnFlange(b, panel)}}
	list, err := i.Check.Findings()
	if err != nil {
		return nil, err
	}
	start := on.Rows[0].Line.Vertices[0].P
	for k := range list {
		switch list[k].Place {
		case ofRivet:
			list[k].Place, list[k].At = quoted(r.Name), start
		case ofHoles:
			list[k].Place, list[k].At = "holes of "+quoted(r.Name), start
		}
	}
	i.heads(b, panel)
	return append(list, i.list...), nil
}

func quoted(name string) string { return "rivets " + strconv.Quote(name) }

// edgesOnFlange are the edges that rivets of a flange keep their distance from.
func edgesOnFlange(b flat.Blank, panel int) (edges []SheetEdge) {
	lip := false
	for _, line := range b.Bends {
		lip = lip || line.Parent == panel
	}
	// A blank that overlaps itself has been stopped for that, and its edge bounds nothing.
	if b.Outline.Validate() == nil {
		edges = append(edges, SheetEdge{Name: "the edge of the sheet", Path: b.Outline, HeldDown: !lip})
	}
	for i, c := range b.Cutouts {
		if c.Panel == panel {
			edges = append(edges, SheetEdge{Name: named("cut-out", c.Name, i), Path: c.Path})
		}
	}
	for i, h := range b.Holes {
		if h.Panel == panel && h.Row == 0 && h.Purpose != flat.RivetPilot {
			edges = append(edges, SheetEdge{Name: named(h.Purpose.String(), h.Name, i), Path: outline.Circle(h.Center, h.Keep).Reverse()})
		}
	}
	return edges
}

func named(kind, name string, i int) string {
	if name == "" {
		return fmt.Sprintf("%s %d", kind, i+1)
	}
	return fmt.Sprintf("%s %q", kind, name)
}

var headSource = material.Source{Document: "NAVEDTRA 14018", Place: "ch. 13: a head is driven to 1½ diameters across", Provenance: material.Read}

// heads tells of driven heads that would stand on a bend: that of the flange, or of a lip on it.
func (i *inspection) heads(b flat.Blank, panel int) {
	across, _ := i.Layout.Rivet.DrivenHead()
	for _, line := range b.Bends {
		tangent := line.Far
		switch panel {
		case line.Child:
		case line.Parent:
			tangent = line.Near
		default:
			continue
		}
		for _, row := range i.Layout.Rows {
			var near worst
			for n, h := range row.Holes {
				if d := tangent.Distance(h.At); d < across/2-slip {
					near.least(h.At, n+1, d)
				}
			}
			if near.n > 0 {
				i.add(flat.Stop, near.place(row.Name), near.at, fmt.Sprintf("driven head would stand on the bend of flange %q: centre to tangent line", line.Name), near.figure, across/2, headSource)
			}
		}
	}
}

// sizeText is a size as a shop calls it: a fraction of an inch where it is one.
func sizeText(x float64) string {
	if text, off := measure.FractionText(x); math.Abs(off) < 1e-6 {
		return text
	}
	return measure.Fixed(x, 2) + " mm"
}
