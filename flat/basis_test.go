package flat_test

import (
	"math"
	"testing"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

// A part dimensioned to the inside mold line or to the tangent line is the same part
// as to the outside mold line: by hand, the inside faces meet T·tan(A/2) short of
// the outside ones and the tangent line lies (R + T)·tan(A/2) from them.
func TestEveryBasisGivesTheSameBlank(t *testing.T) {
	for _, deg := range []float64{10, 45, 90, 120, 150} {
		a := measure.Angle(deg) * measure.Degree
		angle := func(basis flat.Basis, height float64) flat.Blank {
			b, err := flat.Develop(plate(8, 2, .064, .25, [4]*flat.Flange{{Angle: a, Height: height * inch, Basis: basis}}))
			require.NoError(t, err)
			return b
		}
		right, k := angle(flat.MoldLine, 4), math.Tan(a.Radians()/2)
		for basis, height := range map[flat.Basis]float64{flat.InsideMold: 4 - .064*k, flat.Tangent: 4 - (.064+.25)*k} {
			b := angle(basis, height)
			require.Len(t, b.Outline.Vertices, len(right.Outline.Vertices))
			for i, v := range b.Outline.Vertices {
				assert.InDelta(t, 0, r2.Norm(r2.Sub(v.P, right.Outline.Vertices[i].P)), 1e-9, "%v° basis %d", deg, basis)
			}
		}
	}
}
