package flat

import (
	"github.com/hangarflat/hangarflat/flat/fold"
	"gonum.org/v1/gonum/spatial/r2"
)

// Fold bends the blank to shape from its flat geometry alone, for a picture or a
// check. Panels and bends keep their indices. It returns the errors of [fold.Fold].
func (b Blank) Fold() (fold.Solid, error) { return fold.Fold(b.sheet()) }

// sheet strips the blank down to what a brake would see: panels, tangent lines,
// angles, radii and thickness.
func (b Blank) sheet() fold.Flat {
	f := fold.Flat{
		Thickness: b.Part.Sheet.Thickness,
		Panels:    make([][]r2.Vec, len(b.Panels)),
		Bends:     make([]fold.Bend, len(b.Bends)),
	}
	for i, p := range b.Panels {
		f.Panels[i] = p.Outline
	}
	for i, l := range b.Bends {
		f.Bends[i] = fold.Bend{
			Parent: l.Parent, Child: l.Child,
			A: l.Near.Vertices[0].P, B: r2.Add(l.Near.Vertices[0].P, l.reach()),
			Width:  l.Allowance.Length,
			Angle:  l.Bend.Angle,
			Radius: l.Bend.Radius,
			Up:     l.Turn == Up,
			Zone:   l.Zone, Sections: l.Sections,
		}
	}
	return f
}

// reach runs along the edge for the length of the near tangent line.
func (l *BendLine) reach() r2.Vec {
	last := len(l.Near.Vertices) - 1
	chord := r2.Sub(l.Near.Vertices[last].P, l.Near.Vertices[0].P)
	return r2.Scale(r2.Dot(chord, l.Along), l.Along)
}
