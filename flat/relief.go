package flat

import (
	"fmt"
	"math"

	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// A Corner says how the corner at the start of an edge is cut, where it and the edge
// before it both carry a flange right up to it. The zero value cuts it as the part
// says for all: [Part.Relief] and [Part.Gap].
type Corner struct {
	Kind CornerKind
	// Width of the opening, mm: the diameter of a hole, or how wide a notch is across
	// either tangent line. Zero is as wide as the part's relief.
	Width float64
	// Gap kept between the ends of the two flanges, mm. Zero keeps the part's, but for
	// a Closed corner, where it is none.
	Gap float64
}

// CornerKind names the ways of cutting a corner at which two bends meet.
type CornerKind uint8

const (
	// Drilled has a relief hole centred on the crossing of the bend tangent lines.
	Drilled CornerKind = iota
	// Notched has a notch with straight sides instead, along the two edges, half its
	// width past either tangent line. Its inner corners are sharp until they are filed.
	Notched
	// Closed has a relief hole and flanges that meet along their miter, metal to metal
	// or with its own Gap between, to be welded, soldered or sealed. Both turn the same way.
	Closed
)

func (k CornerKind) String() string {
	switch k {
	case Notched:
		return "notched"
	case Closed:
		return "closed"
	}
	return "drilled"
}

// validate checks the corner at the start of e; before is the edge before it.
func (c Corner) validate(f *faults, e, before *Edge, lengthBefore float64) {
	c.measures(f)
	if !before.bentUpTo(lengthBefore) || !e.bentFrom() {
		f.around.add("corner", "", "how its corner is cut goes for two flanges that meet there, but not both edges have one right up to it: leave it out")
		return
	}
	if c.Kind == Closed && e.Flanges[0].Turn != before.Flanges[len(before.Flanges)-1].Turn {
		f.add("kind", c.Kind.String(), "joins flanges turned the same way, and these are turned one up and one down")
	}
}

// measures checks what the corner says by itself.
func (c Corner) measures(f *faults) {
	if c.Kind > Closed {
		f.add("kind", fmt.Sprint(uint8(c.Kind)), "must be drilled, notched or closed")
	}
	f.length("width", c.Width, 0, 200, "must be 0 mm (as the part's relief) to 200 mm")
	f.length("gap", c.Gap, 0, 100, "must be 0 mm (the part's; none for a closed corner) to 100 mm")
}

// bentFrom tells that a flange starts at the start of the edge.
func (e *Edge) bentFrom() bool { return len(e.Flanges) > 0 && e.Flanges[0].From <= coincident }

// bentUpTo tells that a flange reaches the end of the edge, of the given length.
func (e *Edge) bentUpTo(length float64) bool {
	if len(e.Flanges) == 0 {
		return false
	}
	last := &e.Flanges[len(e.Flanges)-1]
	return last.From == 0 && last.To == 0 || last.To >= length-coincident
}

// cutAs cuts the corner of two bends in its own way.
func (l *layout) cutAs(c *corner, cut Corner, prev, next *side, turn measure.Angle) {
	c.kind = cut.Kind
	if cut.Width > 0 {
		c.radius = cut.Width / 2
	}
	if cut.Gap > 0 || cut.Kind == Closed {
		c.gap = cut.Gap
	}
	// Of two edges nearly in line the notch would have a point many times its width away.
	const leastTurn, mostTurn = 30 * measure.Degree, 150 * measure.Degree
	if size := measure.Angle(math.Abs(float64(turn))); cut.Kind == Notched && !(leastTurn <= size && size <= mostTurn) {
		next.where.add("", "", fmt.Sprintf("turns %s from the flanged edge before it: a notch needs a turn of 30° to 150°, drill the corner instead", turn))
	}
	c.across = [2]r2.Vec{prev.out, next.out}
}

// reliefRadius is half the diameter the part gives, or half the larger of twice
// the bend radius and the handbook's least diameter.
func (l *layout) reliefRadius(bendRadius float64) float64 {
	if d := l.part.Relief.Diameter; d > 0 {
		return d / 2
	}
	return max(bendRadius, leastRelief(l.part.Sheet.Thickness)/2)
}

// leastRelief is the handbook's least diameter of a relief hole: 1/8 in to 0.064 in
// thick, 3/16 in from 0.072 in to 0.128 in (FAA-H-8083-31 ch. 4). Between the rows
// the larger holds; above them the handbook is silent and the larger is kept.
func leastRelief(thickness float64) float64 {
	if thickness <= 0.064*measure.Inch+coincident {
		return measure.Inch / 8
	}
	return 3 * measure.Inch / 16
}

// takes tells that the relief takes away the metal at p.
func (c *corner) takes(p r2.Vec) bool {
	d := r2.Sub(p, c.leave)
	if c.kind == Notched {
		return math.Abs(r2.Dot(c.across[0], d)) < c.radius && math.Abs(r2.Dot(c.across[1], d)) < c.radius
	}
	return r2.Norm(d) < c.radius
}

// leaves is where the line from a point inside the relief to one outside crosses its rim.
func (c *corner) leaves(in, out r2.Vec) r2.Vec {
	if c.kind != Notched {
		return onCircle(in, out, c.leave, c.radius)
	}
	t := 1.0
	for _, n := range c.across {
		if at, step := r2.Dot(n, r2.Sub(in, c.leave)), r2.Dot(n, r2.Sub(out, in)); step != 0 {
			t = min(t, (math.Copysign(c.radius, step)-at)/step)
		}
	}
	return r2.Add(in, r2.Scale(t, r2.Sub(out, in)))
}

// clockwise is the angle through which q lies clockwise of p about the middle of the
// relief, as a sweep: below 0, down to a whole turn.
func (c *corner) clockwise(p, q r2.Vec) float64 {
	a, b := r2.Sub(p, c.leave), r2.Sub(q, c.leave)
	sweep := math.Atan2(r2.Cross(a, b), r2.Dot(a, b))
	if sweep >= 0 {
		sweep -= 2 * math.Pi
	}
	return sweep
}

// roundRelief runs from the vertex from, on the rim of the relief, clockwise to the point to,
// on the rim too. It sets the bulge of from and returns the n vertices between them.
func (c *corner) roundRelief(from *outline.Vertex, to r2.Vec) (way [4]outline.Vertex, n int) {
	if c.kind == Notched {
		return c.roundNotch(from.P, to)
	}
	// Two arcs, so that none turns through more than half a circle.
	sweep := c.clockwise(from.P, to)
	from.Bulge = math.Tan(sweep / 8)
	half := r2.Rotate(r2.Sub(from.P, c.leave), sweep/2, r2.Vec{})
	way[0] = outline.Vertex{P: r2.Add(c.leave, half), Bulge: from.Bulge}
	return way, 1
}

// roundNotch lists the corners of the notch that lie clockwise between two points of its rim.
func (c *corner) roundNotch(from, to r2.Vec) (way [4]outline.Vertex, n int) {
	a, b := c.across[0], c.across[1]
	whole := c.clockwise(from, to)
	for _, side := range [4][2]float64{{1, 1}, {1, -1}, {-1, -1}, {-1, 1}} {
		// a·d = side·radius, b·d = side·radius
		d := r2.Scale(c.radius/r2.Cross(a, b), r2.Vec{X: side[0]*b.Y - side[1]*a.Y, Y: side[1]*a.X - side[0]*b.X})
		v := r2.Add(c.leave, d)
		sweep := c.clockwise(from, v)
		if sweep <= whole || r2.Norm(r2.Sub(v, from)) < coincident || r2.Norm(r2.Sub(v, to)) < coincident {
			continue
		}
		at := n
		for at > 0 && c.clockwise(from, way[at-1].P) < sweep {
			way[at] = way[at-1]
			at--
		}
		way[at] = outline.Vertex{P: v}
		n++
	}
	return way, n
}

// onCircle is where the line from a point inside a circle to one outside crosses it.
func onCircle(in, out, center r2.Vec, radius float64) r2.Vec {
	d, m := r2.Sub(out, in), r2.Sub(in, center)
	a, b, c := r2.Norm2(d), r2.Dot(m, d), r2.Norm2(m)-radius*radius
	t := (-b + math.Sqrt(max(0, b*b-a*c))) / a
	return r2.Add(in, r2.Scale(t, d))
}
