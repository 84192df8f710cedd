package brake

import (
	"math"

	"github.com/hangarflat/hangarflat/flat/fold"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// A made is the set of bends that are made already.
type made uint32

func (m made) has(bend int) bool { return m>>bend&1 == 1 }
func (m made) with(bend int) made {
	return m | 1<<bend
}

// A seat is how a panel lies in the brake for one bend: a point of space lies x along
// the bend, y out of the panel across its tangent line and z over its underside.
type seat struct {
	panel       int
	origin      r3.Vec // on the tangent line, on the underside
	x, y, z     r3.Vec
	first, last float64 // the tangent line in x
}

// A profile is bent metal seen along the bend: one convex piece of a panel or a curl.
type profile struct {
	piece fold.Piece
	whole convex // all of it
	bar   convex // what lies in the stretch that the nose bar covers; none is empty
	over  bool   // the first bend between it and the seat turns it up
}

// A stock is the sheet with some of its bends made and the others flat.
type stock struct {
	solid fold.Solid
	made  made
}

// part folds the made bends and leaves the others flat: a bend of next to no angle
// and no width moves nothing.
func part(f fold.Flat, m made) (stock, error) {
	const next = 1e-9
	bends := make([]fold.Bend, len(f.Bends))
	for i, b := range f.Bends {
		if !m.has(i) {
			b.Angle, b.Width, b.Sections = next*b.Angle, next*b.Width, nil
		}
		bends[i] = b
	}
	f.Bends = bends
	s, err := fold.Fold(f)
	return stock{s, m}, err
}

// seat lays a panel beside bend i in the brake, the marking face up or down. The flat
// is that of the finished part.
func (s *stock) seat(f *fold.Flat, i int, byParent, faceUp bool) seat {
	b := &f.Bends[i]
	along := r2.Unit(r2.Sub(b.B, b.A))
	out := r2.Vec{X: along.Y, Y: -along.X}
	t := seat{panel: b.Parent, last: r2.Norm(r2.Sub(b.B, b.A))}
	a := b.A
	if !byParent {
		t.panel = b.Child
		a = r2.Add(a, r2.Scale(b.Width, out))
		out = r2.Scale(-1, out)
		if len(b.Zone) == 4 {
			t.first, t.last = r2.Dot(r2.Sub(b.Zone[1], a), along), r2.Dot(r2.Sub(b.Zone[2], a), along)
		}
	}
	frame := s.solid.Frames[t.panel]
	t.x, t.y, t.z = frame.Direction(along), frame.Direction(out), frame.Z
	t.origin = frame.Point(a, -f.Thickness)
	if !faceUp {
		t.z = r3.Scale(-1, t.z)
		t.origin = frame.Point(a, 0)
	}
	return t
}

// turnedAway looks at the panel from the other side of its tangent line: y from the
// line onto the panel.
func (t seat) turnedAway() seat {
	t.y = r3.Scale(-1, t.y)
	return t
}

func (t *seat) local(p r3.Vec) r3.Vec {
	d := r3.Sub(p, t.origin)
	return r3.Vec{X: r3.Dot(d, t.x), Y: r3.Dot(d, t.y), Z: r3.Dot(d, t.z)}
}

// A side is the metal on one side of the bend that is being made.
type side struct {
	bent     []profile
	low, top float64 // least and largest y of the metal that lies flat with the seat
}

// side gathers the metal that hangs together with a seat, bend i not counted: bent
// metal in profile, and how far the flat goes. The nose bar covers x from to to.
func (s *stock) side(t seat, i int, faceUp bool, from, to float64) side {
	found := side{low: math.Inf(1), top: math.Inf(-1)}
	seen := make([]bool, len(s.solid.Flat.Panels))
	// bentBy is the turn of the first made bend on the way: 0 none, +1 up, -1 down.
	var walk func(panel int, bentBy int)
	walk = func(panel, bentBy int) {
		seen[panel] = true
		s.gather(&found, &t, fold.Piece{Index: panel}, bentBy, from, to)
		for k := range s.solid.Flat.Bends {
			b := &s.solid.Flat.Bends[k]
			next := b.Child
			if next == panel {
				next = b.Parent
			} else if b.Parent != panel {
				continue
			}
			if k == i || seen[next] {
				continue
			}
			turn := bentBy
			if turn == 0 && s.made.has(k) {
				turn = 1
				if b.Up != faceUp {
					turn = -1
				}
			}
			s.gather(&found, &t, fold.Piece{Index: k, Bend: true}, turn, from, to)
			walk(next, turn)
		}
	}
	walk(t.panel, 0)
	return found
}

// gather adds a panel or the metal of a bend.
func (s *stock) gather(into *side, t *seat, piece fold.Piece, bentBy int, from, to float64) {
	for _, solid := range s.solids(piece) {
		points := make([]r3.Vec, len(solid))
		for i, p := range solid {
			points[i] = t.local(p)
		}
		if bentBy == 0 {
			for _, p := range points {
				into.low, into.top = min(into.low, p.Y), max(into.top, p.Y)
			}
			continue
		}
		into.bent = append(into.bent, profile{
			piece: piece, over: bentBy > 0,
			whole: shadow(points, math.Inf(-1), math.Inf(1)), bar: shadow(points, from, to),
		})
	}
}

// solids are the convex pieces of a panel or a bend's metal in space: a ring of corners
// on the marking face, then the same ring on the far face.
func (s *stock) solids(piece fold.Piece) (all [][]r3.Vec) {
	t := s.solid.Flat.Thickness
	ring := func(corners []r2.Vec, place func(p r2.Vec, z float64) r3.Vec) {
		solid := make([]r3.Vec, 0, 2*len(corners))
		for _, z := range [2]float64{0, -t} {
			for _, p := range corners {
				solid = append(solid, place(p, z))
			}
		}
		all = append(all, solid)
	}
	if !piece.Bend {
		for _, corners := range pieces(s.solid.Flat.Panels[piece.Index]) {
			ring(corners, func(p r2.Vec, z float64) r3.Vec { return s.solid.Panel(piece.Index, p, z) })
		}
		return all
	}
	b := &s.solid.Flat.Bends[piece.Index]
	if len(b.Zone) != 4 {
		return nil
	}
	if !s.made.has(piece.Index) {
		ring(b.Zone, func(p r2.Vec, z float64) r3.Vec { return s.solid.Panel(b.Parent, p, z) })
		return all
	}
	across := func(from, to int, part float64) r2.Vec {
		return r2.Add(b.Zone[from], r2.Scale(part, r2.Sub(b.Zone[to], b.Zone[from])))
	}
	const slabs = 8
	for k := range slabs {
		p, q := float64(k)/slabs, float64(k+1)/slabs
		ring([]r2.Vec{across(0, 1, p), across(0, 1, q), across(3, 2, q), across(3, 2, p)},
			func(p r2.Vec, z float64) r3.Vec { return s.solid.Zone(piece.Index, p, z) })
	}
	return all
}

// shadow is the profile of the part of a convex solid that lies between two places
// along the bend. The solid is a ring of corners and its twin, and its edges are the
// sides of both rings and what joins them.
func shadow(solid []r3.Vec, from, to float64) convex {
	n := len(solid) / 2
	points := make([]r2.Vec, 0, 2*len(solid))
	profile := func(p r3.Vec) { points = append(points, r2.Vec{X: p.Y, Y: p.Z}) }
	for _, p := range solid {
		if from <= p.X && p.X <= to {
			profile(p)
		}
	}
	edge := func(p, q r3.Vec) {
		for _, x := range [2]float64{from, to} {
			if (p.X < x) != (q.X < x) && !math.IsInf(x, 0) {
				profile(r3.Add(p, r3.Scale((x-p.X)/(q.X-p.X), r3.Sub(q, p))))
			}
		}
	}
	for i := range n {
		edge(solid[i], solid[(i+1)%n])
		edge(solid[n+i], solid[n+(i+1)%n])
		edge(solid[i], solid[n+i])
	}
	if len(points) < 3 {
		return nil
	}
	return hull(points)
}
