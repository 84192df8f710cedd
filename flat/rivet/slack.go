package rivet

import (
	"math"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/material"
	"gonum.org/v1/gonum/spatial/r2"
)

// Slack is what becomes of a skin's slack in one driving order, by a simple model:
//
//   - every space between two neighbouring holes of a row has the same slack to begin
//     with, the sheet being that much longer there than what it lies on;
//   - a rivet, once driven, pins the sheet;
//   - driving a rivet works the slack between it and the driven rivet next to it on to its
//     other side, if the sheet is free there: to the row's free end, or into the spaces
//     that are not closed yet;
//   - between two driven rivets with none between them nothing can leave any more.
//
// The model looks at each open row by itself, leaves closed rows out (their slack leaves
// across the row, toward the edge) and knows nothing of the stiffness of the sheet. It compares
// orders; it predicts no dent.
type Slack struct {
	// Pushed is the slack that left over the ends of the rows, mm, all rows together.
	Pushed float64
	// Travel is the most that went over one end of a row, mm: how far the sheet
	// moves there, and its holes with it.
	Travel float64
	// Trapped is the slack shut in the space that stands up highest, mm, Pitch the length
	// of that space, Bulge the height of the half wave over it, At its middle.
	Trapped, Pitch, Bulge float64
	At                    r2.Vec
}

// EstimateSlack follows the slack of a driving order. perSpace is the slack of each
// space, mm, 0 to 1. The order must hold every rivet of the rows once; else an *[Error]
// is returned.
func EstimateSlack(rows []Row, order []Drive, perSpace float64) (Slack, error) {
	var f faults
	f.length("slack of a space", perSpace, 0, 1, "must be 0 to 1 mm: a sheet that is longer does not fit")
	turns := make([][]int, len(rows))
	seen, total := make([][]bool, len(rows)), 0
	for k, row := range rows {
		seen[k] = make([]bool, len(row.Holes))
		total += len(row.Holes)
	}
	for _, d := range order {
		if !(0 <= d.Row && d.Row < len(rows) && 0 <= d.Hole && d.Hole < len(rows[d.Row].Holes)) || seen[d.Row][d.Hole] {
			f.add("order", "", "names a rivet twice, or one that is not there")
			break
		}
		seen[d.Row][d.Hole] = true
		turns[d.Row] = append(turns[d.Row], d.Hole)
	}
	if len(f) == 0 && len(order) != total {
		f.add("order", plain(len(order)), "leaves rivets out, there are "+plain(total))
	}
	if len(f) > 0 {
		return Slack{}, f.err()
	}
	var s Slack
	for k, row := range rows {
		if len(row.Holes) > 1 && !row.Line.Closed {
			s.row(row, turns[k], perSpace)
		}
	}
	return s, nil
}

// A rowSlack is one row while it is driven. Space i lies between hole i and the next.
type rowSlack struct {
	driven      []bool
	first, last int // driven holes nearest to the row's ends; first > last before any
	slack       []float64
	over        [2]float64 // pushed over the start and over the end
}

// row drives one row.
func (s *Slack) row(row Row, turns []int, perSpace float64) {
	n := len(row.Holes)
	r := rowSlack{driven: make([]bool, n), first: n, last: -1, slack: make([]float64, n-1)}
	for i := range r.slack {
		r.slack[i] = perSpace
	}
	for _, i := range turns {
		r.drive(i)
	}
	s.Pushed += r.over[0] + r.over[1]
	s.Travel = math.Max(s.Travel, math.Max(r.over[0], r.over[1]))
	for i, pitch := range row.Pitches() {
		if bulge := bulgeOf(r.slack[i], pitch); bulge > s.Bulge {
			s.Trapped, s.Pitch, s.Bulge = r.slack[i], pitch, bulge
			s.At = r2.Scale(0.5, r2.Add(row.Holes[i].At, row.Holes[i+1].At))
		}
	}
}

// drive pins hole i and works on the slack of the spaces that close with it.
func (r *rowSlack) drive(i int) {
	before, after := i > 0 && r.driven[i-1], i+1 < len(r.driven) && r.driven[i+1]
	r.driven[i] = true
	r.first, r.last = min(r.first, i), max(r.last, i)
	switch {
	case before && !after:
		r.onward(i-1, i, r.last == i, 1)
	case after && !before:
		r.onward(i, i-1, r.first == i, 0)
	}
	// Between two driven neighbours both spaces are shut and keep what they have.
}

// onward empties a space that has closed into the one beyond the rivet, or over the end
// of the row when no rivet is driven that way.
func (r *rowSlack) onward(from, into int, free bool, end int) {
	amount := r.slack[from]
	r.slack[from] = 0
	if free {
		r.over[end] += amount
		return
	}
	r.slack[into] += amount
}

func bulgeOf(slack, pitch float64) float64 { return 2 / math.Pi * math.Sqrt(slack*pitch) }

// Step is the working of the bulge. A half sine wave of height h over p is longer than p
// by ½∫(h·π/p·cos(π·x/p))² dx = π²·h²/(4·p).
func (s Slack) Step() bend.Step {
	return bend.Step{
		Quantity: "bulge of the slack trapped in a space", Symbol: "h", Formula: "2/π·√(e·p)",
		Inputs: []bend.Input{{Symbol: "e", Value: s.Trapped, Unit: bend.Length}, {Symbol: "p", Value: s.Pitch, Unit: bend.Length}},
		Value:  s.Bulge, Unit: bend.Length,
		Source: material.Source{Document: "half sine wave over one space: a model to compare orders by", Provenance: material.Derived},
	}
}
