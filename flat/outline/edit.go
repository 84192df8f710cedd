package outline

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Locate returns the segment and the fraction of its length at the distance s along the
// path, mm from its first vertex. s must lie between 0 and the length. It returns a *[Fault]
// for any other, and for a path without segments.
func (p Path) Locate(s float64) (segment int, t float64, err error) {
	total := p.Length()
	if !(0 <= s && s <= total) || p.NumSegments() == 0 {
		return 0, 0, badArgument("Locate", "distance along", s, "must be from 0 to the length of the path")
	}
	for i := range p.NumSegments() {
		l := p.Segment(i).Length()
		if s <= l {
			return i, clamp01(s / l), nil
		}
		s -= l
	}
	return p.NumSegments() - 1, 1, nil
}

// Trim returns the open path from the distance s0 to the distance s1 along p, mm. On a
// closed path s1 may be less than s0: the part then runs over the first vertex. It returns a
// *[Fault] for a distance off the path, and for a part of no length or, on an open path, one that
// runs backward.
func (p Path) Trim(s0, s1 float64) (Path, error) {
	i, t, err := p.Locate(s0)
	if err != nil {
		return Path{}, err
	}
	k, u, err := p.Locate(s1)
	if err != nil {
		return Path{}, err
	}
	if s0 == s1 || s1 < s0 && !p.Closed {
		return Path{}, badArgument("Trim", "end", s1, "must lie past the start")
	}
	n := p.NumSegments()
	if s1 < s0 {
		k += n
	}
	var vs []Vertex
	for j := i; j <= k; j++ {
		seg := p.Segment(j % n)
		from, to := 0.0, 1.0
		if j == i {
			from = t
		}
		if j == k {
			to = u
		}
		if to <= from {
			continue
		}
		if from != 0 || to != 1 {
			seg = seg.Between(from, to)
		}
		vs = append(vs, Vertex{seg.A, seg.Bulge})
		if j == k || j == k-1 && u == 0 {
			vs = append(vs, Vertex{P: seg.B})
			break
		}
	}
	if len(vs) < 2 {
		return Path{}, badArgument("Trim", "end", s1, "must lie past the start")
	}
	return Path{Vertices: vs}, nil
}

// Insert returns the path with a vertex added at the fraction t of segment i, which
// changes nothing but the count. t must lie between 0 and 1, both excluded. It returns a *[Fault]
// for any other fraction and for a segment the path has not.
func (p Path) Insert(i int, t float64) (Path, error) {
	if i < 0 || i >= p.NumSegments() {
		return Path{}, badArgument("Insert", "segment", float64(i), "must be one of the path's")
	}
	if !(0 < t && t < 1) {
		return Path{}, badArgument("Insert", "fraction", t, "must be above 0 and below 1")
	}
	first, second := p.Segment(i).Split(t)
	vs := make([]Vertex, 0, len(p.Vertices)+1)
	vs = append(vs, p.Vertices[:i+1]...)
	vs[i].Bulge = first.Bulge
	vs = append(vs, Vertex{second.A, second.Bulge})
	vs = append(vs, p.Vertices[i+1:]...)
	return Path{Vertices: vs, Closed: p.Closed}, nil
}

// Simplify returns the path with runs of segments that one line or one arc stands for
// within tol (mm) put together, segments shorter than tol left out, and arcs that lie within tol
// of their chord made lines. The ends of an open
// path stay. No vertex, and no middle of a segment, ends up farther than tol from
// the result. tol must be positive. It returns a *[Fault] for one that is not, or not finite,
// and for each fault of a vertex.
func (p Path) Simplify(tol float64) (Path, error) {
	if !(0 < tol && tol <= maxCoordinate) {
		return Path{}, badArgument("Simplify", "tolerance", tol, "must be above 0 and finite")
	}
	var fs faults
	p.checkVertices("Simplify", &fs)
	if err := fs.err(); err != nil {
		return Path{}, err
	}
	return p.merge(tol, true), nil
}

// mergeLines joins only what is in line or on one circle but for the tolerance.
func (p Path) mergeLines(tol float64) Path { return p.merge(tol, false) }

// merge walks the segments and lets each group reach as far as one segment can stand for.
func (p Path) merge(tol float64, short bool) Path {
	n := p.NumSegments()
	if n < 2 {
		return p
	}
	q := p
	if p.Closed {
		q = p.StartAt(p.sharpest())
	}
	var vs []Vertex
	for i := 0; i < n; {
		one, k := q.Segment(i), i+1
		// Reach doubles, then halves, so that long runs cost little.
		for step := 1; step > 0; {
			if m := k + step; m <= n && !(q.Closed && m == n && i == 0) {
				if s, ok := q.standIn(i, m, tol, short); ok {
					one, k, step = s, m, 2*step
					continue
				}
			}
			step /= 2
		}
		if short && one.Bulge != 0 {
			// An arc that a line can stand for as well is a line that lost its last digits.
			if line := (Segment{A: one.A, B: one.B}); q.follows(line, i, k, tol) {
				one = line
			}
		}
		vs = append(vs, Vertex{one.A, one.Bulge})
		i = k
	}
	out := Path{Vertices: vs, Closed: p.Closed}
	if !p.Closed {
		out.Vertices = append(out.Vertices, Vertex{P: p.Vertices[len(p.Vertices)-1].P})
	}
	if len(out.Vertices) < out.leastSegments() {
		return p
	}
	return out
}

// sharpest returns the vertex of a closed path with the largest turn, at which a run is
// least likely to go on.
func (p Path) sharpest() int {
	best, at := math.Inf(1), 0
	for i := range p.Vertices {
		prev := p.Segment((i + len(p.Vertices) - 1) % len(p.Vertices))
		_, in := prev.ends()
		out, _ := p.Segment(i).ends()
		if c := dot(in, out) / (length(in) * length(out)); c < best {
			best, at = c, i
		}
	}
	return at
}

// standIn returns the segment that may replace segments i to k-1.
func (p Path) standIn(i, k int, tol float64, short bool) (Segment, bool) {
	first, last := p.Segment(i), p.Segment(k-1)
	one := Segment{A: first.A, B: last.B}
	if one.A == one.B {
		return one, false
	}
	turn, arcs := 0.0, first.Bulge != 0
	for j := i; j < k; j++ {
		turn += 4 * math.Atan(p.Segment(j).Bulge)
		arcs = arcs || p.Vertices[j].Bulge != 0
	}
	if arcs {
		if math.Abs(turn) > 1.9*math.Pi {
			return one, false
		}
		one.Bulge = math.Tan(turn / 4)
	}
	if !short {
		// Only what is truly one line or circle: each piece goes forward and keeps the curvature.
		for j := i; j < k; j++ {
			if s := p.Segment(j); s.Length() > tol && (s.Bulge != 0) != arcs {
				return one, false
			}
		}
	}
	return one, p.follows(one, i, k, tol)
}

// follows tells that segments i to k-1 run along one, within tol of it.
func (p Path) follows(one Segment, i, k int, tol float64) bool {
	at := -1e-12
	for j := i; j < k; j++ {
		s := p.Segment(j)
		for _, f := range [...]float64{0.25, 0.5, 0.75, 1} {
			x := s.At(f)
			if !(one.Distance(x) <= tol) {
				return false
			}
			_, t := one.Nearest(x)
			if t < at && one.Length()*(at-t) > tol {
				return false // it turns back
			}
			at = max(at, t)
		}
	}
	return true
}

// Join puts loose pieces together, end to end where their ends lie no farther apart than
// gap (mm), nearest first, turning pieces round where need be. Chains whose ends meet
// are closed. Closed pieces pass through. What joins nothing is returned open, so that
// the caller can show it.
//
// Where a gap is closed both ends move to its middle.
//
// Errors: a *[Fault] for a gap that is below 0 or not finite, for each piece without a segment,
// and for each fault of a vertex.
func Join(pieces []Path, gap float64) ([]Path, error) {
	var fs faults
	if !(0 <= gap && gap <= maxCoordinate) {
		fs.add(badArgument("Join", "gap", gap, "must be 0 or more and finite"))
	}
	for i, p := range pieces {
		var one faults
		p.checkVertices("Join", &one)
		if p.NumSegments() == 0 {
			one.add(refused("Join", "piece", "has no segment"))
		}
		for _, e := range one.list {
			fs.add(nameLoop(e, i, len(pieces)+1))
		}
	}
	if err := fs.err(); err != nil {
		return nil, err
	}
	return newJoiner(pieces, gap).join(), nil
}

func (g *region) bounds() r2.Box {
	b := g.paths[0].Bounds()
	for _, p := range g.paths[1:] {
		b = joinBoxes(b, p.Bounds())
	}
	return b
}
