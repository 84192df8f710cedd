package partfile

import (
	"fmt"
	"math"
	"strconv"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// edges reads the web of a file of that kind.
func (d *decoder) edges(t *table, w *flat.Web) {
	var walked []side
	n := t.tables("edge", webEdge, func(i int, s *table) {
		w.Edges = append(w.Edges, d.edge(s))
		walked = append(walked, d.side(s))
	})
	if n == 0 {
		d.lost["web.edges"] = true
		if !d.headless && !d.lost["edge"] {
			t.miss("edge", "write [[edge]] for each side of the web, walking round it counter-clockwise")
		}
	}
	d.alias("web.edges", "edge")
	d.corners(w.Edges, walked)
	w.Features = d.features(t, "web")
}

func webEdge(i int) string { return "web.edges[" + strconv.Itoa(i) + "]" }

func (d *decoder) edge(t *table) (e flat.Edge) {
	e.Name, _ = maybe(t, "name", words)
	e.Bulge = d.bulge(t)
	e.Flanges = d.flanges(t)
	return e
}

// bulge reads how far a side is from straight: the angle an arc turns through, to
// the left or, below zero, to the right, or the tangent of its quarter.
func (d *decoder) bulge(t *table) float64 {
	a, byAngle := maybe(t, "arc", angle("90 deg", func(a measure.Angle) string {
		if -180*measure.Degree <= a && a <= 180*measure.Degree && a != 0 {
			return ""
		}
		return "must turn by at most 180 deg, left, or -180 deg, right, and not by 0; leave the line out for a straight side"
	}))
	b, byBulge := t.number("bulge", "0.4142", -1, 1)
	if byAngle && byBulge {
		t.refuse("bulge", t.n.get("bulge").value, "arc says the same: keep one", nil)
	}
	if byBulge {
		return b
	}
	d.alias(t.pathOf("bulge"), t.pathOf("arc"))
	return math.Tan(a.Radians() / 4)
}

func (d *decoder) flanges(t *table) (list []flat.Flange) {
	at := func(i int) string { return fmt.Sprintf("%s.flanges[%d]", t.path, i) }
	t.tables("flange", at, func(_ int, s *table) { list = append(list, d.flange(s)) })
	return list
}

func (d *decoder) flange(t *table) (g flat.Flange) {
	g.Name, _ = maybe(t, "name", words)
	g.Turn = need(t, "turn", turns)
	g.Angle = need(t, "angle", bendAngle)
	g.AngleEnd, _ = maybe(t, "angle_end", bendAngle)
	d.shape(t, &g)
	return g
}

// shape reads what a flange is apart from its bend.
func (d *decoder) shape(t *table, g *flat.Flange) {
	g.Height = need(t, "height", length("3/4 in", above))
	g.HeightEnd, _ = maybe(t, "height_end", length("1/2 in", aboveOrOut("the same height all along")))
	g.Basis, _ = maybe(t, "basis", bases)
	g.Radius, _ = maybe(t, "radius", length("5/32 in", aboveOrOut("the radius in [bends]")))
	d.bendRadius(t.pathOf("radius"), g.Radius)
	g.From, _ = maybe(t, "from", length("1/2 in", notBelow))
	g.To, _ = maybe(t, "to", length("5 in", aboveOrOut("the whole side")))
	g.Start = d.trim(t.sub("start", t.pathOf("start")))
	g.End = d.trim(t.sub("end", t.pathOf("end")))
	g.Features = d.features(t, t.path)
	g.Flanges = d.flanges(t)
}

func (d *decoder) trim(t *table) (cut flat.Trim) {
	if t.n == nil {
		return cut
	}
	cut.Kind = need(t, "cut", cuts)
	d.alias(t.pathOf("kind"), t.pathOf("cut"))
	cut.Angle, _ = maybe(t, "angle", angle("5 deg", anyAngle))
	cut.Inset, _ = maybe(t, "inset", length("1/16 in", notBelow))
	t.done()
	return cut
}

// features reads what is cut through a panel; path is the panel's in the part.
func (d *decoder) features(t *table, path string) (f flat.Features) {
	t.tables("hole", func(i int) string { return fmt.Sprintf("%s.holes[%d]", path, i) }, func(_ int, s *table) {
		var h flat.Hole
		h.Name, _ = maybe(s, "name", words)
		h.At = d.point(s, "at")
		h.Diameter = need(s, "diameter", length("3/16 in", above))
		f.Holes = append(f.Holes, h)
	})
	t.tables("cutout", func(i int) string { return fmt.Sprintf("%s.cutouts[%d]", path, i) }, func(_ int, s *table) {
		var c flat.Cutout
		c.Name, _ = maybe(s, "name", words)
		c.Path = d.path(s)
		f.Cutouts = append(f.Cutouts, c)
	})
	return f
}

// path reads the corners of an opening, in the order of walking round it.
func (d *decoder) path(t *table) outline.Path {
	p := outline.Path{Closed: true}
	at := func(i int) string { return fmt.Sprintf("%s.path.corner[%d]", t.path, i) }
	n := t.tables("corner", at, func(_ int, s *table) {
		p.Vertices = append(p.Vertices, outline.Vertex{P: d.point(s, "at"), Bulge: d.bulge(s)})
	})
	if n == 0 {
		d.lost[t.pathOf("path")] = true
		t.miss("corner", `write corner = [{ at = ["1 in", "1 in"] }, ...], walking round the opening`)
	}
	d.alias(t.pathOf("path"), t.pathOf("corner"))
	return p
}

// point reads a point of a panel that must be there.
func (d *decoder) point(t *table, key string) r2.Vec {
	e := t.find(key)
	if e == nil {
		t.miss(key, "write "+key+` = ["1 in", "3/4 in"]`)
		return r2.Vec{}
	}
	if c := t.coordinates(key, e.value, "xy", position); c != nil {
		return r2.Vec{X: c[0], Y: c[1]}
	}
	return r2.Vec{}
}
