package loft

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
)

// A Conic is a loftsman's conic: it leaves A toward the apex C, where the tangents
// meet, and arrives at B from it. Rho is the place of its shoulder between the
// middle of AB (0) and C (1): an ellipse below 0.5, a parabola at 0.5, a hyperbola
// above. Coordinates are mm.
type Conic struct {
	A, C, B r2.Vec
	Rho     float64
}

// Validate returns an [*Error] for each thing wrong with the conic.
func (c Conic) Validate() error {
	var f faults
	for _, p := range []struct {
		name string
		at   r2.Vec
	}{{"A", c.A}, {"C", c.C}, {"B", c.B}} {
		if !isLength(p.at.X) || !isLength(p.at.Y) {
			f.add("conic "+p.name, fmt.Sprintf("(%g, %g) mm", p.at.X, p.at.Y), lengthRule)
		}
	}
	if !(c.Rho > 0 && c.Rho < 1) {
		f.add("conic rho", fmt.Sprintf("%g", c.Rho), "must be above 0 and below 1; a quarter circle is 0.4142")
	}
	if err := f.err(); err != nil {
		return err
	}
	ca, cb := r2.Sub(c.A, c.C), r2.Sub(c.B, c.C)
	if long := max(r2.Norm(ca), r2.Norm(cb)); !(math.Abs(r2.Cross(ca, cb)) > 1e-9*long*long) {
		f.add("conic apex", fmt.Sprintf("(%g, %g) mm", c.C.X, c.C.Y), "must lie off the line through A and B")
	}
	return f.err()
}

// RhoOfCircle returns the rho with which a conic whose tangents are alike in length
// is a circular arc that turns through the angle, above 0 and below 180°: 0.41421
// for a quarter circle. Other angles are an [*Error].
func RhoOfCircle(turn measure.Angle) (float64, error) {
	if !(turn > 0 && turn < 180*measure.Degree) {
		return 0, &Error{"turn", turn.String(), "must be above 0 and below 180°"}
	}
	// The shoulder is one sagitta above the chord, the apex a tangent's height:
	// r(1-cos h) over r(sin h tan h), h half the turn.
	h := math.Cos(turn.Radians() / 2)
	return h / (1 + h), nil
}

// ConicThrough returns the conic from A to B with its tangents meeting at C that
// passes the point p, which must lie inside the triangle: the usual way a loft
// gives a section is by its shoulder point. Else an [*Error].
func ConicThrough(a, c, b, p r2.Vec) (Conic, error) {
	out := Conic{A: a, C: c, B: b, Rho: 0.5}
	if err := out.Validate(); err != nil {
		return Conic{}, err
	}
	// In barycentric coordinates (α, γ, β) of A, C, B the conic is γ² = 4w²·αβ:
	// (1-s)², 2ws(1-s) and s² up to a common factor.
	all := r2.Cross(r2.Sub(c, a), r2.Sub(b, a))
	alpha := r2.Cross(r2.Sub(c, p), r2.Sub(b, p)) / all
	gamma := r2.Cross(r2.Sub(b, p), r2.Sub(a, p)) / all
	beta := 1 - alpha - gamma
	if !(alpha > 0 && beta > 0 && gamma > 0) {
		return Conic{}, &Error{"shoulder point", fmt.Sprintf("(%g, %g) mm", p.X, p.Y), "must lie inside the triangle of both ends and the apex"}
	}
	w := gamma / (2 * math.Sqrt(alpha*beta))
	out.Rho = w / (1 + w)
	return out, nil
}

// At returns the point at the parameter s, 0 at A and 1 at B, and the derivative
// there, mm. The conic must be valid.
func (c Conic) At(s float64) (p, d r2.Vec) {
	w := c.Rho / (1 - c.Rho)
	a, m, b := (1-s)*(1-s), 2*w*s*(1-s), s*s
	da, dm, db := -2*(1-s), 2*w*(1-2*s), 2*s
	den, dden := a+m+b, da+dm+db
	sum := r2.Add(r2.Add(r2.Scale(a, c.A), r2.Scale(m, c.C)), r2.Scale(b, c.B))
	dsum := r2.Add(r2.Add(r2.Scale(da, c.A), r2.Scale(dm, c.C)), r2.Scale(db, c.B))
	p = r2.Scale(1/den, sum)
	return p, r2.Scale(1/den, r2.Sub(dsum, r2.Scale(dden, p)))
}

// Shoulder returns the point where the conic runs along AB, mm.
func (c Conic) Shoulder() r2.Vec {
	p, _ := c.At(0.5)
	return p
}

// Arcs returns the conic as arcs within tol mm. It returns the errors of [Conic.Validate], or
// those of [outline.Conic] for the tolerance.
func (c Conic) Arcs(tol float64) (outline.Path, error) {
	if err := c.Validate(); err != nil {
		return outline.Path{}, err
	}
	p, err := outline.Conic(c.A, c.C, c.B, c.Rho, tol)
	if err != nil {
		return outline.Path{}, fmt.Errorf("loft: conic: %w", err)
	}
	return p, nil
}
