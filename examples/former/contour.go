package main

import (
	"fmt"
	"math"

	"github.com/hangarflat/hangarflat/flat/former"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// contour reads an edge of the web: legs, measured points, or an even distance inside the outer.
func (r *reader) contour(path string, in rimFile, outer *outline.Path) outline.Path {
	ways := 0
	for _, given := range []bool{len(in.Start) > 0, len(in.Points) > 0, in.Inset != ""} {
		if given {
			ways++
		}
	}
	if ways != 1 {
		r.refuse(path, "", "an edge is given by start and legs, by points, or (the inner alone) by an inset: one of them")
		return outline.Path{}
	}
	switch {
	case in.Inset != "" && outer == nil:
		r.refuse(path+".inset", string(in.Inset), "the outer edge has nothing to be inset from")
	case in.Inset != "":
		return r.inset(path+".inset", in.Inset, *outer)
	case len(in.Points) > 0:
		return r.fitted(path, in)
	default:
		return r.legs(path, in)
	}
	return outline.Path{}
}

func (r *reader) inset(path string, t text, outer outline.Path) outline.Path {
	d := r.length(path, t)
	if outer.Validate() != nil || !(d > 0) {
		return outline.Path{Closed: true} // said already, or by the former
	}
	inner, err := outer.Offset(-d, outline.OffsetOptions{})
	if err != nil || len(inner) != 1 {
		r.refuse(path, string(t), "leaves no single opening inside the outer edge")
		return outline.Path{}
	}
	return withoutCrumbs(inner[0])
}

// crumb is the longest arc, mm, that an offset makes of a corner of a thousandth of a degree in
// its source: no edge that anybody drew.
const crumb = 0.01

func withoutCrumbs(p outline.Path) outline.Path {
	kept := outline.Path{Closed: true}
	for i, s := range p.Segments() {
		if s.Length() > crumb {
			kept.Vertices = append(kept.Vertices, p.Vertices[i])
		}
	}
	return kept
}

// startedAt returns the closed path begun at its point nearest to a place, so that girths on
// both edges count from the same side.
func startedAt(p outline.Path, at r2.Vec) outline.Path {
	_, i, t := p.Nearest(at)
	if i < 0 {
		return p
	}
	l := p.Segment(i).Length()
	switch {
	case t*l < crumb:
		return p.StartAt(i)
	case (1-t)*l < crumb:
		return p.StartAt((i + 1) % len(p.Vertices))
	}
	q, err := p.Insert(i, t)
	if err != nil {
		return p
	}
	return q.StartAt(i + 1)
}

// fitted puts arcs to measured points, all round.
func (r *reader) fitted(path string, in rimFile) outline.Path {
	tol := r.needLength(path+".tolerance", in.Tolerance)
	var pts []r2.Vec
	for i, t := range in.Points {
		pts = append(pts, r.point(fmt.Sprintf("%s.points[%d]", path, i), t))
	}
	if in.Mirror {
		for i := len(pts) - 1; i >= 0; i-- {
			if math.Abs(pts[i].X) > onCentre {
				pts = append(pts, r2.Vec{X: -pts[i].X, Y: pts[i].Y})
			}
		}
	}
	p, err := outline.FitRing(pts, tol)
	if err != nil {
		r.refuse(path+".points", "", "no smooth line goes through them: "+err.Error())
	}
	return p
}

// onCentre is how near the centre line a point must lie to be on it, mm.
const onCentre = 0.01

func (r *reader) legs(path string, in rimFile) outline.Path {
	start := r.point(path+".start", in.Start)
	v := []outline.Vertex{{P: start}}
	for i, leg := range in.Legs {
		at := fmt.Sprintf("%s.leg[%d]", path, i)
		to := r.point(at+".to", leg.To)
		if leg.Radius != "" {
			v[len(v)-1].Bulge = r.bulge(at, leg, r2.Norm(r2.Sub(to, v[len(v)-1].P)))
		} else if leg.Turn != "" || leg.Long {
			r.refuse(at, "", "a leg that turns has a radius")
		}
		v = append(v, outline.Vertex{P: to})
	}
	if len(in.Legs) == 0 {
		r.refuse(path+".leg", "", "is missing: the edge goes nowhere from its start")
		return outline.Path{}
	}
	if in.Mirror {
		return r.mirrored(path, v)
	}
	last := len(v) - 1
	if r2.Norm(r2.Sub(v[last].P, v[0].P)) <= onCentre {
		v = v[:last]
	}
	return outline.Path{Vertices: v, Closed: true}
}

// bulge of a leg: with half its chord h and radius R the sweep is 2·asin(h/R), or a
// full turn less that.
func (r *reader) bulge(path string, leg legFile, chord float64) float64 {
	radius := r.length(path+".radius", leg.Radius)
	if !(radius >= chord/2) {
		r.refuse(path+".radius", string(leg.Radius), fmt.Sprintf("is too small to reach: the leg is %.3f mm long, so at least half of that", chord))
		return 0
	}
	sweep := 2 * math.Asin(math.Min(chord/2/radius, 1))
	if leg.Long {
		sweep = 2*math.Pi - sweep
	}
	bulge := math.Tan(sweep / 4)
	if leg.Turn == "" {
		r.refuse(path+".turn", "", `is missing: "left" or "right", the way the arc turns as you go`)
	}
	if r.choice(path+".turn", leg.Turn, "left", "right") == 1 {
		return -bulge
	}
	return bulge
}

// mirrored adds the other half to one that goes from the centre line to the centre line.
func (r *reader) mirrored(path string, v []outline.Vertex) outline.Path {
	last := len(v) - 1
	for _, i := range []int{0, last} {
		if math.Abs(v[i].P.X) > onCentre {
			r.refuse(path+".mirror", "", fmt.Sprintf("half an edge begins and ends on the centre line, x = 0; it has (%.3f, %.3f) there", v[i].P.X, v[i].P.Y))
			return outline.Path{}
		}
	}
	v[0].P.X, v[last].P.X = 0, 0
	other := outline.Path{Vertices: v}.Transform(outline.Mirror(r2.Vec{}, 90*measure.Degree)).Reverse()
	all := append([]outline.Vertex(nil), v[:last]...)
	return outline.Path{Vertices: append(all, other.Vertices[:last]...), Closed: true}
}

// cutout reads one cut-out, or the two of a pair.
func (r *reader) cutout(f *former.Former, i int, in cutFile) {
	at := fmt.Sprintf("cutout[%d]", i)
	c := former.Cutout{Name: in.Name, Width: r.needLength(at+".width", in.Width), Depth: r.needLength(at+".depth", in.Depth),
		Clearance: r.length(at+".clearance", in.Clearance), Radius: r.length(at+".radius", in.Radius), MarkOnly: in.Cut != nil && !*in.Cut}
	switch {
	case (in.Girth == "") == (in.Angle == ""):
		r.refuse(at+".girth", "", "a cut-out is placed by its girth, or by angle and centre: one of them")
		return
	case in.Girth != "":
		c.Girth = r.length(at+".girth", in.Girth)
	default:
		girth, err := former.GirthToward(f.Outer.Contour, r.point(at+".centre", in.Centre), r.angle(at+".angle", in.Angle))
		if err != nil {
			r.refuse(at+".angle", string(in.Angle), err.Error())
			return
		}
		c.Girth = girth
	}
	if in.Both {
		port := c
		port.Girth, port.Name = -c.Girth, c.Name+", port"
		c.Name += ", starboard"
		f.Cutouts, r.cutAt = append(f.Cutouts, port), append(r.cutAt, i)
	}
	f.Cutouts, r.cutAt = append(f.Cutouts, c), append(r.cutAt, i)
}
