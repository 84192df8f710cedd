package outline

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// Parallel moves an open path by d mm to its right (left for d < 0): a bend line to its
// tangent line, an edge to its row of rivets. Where the path turns too tightly for the distance the
// result is cut short or parted, and where p comes round upon itself a part may be a closed
// ring. It runs the way p runs. What lies nearer than the
// distance to any part of p, its ends included, is left out.
//
// The result is checked like that of [Offset], and the errors are the same.
func (p Path) Parallel(d float64, o OffsetOptions) ([]Path, error) {
	src, err := newTrack("Parallel", p)
	if err = errors.Join(err, checkDistance("Parallel", d), o.check("Parallel")); err != nil {
		return nil, err
	}
	if d == 0 {
		return clonePaths([]Path{p}), nil
	}
	if d < 0 {
		src.reversed = true
	}
	why := ""
	tol := Coincidence * (src.size + math.Abs(d))
	for _, n := range nudges {
		got, fault := src.parallel(math.Abs(d)+n*tol, math.Abs(d), tol, o)
		if fault == "" {
			if len(got) == 0 {
				return nil, nothingLeft("Parallel", d)
			}
			return got, nil
		}
		why = fault
	}
	return nil, notProved("Parallel", fmt.Sprintf("distance %g", d), why)
}

// Strip returns the region within half mm of an open path: the slot that a cutter of
// that radius leaves, or the land of a joint. Its ends are round.
//
// Errors: a *[Fault] for each fault of the path, one that is closed among them, for a half that is
// not above 0 and within 1e9 mm, and for a result that could not be proved (it wraps
// [ErrNotProved]).
func (p Path) Strip(half float64) ([]Path, error) {
	src, err := newTrack("Strip", p)
	if err = errors.Join(err, checkDistance("Strip", half)); err != nil {
		return nil, err
	}
	if !(half > 0) {
		return nil, badArgument("Strip", "half width", half, "must be above 0")
	}
	why := ""
	tol := Coincidence * (src.size + half)
	for _, n := range nudges {
		job := src.job(half+n*tol, half, tol, OffsetOptions{})
		job.kept = job.keep()
		loops, complete := job.raw.link(job.kept)
		if !complete {
			why = "an end of the boundary leads nowhere"
			continue
		}
		loops = dropSpecks(loops, tol, src.size+half)
		if len(loops) == 0 {
			why = "nothing is left of it" // it is not wider than the accuracy
			continue
		}
		if why = job.proveLoops(index(loops)); why == "" {
			return loops, nil
		}
	}
	return nil, notProved("Strip", fmt.Sprintf("half width %g", half), why)
}

// track is an open path taken as a closed one without area: out along it and back again.
// Its offset is the strip about it, of which the first half is the parallel on the right.
type track struct {
	*region
	path     Path
	reversed bool // the back half first, for the parallel on the left
}

func newTrack(fn string, p Path) (*track, error) {
	if err := p.validate(fn, false); err != nil {
		return nil, err
	}
	return &track{region: index([]Path{p}), path: p}, nil
}

// job makes the candidates of the strip and cuts them. Those of the right-hand side come first.
func (k *track) job(d, asked, tol float64, o OffsetOptions) *offsetJob {
	j := &offsetJob{src: k.region, d: d, asked: asked, o: o, tol: tol}
	n := len(k.tree.segs)
	j.start(2 * n)
	j.raw.split = n
	there, back := k.tree.segs, make([]Segment, n)
	for i, s := range there {
		back[n-1-i] = s.Reverse()
	}
	if k.reversed {
		there, back = back, there
	}
	j.raw.path(slices.Concat(there, back))
	j.raw.sortKites()
	j.raw.cutAll(j.dies)
	return j
}

// parallel makes the strip and takes the chains of its first side out of it.
func (k *track) parallel(d, asked, tol float64, o OffsetOptions) ([]Path, string) {
	j := k.job(d, asked, tol, o)
	j.kept = j.keep()
	var sides []stretch
	for _, s := range j.kept {
		sides = append(sides, j.raw.firstSide(s)...)
	}
	out := j.raw.chainUp(sides)
	if k.reversed {
		for i := range out {
			out[i] = out[i].Reverse()
		}
	}
	if len(out) == 0 {
		return nil, ""
	}
	got := index(out)
	if fault := got.proveSimple(); fault != "" {
		return nil, fault
	}
	return out, j.proveDistance(got)
}

// firstSide returns the parts of a stretch that come from the first half of the source.
func (w *raw) firstSide(s stretch) []stretch {
	var out []stretch
	for i := s.first; i <= s.last; i++ {
		if s.run.at(i) >= w.half {
			continue
		}
		part := stretch{run: s.run, first: i, t1: 1, start: w.segs[s.run.at(i)].A}
		if i == s.first {
			part.t0, part.start = s.t0, s.start
		}
		for i < s.last && s.run.at(i+1) < w.half && s.run.at(i+1) != s.run.lo {
			i++
		}
		part.last, part.end = i, w.segs[s.run.at(i)].B
		if i == s.last {
			part.t1, part.end = s.t1, s.end
		}
		out = append(out, part)
	}
	return out
}

// chainUp joins stretches end to start into open paths, or rings where they close.
func (w *raw) chainUp(parts []stretch) []Path {
	const reach = 8
	next := make([]int, len(parts)) // the part that goes on from each
	headed := make([]bool, len(parts))
	for i := range parts {
		next[i] = -1
		for k := range parts {
			if !headed[k] && dist(parts[i].end, parts[k].start) <= reach*w.tol {
				next[i], headed[k] = k, true
				break
			}
		}
	}
	var out []Path
	done := make([]bool, len(parts))
	follow := func(i int) {
		var chain []stretch
		k := i
		for ; k >= 0 && !done[k]; k = next[k] {
			chain, done[k] = append(chain, parts[k]), true
		}
		if k == i {
			out = append(out, w.loop(chain)) // a tight turn cut off a ring
		} else if vs := w.chain(nil, chain); len(vs) > 1 {
			out = append(out, Path{Vertices: vs})
		}
	}
	for i := range parts {
		if !headed[i] {
			follow(i)
		}
	}
	for i := range parts {
		if !done[i] {
			follow(i)
		}
	}
	return out
}
