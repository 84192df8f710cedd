package flat

import (
	"errors"
	"math"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat/fold"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// Develop lays the part out flat. It returns the blank with its findings and the
// residuals of its proof, or every fault of the part, joined, each an [*Error].
// A finding of severity [Stop] does not hide the blank.
func Develop(p Part) (Blank, error) {
	return develop(p, (*layout).web, (*layout).openings, (*layout).rivets, (*layout).weigh, (*layout).prove, (*layout).inspect)
}

// develop takes a sound part through the steps of its layout, as far as they go.
func develop(p Part, steps ...func(*layout)) (Blank, error) {
	if err := p.Validate(); err != nil {
		return Blank{}, err
	}
	l := layout{part: &p, rule: p.Rule, gap: p.Gap}
	if l.rule == nil {
		l.rule = bend.Handbook{}
	}
	if l.gap == 0 {
		l.gap = DefaultGap
	}
	l.blank.Part = p
	l.makeRoom()
	for _, step := range steps {
		if step(&l); len(l.faults) > 0 {
			return Blank{}, errors.Join(distinct(l.faults)...)
		}
	}
	return l.blank, nil
}

// A layout is a part while it is laid out on the blank.
type layout struct {
	part   *Part
	rule   bend.Rule
	gap    float64
	blank  Blank
	sides  []*side  // sides[i] carries bend i
	wanted []placed // where the part asks for each panel
	walls  [][]wall // what bounds the flanges of each panel, in the panel's axes on the blank
	folded fold.Solid
	faults []error

	// Lists of the blank are cut from these.
	points   strip[r2.Vec]
	vertices strip[outline.Vertex]
	// Where flanges are trimmed, one after the other.
	shape, spare []rimPoint
}

// makeRoom takes one long list where each bend would take a dozen short ones.
func (l *layout) makeRoom() {
	bends := 0
	for i := range l.part.Web.Edges {
		bends += countBends(l.part.Web.Edges[i].Flanges)
	}
	b := &l.blank
	b.Bends, b.Panels = make([]BendLine, 0, bends), make([]Panel, 0, bends+1)
	l.sides, l.wanted, l.walls = make([]*side, 0, bends), make([]placed, 0, bends+1), make([][]wall, 0, bends+1)
	// Of a bend the corners of its zone and of a plain flange; two ends of four lines.
	l.points.length, l.vertices.length = 8*bends, 8*bends
	l.shape, l.spare = make([]rimPoint, 0, 16), make([]rimPoint, 0, 16)
}

func countBends(flanges []Flange) int {
	n := len(flanges)
	for i := range flanges {
		n += countBends(flanges[i].Flanges)
	}
	return n
}

// A strip is a long list from which short ones are cut.
type strip[T any] struct {
	length int // of a new strip, at least
	rest   []T
}

// cut takes n elements, all zero, off the strip.
func (s *strip[T]) cut(n int) []T {
	if n > len(s.rest) {
		s.rest = make([]T, max(n, s.length))
	}
	piece := s.rest[:n:n]
	s.rest = s.rest[n:]
	return piece
}

// web lays out the web and, through it, everything that hangs from it.
func (l *layout) web() {
	f := (&faults{all: &l.faults, index: -1}).in("", "web")
	sides := l.sidesOf(l.part.Web.Edges, f)
	if len(l.faults) > 0 {
		return
	}
	l.blank.Panels = append(l.blank.Panels, Panel{Name: "web", Bend: -1, Along: r2.Vec{X: 1}, Out: r2.Vec{Y: 1}})
	l.wanted = append(l.wanted, still(&l.part.Web.Features, f))
	l.walls = append(l.walls, nil)

	n := len(sides)
	corners := make([]corner, n, n+1)
	for i := range sides {
		corners[i] = l.corner(&sides[(i+n-1)%n], &sides[i])
	}
	l.leftBetween(sides, append(corners, corners[0]))
	if len(l.faults) > 0 {
		return
	}
	l.blank.Panels[0].Outline = heart(sides, append(corners, corners[0]), true)
	rim := l.rim(make([]outline.Vertex, 0, 12*n), 0, sides, append(corners, corners[0]), true)
	l.blank.Outline = outline.Path{Vertices: rim, Closed: true}
}

// leftBetween holds the plain sides to being sides still: bends that run out through
// one from both its ends, or slots cut at both, must leave some of it between them.
func (l *layout) leftBetween(sides []side, corners []corner) {
	if len(l.faults) > 0 {
		return
	}
	n := len(sides)
	for i := range sides {
		s := &sides[i]
		if s.flange != nil {
			continue
		}
		from, to := corners[i].enter, corners[i+1].leave
		left := s.part(to) - s.part(from)
		if left*s.length > coincident {
			continue
		}
		for _, beside := range [2]*side{&sides[(i+n-1)%n], &sides[(i+1)%n]} {
			if beside.flange != nil {
				beside.where.add("", "", "with what lies beyond, it leaves nothing of the plain edge beside it, "+mm(s.length)+" long")
				break
			}
		}
	}
}

// heart is a panel without its bends: the corners that its tangent lines, its
// plain sides and its slots make.
func heart(sides []side, corners []corner, loop bool) []r2.Vec {
	points := make([]r2.Vec, 0, len(corners)+4)
	for i := range sides {
		c, s := &corners[i], &sides[i]
		points = append(points, c.leave)
		if c.joint == slotted {
			points = append(points, c.slot, c.enter)
		}
		if s.bulge != 0 {
			from, to := c.enter, corners[i+1].leave
			arc := outline.Segment{A: from, B: to, Bulge: s.between(from, to)}
			for k := 1; k < chordsPerArc; k++ {
				points = append(points, arc.At(float64(k)/chordsPerArc))
			}
		}
	}
	if !loop {
		points = append(points, corners[len(sides)].leave)
	}
	return points
}

// chordsPerArc stand for a curved side where a panel is checked for clashes.
const chordsPerArc = 16

// flange lays out the flange of s and all that hangs from it, and adds its rim.
func (l *layout) flange(into []outline.Vertex, parent int, s *side, first, last end) []outline.Vertex {
	nearStart, nearEnd := s.station(first.corner.enter), s.station(last.corner.leave)
	if !(nearEnd-nearStart > coincident) {
		s.where.add("", "", "the bends beside it leave nothing of its tangent line: the panel is too small for its bends")
		return into
	}
	for _, c := range []*corner{first.corner, last.corner} {
		if c.joint == relieved && 2*c.radius > nearEnd-nearStart {
			s.where.add("", "", "its tangent line of "+mm(nearEnd-nearStart)+" is shorter than the relief hole of "+mm(2*c.radius))
			return into
		}
	}
	inherited := l.walls[parent]
	shape := l.trimFlange(s, &first, &last, inherited)
	if shape == nil {
		s.where.add("", "", "trimmed clear of its neighbours, nothing of the flange is left")
		return into
	}
	r := reachOf(s, nearStart, nearEnd, shape)
	for _, u := range [2]float64{r.first, r.last} {
		if a := s.angle(u); !(LeastAngle <= a && a <= MostAngle+5*measure.Degree) {
			s.where.add("angle_end", a.Text(2), "is what the bevel comes to, carried on to the tip of the flange: it must stay above 0° and well below 180°")
			return into
		}
	}
	corners, rim := l.flangeOnBlank(into, s, shape)
	l.addBend(parent, s, r)
	child := len(l.blank.Panels) - 1
	if len(s.flange.Flanges) > 0 {
		own := last.bounds(first.bounds(append([]wall(nil), inherited...)))
		l.walls[child] = l.carried(own, parent, child)
	}
	if s.twist != nil && len(s.flange.Flanges) > 0 {
		s.where.add("flanges", "", "a flange whose bevel changes along its edge is not flat and carries no flanges of its own")
		return into
	}
	if len(s.flange.Flanges) == 0 {
		l.blank.Panels[child].Outline = corners
		return rim
	}

	sides, joints := l.flangeSides(s, shape, corners)
	if len(l.faults) > 0 {
		return into
	}
	l.blank.Panels[child].Outline = heart(sides, joints, false)
	return l.rim(into, child, sides, joints, false)
}

// flangeSides are the sides of a flange that carries flanges of its own, from the
// start of its bend round to the end.
func (l *layout) flangeSides(s *side, shape []rimPoint, corners []r2.Vec) ([]side, []corner) {
	var sides []side
	last := len(corners) - 1
	for i := 0; i < last; i++ {
		if shape[i].edge != freeEdge {
			sides = append(sides, newSide(s.name, corners[i], corners[i+1]))
			continue
		}
		from, to := s.station(s.from), s.station(s.to)
		origin := s.flat(from, s.height(from))
		far := s.flat(to, s.height(to))
		line := edgeLine{s.flange.Name, origin, r2.Norm(r2.Sub(far, origin)), corners[i], corners[i+1]}
		sides = l.cut(sides, line, s.flange.Flanges, s.where)
	}
	if len(sides) < last {
		s.where.add("", "", "its ends meet before its free edge: there is no edge left for the flanges on it")
	}
	if len(l.faults) > 0 {
		return nil, nil
	}
	sides = withoutSwallowed(sides)
	joints := make([]corner, 0, len(sides)+1)
	joints = append(joints, open(corners[0]))
	for i := 1; i < len(sides); i++ {
		joints = append(joints, l.corner(&sides[i-1], &sides[i]))
	}
	return sides, append(joints, open(corners[last]))
}

// withoutSwallowed drops the short pieces of an end trim that lie wholly within the
// bend of the flange beside them: its tangent line runs out past them, through the
// piece beyond. A plain piece of the bend's own edge is none of them.
func withoutSwallowed(sides []side) []side {
	swallowed := func(bent, trim *side) bool {
		if bent.flange == nil || trim.flange != nil || math.Abs(r2.Cross(bent.along, trim.along)) < inLine {
			return false
		}
		inside := func(p r2.Vec) bool { return r2.Dot(r2.Sub(p, bent.origin), bent.out) > -bent.setback }
		return inside(trim.from) && inside(trim.to)
	}
	kept := make([]side, 0, len(sides))
	for i := range sides {
		before := len(kept) > 0 && swallowed(&kept[len(kept)-1], &sides[i])
		for !before && len(kept) > 1 && swallowed(&sides[i], &kept[len(kept)-1]) {
			kept = kept[:len(kept)-1]
		}
		if !before || i == len(sides)-1 {
			kept = append(kept, sides[i])
		}
	}
	return kept
}

// A reach is what a bend takes up along its edge: stations of its tangent lines,
// and the first and last station of the flange beyond it.
type reach struct{ nearStart, nearEnd, farStart, farEnd, first, last float64 }

func reachOf(s *side, nearStart, nearEnd float64, shape []rimPoint) reach {
	r := reach{nearStart, nearEnd, shape[0].u, shape[len(shape)-1].u, s.station(s.from), s.station(s.to)}
	for _, p := range shape {
		r.first, r.last = min(r.first, p.u), max(r.last, p.u)
	}
	return r
}

// bendName is what a bent side is called: by its flange, else by its edge.
func (s *side) bendName() string {
	if s.flange.Name != "" {
		return s.flange.Name
	}
	return s.name
}

// addBend records the bend of s and the panel it turns.
func (l *layout) addBend(parent int, s *side, r reach) {
	b := &l.blank
	name := s.bendName()
	start := s.section
	end := start
	if s.twist != nil {
		end = s.twist.end
	}
	line := BendLine{
		Name: name, Parent: parent, Child: len(b.Panels), Turn: s.flange.Turn, Along: s.along,
		Bend: start.bend, EndBend: end.bend, Allowance: start.ba, Setback: start.setback,
		Height: s.height(s.station(s.from)), HeightEnd: s.height(s.station(s.to)),
		Near: l.across(s, r, 0, 0), Center: l.across(s, r, 0.5, 0), Far: l.across(s, r, 1, 0), Sight: l.across(s, r, 0, start.bend.Radius),
		Zone: l.points.cut(4),
	}
	line.Zone[0], line.Zone[1] = s.inBend(r, 0, 0, 0), s.inBend(r, 0, 1, 0)
	line.Zone[2], line.Zone[3] = s.inBend(r, 1, 1, 0), s.inBend(r, 1, 0, 0)
	if s.twist != nil {
		line.Sections = s.sections(r)
	}
	b.Bends = append(b.Bends, line)
	b.Panels = append(b.Panels, Panel{
		Name: name, Bend: len(b.Bends) - 1,
		Origin: s.plan(0, start.ba.Length-2*start.setback), Along: s.along, Out: s.out,
	})
	l.sides = append(l.sides, s)
	l.wanted = append(l.wanted, l.wanted[parent].turned(b.Panels[parent], s))
	l.walls = append(l.walls, nil)
}

// inBend is the point that lies a part t of the way along a bend and a part across
// it, plus more mm.
func (s *side) inBend(r reach, t, across, more float64) r2.Vec {
	u, far := r.nearStart+t*(r.nearEnd-r.nearStart), r.farStart+t*(r.farEnd-r.farStart)
	near := s.near(u)
	is := s.at(far)
	beyond := s.plan(far, is.ba.Length-is.setback)
	return r2.Add(near, r2.Scale(across+more/is.ba.Length, r2.Sub(beyond, near)))
}

// across is the line along a bend at a part of the way across it, plus more mm: a
// chord, or arcs where the bevel changes.
func (l *layout) across(s *side, r reach, part, more float64) outline.Path {
	if s.twist == nil {
		ends := l.vertices.cut(2)
		ends[0].P, ends[1].P = s.inBend(r, 0, part, more), s.inBend(r, 1, part, more)
		return outline.Path{Vertices: ends}
	}
	points := make([]r2.Vec, twistSteps+1)
	for k := range points {
		points[k] = s.inBend(r, float64(k)/twistSteps, part, more)
	}
	return outline.Path{Vertices: asArcs(points)}
}

// sections cuts a bend whose bevel changes at even places along it and on past its
// ends as far as the flange goes.
func (s *side) sections(r reach) []fold.Section {
	cuts := make([]fold.Section, twistSteps+1)
	origin := s.at(r.nearStart).setback
	for k := range cuts {
		u := min(r.first, r.nearStart) + (max(r.last, r.nearEnd)-min(r.first, r.nearStart))*float64(k)/twistSteps
		is := s.at(u)
		cuts[k] = fold.Section{At: u - r.nearStart, Near: origin - is.setback, Width: is.ba.Length, Angle: is.bend.Angle}
	}
	return cuts
}

// openings places every hole and cut-out on the blank.
func (l *layout) openings() {
	b := &l.blank
	for i := range b.Panels {
		features := l.wanted[i].features
		for _, h := range features.Holes {
			b.Holes = append(b.Holes, BlankHole{h.Name, i, l.onBlank(i, h.At), h.Diameter, h.Purpose, h.Diameter / 2, LighteningHole{}, 0, h.At})
		}
		for _, h := range features.Lightening {
			t := l.part.Sheet.Thickness
			b.Holes = append(b.Holes, BlankHole{h.Name, i, l.onBlank(i, h.At), h.Pilot(t), FlangedPilot, h.Diameter/2 + h.Radius + t/2, h, 0, h.At})
		}
		for _, s := range features.Slots {
			b.Cutouts = append(b.Cutouts, BlankCutout{s.Name, i, l.clockwise(i, s.path())})
		}
		for _, c := range features.Cutouts {
			b.Cutouts = append(b.Cutouts, BlankCutout{c.Name, i, l.clockwise(i, c.Path)})
		}
	}
}

// clockwise places an opening on the blank, run clockwise as openings are.
func (l *layout) clockwise(panel int, own outline.Path) outline.Path {
	p := l.blank.Panels[panel]
	path := outline.Path{Vertices: make([]outline.Vertex, len(own.Vertices)), Closed: true}
	// The axes of a flange are left-handed: along, then out.
	hand := 1.0
	if r2.Cross(p.Along, p.Out) < 0 {
		hand = -1
	}
	for i, v := range own.Vertices {
		path.Vertices[i] = outline.Vertex{P: l.onBlank(panel, v.P), Bulge: hand * v.Bulge}
	}
	if path.Area() > 0 {
		path = path.Reverse()
	}
	return path
}
