package rivet

import (
	"fmt"
	"math"
	"slices"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// A Check is a layout with what it goes through, to be held against the rules of the
// trade.
type Check struct {
	Layout Layout
	// Stack is what each rivet goes through, from its made head on.
	Stack []material.Sheet
	// Edges are the edges of the sheets, in the layout's own plane.
	Edges []SheetEdge
}

// A SheetEdge is one edge that rivets keep their distance from. A closed one has the sheet on its left:
// an outline runs counter-clockwise, an opening clockwise, and a rivet on the other side of it stands
// beside the sheet.
type SheetEdge struct {
	Name string
	Path outline.Path
	// HeldDown says that these rivets hold the edge down: the row nearest to it may then lie no more
	// than 4 diameters in.
	HeldDown bool
}

// Findings holds the layout against the rules: edge distance of every rivet to every
// edge, pitch and row spacing, diameter against the sheets, room for a countersunk
// head, size of found holes. What breaks a rule that was read in print stops; the
// finding stands at the worst place and tells how many are like it. Findings of the
// layout come first. Bad input is an *[Error].
func (c Check) Findings() ([]flat.Finding, error) {
	var f faults
	f.join(c.Layout.Rivet.Validate())
	if len(c.Stack) == 0 {
		f.add("stack", "", "name the sheets the rivets go through")
	}
	for i, s := range c.Stack {
		if err := s.Validate(); err != nil {
			f = append(f, &Error{Field: fmt.Sprintf("stack sheet %d", i+1), Rule: err.Error(), cause: err})
		}
	}
	for _, e := range c.Edges {
		f.path(fmt.Sprintf("edge %q", e.Name), e.Path)
	}
	for _, row := range c.Layout.Rows {
		f.holes(row)
	}
	if len(f) > 0 {
		return nil, f.err()
	}
	i := inspection{Check: c}
	i.list = append(i.list, c.Layout.Findings...)
	i.gauges()
	i.diameter()
	i.sunk()
	i.edges()
	i.pitches()
	i.spacing()
	i.foundHoles()
	i.list = append(i.list, deburr(c.Stack))
	return i.list, nil
}

// Places of findings that speak of all rivets, of all holes, or of a sheet they go through.
const (
	ofRivet = "rivet"
	ofHoles = "holes"
	ofSheet = "sheet"
)

type inspection struct {
	Check
	list []flat.Finding
}

func (i *inspection) add(s flat.Severity, place string, at r2.Vec, text string, figure, limit float64, source material.Source) {
	i.list = append(i.list, flat.Finding{Severity: s, Place: place, At: at, Text: text, Figure: figure, Limit: limit, Unit: bend.Length, Source: source})
}

// gauges asks of each sheet that was given by the gauge of another metal, once of two alike.
func (i *inspection) gauges() {
	for n, s := range i.Stack {
		if f, asked := flat.AskGauge(ofSheet, s); asked && !slices.Contains(i.Stack[:n], s) {
			i.list = append(i.list, f)
		}
	}
}

// slip is what may be missing from a limit, mm: rounding of inches to a tenth of a
// thou, nothing that could be measured.
const slip = measure.Thou / 10

// diameter holds the shank against the sheets.
func (i *inspection) diameter() {
	d := i.Layout.Rivet.Diameter
	thinnest, thickest := math.Inf(1), 0.0
	for _, s := range i.Stack {
		thinnest, thickest = math.Min(thinnest, s.Thickness), math.Max(thickest, s.Thickness)
	}
	say := func(s flat.Severity, text string, limit float64, source material.Source) {
		i.add(s, ofRivet, r2.Vec{}, text, d, limit, source)
	}
	switch {
	case d < thickest-slip:
		say(flat.Stop, "thinner than the thickest sheet", thickest, navSource)
	// Rivets come in sizes: the first that is not below 3 thicknesses is still within the rule.
	case d > math.Ceil((3*thickest-slip)/sizeStep)*sizeStep+slip:
		say(flat.Warn, "thicker than 3 times the thickest sheet", 3*thickest, navSource)
	}
	if least := 3 * sizeStep; d < least-slip {
		say(flat.Warn, "structure is not riveted under 3/32 in", least, navSource)
	}
	if about := 3 * thickest; math.Abs(d-about) > sizeStep {
		say(flat.Note, "a rivet is about 3 times as thick as the sheet", about, acSource)
	}
}

// leastSunk is the thinnest sheet to countersink by machine, by diameter in
// thirty-seconds.
var leastSunk = [...]struct {
	size int
	inch float64
}{{3, .040}, {4, .050}, {5, .064}, {6, .072}}

// sunk tells whether a flush head is countersunk or dimpled.
func (i *inspection) sunk() {
	r, outer := i.Layout.Rivet, i.Stack[0].Thickness
	if !r.Head.Flush() {
		return
	}
	for _, row := range leastSunk {
		if math.Abs(r.Diameter-float64(row.size)*sizeStep) > sameSize {
			continue
		}
		least := row.inch * measure.Inch
		switch deep := outer >= least-measure.Thou/2; {
		case r.Head == Countersunk && !deep:
			i.add(flat.Stop, ofRivet, r2.Vec{}, "outer sheet is too thin to countersink for this head: dimple it", outer, least, sinkSource)
		case r.Head == Dimpled && deep:
			i.add(flat.Note, ofRivet, r2.Vec{}, "outer sheet is thick enough to countersink", outer, least, sinkSource)
		}
		return
	}
	i.add(flat.Warn, ofRivet, r2.Vec{}, "no least thickness is known for a flush head of this size", 0, 0, sinkSource)
}

// A worst keeps the worst place of a rule and counts all.
type worst struct {
	n      int
	at     r2.Vec
	rivet  int
	figure float64
}

func (w *worst) see(at r2.Vec, rivet int, figure float64, worse bool) {
	if w.n == 0 || worse {
		w.at, w.rivet, w.figure = at, rivet, figure
	}
	w.n++
}

// least and most gather the smallest and the largest figure.
func (w *worst) least(at r2.Vec, rivet int, x float64) { w.see(at, rivet, x, x < w.figure) }
func (w *worst) most(at r2.Vec, rivet int, x float64)  { w.see(at, rivet, x, x > w.figure) }

func (w *worst) place(row string) string {
	if w.n == 1 {
		return fmt.Sprintf("%s, rivet %d", row, w.rivet)
	}
	return fmt.Sprintf("%s, %d places, worst at rivet %d", row, w.n, w.rivet)
}

// edges measures each rivet against every edge of its sheets. The most is held against the row
// nearest to an edge only, for inner rows lie farther in by intent.
func (i *inspection) edges() {
	least, most := i.Layout.Rivet.EdgeDistance()
	limit := "2 diameters"
	if i.Layout.Rivet.Head.Flush() {
		limit = "2½ diameters, flush"
	}
	for _, e := range i.Edges {
		distance := e.inside()
		near, far := make([]worst, len(i.Layout.Rows)), make([]worst, len(i.Layout.Rows))
		nearest, of := math.Inf(1), -1
		for k, row := range i.Layout.Rows {
			sum := 0.0
			for n, h := range row.Holes {
				d := distance(h.At)
				sum += d
				if d < least-slip {
					near[k].least(h.At, n+1, d)
				}
				if d > most+slip {
					far[k].most(h.At, n+1, d)
				}
			}
			if mean := sum / float64(len(row.Holes)); mean < nearest {
				nearest, of = mean, k
			}
		}
		for k, row := range i.Layout.Rows {
			if w := near[k]; w.n > 0 {
				i.add(flat.Stop, w.place(row.Name), w.at, fmt.Sprintf("edge distance to %s is below %s", e.Name, limit), w.figure, least, edgeSource)
			}
			if w := far[k]; w.n > 0 && k == of && e.HeldDown {
				i.add(flat.Warn, w.place(row.Name), w.at, fmt.Sprintf("edge distance to %s is more than 4 diameters: the edge may lift", e.Name), w.figure, most, edgeSource)
			}
		}
	}
}

// inside measures how far within the sheet a point lies: below zero beside it.
func (e SheetEdge) inside() func(r2.Vec) float64 {
	index := outline.NewIndex(e.Path)
	if !e.Path.Closed {
		return index.Distance
	}
	hole := e.Path.Area() < 0
	return func(q r2.Vec) float64 {
		if (index.Side(q) == outline.Outside) != hole {
			return -index.Distance(q)
		}
		return index.Distance(q)
	}
}

var edgeSource = material.Source{Document: "US Army subcourse AL0992", Place: "edge distance; NAVEDTRA 14018, ch. 13", Provenance: material.Read}
var pitchSource = material.Source{Document: "US Army subcourse AL0992", Place: "pitch; NAVEDTRA 14018, ch. 13", Provenance: material.Read}

func (i *inspection) pitches() {
	least, most := i.Layout.Rivet.Pitch()
	from, to := i.Layout.Rivet.UsualPitch()
	for _, row := range i.Layout.Rows {
		var tight, wide, close, loose worst
		for n, d := range row.Pitches() {
			at := row.Holes[n].At
			switch {
			case d < least-slip:
				tight.least(at, n+1, d)
			case d > most+slip:
				wide.most(at, n+1, d)
			case d < from-slip:
				close.least(at, n+1, d)
			case d > to+slip:
				loose.most(at, n+1, d)
			}
		}
		if tight.n > 0 {
			i.add(flat.Stop, tight.place(row.Name), tight.at, "pitch is below 3 diameters", tight.figure, least, pitchSource)
		}
		if wide.n > 0 {
			i.add(flat.Warn, wide.place(row.Name), wide.at, "pitch is more than 10 diameters, across a keep-out perhaps", wide.figure, most, pitchSource)
		}
		if close.n > 0 {
			i.add(flat.Note, close.place(row.Name), close.at, "pitch is usually 4 to 8 diameters", close.figure, from, pitchSource)
		}
		if loose.n > 0 {
			i.add(flat.Note, loose.place(row.Name), loose.at, "pitch is usually 4 to 8 diameters", loose.figure, to, pitchSource)
		}
	}
}

// spacing measures rivets of different rows against each other, and those of one row that doubles back.
func (i *inspection) spacing() {
	least, _ := i.Layout.Rivet.RowSpacing(0)
	type of struct{ row, n int }
	var all []r2.Vec
	var who []of
	for k, row := range i.Layout.Rows {
		for n, h := range row.Holes {
			all, who = append(all, h.At), append(who, of{k, n})
		}
	}
	other, own := make([]worst, len(i.Layout.Rows)), make([]worst, len(i.Layout.Rows))
	neighbours(all, least-slip, func(a, b int) {
		apart := r2.Norm(r2.Sub(all[a], all[b]))
		if who[a].row == who[b].row {
			if !i.Layout.Rows[who[a].row].follow(who[a].n, who[b].n) { // the pitch speaks of those that do
				own[who[b].row].least(all[b], who[b].n+1, apart)
			}
			return
		}
		if who[a].row > who[b].row {
			a, b = b, a
		}
		other[who[b].row].least(all[b], who[b].n+1, apart)
	})
	for k, row := range i.Layout.Rows {
		if w := &other[k]; w.n > 0 {
			i.add(flat.Stop, w.place(row.Name), w.at, "stands nearer than 2½ diameters to a rivet of another row", w.figure, least, rowSource)
		}
		if w := &own[k]; w.n > 0 {
			i.add(flat.Stop, w.place(row.Name), w.at, "stands nearer than 2½ diameters to a rivet farther along its own row", w.figure, least, rowSource)
		}
	}
}

// follow tells that two rivets of a row stand next to each other along it.
func (r Row) follow(a, b int) bool {
	apart := max(a-b, b-a)
	return apart == 1 || r.Line.Closed && apart == len(r.Holes)-1
}

// neighbours calls f once for each pair of points nearer than reach.
func neighbours(pts []r2.Vec, reach float64, f func(a, b int)) {
	type cell struct{ x, y int }
	at := func(p r2.Vec) cell { return cell{int(math.Floor(p.X / reach)), int(math.Floor(p.Y / reach))} }
	grid := make(map[cell][]int, len(pts))
	for b, p := range pts {
		c := at(p)
		for dx := -1; dx <= 1; dx++ {
			for dy := -1; dy <= 1; dy++ {
				for _, a := range grid[cell{c.x + dx, c.y + dy}] {
					if r2.Norm(r2.Sub(pts[a], p)) < reach {
						f(a, b)
					}
				}
			}
		}
		grid[c] = append(grid[c], b)
	}
}

// foundHoles tells which holes of the old structure have worn too large.
func (i *inspection) foundHoles() {
	drill, ok := i.Layout.Rivet.Drill()
	if !ok {
		return
	}
	// A tenth of a millimetre is what a reading with a caliper is good to.
	limit := drill.Diameter + 0.1
	for _, row := range i.Layout.Rows {
		var w worst
		for n, h := range row.Holes {
			if h.Found && h.Diameter > limit {
				w.most(h.At, n+1, h.Diameter)
			}
		}
		if w.n > 0 {
			i.add(flat.Warn, w.place(row.Name), w.at, "found hole is larger than the rivet's drill: it wants the next size, with its edge distance", w.figure, limit, measuredHole)
		}
	}
}

// deburr is how deep the burr may be chamfered: a tenth of the thinnest sheet, 0.032
// in at most.
func deburr(stack []material.Sheet) flat.Finding {
	thinnest := math.Inf(1)
	for _, s := range stack {
		thinnest = math.Min(thinnest, s.Thickness)
	}
	deep := math.Min(thinnest/10, 0.032*measure.Inch)
	return flat.Finding{Severity: flat.Note, Place: ofHoles, Text: "deburr both faces of every sheet, and between the sheets; chamfer at most " + measure.Both(deep) + " deep", Source: burrSource}
}
