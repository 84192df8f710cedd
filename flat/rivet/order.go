package rivet

import (
	"cmp"
	"math"
	"slices"

	"github.com/hangarflat/hangarflat/flat/outline"
	"gonum.org/v1/gonum/spatial/r2"
)

// A Drive is one rivet's turn to be driven.
type Drive struct {
	Row, Hole int // indices into the rows
	At        r2.Vec
}

// DrivingOrder puts rivets into the order they are driven in: from the middle of the
// middle row out along it, to either side in turn, then row by row farther from the
// middle, the outermost last. So the sheet's slack is always pushed toward an edge that is
// still free; driven the other way it is shut in and the skin bulges (common practice).
//
// In detail, and each held by a test:
//
//	(1) Every rivet comes once.
//	(2) The middle of the skin is the centroid of the convex hull of all rivets. The middle
//	    row is the one whose line of rivets passes nearest to it.
//	(3) The first rivet is the one at the middle of the middle row's length; in a closed row, the one
//	    nearest to the middle of the skin. Every other row starts at its rivet nearest to that
//	    first one.
//	(4) From its start a row goes out to either side in turn; when one side is done, on
//	    along the other.
//	(5) Rows follow by their distance from the middle of the skin. A closed row comes after
//	    every row that lies inside it.
//	(6) What is equally far keeps the order it was given in, to a millionth of the size of the skin.
//
// On a curved skin the rows are given as they lie on the flat sheet. Rivets that are not
// finite are an *[Error]; rows without any are passed over.
func DrivingOrder(rows []Row) ([]Drive, error) {
	var f faults
	total := 0
	for _, row := range rows {
		f.holes(row)
		total += len(row.Holes)
	}
	if len(f) > 0 {
		return nil, f.err()
	}
	if total == 0 {
		return nil, nil
	}
	o := ordering{rows: rows}
	o.middle, o.tol = middleOfSkin(rows, total)
	o.rank()
	out := make([]Drive, 0, total)
	var first r2.Vec
	for turn, k := range o.sorted {
		start := nearestHole(rows[k].Holes, first, o.tol)
		if turn == 0 {
			start = midHole(rows[k], o.middle, o.tol)
			first = rows[k].Holes[start].At
		}
		out = appendRow(out, rows[k], k, start)
	}
	return out, nil
}

type ordering struct {
	rows   []Row
	middle r2.Vec
	tol    float64 // within which two distances are equal, mm
	sorted []int   // rows with rivets, in the order they are driven
}

// rank sorts the rows by their distance from the middle of the skin, closed rows
// behind what they enclose.
func (o *ordering) rank() {
	type ring struct {
		row  int
		path outline.Path
	}
	far := make([]float64, len(o.rows))
	encloses := make([]int, len(o.rows)) // how many rows deep a closed row reaches
	var rings []ring
	for k, row := range o.rows {
		if len(row.Holes) == 0 {
			continue
		}
		o.sorted = append(o.sorted, k)
		far[k] = awayFrom(row, o.middle)
		if row.Line.Closed && len(row.Holes) > 2 {
			rings = append(rings, ring{k, through(row)})
		}
	}
	// Smaller rings first, so that a ring within a ring has its distance already.
	slices.SortStableFunc(rings, func(a, b ring) int { return cmp.Compare(math.Abs(a.path.Area()), math.Abs(b.path.Area())) })
	for _, r := range rings {
		index := outline.NewIndex(r.path)
		for _, k := range o.sorted {
			if k != r.row && inside(index, o.rows[k]) {
				far[r.row] = math.Max(far[r.row], far[k])
				encloses[r.row] = max(encloses[r.row], encloses[k]+1)
			}
		}
	}
	slices.SortStableFunc(o.sorted, func(a, b int) int {
		if d := far[a] - far[b]; math.Abs(d) > o.tol {
			return cmp.Compare(far[a], far[b])
		}
		return cmp.Compare(encloses[a], encloses[b])
	})
}

// through is the chain of straight lines through a closed row's rivets.
func through(row Row) outline.Path {
	p := outline.Path{Closed: true, Vertices: make([]outline.Vertex, len(row.Holes))}
	for i, h := range row.Holes {
		p.Vertices[i].P = h.At
	}
	return p
}

// inside reports whether a row lies within a ring: its first, middle and last rivet do.
func inside(ring *outline.Index, row Row) bool {
	n := len(row.Holes)
	for _, i := range [3]int{0, n / 2, n - 1} {
		if ring.Side(row.Holes[i].At) != outline.Inside {
			return false
		}
	}
	return true
}

// awayFrom is how near the line through a row's rivets passes to a point.
func awayFrom(row Row, q r2.Vec) float64 {
	least := r2.Norm(r2.Sub(row.Holes[0].At, q))
	for i := range row.Holes[1:] {
		least = math.Min(least, outline.Segment{A: row.Holes[i].At, B: row.Holes[i+1].At}.Distance(q))
	}
	if n := len(row.Holes); row.Line.Closed && n > 2 {
		least = math.Min(least, outline.Segment{A: row.Holes[n-1].At, B: row.Holes[0].At}.Distance(q))
	}
	return least
}

// midHole is the rivet nearest to the middle of a row's length, measured from rivet to
// rivet; the earlier of two. A closed row has no middle: there it is the rivet nearest to that of
// the skin.
func midHole(row Row, middle r2.Vec, tol float64) int {
	if row.Line.Closed {
		return nearestHole(row.Holes, middle, tol)
	}
	along := make([]float64, len(row.Holes))
	for i := range row.Holes[1:] {
		along[i+1] = along[i] + r2.Norm(r2.Sub(row.Holes[i+1].At, row.Holes[i].At))
	}
	half := along[len(along)-1] / 2
	best := 0
	for i, a := range along {
		if math.Abs(a-half) < math.Abs(along[best]-half)-1e-9*half {
			best = i
		}
	}
	return best
}

// nearestHole is the rivet nearest to a point; the earlier of two.
func nearestHole(holes []Hole, q r2.Vec, tol float64) int {
	best, least := 0, math.Inf(1)
	for i, h := range holes {
		if d := r2.Norm(r2.Sub(h.At, q)); d < least-tol {
			best, least = i, d
		}
	}
	return best
}

// appendRow goes out from a row's start to either side in turn. Round a closed row the
// two sides meet opposite.
func appendRow(out []Drive, row Row, k, start int) []Drive {
	n := len(row.Holes)
	put := func(i int) { out = append(out, Drive{k, i, row.Holes[i].At}) }
	put(start)
	if row.Line.Closed {
		for i := 1; i <= n/2; i++ {
			put((start + i) % n)
			if 2*i < n {
				put((start - i + n) % n)
			}
		}
		return out
	}
	for i := 1; start-i >= 0 || start+i < n; i++ {
		if start+i < n {
			put(start + i)
		}
		if start-i >= 0 {
			put(start - i)
		}
	}
	return out
}

// middleOfSkin is the centroid of the hull of all rivets; of rivets in one line the
// middle between the outermost. The second result is a millionth of its size.
func middleOfSkin(rows []Row, total int) (r2.Vec, float64) {
	pts := make([]r2.Vec, 0, total)
	for _, row := range rows {
		for _, h := range row.Holes {
			pts = append(pts, h.At)
		}
	}
	hull := convexHull(pts)
	box := outline.Polygon(hull...).Bounds()
	size := r2.Norm(box.Size())
	tol := 1e-6 * size
	if len(hull) > 2 {
		if p := outline.Polygon(hull...); p.Area() > tol*size {
			return p.Centroid(), tol
		}
	}
	return r2.Scale(0.5, r2.Add(box.Min, box.Max)), tol
}

// convexHull is the hull counter-clockwise, by Andrew's monotone chain (A. M. Andrew,
// "Another efficient algorithm for convex hulls in two dimensions", 1979). Rivets stand in rows, so
// most triples are nearly in line; which of those stay moves the centroid by rounding only, and an exact
// test would cost all the time there is.
func convexHull(pts []r2.Vec) []r2.Vec {
	slices.SortFunc(pts, func(a, b r2.Vec) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) })
	pts = slices.Compact(pts)
	if len(pts) < 3 {
		return pts
	}
	half := func(list []r2.Vec, p r2.Vec, base int) []r2.Vec {
		for len(list) >= base+2 && turnOf(list[len(list)-2], list[len(list)-1], p) <= 0 {
			list = list[:len(list)-1]
		}
		return append(list, p)
	}
	hull := make([]r2.Vec, 0, 16)
	for _, p := range pts {
		hull = half(hull, p, 0)
	}
	base := len(hull) - 1
	for i := len(pts) - 2; i >= 0; i-- {
		hull = half(hull, pts[i], base)
	}
	return hull[:len(hull)-1]
}

func turnOf(a, b, c r2.Vec) float64 { return r2.Cross(r2.Sub(b, a), r2.Sub(c, a)) }

// Temporary chooses the holes that get a temporary fastener before driving: every
// second or third (every) of each row counted from where its driving starts, and the
// ends of open rows. Fasteners are set in this order; when driving comes to one it is
// taken out and its rivet driven. every must be 1 to 20.
//
// Errors, each an [*Error]: every outside that range, and an order that names a hole the rows have
// not.
func Temporary(rows []Row, order []Drive, every int) ([]Drive, error) {
	var f faults
	if !(1 <= every && every <= 20) {
		f.add("temporary fasteners, every", plain(every), "must be 1 to 20: every second or third hole is usual")
	}
	start := make([]int, len(rows))
	for i := range start {
		start[i] = -1
	}
	for _, d := range order {
		if !(0 <= d.Row && d.Row < len(rows) && 0 <= d.Hole && d.Hole < len(rows[d.Row].Holes)) {
			f.add("order", "", "is not the driving order of these rows")
			break
		}
		if start[d.Row] < 0 {
			start[d.Row] = d.Hole
		}
	}
	if len(f) > 0 {
		return nil, f.err()
	}
	var out []Drive
	for _, d := range order {
		row := rows[d.Row]
		n, away := len(row.Holes), d.Hole-start[d.Row]
		if away < 0 && row.Line.Closed {
			away += n
		}
		end := !row.Line.Closed && (d.Hole == 0 || d.Hole == n-1)
		if away%every == 0 || end {
			out = append(out, d)
		}
	}
	return out, nil
}
