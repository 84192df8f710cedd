package flat

import (
	"errors"
	"fmt"
	"math"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// A side is one piece of a panel's boundary while the panel is laid out, in the
// plane of the blank with the panel on its left. Where it carries a flange it is
// straight and a mold line.
type side struct {
	name     string
	edge     int // index of the web edge it is cut from
	from, to r2.Vec
	bulge    float64
	along    r2.Vec // unit, from → to
	out      r2.Vec // unit, away from the panel
	length   float64

	corner  *Corner    // how its start is cut, where it is the start of a web's edge; else nil
	flange  *Flange    // nil where the side is plain
	where   *faults    // where the flange stands in the part, for errors and findings
	origin  r2.Vec     // where the flange's own X starts
	stands  [2]float64 // the stations within which the flange stands; infinite where it runs up to a corner
	section            // the bend at its start, and all along where the bevel is constant
	twist   *twist     // nil where the bevel is constant
	height0 float64    // from the mold line at X = 0
	rise    float64    // height gained per mm of X
}

// A section is a bend as it is at one place along its edge.
type section struct {
	bend    bend.Bend
	ba      bend.Allowance
	setback float64
}

func newSection(rule bend.Rule, b bend.Bend) (section, error) {
	ba, err := rule.Allowance(b)
	if err != nil {
		return section{}, err
	}
	if !(0 < ba.Length && ba.Length <= MostLength) {
		return section{}, fmt.Errorf("the rule of the part allows %s for its bend: must be above 0 mm and at most 10 m", mm(ba.Length))
	}
	if ba.Law == nil {
		return section{}, errors.New("the rule of the part does not say by which law it allows for its bend")
	}
	setback, err := b.Setback()
	return section{b, ba, setback}, err
}

// A twist is a bevel that changes evenly along the edge, from station to station.
type twist struct {
	rule     bend.Rule
	from, to float64
	end      section
}

// at is the bend at station u.
func (s *side) at(u float64) section {
	if s.twist == nil {
		return s.section
	}
	b := s.bend
	b.Angle = s.angle(u)
	// The rule has answered at both ends of the edge; between them it does too.
	if is, err := newSection(s.twist.rule, b); err == nil {
		return is
	}
	return s.section
}

// angle is the bend angle at station u.
func (s *side) angle(u float64) measure.Angle {
	if s.twist == nil {
		return s.bend.Angle
	}
	part := (u - s.twist.from) / (s.twist.to - s.twist.from)
	return s.bend.Angle + measure.Angle(part)*(s.twist.end.bend.Angle-s.bend.Angle)
}

// frozen is the side as if its bevel at station u held all along.
func (s *side) frozen(u float64) *side {
	if s.twist == nil {
		return s
	}
	still := *s
	still.section, still.twist = s.at(u), nil
	return &still
}

func newSide(name string, from, to r2.Vec) side {
	d := r2.Sub(to, from)
	length := r2.Norm(d)
	along := r2.Scale(1/length, d)
	return side{
		name: name, from: from, to: to, length: length,
		along: along, out: r2.Vec{X: along.Y, Y: -along.X}, origin: from,
	}
}

// arc is the whole of a side, curved or straight.
func (s *side) arc() outline.Segment {
	return outline.Segment{A: s.from, B: s.to, Bulge: s.bulge}
}

// heading is the direction of travel at the start (0) or end (1) of a side.
func (s *side) heading(at float64) r2.Vec {
	if s.bulge == 0 {
		return s.along
	}
	return s.arc().Tangent(at)
}

// between is the bulge of the stretch of a curved side from p to q, points of its
// arc in the direction of travel.
func (s *side) between(p, q r2.Vec) float64 {
	if s.bulge == 0 || p == s.from && q == s.to {
		return s.bulge
	}
	arc := s.arc()
	a, b := r2.Sub(p, arc.Center()), r2.Sub(q, arc.Center())
	sweep := math.Atan2(r2.Cross(a, b), r2.Dot(a, b))
	if s.bulge > 0 && sweep < 0 {
		sweep += 2 * math.Pi
	} else if s.bulge < 0 && sweep > 0 {
		sweep -= 2 * math.Pi
	}
	return math.Tan(sweep / 4)
}

// part is how far along the side a point of it lies, as a fraction of its length.
func (s *side) part(p r2.Vec) float64 {
	if s.bulge == 0 {
		return r2.Dot(r2.Sub(p, s.from), s.along) / s.length
	}
	_, t := s.arc().Nearest(p)
	return t
}

// plan is the point u along and d outward from the side's origin on its mold line.
func (s *side) plan(u, d float64) r2.Vec {
	return r2.Vec{
		X: s.origin.X + u*s.along.X + d*s.out.X,
		Y: s.origin.Y + u*s.along.Y + d*s.out.Y,
	}
}

// station is how far along the side a point lies from its origin.
func (s *side) station(p r2.Vec) float64 { return r2.Dot(r2.Sub(p, s.origin), s.along) }

// near is the tangent line beside the panel at station u: one setback inside the
// mold line.
func (s *side) near(u float64) r2.Vec { return s.plan(u, -s.at(u).setback) }

// flat is the point of the flange at station u and y from its mold line, on the
// blank: the bend is unrolled, so the flange lies nearer by the deduction.
func (s *side) flat(u, y float64) r2.Vec {
	is := s.at(u)
	return s.plan(u, y+is.ba.Length-2*is.setback)
}

// height is how far the free edge lies from the mold line at station u.
func (s *side) height(u float64) float64 { return s.height0 + s.rise*u }

// up is +1 for a flange turned toward the viewer, -1 for one turned away.
func (s *side) up() float64 {
	if s.flange.Turn == Down {
		return -1
	}
	return 1
}

// outsideFace is the height of the panel face the mold line lies on: the far
// face, at -T, under a flange turned up; the marking face above one turned down.
func (s *side) outsideFace() float64 {
	if s.flange.Turn == Down {
		return 0
	}
	return -s.bend.Thickness
}

// rises is the direction, in space, that the flange takes from its mold line, and
// faces the normal of its outside face, with the panel lying flat in x and y.
func (s *side) rises() r3.Vec {
	sin, cos := math.Sincos(s.bend.Angle.Radians())
	return r3.Vec{X: cos * s.out.X, Y: cos * s.out.Y, Z: s.up() * sin}
}

func (s *side) faces() r3.Vec {
	sin, cos := math.Sincos(s.bend.Angle.Radians())
	return r3.Vec{X: sin * s.out.X, Y: sin * s.out.Y, Z: -s.up() * cos}
}

// moldPoint puts a plan point on the face of the mold line.
func (s *side) moldPoint(p r2.Vec) r3.Vec { return r3.Vec{X: p.X, Y: p.Y, Z: s.outsideFace()} }

// curl is the bend after it has turned through phi, over station 0: a point of its
// inside face, one of its outside face, and how far the nearer of them stands off
// the face the bend turns toward.
func (s *side) curl(phi float64) (inside, outside r3.Vec, off float64) {
	sin, cos := math.Sincos(phi)
	face := func(rho float64) r3.Vec {
		p := s.plan(0, rho*sin-s.setback)
		z := s.bend.Radius - rho*cos
		if s.flange.Turn == Down {
			z = -s.bend.Thickness - z
		}
		return r3.Vec{X: p.X, Y: p.Y, Z: z}
	}
	near := s.bend.Radius
	if cos < 0 {
		near += s.bend.Thickness
	}
	return face(s.bend.Radius), face(s.bend.Radius + s.bend.Thickness), s.bend.Radius - near*cos
}

// lift is how far the lowest metal of the flange proper stands off the face it
// turns toward; negative where the flange starts within the panel's thickness.
func (s *side) lift() float64 {
	rho := s.bend.Radius
	cos := math.Cos(s.bend.Angle.Radians())
	if cos > 0 {
		rho += s.bend.Thickness // the outside face is the lower one
	}
	return s.bend.Radius - rho*cos
}

// An edgeLine is the straight line a row of sides is cut from.
type edgeLine struct {
	name   string
	origin r2.Vec  // where stations start
	full   float64 // length the maker knows the edge by
	a, b   r2.Vec  // what is left of it after trims
}

// sidesOf cuts the edges of the web into sides.
func (l *layout) sidesOf(edges []Edge, f *faults) []side {
	sides := make([]side, 0, len(edges)+2)
	for i := range edges {
		e := &edges[i]
		next := edges[(i+1)%len(edges)].Start
		if len(e.Flanges) == 0 {
			s := newSide(e.Name, e.Start, next)
			s.bulge = e.Bulge
			sides = append(sides, s)
			continue
		}
		at := f.nth("edge", e.Name, "edges", i)
		line := edgeLine{e.Name, e.Start, r2.Norm(r2.Sub(next, e.Start)), e.Start, next}
		first := len(sides)
		sides = l.cut(sides, line, e.Flanges, at)
		for k := range sides[first:] {
			sides[first+k].edge = i
		}
		sides[first].corner = &e.Corner
	}
	return sides
}

// cut adds the sides of one straight edge: its flanges, and what they leave plain.
func (l *layout) cut(sides []side, edge edgeLine, flanges []Flange, f *faults) []side {
	whole := newSide(edge.name, edge.a, edge.b)
	whole.origin = edge.origin
	start, end := whole.station(edge.a), whole.station(edge.b)
	at := start
	for k := range flanges {
		g := &flanges[k]
		from, to := start, end // the whole edge, also where trims have lengthened it
		if g.From != 0 || g.To != 0 {
			from, to = g.From, g.To
		}
		where := f.nth("flange", g.Name, "flanges", k)
		if !(min(to, end) > max(from, start)) {
			where.add("from", mm(from), fmt.Sprintf("with to %s lies beyond what the end trims leave of the edge, %s to %s", mm(to), mm(start), mm(end)))
			continue
		}
		piece := whole.piece(max(from, start), min(to, end))
		piece.stands = [2]float64{math.Inf(-1), math.Inf(1)}
		if from > start+coincident {
			piece.stands[0] = from
		}
		if to < end-coincident {
			piece.stands[1] = to
		}
		if from > at+coincident {
			sides = append(sides, whole.piece(at, from))
		}
		knownFrom, knownTo := g.stations(edge.full)
		l.bendAlong(&piece, g, knownFrom, knownTo, where)
		sides = append(sides, piece)
		at = min(to, end)
	}
	if at < end-coincident {
		sides = append(sides, whole.piece(at, end))
	}
	return sides
}

// piece is what lies between two stations of a straight side. It runs exactly the way the whole does, however short
// it is.
func (s *side) piece(from, to float64) side {
	p := newSide(s.name, s.plan(from, 0), s.plan(to, 0))
	p.origin, p.along, p.out = s.origin, s.along, s.out
	return p
}

// bendAlong works out the bend of a flange that stands from station from to
// station to along s.
func (l *layout) bendAlong(s *side, g *Flange, from, to float64, f *faults) {
	s.flange, s.where = g, f
	b := bend.Bend{Angle: g.Angle, Radius: g.Radius, Thickness: l.part.Sheet.Thickness}
	if b.Radius == 0 {
		b.Radius = l.part.Radius
	}
	var err error
	if s.section, err = newSection(l.rule, b); err != nil {
		f.add("", "", err.Error())
		return
	}
	end := s.section
	if g.AngleEnd != 0 && g.AngleEnd != g.Angle {
		b.Angle = g.AngleEnd
		if end, err = newSection(l.rule, b); err != nil {
			f.add("", "", err.Error())
			return
		}
		s.twist = &twist{l.rule, from, to, end}
	}
	heightEnd := g.HeightEnd
	if heightEnd == 0 {
		heightEnd = g.Height
	}
	height := s.section.moldHeight(g.Height, g.Basis)
	s.rise = (end.moldHeight(heightEnd, g.Basis) - height) / (to - from)
	s.height0 = height - s.rise*from
	if taken := s.section.setback; !(s.height(from) > taken || s.height(to) > end.setback) {
		f.add("height", mm(g.Height), fmt.Sprintf("stands %s from the mold line: it must reach past the setback of its bend, %s", measure.Both(s.height(from)), measure.Both(taken)))
	}
}

// moldHeight converts a height to the outside mold line. The inside faces meet
// T·tan(A/2) short of it along the flange.
func (s section) moldHeight(h float64, from Basis) float64 {
	switch from {
	case InsideMold:
		return h + s.bend.Thickness*math.Tan(s.bend.Angle.Radians()/2)
	case Tangent:
		return h + s.setback
	}
	return h
}
