package flat

import (
	"math"

	"github.com/hangarflat/hangarflat/flat/outline"
	"gonum.org/v1/gonum/spatial/r2"
)

// Mirrored returns the part of the other hand: the same part seen in a mirror
// that stands on its y axis, x becoming -x. Flanges turn the way they did, since
// the marking face is mirrored with them. Name and title are kept, to be changed
// by the caller; the site is dropped, for the other hand fits elsewhere.
func (p Part) Mirrored() Part {
	p.Site = nil
	if p.Sheet.Grain.Stated {
		p.Sheet.Grain.Angle = math.Pi - p.Sheet.Grain.Angle
	}
	n := len(p.Web.Edges)
	edges := make([]Edge, n)
	for i, e := range p.Web.Edges {
		next, corner := p.Web.Edges[(i+1)%n].Start, p.Web.Edges[(i+1)%n].Corner
		length := r2.Norm(r2.Sub(next, e.Start))
		e.Flanges = mirrored(e.Flanges, length)
		e.Start, e.Corner = r2.Vec{X: -next.X, Y: next.Y}, corner // its end is now its start
		edges[n-1-i] = e
	}
	p.Web.Edges = edges
	p.Web.Features = p.Web.Features.mirrored(0)
	return p
}

// mirrored turns the flanges of an edge of the given length end for end.
func mirrored(flanges []Flange, length float64) []Flange {
	if flanges == nil {
		return nil
	}
	other := make([]Flange, len(flanges))
	for i, f := range flanges {
		freeEdge := f.freeEdge(length)
		if f.From != 0 || f.To != 0 {
			f.From, f.To = length-f.To, length-f.From
		}
		if f.HeightEnd != 0 {
			f.Height, f.HeightEnd = f.HeightEnd, f.Height
		}
		if f.AngleEnd != 0 {
			f.Angle, f.AngleEnd = f.AngleEnd, f.Angle
		}
		f.Start, f.End = f.End, f.Start
		f.Features = f.Features.mirrored(length)
		f.Joggles = reversed(f.Joggles, length)
		f.Flanges = mirrored(f.Flanges, freeEdge)
		other[len(flanges)-1-i] = f
	}
	return other
}

// mirrored reflects openings about the middle of an edge of the given length.
func (h Features) mirrored(length float64) Features {
	flip := func(p r2.Vec) r2.Vec { return r2.Vec{X: length - p.X, Y: p.Y} }
	out := Features{}
	for _, hole := range h.Holes {
		hole.At = flip(hole.At)
		out.Holes = append(out.Holes, hole)
	}
	for _, s := range h.Slots {
		s.From, s.To = flip(s.From), flip(s.To)
		out.Slots = append(out.Slots, s)
	}
	for _, l := range h.Lightening {
		l.At = flip(l.At)
		out.Lightening = append(out.Lightening, l)
	}
	for _, c := range h.Cutouts {
		path := outline.Path{Closed: c.Path.Closed, Vertices: make([]outline.Vertex, len(c.Path.Vertices))}
		for i, v := range c.Path.Vertices {
			path.Vertices[i] = outline.Vertex{P: flip(v.P), Bulge: -v.Bulge}
		}
		c.Path = path
		out.Cutouts = append(out.Cutouts, c)
	}
	return out
}
