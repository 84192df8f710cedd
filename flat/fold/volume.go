package fold

import (
	"errors"
	"fmt"
	"math"

	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// A Bulk is how much metal a folded sheet holds, and where it balances.
type Bulk struct {
	Volume float64 // mm³
	Middle float64 // area of the surface midway between the faces, mm²
	Center r3.Vec  // centre of gravity, the metal taken to be even
}

// Mass of the metal, g, at a density in g/cm³.
func (b Bulk) Mass(density float64) float64 { return b.Volume * density / 1000 }

// A Hole is a round hole through one panel, wholly within it.
type Hole struct {
	Panel int
	Circle
}

// Bulk adds up the panels and the metal of their bends, less the holes. It returns
// an [*Error] for each hole that does not lie within its panel, and for a sheet
// without metal.
//
// A panel keeps its area: its volume is area times T. The metal of a bend is rolled
// round the axis; the part of it at radius r turns through A on a length A·r, so
//
//	volume of a bend = A·T·W·(R + T/2), W its mean length along the axis
//
// for ends cut square or not, since every line across the bend has the same profile.
// It is the volume of the flat zone only where the neutral line lies in the middle
// of the sheet: flat less folded is A·T²·W·(K - 1/2). The bent metal is taken T
// thick; a real bend thins by a tenth or so. (All by integration of the fold.)
//
// The sums are exact but for a bend whose bevel changes: that is integrated section by
// section, to a few millionths where 12 sections or more stand along it, and a hole through
// its panel is taken at its centre.
func (s Solid) Bulk(holes []Hole) (Bulk, error) {
	if err := s.pierced(holes); err != nil {
		return Bulk{}, err
	}
	var sum tally
	for i, corners := range s.Flat.Panels {
		if b := s.hangs(i); b != nil && len(b.Sections) > 0 {
			sum.add(s.wound(b, corners, s.beyondBend))
			continue
		}
		area, center := centroid(corners)
		sum.add(s.plate(i, center, area))
	}
	for i := range s.Flat.Bends {
		b := &s.Flat.Bends[i]
		switch {
		case len(b.Zone) < 3:
		case len(b.Sections) > 0:
			sum.add(s.wound(b, b.Zone, s.inBend))
		default:
			sum.add(s.curl(b))
		}
	}
	for _, h := range holes {
		sum.add(s.plate(h.Panel, h.Center, -math.Pi*h.Radius*h.Radius))
	}
	if !(sum.volume > 0) {
		return Bulk{}, &Error{"volume", sum.volume, "must be above 0 mm³: the corners of a panel run counter-clockwise round metal"}
	}
	return Bulk{sum.volume, sum.middle, r3.Scale(1/sum.volume, sum.moment)}, nil
}

// pierced checks that every hole is a hole in its panel.
func (s *Solid) pierced(holes []Hole) error {
	var faults []error
	for i, h := range holes {
		name := func(field string) string { return fmt.Sprintf("hole %d %s", i, field) }
		if h.Panel < 0 || h.Panel >= len(s.Flat.Panels) {
			faults = append(faults, &Error{name("panel"), float64(h.Panel), "must be a panel of the sheet"})
			continue
		}
		if !(h.Radius > 0 && h.Radius <= farthest) {
			faults = append(faults, &Error{name("radius"), h.Radius, "must be above 0 mm"})
			continue
		}
		if room := inside(h.Center, s.Flat.Panels[h.Panel]); !(within(h.Center) && h.Radius <= room) {
			faults = append(faults, &Error{name("radius"), h.Radius, fmt.Sprintf("must leave the hole within its panel, which has %g mm round the centre", room)})
		}
	}
	return errors.Join(faults...)
}

// hangs is the bend that a panel hangs from, nil of the first.
func (s *Solid) hangs(panel int) *Bend {
	if s.bends[panel] < 0 {
		return nil
	}
	return &s.Flat.Bends[s.bends[panel]]
}

// A tally adds up volume, middle surface and moment (mm⁴).
type tally struct {
	volume, middle float64
	moment         r3.Vec
}

func (t *tally) add(o tally) {
	t.volume += o.volume
	t.middle += o.middle
	t.moment = r3.Add(t.moment, o.moment)
}

// plate is flat metal of a panel with its middle over the flat point center.
func (s *Solid) plate(panel int, center r2.Vec, area float64) tally {
	t := s.Flat.Thickness
	return tally{area * t, area, r3.Scale(area*t, s.Panel(panel, center, -t/2))}
}

// centroid gives the area and the centroid of a polygon, about its first corner so
// that a part far from the origin keeps its digits.
func centroid(corners []r2.Vec) (area float64, center r2.Vec) {
	o := corners[0]
	var moment r2.Vec
	for i := 1; i+1 < len(corners); i++ {
		p, q := r2.Sub(corners[i], o), r2.Sub(corners[i+1], o)
		a := r2.Cross(p, q) / 2
		area += a
		moment = r2.Add(moment, r2.Scale(a/3, r2.Add(p, q)))
	}
	if area == 0 {
		return 0, o
	}
	return area, r2.Add(o, r2.Scale(1/area, moment))
}

// An axis is the line a bend turns about: the directions along it, out from the
// parent and off the marking face, and whether the metal turns toward that.
type axis struct {
	at            r3.Vec
	along, out, z r3.Vec
	sign          float64 // +1 up, -1 down
	offset        float64 // of the axis from the marking face
}

// turnsAbout is the axis of a bend, over the near tangent line at its start.
func (s *Solid) turnsAbout(b *Bend) axis {
	parent := s.Frames[b.Parent]
	x := axis{along: parent.Direction(b.along()), out: parent.Direction(b.out()), z: parent.Z, sign: 1, offset: b.Radius}
	if !b.Up {
		x.sign, x.offset = -1, -s.Flat.Thickness-b.Radius
	}
	x.at = parent.Point(b.A, x.offset)
	return x
}

// point lies u along the axis, n out from its start.
func (x *axis) point(u, n float64) r3.Vec {
	return r3.Add(x.at, r3.Add(r3.Scale(u, x.along), r3.Scale(n, x.out)))
}

// rings are the integrals of r and r² through the thickness of a bend.
func (s *Solid) rings(b *Bend) (first, second float64) {
	t, r := s.Flat.Thickness, b.Radius
	return t * (r + t/2), t * (r*r + r*t + t*t/3)
}

// curl is the metal of a bend that is the same all along. The zone, unrolled to
// stations u and angles turned a, is summed along its rim (Green's theorem): the
// integral of f(a) over the zone is that of u·f(a) da round it.
func (s *Solid) curl(b *Bend) tally {
	var n, nu, nsin, ncos float64
	for i, p := range b.Zone {
		q := b.Zone[(i+1)%len(b.Zone)]
		u, du := (b.station(p)+b.station(q))/2, b.station(q)-b.station(p)
		from, to := b.turnedAt(p), b.turnedAt(q)
		// By the middle of the side and half its angle, so that a side along the
		// bend, whose angle is rounding, sums to nothing and not to noise.
		half := (to - from) / 2
		sin, cos := math.Sincos((from + to) / 2)
		sinHalf, cosHalf := math.Sincos(half)
		lean := du * (sinc(half) - cosHalf)
		n += 2 * u * half
		nu += (u*u + du*du/12) * half
		nsin += 2*u*sin*sinHalf + cos*lean
		ncos += 2*u*cos*sinHalf - sin*lean
	}
	if n < 0 { // stations and angles see the zone from below
		n, nu, nsin, ncos = -n, -nu, -nsin, -ncos
	}
	first, second := s.rings(b)
	x := s.turnsAbout(b)
	moment := r3.Scale(first*n, x.at)
	moment = r3.Add(moment, r3.Scale(first*nu, x.along))
	moment = r3.Add(moment, r3.Scale(second*nsin, x.out))
	moment = r3.Sub(moment, r3.Scale(second*x.sign*ncos, x.z))
	return tally{first * n, (b.Radius + s.Flat.Thickness/2) * n, moment}
}

// turnedAt is the angle that the metal at a flat point of the zone turns through.
func (b *Bend) turnedAt(p r2.Vec) float64 {
	return b.Angle.Radians() * r2.Dot(r2.Sub(p, b.A), b.out()) / b.Width
}

func sinc(x float64) float64 {
	if x == 0 {
		return 1
	}
	return math.Sin(x) / x
}

// A spot is one flat point of a bend whose bevel changes: its station, how far out
// of A-B it lies, the section there and what the section changes by along the bend.
type spot struct {
	u, v float64
	is   Section
	by   Section // in 1 mm
}

// inBend is the metal under a unit of flat area within the bend. Along the axis
// nothing moves, so the volume is that of the roll: r·A/W; the middle surface leans
// by as much as the tangent line runs off the axis.
func (s *Solid) inBend(b *Bend, at spot) tally {
	first, second := s.rings(b)
	x := s.turnsAbout(b)
	rate := at.is.Angle.Radians() / at.is.Width
	sin, cos := math.Sincos(rate * (at.v - at.is.Near))
	moment := r3.Scale(rate*first, x.point(at.u, at.is.Near))
	moment = r3.Add(moment, r3.Scale(rate*second*sin, x.out))
	moment = r3.Sub(moment, r3.Scale(rate*second*x.sign*cos, x.z))
	return tally{rate * first, rate * (b.Radius + s.Flat.Thickness/2) * math.Hypot(1, at.by.Near*sin), moment}
}

// beyondBend is the metal under a unit of flat area of the panel that such a bend
// turns: a sheet that winds along its edge.
func (s *Solid) beyondBend(b *Bend, at spot) tally {
	t := s.Flat.Thickness
	sin := math.Sin(at.is.Angle.Radians())
	out := at.v - at.is.Near - at.is.Width
	lean := out*at.by.Angle.Radians() - at.by.Near*sin
	p := r2.Add(b.A, r2.Add(r2.Scale(at.u, b.along()), r2.Scale(at.v, b.out())))
	return tally{t, math.Hypot(1, lean), r3.Scale(t, s.turned(b, at.is).Point(p, -t/2))}
}

// wound sums metal over a polygon of a bend whose bevel changes, section by section.
func (s *Solid) wound(b *Bend, corners []r2.Vec, metal func(*Bend, spot) tally) tally {
	var sum tally
	last := len(b.Sections) - 1
	for k := range last {
		p, q := b.Sections[k], b.Sections[k+1]
		piece := corners
		if k > 0 {
			piece = b.beyond(piece, p.At, +1)
		}
		if k < last-1 {
			piece = b.beyond(piece, q.At, -1)
		}
		d := q.At - p.At
		by := Section{1, (q.Near - p.Near) / d, (q.Width - p.Width) / d, (q.Angle - p.Angle) / measure.Angle(d)}
		for i := 1; i+1 < len(piece); i++ {
			quarters(piece[0], piece[i], piece[i+1], func(at r2.Vec, area float64) {
				u := b.station(at)
				along := u - p.At
				is := Section{u, p.Near + along*by.Near, p.Width + along*by.Width, p.Angle + measure.Angle(along)*by.Angle}
				m := metal(b, spot{u, r2.Dot(r2.Sub(at, b.A), b.out()), is, by})
				sum.add(tally{area * m.volume, area * m.middle, r3.Scale(area, m.moment)})
			})
		}
	}
	return sum
}

// quarters visits a triangle in four: across a bend the metal turns far, however close
// the sections stand along it.
func quarters(p, q, r r2.Vec, visit func(at r2.Vec, area float64)) {
	half := func(a, b r2.Vec) r2.Vec { return r2.Scale(0.5, r2.Add(a, b)) }
	pq, qr, rp := half(p, q), half(q, r), half(r, p)
	triangle(p, pq, rp, visit)
	triangle(pq, q, qr, visit)
	triangle(rp, qr, r, visit)
	triangle(pq, qr, rp, visit)
}

// triangle visits the seven points of a triangle that integrate polynomials of the
// fifth degree (Radon's rule of 1948, from memory; a test holds it), each with its
// share of the signed area.
func triangle(p, q, r r2.Vec, visit func(at r2.Vec, area float64)) {
	area := r2.Cross(r2.Sub(q, p), r2.Sub(r, p)) / 2
	at := func(i, j, k float64) r2.Vec {
		return r2.Add(r2.Scale(i, p), r2.Add(r2.Scale(j, q), r2.Scale(k, r)))
	}
	root := math.Sqrt(15)
	visit(at(1./3, 1./3, 1./3), area*9/40)
	for _, sign := range [2]float64{-1, 1} {
		near, weight := (6+sign*root)/21, area*(155+sign*root)/1200
		far := 1 - 2*near
		visit(at(far, near, near), weight)
		visit(at(near, far, near), weight)
		visit(at(near, near, far), weight)
	}
}
