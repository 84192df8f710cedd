package former

import (
	"fmt"

	"github.com/hangarflat/hangarflat/flat/outline"
	"gonum.org/v1/gonum/spatial/r2"
)

// A Piece is one blank of a former: the whole, or what lies between two joints. All in
// the place it has in the former.
type Piece struct {
	Name     string
	From, To float64        // girths of its ends on the outer contour; equal for the whole
	Outline  outline.Path   // to cut, counter-clockwise, cut-outs included
	Openings []outline.Path // to cut, clockwise
	Near     []outline.Path // tangent lines beside the web
	Far      []outline.Path // tangent lines beside the flanges
	Mold     []outline.Path // mold lines
	Finished []outline.Path // where what is left on the edge is trimmed; none when nothing is
	Marks    []outline.Path // cut-outs that are marked and left
	Rivets   []Mark
	Helps    []Mark // places of the remedies, on the edge
	Pins     []r2.Vec
	Pin      float64 // diameter of the tooling pins, mm
	Size     Stock   // of the smallest rectangle of sheet it comes out of
	Area     float64 // mm², cut-outs and openings taken off
	Mass     float64 // g; 0 when the density is not known
	Block    Block
}

// A Mark is a spot to mark on a blank.
type Mark struct {
	Name     string // "flange rivet", "splice rivet", "flute"
	At       r2.Vec
	Diameter float64 // mm; 0 for a spot that is no hole
}

// pieces cuts the ring at its joints and gives each piece what belongs to it.
func (r *Ring) pieces(joints []joint) error {
	tool, err := r.tool()
	if err != nil {
		return err
	}
	rivets, err := r.rivetMarks()
	if err != nil {
		return err
	}
	perArea, err := r.Former.Sheet.MassPerArea()
	if err != nil {
		perArea = 0
	}
	n := max(len(joints), 1)
	r.Pieces = make([]Piece, n)
	for i := range r.Pieces {
		p := &r.Pieces[i]
		p.Name = r.Former.Name
		whole := len(joints) == 0
		var a, b joint
		if !whole {
			half := r.Former.Split.Gap / 2
			a, b = joints[i].moved(half), joints[(i+1)%n].moved(-half)
			p.Name = fmt.Sprintf("%s-%d", r.Former.Name, i+1)
			p.From, p.To = a.girth, b.girth
		}
		if err := r.cutPiece(p, whole, a, b); err != nil {
			return err
		}
		for _, m := range rivets {
			if whole || r.Outer.contour.ahead(a.girth, m.girth) <= r.Outer.contour.ahead(a.girth, b.girth) {
				p.Rivets = append(p.Rivets, m.Mark)
			}
		}
		for _, h := range r.helpMarks() {
			if whole || r.Outer.contour.ahead(a.girth, h.girth) <= r.Outer.contour.ahead(a.girth, b.girth) {
				p.Helps = append(p.Helps, h.Mark)
			}
		}
		p.Size = SizeOf(p.Outline)
		p.Area = p.Outline.Area()
		for _, o := range p.Openings {
			p.Area += o.Area()
		}
		p.Mass = p.Area * perArea
		if p.Pins, p.Pin, err = r.pins(p, whole, a, b); err != nil {
			return err
		}
		if err := r.block(p, tool, whole, a, b); err != nil {
			return err
		}
	}
	return nil
}

// cutPiece draws the blank of a piece and its lines.
func (r *Ring) cutPiece(p *Piece, whole bool, a, b joint) error {
	own := r.slotsOf(whole, a, b)
	if whole {
		p.Outline = r.round(own)
		if r.Inner.contour != nil {
			p.Openings = []outline.Path{r.Inner.Edge}
		}
	} else {
		var err error
		if p.Outline, err = r.region(r.Outer.edge, r.Inner.edge, a, b, own); err != nil {
			return err
		}
	}
	if err := p.Outline.Validate(); err != nil {
		return &Error{p.Name + " blank", "", "cut-outs and joints make an outline that crosses itself: " + err.Error()}
	}
	for _, s := range own {
		if s.MarkOnly {
			p.Marks = append(p.Marks, s.outlinePath())
		}
	}
	lines := func(outer, inner track) []outline.Path { return r.lines(outer, inner, whole, a, b, own) }
	if r.Former.Outer.Flange != nil {
		none := track{}
		p.Mold = append(p.Mold, lines(track{r.Outer.Mold, r.Outer.contour.from}, none)...)
		p.Near = append(p.Near, lines(r.Outer.near, none)...)
		p.Far = append(p.Far, lines(r.Outer.far, none)...)
		if r.Former.Outer.Flange.Trim > 0 {
			p.Finished = append(p.Finished, lines(r.Outer.finished, none)...)
		}
	}
	if r.Former.Inner.Flange != nil {
		none := track{}
		p.Mold = append(p.Mold, lines(none, track{r.Inner.Mold, r.Inner.contour.from})...)
		p.Near = append(p.Near, lines(none, r.Inner.near)...)
		p.Far = append(p.Far, lines(none, r.Inner.far)...)
		if r.Former.Inner.Flange.Trim > 0 {
			p.Finished = append(p.Finished, lines(none, r.Inner.finished)...)
		}
	}
	return nil
}

// slotsOf are the cut-outs of a piece, in order from its first joint.
func (r *Ring) slotsOf(whole bool, a, b joint) []*slot {
	list := make([]*slot, 0, len(r.cut))
	first := 0
	for i := range r.cut {
		if r.cut[i].at >= a.girth {
			break
		}
		first = i + 1
	}
	c := r.Outer.contour
	for k := range r.cut {
		s := &r.cut[(first+k)%len(r.cut)]
		if whole || c.ahead(a.girth, s.at) < c.ahead(a.girth, b.girth) {
			list = append(list, s)
		}
	}
	return list
}

// round is the outer edge of the whole blank with its cut-outs.
func (r *Ring) round(slots []*slot) outline.Path {
	var cut []*slot
	for _, s := range slots {
		if !s.MarkOnly {
			cut = append(cut, s)
		}
	}
	if len(cut) == 0 {
		return r.Outer.Edge
	}
	v := make([]outline.Vertex, 0, len(r.Outer.Edge.Vertices)+8*len(cut))
	for i, s := range cut {
		v = s.bottom(v)
		v = r.Outer.edge.run(v, s.right, cut[(i+1)%len(cut)].left)
	}
	return outline.Path{Vertices: v, Closed: true}
}

// A jointLine is where the line of a joint meets two tracks.
type jointLine struct{ outer, inner spot }

// meets finds where the line of a joint meets the tracks.
func (r *Ring) meets(outer, inner track, j joint) (jointLine, error) {
	line := outline.Segment{A: j.frame.at(j.along, r.size), B: j.frame.at(j.along, -r.size)}
	var l jointLine
	ok := true
	if len(outer.Vertices) > 0 {
		l.outer, ok = outer.cross(line, j.girth, r.size/8, j.frame.at(j.along, 0))
	}
	if ok && len(inner.Vertices) > 0 {
		l.inner, ok = inner.cross(line, j.inner, r.size/8, j.frame.at(j.along, -j.depth))
	}
	if !ok {
		return l, &Error{"joint girth", mm(j.girth), "square to the contour from there the web cannot be parted"}
	}
	return l, nil
}

// region is what lies between two joints and two tracks: along the outer edge with its
// cut-outs, in across the web, back along the inner edge, and out.
func (r *Ring) region(outer, inner track, a, b joint, slots []*slot) (outline.Path, error) {
	from, err := r.meets(outer, inner, a)
	if err != nil {
		return outline.Path{}, err
	}
	to, err := r.meets(outer, inner, b)
	if err != nil {
		return outline.Path{}, err
	}
	var v []outline.Vertex
	at := from.outer
	for _, s := range slots {
		if s.MarkOnly {
			continue
		}
		v = s.bottom(outer.run(v, at, s.left))
		at = s.right
	}
	v = outer.run(v, at, to.outer)
	v = inner.run(v, to.inner, from.inner)
	return outline.Path{Vertices: v, Closed: true}, nil
}

// lines are the parts of a track that a piece shows: broken by cut-outs, and by the
// ends of the piece. One of the two tracks is empty.
func (r *Ring) lines(outer, inner track, whole bool, a, b joint, slots []*slot) []outline.Path {
	if len(outer.Vertices) == 0 && whole {
		return []outline.Path{inner.Path}
	}
	var from, to jointLine
	if !whole {
		var err [2]error
		from, err[0] = r.meets(outer, inner, a)
		to, err[1] = r.meets(outer, inner, b)
		if err[0] != nil || err[1] != nil {
			return nil
		}
	}
	open := func(t track, a, b spot) outline.Path { return outline.Path{Vertices: t.run(nil, a, b)} }
	if len(outer.Vertices) == 0 {
		return []outline.Path{open(inner, to.inner, from.inner)}
	}
	type gap struct{ left, right spot }
	var gaps []gap
	for _, s := range slots {
		if s.MarkOnly {
			continue
		}
		left, ok := s.side(outer, -s.half)
		right, ok2 := s.side(outer, s.half)
		if ok && ok2 {
			gaps = append(gaps, gap{left, right})
		}
	}
	if whole && len(gaps) == 0 {
		return []outline.Path{outer.Path}
	}
	var list []outline.Path
	if whole {
		for i, g := range gaps {
			list = append(list, open(outer, g.right, gaps[(i+1)%len(gaps)].left))
		}
		return list
	}
	at := from.outer
	for _, g := range gaps {
		list = append(list, open(outer, at, g.left))
		at = g.right
	}
	return append(list, open(outer, at, to.outer))
}

// A placedMark is a mark with the girth on the outer contour that says which piece it is on.
type placedMark struct {
	Mark
	girth float64
}

// rivetMarks are the rivets of flanges and splices on the blank.
func (r *Ring) rivetMarks() ([]placedMark, error) {
	var list []placedMark
	if row := r.outerRow; len(row) > 0 {
		at := r.Outer.row(r.Outer.rivetLine())
		for _, g := range row {
			list = append(list, placedMark{Mark{"flange rivet", r.Outer.contour.frame(g).at(0, at.at(g)), r.Outer.rim.Flange.Rivets.Diameter}, g})
		}
	}
	if row := r.innerRow; len(row) > 0 {
		at := r.Inner.row(r.Inner.rivetLine())
		for _, g := range row {
			f := r.Inner.contour.frame(g)
			list = append(list, placedMark{Mark{"flange rivet", f.at(0, at.at(g)), r.Inner.rim.Flange.Rivets.Diameter}, r.outerGirth(f.p)})
		}
	}
	for _, s := range r.Splices {
		for _, h := range s.Holes {
			list = append(list, placedMark{Mark{"splice rivet", h, s.Rivet}, r.outerGirth(h)})
		}
	}
	return list, nil
}

func (r *Ring) helpMarks() []placedMark {
	var list []placedMark
	for i, h := range r.Remedies {
		for _, p := range h.Places {
			girth := p.Girth
			if i >= r.outerHelp {
				girth = r.outerGirth(r.Inner.contour.frame(p.Girth).p)
			}
			list = append(list, placedMark{Mark{h.Kind.String(), p.At, 0}, girth})
		}
	}
	return list
}

// outerGirth is the girth on the outer contour nearest to a place on the web.
func (r *Ring) outerGirth(p r2.Vec) float64 {
	_, i, t := r.Outer.contour.path.Nearest(p)
	c := r.Outer.contour
	return c.from[i] + t*(c.from[i+1]-c.from[i])
}

// rivetLine is the height of the rivet row on the flange, from the mold line.
func (s *Strip) rivetLine() float64 {
	fl := s.rim.Flange
	if fl.Rivets.Line > 0 {
		return fl.Rivets.Line
	}
	most := 0.0
	for _, b := range fl.Bevels {
		most = max(most, s.sectionAt(b.At, 0).Setback)
	}
	return (most + fl.Height) / 2
}
