package former

import (
	"fmt"
	"math"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// A Splice joins two neighbouring pieces by a plate on the web, with straps on the flanges.
type Splice struct {
	Name  string
	Girth float64 // on the outer contour
	// Width of the developed section that is joined, mm: web and flanges.
	Width    float64
	Rivet    float64 // diameter, mm
	PerInch  float64 // of the table, rivets an inch of width
	Rivets   int     // on each side of the joint, all told
	OnWeb    int     // of these
	OnOuter  int
	OnInner  int
	Rows     int          // on the web, on each side
	Half     float64      // how far the plate reaches along the contour from the joint, mm
	Plate    outline.Path // on the web, in its place
	Thick    float64      // of plate and straps, mm: the next sheet above the former's
	Holes    []r2.Vec     // on the web, on both sides
	Steps    []bend.Step
	Crowded  bool // the web is too narrow for the spacing that rivets want
	OffTable bool // the rivet or the sheet lies outside the table
	inner    float64
}

// splicePercent is the share of the table's rivets that an intermediate frame needs. It is a
// whole number because 0.6 is no binary fraction: 60 % of 20 rivets is 12 and not 13.
const splicePercent = 60

// rivetTable is rivets for each inch of width, by thickness in inches and diameter in 32nds;
// 0 stands where the table has none.
var rivetTable = [...]struct {
	inch float64
	need [5]float64
}{
	{.016, [5]float64{6.5, 4.9}}, {.020, [5]float64{6.5, 4.9, 3.9}}, {.025, [5]float64{6.9, 4.9, 3.9}},
	{.032, [5]float64{8.9, 4.9, 3.9, 3.3}}, {.036, [5]float64{10.0, 5.6, 3.9, 3.3, 2.4}}, {.040, [5]float64{11.1, 6.2, 4.0, 3.3, 2.4}},
	{.051, [5]float64{0, 7.9, 5.1, 3.6, 2.4}}, {.064, [5]float64{0, 9.9, 6.5, 4.5, 2.5}}, {.081, [5]float64{0, 12.5, 8.1, 5.7, 3.1}},
	{.091, [5]float64{0, 0, 9.1, 6.3, 3.5}}, {.102, [5]float64{0, 0, 10.3, 7.1, 3.9}}, {.128, [5]float64{0, 0, 12.9, 8.9, 4.9}},
}

var rivetSizes = [5]float64{3. / 32 * measure.Inch, 1. / 8 * measure.Inch, 5. / 32 * measure.Inch, 3. / 16 * measure.Inch, 1. / 4 * measure.Inch}

var rivetSource = material.Source{Document: "FAA AC 43.13-1B", Place: "Table 4-10, clad 2014 and 2024, aluminium rivets", Provenance: material.Read}

// RivetsPerInch returns how many aluminium rivets of a diameter an inch of width wants
// in clad 2014 or 2024 sheet, by FAA AC 43.13-1B Table 4-10. A thickness between two
// rows takes the thicker, which wants more. It returns an *[Error] for what the table
// does not hold.
func RivetsPerInch(thickness, diameter float64) (float64, error) {
	column := -1
	for i, d := range rivetSizes {
		if math.Abs(d-diameter) < 0.05 {
			column = i
		}
	}
	if column < 0 {
		return 0, &Error{"rivet diameter", mm(diameter), "the table has 3/32, 1/8, 5/32, 3/16 and 1/4 in"}
	}
	for _, row := range rivetTable {
		// Half a thou of grace: 1.02 mm stands for .040 in.
		if thickness <= row.inch*measure.Inch+measure.Thou/2 && thickness > 0 {
			if row.need[column] == 0 {
				return 0, &Error{"rivet diameter", mm(diameter), fmt.Sprintf("the table has no figure for it in sheet of %.3f in", row.inch)}
			}
			return row.need[column], nil
		}
	}
	return 0, &Error{"thickness", mm(thickness), "the table goes to .128 in"}
}

// SpliceRivets is the count on each side of a joint: the width (mm) times the table's
// figure, rounded up, of that the percentage, rounded up again.
func SpliceRivets(width, perInch float64, percent int) int {
	// A hair of grace: 10 in times 4.9 is 49 rivets and not 50.
	whole := int(math.Ceil(width/measure.Inch*perInch - 1e-9))
	return (whole*percent + 99) / 100
}

// spliceRivet is the diameter for a sheet when none is given: the largest of not more than three
// thicknesses, but 3/32 in at least.
func spliceRivet(thickness float64) float64 {
	best := rivetSizes[0]
	for _, d := range rivetSizes {
		if d <= 3*thickness {
			best = d
		}
	}
	return best
}

// plateThickness is the next sheet of the table above a thickness: a splice plate is
// thicker than what it joins.
func plateThickness(t float64) float64 {
	for _, row := range rivetTable {
		if row.inch*measure.Inch > t+measure.Thou/2 {
			return row.inch * measure.Inch
		}
	}
	return 1.25 * t
}

// spliceAt works a splice out: how many rivets, where they stand, and how long the plate is.
func (r *Ring) spliceAt(j joint) Splice {
	t := r.Former.Sheet.Thickness
	s := Splice{Girth: j.girth, Rivet: r.Former.Split.Rivet, Thick: plateThickness(t), inner: j.inner}
	if s.Rivet == 0 {
		s.Rivet = spliceRivet(t)
	}
	var near [2]float64 // setbacks of the outer and the inner bend
	var legs, flats [2]float64
	for i, strip := range []struct {
		*Strip
		girth float64
	}{{&r.Outer, j.girth}, {&r.Inner, j.inner}} {
		if strip.rim.Flange != nil {
			c := strip.sectionAt(strip.girth, 0)
			near[i], legs[i], flats[i] = c.Setback, c.Width, c.Flat
		}
	}
	webFlat := j.depth - near[0] - near[1]
	s.Width = webFlat + legs[0] + legs[1]
	var err error
	if s.PerInch, err = RivetsPerInch(t, s.Rivet); err != nil {
		// Outside the table the count follows the nearest rule at hand, one rivet each
		// four diameters, and a finding says so.
		s.OffTable, s.PerInch = true, measure.Inch/(4*s.Rivet)
	}
	s.Rivets = SpliceRivets(s.Width, s.PerInch, splicePercent)
	share := func(flat float64) int {
		if flat < 4*s.Rivet {
			return 0 // no room for a rivet with its edge distance: the web takes them
		}
		return int(math.Ceil(float64(s.Rivets)*flat/s.Width - 1e-9))
	}
	s.OnOuter, s.OnInner = share(flats[0]), share(flats[1])
	s.OnWeb = max(s.Rivets-s.OnOuter-s.OnInner, 1)
	s.Rivets = s.OnWeb + s.OnOuter + s.OnInner
	s.setRivets(r.Outer.contour, near, webFlat, r.Former.Split.Gap)
	s.Steps = []bend.Step{
		{Quantity: "table's rivets for the width joined", Symbol: "N", Formula: "round up(w·n)",
			Inputs: []bend.Input{{Symbol: "w", Value: s.Width / measure.Inch, Unit: bend.None}, {Symbol: "n", Value: s.PerInch, Unit: bend.None}},
			Value:  math.Ceil(s.Width/measure.Inch*s.PerInch - 1e-9), Unit: bend.Count, Source: rivetSource},
		{Quantity: "rivets on each side, intermediate frame", Symbol: "Ns", Formula: "round up(0.6·N)",
			Inputs: []bend.Input{{Symbol: "N", Value: math.Ceil(s.Width/measure.Inch*s.PerInch - 1e-9), Unit: bend.Count}},
			Value:  float64(SpliceRivets(s.Width, s.PerInch, splicePercent)), Unit: bend.Count,
			Source: material.Source{Document: "FAA AC 43.13-1B", Place: "notes to Table 4-10: 60 % for intermediate frames, rounded up twice", Provenance: material.Read}},
	}
	return s
}

// setRivets stands the web's rivets in rows beside the joint, staggered, and draws the plate.
func (s *Splice) setRivets(c *contour, near [2]float64, webFlat, gap float64) {
	d := s.Rivet
	pitch, row, edge := 4*d, 3*d, 2*d
	first := gap/2 + edge // off the middle of the joint
	// The plate keeps clear of the bends by a rivet diameter; rivets keep their edge
	// distance in it.
	room := webFlat - 2*d - 2*edge
	s.Crowded = room < 0
	inRow := 1 + int(max(room, 0)/pitch)
	s.Rows = (s.OnWeb + inRow - 1) / inRow
	onFlange := max(s.OnOuter, s.OnInner)
	s.Half = first + max(float64(s.Rows-1)*row, float64(max(onFlange-1, 0))*pitch) + edge
	middle := near[0] + webFlat/2
	put := 0
	for k := range s.Rows {
		n := min(inRow, s.OnWeb-put)
		put += n
		// Every second row stands half a pitch lower, as far as there is room.
		shift := 0.0
		if k%2 == 1 && n < inRow {
			shift = pitch / 2
		}
		for i := range n {
			y := -middle + (float64(i)-float64(n-1)/2)*pitch + shift
			for _, side := range []float64{-1, 1} {
				s.Holes = append(s.Holes, s.beside(c, side*(first+float64(k)*row), y))
			}
		}
	}
	s.Plate = s.plate(c, near, webFlat)
}

// beside is the place that lies along from the straight joint, square to it, and out from the contour: by girth alone
// rows would close up toward the inside of a bend and come too near the joint.
func (s *Splice) beside(c *contour, along, out float64) r2.Vec {
	joint := c.frame(s.Girth)
	at := func(girth float64) (p r2.Vec, past float64) {
		p = c.frame(s.Girth+girth).at(0, out)
		return p, r2.Dot(r2.Sub(p, joint.p), joint.along) - along
	}
	// Where the contour bends as tightly as the place lies deep it is never so far along.
	lo, hi := 0.0, along
	for n := 0; ; n++ {
		if _, past := at(hi); past*along >= 0 {
			break
		}
		if n == 4 {
			return joint.at(along, out)
		}
		lo, hi = hi, 2*hi
	}
	for range 60 {
		mid := (lo + hi) / 2
		if _, past := at(mid); past*along < 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	p, _ := at(hi)
	return p
}

// plate is the plate on the web: its ends are tapered, so that the load comes into it by degrees, as far as the rivets
// keep their edge distance.
func (s *Splice) plate(c *contour, near [2]float64, webFlat float64) outline.Path {
	d := s.Rivet
	outer, inner := -near[0]-d, -near[0]-webFlat+d
	if inner > outer-d {
		return outline.Path{}
	}
	const mildest = 0.1 // mm: as good as square
	for taper := (outer - inner) / 4; ; taper *= 0.8 {
		if p := s.tapered(c, outer, inner, taper); s.edgeDistance(p) >= 2*d-platePlay || taper <= mildest {
			return p
		}
	}
}

// platePlay is what the straight pieces that a plate's sides are made of take of the edge distance, mm.
const platePlay = 0.01

func (s *Splice) edgeDistance(plate outline.Path) float64 {
	least := math.Inf(1)
	for _, h := range s.Holes {
		least = min(least, plate.Distance(h))
	}
	return least
}

// tapered is a plate whose corners are cut back by taper across it. Its long sides follow the contour.
func (s *Splice) tapered(c *contour, outer, inner, taper float64) outline.Path {
	long := s.Half - min(s.Half/4, taper)
	var pts []r2.Vec
	side := func(from, to, out float64) {
		const pieces = 16
		for k := range pieces + 1 {
			pts = append(pts, s.beside(c, from+(to-from)*float64(k)/pieces, out))
		}
	}
	// Out lies to the right of along: counter-clockwise goes along the outer edge first.
	side(-long, long, outer)
	pts = append(pts, s.beside(c, s.Half, outer-taper), s.beside(c, s.Half, inner+taper))
	side(long, -long, inner)
	pts = append(pts, s.beside(c, -s.Half, inner+taper), s.beside(c, -s.Half, outer-taper))
	return outline.Polygon(pts...)
}

// splice works out all splices of the ring.
func (r *Ring) splice(joints []joint) {
	for i, j := range joints {
		s := r.spliceAt(j)
		s.Name = fmt.Sprintf("J%d", i+1)
		r.Splices = append(r.Splices, s)
	}
}
