package partfile

import (
	"fmt"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"gonum.org/v1/gonum/spatial/r2"
)

// features reads what is cut through a panel; path is the panel's in the part.
func (d *decoder) features(t *table, path string) (f flat.Features) {
	in := func(list string) func(int) string {
		return func(i int) string { return fmt.Sprintf("%s.%s[%d]", path, list, i) }
	}
	t.tables("hole", in("holes"), func(_ int, s *table) {
		var h flat.Hole
		h.Name, _ = maybe(s, "name", words)
		h.At = d.point(s, "at")
		h.Diameter = need(s, "diameter", length("3/16 in", above))
		h.Purpose, _ = maybe(s, "purpose", purposes)
		f.Holes = append(f.Holes, h)
	})
	t.tables("slot", in("slots"), func(_ int, s *table) {
		var l flat.Slot
		l.Name, _ = maybe(s, "name", words)
		l.From, l.To = d.point(s, "from"), d.point(s, "to")
		l.Width = need(s, "width", length("1/4 in", above))
		f.Slots = append(f.Slots, l)
	})
	t.tables("lightening", in("lightening"), func(_ int, s *table) {
		var l flat.LighteningHole
		l.Name, _ = maybe(s, "name", words)
		l.Turn, _ = maybe(s, "turn", turns)
		l.At = d.point(s, "at")
		l.Diameter = need(s, "diameter", length("2 in", above))
		l.Height = need(s, "height", length("1/4 in", above))
		l.Radius = need(s, "radius", length("1/8 in", notBelow))
		f.Lightening = append(f.Lightening, l)
	})
	t.tables("cutout", in("cutouts"), func(_ int, s *table) {
		var c flat.Cutout
		c.Name, _ = maybe(s, "name", words)
		c.Path = d.path(s)
		f.Cutouts = append(f.Cutouts, c)
	})
	return f
}

// joggles reads where a flange is offset over what it laps.
func (d *decoder) joggles(t *table) (list []flat.Joggle) {
	at := func(i int) string { return fmt.Sprintf("%s.joggles[%d]", t.path, i) }
	t.tables("joggle", at, func(_ int, s *table) {
		var j flat.Joggle
		j.Name, _ = maybe(s, "name", words)
		j.At = need(s, "at", length("2 in", notBelow))
		j.Run = need(s, "run", length("1/4 in", above))
		j.Depth = need(s, "depth", length("0.040 in", above))
		j.Part, _ = maybe(s, "part", joggleParts)
		j.Side, _ = maybe(s, "side", joggleSides)
		list = append(list, j)
	})
	return list
}

// path reads the corners of an opening, in the order of walking round it.
func (d *decoder) path(t *table) outline.Path {
	p := outline.Path{Closed: true}
	at := func(i int) string { return fmt.Sprintf("%s.path.corner[%d]", t.path, i) }
	n := t.tables("corner", at, func(_ int, s *table) {
		p.Vertices = append(p.Vertices, outline.Vertex{P: d.point(s, "at"), Bulge: d.bulge(s)})
	})
	if n == 0 {
		d.lose(t.pathOf("path"))
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
