package survey

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r2"

	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
)

// A Deviation is how far one measured point lies from where it should.
type Deviation struct {
	At      r2.Vec  // the point, moved onto the wanted part, mm
	Nearest r2.Vec  // the place on the wanted path nearest to it
	Path    int     // which of the wanted paths that is
	Along   float64 // how far along it, mm
	// Off is the distance, mm, positive on the right of the path's travel: outside
	// an outline, inside a hole - too much metal - or beyond a section.
	Off float64

	outward r2.Vec // unit, the way in which Off grows
}

// Deviations returns each point's deviation from the wanted paths, open or closed.
// Faults are [*Error]s, joined.
func Deviations(points []r2.Vec, wanted []outline.Path) ([]Deviation, error) {
	var f faults
	f.points2("points", points, 1)
	checkPaths(wanted, &f)
	if err := f.err(); err != nil {
		return nil, err
	}
	return newTarget(wanted).deviations(points, outline.Affine{}), nil
}

func checkPaths(wanted []outline.Path, f *faults) {
	n := 0
	for i, p := range wanted {
		for k, v := range p.Vertices {
			f.point2(fmt.Sprintf("wanted path %d vertex %d", i, k), v.P)
			if !within(v.Bulge, -1e5, 1e5) {
				f.add(fmt.Sprintf("wanted path %d vertex %d bulge", i, k), fmt.Sprintf("%g", v.Bulge), "must be finite")
			}
		}
		n += p.NumSegments()
	}
	if n == 0 {
		f.add("wanted", "no segments", "there must be something to compare with")
	}
}

// A target answers which place of the wanted paths is nearest.
type target struct {
	index *outline.Index
	segs  []outline.Segment
	path  []int     // of each segment
	start []float64 // distance along its path, mm
	// next and prev are the segments that follow on at either end, -1 for none.
	next, prev []int
}

func newTarget(paths []outline.Path) target {
	t := target{index: outline.NewIndex(paths...)}
	for i, p := range paths {
		var s float64
		first, n := len(t.segs), p.NumSegments()
		for k := range n {
			before, after := first+k-1, first+k+1
			if k == 0 {
				before = -1
			}
			if k == n-1 {
				after = -1
			}
			if p.Closed && k == 0 {
				before = first + n - 1
			}
			if p.Closed && k == n-1 {
				after = first
			}
			t.prev, t.next = append(t.prev, before), append(t.next, after)
		}
		for _, seg := range p.Segments() {
			t.segs = append(t.segs, seg)
			t.path = append(t.path, i)
			t.start = append(t.start, s)
			s += seg.Length()
		}
	}
	return t
}

func (t target) deviations(points []r2.Vec, m outline.Affine) []Deviation {
	out := make([]Deviation, len(points))
	for i, p := range points {
		q := m.Apply(p)
		at, k, u := t.index.Nearest(q)
		d := r2.Sub(q, at)
		along := t.tangent(k, u)
		off, outward := r2.Norm(d), r2.Unit(r2.Vec{X: along.Y, Y: -along.X})
		if r2.Cross(along, d) > 0 { // on the left
			off = -off
		}
		if off != 0 {
			outward = r2.Scale(1/off, d)
		}
		out[i] = Deviation{At: q, Nearest: at, Path: t.path[k], Along: t.start[k] + u*t.segs[k].Length(), Off: off, outward: outward}
	}
	return out
}

// tangent is the direction of travel at the place; at a vertex, the mean of both
// sides', so that what is inside does not hang on which of them was found.
func (t target) tangent(k int, u float64) r2.Vec {
	a := t.segs[k].Tangent(u)
	switch {
	case u <= 1e-9 && t.prev[k] >= 0:
		return r2.Add(a, t.segs[t.prev[k]].Tangent(1))
	case u >= 1-1e-9 && t.next[k] >= 0:
		return r2.Add(a, t.segs[t.next[k]].Tangent(0))
	}
	return a
}

// CompareOptions says how a made part is laid on the wanted one and judged.
type CompareOptions struct {
	Tolerance float64 // ± mm; above 0
	// Freedom is Free, ShiftOnly or Fixed.
	Freedom Freedom
	// Start lays the points roughly in place; the zero value leaves them. The best
	// fit finds its way from a few degrees and a tenth of the size.
	Start outline.Affine
}

// A Verdict is a made part laid on the wanted one.
type Verdict struct {
	Move       outline.Affine // of the points onto the wanted part
	Turn       measure.Angle  // that Move turns beyond Start, positive counter-clockwise
	Shift      r2.Vec         // that Move shifts the middle of the points beyond Start, mm
	Deviations []Deviation    // of every point
	RMS        float64        // of the deviations, mm
	Worst      int            // the point farthest off
	Outside    []int          // points out of tolerance, in order
	Pass       bool           // all within tolerance
}

const mostCompareSteps = 100

// Compare lays points measured round a made part on the wanted outline (and holes)
// with the least sum of squared deviations, and judges each. Faults are [*Error]s,
// joined; so is a set of points that does not settle, or does not fix the turn.
func Compare(points []r2.Vec, wanted []outline.Path, opt CompareOptions) (Verdict, error) {
	var f faults
	least := 3
	if opt.Freedom == Fixed {
		least = 1
	}
	f.points2("points", points, least)
	checkPaths(wanted, &f)
	f.length("tolerance", opt.Tolerance, math.SmallestNonzeroFloat64, 1000, "must be above 0 and at most 1000 mm")
	if opt.Freedom != Free && opt.Freedom != ShiftOnly && opt.Freedom != Fixed {
		f.add("freedom", fmt.Sprintf("%d", opt.Freedom), "must be Free, ShiftOnly or Fixed: a flat part turns about one axis")
	}
	if s := opt.Start.Factor(); !within(s, 1-1e-9, 1+1e-9) {
		f.add("start", fmt.Sprintf("scale %g", s), "must not stretch the part")
	}
	if err := f.err(); err != nil {
		return Verdict{}, err
	}
	v := Verdict{Move: opt.Start}
	if err := newTarget(wanted).layOn(points, &v, opt.Freedom); err != nil {
		return Verdict{}, err
	}
	mid := middle(points)
	v.Shift = r2.Sub(v.Move.Apply(mid), opt.Start.Apply(mid))
	v.RMS = rmsOff(v.Deviations)
	for i, d := range v.Deviations {
		if math.Abs(d.Off) > math.Abs(v.Deviations[v.Worst].Off) {
			v.Worst = i
		}
		if !(math.Abs(d.Off) <= opt.Tolerance) {
			v.Outside = append(v.Outside, i)
		}
	}
	v.Pass = len(v.Outside) == 0
	return v, nil
}

// layOn moves the points onto the target from where v has them, and tells v how.
func (t target) layOn(points []r2.Vec, v *Verdict, freedom Freedom) error {
	v.Deviations = t.deviations(points, v.Move)
	if freedom == Fixed {
		return nil
	}
	for range mostCompareSteps {
		s, err := closer(v.Deviations, freedom)
		if err != nil {
			return err
		}
		before := rmsOff(v.Deviations)
		move, devs, share := t.noFarther(s, points, v.Move, before)
		if share == 0 {
			return nil
		}
		v.Move, v.Deviations = move, devs
		v.Turn += measure.Angle(share) * s.turn
		if now := rmsOff(devs); before-now <= 1e-12*(1+now) {
			return nil
		}
	}
	return &Error{"best fit", fmt.Sprintf("rms %s after %d steps", mm(rmsOff(v.Deviations)), mostCompareSteps), "does not settle: lay the points nearer to the part with Start"}
}

// noFarther takes the largest share of a step, by halves, after which the points lie no
// farther off than before; 0 when the least does not help either. A whole step is right
// near the end; far off, where points change the edge they are nearest to, it may
// overshoot.
func (t target) noFarther(s step, points []r2.Vec, m outline.Affine, before float64) (move outline.Affine, devs []Deviation, share float64) {
	for share = 1; share > 1e-6; share /= 2 {
		move = s.of(m, share)
		if devs = t.deviations(points, move); rmsOff(devs) <= before {
			return move, devs, share
		}
	}
	return m, nil, 0
}

func middle(points []r2.Vec) (mid r2.Vec) {
	for _, p := range points {
		mid = r2.Add(mid, p)
	}
	return r2.Scale(1/float64(len(points)), mid)
}

func rmsOff(d []Deviation) float64 {
	var s float64
	for _, v := range d {
		s += v.Off * v.Off
	}
	return math.Sqrt(s / float64(len(d)))
}

// A step turns about a place and then shifts.
type step struct {
	about r2.Vec
	turn  measure.Angle
	shift r2.Vec
}

// of adds a share of the step to a motion.
func (s step) of(m outline.Affine, share float64) outline.Affine {
	return m.Then(outline.Rotate(s.about, measure.Angle(share)*s.turn)).Then(outline.Translate(r2.Scale(share, s.shift)))
}

// closer finds one step of Gauss and Newton: each point may slide along the
// wanted edge beside it, so just the distance square to the edge counts.
func closer(devs []Deviation, freedom Freedom) (step, error) {
	at := make([]r2.Vec, len(devs))
	for i, d := range devs {
		at[i] = d.At
	}
	s := step{about: middle(at)}
	if rmsOff(devs) == 0 {
		return s, nil
	}
	size := 1.0 // turns are counted at the rim, so that all columns are lengths
	for _, p := range at {
		size = max(size, r2.Norm(r2.Sub(p, s.about)))
	}
	cols := 3
	if freedom == ShiftOnly {
		cols = 2
	}
	n := mat.NewSymDense(cols, nil)
	b := mat.NewVecDense(cols, nil)
	for i, d := range devs {
		out := d.outward
		arm := r2.Sub(at[i], s.about)
		row := []float64{out.X, out.Y, r2.Cross(arm, out) / size}[:cols]
		v := mat.NewVecDense(cols, row)
		n.SymRankOne(n, 1, v)
		b.AddScaledVec(b, -d.Off, v)
	}
	var chol mat.Cholesky
	var x mat.VecDense
	if !chol.Factorize(n) || chol.Cond() > 1e12 || chol.SolveVecTo(&x, b) != nil {
		return s, &Error{"points", fmt.Sprintf("%d", len(devs)), "they do not fix how the part lies: measure more of its sides"}
	}
	s.shift = r2.Vec{X: x.AtVec(0), Y: x.AtVec(1)}
	if cols == 3 {
		s.turn = measure.Angle(x.AtVec(2) / size)
	}
	return s, nil
}

// Distortion compares one hand of a section with the mirror image of the other:
// it walks along port in even steps of at most step mm and gives the deviation of
// each place from the image of starboard under mirror, positive on the right of
// port's travel. A section without distortion shows its measuring noise. It returns an [*Error]
// for a step that is not above 0 or gives more than a million places, and for a mirror that does
// not turn one hand into the other, and the errors of [Deviations].
func Distortion(port, starboard outline.Path, mirror outline.Affine, step float64) ([]Deviation, error) {
	length := port.Length()
	if !(step > 0 && length > 0 && length/step <= 1e6) {
		return nil, &Error{"step", mm(step), "must be above 0, and give at most a million places on a path of " + mm(length)}
	}
	if !mirror.Mirrors() {
		return nil, &Error{"mirror", "", "must turn one hand into the other"}
	}
	n := max(1, int(math.Ceil(length/step)))
	points := make([]r2.Vec, n+1)
	for i := range points {
		k, t, err := port.Locate(min(length, length*float64(i)/float64(n)))
		if err != nil {
			return nil, fmt.Errorf("survey: distortion: %w", err)
		}
		points[i] = port.Segment(k).At(t)
	}
	image := starboard.Transform(mirror)
	if againstTravel(image, port, points[0]) {
		image = image.Reverse()
	}
	return Deviations(points, []outline.Path{image})
}

// againstTravel tells whether the image of one hand runs the other way than the other, so that
// the right of one is not that of the other: two rings by the way they run round, open paths
// by the end of the image that lies nearer to the start.
func againstTravel(image, other outline.Path, start r2.Vec) bool {
	n := len(image.Vertices)
	if n == 0 {
		return false
	}
	if image.Closed && other.Closed {
		return image.Area()*other.Area() < 0
	}
	first, last := image.Vertices[0].P, image.Vertices[n-1].P
	return r2.Norm(r2.Sub(last, start)) < r2.Norm(r2.Sub(first, start))
}
