package flat

import (
	"math"
	"math/rand/v2"
	"strings"
	"sync"
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

// hardness counts what makes random parts hard, so that a change of the generator
// that loses a kind shows.
type hardness struct {
	parts, bends, reflex, mixed, closed, tapered, twisted, lips, partial, partialLips, besidePlain, besideArc, holes, notched, closedCorners, ownGaps int

	refused, overlaps, clashes int
}

// randomPart is a web of 3 to 7 corners, star-shaped about its middle so that it
// is simple, often concave, with flanges of any angle up and down.
func randomPart(r *rand.Rand) Part {
	n := 3 + r.IntN(5)
	size := 60 * math.Exp(2*r.Float64()) // 60 to 440 mm
	p := Part{
		Name:   "random",
		Sheet:  material.Sheet{Material: material.Material{Alloy: "2024", Temper: "T3"}, Thickness: 0.4 + 2*r.Float64()},
		Radius: 1 + 5*r.Float64(),
		Rule:   []bend.Rule{bend.Handbook{}, bend.NeutralAxis{K: 0.3 + 0.2*r.Float64()}, bend.DIN6935{}}[r.IntN(3)],
	}
	nook := r.IntN(2*n) - n // a corner drawn in, or none
	for i := range n {
		a := 2 * math.Pi * (float64(i) + 0.5*r.Float64()) / float64(n)
		d := size * (0.5 + 0.5*r.Float64())
		if i == nook {
			d = size * (0.1 + 0.2*r.Float64())
		}
		sin, cos := math.Sincos(a)
		p.Web.Edges = append(p.Web.Edges, Edge{Name: string(rune('a' + i)), Start: r2.Vec{X: d * cos, Y: d * sin}})
	}
	for i := range p.Web.Edges {
		e := &p.Web.Edges[i]
		if r.IntN(4) == 0 {
			if r.IntN(2) == 0 {
				e.Bulge = 0.6*r.Float64() - 0.2
			}
			continue
		}
		f := randomFlange(r, size)
		f.Name = e.Name
		length := r2.Norm(r2.Sub(p.Web.Edges[(i+1)%n].Start, e.Start))
		if r.IntN(8) == 0 {
			f.From, f.To = length*(0.2+0.1*r.Float64()), length*(0.6+0.2*r.Float64())
		}
		if r.IntN(3) == 0 {
			f.Holes = []Hole{{At: r2.Vec{X: length / 2, Y: 0.7 * f.Height}, Diameter: 1}}
		}
		switch r.IntN(8) {
		case 0, 1:
			lip := randomFlange(r, size/4)
			lip.Name = e.Name + "-lip"
			if r.IntN(3) == 0 {
				along := f.freeEdge(length)
				lip.From, lip.To = along*(0.2+0.2*r.Float64()), along*(0.6+0.2*r.Float64())
			}
			f.Flanges = []Flange{lip}
		case 2:
			f.AngleEnd = f.Angle + measure.Angle(8*r.Float64()-4)*measure.Degree
		}
		e.Flanges = []Flange{f}
	}
	for i := range p.Web.Edges {
		cutCorner(r, &p, i)
	}
	return p
}

// cutCorner gives some of the corners at which two flanges meet a cut of their own.
func cutCorner(r *rand.Rand, p *Part, i int) {
	n := len(p.Web.Edges)
	e, before := &p.Web.Edges[i], &p.Web.Edges[(i+n-1)%n]
	if r.IntN(3) > 0 || !e.bentFrom() || !before.bentUpTo(r2.Norm(r2.Sub(e.Start, before.Start))) {
		return
	}
	e.Corner = Corner{Kind: CornerKind(r.IntN(2)), Width: float64(r.IntN(2)) * 2 * p.Radius * (1 + r.Float64()), Gap: float64(r.IntN(2)) * 2 * r.Float64()}
	next := p.Web.Edges[(i+1)%n].Start
	turn := math.Abs(math.Atan2(r2.Cross(r2.Sub(e.Start, before.Start), r2.Sub(next, e.Start)), r2.Dot(r2.Sub(e.Start, before.Start), r2.Sub(next, e.Start))))
	if e.Corner.Kind == Notched && !(math.Pi/6 < turn && turn < math.Pi*5/6) {
		e.Corner.Kind = Drilled
	}
	if r.IntN(3) == 0 && e.Flanges[0].Turn == before.Flanges[0].Turn {
		e.Corner.Kind = Closed
	}
}

func randomFlange(r *rand.Rand, size float64) Flange {
	f := Flange{
		Angle:  measure.Angle(5+165*r.Float64()) * measure.Degree,
		Height: 12 + size*(0.1+0.25*r.Float64()),
		Turn:   Turn(r.IntN(2)),
	}
	if r.IntN(2) == 0 { // most bends of the trade
		f.Angle = measure.Angle(75+30*r.Float64()) * measure.Degree
	}
	if r.IntN(4) == 0 {
		f.HeightEnd = f.Height * (0.7 + 0.6*r.Float64())
	}
	return f
}

func (h *hardness) count(p Part, b Blank) {
	h.parts++
	h.bends += len(b.Bends)
	h.holes += len(b.Holes)
	n := len(p.Web.Edges)
	for i, e := range p.Web.Edges {
		prev, next := p.Web.Edges[(i+n-1)%n], p.Web.Edges[(i+1)%n]
		bent, bentBefore := len(e.Flanges) > 0, len(prev.Flanges) > 0
		turn := r2.Cross(r2.Sub(e.Start, prev.Start), r2.Sub(next.Start, e.Start))
		h.reflex += count(turn < 0 && bent)
		h.mixed += count(bent && bentBefore && e.Flanges[0].Turn != prev.Flanges[0].Turn)
		h.besidePlain += count(bent && !bentBefore)
		h.besideArc += count(bent && (prev.Bulge != 0 || next.Bulge != 0))
		h.partial += count(bent && e.Flanges[0].To != 0)
		h.partialLips += count(bent && len(e.Flanges[0].Flanges) > 0 && e.Flanges[0].Flanges[0].To != 0)
		h.notched += count(e.Corner.Kind == Notched)
		h.closedCorners += count(e.Corner.Kind == Closed)
		h.ownGaps += count(e.Corner.Gap != 0)
	}
	for _, l := range b.Bends {
		h.closed += count(l.Bend.Angle > math.Pi/2)
		h.tapered += count(l.Height != l.HeightEnd)
		h.twisted += count(l.Sections != nil)
		h.lips += count(l.Parent != 0)
	}
}

func count(is bool) int {
	if is {
		return 1
	}
	return 0
}

// fold(develop(part)) gives back the part: mold lines, flange planes, hole centres
// and free edges, to 1e-6 mm, whatever the shape of the web; where a bevel changes
// along its edge, to what the chords of its curved tangent lines leave. And where
// flanges run the whole of their edges at one bevel and carry no lips, neighbours
// round a corner never collide when folded, however the part is dimensioned.
func TestFoldGivesBackThePart(t *testing.T) {
	parts := 100_000
	if testing.Short() {
		parts = 10_000
	}
	seed := rand.Uint64()
	t.Logf("seed %d", seed) // shown on failure
	const workers = 4
	var counts [workers]hardness
	var group sync.WaitGroup
	for w := range workers {
		group.Go(func() { counts[w] = foldBack(t, rand.New(rand.NewPCG(seed, uint64(w))), parts/workers) })
	}
	group.Wait()
	var h hardness
	for _, c := range counts {
		h.add(c)
	}
	t.Logf("%+v", h)
	least := parts / 100
	for name, n := range map[string]int{
		"reflex": h.reflex, "mixed": h.mixed, "closed": h.closed, "tapered": h.tapered, "twisted": h.twisted, "lips": h.lips,
		"partial": h.partial, "lips along a part": 3 * h.partialLips, "beside plain": h.besidePlain, "beside an arc": h.besideArc, "holes": h.holes,
		"notched": h.notched, "closed corners": h.closedCorners, "gaps of their own": h.ownGaps,
		"overlaps": 3 * h.overlaps, "clashes": 3 * h.clashes, // rarer by their nature
	} {
		assert.Greater(t, n, least, "the generator misses the hard case %q", name)
	}
}

func foldBack(t *testing.T, r *rand.Rand, parts int) (h hardness) {
	for h.parts < parts {
		p := randomPart(r)
		b, err := Develop(p)
		if err != nil {
			h.refused++ // too small for its bends
			if !assert.Less(t, h.refused, 3*parts, "the generator makes hardly any part that can be built: %v", err) {
				return h
			}
			continue
		}
		h.count(p, b)
		if !assert.Less(t, b.Proof.Largest(), tolerance(b), "part %+v", p) || !assert.Positive(t, b.Outline.Area(), "part %+v", p) {
			return h
		}
		for _, f := range b.Findings {
			h.overlaps += count(strings.Contains(f.Text, "overlaps itself"))
			if !strings.Contains(f.Text, "folded") {
				continue
			}
			h.clashes++
			if wholeEdges(p) && !assert.False(t, neighbours(p, f.Place), "%v\npart %+v", f, p) {
				return h
			}
		}
	}
	return h
}

// tolerance is what the fold may leave of a part. Between two of the 33 sections of
// a bend whose bevel changes, the setback is taken to change evenly: for 4° of
// twist on a bend of 170°, where it grows fastest, that leaves a few hundredths of
// a millimetre; within the bevels of the trade less than a micron.
func tolerance(b Blank) float64 {
	worst := 1e-6
	for _, l := range b.Bends {
		if l.Sections == nil {
			continue
		}
		// Chord error of (R+T)·tan(a/2) and the like over a step d: f″·d²/8, with
		// f″ = (R+T)/2·tan/cos² there; twice that for the setback taken twice, and
		// as much again for the direction of the face over its height.
		last := len(l.Sections) - 1
		a := max(l.Sections[0].Angle, l.Sections[last].Angle).Radians()
		d := float64(l.Sections[1].Angle - l.Sections[0].Angle)
		cos := math.Cos(a / 2)
		second := (l.Bend.Radius + l.Bend.Thickness) / 2 * math.Tan(a/2) / (cos * cos)
		worst = max(worst, (4*second+max(l.Height, l.HeightEnd))*d*d/8)
	}
	return worst
}

func (h *hardness) add(o hardness) {
	h.parts += o.parts
	h.bends += o.bends
	h.reflex += o.reflex
	h.mixed += o.mixed
	h.closed += o.closed
	h.tapered += o.tapered
	h.twisted += o.twisted
	h.lips += o.lips
	h.partial += o.partial
	h.partialLips += o.partialLips
	h.besidePlain += o.besidePlain
	h.besideArc += o.besideArc
	h.holes += o.holes
	h.notched += o.notched
	h.closedCorners += o.closedCorners
	h.ownGaps += o.ownGaps
	h.refused += o.refused
	h.overlaps += o.overlaps
	h.clashes += o.clashes
}

func wholeEdges(p Part) bool {
	for _, e := range p.Web.Edges {
		for _, f := range e.Flanges {
			if f.To != 0 || f.AngleEnd != 0 || len(f.Flanges) > 0 {
				return false
			}
		}
	}
	return true
}

// neighbours reports whether a clash names two flanges that share a corner.
func neighbours(p Part, place string) bool {
	n := len(p.Web.Edges)
	a, b, _ := strings.Cut(place, " and ")
	if !strings.Contains(a, `"`) || !strings.Contains(b, `"`) {
		return false // one of the two is the web
	}
	i, j := int(a[strings.Index(a, `"`)+1]-'a'), int(b[strings.Index(b, `"`)+1]-'a')
	return (i+1)%n == j || (j+1)%n == i
}

// Without the cut that keeps neighbours apart the same parts do clash: the check
// above can fail.
func TestClashesAreSeen(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 1))
	seen := 0
	for range 500 {
		p := randomPart(r)
		if !wholeEdges(p) || p.Validate() != nil {
			continue
		}
		for i := range p.Web.Edges {
			p.Web.Edges[i].Corner = Corner{}
		}
		l := layout{part: &p, rule: bend.Handbook{}, gap: -6}
		l.blank.Part = p
		l.web()
		if len(l.faults) > 0 {
			continue
		}
		l.prove()
		l.inspectClashes()
		for _, f := range l.blank.Findings {
			seen += count(neighbours(p, f.Place))
		}
	}
	require.Greater(t, seen, 50)
}
