package outline

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// ErrNothingLeft is wrapped by the fault of an offset that leaves nothing: the
// distance is more than the widest circle that fits.
var ErrNothingLeft = errors.New("nothing is left at this distance")

// ErrNotProved is wrapped by the fault of a result that did not pass its own check.
// It is never returned together with a result.
var ErrNotProved = errors.New("the result did not pass its check")

// OffsetOptions chooses the corners of an offset. The zero value rounds them, which
// is the true set of points at the distance.
type OffsetOptions struct {
	// Miter is the farthest a sharp corner may reach from its vertex, as a multiple of the
	// distance: 1.42 keeps right angles sharp, 4 keeps corners down to 29 degrees.
	// A corner that would reach farther is rounded. 0 rounds all; else it must be
	// from 1 to 100.
	Miter float64
}

func (o OffsetOptions) check(fn string) error {
	if o.Miter == 0 || 1 <= o.Miter && o.Miter <= 100 {
		return nil
	}
	return badArgument(fn, "miter", o.Miter, "must be 0 or from 1 to 100 times the distance")
}

// Offset moves the boundary of a region by d mm: outward for d > 0, inward for d < 0.
// The region is bounded by closed paths with the material on their left: outlines
// counter-clockwise, holes clockwise, islands in holes counter-clockwise again. Arcs
// stay arcs. The result is such a region again: it may have more loops than the source,
// where a narrow place parts it, or fewer.
//
// The result lies within [Coincidence] times the size of the true offset. It is checked
// before it is returned: simple loops, nested and turned as a region's are, on the right side
// of the source, and of the area that the length and the turns of the source demand where no
// part of it vanished. That no point of it is nearer to the source than the distance, and that
// each segment keeps the distance from some segment of the source, is proved for the
// whole of it at every size. A distance at which
// two sides of a narrow place meet exactly has two right answers; the one without
// the join is given where it can be, else the one a few billionths away.
//
// Errors: a *[Fault] for each fault of the paths, for a distance that is not finite, for
// loops that are not nested, for a result that is empty (it wraps [ErrNothingLeft]), or
// one that could not be proved (it wraps [ErrNotProved]).
func Offset(region []Path, d float64, o OffsetOptions) ([]Path, error) {
	src, err := newRegion("Offset", region)
	if err = errors.Join(err, checkDistance("Offset", d), o.check("Offset")); err != nil {
		return nil, err
	}
	if d == 0 {
		return clonePaths(region), nil
	}
	return src.offset(d, o)
}

// Offset moves the boundary of a closed path by d mm to its right: outward from a
// counter-clockwise outline for d > 0. See the function [Offset]. Its errors are that function's.
func (p Path) Offset(d float64, o OffsetOptions) ([]Path, error) { return Offset([]Path{p}, d, o) }

func checkDistance(fn string, d float64) error {
	if math.Abs(d) <= maxCoordinate {
		return nil
	}
	return badArgument(fn, "distance", d, "must be finite and within 1e9 mm (a slip of units?)")
}

func clonePaths(ps []Path) []Path {
	out := make([]Path, len(ps))
	for i, p := range ps {
		out[i] = Path{Vertices: append([]Vertex(nil), p.Vertices...), Closed: p.Closed}
	}
	return out
}

// nudges are the relative changes of the distance tried when a result is not proved:
// first none, then toward what parts or vanishes, then the other way. All stay within
// the accuracy promised.
var nudges = [...]float64{0, 0.2, -0.2, 0.45, -0.45}

// nudged is d made larger by more, to whichever side it points, or smaller for more below 0.
func nudged(d, more float64) float64 { return d + math.Copysign(1, d)*more }

func (src *region) offset(d float64, o OffsetOptions) ([]Path, error) {
	tol := Coincidence * (src.size + math.Abs(d))
	why := ""
	for _, n := range nudges {
		job := offsetJob{src: src, d: nudged(d, n*tol), asked: d, o: o, tol: tol}
		got, fault := job.run()
		if fault == "" {
			if len(got) > 0 {
				return got, nil
			}
			if fault = job.proveEmpty(); fault == "" {
				return nil, nothingLeft("Offset", d)
			}
		}
		why = fault
	}
	return nil, notProved("Offset", fmt.Sprintf("distance %g", d), why)
}

func nothingLeft(fn string, d float64) error {
	f := badArgument(fn, "distance", d, ErrNothingLeft.Error())
	f.cause = ErrNothingLeft
	return f
}

func notProved(fn, what, why string) error {
	f := refused(fn, what, ErrNotProved.Error()+": "+why)
	f.cause = ErrNotProved
	return f
}

// offsetJob is one try at one distance.
type offsetJob struct {
	src      *region
	d, asked float64
	o        OffsetOptions
	tol      float64
	raw      raw
	kept     []stretch
}

// start makes room for the candidates of n segments: one each and a corner for each.
func (j *offsetJob) start(n int) {
	a := &arrangement{tol: j.tol * (rounding / Coincidence), segs: make([]Segment, 0, 2*n), broken: make([]bool, 0, 2*n)}
	j.raw = raw{arrangement: a, d: j.d, miter: j.o.Miter, whole: true, slack: j.tol / 10}
}

func (j *offsetJob) candidates() {
	j.start(len(j.src.tree.segs))
	for _, r := range j.src.runs {
		j.raw.path(j.src.tree.segs[r.lo:r.hi])
	}
	j.raw.sortKites()
}

// dies: a candidate has its source, d away, on its left when it was moved to the right.
// Another that crosses to that side comes within the distance.
func (j *offsetJob) dies(s, o Segment, m Meeting) (sBefore, sAfter, oBefore, oAfter bool) {
	ts, to := s.Tangent(m.T), o.Tangent(m.U)
	c := cross(to, ts)
	if j.d < 0 {
		c = -c
	}
	// Where they graze, the distance decides.
	const square = 1e-4
	switch {
	case c > square: // s crosses to the source side of o, o leaves that of s
		return false, true, true, false
	case c < -square:
		return true, false, false, true
	}
	return false, false, false, false
}

// keep lists the stretches that are part of the offset.
func (j *offsetJob) keep() []stretch {
	var kept []stretch
	j.raw.stretches(func(s stretch) {
		if s.dead {
			return
		}
		part, long := j.raw.sample(s)
		if long <= 4*j.raw.tol && !s.whole && s.last-s.first < 2 {
			return
		}
		if j.clear(part.At(0.5)) {
			kept = append(kept, s)
		}
	})
	return kept
}

// clear tells that a point of a candidate is not nearer to the source than the distance.
func (j *offsetJob) clear(q r2.Vec) bool {
	// A candidate is as far from its own source as rounding and the joining of smooth corners
	// leave it; nothing more is let pass.
	limit := math.Abs(j.d) - j.raw.slack
	if i, _ := j.src.tree.nearest(q, limit, limit); i >= 0 {
		return false
	}
	return !j.raw.mitered(q, j.raw.slack)
}

func (j *offsetJob) run() (loops []Path, fault string) {
	j.candidates()
	j.raw.cutAll(j.dies)
	j.kept = j.keep()
	loops, complete := j.raw.link(j.kept)
	if !complete {
		return nil, "an end of the boundary leads nowhere"
	}
	loops = dropSpecks(loops, j.tol, j.src.size+math.Abs(j.d))
	return loops, j.prove(loops)
}

// dropSpecks leaves out loops no wider than a few tolerances: what is left of a place that
// closes exactly at the distance.
func dropSpecks(loops []Path, tol, reach float64) []Path {
	kept := loops[:0]
	for _, p := range loops {
		a := math.Abs(p.Area())
		// No segment is longer than a circle about the figure; most loops need no closer look.
		if a > 4*tol*4*float64(len(p.Vertices))*reach || a > 4*tol*p.Length() {
			kept = append(kept, p)
		}
	}
	return kept
}
