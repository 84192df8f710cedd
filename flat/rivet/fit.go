package rivet

import (
	"math"
	"slices"
	"sort"

	"gonum.org/v1/gonum/spatial/r2"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
)

// A key is a station that carries a rivet whatever the pitch comes to.
type key struct {
	at   float64
	kind keyKind
	hole int // of a found one, its number
}

// keyKind ranks keys: where two stand too near each other the greater stays.
type keyKind uint8

const (
	atCorner keyKind = iota
	atEnd
	atFound
)

// row sets the rivets of one line. The first row, and any with found holes, is fitted
// on its own; the others stand opposite the first.
func (j *layJob) row(i int) {
	t, row := j.tracks[i], &j.layout.Rows[i]
	free := t.parted(t.open(j.End, j.blocks), j.least)
	if len(free) == 0 {
		j.find(flat.Warn, row.Name, t.at(0), "no room for a rivet between ends and keep-outs", t.length(), 2*j.End, geometry)
	}
	var stations []float64
	if j.rank[i] == 0 || len(j.found[i]) > 0 {
		stations = j.fit(t, free, j.found[i])
	} else {
		stations = j.follow(i, free)
	}
	row.Holes = j.found[i]
	for _, s := range stations {
		if t.path.Closed {
			s = wrap(s, t.length())
		}
		row.Holes = append(row.Holes, Hole{At: t.at(s), Station: s})
	}
	slices.SortStableFunc(row.Holes, func(a, b Hole) int {
		switch {
		case a.Station < b.Station:
			return -1
		case a.Station > b.Station:
			return 1
		}
		return 0
	})
}

// parted draws the stretches on either side of a narrow keep-out back, so that rivets at their
// ends do not crowd across it. What vanishes had no room.
func (t *track) parted(free []span, least float64) []span {
	n := len(free)
	for i := range free {
		next, round := (i+1)%n, 0.0
		if next == 0 {
			if !t.path.Closed || n == 1 && free[0].to-free[0].from > t.length()-coincident {
				break
			}
			round = t.length()
		}
		if free[next].from+round-free[i].to > 2*least {
			continue
		}
		// Again and again, because where the line turns moving apart by what is missing is not quite
		// enough; each time leaves a part of it, the larger the sharper the turn.
		for range 100 {
			short := least - t.chord(free[i].to, free[next].from)
			if short < coincident/2 {
				break
			}
			free[i].to -= short / 2
			free[next].from += short / 2
		}
	}
	return slices.DeleteFunc(free, func(s span) bool { return s.to < s.from-coincident })
}

// fit divides the free stretches of a line into equal spaces, between ends, corners
// and found holes. It returns the stations of the new rivets.
func (j *layJob) fit(t *track, free []span, found []Hole) []float64 {
	var fixed []key
	for i, h := range found {
		fixed = append(fixed, key{h.Station, atFound, i})
	}
	for _, s := range corners(t, j.Pitch) {
		fixed = append(fixed, key{s, atCorner, -1})
	}
	sort.SliceStable(fixed, func(a, b int) bool { return fixed[a].at < fixed[b].at })
	var out []float64
	for _, s := range free {
		out = append(out, j.fill(t, s, fixed)...)
	}
	// Beyond the free stretches found holes stand too.
	return slices.DeleteFunc(out, func(s float64) bool { return t.crowded(s, fixed, j.least-coincident) })
}

// crowded reports whether a found hole of the keys, in order along the line, is nearer
// to a station than least.
func (t *track) crowded(s float64, keys []key, least float64) bool {
	length := t.length()
	if t.path.Closed {
		s = wrap(s, length)
	}
	near := func(s float64) bool {
		for i := sort.Search(len(keys), func(i int) bool { return keys[i].at > s-least }); i < len(keys) && keys[i].at < s+least; i++ {
			if keys[i].kind == atFound {
				return true
			}
		}
		return false
	}
	return near(s) || t.path.Closed && (near(s-length) || near(s+length))
}

// fill sets rivets in one stretch.
func (j *layJob) fill(t *track, s span, fixed []key) []float64 {
	whole := t.path.Closed && s.to-s.from > t.length()-coincident
	if whole && len(fixed) == 0 {
		n := j.spaces(t, s, false)
		return divide(nil, s.from, s.from+t.length(), n, true)
	}
	if whole {
		// Round a closed line from a fixed rivet to itself; the best of them, so that
		// thinning leaves it.
		first := fixed[0]
		for _, k := range fixed {
			if k.kind > first.kind {
				first = k
			}
		}
		s = span{first.at, first.at + t.length()}
	}
	var keys []key
	for _, k := range fixed {
		for _, turn := range []float64{0, t.length()} {
			if at := k.at + turn; s.from <= at && at <= s.to && (turn == 0 || t.path.Closed) {
				keys = append(keys, key{at, k.kind, k.hole})
			}
		}
	}
	if !whole {
		keys = append(keys, key{s.from, atEnd, -1}, key{s.to, atEnd, -1})
	}
	sort.SliceStable(keys, func(a, b int) bool { return keys[a].at < keys[b].at })
	if whole {
		// The stretch ends on the rivet it starts from: neither may give way.
		keys[0].kind, keys[len(keys)-1].kind = atFound, atFound
	}
	return j.between(t, thin(t, keys, j.least), whole)
}

// chord is the distance of two stations through the metal: a pitch is measured between centres,
// and round a corner that is less than along the line.
func (t *track) chord(a, b float64) float64 { return r2.Norm(r2.Sub(t.at(a), t.at(b))) }

// thin drops keys that stand nearer than least to a greater one. Two ends that do are
// one rivet in the middle.
func thin(t *track, keys []key, least float64) []key {
	var out []key
	merged := false // the last of out, with one behind it
	for _, k := range keys {
		for {
			n := len(out)
			if n == 0 || t.chord(out[n-1].at, k.at) >= least-coincident || k.kind == atFound && out[n-1].kind == atFound {
				out, merged = append(out, k), false
				break
			}
			last := out[n-1]
			if last.kind > k.kind {
				break
			}
			if last.kind == k.kind {
				// One in the middle, unless that would crowd the one before or make one of three; then
				// the earlier stays.
				if middle := (last.at + k.at) / 2; !merged && (n < 2 || t.chord(out[n-2].at, middle) >= least-coincident) {
					out[n-1].at, merged = middle, true
				}
				break
			}
			out, merged = out[:n-1], false // and look at the one before
		}
	}
	return out
}

// between sets the keys' rivets and equal spaces between neighbours; found holes are
// there already. Round a whole closed line the last key is the first again.
func (j *layJob) between(t *track, keys []key, whole bool) []float64 {
	var out []float64
	for i, k := range keys {
		if k.hole < 0 && !(whole && i == len(keys)-1 && len(keys) > 1) {
			out = append(out, k.at)
		}
		if i == 0 {
			continue
		}
		last := keys[i-1]
		n := j.spaces(t, span{last.at, k.at}, last.hole >= 0 && k.hole >= 0)
		out = divide(out, last.at, k.at, n, false)
	}
	return out
}

// spaces is how many equal spaces a stretch is divided in: as few as keep the pitch,
// never closer than the least. Between two found holes the nearest number is taken,
// for old pitches are never quite even.
func (j *layJob) spaces(t *track, s span, betweenFound bool) int {
	length := s.to - s.from
	x := length / j.Pitch
	want := math.Ceil(x - 1e-9)
	if betweenFound {
		want = math.Round(x)
	}
	n := int(max(1, min(want, math.Floor(length/j.least+1e-9))))
	// Where the line turns, centres are nearer than stations: half as far round a corner of 60°, a quarter at 29°.
	turns := t.chord(s.from, s.to) < length-coincident
	for turns && n > 1 && length/float64(n) < 4*j.least && j.crowds(t, s, n) {
		n--
	}
	return n
}

// crowds reports whether two neighbours of n equal spaces are too near each other.
func (j *layJob) crowds(t *track, s span, n int) bool {
	step := (s.to - s.from) / float64(n)
	for i := range n {
		if at := s.from + float64(i)*step; t.chord(at, at+step) < j.least-coincident {
			return true
		}
	}
	return false
}

// divide appends the stations that divide a stretch, its end left out; its start too
// unless asked for.
func divide(out []float64, from, to float64, n int, start bool) []float64 {
	if start {
		out = append(out, from)
	}
	for i := 1; i < n; i++ {
		out = append(out, from+(to-from)*float64(i)/float64(n))
	}
	return out
}

const (
	// sharp is the turn of a corner that gets a rivet of its own.
	sharp = 20 * measure.Degree
	// rounded is the turn of an arc that is a corner, when it is short.
	rounded = 45 * measure.Degree
)

// corners are the stations of the line's corners: sharp ones, and the middles of
// arcs that turn much within two pitches.
func corners(t *track, pitch float64) []float64 {
	p, n := t.path, t.path.NumSegments()
	var list []float64
	for i, s := range p.Segments() {
		if i > 0 || p.Closed {
			if before := p.Segment((i + n - 1) % n); turn(before, s) > sharp {
				list = append(list, t.starts[i])
			}
		}
		if sweep := s.Sweep(); math.Abs(float64(sweep)) > float64(rounded) && s.Length() < 2*pitch {
			list = append(list, (t.starts[i]+t.starts[i+1])/2)
		}
	}
	return list
}

// turn is the angle between the end of one segment and the start of the next.
func turn(a, b outline.Segment) measure.Angle {
	u, v := a.Tangent(1), b.Tangent(0)
	return measure.Angle(math.Abs(math.Atan2(u.X*v.Y-u.Y*v.X, u.X*v.X+u.Y*v.Y)))
}

// follow sets the rivets of a later row opposite those of the first, or opposite the
// middles of its spaces.
func (j *layJob) follow(i int, free []span) []float64 {
	t := j.tracks[i]
	// A foot much farther off than the rows are apart belongs to another part of a
	// row that has parted.
	reach := 1.5 * float64(j.rank[i]) * j.Spacing
	var feet []float64
	for k, first := range j.layout.Rows {
		if j.rank[k] != 0 {
			continue
		}
		for _, q := range first.stations(j.Stagger && j.rank[i]%2 == 1, j.tracks[k]) {
			if s, off := t.foot(j.tracks[k].at(q)); off <= reach {
				feet = append(feet, s)
			}
		}
	}
	sort.Float64s(feet)
	var out []float64
	for _, s := range free {
		out = append(out, j.settle(t, s, feet)...)
	}
	return out
}

// stations are where the row has its rivets, or the middles between them.
func (r Row) stations(middles bool, t *track) []float64 {
	var list []float64
	for i, h := range r.Holes {
		if !middles {
			list = append(list, h.Station)
			continue
		}
		switch next := (i + 1) % len(r.Holes); {
		case next > 0:
			list = append(list, (h.Station+r.Holes[next].Station)/2)
		case r.Line.Closed && len(r.Holes) > 1:
			list = append(list, (h.Station+r.Holes[0].Station+t.length())/2)
		}
	}
	return list
}

// settle keeps the feet within a stretch, makes one of those that crowd, and adds one
// at an end that is left bare: staggered rivets stand half a pitch from it by intent, so
// for more than three quarters.
func (j *layJob) settle(t *track, s span, feet []float64) []float64 {
	var keys []key
	whole := t.path.Closed && s.to-s.from > t.length()-coincident
	for _, turn := range []float64{0, t.length()} {
		for _, f := range feet {
			if at := f + turn; s.from-coincident <= at && at <= s.to+coincident && (turn == 0 || t.path.Closed && !whole) {
				keys = append(keys, key{at, atCorner, -1})
			}
		}
	}
	keys = thin(t, keys, j.least)
	if n := len(keys); whole && n > 1 && t.chord(keys[0].at, keys[n-1].at) < j.least-coincident {
		keys[0].at = (keys[0].at + keys[n-1].at - t.length()) / 2
		keys = keys[:n-1]
	}
	if !whole {
		keys = j.bareEnds(t, s, keys)
	}
	return j.spread(t, keys, whole)
}

// spread sets more where the feet lie far apart, as they do round the outside of a bend, on a row that is longer than
// the first: as many equal spaces as come nearest to the pitch.
func (j *layJob) spread(t *track, keys []key, whole bool) []float64 {
	var out []float64
	for i, k := range keys {
		out = append(out, k.at)
		next := keys[(i+1)%len(keys)].at
		if i == len(keys)-1 {
			if !whole || i == 0 {
				break
			}
			next += t.length()
		}
		out = divide(out, k.at, next, j.spaces(t, span{k.at, next}, true), false)
	}
	return out
}

func (j *layJob) bareEnds(t *track, s span, keys []key) []key {
	if len(keys) == 0 {
		// Nothing stands opposite: the stretch lies between rivets of the first row.
		return append(keys, key{(s.from + s.to) / 2, atCorner, -1})
	}
	bare := func(from, to float64) bool {
		return to-from > 0.75*j.Pitch+coincident && t.chord(from, to) >= j.least-coincident
	}
	if bare(s.from, keys[0].at) {
		keys = slices.Insert(keys, 0, key{s.from, atEnd, -1})
	}
	if bare(keys[len(keys)-1].at, s.to) {
		keys = append(keys, key{s.to, atEnd, -1})
	}
	return keys
}
