package drawing

import (
	"fmt"
	"math"
	"strings"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// Of draws a blank: its edge as one closed path, openings, bend lines, relief
// centres, the mold line of the web, the grain, and what to letter and measure.
func Of(b flat.Blank) Drawing {
	d := Drawing{
		Name:          b.Part.Name,
		Title:         b.Part.Title,
		NotForCutting: b.Stopped(),
	}
	d.makeRoom(b)
	d.Add(Cut, "blank", b.Outline)
	for _, c := range b.Cutouts {
		d.Add(Cut, c.Name, c.Path)
		if text := nonEmpty(c.Name); len(text) > 0 {
			d.Labels = append(d.Labels, Label{Layer: Note, At: c.Path.Bounds().Center(), Text: text})
		}
	}
	d.addHoles(b.Holes)
	for _, l := range b.Bends {
		d.addBend(b, l)
	}
	d.addMarks(b.Marks)
	d.addMarkedRivets(b.Rows)
	d.addMold(b.Part.Web)
	for _, r := range b.Reliefs {
		if r.Kind == flat.Notched {
			continue // nothing to centre a drill on
		}
		d.addCross("relief "+r.Corner, r.Center, r.Diameter/4)
	}
	for _, e := range b.EndSlots {
		d.addCross("slot beside "+e.Place(), e.Center, e.Width/4)
	}
	d.addGrain(b)
	d.addDimensions(b)
	d.Notes = notes(b)
	return d
}

// makeRoom takes one long list where adding would take many.
func (d *Drawing) makeRoom(b flat.Blank) {
	const grain = 5 // an arrow with two heads
	d.Paths = make([]Path, 0, 2+len(b.Cutouts)+4*len(b.Bends)+2*(len(b.Reliefs)+len(b.EndSlots))+grain)
	d.Circles = make([]Circle, 0, len(b.Holes))
	d.Labels = make([]Label, 0, len(b.Holes)+len(b.Bends)+1)
	d.Dimensions = make([]Dimension, 0, 2+4*len(b.Bends)+len(b.Holes)+len(b.Part.Web.Edges))
}

// fewAlike is how many holes of one size in one panel are lettered each; of more,
// such as a row of rivets, the first alone is, with their number.
const fewAlike = 4

// A holeKind tells holes of one row from others: what is lettered of one goes for all.
type holeKind struct {
	panel    int
	purpose  flat.Purpose
	diameter float64
	lip      flat.Turn
}

func kindOf(h flat.BlankHole) holeKind {
	return holeKind{h.Panel, h.Purpose, h.Diameter, h.Lip.Turn}
}

// rows lists the holes of each kind, by their index.
func rows(holes []flat.BlankHole) map[holeKind][]int {
	alike := map[holeKind][]int{}
	for i, h := range holes {
		alike[kindOf(h)] = append(alike[kindOf(h)], i)
	}
	return alike
}

func (d *Drawing) addHoles(holes []flat.BlankHole) {
	alike := rows(holes)
	for i, h := range holes {
		on := Hole
		if h.Purpose == flat.RivetPilot {
			on = Rivet
		}
		d.Circles = append(d.Circles, Circle{on, h.Name, h.Center, h.Diameter})
		row := alike[kindOf(h)]
		text := nonEmpty(h.Name, "Ø "+Dual(h.Diameter))
		if len(row) > fewAlike {
			if i != row[0] {
				continue
			}
			text = []string{fmt.Sprintf("%d × Ø %s", len(row), Dual(h.Diameter))}
		}
		if h.Purpose == flat.FlangedPilot {
			text = append(text, "lip "+h.Lip.Turn.String())
		}
		d.Labels = append(d.Labels, Label{Layer: Note, At: h.Center, Text: text})
	}
}

func (d *Drawing) addBend(b flat.Blank, l flat.BendLine) {
	d.Add(BendTangent, l.Name, l.Near)
	d.Add(BendTangent, l.Name, l.Far)
	d.Add(BendCenter, l.Name, l.Center)
	if len(l.Sight.Vertices) > 1 {
		d.Add(Sight, l.Name, l.Sight)
	}
	label := Label{Layer: Note, Text: BendText(l), At: middle(l.Center), Along: direction(l.Near)}
	if l.Child >= 0 && l.Child < len(b.Panels) {
		label.Room = b.Panels[l.Child].Outline
		label.At = mean(label.Room)
	}
	d.Labels = append(d.Labels, label)
}

// addMarks draws the lines to be scribed or pencilled. Those that bound one thing,
// as the two ends of a joggle do, share a lettering between them; the card has each.
func (d *Drawing) addMarks(marks []flat.Mark) {
	thing := func(m flat.Mark) string {
		if i := strings.LastIndex(m.Text, ", "); i >= 0 {
			return m.Text[:i]
		}
		return m.Text
	}
	for i := 0; i < len(marks); {
		var at []r2.Vec
		first := i
		for ; i < len(marks) && thing(marks[i]) == thing(marks[first]) && (i == first || marks[i].Text != marks[first].Text); i++ {
			if len(marks[i].Line.Vertices) > 1 {
				d.Add(Mark, marks[i].Text, marks[i].Line)
				at = append(at, middle(marks[i].Line))
			}
		}
		if text := nonEmpty(thing(marks[first])); len(text) > 0 && len(at) > 0 {
			d.Labels = append(d.Labels, Label{Layer: Note, Text: text, At: mean(at)})
		}
	}
}

// addMarkedRivets draws the crosses of rivets that are drilled in place. A row is lettered
// once, as its holes would be.
func (d *Drawing) addMarkedRivets(rows []flat.RivetRow) {
	for _, row := range rows {
		for _, m := range row.Marks {
			d.Add(Mark, m.Text, m.Line)
		}
		if n := len(row.Centers); n > 0 && len(row.Marks) > 0 {
			d.Labels = append(d.Labels, Label{Layer: Note, At: row.Centers[0], Text: nonEmpty(row.Name, fmt.Sprintf("mark %d rivets", n))})
		}
	}
}

// BendText is what a bend line is lettered with: name, way and angle turned, then
// the radius.
func BendText(l flat.BendLine) []string {
	angle := l.Bend.Angle.String()
	if l.EndBend.Angle != 0 && l.EndBend.Angle != l.Bend.Angle {
		angle += " to " + l.EndBend.Angle.String()
	}
	return nonEmpty(l.Name, strings.ToUpper(l.Turn.String())+" "+angle, "R "+Dual(l.Bend.Radius))
}

// addMold draws the web as its drawing dimensions it, for holding against the
// place the part must fit.
func (d *Drawing) addMold(w flat.Web) {
	if len(w.Edges) < 2 {
		return
	}
	p := outline.Path{Closed: true, Vertices: make([]outline.Vertex, len(w.Edges))}
	for i, e := range w.Edges {
		p.Vertices[i] = outline.Vertex{P: e.Start, Bulge: e.Bulge}
	}
	d.Add(Mold, "web", p)
}

// addCross marks a centre to be punched.
func (d *Drawing) addCross(name string, at r2.Vec, arm float64) {
	d.AddLine(Note, name, r2.Vec{X: at.X - arm, Y: at.Y}, r2.Vec{X: at.X + arm, Y: at.Y})
	d.AddLine(Note, name, r2.Vec{X: at.X, Y: at.Y - arm}, r2.Vec{X: at.X, Y: at.Y + arm})
}

// addGrain draws an arrow with a head at either end, where the web has most room.
func (d *Drawing) addGrain(b flat.Blank) {
	if !b.Part.Sheet.Grain.Stated || len(b.Panels) == 0 {
		return
	}
	at, room := clearest(b)
	half := min(0.7*room, 0.16*r2.Norm(outline.Polygon(b.Panels[0].Outline...).Bounds().Size()))
	if !(half > 0) {
		return
	}
	sin, cos := math.Sincos(b.Part.Sheet.Grain.Angle.Radians())
	dir, side := r2.Vec{X: cos, Y: sin}, r2.Vec{X: -sin, Y: cos}
	d.AddLine(Grain, "grain", r2.Sub(at, r2.Scale(half, dir)), r2.Add(at, r2.Scale(half, dir)))
	for _, end := range []float64{-1, 1} {
		tip := r2.Add(at, r2.Scale(end*half, dir))
		for _, w := range []float64{-1, 1} {
			barb := r2.Add(tip, r2.Add(r2.Scale(-end*half*0.28, dir), r2.Scale(w*half*0.1, side)))
			d.AddLine(Grain, "grain", tip, barb)
		}
	}
	d.Labels = append(d.Labels, Label{Layer: Grain, Text: []string{"GRAIN"}, At: at, Along: dir})
}

// clearest looks over the web on a grid for the place farthest from its sides and
// from openings: coarsely, then finely where there may be more room.
func clearest(b flat.Blank) (at r2.Vec, room float64) {
	web := outline.Polygon(b.Panels[0].Outline...)
	box := web.Bounds()
	size := box.Size()
	const n, rounding = 24, 1e-9
	for _, every := range [2]int{4, 1} {
		room *= 1 - rounding // of equal places the first in the fine grid is taken
		step := size.Y * float64(every) / n
		for i := every; i < n; i += every {
			for j := every; j < n; j += every {
				p := r2.Vec{X: box.Min.X + float64(i)/n*size.X, Y: box.Min.Y + float64(j)/n*size.Y}
				free := clearance(b, web, p, room)
				if free > room && web.Side(p) == outline.Inside {
					at, room = p, free
				}
				// A step brings no more room than its length: pass over what cannot have more.
				for free += step; free < room*(1-rounding); free += step {
					j += every
				}
			}
		}
	}
	return at, room
}

// clearance is how far p lies from the sides of the web and from openings, or a
// distance that is not above enough where it is no more than that.
func clearance(b flat.Blank, web outline.Path, p r2.Vec, enough float64) float64 {
	free := math.Inf(1)
	for i := 0; i < web.NumSegments() && free > enough; i++ {
		free = min(free, web.Segment(i).Distance(p))
	}
	for i := 0; i < len(b.Holes) && free > enough; i++ {
		free = min(free, r2.Norm(r2.Sub(p, b.Holes[i].Center))-b.Holes[i].Diameter/2)
	}
	for i := 0; i < len(b.Cutouts) && free > enough; i++ {
		free = min(free, b.Cutouts[i].Path.Distance(p))
		if b.Cutouts[i].Path.Side(p) == outline.Inside {
			free = 0
		}
	}
	return free
}

// addDimensions asks for the overall size, the stations of what is marked out
// from the lower left of the blank, and the corners of the web.
func (d *Drawing) addDimensions(b flat.Blank) {
	box, ok := d.Bounds(Cut)
	if !ok {
		return
	}
	d.Dimensions = append(d.Dimensions,
		Dimension{Kind: Width, From: box.Min, To: box.Max},
		Dimension{Kind: Height, From: box.Min, To: box.Max},
	)
	station := func(p r2.Vec) {
		d.Dimensions = append(d.Dimensions, Dimension{Kind: Station, From: box.Min, To: p})
	}
	for _, l := range b.Bends {
		for _, p := range []outline.Path{l.Near, l.Far} {
			if n := len(p.Vertices); n > 1 {
				station(p.Vertices[0].P)
				station(p.Vertices[n-1].P)
			}
		}
	}
	for _, m := range b.Marks {
		if n := len(m.Line.Vertices); n > 1 {
			station(m.Line.Vertices[0].P)
			station(m.Line.Vertices[n-1].P)
		}
	}
	for _, row := range b.Rows {
		if n := len(row.Centers); n > 0 && len(row.Marks) > 0 {
			station(row.Centers[0])
			station(row.Centers[n-1])
		}
	}
	alike := rows(b.Holes)
	for i, h := range b.Holes {
		// Of a row of rivets the ends; the card has them all.
		if row := alike[kindOf(h)]; len(row) <= fewAlike || i == row[0] || i == row[len(row)-1] {
			station(h.Center)
		}
	}
	edges := b.Part.Web.Edges
	for i, e := range edges {
		prev, next := edges[(i+len(edges)-1)%len(edges)], edges[(i+1)%len(edges)]
		if prev.Bulge != 0 || e.Bulge != 0 || len(edges) < 3 {
			continue
		}
		d.Dimensions = append(d.Dimensions, Dimension{Kind: Corner, From: e.Start, To: next.Start, Other: prev.Start})
	}
}

// notes are the lines at the foot of every drawing.
func notes(b flat.Blank) []string {
	lines := nonEmpty(
		strings.TrimSpace(b.Part.Title),
		"SHEET "+SheetText(b.Part.Sheet),
		"MARKING FACE UP. BEND ANGLES ARE TURNED FROM FLAT. UP IS TOWARD THE READER.",
	)
	if n := counted(b.Findings); n != "" {
		lines = append(lines, n)
	}
	return append(lines, Cautions()...)
}

func counted(all []flat.Finding) string {
	var n [3]int
	for _, f := range all {
		n[min(f.Severity, flat.Stop)]++
	}
	if len(all) == 0 {
		return ""
	}
	return fmt.Sprintf("FINDINGS: %d STOP, %d WARN, %d NOTE. READ THE BENCH CARD BEFORE CUTTING.", n[flat.Stop], n[flat.Warn], n[flat.Note])
}

// Cautions are the lines that stand on every output.
func Cautions() []string {
	return []string{
		"COMPUTED GEOMETRY. IT APPROVES NOTHING: WORK FROM APPROVED DATA.",
		"PROVE RADIUS AND ALLOWANCE BY A TEST BEND IN THE SAME SHEET AND TOOL.",
		"A LICENSED ENGINEER OR INSPECTOR ACCEPTS THE PART BEFORE IT FLIES.",
	}
}

// SheetText names the stock: "alclad 2024-T3, 0.0400 in (1.016 mm)".
func SheetText(s material.Sheet) string {
	return s.Material.String() + ", " + measure.Both(s.Thickness)
}

// Dual prints a length in inches with mm in brackets, the way drawings with both
// units do: "0.188 [4.76]".
func Dual(mm float64) string {
	return measure.Fixed(mm/measure.Inch, 3) + " [" + measure.Fixed(mm, 2) + "]"
}

func nonEmpty(lines ...string) []string {
	kept := lines[:0]
	for _, l := range lines {
		if l != "" {
			kept = append(kept, l)
		}
	}
	return kept
}

func mean(pts []r2.Vec) r2.Vec {
	var sum r2.Vec
	for _, p := range pts {
		sum = r2.Add(sum, p)
	}
	return r2.Scale(1/float64(max(len(pts), 1)), sum)
}

// middle is the point halfway between the ends of a path.
func middle(p outline.Path) r2.Vec {
	n := len(p.Vertices)
	if n == 0 {
		return r2.Vec{}
	}
	return r2.Scale(0.5, r2.Add(p.Vertices[0].P, p.Vertices[n-1].P))
}

// direction is the direction of reading along a path, from its first to its last
// point.
func direction(p outline.Path) r2.Vec {
	n := len(p.Vertices)
	if n < 2 {
		return r2.Vec{X: 1}
	}
	return readable(r2.Sub(p.Vertices[n-1].P, p.Vertices[0].P))
}
