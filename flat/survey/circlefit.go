package survey

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
)

// A LineFit is the best straight line through measured points.
type LineFit struct {
	Line
	Residuals []float64 // distance of every point from the line, mm, never negative
	Outliers  []int     // points set aside, in order
	RMS       float64   // of the residuals of the points kept, mm
	// Spread is the standard deviation of one reading in any one direction square to
	// the line, mm: FitOptions.Noise when that is given, else estimated. The distances
	// spread √2 times as much. NaN for two points.
	Spread float64
}

// FitLine lays the least-squares line through points in space, square to the line,
// and sets wild readings aside. Its direction runs from the first point kept toward
// the last. Fewer than two points, one that is not finite, or points that coincide
// are an [*Error].
func FitLine(points []r3.Vec, opt FitOptions) (LineFit, error) {
	var f faults
	f.points3("line", points, 2)
	opt.check(&f)
	if err := f.err(); err != nil {
		return LineFit{}, err
	}
	s := &lineShape{points: points}
	v, ok := consensus(s, len(points), 2, 2, opt)
	if !ok {
		return LineFit{}, &Error{"line", fmt.Sprintf("%d points", len(points)), "they coincide, or spread alike to all sides"}
	}
	bad := complement(v.outliers, len(points))
	if first, last := points[bad[0]], points[bad[len(bad)-1]]; r3.Dot(s.Dir, r3.Sub(last, first)) < 0 {
		s.Dir = r3.Scale(-1, s.Dir)
	}
	return LineFit{s.Line, v.residuals, v.outliers, v.rms, v.spread}, nil
}

type lineShape struct {
	points []r3.Vec
	Line
}

func (s *lineShape) through(pick []int) bool {
	a, b := s.points[pick[0]], s.points[pick[1]]
	dir, ok := unit(r3.Sub(b, a))
	s.Line = Line{a, dir}
	return ok
}

func (s *lineShape) fit(keep []int) bool {
	mid, axes, root, ok := scatter(s.points, keep)
	s.Line = Line{mid, axes[0]}
	// A round cloud has no direction.
	return ok && root[1] < 0.999*root[0]
}

func (s *lineShape) residual(i int) float64 { return s.Distance(s.points[i]) }

func (s *lineShape) ways() int { return 2 }

// A CircleFit is the best circle through measured points of a plane.
type CircleFit struct {
	Center    r2.Vec  // mm
	Radius    float64 // mm
	Residuals []float64
	Outliers  []int   // points set aside, in order
	RMS       float64 // of the residuals of the points kept, mm
	// Spread is the standard deviation of one reading, mm: FitOptions.Noise when
	// that is given, else estimated. NaN for three points.
	Spread float64
	// RadiusErr and CenterErr are standard errors, mm, first order; a short arc
	// fixes neither well, and they say so. NaN when Spread is.
	RadiusErr float64
	CenterErr r2.Vec
}

// FitCircle lays the least-squares circle through points, square to the circle, and
// sets wild readings aside. Residuals are positive outside. Fewer than three
// points, one that is not finite, or points on a straight line (rise under a
// millionth of the chord, or a radius over 1 km) are an [*Error].
func FitCircle(points []r2.Vec, opt FitOptions) (CircleFit, error) {
	var f faults
	f.points2("circle", points, 3)
	opt.check(&f)
	if err := f.err(); err != nil {
		return CircleFit{}, err
	}
	s := &circleShape{points: points}
	v, ok := consensus(s, len(points), 3, 3, opt)
	if !ok {
		return CircleFit{}, &Error{"circle", fmt.Sprintf("%d points", len(points)), "they coincide, or lie on a straight line: fit a line"}
	}
	out := CircleFit{Center: s.center, Radius: s.radius, Residuals: v.residuals, Outliers: v.outliers, RMS: v.rms, Spread: v.spread}
	out.RadiusErr, out.CenterErr = s.errors(complement(v.outliers, len(points)), v.spread)
	return out, nil
}

type circleShape struct {
	points []r2.Vec
	center r2.Vec
	radius float64
}

func (s *circleShape) residual(i int) float64 {
	d := r2.Sub(s.points[i], s.center)
	return math.Hypot(d.X, d.Y) - s.radius
}

func (s *circleShape) ways() int { return 1 }

func (s *circleShape) through(pick []int) bool {
	a := s.points[pick[0]]
	b, c := r2.Sub(s.points[pick[1]], a), r2.Sub(s.points[pick[2]], a)
	cross := r2.Cross(b, c)
	long := max(r2.Norm(b), r2.Norm(c), r2.Norm(r2.Sub(b, c)))
	if !(math.Abs(cross) > sliver*long*long) {
		return false
	}
	bb, cc := r2.Norm2(b), r2.Norm2(c)
	o := r2.Vec{X: (c.Y*bb - b.Y*cc) / (2 * cross), Y: (b.X*cc - c.X*bb) / (2 * cross)}
	s.center, s.radius = r2.Add(a, o), r2.Norm(o)
	return s.radius <= maxCoordinate
}

// fit starts from the circle of least algebraic error, which is a linear problem,
// and goes on by Gauss and Newton, halving steps that make it worse.
func (s *circleShape) fit(keep []int) bool {
	if len(keep) == 3 {
		return s.through(keep)
	}
	if !s.algebraic(keep) {
		return false
	}
	sum := s.squares(keep)
	jac := mat.NewDense(len(keep), 3, nil)
	res := mat.NewVecDense(len(keep), nil)
	for range 100 {
		for k, i := range keep {
			u := r2.Unit(r2.Sub(s.points[i], s.center))
			jac.SetRow(k, []float64{-u.X, -u.Y, -1})
			res.SetVec(k, -s.residual(i))
		}
		var step mat.VecDense
		if step.SolveVec(jac, res) != nil {
			return false
		}
		from := *s
		size, better := 1.0, false
		for range 30 {
			s.center = r2.Add(from.center, r2.Vec{X: size * step.AtVec(0), Y: size * step.AtVec(1)})
			s.radius = from.radius + size*step.AtVec(2)
			if now := s.squares(keep); now <= sum {
				better, sum = now < sum, now
				break
			}
			size /= 2
			*s = from
		}
		if !better || size*mat.Norm(&step, 2) <= 1e-13*s.radius {
			break
		}
	}
	return s.radius > 0 && s.radius <= maxCoordinate && finite2(s.center)
}

func (s *circleShape) squares(keep []int) (sum float64) {
	for _, i := range keep {
		r := s.residual(i)
		sum += r * r
	}
	return sum
}

func (s *circleShape) algebraic(keep []int) bool {
	var mid r2.Vec
	for _, i := range keep {
		mid = r2.Add(mid, s.points[i])
	}
	mid = r2.Scale(1/float64(len(keep)), mid)
	var size float64
	for _, i := range keep {
		size = max(size, r2.Norm(r2.Sub(s.points[i], mid)))
	}
	if !(size > 0) {
		return false
	}
	a := mat.NewDense(len(keep), 3, nil)
	b := mat.NewVecDense(len(keep), nil)
	for k, i := range keep {
		d := r2.Scale(1/size, r2.Sub(s.points[i], mid))
		a.SetRow(k, []float64{2 * d.X, 2 * d.Y, 1})
		b.SetVec(k, r2.Norm2(d))
	}
	var x mat.VecDense
	if x.SolveVec(a, b) != nil {
		return false
	}
	o := r2.Vec{X: x.AtVec(0), Y: x.AtVec(1)}
	r := math.Sqrt(x.AtVec(2) + r2.Norm2(o))
	s.center, s.radius = r2.Add(mid, r2.Scale(size, o)), size*r
	// The rise of the arc over a chord as long as the cloud is size²/2R.
	return s.radius <= maxCoordinate && 1/(2*r) > sliver
}

// errors is the first-order covariance σ²(J'J)⁻¹.
func (s *circleShape) errors(keep []int, spread float64) (radius float64, center r2.Vec) {
	n := mat.NewSymDense(3, nil)
	for _, i := range keep {
		u := r2.Unit(r2.Sub(s.points[i], s.center))
		n.SymRankOne(n, 1, mat.NewVecDense(3, []float64{u.X, u.Y, 1}))
	}
	var chol mat.Cholesky
	var inv mat.SymDense
	if !chol.Factorize(n) || chol.InverseTo(&inv) != nil {
		return math.NaN(), r2.Vec{X: math.NaN(), Y: math.NaN()}
	}
	at := func(i int) float64 { return spread * math.Sqrt(inv.At(i, i)) }
	return at(2), r2.Vec{X: at(0), Y: at(1)}
}

// An ArcFit is the best circular arc through points taken in order along it.
type ArcFit struct {
	CircleFit
	Path  outline.Path  // one arc, from beside the first point kept to beside the last
	Sweep measure.Angle // positive counter-clockwise, less than 360°
}

// FitArc fits a circle to points taken in order along an arc and cuts it where they
// begin and end. Beside the faults of [FitCircle], points that are not in order are an
// [*Error]: one that lies before the first or beyond the last by more than
// a tenth of the arc and what the spread of the readings explains.
func FitArc(points []r2.Vec, opt FitOptions) (ArcFit, error) {
	c, err := FitCircle(points, opt)
	if err != nil {
		return ArcFit{}, err
	}
	keep := complement(c.Outliers, len(points))
	angle := func(i int) float64 {
		d := r2.Sub(points[i], c.Center)
		return math.Atan2(d.Y, d.X)
	}
	// The sweep is the sum of the small turns from point to point.
	var sweep, least, most float64
	for k := 1; k < len(keep); k++ {
		sweep += math.Remainder(angle(keep[k])-angle(keep[k-1]), 2*math.Pi)
		least, most = min(least, sweep), max(most, sweep)
	}
	beyond := max(min(0, sweep)-least, most-max(0, sweep))
	slack := math.Abs(sweep)/10 + 3*c.RMS/c.Radius
	if !(math.Abs(sweep) > 1e-9 && math.Abs(sweep) < 2*math.Pi && beyond <= slack) {
		return ArcFit{}, &Error{"arc", fmt.Sprintf("%v swept, a point %v outside of that", measure.Angle(sweep), measure.Angle(beyond)), "the points must be in order along the arc, and less than once round"}
	}
	on := func(i int) r2.Vec {
		return r2.Add(c.Center, r2.Scale(c.Radius, r2.Unit(r2.Sub(points[i], c.Center))))
	}
	return ArcFit{
		CircleFit: c,
		Path: outline.Path{Vertices: []outline.Vertex{
			{P: on(keep[0]), Bulge: math.Tan(sweep / 4)}, {P: on(keep[len(keep)-1])}}},
		Sweep: measure.Angle(sweep),
	}, nil
}
