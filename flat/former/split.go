package former

import (
	"fmt"
	"math"
	"sort"
)

// A Split says how a ring is made in pieces.
type Split struct {
	Pieces int       // 0 and 1 leave it whole
	Joints []float64 // girths of the joints on the outer contour; none lets them be chosen
	Gap    float64   // left open at each joint, mm; usually 0
	// Stock and BlockStock are the sheet and the block material at hand; zero is any size.
	Stock, BlockStock Stock
	// Neighbours are the girths at which the frames beside this one are joined. Joints keep
	// Stagger away from them.
	Neighbours []float64
	Stagger    float64
	Rivet      float64 // diameter of the splice rivets, mm; 0 takes the largest of at most three thicknesses
}

// Stock is a rectangle of material, mm.
type Stock struct{ Length, Width float64 }

// Takes reports whether a rectangle fits, turned if need be. The zero Stock takes all.
func (s Stock) Takes(size Stock) bool {
	if s == (Stock{}) {
		return true
	}
	return max(size.Length, size.Width) <= max(s.Length, s.Width) && min(size.Length, size.Width) <= min(s.Length, s.Width)
}

const mostPieces = 24

func (s Split) check(hollow bool, around float64, f *faults) {
	if !(0 <= s.Pieces && s.Pieces <= mostPieces) {
		f.add("pieces", fmt.Sprint(s.Pieces), fmt.Sprintf("must be 1 to %d", mostPieces))
	}
	if s.Pieces > 1 && !hollow {
		f.add("pieces", fmt.Sprint(s.Pieces), "a web without an opening is not a ring and is not split across its contour: give the inner contour")
	}
	if len(s.Joints) > 0 && len(s.Joints) != s.Pieces {
		f.add("joints", fmt.Sprint(len(s.Joints)), fmt.Sprintf("a ring in %d pieces has as many joints, and at least 2", s.Pieces))
	}
	for i, at := range s.Joints {
		f.length(fmt.Sprintf("joint %d girth", i+1), at, -around, around, "must lie within one round of the contour, "+mm(around))
	}
	for i, at := range s.Neighbours {
		f.length(fmt.Sprintf("neighbour joint %d girth", i+1), at, -around, around, "must lie within one round of the contour, "+mm(around))
	}
	f.length("joint gap", s.Gap, 0, 10, "must be 0 to 10 mm")
	f.length("stagger", s.Stagger, 0, around/2, "must be 0 to half the contour")
	if s.Rivet != 0 {
		f.length("splice rivet diameter", s.Rivet, smallestRivet, largestRivet, "must be 1 to 10 mm, or 0 to have it chosen from the thickness")
	}
	for _, st := range []struct {
		name string
		Stock
	}{{"sheet stock", s.Stock}, {"block stock", s.BlockStock}} {
		if st.Stock != (Stock{}) {
			f.length(st.name+" length", st.Length, 1, longest, "must be above 1 mm, or leave the whole stock out")
			f.length(st.name+" width", st.Width, 1, longest, "must be above 1 mm, or leave the whole stock out")
		}
	}
}

// A joint is a line across the web at which it is parted, square to the outer contour.
type joint struct {
	girth float64
	frame frame
	inner float64 // girth on the inner contour
	depth float64 // of the web between its contours
	along float64 // from there, where what is cut begins or ends: half the gap of a split
}

// moved is the joint with what is cut there beginning or ending some mm along from it.
func (j joint) moved(along float64) joint {
	j.along = along
	return j
}

func (r *Ring) jointAt(girth float64) (joint, bool) {
	girth = r.Outer.contour.wrap(girth)
	f := r.Outer.contour.frame(girth)
	c, ok := r.across(f, r.Inner.contour.path)
	return joint{girth: girth, frame: f, inner: c.girth, depth: c.depth}, ok
}

// joints are where the ring is parted, in order of girth: as asked, or the places that suit best.
func (r *Ring) joints() ([]joint, error) {
	split := r.Former.Split
	if split.Pieces < 2 {
		return nil, nil
	}
	girths := split.Joints
	if len(girths) == 0 {
		girths = r.chooseJoints(split.Pieces)
		if girths == nil {
			return nil, &Error{"pieces", fmt.Sprint(split.Pieces), "cut-outs, splices and the joints of the neighbours leave no room for so many joints: ask for fewer pieces, a smaller stagger, or give the joints"}
		}
	}
	list := make([]joint, 0, len(girths))
	var f faults
	for i, at := range girths {
		j, ok := r.jointAt(at)
		if !ok {
			f.add(fmt.Sprintf("joint %d girth", i+1), mm(at), "straight in from there the opening is not met")
			continue
		}
		for k := range r.cut {
			if s := &r.cut[k]; !s.MarkOnly && r.Outer.contour.distance(s.at, j.girth) <= s.half {
				f.add(fmt.Sprintf("joint %d girth", i+1), mm(at), "lies in "+cutName(s.Cutout, k))
			}
		}
		list = append(list, j)
	}
	if len(f) > 0 {
		return nil, f.err()
	}
	sort.Slice(list, func(i, j int) bool { return list[i].girth < list[j].girth })
	for i := range list {
		next := list[(i+1)%len(list)]
		if gap := r.Outer.contour.ahead(list[i].girth, next.girth); !(gap > split.Gap+1) {
			return nil, &Error{"joints", mm(list[i].girth), "two joints at one place"}
		}
	}
	return list, nil
}

// ahead is how far it is from one girth forward to another.
func (c *contour) ahead(from, to float64) float64 {
	d := c.wrap(to) - c.wrap(from)
	if d < 0 {
		d += c.length()
	}
	return d
}

// distance is how far two girths lie apart, the shorter way round.
func (c *contour) distance(a, b float64) float64 {
	d := c.ahead(a, b)
	return min(d, c.length()-d)
}

// jointGrid is how finely the contour is searched for joints.
const jointGrid = 720

// chooseJoints looks for n joints at nearly even girths where the edges are strained least,
// clear of cut-outs and of the neighbours' joints: every start on a grid is tried, and each
// joint may slide a sixth of a piece from its even place. The first of the best whose pieces
// come out of the stock is taken, else the best.
func (r *Ring) chooseJoints(n int) []float64 {
	cost := r.jointCosts()
	step := jointGrid / n
	slide := jointGrid / (6 * n)
	var tries []jointTry
	for start := range step {
		t := jointTry{at: make([]float64, n)}
		for k := range n {
			best := math.Inf(1)
			even := start + k*jointGrid/n
			for d := -slide; d <= slide; d++ {
				i := (even + d + jointGrid) % jointGrid
				// A joint away from its even place makes one piece longer than need be.
				if c := cost[i] + 0.2*math.Abs(float64(d))/float64(slide); c < best {
					best = c
					t.at[k] = float64(i) / jointGrid * r.Outer.contour.length()
				}
			}
			t.cost += best
		}
		if !math.IsInf(t.cost, 1) {
			tries = append(tries, t)
		}
	}
	if len(tries) == 0 {
		return nil
	}
	sort.SliceStable(tries, func(i, j int) bool { return tries[i].cost < tries[j].cost })
	// A block may be glued up, a blank may not: first look for both, then for the blank alone.
	for _, block := range []bool{true, false} {
		for _, t := range tries[:min(len(tries), mostTries)] {
			if r.fitsStock(t.at, block) {
				return t.at
			}
		}
	}
	return tries[0].at
}

// mostTries bounds the sets of joints whose pieces are measured.
const mostTries = 40

type jointTry struct {
	at   []float64
	cost float64
}

// jointCosts rates every place of the grid: 0 where nothing is strained, 1 at the worst, and
// infinite where a splice cannot stand.
func (r *Ring) jointCosts() []float64 {
	c := r.Outer.contour
	cost := make([]float64, jointGrid)
	half := 0.0
	for k := range 12 {
		if j, ok := r.jointAt(c.length() * float64(k) / 12); ok {
			half = max(half, r.spliceAt(j).Half)
		}
	}
	worst := 0.0
	for i := range cost {
		at := float64(i) / jointGrid * c.length()
		j, ok := r.jointAt(at)
		if !ok || r.blocked(at, half) {
			cost[i] = math.Inf(1)
			continue
		}
		cost[i] = math.Abs(r.Outer.StrainAt(at).Value()) + math.Abs(r.Inner.StrainAt(j.inner).Value())
		worst = max(worst, cost[i])
	}
	for i := range cost {
		if worst > 0 {
			cost[i] /= worst
		}
	}
	return cost
}

// blocked tells whether a splice reaching half to either side cannot stand at a girth.
func (r *Ring) blocked(at, half float64) bool {
	c, split := r.Outer.contour, r.Former.Split
	for i := range r.cut {
		if c.distance(r.cut[i].at, at) < half+r.cut[i].half {
			return true
		}
	}
	for _, n := range split.Neighbours {
		if c.distance(n, at) < split.Stagger {
			return true
		}
	}
	return false
}

// fitsStock reports whether all pieces between the girths come out of the sheet at
// hand, and their blocks, if asked, each in one part. A block is as large as its part's
// mold lines, nearly.
func (r *Ring) fitsStock(girths []float64, block bool) bool {
	split := r.Former.Split
	list := make([]joint, 0, len(girths))
	for _, at := range girths {
		j, ok := r.jointAt(at)
		if !ok {
			return false
		}
		list = append(list, j)
	}
	sort.Slice(list, func(i, j int) bool { return list[i].girth < list[j].girth })
	fits := func(outer, inner track, stock Stock) bool {
		for i := range list {
			path, err := r.region(outer, inner, list[i], list[(i+1)%len(list)], nil)
			if err != nil || !stock.Takes(SizeOf(path)) {
				return false
			}
		}
		return true
	}
	if split.Stock != (Stock{}) && !fits(r.Outer.edge, r.Inner.edge, split.Stock) {
		return false
	}
	return !block || split.BlockStock == (Stock{}) ||
		fits(track{r.Outer.Mold, r.Outer.contour.from}, track{r.Inner.Mold, r.Inner.contour.from}, split.BlockStock)
}
