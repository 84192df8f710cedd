package partfile

import (
	"fmt"
	"math"
	"strconv"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/material/measure"
)

// edges reads the web of a file of that kind.
func (d *decoder) edges(t *table, w *flat.Web) {
	var walked []side
	n := t.tables("edge", webEdge, func(i int, s *table) {
		w.Edges = append(w.Edges, d.edge(s))
		walked = append(walked, d.side(s))
	})
	if n == 0 {
		d.lose("web.edges")
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
	e.Corner = d.cornerCut(t)
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
	if byAngle {
		d.alias(t.pathOf("bulge"), t.pathOf("arc"))
	}
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
	g.Joggles = d.joggles(t)
	g.Rivets = d.rivets(t)
	g.Flanges = d.flanges(t)
}

// cornerCutKey names the corner it speaks of, for the key corner of a side is the angle at
// its other end.
const cornerCutKey = "corner_cut_before"

// cornerCut reads how the corner of a side, or of a face, with the one before is cut.
func (d *decoder) cornerCut(of *table) (c flat.Corner) {
	of.refuseCornerCut()
	t := of.sub(cornerCutKey, of.pathOf("corner"))
	if t.n == nil {
		return c
	}
	c.Kind, _ = maybe(t, "kind", cornerCuts)
	c.Width, _ = maybe(t, "width", length("1/4 in", aboveOrOut("as wide as the relief in [bends]")))
	c.Gap, _ = maybe(t, "gap", length("1/64 in", aboveOrOut("the gap in [bends], or none at a closed corner")))
	t.done()
	return c
}

// refuseCornerCut asks which corner is meant where a file does not say.
func (t *table) refuseCornerCut() {
	const either = "corner_cut"
	if t.n.get(either) == nil {
		return
	}
	if e := t.find(either); e != nil {
		t.refuse(either, e.value, "does not say at which end: write "+cornerCutKey+" for the corner with the one before this, and write it in the next for the corner with that", nil)
	}
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
