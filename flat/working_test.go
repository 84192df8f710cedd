package flat_test

import (
	"math"
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/bend/formula"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

// stepsOf are the steps of a part's working with this symbol, each of which works out.
func stepsOf(t *testing.T, p flat.Part, symbol string) (found []bend.Step) {
	t.Helper()
	b, err := flat.Develop(p)
	require.NoError(t, err)
	for _, s := range b.Working() {
		if s.Symbol == symbol {
			require.NoError(t, formula.Check(s, bend.Inches, bend.Millimetres))
			found = append(found, s)
		}
	}
	return found
}

// A pan of sheet .040 in: round 3/16 its reliefs are twice that, 3/8 in; round 1/32 the handbook's least for up to .064 in,
// 1/8 in. A diameter that the part gives, and a pan without corners to relieve, have no such working.
func TestWorkingOfReliefs(t *testing.T) {
	leg := &flat.Flange{Angle: math.Pi / 2, Height: 20}
	pan := func(radius float64) flat.Part {
		return plate(6, 4, .040, radius/inch, [4]*flat.Flange{leg, leg, leg, leg})
	}
	for radius, want := range map[float64]struct {
		formula  string
		diameter float64
	}{3 * inch / 16: {"2·R", 3 * inch / 8}, inch / 32: {"Dl", inch / 8}} {
		steps := stepsOf(t, pan(radius), "D")
		require.Len(t, steps, 1, "once for four corners")
		assert.Equal(t, want.formula, steps[0].Formula)
		assert.InDelta(t, want.diameter, steps[0].Value, 1e-12)
	}
	given := pan(3 * inch / 16)
	given.Relief.Diameter = 12
	assert.Empty(t, stepsOf(t, given, "D"))
	assert.Empty(t, stepsOf(t, plate(6, 4, .040, .16, [4]*flat.Flange{leg, nil, leg, nil}), "D"))
}

// A plate of 150 x 100 mm with two holes of 10 mm and a slot 8 mm wide, 20 mm from centre to centre of its ends:
// 15000 - 50π - (160 + 16π) = 15000 - 157.08 - 210.27 = 14632.65.
func TestWorkingOfTheArea(t *testing.T) {
	p := plate(150/inch, 100/inch, .040, .16, [4]*flat.Flange{})
	p.Web.Holes = []flat.Hole{{Name: "a", At: r2.Vec{X: 20, Y: 20}, Diameter: 10}, {Name: "b", At: r2.Vec{X: 120, Y: 60}, Diameter: 10}}
	p.Web.Slots = []flat.Slot{{Name: "s", From: r2.Vec{X: 60, Y: 50}, To: r2.Vec{X: 80, Y: 50}, Width: 8}}
	outside, left := stepsOf(t, p, "So"), stepsOf(t, p, "S")
	require.Len(t, outside, 1)
	assert.InDelta(t, 15000, outside[0].Value, 1e-9)
	require.Len(t, left, 1)
	assert.InDelta(t, 14632.65, left[0].Value, .01)
	assert.InDelta(t, 200, left[0].Inputs[1].Value, 1e-9, "two squares of 10")
}

// A bend whose bevel changes is worked at both ends of its edge, by the part's own rule or, where it has none, by the handbook's:
// (.01743·.16 + .0078·.04)·A in for 86°, 97° and the other bend's 90°. By the neutral line at .4 T it is (.16 + .4·.04)·A in. Each is
// bent farther than it is to stay, and what is the same for all bends of one radius is said once.
func TestWorkingOfABevelThatChanges(t *testing.T) {
	const handbook, neutral = .01743*.16 + .0078*.04, (.16 + .4*.04) * math.Pi / 180
	for per, rule := range map[float64][]bend.Rule{handbook: {nil, bend.Handbook{}}, neutral: {bend.NeutralAxis{K: .4}}} {
		for _, r := range rule {
			p := twisted()
			p.Rule = r
			allowed, over := stepsOf(t, p, "BA"), stepsOf(t, p, "AB")
			require.Len(t, allowed, 3)
			require.Len(t, over, 3)
			for i, a := range []float64{86, 97, 90} {
				assert.InDelta(t, per*a*inch, allowed[i].Value, 1e-9)
				assert.Greater(t, over[i].Value, degrees(a).Radians())
				assert.Equal(t, a == 97, strings.HasSuffix(allowed[i].Quantity, "at the far end"))
			}
			assert.Len(t, stepsOf(t, p, "p"), 1)
		}
	}
}
