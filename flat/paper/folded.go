package paper

import (
	"math"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// A folded part as it is seen: faces from back to front, then its edges, cut
// where something stands before them.
type folded struct {
	faces   []face
	edges   []outline.Path // seen
	bends   []outline.Path // tangent lines, seen
	hidden  []outline.Path // edges of the marking face behind other metal
	min, of r2.Vec         // lower left corner and size, mm
}

type face struct {
	loops []outline.Path
	light float64 // 0 to 1
	of    surface
}

// fold3D draws the folded part from the upper left front.
func fold3D(b flat.Blank) (folded, error) {
	solid, err := b.Fold()
	if err != nil {
		return folded{}, err
	}
	return newModel(b, solid, lookFrom(r3.Vec{X: -0.52, Y: -0.72, Z: 0.62})).see(), nil
}

// see projects the model and takes away what is hidden. Facets that are turned away
// lie behind others and are left out.
func (m *model) see() folded {
	var out folded
	v := m.view
	lamp := r3.Unit(r3.Vec{X: -0.35, Y: -0.45, Z: 0.85})
	lo, hi := r2.Vec{X: math.Inf(1), Y: math.Inf(1)}, r2.Vec{X: math.Inf(-1), Y: math.Inf(-1)}
	var turned []facet
	for _, f := range m.facets {
		if r3.Dot(f.normal, v.toward) > 1e-6 {
			turned = append(turned, f)
		}
	}
	for _, f := range backToFront(turned, v.toward) {
		shown := face{light: 0.5 + 0.5*r3.Dot(f.normal, lamp), of: f.of}
		for _, loop := range f.loops {
			flat := make([]r2.Vec, len(loop))
			for i, p := range loop {
				flat[i] = v.project(p)
				lo = r2.Vec{X: min(lo.X, flat[i].X), Y: min(lo.Y, flat[i].Y)}
				hi = r2.Vec{X: max(hi.X, flat[i].X), Y: max(hi.Y, flat[i].Y)}
			}
			shown.loops = append(shown.loops, outline.Polygon(flat...))
		}
		out.faces = append(out.faces, shown)
	}
	out.min, out.of = lo, r2.Sub(hi, lo)
	screens := v.screens(turned)
	for _, e := range m.edges {
		m.trace(e, screens, r2.Norm(out.of), &out)
	}
	return out
}

// A sight is how a point of an edge is seen.
type sight uint8

const (
	gone    sight = iota // cut away, or behind the thickness of its own sheet
	seen                 // nothing stands before it
	covered              // behind other metal
)

// trace walks along an edge and keeps the runs of it that are seen and covered.
func (m *model) trace(e edge, screens []screen, size float64, out *folded) {
	var run []r2.Vec
	state := gone
	flush := func() {
		if len(run) > 1 {
			p := outline.Polyline(run...)
			switch {
			case state == seen && e.kind == tangent:
				out.bends = append(out.bends, p)
			case state == seen:
				out.edges = append(out.edges, p)
			case state == covered && e.kind == markingRim:
				out.hidden = append(out.hidden, p)
			}
		}
		run = nil
	}
	for i := 0; i+1 < len(e.points); i++ {
		a, b := e.points[i], e.points[i+1]
		from, to := m.view.project(a), m.view.project(b)
		n := max(1, math.Ceil(r2.Norm(r2.Sub(to, from))/(size/250)))
		if !(n < 1e6) {
			continue
		}
		for k := 0.0; k < n; k++ {
			now := m.sight(e, i, (k+0.5)/n, screens)
			if now != state {
				flush()
				state = now
			}
			if len(run) == 0 {
				run = append(run, r2.Add(from, r2.Scale(k/n, r2.Sub(to, from))))
			}
			end := r2.Add(from, r2.Scale((k+1)/n, r2.Sub(to, from)))
			if len(run) > 1 && straight(run[len(run)-2], run[len(run)-1], end, size) {
				run[len(run)-1] = end
			} else {
				run = append(run, end)
			}
		}
	}
	flush()
}

func straight(a, b, c r2.Vec, size float64) bool {
	return math.Abs(r2.Cross(r2.Sub(b, a), r2.Sub(c, b))) <= 1e-9*size*size && r2.Dot(r2.Sub(b, a), r2.Sub(c, b)) > 0
}

// sight of the point a fraction t along the i-th part of an edge.
func (m *model) sight(e edge, i int, t float64, screens []screen) sight {
	if e.flat != nil {
		p := r2.Add(e.flat[i], r2.Scale(t, r2.Sub(e.flat[i+1], e.flat[i])))
		if !within(p, m.rim) {
			return gone
		}
	}
	at := r3.Add(e.points[i], r3.Scale(t, r3.Sub(e.points[i+1], e.points[i])))
	q := m.view.project(at)
	thickness := m.solid.Flat.Thickness
	found := seen
	for k := range screens {
		// Facets that meet at the edge, and the chords of a bend, lie a hair off it.
		switch deep := screens[k].before(at, q); {
		case deep > 1.5*thickness:
			return covered
		case deep > 0.15*thickness:
			found = gone
		}
	}
	return found
}
