package paper

import (
	"math"
	"slices"

	"github.com/hangarflat/hangarflat/flat"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// A lip is drawn as so many strips round its hole, and so many steps round its bend.
const (
	lipStrips = 36
	lipSteps  = 4
)

// ring is a circle in as many chords as a lip has strips, clockwise.
func ring(center r2.Vec, radius float64) []r2.Vec {
	points := make([]r2.Vec, lipStrips)
	for i := range points {
		sin, cos := math.Sincos(-2 * math.Pi * float64(i) / lipStrips)
		points[i] = r2.Vec{X: center.X + radius*cos, Y: center.Y + radius*sin}
	}
	return points
}

// A rung is a place of a lip's profile: how far from the axis of the hole and how high over the
// marking face its two faces lie there.
type rung struct{ in, inHigh, out, outHigh float64 }

// profile runs from where the lip starts to bend to its edge. "in" is the face in the hollow of the bend,
// that of the panel which the lip turns toward; "out" the other, seen from within the hole.
func profile(lip flat.LighteningHole, thickness float64) []rung {
	middle := lip.Diameter/2 + thickness/2 + lip.Radius // of the bend's arc, from the axis
	var rungs []rung
	for k := range lipSteps + 1 {
		sin, cos := math.Sincos(math.Pi / 2 * float64(k) / lipSteps)
		rungs = append(rungs, rung{
			in: middle - lip.Radius*sin, inHigh: lip.Radius * (1 - cos),
			out: middle - (lip.Radius+thickness)*sin, outHigh: lip.Radius - (lip.Radius+thickness)*cos,
		})
	}
	last := rungs[lipSteps]
	last.inHigh, last.outHigh = lip.Height-thickness, lip.Height-thickness
	rungs = append(rungs, last)
	if lip.Turn == flat.Down { // mirrored in the middle of the sheet
		for i := range rungs {
			rungs[i].inHigh, rungs[i].outHigh = -thickness-rungs[i].inHigh, -thickness-rungs[i].outHigh
		}
	}
	return rungs
}

// lip adds the turned lip of a hole: both its faces, its edge, and the lines that are drawn of it.
func (m *model) lip(h flat.BlankHole) {
	rungs := profile(h.Lip, m.solid.Flat.Thickness)
	at := func(strip int, radius, high float64) r3.Vec {
		sin, cos := math.Sincos(2 * math.Pi * float64(strip) / lipStrips)
		p := r2.Vec{X: h.Center.X + radius*cos, Y: h.Center.Y + radius*sin}
		return m.place(piece{i: h.Panel}, p, high)
	}
	up := h.Lip.Turn == flat.Up
	in, out := markingFace, farFace
	if !up {
		in, out = out, in
	}
	// quad adds four corners, run so that the normal points out of the metal: they are given as seen from
	// outside it with the lip turned up.
	quad := func(of surface, corners ...r3.Vec) {
		if !up {
			slices.Reverse(corners)
		}
		m.add(of, corners)
	}
	for s := range lipStrips {
		for k := 0; k+1 < len(rungs); k++ {
			a, b := rungs[k], rungs[k+1]
			quad(in, at(s, a.in, a.inHigh), at(s+1, a.in, a.inHigh), at(s+1, b.in, b.inHigh), at(s, b.in, b.inHigh))
			quad(out, at(s, b.out, b.outHigh), at(s+1, b.out, b.outHigh), at(s+1, a.out, a.outHigh), at(s, a.out, a.outHigh))
		}
		e := rungs[len(rungs)-1]
		quad(cutFace, at(s, e.in, e.inHigh), at(s+1, e.in, e.inHigh), at(s+1, e.out, e.outHigh), at(s, e.out, e.outHigh))
	}
	// Where the wall turns out of sight its profile is drawn: on the side of the axis, and on the other.
	away := func(s int) float64 { // of the middle of a strip, from the axis
		sin, cos := math.Sincos(2 * math.Pi * (float64(s) + 0.5) / lipStrips)
		d := r2.Vec{X: cos, Y: sin}
		o, p := m.place(piece{i: h.Panel}, h.Center, 0), m.place(piece{i: h.Panel}, r2.Add(h.Center, d), 0)
		return r3.Dot(r3.Sub(p, o), m.view.toward)
	}
	for s := range lipStrips {
		if (away(s-1) > 0) == (away(s) > 0) {
			continue
		}
		var inside, outside edge
		inside.kind, outside.kind = horizon, horizon
		for _, r := range rungs[lipSteps:] {
			inside.points, outside.points = append(inside.points, at(s, r.in, r.inHigh)), append(outside.points, at(s, r.out, r.outHigh))
		}
		m.edges = append(m.edges, inside, outside)
	}
	line := func(kind line, radius, high float64) {
		e := edge{kind: kind}
		for s := range lipStrips + 1 {
			e.points = append(e.points, at(s, radius, high))
		}
		m.edges = append(m.edges, e)
	}
	first, last := rungs[0], rungs[len(rungs)-1]
	line(tangent, first.in, first.inHigh)
	line(tangent, first.out, first.outHigh)
	line(farRim, last.in, last.inHigh)
	line(farRim, last.out, last.outHigh)
}
