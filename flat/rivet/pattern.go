package rivet

import (
	"fmt"
	"math"
	"strconv"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material"
	"gonum.org/v1/gonum/spatial/r2"
)

// A Pattern is what is wanted: rows of rivets beside an edge or along a line.
type Pattern struct {
	Name string
	// Edge is what the rows follow, open or closed.
	Edge outline.Path
	// Inset is how far the first row lies to the left of Edge, mm: inside a
	// counter-clockwise outline, around a clockwise opening. Zero puts it on Edge.
	Inset float64
	Rows  int // zero is one
	// Spacing between rows, mm; zero is three quarters of the pitch.
	Spacing float64
	// Pitch is the widest wanted, mm: stretches are divided into equal spaces of no
	// more, but never closer than 3 diameters unless Pitch itself is. Later rows stand opposite
	// the first; where that leaves them farther apart, in a bend's outside, more are set between, as near
	// to the pitch as equal spaces come.
	Pitch float64
	// End is how far the first and the last rivet of an open row stand from the ends
	// of its line, mm: usually the edge distance. Zero puts them on the ends.
	End float64
	// Stagger stands every second row's rivets midway between those of the first.
	Stagger bool
	Keep    []Keepout
	// Found are holes of the old structure. They stay where they were measured, and
	// new ones are fitted between.
	Found []Found
}

// Found is a hole picked up from the old structure.
type Found struct {
	At       r2.Vec  // as measured, mm
	Diameter float64 // as measured, mm; zero where it was not
}

// A Layout is where the rivets stand.
type Layout struct {
	Rivet Rivet
	Rows  []Row
	// Findings are what came up in laying the rows: see [Check] for the rules.
	Findings []flat.Finding
}

// A Row is the rivets on one line, in order along it.
type Row struct {
	Name  string
	Line  outline.Path
	Holes []Hole
}

// A Hole is one rivet's place.
type Hole struct {
	At      r2.Vec
	Station float64 // along the row's line, mm
	Found   bool    // a hole of the old structure
	// Diameter of a found hole as measured, mm, and how far off the row it lies.
	Diameter, Off float64
}

// Count is the number of rivets.
func (l Layout) Count() int {
	n := 0
	for _, r := range l.Rows {
		n += len(r.Holes)
	}
	return n
}

// Pitches are the distances between the centres of neighbours, mm; round a closed
// row the last is from the last rivet to the first.
func (r Row) Pitches() []float64 {
	n := len(r.Holes)
	if n < 2 {
		return nil
	}
	list := make([]float64, 0, n)
	for i := range n {
		if i == n-1 && (!r.Line.Closed || n == 2) {
			break
		}
		list = append(list, r2.Norm(r2.Sub(r.Holes[(i+1)%n].At, r.Holes[i].At)))
	}
	return list
}

// most rivets a pattern is laid out with; more is a slip of units.
const mostRivets = 2_000_000

func (p Pattern) validate(r Rivet) error {
	var f faults
	name := func(field string) string { return fmt.Sprintf("pattern %q %s", p.Name, field) }
	f.join(r.Validate())
	f.path(name("edge"), p.Edge)
	f.length(name("inset"), p.Inset, -1e4, 1e4, "must be within 10 m")
	f.length(name("pitch"), p.Pitch, 0.5, 1e4, "must be 0.5 mm to 10 m; are the units millimetres?")
	f.length(name("spacing"), p.Spacing, 0, 1e4, "must be 0 to 10 m")
	f.length(name("end distance"), p.End, 0, 1e4, "must be 0 to 10 m")
	if !(0 <= p.Rows && p.Rows <= 10000) {
		f.add(name("rows"), strconv.Itoa(p.Rows), "must be 0 to 10000; 0 is one")
	}
	for i, k := range p.Keep {
		k.check(&f, name(fmt.Sprintf("keep-out %d %q", i+1, k.Name)))
	}
	for i, h := range p.Found {
		f.point(name(fmt.Sprintf("found hole %d", i+1)), h.At)
		f.length(name(fmt.Sprintf("found hole %d diameter", i+1)), h.Diameter, 0, 50, "must be 0 to 50 mm")
	}
	if len(f) > 0 {
		return f.err()
	}
	if n := p.Edge.Length() / p.Pitch * float64(max(p.Rows, 1)); !(n <= mostRivets) {
		f.add(name("pitch"), mm(p.Pitch), fmt.Sprintf("makes more than %d rivets", mostRivets))
	}
	return f.err()
}

// Lay lays the rows out, or returns every fault of the pattern, each an *[Error].
// A stretch that is too short for two rivets gets one in its middle.
func (p Pattern) Lay(r Rivet) (Layout, error) {
	if err := p.validate(r); err != nil {
		return Layout{}, err
	}
	j := layJob{Pattern: p, layout: Layout{Rivet: r}}
	j.least, _ = r.Pitch()
	j.least = math.Min(j.least, p.Pitch)
	if j.Spacing == 0 {
		_, j.Spacing = r.RowSpacing(p.Pitch)
	}
	for _, k := range p.Keep {
		b, err := k.block()
		if err != nil {
			return Layout{}, err
		}
		j.blocks = append(j.blocks, b)
	}
	if err := j.lines(); err != nil {
		return Layout{}, err
	}
	j.pickUp()
	for i := range j.tracks {
		j.row(i)
	}
	return j.layout, nil
}

// A layJob is a pattern while it is laid out.
type layJob struct {
	Pattern
	layout Layout
	least  float64 // distance new rivets keep from each other along a row
	blocks []block
	tracks []*track // of layout.Rows
	rank   []int    // of each track, its row counted from the edge
	found  [][]Hole // of each track
}

// lines draws the rows' lines. A row that a narrow place parts gives several.
func (j *layJob) lines() error {
	for k := range max(j.Rows, 1) {
		list, err := left(j.Edge, j.Inset+float64(k)*j.Spacing)
		if err != nil {
			return refused(fmt.Sprintf("pattern %q row %d", j.Name, k+1), "there is no line at its distance from the edge", err)
		}
		for i, line := range list {
			name := j.Name
			if j.Rows > 1 {
				name += fmt.Sprintf(" row %d", k+1)
			}
			if len(list) > 1 {
				name += fmt.Sprintf(" part %d", i+1)
			}
			j.layout.Rows = append(j.layout.Rows, Row{Name: name, Line: line})
			j.tracks = append(j.tracks, newTrack(line))
			j.rank = append(j.rank, k)
		}
	}
	j.found = make([][]Hole, len(j.tracks))
	return nil
}

// left moves a line to the left of its travel. Corners stay sharp where they close
// up; where they open they are rounded.
func left(edge outline.Path, d float64) ([]outline.Path, error) {
	switch {
	case d == 0:
		return []outline.Path{edge}, nil
	case !edge.Closed:
		return edge.Parallel(-d, outline.OffsetOptions{})
	case edge.Area() > 0:
		return edge.Offset(-d, outline.OffsetOptions{})
	}
	list, err := edge.Reverse().Offset(d, outline.OffsetOptions{})
	for i := range list {
		list[i] = list[i].Reverse()
	}
	return list, err
}

// pickUp gives each found hole to the row it lies nearest to, within half the room
// between rows, or reports it.
func (j *layJob) pickUp() {
	within := j.Spacing / 2
	for i, h := range j.Found {
		best, station, off := -1, 0.0, math.Inf(1)
		for k, t := range j.tracks {
			if s, d := t.foot(h.At); d < off {
				best, station, off = k, s, d
			}
		}
		place := fmt.Sprintf("%s, found hole %d", j.Name, i+1)
		if !(off <= within) {
			j.find(flat.Warn, place, h.At, "lies too far from every row to belong to one, and is left out", off, within, measuredHole)
			continue
		}
		if slack := j.layout.Rivet.Diameter / 2; off > slack {
			j.find(flat.Warn, place, h.At, "lies off its row: measure again, or lay the row through it", off, slack, measuredHole)
		}
		for _, b := range j.blocks {
			if b.holds(h.At) {
				j.find(flat.Warn, place, h.At, fmt.Sprintf("lies within the keep-out %q", b.name), 0, 0, geometry)
			}
		}
		j.found[best] = append(j.found[best], Hole{At: h.At, Station: station, Found: true, Diameter: h.Diameter, Off: off})
	}
}

var measuredHole = practice("holes of the old structure picked up by measure")

func (j *layJob) find(s flat.Severity, place string, at r2.Vec, text string, figure, limit float64, source material.Source) {
	j.layout.Findings = append(j.layout.Findings, flat.Finding{Severity: s, Place: place, At: at, Text: text, Figure: figure, Limit: limit, Unit: bend.Length, Source: source})
}
