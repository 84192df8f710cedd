package rivet_test

import (
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"pgregory.net/rapid"

	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/flat/rivet"
)

// rowAt is a row of n rivets from a point on, by steps.
func rowAt(name string, from, step r2.Vec, n int) rivet.Row {
	r := rivet.Row{Name: name, Line: line(from, r2.Add(from, r2.Scale(float64(n), step)))}
	for i := range n {
		r.Holes = append(r.Holes, rivet.Hole{At: r2.Add(from, r2.Scale(float64(i), step)), Station: float64(i) * r2.Norm(step)})
	}
	return r
}

// ringOf is a closed row of n rivets.
func ringOf(name string, c r2.Vec, radius float64, n int) rivet.Row {
	r := rivet.Row{Name: name, Line: outline.Circle(c, radius)}
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		r.Holes = append(r.Holes, rivet.Hole{At: r2.Add(c, at(radius*cos, radius*sin))})
	}
	return r
}

func named(rows []rivet.Row, order []rivet.Drive) (list []string) {
	for _, d := range order {
		list = append(list, fmt.Sprintf("%s%d", rows[d.Row].Name, d.Hole))
	}
	return list
}

// Three rows of five on a flat skin, the middle one named last: its middle first, out to either side,
// then the row given first of the two that are equally far.
func TestOrderOfThreeRows(t *testing.T) {
	rows := []rivet.Row{rowAt("low", at(0, 0), at(20, 0), 5), rowAt("high", at(0, 40), at(20, 0), 5), rowAt("mid", at(0, 20), at(20, 0), 5)}
	order, err := rivet.DrivingOrder(rows)
	require.NoError(t, err)
	assert.Equal(t, []string{"mid2", "mid3", "mid1", "mid4", "mid0", "low2", "low3", "low1", "low4", "low0", "high2", "high3", "high1", "high4", "high0"}, named(rows, order))
	// Ties are stable: with the two outer rows in the other order, the other comes first.
	rows[0], rows[1] = rows[1], rows[0]
	order, err = rivet.DrivingOrder(rows)
	require.NoError(t, err)
	assert.Equal(t, "high2", named(rows, order)[5])
}

// The middle of a skin is where it lies and not where most rivets are: a double row at one edge
// does not draw it there. Rows at 0, 10, 100, 200: the middle is 100.
func TestMiddleOfTheSkinNotOfTheRivets(t *testing.T) {
	rows := []rivet.Row{rowAt("a", at(0, 0), at(20, 0), 9), rowAt("b", at(10, 10), at(20, 0), 8), rowAt("c", at(0, 100), at(20, 0), 9), rowAt("d", at(0, 200), at(20, 0), 9)}
	order, err := rivet.DrivingOrder(rows)
	require.NoError(t, err)
	got := named(rows, order)
	assert.Equal(t, "c4", got[0])
	var seen []string
	for _, n := range got {
		if len(seen) == 0 || seen[len(seen)-1] != n[:1] {
			seen = append(seen, n[:1])
		}
	}
	// b lies 90 away, a and d 100.
	assert.Equal(t, []string{"c", "b", "a", "d"}, seen)
}

// Rings come after what they enclose, from inside out, and go round both ways from the rivet nearest
// to the first until they meet.
func TestRingsComeLast(t *testing.T) {
	rows := []rivet.Row{ringOf("outer", at(0, 0), 60, 8), ringOf("inner", at(0, 0), 50, 6), rowAt("off", at(-20, 35), at(10, 0), 5), rowAt("mid", at(-40, 0), at(20, 0), 5)}
	order, err := rivet.DrivingOrder(rows)
	require.NoError(t, err)
	assert.Equal(t, []string{
		"mid2", "mid3", "mid1", "mid4", "mid0", "off2", "off3", "off1", "off4", "off0",
		"inner0", "inner1", "inner5", "inner2", "inner4", "inner3",
		"outer0", "outer1", "outer7", "outer2", "outer6", "outer3", "outer5", "outer4",
	}, named(rows, order))
	// A narrow ring round rows that reach farther than its own sides lie: rows 0 and ±30 within a ring
	// whose ends lie nearer than 30 to nothing but whose upper side lies at 45: still last.
	wide := rivet.Row{Name: "rim", Line: outline.Rect(at(-200, -45), at(200, 45))}
	for _, p := range []r2.Vec{at(-200, -45), at(0, -45), at(200, -45), at(200, 45), at(0, 45), at(-200, 45)} {
		wide.Holes = append(wide.Holes, rivet.Hole{At: p})
	}
	frames := []rivet.Row{wide, rowAt("f", at(150, -30), at(0, 20), 4), rowAt("g", at(0, -30), at(0, 20), 4)}
	order, err = rivet.DrivingOrder(frames)
	require.NoError(t, err)
	for _, d := range order[:8] {
		assert.NotEqual(t, 0, d.Row, "the frame at 150 lies farther out than the rim's nearest side and is still inside it")
	}
}

// A skin that is all askew: rows of any direction, number and length. Every rivet comes once; a row
// once begun is finished; the first is the middle of its row; the rows follow by their distance from the
// centroid of the hull (here found by cutting the hull in triangles); each row goes out from its start.
func TestOrderOfAnySkin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 9).Draw(t, "rows")
		var rows []rivet.Row
		total := 0
		lean := rapid.Float64Range(-.4, .4).Draw(t, "lean")
		for i := range n {
			k := rapid.IntRange(0, 12).Draw(t, fmt.Sprintf("rivets%d", i))
			from := at(rapid.Float64Range(-100, 100).Draw(t, fmt.Sprintf("x%d", i)), 40*float64(i)+rapid.Float64Range(-10, 10).Draw(t, fmt.Sprintf("y%d", i)))
			rows = append(rows, rowAt(string(rune('a'+i)), from, at(20, 20*lean), k))
			total += k
		}
		rand.New(rand.NewPCG(uint64(total), 1)).Shuffle(n, func(i, j int) { rows[i], rows[j] = rows[j], rows[i] })
		order, err := rivet.DrivingOrder(rows)
		if err != nil {
			t.Fatal(err)
		}
		if len(order) != total {
			t.Fatalf("%d of %d", len(order), total)
		}
		seen := map[rivet.Drive]bool{}
		var turns []int
		lo, hi := map[int]int{}, map[int]int{}
		for _, d := range order {
			if seen[d] {
				t.Fatalf("%v twice", d)
			}
			seen[d] = true
			if len(turns) == 0 || turns[len(turns)-1] != d.Row {
				if slices.Contains(turns, d.Row) {
					t.Fatalf("row %d is left and taken up again", d.Row)
				}
				turns = append(turns, d.Row)
				lo[d.Row], hi[d.Row] = d.Hole, d.Hole
				continue
			}
			switch d.Hole {
			case lo[d.Row] - 1:
				lo[d.Row]--
			case hi[d.Row] + 1:
				hi[d.Row]++
			default:
				t.Fatalf("row %d jumps to %d from %d..%d", d.Row, d.Hole, lo[d.Row], hi[d.Row])
			}
			if left, right := lo[d.Row], hi[d.Row]; len(rows[d.Row].Holes) > 0 {
				start := firstOf(order, d.Row)
				reach := min(start, len(rows[d.Row].Holes)-1-start)
				if away := max(start-left, right-start); away <= reach && math.Abs(float64((start-left)-(right-start))) > 1 {
					t.Fatalf("row %d goes out one way only", d.Row)
				}
			}
		}
		if total == 0 {
			return
		}
		m := len(rows[turns[0]].Holes)
		if first := order[0].Hole; first != (m-1)/2 {
			t.Fatalf("starts at %d of %d", first, m)
		}
		c, ok := middle(rows)
		if !ok {
			return // all in one line
		}
		last := 0.0
		for _, k := range turns {
			d := lineDistance(rows[k], c)
			if d < last-1e-3 {
				t.Fatalf("row at %.4f after one at %.4f", d, last)
			}
			last = d
		}
	})
}

func firstOf(order []rivet.Drive, row int) int {
	for _, d := range order {
		if d.Row == row {
			return d.Hole
		}
	}
	return -1
}

// turn is which way a-b-c turns, in exact fractions: rivets of one row lie so nearly in
// line that rounding would send the wrapping back along it.
func turn(a, b, c r2.Vec) int {
	x := func(v float64) *big.Rat { return new(big.Rat).SetFloat64(v) }
	less := func(p, q float64) *big.Rat { return new(big.Rat).Sub(x(p), x(q)) }
	l := new(big.Rat).Mul(less(b.X, a.X), less(c.Y, a.Y))
	return l.Cmp(new(big.Rat).Mul(less(b.Y, a.Y), less(c.X, a.X)))
}

// middle is the hull's centroid by gift wrapping and triangles.
func middle(rows []rivet.Row) (r2.Vec, bool) {
	var pts []r2.Vec
	for _, r := range rows {
		for _, h := range r.Holes {
			pts = append(pts, h.At)
		}
	}
	start := slices.MinFunc(pts, func(a, b r2.Vec) int {
		if a.X != b.X {
			return int(math.Copysign(1, a.X-b.X))
		}
		return int(math.Copysign(1, a.Y-b.Y))
	})
	hull := []r2.Vec{start}
	for {
		p := hull[len(hull)-1]
		next := pts[0]
		for _, q := range pts {
			side := turn(p, next, q)
			if next == p || side < 0 || side == 0 && r2.Norm(r2.Sub(q, p)) > r2.Norm(r2.Sub(next, p)) {
				next = q
			}
		}
		if next == start || len(hull) > len(pts) {
			break
		}
		hull = append(hull, next)
	}
	var sum r2.Vec
	area := 0.0
	for i := 1; i+1 < len(hull); i++ {
		a := r2.Cross(r2.Sub(hull[i], start), r2.Sub(hull[i+1], start))
		sum = r2.Add(sum, r2.Scale(a/3, r2.Add(start, r2.Add(hull[i], hull[i+1]))))
		area += a
	}
	return r2.Scale(1/area, sum), area > 10
}

func lineDistance(r rivet.Row, q r2.Vec) float64 {
	if len(r.Holes) == 1 {
		return r2.Norm(r2.Sub(r.Holes[0].At, q))
	}
	// The distance along a straight line has one least: close in on it from both sides.
	a, b := r.Holes[0].At, r.Holes[len(r.Holes)-1].At
	away := func(t float64) float64 { return r2.Norm(r2.Sub(q, r2.Add(a, r2.Scale(t, r2.Sub(b, a))))) }
	lo, hi := 0.0, 1.0
	for range 80 {
		if l, h := lo+(hi-lo)/3, hi-(hi-lo)/3; away(l) < away(h) {
			hi = h
		} else {
			lo = l
		}
	}
	return away(lo)
}

func TestOrderOfOddCases(t *testing.T) {
	for _, rows := range [][]rivet.Row{nil, {{}}, {{Name: "empty", Line: line(at(0, 0), at(1, 0))}}} {
		order, err := rivet.DrivingOrder(rows)
		assert.NoError(t, err)
		assert.Empty(t, order)
	}
	// One rivet; a row on itself; all rivets in one place.
	one := []rivet.Row{rowAt("x", at(3, 4), at(0, 0), 1)}
	order, err := rivet.DrivingOrder(one)
	require.NoError(t, err)
	assert.Equal(t, []rivet.Drive{{Row: 0, Hole: 0, At: at(3, 4)}}, order)
	heap := []rivet.Row{rowAt("x", at(3, 4), at(0, 0), 4), rowAt("y", at(3, 4), at(0, 0), 2)}
	order, err = rivet.DrivingOrder(heap)
	require.NoError(t, err)
	assert.Len(t, order, 6)
	_, err = rivet.DrivingOrder([]rivet.Row{rowAt("x", at(math.NaN(), 0), at(1, 0), 2)})
	var bad *rivet.Error
	assert.ErrorAs(t, err, &bad)
}

// Every third from the start outward, and the ends.
func TestTemporaryFasteners(t *testing.T) {
	rows := []rivet.Row{rowAt("r", at(0, 0), at(20, 0), 12), ringOf("o", at(110, 0), 300, 9)}
	order, err := rivet.DrivingOrder(rows)
	require.NoError(t, err)
	pins, err := rivet.Temporary(rows, order, 3)
	require.NoError(t, err)
	// The row starts at 5: 5, 8, 2, 11, and the ends, of which 0 is 5 away and 11 is 6.
	assert.Equal(t, []string{"r5", "r8", "r2", "r0", "r11"}, named(rows, pins)[:5])
	assert.Len(t, pins, 5+3, "a ring of nine has three")
	// Round a ring of ten from its rivet 2, whichever way its driving goes: 2, 5, 8, 1.
	ten := []rivet.Row{ringOf("o", at(0, 0), 60, 10)}
	var round []rivet.Drive
	for _, i := range []int{2, 3, 1, 4, 0, 5, 9, 6, 8, 7} {
		round = append(round, rivet.Drive{Row: 0, Hole: i})
	}
	pins, err = rivet.Temporary(ten, round, 3)
	require.NoError(t, err)
	assert.Equal(t, []string{"o2", "o1", "o5", "o8"}, named(ten, pins))
	order, err = rivet.DrivingOrder(rows)
	require.NoError(t, err)
	_, err = rivet.Temporary(rows, order, 0)
	assert.ErrorContains(t, err, "every 0")
	_, err = rivet.Temporary(rows[:1], order, 3)
	assert.ErrorContains(t, err, "not the driving order")
}

// Worked by hand for a row of five with slack s in each of its four spaces. Driven 2 3 1 4 0, each space
// closes next to the free side: s goes over the end for 3 and 4, and over the start for 1 and 0: 2s each
// way and none is left. Driven from one end, 0 1 2 3 4: all four go over the far end. Driven 0 4 1 2 3: the
// row is shut by its ends; 1 pushes s to the right, 2 pushes it on, 3 lies between two driven rivets: the
// space 2-3 has 3s, the space 3-4 its own.
func TestSlackByHand(t *testing.T) {
	rows := []rivet.Row{rowAt("r", at(0, 0), at(25, 0), 5)}
	drive := func(holes ...int) []rivet.Drive {
		var list []rivet.Drive
		for _, h := range holes {
			list = append(list, rivet.Drive{Row: 0, Hole: h})
		}
		return list
	}
	const s = .02
	got, err := rivet.EstimateSlack(rows, drive(2, 3, 1, 4, 0), s)
	require.NoError(t, err)
	assert.Equal(t, rivet.Slack{Pushed: 4 * s, Travel: 2 * s}, got)
	got, err = rivet.EstimateSlack(rows, drive(0, 1, 2, 3, 4), s)
	require.NoError(t, err)
	assert.InDelta(t, 4*s, got.Travel, 1e-12)
	assert.Zero(t, got.Trapped)
	got, err = rivet.EstimateSlack(rows, drive(0, 4, 1, 2, 3), s)
	require.NoError(t, err)
	assert.InDelta(t, 0, got.Pushed, 1e-12)
	assert.InDelta(t, 3*s, got.Trapped, 1e-12)
	assert.InDelta(t, 62.5, got.At.X, 1e-12, "midway between 2 and 3")
	// A wave of that height over 25 mm is longer than 25 by .06: integrate its length.
	assert.InDelta(t, .06, waveLength(got.Bulge, 25)-25, .06*.06/25*2)
	assert.InDelta(t, got.Bulge, got.Step().Value, 1e-12)
	assert.Contains(t, got.Step().String(), "a model to compare orders by")

	_, err = rivet.EstimateSlack(rows, drive(0, 1, 2, 3), s)
	assert.ErrorContains(t, err, "leaves rivets out")
	_, err = rivet.EstimateSlack(rows, drive(0, 1, 2, 2, 3), s)
	assert.ErrorContains(t, err, "twice")
	_, err = rivet.EstimateSlack(rows, drive(0, 1, 2, 3, 4), math.NaN())
	assert.ErrorContains(t, err, "slack of a space")
}

func waveLength(h, p float64) float64 {
	const n = 100000
	sum := 0.0
	for i := range n {
		x := (float64(i) + .5) / n * p
		slope := h * math.Pi / p * math.Cos(math.Pi*x/p)
		sum += math.Sqrt(1+slope*slope) * p / n
	}
	return sum
}

// From the middle nothing is ever shut in, for any skin of open rows, and no end travels farther than in an
// order from one end.
func TestDrivingOrderShutsNothingIn(t *testing.T) {
	rows := []rivet.Row{rowAt("a", at(0, 0), at(20, 3), 11), rowAt("b", at(-5, 50), at(19, 0), 14), rowAt("c", at(30, 90), at(21, -2), 7)}
	order, err := rivet.DrivingOrder(rows)
	require.NoError(t, err)
	out, err := rivet.EstimateSlack(rows, order, .01)
	require.NoError(t, err)
	assert.Zero(t, out.Trapped)
	assert.InDelta(t, .01*(10+13+6), out.Pushed, 1e-9)
	var byEnd []rivet.Drive
	for k, r := range rows {
		for i := range r.Holes {
			byEnd = append(byEnd, rivet.Drive{Row: k, Hole: i})
		}
	}
	end, err := rivet.EstimateSlack(rows, byEnd, .01)
	require.NoError(t, err)
	assert.Less(t, out.Travel, end.Travel)
}
