package flat

import (
	"fmt"
	"slices"

	"github.com/hangarflat/hangarflat/bend"
	"gonum.org/v1/gonum/spatial/r2"
)

// A Riveting is rows of rivets that a flange asks for by rule - so far from its ends, no
// farther apart - and not each by its place. They can be laid only when the ends of the
// flange are known, which is when it is developed. Rows of package flat/rivet are one.
//
// A row must come out the same from either end of its edge, for a part and the part of
// the other hand ([Part.Mirrored]) ask for it in the same words.
type Riveting interface {
	// Validate says of each fault of what is asked for the field, its value and the rule it breaks.
	Validate(say func(field, value, rule string))
	// Lay lays the rows on a panel of a blank of which outline, panels, bends and openings
	// are known, and tells what a foreman would say of them. An error is one of rows that cannot be laid there.
	Lay(b Blank, panel int) ([]RivetRow, []Finding, error)
}

// A RivetRow is one row of rivets where it lands.
type RivetRow struct {
	Name  string
	Rivet string // as the shop calls it: "1/8 in, protruding head"
	Panel int
	// Centers of the rivets on the blank, mm, in order along the row.
	Centers []r2.Vec
	// Holes to drill while the part is flat, in the panel's own coordinates; none
	// where the rivets are only marked.
	Holes []Hole
	// Marks are the crosses of a row that is drilled in place.
	Marks   []Mark
	Working []bend.Step
}

// rivets lays the rows that the flanges ask for. Their holes are holes of the flange
// from here on: weighed, folded, inspected as those given by their place.
func (l *layout) rivets() {
	for i, s := range l.sides {
		panel := l.blank.Bends[i].Child
		for k, asked := range s.flange.Rivets {
			rows, findings, err := asked.Lay(l.blank, panel)
			if err != nil {
				s.where.nth("rivets", "", "rivets", k).add("", "", err.Error())
				continue
			}
			for _, row := range rows {
				l.addRow(panel, row)
			}
			l.blank.Findings = append(l.blank.Findings, findings...)
		}
	}
}

func (l *layout) addRow(panel int, row RivetRow) {
	b := &l.blank
	row.Panel = panel
	b.Rows = append(b.Rows, row)
	for _, h := range row.Holes {
		b.Holes = append(b.Holes, BlankHole{
			Name: h.Name, Panel: panel, Center: l.onBlank(panel, h.At), Diameter: h.Diameter, Purpose: h.Purpose, Keep: h.Diameter / 2,
			Row: len(b.Rows), own: h.At,
		})
	}
	// The part is the caller's: what it asks for stays as it was.
	own := *l.wanted[panel].features
	own.Holes = slices.Concat(own.Holes, row.Holes)
	l.wanted[panel].features = &own
}

// onceARow says once of a row what was found of several of its holes: of the first that
// is worst, with their number. rows[i] is the row that finding from+i is of, zero where of none.
func (l *layout) onceARow(from int, rows []int) {
	type group struct {
		row  int
		text string
	}
	found := l.blank.Findings[from:]
	first, count := map[group]int{}, map[group]int{}
	kept := make([]Finding, 0, len(found))
	for i, f := range found {
		g := group{rows[i], f.Text}
		at, again := first[g]
		switch {
		case rows[i] == 0:
			kept = append(kept, f)
			continue
		case !again:
			first[g] = len(kept)
			kept = append(kept, f)
		case f.Figure < kept[at].Figure-coincident:
			kept[at] = f
		}
		count[g]++
	}
	for g, at := range first {
		if n := count[g]; n > 1 {
			kept[at].Place += fmt.Sprintf(", the worst of %d", n)
		}
	}
	l.blank.Findings = append(l.blank.Findings[:from], kept...)
}

func (g Flange) validateRivets(f *faults) {
	if len(g.Rivets) > 0 && g.AngleEnd != 0 && g.AngleEnd != g.Angle {
		f.add("rivets", "", "a flange whose bevel changes along its edge bends along curves: no row can be laid on it by rule; give each rivet as a hole")
	}
	for k, asked := range g.Rivets {
		at := f.nth("rivets", "", "rivets", k)
		if asked == nil {
			at.add("", "", "are nil")
			continue
		}
		asked.Validate(at.add)
	}
}
