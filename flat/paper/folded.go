package paper

import (
	"math"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/fold"
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
	hidden  []outline.Path // edges behind metal
	min, of r2.Vec         // lower left corner and size, mm
}

type face struct {
	loops  []outline.Path
	light  float64 // 0 to 1
	inside bool    // the marking face is seen
}

// fold3D draws the folded part from the upper left front.
func fold3D(b flat.Blank) (folded, error) {
	solid, err := b.Fold()
	if err != nil {
		return folded{}, err
	}
	m := model{b: b, solid: solid}
	m.build()
	v := lookFrom(r3.Vec{X: -0.52, Y: -0.72, Z: 0.62})
	out := m.see(v)
	return out, nil
}

// A model is the folded part as facets and edges.
type model struct {
	b      flat.Blank
	solid  fold.Solid
	facets []facet
	edges  []edge
}

// An edge is a chain on the blank and where the folding carries its points.
type edge struct {
	chain []r2.Vec
	place func(r2.Vec) r3.Vec
	light bool // a tangent line, not an edge
	rim   []r2.Vec
}

func (m *model) build() {
	for i := range m.b.Panels {
		m.panel(i)
	}
	for i := range m.b.Bends {
		m.zone(i)
	}
}

// twistStrips is into how many strips a panel is cut that is not flat.
const twistStrips = 16

func (m *model) panel(i int) {
	corners := m.b.Panels[i].Outline
	if len(corners) < 3 {
		return
	}
	place := func(p r2.Vec) r3.Vec { return m.solid.Panel(i, p, 0) }
	var holes [][]r2.Vec
	for _, h := range m.b.Holes {
		if h.Panel == i {
			holes = append(holes, drawing.Chords(outline.Circle(h.Center, h.Diameter/2), h.Diameter/400))
		}
	}
	for _, c := range m.b.Cutouts {
		if c.Panel == i {
			holes = append(holes, drawing.Chords(c.Path, 0.05))
		}
	}
	for _, h := range holes {
		m.edges = append(m.edges, edge{chain: append(h, h[0]), place: place})
	}
	for _, r := range m.b.Reliefs {
		disc := drawing.Chords(outline.Circle(r.Center, r.Diameter/2), r.Diameter/400)
		if bite := clipConvex(corners, disc); len(bite) > 2 {
			holes = append(holes, bite)
			m.edges = append(m.edges, edge{chain: append(disc, disc[0]), place: place, rim: corners})
		}
	}
	m.outline(i, corners, place)
	if up := m.b.Panels[i].Bend; up >= 0 && up < len(m.b.Bends) && len(m.b.Bends[up].Sections) > 0 {
		for _, strip := range strips(corners, m.b.Bends[up].Along, twistStrips) {
			m.add(place, strip)
		}
		return
	}
	m.add(place, append([][]r2.Vec{corners}, holes...)...)
}

func (m *model) add(place func(r2.Vec) r3.Vec, loops ...[]r2.Vec) {
	placed := make([][]r3.Vec, len(loops))
	for i, loop := range loops {
		placed[i] = make([]r3.Vec, len(loop))
		for k, p := range loop {
			placed[i][k] = place(p)
		}
	}
	if f, ok := newFacet(placed...); ok {
		m.facets = append(m.facets, f)
	}
}

// outline adds the sides of a panel that are not tangent lines.
func (m *model) outline(i int, corners []r2.Vec, place func(r2.Vec) r3.Vec) {
	for k, a := range corners {
		b := corners[(k+1)%len(corners)]
		mid := r2.Scale(0.5, r2.Add(a, b))
		bend := false
		for _, l := range m.b.Bends {
			if l.Parent == i && l.Near.Distance(mid) < 1e-3 || l.Child == i && l.Far.Distance(mid) < 1e-3 {
				bend = true
			}
		}
		if !bend {
			m.edges = append(m.edges, edge{chain: []r2.Vec{a, b}, place: place})
		}
	}
}

// zone adds the metal of a bend as strips between its tangent lines.
func (m *model) zone(i int) {
	l := m.b.Bends[i]
	place := func(p r2.Vec) r3.Vec { return m.solid.Zone(i, p, 0) }
	along := max(len(l.Near.Vertices), 2) - 1
	if along == 1 && len(l.Sections) > 0 {
		along = twistStrips
	}
	turned := max(l.Bend.Angle.Degrees(), l.EndBend.Angle.Degrees())
	across := int(math.Ceil(turned / 12))
	at := func(s, t float64) r2.Vec {
		a, b := pointAlong(l.Near, s), pointAlong(l.Far, s)
		return r2.Add(a, r2.Scale(t, r2.Sub(b, a)))
	}
	for k := range along {
		s0, s1 := float64(k)/float64(along), float64(k+1)/float64(along)
		for j := range across {
			t0, t1 := float64(j)/float64(across), float64(j+1)/float64(across)
			// The edge runs with its panel on the left: outward is to the right.
			m.add(place, []r2.Vec{at(s0, t0), at(s0, t1), at(s1, t1), at(s1, t0)})
		}
	}
	ends := func(s float64) {
		var chain []r2.Vec
		for j := range across + 1 {
			chain = append(chain, at(s, float64(j)/float64(across)))
		}
		m.edges = append(m.edges, edge{chain: chain, place: place})
	}
	ends(0)
	ends(1)
	for _, p := range []outline.Path{l.Near, l.Far} {
		m.edges = append(m.edges, edge{chain: drawing.Chords(p, 0.01), place: place, light: true})
	}
	rim := []r2.Vec{at(0, 0), at(0, 1), at(1, 1), at(1, 0)}
	for _, r := range m.b.Reliefs {
		disc := drawing.Chords(outline.Circle(r.Center, r.Diameter/2), r.Diameter/400)
		m.edges = append(m.edges, edge{chain: append(disc, disc[0]), place: place, rim: rim})
	}
}

// pointAlong is the point at a fraction of a chain of straight lines.
func pointAlong(p outline.Path, t float64) r2.Vec {
	n := p.NumSegments()
	if n == 0 {
		if len(p.Vertices) > 0 {
			return p.Vertices[0].P
		}
		return r2.Vec{}
	}
	k := min(int(t*float64(n)), n-1)
	return p.Segment(k).At(t*float64(n) - float64(k))
}

// clipConvex keeps the part of a polygon inside a convex counter-clockwise one.
func clipConvex(polygon, by []r2.Vec) []r2.Vec {
	for i, a := range by {
		d := r2.Sub(by[(i+1)%len(by)], a)
		polygon = clipHalf(polygon, a, r2.Vec{X: -d.Y, Y: d.X})
	}
	return polygon
}

// clipHalf keeps the part of a polygon on the side of a that n points to.
func clipHalf(polygon []r2.Vec, a, n r2.Vec) []r2.Vec {
	var kept []r2.Vec
	for i, p := range polygon {
		q := polygon[(i+1)%len(polygon)]
		dp, dq := r2.Dot(r2.Sub(p, a), n), r2.Dot(r2.Sub(q, a), n)
		if dp >= 0 {
			kept = append(kept, p)
		}
		if (dp >= 0) != (dq >= 0) {
			kept = append(kept, r2.Add(p, r2.Scale(dp/(dp-dq), r2.Sub(q, p))))
		}
	}
	return kept
}

// strips cuts a polygon into n strips of even width along a direction.
func strips(polygon []r2.Vec, along r2.Vec, n int) [][]r2.Vec {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range polygon {
		lo, hi = min(lo, r2.Dot(p, along)), max(hi, r2.Dot(p, along))
	}
	var all [][]r2.Vec
	for k := range n {
		from, to := lo+(hi-lo)*float64(k)/float64(n), lo+(hi-lo)*float64(k+1)/float64(n)
		strip := clipHalf(clipHalf(polygon, r2.Scale(from, along), along), r2.Scale(to, along), r2.Scale(-1, along))
		if len(strip) > 2 {
			all = append(all, strip)
		}
	}
	return all
}

// see projects the model and takes away what is hidden.
func (m *model) see(v view) folded {
	var out folded
	lamp := r3.Unit(r3.Vec{X: -0.35, Y: -0.45, Z: 0.85})
	lo, hi := r2.Vec{X: math.Inf(1), Y: math.Inf(1)}, r2.Vec{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, f := range backToFront(m.facets, v.toward) {
		facing := r3.Dot(f.normal, v.toward)
		n := f.normal
		if facing < 0 {
			n = r3.Scale(-1, n)
		}
		shown := face{light: 0.5 + 0.5*r3.Dot(n, lamp), inside: facing > 0}
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
	size := r2.Norm(out.of)
	screens := v.screens(m.facets)
	for _, e := range m.edges {
		m.trace(e, v, screens, size, &out)
	}
	return out
}

// trace walks along an edge and keeps the runs of it that are seen and hidden.
func (m *model) trace(e edge, v view, screens []screen, size float64, out *folded) {
	var run []r2.Vec
	state := 0
	flush := func() {
		if len(run) > 1 {
			p := outline.Polyline(run...)
			switch {
			case state == 1 && e.light:
				out.bends = append(out.bends, p)
			case state == 1:
				out.edges = append(out.edges, p)
			case state == 2 && !e.light:
				out.hidden = append(out.hidden, p)
			}
		}
		run = nil
	}
	for i := 0; i+1 < len(e.chain); i++ {
		a, b := e.chain[i], e.chain[i+1]
		n := math.Ceil(r2.Norm(r2.Sub(b, a)) / (size / 250))
		if !(n >= 1) {
			continue
		}
		for k := 0.0; k < n; k++ {
			at := func(t float64) r2.Vec { return r2.Add(a, r2.Scale(t/n, r2.Sub(b, a))) }
			now := m.state(e, at(k+0.5), v, screens, size)
			if now != state {
				flush()
				state = now
			}
			if len(run) == 0 {
				run = append(run, v.project(e.place(at(k))))
			}
			end := v.project(e.place(at(k + 1)))
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

// state of a point of an edge: 0 cut away, 1 seen, 2 hidden.
func (m *model) state(e edge, p r2.Vec, v view, screens []screen, size float64) int {
	if e.rim != nil {
		if outline.Polygon(e.rim...).Side(p) == outline.Outside {
			return 0
		}
	} else {
		for _, r := range m.b.Reliefs {
			if r2.Norm(r2.Sub(p, r.Center)) < r.Diameter/2-1e-6 {
				return 0
			}
		}
	}
	at := e.place(p)
	q := v.project(at)
	for i := range screens {
		if screens[i].hides(at, q, size*0.004) {
			return 2
		}
	}
	return 1
}
