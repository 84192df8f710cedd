package survey

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"github.com/hangarflat/hangarflat/material/measure"
)

// A Freedom is what a best fit may do to lay one thing on another.
type Freedom uint8

const (
	Free      Freedom = iota // shift and turn
	AboutAxis                // shift, and turn about RigidOptions.Axis alone: a part on a table
	ShiftOnly                // shift without turning: level and plumb are kept
	Fixed                    // neither: both are in the same datum
)

// RigidOptions says how two sets of points are laid on each other. The zero value
// shifts and turns freely, all points alike.
type RigidOptions struct {
	Freedom Freedom
	Axis    r3.Vec    // direction, for AboutAxis
	Weights []float64 // one a pair, above 0; nil weighs all alike
}

// A Motion turns and then shifts. The zero value is no motion; [Still] does nothing.
type Motion struct {
	Turn  [3][3]float64 // rotation, rows
	Shift r3.Vec        // mm
}

// Still returns the motion that leaves everything where it is.
func Still() Motion { return Motion{Turn: [3][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}} }

// Apply returns p turned and shifted.
func (m Motion) Apply(p r3.Vec) r3.Vec { return r3.Add(m.rotate(p), m.Shift) }

func (m Motion) rotate(p r3.Vec) r3.Vec {
	t := &m.Turn
	return r3.Vec{
		X: t[0][0]*p.X + t[0][1]*p.Y + t[0][2]*p.Z,
		Y: t[1][0]*p.X + t[1][1]*p.Y + t[1][2]*p.Z,
		Z: t[2][0]*p.X + t[2][1]*p.Y + t[2][2]*p.Z,
	}
}

// Angle returns how far the motion turns, 0 to 180°.
func (m Motion) Angle() measure.Angle {
	t := &m.Turn
	s := r3.Norm(r3.Vec{X: t[2][1] - t[1][2], Y: t[0][2] - t[2][0], Z: t[1][0] - t[0][1]})
	return measure.Angle(math.Atan2(s, t[0][0]+t[1][1]+t[2][2]-1))
}

// A RigidFit is the best motion of one set of points onto another.
type RigidFit struct {
	Motion
	Residuals []r3.Vec // wanted less moved, of every pair, mm
	RMS       float64  // of the residuals' lengths, weighted, mm
	Worst     int      // the pair farthest apart
}

// BestFit returns the motion that lays the made points on the wanted ones, pair by
// pair, with the least sum of squared distances. Turning freely needs three pairs
// that do not lie on one line, turning about an axis two that do not lie along it,
// shifting one; else an [*Error].
func BestFit(made, wanted []r3.Vec, opt RigidOptions) (RigidFit, error) {
	if err := opt.check(made, wanted); err != nil {
		return RigidFit{}, err
	}
	w := func(i int) float64 {
		if opt.Weights == nil {
			return 1
		}
		return opt.Weights[i]
	}
	var from, to r3.Vec
	var all float64
	for i := range made {
		from = r3.Add(from, r3.Scale(w(i), made[i]))
		to = r3.Add(to, r3.Scale(w(i), wanted[i]))
		all += w(i)
	}
	from, to = r3.Scale(1/all, from), r3.Scale(1/all, to)
	// cov is Σ w·made·wanted' about the middles.
	var cov [3][3]float64
	for i := range made {
		a, b := r3.Sub(made[i], from), r3.Sub(wanted[i], to)
		for r, x := range [3]float64{a.X, a.Y, a.Z} {
			for c, y := range [3]float64{b.X, b.Y, b.Z} {
				cov[r][c] += w(i) * x * y
			}
		}
	}
	m := Still()
	ok := true
	switch opt.Freedom {
	case Free:
		m.Turn, ok = kabsch(cov)
	case AboutAxis:
		m.Turn, ok = aboutAxis(cov, opt.Axis)
	}
	if !ok {
		return RigidFit{}, &Error{"points", fmt.Sprintf("%d pairs", len(made)), "they lie on one line, or along the axis, and do not fix the turn: take one well to the side"}
	}
	if opt.Freedom != Fixed {
		m.Shift = r3.Sub(to, m.rotate(from))
	}
	out := RigidFit{Motion: m, Residuals: make([]r3.Vec, len(made))}
	var sq, most float64
	for i := range made {
		out.Residuals[i] = r3.Sub(wanted[i], m.Apply(made[i]))
		d := r3.Norm(out.Residuals[i])
		sq += w(i) * d * d
		if d > most {
			most, out.Worst = d, i
		}
	}
	out.RMS = math.Sqrt(sq / all)
	return out, nil
}

func (o RigidOptions) check(made, wanted []r3.Vec) error {
	var f faults
	least := map[Freedom]int{Free: 3, AboutAxis: 2, ShiftOnly: 1, Fixed: 1}
	n, known := least[o.Freedom]
	if !known {
		f.add("freedom", fmt.Sprintf("%d", o.Freedom), "must be Free, AboutAxis, ShiftOnly or Fixed")
	}
	f.points3("made", made, n)
	f.points3("wanted", wanted, n)
	if len(made) != len(wanted) {
		f.add("pairs", fmt.Sprintf("%d made and %d wanted", len(made), len(wanted)), "must be as many of each")
	}
	if o.Weights != nil && len(o.Weights) != len(made) {
		f.add("weights", fmt.Sprintf("%d", len(o.Weights)), fmt.Sprintf("must be one for each of the %d pairs", len(made)))
	}
	for i, w := range o.Weights {
		if !(w > 0 && w <= 1e12) {
			f.add(fmt.Sprintf("weight %d", i), fmt.Sprintf("%g", w), "must be above 0 and finite")
		}
	}
	if o.Freedom == AboutAxis {
		f.point3("axis", o.Axis)
		if _, ok := unit(o.Axis); !ok {
			f.add("axis", "no direction", "must be given for AboutAxis")
		}
	}
	return f.err()
}

// kabsch returns the rotation R that makes the trace of R·cov greatest: V·D·U' of
// cov = U·S·V', D turning the least axis round where a mirror image would be
// nearer.
func kabsch(cov [3][3]float64) (turn [3][3]float64, ok bool) {
	a := mat.NewDense(3, 3, []float64{
		cov[0][0], cov[0][1], cov[0][2], cov[1][0], cov[1][1], cov[1][2], cov[2][0], cov[2][1], cov[2][2]})
	var svd mat.SVD
	if !svd.Factorize(a, mat.SVDFull) {
		return turn, false
	}
	s := svd.Values(nil)
	var u, v mat.Dense
	svd.UTo(&u)
	svd.VTo(&v)
	d := []float64{1, 1, 1}
	if mat.Det(&u)*mat.Det(&v) < 0 {
		d[2] = -1
	}
	// With one direction alone, or two that may as well be mirrored, the turn is
	// not fixed.
	if !(s[1]+d[2]*s[2] > sliver*sliver*s[0]) {
		return turn, false
	}
	var vd, r mat.Dense
	vd.Mul(&v, mat.NewDiagDense(3, d))
	r.Mul(&vd, u.T())
	for i := range turn {
		for j := range turn[i] {
			turn[i][j] = r.At(i, j)
		}
	}
	return turn, true
}

// aboutAxis returns the rotation about the axis that makes the trace of R·cov
// greatest: with k the axis, R = cosθ·I + sinθ·[k] + (1-cosθ)·kk', so the trace is
// p·cosθ + q·sinθ + constant.
func aboutAxis(cov [3][3]float64, axis r3.Vec) (turn [3][3]float64, ok bool) {
	k, _ := unit(axis)
	kv := [3]float64{k.X, k.Y, k.Z}
	// tr([k]·cov) by the antisymmetric part of cov.
	q := k.X*(cov[1][2]-cov[2][1]) + k.Y*(cov[2][0]-cov[0][2]) + k.Z*(cov[0][1]-cov[1][0])
	p := cov[0][0] + cov[1][1] + cov[2][2]
	var size float64
	for i := range kv {
		for j := range kv {
			p -= kv[i] * cov[i][j] * kv[j]
			size = max(size, math.Abs(cov[i][j]))
		}
	}
	if !(math.Hypot(p, q) > sliver*sliver*size) {
		return turn, false
	}
	h := math.Hypot(p, q)
	c, s := p/h, q/h
	cross := [3][3]float64{{0, -k.Z, k.Y}, {k.Z, 0, -k.X}, {-k.Y, k.X, 0}}
	for i := range turn {
		for j := range turn[i] {
			turn[i][j] = s*cross[i][j] + (1-c)*kv[i]*kv[j]
			if i == j {
				turn[i][j] += c
			}
		}
	}
	return turn, true
}
