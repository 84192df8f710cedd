package outline

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// corner returns the two segments that meet at vertex i.
func (p Path) corner(fn string, i int) (in, out Segment, err error) {
	n := len(p.Vertices)
	lo, hi := 0, n-1
	if !p.Closed {
		lo, hi = 1, n-2
	}
	if !(lo <= i && i <= hi) || n < 2 {
		return in, out, badArgument(fn, "vertex", float64(i), fmt.Sprintf("must be a corner: %d to %d", lo, hi))
	}
	var fs faults
	p.checkVertices(fn, &fs)
	return p.Segment((i + n - 1) % n), p.Segment(i), fs.err()
}

// Fillet returns the path with the corner at vertex i rounded by an arc of the radius
// (mm) tangent to both segments, lines or arcs. The radius must be positive and small
// enough for the arc to end on both. A vertex without a corner is left as it is. It returns a
// *[Fault] for any other radius, for a vertex that is an end or none, and for each fault of a
// vertex.
func (p Path) Fillet(i int, radius float64) (Path, error) {
	in, out, err := p.corner("Fillet", i)
	if err != nil {
		return Path{}, err
	}
	if !(0 < radius && radius <= maxCoordinate) {
		return Path{}, badArgument("Fillet", "radius", radius, "must be above 0 and finite")
	}
	_, t0 := in.ends()
	t1, _ := out.ends()
	turn := cross(t0, t1) / (length(t0) * length(t1))
	if math.Abs(turn) < 1e-12 && dot(t0, t1) > 0 {
		return p, nil
	}
	// The centre is the radius away from both, on the side to which the path turns.
	d := math.Copysign(radius, -turn)
	var a, b moved
	a.set(&in, d)
	b.set(&out, d)
	best, found := Meeting{}, false
	if !a.gone && !b.gone {
		m := meet(a.displaced(d), b.displaced(d), Coincidence*p.size())
		for _, q := range m.at[:m.n] {
			// The crossing nearest to the vertex along the first segment.
			if !found || q.T > best.T {
				best, found = q, true
			}
		}
	}
	if !found {
		return Path{}, &Fault{Func: "Fillet", Field: fmt.Sprintf("vertex %d: radius %g", i, radius), Index: i, Other: -1,
			At: in.B, Value: radius, Rule: "is too large: the arc must end on both segments that meet here"}
	}
	return p.withFillet(i, in, out, best, turn), nil
}

func (p Path) withFillet(i int, in, out Segment, m Meeting, turn float64) Path {
	from, to := in.At(m.T), out.At(m.U)
	// tan of a quarter of the turn between the two tangents.
	ta, tb := in.Tangent(m.T), out.Tangent(m.U)
	s, c := cross(ta, tb), dot(ta, tb)
	sweep := math.Atan2(s, c)
	if sweep*turn < 0 { // more than half a turn
		sweep += math.Copysign(2*math.Pi, turn)
	}
	n := len(p.Vertices)
	vs := append([]Vertex(nil), p.Vertices...)
	before := (i + n - 1) % n
	if in.Bulge != 0 {
		vs[before].Bulge = math.Tan(m.T * math.Atan(in.Bulge))
	}
	arc := Vertex{from, math.Tan(sweep / 4)}
	rest := Vertex{to, 0}
	if out.Bulge != 0 {
		rest.Bulge = math.Tan((1 - m.U) * math.Atan(out.Bulge))
	}
	put := []Vertex{arc, rest}
	tiny := Coincidence * p.size()
	if dist(to, out.B) <= tiny {
		put = put[:1] // the arc ends where the next segment does
	}
	if dist(from, in.A) <= tiny {
		vs[before] = arc // the segment before is used up
		put = put[1:]
	}
	done := make([]Vertex, 0, n+1)
	done = append(done, vs[:i]...)
	done = append(done, put...)
	return Path{Vertices: append(done, vs[i+1:]...), Closed: p.Closed}
}

// Relieve returns the path with a round relief of the radius (mm) about center
// cut out at vertex i: the path follows the circle clockwise from where it last enters
// it before the vertex to where it first leaves it after, so that material on its left
// is taken away. The circle must hold the vertex, a corner of the path, and the path must leave it
// on both sides. Where one of these is not so it returns a *[Fault], as for a radius that is not
// above 0 and finite and for each fault of a vertex.
func (p Path) Relieve(i int, center r2.Vec, radius float64) (Path, error) {
	if _, _, err := p.corner("Relieve", i); err != nil {
		return Path{}, err
	}
	if !(0 < radius && radius <= maxCoordinate && finite(center)) {
		return Path{}, badArgument("Relieve", "radius", radius, "must be above 0 and finite, as must its center")
	}
	if !(dist(center, p.Vertices[i].P) < radius) {
		return Path{}, &Fault{Func: "Relieve", Field: fmt.Sprintf("vertex %d", i), Index: i, Other: -1,
			At: p.Vertices[i].P, Value: radius, Rule: "must lie inside the relief"}
	}
	n := p.NumSegments()
	leave, outSeg, okOut := p.exit(i, center, radius)
	back := p.Reverse()
	enter, inSeg, okIn := back.exit(len(p.Vertices)-1-i, center, radius)
	if !okOut || !okIn {
		return Path{}, badArgument("Relieve", "radius", radius, "is too large: the path must leave the circle on both sides of the vertex")
	}
	// Segment k of the reversed path is segment n-2-k of this one (counted round).
	inSeg = ((len(p.Vertices)-2-inSeg)%n + n) % n
	from, to := enter.P, leave.P
	a, b := r2.Sub(from, center), r2.Sub(to, center)
	sweep := math.Atan2(cross(a, b), dot(a, b))
	if sweep >= 0 {
		sweep -= 2 * math.Pi
	}
	return p.detour(inSeg, outSeg, Vertex{from, math.Tan(sweep / 4)}, to), nil
}

// exit follows the path from vertex i to where it leaves the circle.
func (p Path) exit(i int, center r2.Vec, radius float64) (at Meeting, segment int, ok bool) {
	ring := Circle(center, radius)
	tol := Coincidence * max(p.size(), radius)
	n := p.NumSegments()
	for k := range n {
		j := i + k
		if !p.Closed && j >= n {
			break
		}
		s := p.Segment(j % n)
		best, found := Meeting{}, false
		for _, half := range [...]Segment{ring.Segment(0), ring.Segment(1)} {
			m := meet(s, half, tol)
			for _, q := range m.at[:m.n] {
				if !found || q.T < best.T {
					best, found = q, true
				}
			}
		}
		if found {
			return best, j % n, true
		}
	}
	return Meeting{}, 0, false
}

// detour replaces the path from a point on segment in to a point on segment out by an arc.
func (p Path) detour(in, out int, arc Vertex, to r2.Vec) Path {
	n := len(p.Vertices)
	part := func(i int, t0, t1 float64) float64 {
		return math.Tan((t1 - t0) * math.Atan(p.Vertices[i].Bulge))
	}
	_, tIn := p.Segment(in).Nearest(arc.P)
	_, tOut := p.Segment(out).Nearest(to)
	rest := Vertex{to, part(out, tOut, 1)}
	if !p.Closed {
		vs := append([]Vertex(nil), p.Vertices[:in+1]...)
		vs[in].Bulge = part(in, 0, tIn)
		vs = append(vs, arc, rest)
		return Path{Vertices: append(vs, p.Vertices[out+1:]...)}
	}
	vs := []Vertex{arc, rest}
	if in == out && tIn > tOut { // all other vertices lie in the circle
		vs[1].Bulge = part(out, tOut, tIn)
		return Path{Vertices: vs, Closed: true}
	}
	for j := (out + 1) % n; ; j = (j + 1) % n {
		v := p.Vertices[j]
		if j == in {
			v.Bulge = part(in, 0, tIn)
			vs = append(vs, v)
			break
		}
		vs = append(vs, v)
	}
	return Path{Vertices: vs, Closed: true}
}
