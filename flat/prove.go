package flat

import (
	"math"

	"github.com/hangarflat/hangarflat/flat/fold"
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
		s := &l.sides[i]
		child := l.wanted[line.Child]
		parent, turned := folded.Frames[line.Parent], folded.Frames[line.Child]
		panel := l.blank.Panels[line.Child]
		face := s.outsideFace()
		for _, end := range [2]r2.Vec{s.from, s.to} {
			x := s.station(end)
			mold := child.point(r2.Vec{X: x}, face)
			proof.MoldLine = max(proof.MoldLine,
				off(turned, panel.At(r2.Vec{X: x}), face, mold),
				off(parent, line.Near.Vertices[0].P, face, mold))
			wanted := r2.Vec{X: x, Y: s.height(x)}
			proof.Edge = max(proof.Edge, apart(turned.Point(panel.At(wanted), face), child.point(wanted, face)))
		}
		for _, corner := range panel.Outline {
			p := turned.Point(corner, face)
			proof.Plane = max(proof.Plane, math.Abs(r3.Dot(r3.Sub(p, child.point(r2.Vec{}, face)), child.z)))
		}
	}
	if l.part.Site != nil {
		l.proveFit()
	}
	for _, h := range l.blank.Holes {
		want := l.wanted[h.Panel]
		own := l.blank.Panels[h.Panel].own(h.Center)
		got := folded.Panel(h.Panel, h.Center, 0)
		proof.Hole = max(proof.Hole, apart(got, want.point(own, 0)))
	}
}

// proveFit holds the outside faces of the folded flanges against their seats.
func (l *layout) proveFit() {
	site := l.part.Site
	for i := range l.blank.Bends {
		s, line := &l.sides[i], &l.blank.Bends[i]
		if line.Parent != 0 || s.edge >= len(site.Seats) {
			continue // a lip rests on nothing
		}
		for _, corner := range l.blank.Panels[line.Child].Outline {
			p := site.Point(l.folded.Panel(line.Child, corner, s.outsideFace()))
			l.blank.Proof.Fit = max(l.blank.Proof.Fit, math.Abs(site.Seats[s.edge].Distance(p)))
		}
	}
}

// off is how far the point lies from the face of a folded panel, at height face
// over the flat point at.
func off(f fold.Frame, at r2.Vec, face float64, p r3.Vec) float64 {
	return math.Abs(r3.Dot(r3.Sub(p, f.Point(at, face)), f.Z))
}

func apart(p, q r3.Vec) float64 { return r3.Norm(r3.Sub(p, q)) }
