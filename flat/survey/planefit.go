package survey

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"github.com/hangarflat/hangarflat/material/measure"
)

// A PlaneFit is the best plane through measured points and how far to trust it.
type PlaneFit struct {
	Plane
	Residuals []float64 // distance of every point from the plane, mm, positive on the normal's side
	Outliers  []int     // points set aside, in order
	RMS       float64   // of the residuals of the points kept, mm
	// Spread is the standard deviation of one reading, mm: FitOptions.Noise when
	// that is given, else estimated. NaN for three points, which cannot show it.
	Spread float64
	// Axes are the directions in the plane along which the points spread most and
	// least; Tilt is the standard error of the plane's slope along each. NaN when
	// Spread is.
	Axes [2]r3.Vec
	Tilt [2]measure.Angle
}

// FitPlane lays the least-squares plane through points, square to the plane, and
// sets wild readings aside. The normal's largest component is positive; turn it
// with [Plane.Facing]. Fewer than three points, a coordinate that is not finite,
// or points that lie on one line are an [*Error].
func FitPlane(points []r3.Vec, opt FitOptions) (PlaneFit, error) {
	var f faults
	f.points3("plane", points, 3)
	opt.check(&f)
	if err := f.err(); err != nil {
		return PlaneFit{}, err
	}
	s := &planeShape{points: points}
	v, ok := consensus(s, len(points), 3, 3, opt)
	if !ok {
		return PlaneFit{}, &Error{"plane", fmt.Sprintf("%d points", len(points)), "they lie on one line, or coincide: take some well to the side"}
	}
	out := PlaneFit{Plane: s.Plane, Residuals: v.residuals, Outliers: v.outliers, RMS: v.rms, Spread: v.spread, Axes: s.axes}
	if upward(out.Normal) < 0 {
		out.Plane = out.Flip()
		for i := range out.Residuals {
			out.Residuals[i] = -out.Residuals[i]
		}
	}
	for k := range out.Tilt {
		out.Tilt[k] = measure.Angle(v.spread / s.arm[k])
	}
	return out, nil
}

// upward is the largest component of n, with its sign.
func upward(n r3.Vec) float64 {
	big := n.Z
	if math.Abs(n.X) > math.Abs(big) {
		big = n.X
	}
	if math.Abs(n.Y) > math.Abs(big) {
		big = n.Y
	}
	return big
}

type planeShape struct {
	points []r3.Vec
	Plane
	axes [2]r3.Vec
	arm  [2]float64 // root of the sum of squared distances along each axis, mm
}

func (s *planeShape) through(pick []int) bool {
	p, err := ThreePoints(s.points[pick[0]], s.points[pick[1]], s.points[pick[2]])
	s.Plane = p
	return err == nil
}

func (s *planeShape) fit(keep []int) bool {
	mid, axes, root, ok := scatter(s.points, keep)
	if !ok || !(root[1] > sliver*root[0]) {
		return false
	}
	s.Plane = Plane{Point: mid, Normal: axes[2]}
	s.axes = [2]r3.Vec{axes[0], axes[1]}
	s.arm = [2]float64{root[0], root[1]}
	return true
}

func (s *planeShape) residual(i int) float64 { return s.Distance(s.points[i]) }

func (s *planeShape) ways() int { return 1 }

// scatter returns the middle of the kept points, the directions of their spread
// from most to least (a right-handed set), and the root of the sum of squared
// distances along each.
func scatter(points []r3.Vec, keep []int) (mid r3.Vec, axes [3]r3.Vec, root [3]float64, ok bool) {
	for _, i := range keep {
		mid = r3.Add(mid, points[i])
	}
	mid = r3.Scale(1/float64(len(keep)), mid)
	var xx, xy, xz, yy, yz, zz float64
	for _, i := range keep {
		d := r3.Sub(points[i], mid)
		xx, xy, xz = xx+d.X*d.X, xy+d.X*d.Y, xz+d.X*d.Z
		yy, yz, zz = yy+d.Y*d.Y, yz+d.Y*d.Z, zz+d.Z*d.Z
	}
	var eig mat.EigenSym
	if !eig.Factorize(mat.NewSymDense(3, []float64{xx, xy, xz, xy, yy, yz, xz, yz, zz}), true) {
		return mid, axes, root, false
	}
	values := eig.Values(nil) // ascending
	var vec mat.Dense
	eig.VectorsTo(&vec)
	for k := range axes {
		col := 2 - k
		axes[k] = r3.Vec{X: vec.At(0, col), Y: vec.At(1, col), Z: vec.At(2, col)}
		root[k] = math.Sqrt(max(0, values[col]))
	}
	axes[2] = r3.Cross(axes[0], axes[1])
	return mid, axes, root, root[0] > 0
}

// A DihedralFit is the angle between two fitted planes with its standard error.
type DihedralFit struct {
	Angle  measure.Angle // between the normals, 0 to 180°: the angle a bend turns through
	StdErr measure.Angle // one standard deviation, first order
}

// FitDihedral returns the angle between two fitted planes and how well the
// readings fix it: the slope errors of each plane square to the line where they
// meet, added as independent. Near 0 and 180° the line's direction is lost and
// the larger slope error of each stands in. A plane through just three points
// needs FitOptions.Noise, else its error is unknown and an [*Error] says so.
func FitDihedral(p, q PlaneFit) (DihedralFit, error) {
	var f faults
	f.plane("first plane", p.Plane)
	f.plane("second plane", q.Plane)
	if math.IsNaN(p.Spread) || math.IsNaN(q.Spread) {
		f.add("dihedral", "three points on a plane", "their error cannot be known from themselves: give FitOptions.Noise or take more points")
	}
	if err := f.err(); err != nil {
		return DihedralFit{}, err
	}
	line := r3.Cross(p.Normal, q.Normal)
	vp, vq := p.slopeVariance(line), q.slopeVariance(line)
	return DihedralFit{Dihedral(p.Plane, q.Plane), measure.Angle(math.Sqrt(vp + vq))}, nil
}

// slopeVariance is the variance of the plane's slope square to line, rad².
func (p PlaneFit) slopeVariance(line r3.Vec) float64 {
	t0, t1 := p.Tilt[0].Radians(), p.Tilt[1].Radians()
	across, ok := unit(r3.Cross(p.Normal, line))
	if !ok || r3.Norm(line) < t0+t1 {
		return max(t0*t0, t1*t1)
	}
	a, b := r3.Dot(across, p.Axes[0])*t0, r3.Dot(across, p.Axes[1])*t1
	return a*a + b*b
}
