package fold

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/spatial/r2"
)

// Over the triangle (0,0), (1,0), (0,1) the integral of xⁱyᵏ is i!k!/(i+k+2)!, by Euler's
// beta function. The seven points give it to the fifth degree, and no longer at the sixth.
func TestTriangleRule(t *testing.T) {
	factorial := func(n int) float64 { return math.Gamma(float64(n) + 1) }
	worst := 0.0
	for i := range 7 {
		for k := 0; i+k <= 6; k++ {
			var sum float64
			triangle(r2.Vec{}, r2.Vec{X: 1}, r2.Vec{Y: 1}, func(at r2.Vec, area float64) {
				sum += area * math.Pow(at.X, float64(i)) * math.Pow(at.Y, float64(k))
			})
			off := math.Abs(sum - factorial(i)*factorial(k)/factorial(i+k+2))
			if i+k == 6 {
				worst = max(worst, off)
				continue
			}
			assert.Less(t, off, 1e-16, "x^%d y^%d", i, k)
		}
	}
	assert.Greater(t, worst, 1e-6, "the check can fail")
}
