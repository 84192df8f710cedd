package outline

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/spatial/r2"
)

// capArea is the area between the chord and the arc, signed like the bulge:
// R²/2·(sweep - sin sweep) = L²/8b²·((1+b²)²·atan b - b(1-b²)). It takes the chord and the bulge, which
// need not be put together to a segment first.
func capArea(chord r2.Vec, b float64) float64 {
	if b == 0 {
		return 0
	}
	l2 := dot(chord, chord)
	if q := b * b; q < 0.0025 {
		// The two terms cancel for a shallow arc; their series is (8/3)b³(1 + b²/5 - b⁴/35
		// + b⁶/105 - b⁸/231 ...), and b < 0.05 leaves less than 1e-15 after this.
		return l2 * b / 3 * (1 + q*(1.0/5-q*(1.0/35-q*(1.0/105-q/231))))
	}
	k := 1 + b*b
	return l2 / (8 * b * b) * (k*k*math.Atan(b) - b*(1-b*b))
}

// Area returns the signed area of a closed path, mm²: positive when it runs
// counter-clockwise. An open path has none and gives 0.
func (p Path) Area() float64 {
	if !p.Closed || len(p.Vertices) == 0 {
		return 0
	}
	o := p.Vertices[0].P // measured from a vertex, so that a part far from the origin keeps its digits
	sum, caps := 0.0, 0.0
	last := &p.Vertices[len(p.Vertices)-1]
	x, y := last.P.X-o.X, last.P.Y-o.Y
	for i := range p.Vertices {
		v := &p.Vertices[i]
		vx, vy := v.P.X-o.X, v.P.Y-o.Y
		sum += float64(x*vy) - float64(y*vx)
		if last.Bulge != 0 {
			caps += capArea(r2.Vec{X: vx - x, Y: vy - y}, last.Bulge)
		}
		x, y, last = vx, vy, v
	}
	return sum/2 + caps
}

// Moments are the area integrals of a closed path, all signed like its area.
type Moments struct {
	Area     float64 // mm²
	Centroid r2.Vec  // mm
	// Second moments about axes through the centroid, mm⁴: XX = ∫y² dA, YY = ∫x² dA
	// and the product XY = ∫xy dA.
	XX, YY, XY float64
}

// Centroid returns the centre of area of a closed path and the centre of length
// of an open one.
func (p Path) Centroid() r2.Vec {
	if !p.Closed {
		return p.lineCentroid()
	}
	return p.Moments().Centroid
}

func (p Path) lineCentroid() r2.Vec {
	var sum r2.Vec
	total := 0.0
	for i := range p.NumSegments() {
		s := p.Segment(i)
		l := s.Length()
		// The centroid of an arc lies on its axis at R·sin(a)/a from the centre,
		// (R·sin(a)/a - R·cos(a)) beyond the chord's middle on the side of the arc.
		m := r2.Scale(0.5, r2.Add(s.A, s.B))
		if s.Bulge != 0 {
			a := 2 * math.Atan(s.Bulge)
			c := s.Chord()
			k := (1/a - 1/math.Tan(a)) / 2
			if math.Abs(a) < 1e-2 {
				k = a / 6 * (1 + a*a/15) // 1/a - cot a = a/3 + a³/45 + 2a⁵/945: the rest is below 1e-10 of this
			}
			m = r2.Add(m, r2.Vec{X: k * c.Y, Y: -k * c.X})
		}
		sum = r2.Add(sum, r2.Scale(l, m))
		total += l
	}
	if total == 0 {
		if len(p.Vertices) == 0 {
			return r2.Vec{}
		}
		return p.Vertices[0].P
	}
	return r2.Scale(1/total, sum)
}

// Moments integrates over the area of a closed path by Green's theorem. Straight
// sides are integrated exactly; arcs by ten-point Gauss-Legendre quadrature over
// eighths of a turn, which leaves only rounding. An open path gives zeros.
func (p Path) Moments() Moments {
	if !p.Closed || len(p.Vertices) == 0 {
		return Moments{}
	}
	const points = 10
	var at, weight [points]float64
	quad.Legendre{}.FixedLocations(at[:], weight[:], 0, 1)
	o := p.Vertices[0].P
	var g green
	for i := range p.Vertices {
		s := p.Segment(i)
		s.A, s.B = r2.Sub(s.A, o), r2.Sub(s.B, o)
		if s.Bulge == 0 {
			g.line(s)
			continue
		}
		parts := int(math.Ceil(math.Abs(float64(s.Sweep())) / (math.Pi / 4)))
		for k := range parts {
			sub := s.Between(float64(k)/float64(parts), float64(k+1)/float64(parts))
			l := sub.Length()
			for j := range at {
				g.add(sub.At(at[j]), r2.Scale(l*weight[j], sub.Tangent(at[j])))
			}
		}
	}
	m := Moments{Area: g.a, Centroid: o}
	if g.a == 0 {
		return m
	}
	c := r2.Vec{X: g.x / g.a, Y: g.y / g.a}
	m.Centroid = r2.Add(o, c)
	m.XX = g.yy - float64(g.a*c.Y*c.Y)
	m.YY = g.xx - float64(g.a*c.X*c.X)
	m.XY = g.xy - float64(g.a*c.X*c.Y)
	return m
}

// green sums the boundary forms of the integrals of 1, x, y, x², y² and xy.
type green struct{ a, x, y, xx, yy, xy float64 }

// add takes a boundary point and the step made there.
func (g *green) add(p, d r2.Vec) {
	w := cross(p, d)
	g.a += w / 2
	g.x += p.X * w / 3
	g.y += p.Y * w / 3
	g.xx += p.X * p.X * w / 4
	g.yy += p.Y * p.Y * w / 4
	g.xy += p.X * p.Y * w / 4
}

// line integrates over the triangle of the origin and a straight side.
func (g *green) line(s Segment) {
	a, b, w := s.A, s.B, cross(s.A, s.B)
	g.a += w / 2
	g.x += (a.X + b.X) * w / 6
	g.y += (a.Y + b.Y) * w / 6
	g.xx += (a.X*a.X + a.X*b.X + b.X*b.X) * w / 12
	g.yy += (a.Y*a.Y + a.Y*b.Y + b.Y*b.Y) * w / 12
	g.xy += (2*a.X*a.Y + a.X*b.Y + b.X*a.Y + 2*b.X*b.Y) * w / 24
}
