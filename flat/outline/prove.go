package outline

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// prove checks an offset against what it must be, by other means than those that made
// it. It returns what is wrong, or nothing.
func (j *offsetJob) prove(loops []Path, uncut bool) (fault string) {
	for i, p := range loops {
		if len(p.Vertices) < p.leastSegments() {
			return fmt.Sprintf("loop %d has too few segments", i)
		}
	}
	if len(loops) == 0 {
		return ""
	}
	got := index(loops)
	var fs faults
	got.checkSimple("Offset", &fs)
	if len(fs.list) > 0 {
		return fs.list[0].Error()
	}
	if fault = got.nesting(); fault != "" {
		return fault
	}
	if got.outer != j.src.outer {
		return "the result is the outside of a region where its inside is wanted"
	}
	if fault = j.proveSide(got); fault != "" {
		return fault
	}
	if fault = j.proveDistance(got); fault != "" {
		return fault
	}
	if uncut && j.raw.whole {
		return j.proveArea(got)
	}
	return ""
}

// proveSide: an outward offset lies outside the source, an inward one in its material.
func (j *offsetJob) proveSide(got *region) string {
	want := j.src.outer
	if j.d < 0 {
		want = j.src.material()
	}
	for i, p := range got.paths {
		if w := j.src.winding(p.Vertices[0].P, -1); w != want {
			return fmt.Sprintf("loop %d lies on the wrong side of the source", i)
		}
	}
	return ""
}

// proveDistance measures from every vertex and every middle of the result to the source.
func (j *offsetJob) proveDistance(got *region) string {
	near := math.Abs(j.asked)
	far := near*max(j.o.Miter, 1) + j.tol
	for i := range got.tree.segs {
		s := &got.tree.segs[i]
		for _, q := range [...]r2.Vec{s.A, s.At(0.5)} {
			k, d := j.src.tree.nearest(q, far, near-j.tol)
			if k < 0 || d < near-j.tol {
				return fmt.Sprintf("segment %d at (%g, %g) is %g from the source", i, q.X, q.Y, j.src.tree.distance(q))
			}
		}
	}
	return ""
}

func (t *tree) distance(q r2.Vec) float64 {
	_, d := t.nearest(q, math.Inf(1), 0)
	return d
}

// proveArea: where nothing vanished the area is A + d·L and the corners' shares, which for
// a round-cornered convex outline make π·d².
func (j *offsetJob) proveArea(got *region) string {
	l := j.src.length()
	want := j.src.area() + j.d*l + j.raw.growth
	// Each point may be a tolerance out, on either boundary.
	if a := got.area(); !(math.Abs(a-want) <= 4*j.tol*(l+got.length())) {
		return fmt.Sprintf("the area is %g where the lengths and turns demand %g", a, want)
	}
	return ""
}

// proveEmpty searches for a point that the empty offset should have kept.
func (src *region) proveEmpty(d, tol float64) string {
	if d > 0 && src.outer == 0 || d < 0 && src.outer != 0 {
		return "an unbounded side cannot vanish"
	}
	want := src.material()
	if d > 0 {
		want = src.outer
	}
	c, r := src.deepest(want, math.Abs(d)/1000)
	if r > math.Abs(d)*1.001+4*tol {
		return fmt.Sprintf("(%g, %g) is %g from the source and was lost", c.X, c.Y, r)
	}
	return ""
}
