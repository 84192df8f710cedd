package flat

import (
	"math"

	"github.com/hangarflat/hangarflat/flat/fold"
	"github.com/hangarflat/hangarflat/flat/outline"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// prove folds the blank from its flat geometry alone and holds the result against
// what the part asks for.
func (l *layout) prove() {
	folded, err := l.blank.Fold()
	if err != nil {
		l.faults = append(l.faults, err)
		return
	}
	l.folded = folded
	proof := &l.blank.Proof
	for i := range l.blank.Bends {
		line := &l.blank.Bends[i]
		s := l.sides[i]
		parent := folded.FrameAt(line.Parent, line.Near.Vertices[0].P)
		face := s.outsideFace()
		for _, end := range [2]r2.Vec{s.from, s.to} {
			x := s.station(end)
			child := l.asked(line.Child, x)
			at := l.onBlank(line.Child, r2.Vec{X: x})
			mold := child.point(r2.Vec{X: x}, face)
			proof.MoldLine = max(proof.MoldLine,
				off(folded.FrameAt(line.Child, at), at, face, mold),
				off(parent, line.Near.Vertices[0].P, face, mold))
			free := r2.Vec{X: x, Y: s.height(x)}
			proof.Edge = max(proof.Edge, apart(folded.Panel(line.Child, l.onBlank(line.Child, free), face), child.point(free, face)))
		}
		proof.MoldLine = max(proof.MoldLine, s.beyond(line.Near))
		for _, corner := range l.blank.Panels[line.Child].Outline {
			child := l.asked(line.Child, s.station(corner))
			p := folded.Panel(line.Child, corner, face)
			proof.Plane = max(proof.Plane, math.Abs(r3.Dot(r3.Sub(p, child.point(r2.Vec{}, face)), child.z)))
		}
	}
	if l.part.Site != nil {
		l.proveFit()
	}
	for _, h := range l.blank.Holes {
		got := folded.Panel(h.Panel, h.Center, 0)
		proof.Hole = max(proof.Hole, apart(got, l.asked(h.Panel, h.own.X).point(h.own, 0)))
	}
}

// beyond is how far the tangent line of a bend runs past the stations within which it stands.
func (s *side) beyond(near outline.Path) float64 {
	ends := near.Vertices
	return max(0, s.stands[0]-s.station(ends[0].P), s.station(ends[len(ends)-1].P)-s.stands[1])
}

// proveFit holds the outside faces of the folded flanges against their seats.
func (l *layout) proveFit() {
	site := l.part.Site
	for i := range l.blank.Bends {
		s, line := l.sides[i], &l.blank.Bends[i]
		if line.Parent != 0 || s.edge >= len(site.Seats) {
			continue // a lip rests on nothing
		}
		for _, corner := range l.blank.Panels[line.Child].Outline {
			p := site.Point(l.folded.Panel(line.Child, corner, s.outsideFace()))
			l.blank.Proof.Fit = max(l.blank.Proof.Fit, math.Abs(site.Seats[s.edge].Distance(p)))
		}
	}
}

// onBlank is where a point of a panel, in the panel's own coordinates, lies on the
// blank.
func (l *layout) onBlank(panel int, own r2.Vec) r2.Vec {
	p := l.blank.Panels[panel]
	if panel > 0 && l.sides[p.Bend].twist != nil {
		return l.sides[p.Bend].flat(own.X, own.Y)
	}
	return p.At(own)
}

// asked is where the part asks for a panel in space, at station x along its edge.
func (l *layout) asked(panel int, x float64) placed {
	if panel > 0 {
		if i := l.blank.Panels[panel].Bend; l.sides[i].twist != nil {
			parent := l.blank.Bends[i].Parent
			return l.wanted[parent].turned(l.blank.Panels[parent], l.sides[i].frozen(x))
		}
	}
	return l.wanted[panel]
}

// off is how far the point lies from the face of a folded panel, at height face
// over the flat point at.
func off(f fold.Frame, at r2.Vec, face float64, p r3.Vec) float64 {
	return math.Abs(r3.Dot(r3.Sub(p, f.Point(at, face)), f.Z))
}

func apart(p, q r3.Vec) float64 { return r3.Norm(r3.Sub(p, q)) }
