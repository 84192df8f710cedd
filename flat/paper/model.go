package paper

import (
	"math"
	"slices"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/fold"
	"github.com/hangarflat/hangarflat/flat/outline"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// A model is the folded sheet, both its faces and its cut edges, as facets whose
// normals point out of the metal, and the edges that are drawn.
type model struct {
	b      flat.Blank
	solid  fold.Solid
	view   view
	rim    []r2.Vec // the blank's outline, in chords
	facets []facet
	edges  []edge
}

// A line is what kind of edge is drawn.
type line uint8

const (
	markingRim line = iota // where the marking face ends
	farRim                 // where the far face does
	arris                  // from one face to the other, at a corner of the outline
	horizon                // where a bend turns out of sight
	tangent                // where a bend begins
)

// An edge is a chain in space. Flat are its points on the blank where parts of it may
// have been cut away, as reliefs take the ends of tangent lines.
type edge struct {
	kind   line
	points []r3.Vec
	flat   []r2.Vec
}

// A piece is a panel or the metal of a bend.
type piece struct {
	bend bool
	i    int
}

func newModel(b flat.Blank, solid fold.Solid, v view) *model {
	m := &model{b: b, solid: solid, view: v, rim: chords(b.Outline)}
	for i := range b.Panels {
		m.panel(i)
	}
	for i := range b.Bends {
		m.curl(i)
	}
	m.wall(m.rim)
	for _, h := range m.openings(-1) {
		m.wall(h)
	}
	for _, h := range b.Holes {
		if h.Purpose == flat.FlangedPilot {
			m.lip(h)
		}
	}
	return m
}

// chords breaks arcs finely enough for a picture.
func chords(p outline.Path) []r2.Vec {
	size := p.Bounds().Size()
	return drawing.Chords(p, min(0.05, 0.01*max(size.X, size.Y)))
}

// openings are the holes and cut-outs of a panel, clockwise: where a hole has a lip, as far as
// that starts to bend. Where panel is -1 they are those of all that end in a cut edge of their own.
func (m *model) openings(panel int) [][]r2.Vec {
	var all [][]r2.Vec
	for _, h := range m.b.Holes {
		switch lipped := h.Purpose == flat.FlangedPilot; {
		case panel >= 0 && h.Panel != panel, panel < 0 && lipped:
		case lipped:
			all = append(all, ring(h.Center, h.Keep))
		default:
			all = append(all, chords(outline.Circle(h.Center, h.Diameter/2).Reverse()))
		}
	}
	for _, c := range m.b.Cutouts {
		if panel < 0 || c.Panel == panel {
			all = append(all, chords(c.Path))
		}
	}
	return all
}

// place folds a point of a piece, z above the marking face.
func (m *model) place(at piece, p r2.Vec, z float64) r3.Vec {
	if at.bend {
		return m.solid.Zone(at.i, p, z)
	}
	return m.solid.Panel(at.i, p, z)
}

// faces adds a piece of the sheet, bounded by the first of its loops, by its marking
// face and its far face.
func (m *model) faces(at piece, loops ...[]r2.Vec) {
	t := m.solid.Flat.Thickness
	marking, far := make([][]r3.Vec, len(loops)), make([][]r3.Vec, len(loops))
	for i, loop := range loops {
		n := len(loop)
		marking[i], far[i] = make([]r3.Vec, n), make([]r3.Vec, n)
		for k, p := range loop {
			marking[i][k], far[i][n-1-k] = m.place(at, p, 0), m.place(at, p, -t)
		}
	}
	m.add(markingFace, marking...)
	m.add(farFace, far...)
}

func (m *model) add(of surface, loops ...[]r3.Vec) {
	if f, ok := newFacet(loops...); ok {
		f.of = of
		m.facets = append(m.facets, f)
	}
}

// twistStrips is into how many strips a panel is cut that is not flat.
const twistStrips = 16

func (m *model) panel(i int) {
	corners := m.b.Panels[i].Outline
	if len(corners) < 3 {
		return
	}
	loops := append([][]r2.Vec{m.metal(corners)}, m.openings(i)...)
	if m.twisted(piece{i: i}) {
		for _, strip := range strips(loops[0], m.b.Bends[m.b.Panels[i].Bend].Along, twistStrips) {
			m.faces(piece{i: i}, strip)
		}
		return
	}
	m.faces(piece{i: i}, loops...)
}

// twisted reports whether a piece is not rolled or flat: its bevel changes.
func (m *model) twisted(at piece) bool {
	up := at.i
	if !at.bend {
		up = m.b.Panels[at.i].Bend
	}
	return up >= 0 && up < len(m.b.Bends) && len(m.b.Bends[up].Sections) > 0
}

// metal is what the cut leaves of a piece. A piece that is not convex keeps its
// corners, which the cut takes off.
func (m *model) metal(corners []r2.Vec) []r2.Vec {
	if !convex(corners) {
		return corners
	}
	return clipConvex(m.rim, corners)
}

func convex(corners []r2.Vec) bool {
	for i, a := range corners {
		b, c := corners[(i+1)%len(corners)], corners[(i+2)%len(corners)]
		if r2.Cross(r2.Sub(b, a), r2.Sub(c, b)) < -1e-9 {
			return false
		}
	}
	return true
}

// A grid lays lines along a bend and across it.
type grid struct {
	l             flat.BendLine
	along, across int
}

func (m *model) grid(i int) grid {
	l := m.b.Bends[i]
	along := max(len(l.Near.Vertices), 2) - 1
	if along == 1 && len(l.Sections) > 0 {
		along = twistStrips
	}
	turned := max(l.Bend.Angle.Degrees(), l.EndBend.Angle.Degrees())
	return grid{l, along, max(1, int(math.Ceil(turned/10)))}
}

// at is the place a fraction s along the bend and t across it.
func (g grid) at(s, t float64) r2.Vec {
	a, b := pointAlong(g.l.Near, s), pointAlong(g.l.Far, s)
	return r2.Add(a, r2.Scale(t, r2.Sub(b, a)))
}

// row is the line along the bend after k of the steps across.
func (g grid) row(k int) []r2.Vec {
	line := make([]r2.Vec, g.along+1)
	for i := range line {
		line[i] = g.at(float64(i)/float64(g.along), float64(k)/float64(g.across))
	}
	return line
}

// curl adds the metal of a bend as strips between its tangent lines, and the lines
// along it that are drawn.
func (m *model) curl(i int) {
	g := m.grid(i)
	at := piece{bend: true, i: i}
	for k := range g.across {
		lower, upper := g.row(k), g.row(k+1)
		for j := range g.along {
			// The edge runs with its panel on the left: outward is to the right.
			cell := []r2.Vec{lower[j], upper[j], upper[j+1], lower[j+1]}
			if left := clipConvex(m.rim, cell); len(left) > 2 {
				m.faces(at, left)
			}
		}
	}
	// Whether each step shows its marking face; before the first lies the parent
	// panel, after the last the child.
	shows := []bool{m.shows(piece{i: g.l.Parent}, g.at(0.5, 0))}
	for k := range g.across {
		shows = append(shows, m.shows(at, g.at(0.5, (float64(k)+0.5)/float64(g.across))))
	}
	shows = append(shows, m.shows(piece{i: g.l.Child}, g.at(0.5, 1)))
	for k := range g.across + 1 {
		kind := tangent
		if shows[k] != shows[k+1] {
			kind = horizon
		} else if k > 0 && k < g.across {
			continue
		}
		for _, z := range []float64{0, -m.solid.Flat.Thickness} {
			e := edge{kind: kind, flat: g.row(k)}
			for _, p := range e.flat {
				e.points = append(e.points, m.place(at, p, z))
			}
			m.edges = append(m.edges, e)
		}
	}
}

// shows reports whether the marking face is turned to the viewer at a point.
func (m *model) shows(at piece, p r2.Vec) bool {
	const step = 0.01 // mm, small beside any bend
	o := m.place(at, p, 0)
	x, y := m.place(at, r2.Add(p, r2.Vec{X: step}), 0), m.place(at, r2.Add(p, r2.Vec{Y: step}), 0)
	return r3.Dot(r3.Cross(r3.Sub(x, o), r3.Sub(y, o)), m.view.toward) > 0
}

// wall adds the cut edge of the sheet round a closed loop, metal on the left.
func (m *model) wall(loop []r2.Vec) {
	t := m.solid.Flat.Thickness
	marking, far := edge{kind: markingRim}, edge{kind: farRim}
	for i, a := range loop {
		b := loop[(i+1)%len(loop)]
		cuts := m.cuts(a, b)
		for k := 0; k+1 < len(cuts); k++ {
			p, q := cuts[k], cuts[k+1]
			at := m.locate(r2.Scale(0.5, r2.Add(p, q)))
			p0, p1, q0, q1 := m.place(at, p, 0), m.place(at, p, -t), m.place(at, q, 0), m.place(at, q, -t)
			m.add(cutFace, []r3.Vec{p0, p1, q1, q0})
			if k == 0 && corner(loop[(i+len(loop)-1)%len(loop)], a, b) {
				m.edges = append(m.edges, edge{kind: arris, points: []r3.Vec{p0, p1}})
			}
			if len(marking.points) == 0 {
				marking.points, far.points = append(marking.points, p0), append(far.points, p1)
			}
			marking.points, far.points = append(marking.points, q0), append(far.points, q1)
		}
	}
	m.edges = append(m.edges, marking, far)
}

// corner reports whether an outline turns by more than the chords of an arc do.
func corner(a, b, c r2.Vec) bool {
	u, v := r2.Sub(b, a), r2.Sub(c, b)
	return math.Abs(math.Atan2(r2.Cross(u, v), r2.Dot(u, v))) > 35*math.Pi/180
}

// cuts parts a chord of the outline where it crosses from piece to piece, and from
// step to step of a bend.
func (m *model) cuts(a, b r2.Vec) []r2.Vec {
	along := []float64{0, 1}
	d := r2.Sub(b, a)
	for i := range m.b.Bends {
		g := m.grid(i)
		for k := range g.across + 1 {
			row := g.row(k)
			for j := 0; j+1 < len(row); j++ {
				e := r2.Sub(row[j+1], row[j])
				det := r2.Cross(d, e)
				if math.Abs(det) < 1e-12 {
					continue
				}
				off := r2.Sub(row[j], a)
				s, u := r2.Cross(off, e)/det, r2.Cross(off, d)/det
				if s > 1e-9 && s < 1-1e-9 && u > -1e-6 && u < 1+1e-6 {
					along = append(along, s)
				}
			}
		}
	}
	slices.Sort(along)
	var all []r2.Vec
	for k, s := range along {
		if k > 0 && s-along[k-1] < 1e-9 {
			continue
		}
		p := r2.Add(a, r2.Scale(s, d))
		if k > 0 && m.twisted(m.locate(r2.Scale(0.5, r2.Add(all[len(all)-1], p)))) {
			from := all[len(all)-1]
			for j := 1; j < twistStrips; j++ {
				all = append(all, r2.Add(from, r2.Scale(float64(j)/twistStrips, r2.Sub(p, from))))
			}
		}
		all = append(all, p)
	}
	return all
}

// locate finds the piece a point of the blank belongs to, or the nearest: the end of a bend
// or of a panel lies on the cut line, which rounding leaves to either side of it.
func (m *model) locate(p r2.Vec) piece {
	best, near := piece{}, math.Inf(1)
	nearer := func(at piece, path outline.Path) {
		if near == 0 {
			return
		}
		d := 0.0
		if path.Side(p) == outline.Outside {
			d = path.Distance(p)
		}
		if d < near {
			best, near = at, d
		}
	}
	for i, l := range m.b.Bends {
		nearer(piece{bend: true, i: i}, zonePath(l))
	}
	for i, panel := range m.b.Panels {
		if len(panel.Outline) >= 3 {
			nearer(piece{i: i}, outline.Polygon(panel.Outline...))
		}
	}
	return best
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
