package partfile

import (
	"strconv"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/pelletier/go-toml/v2/unstable"
	"gonum.org/v1/gonum/spatial/r3"
)

// curve reads the measured line of a face that is not flat; nil where the file has
// none.
func (d *decoder) curve(t *table) *flat.Curve {
	s := t.sub("curve", t.pathOf("curve"))
	if s.n == nil {
		return nil
	}
	for _, key := range [...]string{"points", "normal", leanKey, heightsKey, levelKey} {
		if e := t.find(key); e != nil {
			t.refuse(key, e.value, "a curved face has no plane: leave it out, and give the points of its line in [face.curve]", nil)
		}
	}
	c := &flat.Curve{Points: d.line(s)}
	c.Within, _ = maybe(s, "within", length("1/64 in", aboveOrOut("a line through the very points")))
	s.done()
	return c
}

// line reads the points of a measured line.
func (d *decoder) line(t *table) []r3.Vec {
	const example = `points = [["436 in", "-2.5 in", "8.1 in"], [...], [...]]`
	e := t.find("points")
	if e == nil {
		t.miss("points", "write "+example+", along the line from one end to the other")
		return nil
	}
	if n := e.value; n.kind != unstable.Array || n.made == headers || len(n.items) < 3 {
		t.refuse("points", n, "a line takes three points or more, each x, y and z: "+example, nil)
		return nil
	}
	points := make([]r3.Vec, len(e.value.items))
	for i, item := range e.value.items {
		key := "points[" + strconv.Itoa(i) + "]"
		if c := t.coordinates(key, item, "xyz", station); c != nil {
			points[i] = r3.Vec{X: c[0], Y: c[1], Z: c[2]}
		}
		t.d.mark(t.pathOf(key), spot{item.at, t.name("points " + strconv.Itoa(i+1)), item.shown()})
	}
	return points
}

func (e *encoder) curve(c flat.Curve) {
	e.open("face.curve", false)
	e.optional("within", c.Within)
	e.points(c.Points)
}

func (e *encoder) points(list []r3.Vec) {
	e.b.WriteString("points = [\n")
	for _, p := range list {
		e.b.WriteString("  " + space(p) + ",\n")
	}
	e.b.WriteString("]\n")
}
