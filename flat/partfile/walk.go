package partfile

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// A side is one edge of a web as the worker walks round it: a length, and the
// corner angle inside the web at its far end. Or its first corner by coordinates.
type side struct {
	t      *table
	at     r2.Vec
	byAt   bool
	placed bool // at can be read
	length measured[float64]
	corner measured[measure.Angle]
}

// measured is a value that may be left out.
type measured[T any] struct {
	value  T
	given  bool // and good
	stands bool // in the file, good or not
}

func take[T any](t *table, key string, q quantity[T]) (m measured[T]) {
	m.value, m.given = maybe(t, key, q)
	m.stands = t.n != nil && t.n.get(key) != nil
	return m
}

func (d *decoder) side(t *table) side {
	s := side{t: t}
	if e := t.find("at"); e != nil {
		s.byAt = true
		if c := t.coordinates("at", e.value, "xy", position); c != nil {
			s.at, s.placed = r2.Vec{X: c[0], Y: c[1]}, true
		}
	} else {
		s.byAt = d.lost[t.pathOf("at")]
	}
	d.alias(t.pathOf("start"), t.pathOf("at"))
	s.length = take(t, "length", length("6 1/4 in", above))
	s.corner = take(t, "corner", angle("92 30'", inside))
	return s
}

func inside(a measure.Angle) string {
	if 0 < a && a < 360*measure.Degree {
		return ""
	}
	return "the corner is measured inside the web, above 0 and below 360 deg"
}

// corners puts the edges in their places, by coordinates or by walking.
func (d *decoder) corners(edges []flat.Edge, sides []side) {
	byAt, walked, placed := 0, 0, 0
	for _, s := range sides {
		switch {
		case s.byAt && (s.length.stands || s.corner.stands):
			s.t.refuse("at", s.t.n, "give at, or length and corner, not both", nil)
		case s.byAt:
			byAt++
			if s.placed {
				placed++
			}
		default:
			walked++
		}
	}
	switch {
	case placed == len(sides):
		for i, s := range sides {
			edges[i].Start = s.at
		}
		return
	case walked == len(sides):
		if d.walk(edges, sides) {
			return
		}
	case byAt > 0 && walked > 0:
		for _, s := range sides {
			if !s.byAt {
				s.t.miss("at", `the other edges begin at a point, this one has none: write at = ["0 in", "0 in"]`)
			}
		}
	}
	d.loseShape(edges)
}

// loseShape forgets where the corners lie, and with them how long the edges are,
// which stations along them are held against.
func (d *decoder) loseShape(edges []flat.Edge) {
	for i := range edges {
		d.lose(webEdge(i) + ".start")
	}
	for path := range d.spots {
		station := strings.HasSuffix(path, ".from") || strings.HasSuffix(path, ".to") || strings.Contains(path, ".joggles[") && strings.HasSuffix(path, ".at")
		if station {
			d.lose(path)
		}
	}
}

// How far a measurement that the others already settle may disagree with them
// before it is a mistake: a reading of the steel rule and one of the bevel
// protractor (common practice).
const (
	ruleReading  = measure.Inch / 32
	bevelReading = measure.Degree / 2
)

// walk goes round the web: the first edge along x from the origin, turning left at
// each corner. The last length and the last two corners follow from the others; if
// they are given all the same, they check the rest.
func (d *decoder) walk(edges []flat.Edge, sides []side) bool {
	n := len(sides)
	if n < 3 {
		return true // the part refuses it
	}
	good := true
	for i, s := range sides {
		if i < n-1 && !s.length.given {
			s.t.miss("length", `write length = "6 1/4 in"; only the last edge may leave it out`)
			good = false
		}
		if i < n-2 && !s.corner.given {
			s.t.miss("corner", `write corner = "92 30'", the angle inside the web between this edge and the next; only the last two may leave it out`)
			good = false
		}
	}
	if !good {
		return false
	}
	var at r2.Vec
	var heading measure.Angle
	for i, s := range sides[:n-1] {
		edges[i].Start = at
		sin, cos := math.Sincos(heading.Radians())
		at = r2.Add(at, r2.Scale(s.length.value, r2.Vec{X: cos, Y: sin}))
		if i < n-2 {
			heading += math.Pi - s.corner.value
		}
	}
	edges[n-1].Start = at
	d.closing(sides[n-2:], at, heading)
	return true
}

// closing holds what the maker measured at the end of the walk against what is
// left to get home from a corner, at which the walk arrives with a heading.
func (d *decoder) closing(sides []side, corner r2.Vec, heading measure.Angle) {
	before, last := sides[0], sides[1]
	home := r2.Norm(corner)
	if last.length.given && !(math.Abs(last.length.value-home) <= ruleReading) {
		last.t.refuse("length", last.t.n.get("length").value,
			fmt.Sprintf("the other edges and corners leave %s: measure again, or leave the line out to take that", measure.Both(home)), nil)
	}
	direction := measure.Angle(math.Atan2(-corner.Y, -corner.X))
	check := func(s side, left measure.Angle) {
		left = turn(left)
		if s.corner.given && !(math.Abs(turn(s.corner.value-left+math.Pi).Radians()-math.Pi) <= bevelReading.Radians()) {
			s.t.refuse("corner", s.t.n.get("corner").value,
				fmt.Sprintf("the other edges and corners leave %s: measure again, or leave the line out to take that", degrees(left)), nil)
		}
	}
	check(before, math.Pi-(direction-heading))
	check(last, math.Pi+direction) // the first edge heads along x
}

// turn brings an angle to 0 up to a full turn.
func turn(a measure.Angle) measure.Angle {
	const full = 2 * math.Pi
	t := math.Mod(a.Radians(), full)
	if t < 0 {
		t += full
	}
	return measure.Angle(t)
}

func degrees(a measure.Angle) string {
	return strconv.FormatFloat(a.Degrees(), 'f', 2, 64) + " deg"
}
