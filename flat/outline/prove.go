package outline

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// prove checks an offset against what it must be, by other means than those that made
// it. It returns what is wrong, or nothing.
func (j *offsetJob) prove(loops []Path) (fault string) {
	if len(loops) == 0 {
		return ""
	}
	got := indexIn(&j.raw.index, loops) // the candidates have become the loops
	if fault = j.proveLoops(got); fault != "" {
		return fault
	}
	if got.outer != j.src.outer {
		return "the result is the outside of a region where its inside is wanted"
	}
	if fault = j.proveSide(got); fault != "" {
		return fault
	}
	if len(j.raw.cuts) == 0 && j.raw.whole && len(j.kept) == len(j.src.runs) {
		return j.proveArea(got)
	}
	return ""
}

// proveLoops checks that loops bound a region and lie at the distance.
func (j *offsetJob) proveLoops(got *region) (fault string) {
	if fault = got.proveSimple(); fault != "" {
		return fault
	}
	if fault = got.nesting(); fault != "" {
		return fault
	}
	return j.proveDistance(got)
}

// proveSimple checks that paths have enough segments and neither touch nor cross.
func (g *region) proveSimple() string {
	for i, p := range g.paths {
		if p.NumSegments() < p.leastSegments() {
			return fmt.Sprintf("path %d has too few segments", i)
		}
	}
	var fs faults
	for _, p := range g.paths {
		p.checkVertices("result", &fs)
	}
	if len(fs.list) == 0 {
		g.checkSimple("result", &fs)
	}
	if len(fs.list) > 0 {
		return fs.list[0].Error()
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

func (t *tree) distance(q r2.Vec) float64 {
	_, d := t.nearest(q, math.Inf(1), 0)
	return d
}

// proveArea: where nothing vanished the area is A + d·L and the corners' shares, which for
// a round-cornered convex outline make π·d².
func (j *offsetJob) proveArea(got *region) string {
	l := j.raw.length
	want := j.src.area + j.d*l + j.raw.growth
	// Each point may be a tolerance out, on either boundary; the rest is rounding.
	slack := 8*j.tol*(l+8*math.Abs(j.d)) + 1e-13*(l*j.src.size)
	if a := got.area; !(math.Abs(a-want) <= slack) {
		return fmt.Sprintf("the area is %g where the lengths and turns demand %g", a, want)
	}
	return ""
}

// proveEmpty searches for a point that the empty offset should have kept.
func (j *offsetJob) proveEmpty() string {
	d, src := j.asked, j.src
	if d > 0 && src.outer == 0 || d < 0 && src.outer != 0 {
		return "an unbounded side cannot vanish"
	}
	want := src.material()
	if d > 0 {
		want = src.outer
	}
	// The search finds any room for a circle a fiftieth larger than the distance; finer, it
	// would take long between parallel sides.
	c, r, _ := src.deepest(want, math.Abs(d)/50)
	if r <= math.Abs(d)+4*j.tol {
		return ""
	}
	if j.raw.mitered(c, 0) {
		return "" // deep enough, but a miter covers it
	}
	return fmt.Sprintf("(%g, %g) is %g from the source and was lost", c.X, c.Y, r)
}
