package flat

import (
	"math"

	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// What a boundary piece of a flange is.
const (
	baseEdge = iota
	startEdge
	freeEdge
	endEdge
)

// A rimPoint is a corner of a flange in its own coordinates, u along the mold
// line and y outward from it, and the kind of edge that starts there.
type rimPoint struct {
	u, y float64
	edge int
}

// coincident is how near two corners of a blank may lie and still be one, mm: a
// hundredth of what a scriber can mark, and far above rounding.
const coincident = 1e-4

// trimFlange cuts the flange of s to the largest shape its ends allow. Corners run
// from the start of the bend out along the start trim, along the free edge and
// back to the end of the bend. Nil is a flange of which nothing is left.
func (l *layout) trimFlange(s *side, first, last *end, inherited []wall) []rimPoint {
	// From well beyond either corner; the ends cut it back.
	base := s.baseLine()
	reach := s.length + 4*(math.Abs(s.height0)+math.Abs(s.rise)*s.length+base.at(s.station(s.from))+base.at(s.station(s.to)))
	lo, hi := s.station(s.from)-reach, s.station(s.to)+reach
	top := max(s.height(lo), s.height(hi), base.at(lo), base.at(hi)) + 1
	shape, spare := append(l.shape[:0],
		rimPoint{lo, base.at(lo), startEdge}, rimPoint{lo, top, freeEdge},
		rimPoint{hi, top, endEdge}, rimPoint{hi, base.at(hi), baseEdge}), l.spare
	keep := func(h half, edge int) {
		spare = clip(spare[:0], shape, h, edge)
		shape, spare = spare, shape
	}

	keep(half{a: -s.rise, b: 1, c: s.height0}, freeEdge)
	ends := [2]*end{first, last}
	kinds := [2]int{startEdge, endEdge}
	var limits [8]half
	for i, e := range ends {
		for _, h := range e.halves(limits[:0]) {
			keep(h, kinds[i])
		}
	}
	for _, w := range inherited {
		h := first.folded(w)
		switch {
		case h.a > leastAcross:
			keep(h, endEdge)
		case h.a < -leastAcross:
			keep(h, startEdge)
		}
	}
	for i, e := range ends {
		if h, ok := e.narrow(shape, base, e.zoneLimit(inherited)); ok {
			keep(h, kinds[i])
		}
		if e.trim.Kind == Square {
			keep(e.short(e.square(shape)), kinds[i])
		}
	}
	for _, e := range ends {
		l.noteHeldEnd(e, shape)
	}
	l.shape, l.spare = fromBase(spare[:0], tidy(shape)), shape
	return l.shape
}

// noteHeldEnd tells where an end that is cut at an angle does not reach as far out as that: something stands in
// the way, or nothing may stand there at all.
func (l *layout) noteHeldEnd(e *end, shape []rimPoint) {
	_, tip, ok := e.span(shape)
	if e.trim.Kind != Angled || !ok {
		return
	}
	asked := e.sign*e.s.station(e.corner.mold) - e.trim.Inset - math.Tan(e.trim.Angle.Radians())*tip.y
	if short := asked - e.sign*tip.u; short > leastHeld {
		l.find(Finding{Severity: Note, Place: e.s.where.place(), At: e.s.flat(tip.u, tip.y), Source: geometry,
			Text: "its end is cut back from the angle asked for, at the free edge by " + measure.Both(short) + ", to stay clear of what lies beside it"})
	}
}

// leastHeld is how much shorter than asked an end may come out without a word, mm.
const leastHeld = 0.05

// A slope is a straight line over the stations of an edge.
type slope struct{ start, rise float64 }

func (l slope) at(u float64) float64 { return l.start + l.rise*u }

// baseLine is where the flange proper starts, its tangent line, from the mold line.
// Of a twisted flange it is the chord of the curve; the shape is put on the curve
// itself when it goes to the blank.
func (s *side) baseLine() slope {
	if s.twist == nil {
		return slope{start: s.setback}
	}
	from, to := s.station(s.from), s.station(s.to)
	a, b := s.at(from).setback, s.at(to).setback
	rise := (b - a) / (to - from)
	return slope{a - rise*from, rise}
}

// clip keeps the part of a convex shape within h; the cut is of the given kind.
func clip(into, shape []rimPoint, h half, edge int) []rimPoint {
	for i, p := range shape {
		q := shape[(i+1)%len(shape)]
		dp, dq := h.c-h.a*p.u-h.b*p.y, h.c-h.a*q.u-h.b*q.y
		if dp >= 0 {
			into = append(into, p)
		}
		if (dp >= 0) != (dq >= 0) {
			t := dp / (dp - dq)
			cross := rimPoint{p.u + t*(q.u-p.u), p.y + t*(q.y-p.y), p.edge}
			if p.y == q.y {
				cross.y = p.y // stay on the tangent line to the last bit
			}
			if dp >= 0 {
				cross.edge = edge
			}
			into = append(into, cross)
		}
	}
	return into
}

// narrow is the cut that brings the end of the bend back to station limit and
// leaves the corner of the free edge where it is, if there is one.
func (e *end) narrow(shape []rimPoint, base slope, limit float64) (h half, ok bool) {
	far, tip, ok := e.span(shape)
	if !ok || e.sign*far <= e.sign*limit {
		return half{}, false
	}
	y := base.at(limit)
	du, dy := tip.u-limit, tip.y-y
	if !(dy > coincident) {
		return e.short(limit), true // its free edge ends on the bend: there is no corner to leave
	}
	// The line from (limit, y) to the tip, its clear side inward.
	return half{a: e.sign * dy, b: -e.sign * du, c: e.sign * (dy*limit - du*y)}, true
}

// square is the station of the farthest end that is square to the mold line and
// clears all along.
func (e *end) square(shape []rimPoint) float64 {
	mold := e.s.station(e.corner.mold) - e.sign*e.trim.Inset
	base, tip, ok := e.span(shape)
	if !ok {
		return mold
	}
	return e.sign * min(e.sign*mold, e.sign*base, e.sign*tip.u)
}

// span finds, at this end of a shape, the station of the bend's end and the corner
// of the free edge.
func (e *end) span(shape []rimPoint) (base float64, tip rimPoint, ok bool) {
	farBase, farTip := math.Inf(-1), math.Inf(-1)
	for i, p := range shape {
		q := shape[(i+1)%len(shape)]
		for _, c := range [2]rimPoint{p, q} {
			switch {
			case p.edge == baseEdge && e.sign*c.u > farBase:
				farBase, base = e.sign*c.u, c.u
			case p.edge == freeEdge && e.sign*c.u > farTip:
				farTip, tip = e.sign*c.u, c
			}
		}
	}
	if math.IsInf(farTip, -1) && len(shape) > 0 {
		// The ends meet below the free edge: the tip is where they do.
		for _, p := range shape {
			if p.y > tip.y {
				tip = p
			}
		}
	}
	return base, tip, !math.IsInf(farBase, -1)
}

// tidy drops, in place, corners that coincide with the next.
func tidy(shape []rimPoint) []rimPoint {
	if len(shape) == 0 {
		return nil
	}
	first, kept := shape[0], shape[:0]
	for i, p := range shape {
		q := first
		if i+1 < len(shape) {
			q = shape[i+1]
		}
		if math.Hypot(q.u-p.u, q.y-p.y) > coincident {
			kept = append(kept, p)
		}
	}
	return kept
}

// fromBase turns the corners so that the first is the start of the bend. Nil
// where no bend is left.
func fromBase(into, shape []rimPoint) []rimPoint {
	if len(shape) < 3 {
		return nil
	}
	for i, p := range shape {
		if p.edge == baseEdge {
			return append(append(into, shape[i+1:]...), shape[:i+1]...)
		}
	}
	return nil
}

// flangeOnBlank places the corners of a flange on the blank: the points of its panel,
// and the vertices of its rim, added to into. They differ where the bevel changes along the edge: the
// free edge is a curve there, points close together in the panel, arcs on the rim.
func (l *layout) flangeOnBlank(into []outline.Vertex, s *side, shape []rimPoint) (points []r2.Vec, rim []outline.Vertex) {
	points, rim = l.points.cut(len(shape))[:0], into
	for i, p := range shape {
		if s.twist != nil && (i == 0 || i == len(shape)-1) {
			p.y = s.at(p.u).setback // from the chord to the curve
		}
		at := s.flat(p.u, p.y)
		points, rim = append(points, at), append(rim, outline.Vertex{P: at})
		if s.twist != nil && i+1 < len(shape) {
			first := len(points) - 1
			points = s.follow(points, p, shape[i+1])
			curve := append(append([]r2.Vec(nil), points[first:]...), s.flat(shape[i+1].u, shape[i+1].y))
			rim = append(rim[:len(rim)-1], asArcs(curve)...)
			rim = rim[:len(rim)-1] // the next corner
		}
	}
	return points, rim
}

// curveTolerance is how far an arc may lie from the curve it stands for, mm: a
// tenth of what a cutter holds.
const curveTolerance = 0.005

// asArcs is a smooth curve, given by points close together, as few arcs; as the
// chords between the points where no arcs fit.
func asArcs(curve []r2.Vec) []outline.Vertex {
	if len(curve) > 2 {
		if path, err := outline.FitPoints(curve, curveTolerance); err == nil {
			return path.Vertices
		}
	}
	return outline.Polyline(curve...).Vertices
}

// twistSteps is how many chords stand for a curved line along a twisted flange.
// The curve leaves a chord by the square of its share of the twist: 32 chords
// over 10° in 200 mm keep within a ten-thousandth of a millimetre.
const twistSteps = 32

// follow adds the points between p and q of an edge that curves on the blank.
func (s *side) follow(points []r2.Vec, p, q rimPoint) []r2.Vec {
	steps := int(math.Ceil(twistSteps * math.Abs(q.u-p.u) / s.length))
	for k := 1; k < steps; k++ {
		t := float64(k) / float64(steps)
		points = append(points, s.flat(p.u+t*(q.u-p.u), p.y+t*(q.y-p.y)))
	}
	return points
}
