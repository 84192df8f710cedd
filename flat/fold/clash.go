package fold

import (
	"math"
	"slices"

	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// A Piece names a panel (Bend false) or a bend by its index in the [Flat].
type Piece struct {
	Index int
	Bend  bool
}

// A Clash is a place where two pieces of the folded sheet stand in each other's
// metal.
type Clash struct {
	A, B Piece
	At   r3.Vec  // in space, within both
	Flat r2.Vec  // the same metal of A or B on the blank
	Deep float64 // how far within, mm; at least the depth asked for
}

// slabsPerBend is the number of flat slabs that stand for the curl of a bend.
// Eight keep the slab within 0.03 mm of the true curl at 90° and 6 mm radius.
const slabsPerBend = 8

// A slab is a flat piece of folded metal: a polygon of the blank, one thickness
// deep, placed by a frame.
type slab struct {
	frame   Frame
	corners []r2.Vec
	box     r3.Box
	flat    r2.Box // round corners
}

// A body is a panel or a bend as the slabs it is taken for.
type body struct {
	piece Piece
	slabs []slab
	box   r3.Box
}

// Clashes finds every pair of pieces that penetrate each other by more than deep
// (mm), one place a pair. Pieces that hang together - a panel and its bend, the
// panels on both sides of a bend - are one metal and not compared. Metal within
// the drilled circles is gone.
//
// A curl is taken as flat slabs, which lie off it by [Solid.Coarseness]; where pieces
// stand nearer to each other than that, deep should not be less.
func (s Solid) Clashes(deep float64, drilled []Circle) []Clash {
	bodies := s.bodies()
	var clashes []Clash
	for i := range bodies {
		for j := i + 1; j < len(bodies); j++ {
			a, b := &bodies[i], &bodies[j]
			if !overlap(a.box, b.box, deep) || s.joined(a.piece, b.piece) {
				continue
			}
			if c, hit := s.clash(a, b, deep, drilled); hit {
				clashes = append(clashes, c)
			}
		}
	}
	return clashes
}

// Coarseness is how far the slabs that stand for a curl in [Solid.Clashes] may put its metal off its
// place, mm, the most of all bends. A slab touches the curl in its middle: over half its angle, A/16,
// it leaves the outside face by (R+T)·(1-cos(A/16)). All of it is as long as the neutral line, W
// of the flat, so that its ends lie (W-R·A)/16 off on the inside face and ((R+T)·A-W)/16 on the
// outside; where the bend is mitred, its corners with them.
func (s Solid) Coarseness() float64 {
	off := 0.0
	for i := range s.Flat.Bends {
		b := &s.Flat.Bends[i]
		outside := b.Radius + s.Flat.Thickness
		for _, at := range b.cuts() {
			half, long := at.Angle.Radians()/(2*slabsPerBend), at.Width/(2*slabsPerBend)
			off = max(off, outside*(1-math.Cos(half)), long-b.Radius*half, outside*half-long)
		}
	}
	return off
}

// clash looks for one place where two bodies share metal.
func (s *Solid) clash(a, b *body, deep float64, drilled []Circle) (Clash, bool) {
	for i := range a.slabs {
		p := &a.slabs[i]
		if !overlap(p.box, b.box, deep) {
			continue
		}
		for j := range b.slabs {
			q := &b.slabs[j]
			if !overlap(p.box, q.box, deep) {
				continue
			}
			if c, hit := s.pierce(p, q, deep, drilled); hit {
				c.A, c.B = a.piece, b.piece
				return c, true
			}
			if c, hit := s.pierce(q, p, deep, drilled); hit {
				c.A, c.B = b.piece, a.piece
				return c, true
			}
		}
	}
	return Clash{}, false
}

// A Circle is a round piece of the blank that is cut away.
type Circle struct {
	Center r2.Vec
	Radius float64
}

// joined reports whether two pieces are one bent strip where they meet.
func (s *Solid) joined(a, b Piece) bool {
	switch {
	case a == b:
		return true
	case !a.Bend && !b.Bend:
		for i := range s.Flat.Bends {
			bend := &s.Flat.Bends[i]
			if bend.Parent == a.Index && bend.Child == b.Index || bend.Parent == b.Index && bend.Child == a.Index {
				return true
			}
		}
		return false
	case a.Bend && b.Bend:
		return false
	case b.Bend:
		a, b = b, a
	}
	bend := &s.Flat.Bends[a.Index]
	return bend.Parent == b.Index || bend.Child == b.Index
}

// bodies are the panels and the bends, each as slabs.
func (s *Solid) bodies() []body {
	f := &s.Flat
	slabs := make([]slab, 0, len(f.Panels)+slabsPerBend*len(f.Bends))
	bodies := make([]body, 0, len(f.Panels)+len(f.Bends))
	end := func(piece Piece, first int) {
		bodies = append(bodies, body{piece: piece, slabs: slabs[first:len(slabs):len(slabs)]})
	}
	for i, corners := range f.Panels {
		first := len(slabs)
		if k := s.bends[i]; k >= 0 && len(f.Bends[k].Sections) > 0 {
			slabs = s.strips(slabs, i, &f.Bends[k])
		} else {
			slabs = append(slabs, slab{frame: s.Frames[i], corners: corners})
		}
		end(Piece{Index: i}, first)
	}
	corners := make([]r2.Vec, 0, 4*slabsPerBend*len(f.Bends))
	for i := range f.Bends {
		if len(f.Bends[i].Zone) != 4 {
			continue
		}
		first := len(slabs)
		slabs, corners = s.facets(slabs, corners, &f.Bends[i])
		end(Piece{Index: i, Bend: true}, first)
	}
	for i := range bodies {
		bodies[i].measure(f.Thickness)
	}
	return bodies
}

// facets cuts the curl of a bend into slabs across it.
func (s *Solid) facets(into []slab, corners []r2.Vec, b *Bend) ([]slab, []r2.Vec) {
	// Zone corners: near start, far start, far end, near end.
	across := func(from, to r2.Vec, part float64) r2.Vec { return r2.Add(from, r2.Scale(part, r2.Sub(to, from))) }
	at := b.section(r2.Norm(r2.Sub(b.B, b.A)) / 2)
	roll := b.roll(&s.Frames[b.Parent], s.Flat.Thickness, at.Near)
	for k := range slabsPerBend {
		p, q := float64(k)/slabsPerBend, float64(k+1)/slabsPerBend
		corners = append(corners,
			across(b.Zone[0], b.Zone[1], p), across(b.Zone[0], b.Zone[1], q),
			across(b.Zone[3], b.Zone[2], q), across(b.Zone[3], b.Zone[2], p))
		mid := (p + q) / 2
		into = append(into, slab{
			frame:   roll.frame(mid*at.Width, at.Angle*measure.Angle(mid)),
			corners: corners[len(corners)-4:],
		})
	}
	return into, corners
}

// strips cuts a panel whose bevel changes into slabs along its bend.
func (s *Solid) strips(into []slab, panel int, b *Bend) []slab {
	corners := s.Flat.Panels[panel]
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, c := range corners {
		lo, hi = min(lo, b.station(c)), max(hi, b.station(c))
	}
	const strips = 8
	for k := range strips {
		from, to := lo+(hi-lo)*float64(k)/strips, lo+(hi-lo)*float64(k+1)/strips
		piece := b.beyond(b.beyond(corners, from, +1), to, -1)
		if len(piece) >= 3 {
			into = append(into, slab{frame: s.turned(b, b.section((from+to)/2)), corners: piece})
		}
	}
	return into
}

// beyond keeps the part of a polygon past a station of the bend, or before it.
func (b *Bend) beyond(corners []r2.Vec, station, sign float64) []r2.Vec {
	kept := make([]r2.Vec, 0, len(corners)+2)
	for i, p := range corners {
		q := corners[(i+1)%len(corners)]
		dp, dq := sign*(b.station(p)-station), sign*(b.station(q)-station)
		if dp >= 0 {
			kept = append(kept, p)
		}
		if (dp >= 0) != (dq >= 0) {
			kept = append(kept, r2.Add(p, r2.Scale(dp/(dp-dq), r2.Sub(q, p))))
		}
	}
	return kept
}

// measure puts boxes round the slabs of a body and round the whole.
func (b *body) measure(thickness float64) {
	b.box = nowhere()
	for i := range b.slabs {
		a := &b.slabs[i]
		a.box = nowhere()
		a.flat = r2.Box{Min: r2.Vec{X: math.Inf(1), Y: math.Inf(1)}, Max: r2.Vec{X: math.Inf(-1), Y: math.Inf(-1)}}
		through := r3.Scale(thickness, a.frame.Z)
		for _, c := range a.corners {
			spread(&a.flat.Min.X, &a.flat.Max.X, c.X)
			spread(&a.flat.Min.Y, &a.flat.Max.Y, c.Y)
			near := a.frame.Point(c, 0)
			grow(&a.box, near)
			grow(&a.box, r3.Sub(near, through))
		}
		grow(&b.box, a.box.Min)
		grow(&b.box, a.box.Max)
	}
}

// nowhere is the box of no point.
func nowhere() r3.Box {
	in := math.Inf(1)
	return r3.Box{Min: r3.Vec{X: in, Y: in, Z: in}, Max: r3.Vec{X: -in, Y: -in, Z: -in}}
}

// grow makes a box hold p too.
func grow(b *r3.Box, p r3.Vec) {
	spread(&b.Min.X, &b.Max.X, p.X)
	spread(&b.Min.Y, &b.Max.Y, p.Y)
	spread(&b.Min.Z, &b.Max.Z, p.Z)
}

// spread makes a range hold x, a number: plain comparisons cost half of min and max.
func spread(lo, hi *float64, x float64) {
	if x < *lo {
		*lo = x
	}
	if x > *hi {
		*hi = x
	}
}

func overlap(a, b r3.Box, deep float64) bool {
	return a.Min.X+deep < b.Max.X && b.Min.X+deep < a.Max.X &&
		a.Min.Y+deep < b.Max.Y && b.Min.Y+deep < a.Max.Y &&
		a.Min.Z+deep < b.Max.Z && b.Min.Z+deep < a.Max.Z
}

// pierce looks for an edge of a that runs deep within b: on either face, or through the
// sheet. Two solids that share metal do so along an edge of the one or of the other, unless
// they are cut to one length or their faces lie in one plane: then those edges run on the rims
// and faces of each other and are not deep, but the lines are that run halfway between the
// faces from the middle of the slab to the middles of its edges.
func (s *Solid) pierce(a, b *slab, deep float64, drilled []Circle) (Clash, bool) {
	n := len(a.corners)
	thickness := s.Flat.Thickness
	// The corners of a as they lie in b, on either face.
	var room [2][8]r3.Vec
	top, under := room[0][:0], room[1][:0]
	reach := nowhere()
	lies := b.sees(&a.frame)
	through := r3.Scale(thickness, lies.Z)
	for _, c := range a.corners {
		p := lies.Point(c, 0)
		q := r3.Sub(p, through)
		top, under = append(top, p), append(under, q)
		grow(&reach, p)
		grow(&reach, q)
	}
	if reach.Min.Z > -deep || reach.Max.Z < deep-thickness ||
		!b.near(r2.Vec{X: reach.Min.X, Y: reach.Min.Y}, r2.Vec{X: reach.Max.X, Y: reach.Max.Y}, deep) {
		return Clash{}, false
	}
	half := func(i int) r3.Vec { return r3.Scale(0.5, r3.Add(top[i], under[i])) }
	middle, heart := r2.Vec{}, r3.Vec{}
	for i, c := range a.corners {
		middle, heart = r2.Add(middle, r2.Scale(1/float64(n), c)), r3.Add(heart, r3.Scale(1/float64(n), half(i)))
	}
	for i := range n {
		next := (i + 1) % n
		p, q := a.corners[i], a.corners[next]
		for side := range 4 {
			// Most edges are far away: where they lie in b is looked at first.
			var from, to r3.Vec
			switch side {
			case 0:
				from, to = top[i], top[next]
			case 1:
				from, to = under[i], under[next]
			case 2:
				from, to = top[i], under[i]
			case 3:
				from, to = heart, r3.Scale(0.5, r3.Add(half(i), half(next)))
			}
			if from.Z < deep-thickness && to.Z < deep-thickness || from.Z > -deep && to.Z > -deep ||
				!b.near(r2.Vec{X: from.X, Y: from.Y}, r2.Vec{X: to.X, Y: to.Y}, deep) {
				continue
			}
			e := edge{p, q, 0, 0, from, to}
			switch side {
			case 1:
				e.pz, e.qz = -thickness, -thickness
			case 2:
				e.q, e.qz = p, -thickness
			case 3:
				e.p, e.q, e.pz, e.qz = middle, r2.Scale(0.5, r2.Add(p, q)), -thickness/2, -thickness/2
			}
			t, depth, hit := b.within(e.from, e.to, thickness, deep, func(t float64, inB r2.Vec) bool {
				return cutAway(e.flat(t), drilled) || cutAway(inB, drilled)
			})
			if hit {
				return Clash{At: a.frame.Point(e.flat(t), e.pz+t*(e.qz-e.pz)), Flat: e.flat(t), Deep: depth}, true
			}
		}
	}
	return Clash{}, false
}

// An edge of a slab runs from p to q on the blank, at heights pz and qz.
type edge struct {
	p, q     r2.Vec
	pz, qz   float64
	from, to r3.Vec // as it lies in another slab
}

// flat is the point of the blank a part of the way along the edge.
func (e *edge) flat(t float64) r2.Vec { return r2.Add(e.p, r2.Scale(t, r2.Sub(e.q, e.p))) }

func cutAway(p r2.Vec, drilled []Circle) bool {
	for _, c := range drilled {
		if r2.Norm2(r2.Sub(p, c.Center)) < c.Radius*c.Radius {
			return true
		}
	}
	return false
}

// sees gives a frame of space as it lies in the slab's flat coordinates, so that what
// the frame places is placed there at once.
func (a *slab) sees(f *Frame) Frame {
	turn := func(v r3.Vec) r3.Vec {
		return r3.Vec{X: r3.Dot(v, a.frame.X), Y: r3.Dot(v, a.frame.Y), Z: r3.Dot(v, a.frame.Z)}
	}
	at := r3.Vec{X: a.frame.At.X, Y: a.frame.At.Y}
	return Frame{At: f.At, O: r3.Add(at, turn(r3.Sub(f.O, a.frame.O))), X: turn(f.X), Y: turn(f.Y), Z: turn(f.Z)}
}

// within finds a place on the segment from p to q, in the slab's own coordinates,
// that lies deep within the slab and is not gone.
func (a *slab) within(p, q r3.Vec, thickness, deep float64, gone func(float64, r2.Vec) bool) (t, depth float64, hit bool) {
	t0, t1, ok := clipDepth(p.Z, q.Z, -thickness+deep, -deep)
	if !ok {
		return 0, 0, false
	}
	at := func(t float64) r2.Vec { return r2.Vec{X: p.X + t*(q.X-p.X), Y: p.Y + t*(q.Y-p.Y)} }
	if !a.near(at(t0), at(t1), deep) {
		return 0, 0, false
	}
	var cuts [16]float64
	marks := append(cuts[:0], t0, t1)
	from, to := at(0), at(1)
	for i := range a.corners {
		if t, ok := crossing(from, to, a.corners[i], after(a.corners, i)); ok && t0 < t && t < t1 {
			marks = append(marks, t)
		}
	}
	slices.Sort(marks)
	const tries = 5
	for i := 0; i+1 < len(marks); i++ {
		for k := range tries {
			t := marks[i] + (marks[i+1]-marks[i])*(float64(k)+0.5)/tries
			flat := at(t)
			if !a.near(flat, flat, deep) || deep >= 0 && !holds(a.corners, flat) {
				continue
			}
			if depth := inside(flat, a.corners); depth > deep && !gone(t, flat) {
				z := p.Z + t*(q.Z-p.Z)
				return t, min(depth, -z, thickness+z), true
			}
		}
	}
	return 0, 0, false
}

// near reports whether the box with corners p and q comes so far into the box round
// the slab's own corners that something there may lie deep within the slab.
func (a *slab) near(p, q r2.Vec, deep float64) bool {
	deep *= 1 - 1e-9 // what rounding may take off a distance
	left, right, low, high := a.flat.Min.X+deep, a.flat.Max.X-deep, a.flat.Min.Y+deep, a.flat.Max.Y-deep
	return (p.X > left || q.X > left) && (p.X < right || q.X < right) && (p.Y > low || q.Y > low) && (p.Y < high || q.Y < high)
}

// clipDepth is the part of a segment whose height lies between lo and hi.
func clipDepth(p, q, lo, hi float64) (t0, t1 float64, ok bool) {
	t0, t1 = 0, 1
	if d := q - p; math.Abs(d) > 1e-12 {
		a, b := (lo-p)/d, (hi-p)/d
		t0, t1 = max(0, min(a, b)), min(1, max(a, b))
	} else if !(lo <= p && p <= hi) {
		return 0, 0, false
	}
	return t0, t1, t0 <= t1
}

// crossing is where, as a part of p to q, that segment crosses a to b.
func crossing(p, q, a, b r2.Vec) (float64, bool) {
	d, e := r2.Sub(q, p), r2.Sub(b, a)
	den := r2.Cross(d, e)
	if den == 0 {
		return 0, false
	}
	m := r2.Sub(a, p)
	u := r2.Cross(m, d) / den
	return r2.Cross(m, e) / den, 0 <= u && u <= 1
}

// inside is how far p lies within a polygon, negative outside.
func inside(p r2.Vec, corners []r2.Vec) float64 {
	if holds(corners, p) {
		return fromRim(p, corners)
	}
	return -fromRim(p, corners)
}

// holds reports whether p lies within a polygon.
func holds(corners []r2.Vec, p r2.Vec) bool {
	in := false
	for i, a := range corners {
		b := after(corners, i)
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	return in
}

// fromRim is how far p lies from the nearest side of a polygon.
func fromRim(p r2.Vec, corners []r2.Vec) float64 {
	near := math.Inf(1)
	for i, a := range corners {
		b := after(corners, i)
		e, m := r2.Sub(b, a), r2.Sub(p, a)
		t := max(0, min(1, r2.Dot(m, e)/max(r2.Norm2(e), 1e-300)))
		near = min(near, r2.Norm2(r2.Sub(m, r2.Scale(t, e))))
	}
	return math.Sqrt(near)
}

// after is the corner that follows corner i round a polygon.
func after(corners []r2.Vec, i int) r2.Vec {
	if i++; i == len(corners) {
		i = 0
	}
	return corners[i]
}
