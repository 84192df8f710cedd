package former

import (
	"fmt"
	"math"
	"sort"

	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

const (
	// sharpest is the most a contour may turn at a vertex and still pass for smooth:
	// coordinates typed to a hundredth of a millimetre leave less, and 25 mm of flange
	// makes 0.04 mm of it.
	sharpest = 0.1 * measure.Degree
	// fitTolerance is how near fitted arcs keep to a curve that is no arc, mm.
	fitTolerance = 0.005
	// steady is how little a distance may vary along a stretch and still be
	// constant: rounding only.
	steady = 1e-9
)

// A contour is a smooth path measured by girth.
type contour struct {
	path     outline.Path
	segments []outline.Segment
	from     []float64 // girth at the start of each segment, and the whole at the end
	turned   []float64 // angle the tangent has turned there, radians
	bend     []float64 // curvature of each segment, 1/mm
}

func measureContour(p outline.Path) *contour {
	n := p.NumSegments()
	c := &contour{path: p, segments: make([]outline.Segment, n), from: make([]float64, n+1), turned: make([]float64, n+1), bend: make([]float64, n)}
	for i, s := range p.Segments() {
		l := s.Length()
		c.segments[i] = s
		c.from[i+1] = c.from[i] + l
		c.turned[i+1] = c.turned[i] + float64(s.Sweep())
		c.bend[i] = float64(s.Sweep()) / l
	}
	return c
}

func (c *contour) length() float64 { return c.from[len(c.segments)] }

// wrap brings a girth of a closed contour into [0, length).
func (c *contour) wrap(s float64) float64 {
	if !c.path.Closed {
		return s
	}
	l := c.length()
	if s -= math.Floor(s/l) * l; s >= l {
		return 0
	}
	return s
}

// segment returns the segment at a girth.
func (c *contour) segment(s float64) int {
	i := sort.SearchFloat64s(c.from, s)
	if i < len(c.from) && c.from[i] == s {
		i++
	}
	return min(max(i-1, 0), len(c.segments)-1)
}

// A frame is a place on a contour: the point, the direction of travel, and the
// direction away from the material.
type frame struct{ p, along, out r2.Vec }

func (f frame) at(along, out float64) r2.Vec {
	return r2.Add(f.p, r2.Add(r2.Scale(along, f.along), r2.Scale(out, f.out)))
}

func (c *contour) frame(s float64) frame {
	s = c.wrap(s)
	return c.frameOn(c.segment(s), s)
}

// frameOn is the frame at a girth on a segment that reaches it: at a vertex that is
// the one or the other.
func (c *contour) frameOn(i int, s float64) frame {
	t := (s - c.from[i]) / (c.from[i+1] - c.from[i])
	g := c.segments[i]
	along := g.Tangent(t)
	return frame{g.At(t), along, r2.Vec{X: along.Y, Y: -along.X}}
}

// turnedAt is the angle the tangent has turned from the start to a girth, which may
// lie beyond the ends of a closed contour. An open one runs on straight.
func (c *contour) turnedAt(s float64) float64 {
	n, l := len(c.segments), c.length()
	if !c.path.Closed {
		s = min(max(s, 0), l)
	}
	rounds := 0.0
	if c.path.Closed {
		rounds = math.Floor(s / l)
		s -= rounds * l
	}
	i := c.segment(s)
	return rounds*c.turned[n] + c.turned[i] + c.bend[i]*(s-c.from[i])
}

// meanBend is the curvature averaged from reach before a girth to reach after it.
func (c *contour) meanBend(s, reach float64) float64 {
	return (c.turnedAt(s+reach) - c.turnedAt(s-reach)) / (2 * reach)
}

// sliver is the longest a segment left over from rounding and offsetting can be, mm: whatever
// its curvature, no metal follows it.
const sliver = 0.05

// tightest returns the largest and the smallest curvature and where they begin, crumbs
// left out.
func (c *contour) tightest() (most, least float64, atMost, atLeast float64) {
	most, least = math.Inf(-1), math.Inf(1)
	for i, k := range c.bend {
		if c.crumb(i) {
			continue
		}
		if k > most {
			most, atMost = k, c.from[i]
		}
		if k < least {
			least, atLeast = k, c.from[i]
		}
	}
	return most, least, atMost, atLeast
}

// checkSmooth faults every vertex at which the contour has a corner.
func checkSmooth(field string, p outline.Path, f *faults) {
	n := p.NumSegments()
	for i := range n {
		if i == n-1 && !p.Closed {
			break
		}
		a, b := p.Segment(i).Tangent(1), p.Segment((i+1)%n).Tangent(0)
		turn := measure.Angle(math.Abs(math.Atan2(r2.Cross(a, b), r2.Dot(a, b))))
		if !(turn <= sharpest) {
			v := p.Segment(i).B
			f.add(fmt.Sprintf("%s vertex %d at (%.2f, %.2f)", field, (i+1)%n, v.X, v.Y), "turns "+turn.Text(2),
				"a curved flange cannot go round a corner: round the contour there, or correct a coordinate that should make it smooth")
		}
	}
}

// A profile is a distance from a contour, outward, that may change with the girth. It is
// smooth between its knots.
type profile struct {
	knots []float64
	at    func(s float64) float64
}

func constant(d float64) profile { return profile{at: func(float64) float64 { return d }} }

// A track is a path that keeps company with a contour: girth[i] is where on the
// contour vertex i belongs; the last entry closes the round.
type track struct {
	outline.Path
	girth []float64
}

// moved moves the contour outward by a profile. Where the distance is constant along a
// segment the result has the same segment, moved, an arc as an arc about the same
// centre; elsewhere arcs are fitted.
func (c *contour) moved(d profile) (track, error) {
	total := c.length()
	cuts := c.cuts(d.knots)
	vertices := make([]outline.Vertex, 0, len(cuts)+1)
	girth := make([]float64, 0, len(cuts)+1)
	var end r2.Vec
	push := func(v outline.Vertex, s float64) {
		if len(vertices) > 0 {
			v.P = r2.Scale(0.5, r2.Add(v.P, end))
		}
		vertices, girth = append(vertices, v), append(girth, s)
	}
	for k := 0; k+1 < len(cuts); k++ {
		a, b := cuts[k], cuts[k+1]
		i := c.segment((a + b) / 2)
		from, to := d.at(a), d.at(b)
		if c.crumb(i) && !(1+c.bend[i]*max(from, to) > 0) {
			continue // it would be turned inside out; its neighbours meet
		}
		spread := max(math.Abs(to-from), math.Abs(d.at((2*a+b)/3)-from), math.Abs(d.at((a+b)/2)-from))
		if spread <= steady {
			g := c.segments[i].Between((a-c.from[i])/(c.from[i+1]-c.from[i]), (b-c.from[i])/(c.from[i+1]-c.from[i]))
			push(outline.Vertex{P: c.frameOn(i, a).at(0, from), Bulge: g.Bulge}, a)
			end = c.frameOn(i, b).at(0, to)
			continue
		}
		fitted, err := outline.FitCurve(c.curve(i, a, b, d.at), a, b, fitTolerance)
		if err != nil {
			return track{}, err
		}
		run, whole := 0.0, fitted.Length()
		for j := range fitted.NumSegments() {
			v := fitted.Vertices[j]
			if j == 0 {
				push(v, a)
			} else {
				vertices, girth = append(vertices, v), append(girth, a+(b-a)*run/whole)
			}
			run += fitted.Segment(j).Length()
		}
		end = fitted.Vertices[len(fitted.Vertices)-1].P
	}
	if c.path.Closed {
		vertices[0].P = r2.Scale(0.5, r2.Add(vertices[0].P, end))
	} else {
		vertices = append(vertices, outline.Vertex{P: end})
	}
	return track{outline.Path{Vertices: vertices, Closed: c.path.Closed}, append(girth, total)}, nil
}

// crumb reports whether a segment is what rounding leaves of a vertex: short, and turning no more
// than a vertex may.
func (c *contour) crumb(i int) bool {
	return c.from[i+1]-c.from[i] < sliver && math.Abs(c.turned[i+1]-c.turned[i]) <= float64(sharpest)
}

// cuts are the girths at which a segment or the profile begins anew, from 0 to the
// whole length.
func (c *contour) cuts(knots []float64) []float64 {
	all := append([]float64(nil), c.from...)
	for _, s := range knots {
		if s = c.wrap(s); 0 < s && s < c.length() {
			all = append(all, s)
		}
	}
	sort.Float64s(all)
	// A sliver between a knot and a vertex is no stretch of its own.
	least := outline.Coincidence * c.length()
	kept := all[:1]
	for _, s := range all[1:] {
		if s-kept[len(kept)-1] > least {
			kept = append(kept, s)
		}
	}
	kept[len(kept)-1] = c.length()
	return kept
}

// curve is the profile along one segment with its derivative: the tangent grows with the
// curvature, d/ds (P + d·N) = (1 + κ·d)·T + d'·N.
func (c *contour) curve(i int, a, b float64, d func(float64) float64) outline.Curve {
	h := (b - a) * 1e-4
	return func(s float64) (r2.Vec, r2.Vec) {
		f := c.frameOn(i, s)
		lo, hi := max(a, s-h), min(b, s+h)
		grow := (d(hi) - d(lo)) / (hi - lo)
		x := d(s)
		return f.at(0, x), r2.Add(r2.Scale(1+c.bend[i]*x, f.along), r2.Scale(grow, f.out))
	}
}
