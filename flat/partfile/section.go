package partfile

import (
	"fmt"
	"strconv"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// A leg is one straight piece across a section, and the bend to the next.
type leg struct {
	t       *table
	name    string
	width   float64
	web     bool
	bend    measure.Angle
	turn    flat.Turn
	radius  float64
	joggles []flat.Joggle
	rivets  []flat.Riveting // the same from either end of the length
	flat.Features
}

// mostLegs bounds a section: a leg is a bend, and no brake makes a hundred.
const mostLegs = 100

// section reads a length of bent section and makes the web of it that one of its
// legs is, the others turned from its two long edges.
func (d *decoder) section(t *table, w *flat.Web) {
	s := t.needSub("section", "section")
	long := need(s, "length", length("6 in", above))
	var legs []leg
	if e := s.n.get("leg"); e != nil && len(e.value.items) > mostLegs {
		s.find("leg")
		s.refuse("leg", e.value, "more than "+strconv.Itoa(mostLegs)+" legs: not a section that can be bent", nil)
		d.lose("web")
		s.done()
		return
	}
	n := s.tables("leg", func(i int) string { return fmt.Sprintf("section.legs[%d]", i) }, func(_ int, l *table) {
		legs = append(legs, d.leg(l))
	})
	if n < 2 && s.n != nil && !d.headless {
		s.miss("leg", "a section has at least 2 legs: write [[section.leg]] for each, across the section in order")
	}
	s.done()
	for i := range legs[:max(n-1, 0)] {
		l := legs[i]
		if l.t.n == nil {
			continue
		}
		if !(l.bend > 0) && l.t.n.get("bend") == nil {
			l.t.miss("bend", `write bend = "90 deg", the bend between this leg and the next`)
		}
		if l.t.n.get("turn") == nil {
			l.t.miss("turn", `write turn = "up" or turn = "down"`)
		}
	}
	if n < 2 {
		d.lose("web")
		return
	}
	for _, key := range []string{"bend", "turn", "radius"} {
		if last := legs[n-1].t; last.n != nil && last.n.get(key) != nil {
			last.refuse(key, last.n.get(key).value, "no leg follows the last one: leave the line out", nil)
		}
	}
	d.unfold(legs, d.web(legs), long, w)
}

func (d *decoder) leg(t *table) (l leg) {
	l.t = t
	l.name, _ = maybe(t, "name", words)
	l.width = need(t, "width", length("1 in", above))
	l.web, _ = maybe(t, "web", yesNo)
	l.bend, _ = maybe(t, "bend", bendAngle)
	l.turn, _ = maybe(t, "turn", turns)
	l.radius, _ = maybe(t, "radius", length("5/32 in", aboveOrOut("the radius in [bends]")))
	l.Features = d.features(t, t.path)
	l.joggles = d.joggles(t)
	l.rivets = d.rivets(t)
	return l
}

// web is the leg that stays still: the one that says so, else the widest, the
// first of equals.
func (d *decoder) web(legs []leg) int {
	at, said := 0, false
	for i, l := range legs {
		switch {
		case l.web && said:
			l.t.refuse("web", l.t.n.get("web").value, "another leg is the web already", nil)
		case l.web:
			at, said = i, true
		case !said && l.width > legs[at].width:
			at = i
		}
	}
	return at
}

// unfold hangs the legs before the web from its first long edge and those after
// it from the opposite one.
func (d *decoder) unfold(legs []leg, at int, long float64, w *flat.Web) {
	wide := legs[at].width
	d.alias("web", legs[at].t.path)
	for _, e := range []struct {
		name  string
		start r2.Vec
	}{
		{"first", r2.Vec{}}, {"right end", r2.Vec{X: long}}, {"second", r2.Vec{X: long, Y: wide}}, {"left end", r2.Vec{Y: wide}},
	} {
		w.Edges = append(w.Edges, flat.Edge{Name: e.name, Start: e.start})
	}
	w.Features = legs[at].Features
	if web := legs[at].t; len(legs[at].joggles) > 0 {
		web.refuse("joggle", web.n.get("joggle").value, "the web stays flat: joggle the legs turned from it, or make another leg the web", nil)
	}

	if web := legs[at].t; len(legs[at].rivets) > 0 {
		web.refuse("rivets", web.n.get("rivets").value, "rows are laid along the legs turned from the web: give a rivet in the web as a hole, or make another leg the web", nil)
	}

	below := make([]hung, 0, at)
	for i := at - 1; i >= 0; i-- {
		below = append(below, hung{legs[i], legs[i]})
	}
	above := make([]hung, 0, len(legs)-1-at)
	for i := at + 1; i < len(legs); i++ {
		l := legs[i]
		l.Features, l.joggles = endForEnd(l.Features, long), swapEnds(l.joggles, long)
		above = append(above, hung{l, legs[i-1]})
	}
	w.Edges[0].Flanges = d.hang(below, webEdge(0))
	w.Edges[2].Flanges = d.hang(above, webEdge(2))
	if d.lost["section.length"] || d.lost[legs[at].t.pathOf("width")] {
		d.loseShape(w.Edges)
	}
}

// A hung leg takes its bend from the leg that says how the two meet.
type hung struct{ leg, bend leg }

func (d *decoder) hang(legs []hung, path string) []flat.Flange {
	if len(legs) == 0 {
		return nil
	}
	l, b := legs[0].leg, legs[0].bend
	path += ".flanges[0]"
	d.alias(path, l.t.path)
	d.alias(path+".height", l.t.pathOf("width"))
	d.alias(path+".angle", b.t.pathOf("bend"))
	d.alias(path+".turn", b.t.pathOf("turn"))
	d.alias(path+".radius", b.t.pathOf("radius"))
	d.bendRadius(path+".radius", b.radius)
	return []flat.Flange{{
		Name: l.name, Turn: b.turn, Angle: b.bend, Height: l.width, Radius: b.radius,
		Features: l.Features,
		Joggles:  l.joggles,
		Rivets:   l.rivets,
		Flanges:  d.hang(legs[1:], path),
	}}
}

// endForEnd measures features from the other end of the length. A flange on the
// web's second long edge runs the other way than the first; in the file, all legs
// are measured from the same end.
func endForEnd(f flat.Features, long float64) (out flat.Features) {
	across := func(p r2.Vec) r2.Vec { return r2.Vec{X: long - p.X, Y: p.Y} }
	for _, h := range f.Holes {
		h.At = across(h.At)
		out.Holes = append(out.Holes, h)
	}
	for _, s := range f.Slots {
		s.From, s.To = across(s.From), across(s.To)
		out.Slots = append(out.Slots, s)
	}
	for _, l := range f.Lightening {
		l.At = across(l.At)
		out.Lightening = append(out.Lightening, l)
	}
	for _, c := range f.Cutouts {
		path := outline.Path{Closed: true}
		for _, v := range c.Path.Vertices {
			path.Vertices = append(path.Vertices, outline.Vertex{P: across(v.P), Bulge: -v.Bulge})
		}
		out.Cutouts = append(out.Cutouts, flat.Cutout{Name: c.Name, Path: path})
	}
	return out
}

// swapEnds does the same with joggles.
func swapEnds(joggles []flat.Joggle, long float64) (out []flat.Joggle) {
	for _, j := range joggles {
		out = append(out, j.Reversed(long))
	}
	return out
}
