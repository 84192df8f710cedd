package brake

import (
	"math"

	"github.com/hangarflat/hangarflat/flat/fold"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// A grip is one way to make a bend: held by its parent's side or by the child's, the
// other side swung.
type grip struct {
	bend     int
	byParent bool
}

// A verdict is how a bend goes with some of the others made: the tightest place.
type verdict struct {
	clears float64 // mm; below zero metal stands in the brake; +Inf without bent metal
	tool   tool
	piece  fold.Piece
	swings bool          // one of the two moves with the leaf
	at     measure.Angle // and this is how far that has turned
	// beside is how far metal that is not to be bent reaches past the bend, onto the
	// leaf or under the bar, mm.
	beside float64
}

// sooner keeps the tighter of two verdicts, the first where they are even.
func (v verdict) sooner(o verdict) verdict {
	beside := max(v.beside, o.beside)
	if o.clears < v.clears {
		v = o
	}
	v.beside = beside
	return v
}

// A job is one blank in one brake while its orders are looked through.
type job struct {
	brake Brake
	flat  fold.Flat
	noses []float64       // radius of the nose for each bend, mm
	to    []measure.Angle // the leaf turns each bend to this
	below []made          // the bends that hang from each bend's child

	// thorough looks on past the first clash for the worst one.
	thorough bool

	stocks map[made]stock
	sides  map[sideKey]verdict
	tools  map[grip]convex // section of the nose bar
}

type sideKey struct {
	grip
	held bool
	made made
}

// judge says how a bend goes with the made ones made.
func (j *job) judge(g grip, m made) verdict {
	child := j.below[g.bend]
	parent := made(1)<<len(j.flat.Bends) - 1
	parent &^= child.with(g.bend)
	held, swung := parent, child
	if !g.byParent {
		held, swung = child, parent
	}
	return j.half(sideKey{g, true, m & held}).sooner(j.half(sideKey{g, false, m & swung}))
}

// half is the verdict of one side of a bend; it depends on the bends of that side
// alone.
func (j *job) half(k sideKey) verdict {
	if v, ok := j.sides[k]; ok {
		return v
	}
	v := j.look(k)
	j.sides[k] = v
	return v
}

func (j *job) stock(m made) *stock {
	s, ok := j.stocks[m]
	if !ok {
		// The whole sheet has been folded without error; with some bends flat it is too.
		s, _ = part(j.flat, m)
		j.stocks[m] = s
	}
	return &s
}

func (j *job) look(k sideKey) verdict {
	b := &j.flat.Bends[k.bend]
	s := j.stock(k.made)
	held := s.seat(&j.flat, k.bend, k.byParent, b.Up)
	from, to := j.brake.bar(held.first, held.last)
	l := look{
		job: j, best: verdict{clears: math.Inf(1)},
		bar:   j.section(k.grip),
		bed:   j.brake.Bed.section(),
		leaf:  j.brake.Leaf.section(),
		swing: j.swing(k.bend),
		to:    j.to[k.bend],
	}
	if k.held {
		side := s.side(held, k.bend, b.Up, from, to)
		for i := range side.bent {
			if l.clashed() {
				break
			}
			l.held(&side.bent[i])
		}
		l.best.beside = side.top - b.Width
		return l.best
	}
	// The bar covers the held tangent line; both seats measure along the same line
	// from the same start.
	swung := s.seat(&j.flat, k.bend, !k.byParent, b.Up).turnedAway()
	side := s.side(swung, k.bend, b.Up, from, to)
	for i := range side.bent {
		if l.clashed() {
			break
		}
		l.swung(&side.bent[i])
	}
	l.best.beside = -side.low - b.Width
	return l.best
}

// swing of a bend: overbend is wrapped round the sharper nose like the rest of it.
func (j *job) swing(bend int) swing {
	return swing{j.flat.Thickness, j.noses[bend], j.flat.Bends[bend].Width, j.to[bend]}
}

func (j *job) section(g grip) convex {
	c, ok := j.tools[g]
	if !ok {
		c = j.brake.Nose.section(j.flat.Thickness, j.noses[g.bend])
		j.tools[g] = c
	}
	return c
}

// A look goes over the bent metal of one side through one swing.
type look struct {
	*job
	bar, bed, leaf convex
	swing          swing
	to             measure.Angle
	best           verdict
	slack          float64 // by which a swing may clear less than at its steps, mm
	enough         float64 // clearance that makes no difference
	spare          convex
}

// clashed reports that enough was seen to know that the bend cannot be made.
func (l *look) clashed() bool {
	return !l.thorough && l.best.clears < l.brake.Clear-touching
}

// held looks at bent metal on the held side: still, beside bar and bed, while the leaf
// comes up in front.
func (l *look) held(p *profile) {
	if len(p.bar) > 0 {
		l.still(p, noseBar, l.bar, p.bar, p.over)
		l.raised(p)
	}
	l.still(p, bed, l.bed, p.whole, !p.over)
	l.sweep(p, leaf, false, l.swing.reach(l.leaf), func(a measure.Angle) float64 {
		l.spare = l.swing.place(l.spare, l.leaf, a)
		return l.gap(l.spare, p.whole)
	})
}

// swung looks at bent metal on the swung side: still against the leaf, carried past
// bar and bed.
func (l *look) swung(p *profile) {
	l.still(p, leaf, l.leaf, p.whole, !p.over)
	if len(p.bar) > 0 {
		l.sweep(p, noseBar, p.over, l.swing.reach(p.bar), func(a measure.Angle) float64 {
			l.spare = l.swing.place(l.spare, p.bar, a)
			return l.gap(l.bar, l.spare)
		})
	}
	l.sweep(p, bed, !p.over, l.swing.reach(p.whole), func(a measure.Angle) float64 {
		l.spare = l.swing.place(l.spare, p.whole, a)
		return l.gap(l.bed, l.spare)
	})
}

// still counts a clearance that does not change in the swing. Metal on the other side
// of the sheet from the tool lies close to it all the time, and counts when it stands
// in it only.
func (l *look) still(p *profile, t tool, c, d convex, counts bool) {
	l.count(verdict{clears: c.clearance(d), tool: t, piece: p.piece}, counts)
}

func (l *look) count(v verdict, counts bool) {
	if v.clears < l.best.clears && (counts || v.clears < -touching) {
		l.best = v
	}
}

// touching is how much metal may seem to stand in the brake by rounding alone, mm.
const touching = 1e-6

// raised asks whether what stands up behind the nose, or hangs down and has to come over
// the bed, passes under the raised bar.
func (l *look) raised(p *profile) {
	high := math.Inf(-1)
	for _, q := range p.bar.cut(r2.Vec{X: 1}, 0) {
		if p.over {
			high = max(high, q.Y)
		} else {
			high = max(high, l.flat.Thickness-q.Y)
		}
	}
	if gap := l.brake.Nose.Lift - high; !math.IsInf(high, -1) && gap < 0 {
		l.count(verdict{clears: gap, tool: lift, piece: p.piece}, true)
	}
}

// sweep finds the least clearance of a swing: at even steps, then closer and closer
// round the tightest of them. reach is how far the moving metal goes in 1 rad of swing.
func (l *look) sweep(p *profile, t tool, counts bool, reach float64, gap func(measure.Angle) float64) {
	const step, close = 3 * measure.Degree, 1e-6
	n := measure.Angle(math.Ceil(float64(l.to / step)))
	// Between two steps the clearance is less than at the nearer one by no more than
	// the metal moves.
	l.slack = reach * float64(l.to/n) / 2
	l.enough = l.best.clears
	if !counts {
		l.enough = min(l.enough, 0)
	}
	least, at := math.Inf(1), measure.Angle(0)
	try := func(a measure.Angle) {
		if g := gap(a); g < least {
			least, at = g, a
		}
	}
	for k := measure.Angle(0); k <= n; k++ {
		try(l.to * k / n)
	}
	if least-l.slack >= l.enough {
		return
	}
	for d := l.to / (2 * n); d > close; d /= 2 {
		mid := at
		if mid > 0 {
			try(max(0, mid-d))
		}
		if mid < l.to {
			try(min(l.to, mid+d))
		}
	}
	l.count(verdict{clears: least, tool: t, piece: p.piece, swings: true, at: at}, counts)
}

// gap is the clearance of two outlines, or what their boxes clear by where that is
// enough to know that the swing is not tightest near here.
func (l *look) gap(c, d convex) float64 {
	if far := boxGap(c, d); far-l.slack >= l.enough {
		return far
	}
	return c.clearance(d)
}

// boxGap is the distance between the upright boxes round two outlines.
func boxGap(c, d convex) float64 {
	lo, hi := box(c)
	from, to := box(d)
	x := max(from.X-hi.X, lo.X-to.X, 0)
	y := max(from.Y-hi.Y, lo.Y-to.Y, 0)
	return math.Sqrt(x*x + y*y)
}

func box(c convex) (lo, hi r2.Vec) {
	lo, hi = c[0], c[0]
	for _, p := range c[1:] {
		lo, hi = r2.Vec{X: min(lo.X, p.X), Y: min(lo.Y, p.Y)}, r2.Vec{X: max(hi.X, p.X), Y: max(hi.Y, p.Y)}
	}
	return lo, hi
}
