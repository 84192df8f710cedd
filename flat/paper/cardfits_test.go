package paper

import (
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/survey"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// By hand: the middle of a square 6 off, set aside, and its corners 0.2 off by turns, whose plane is x = 200 and
// whose root mean square is 0.2; + is away from the web, which lies at lesser x. Points that say nothing new, three of a face,
// have no line.
func TestCardTellsWhatIsLeftOfTheReadings(t *testing.T) {
	b := plate(120, 80)
	var text strings.Builder
	require.NoError(t, Card(&text, b, CardOptions{}))
	assert.NotContains(t, text.String(), "FACES BY MORE THAN THREE POINTS")

	by := survey.Touched{Error: 0.5, Points: []r3.Vec{
		{X: 200.2}, {X: 199.8, Y: 100}, {X: 200.2, Y: 100, Z: 100}, {X: 199.8, Z: 100}, {X: 194, Y: 50, Z: 50}, {X: 200, Y: 50}, {X: 200, Y: 50, Z: 100}, {X: 200, Z: 50}, {X: 200, Y: 100, Z: 50},
	}}
	plane, err := by.Plane()
	require.NoError(t, err)
	b.Part.Site = &flat.Site{
		Surroundings: flat.Surroundings{Faces: []flat.Face{{Name: "keel"}, {Name: "frame\n407", Plane: plane, Measured: by}}},
		Z:            r3.Vec{Z: 1}, FaceOf: []int{0, 1}, Seats: []survey.Plane{{}, {Normal: r3.Vec{X: 1}}},
	}
	text.Reset()
	require.NoError(t, Card(&text, b, CardOptions{}))
	_, rest, found := strings.Cut(text.String(), "FACES BY MORE THAN THREE POINTS")
	require.True(t, found)
	lines := strings.Split(rest, "\n")
	// √(4·0.2²/8) = 0.141.
	assert.Regexp(t, `^face "frame\\n407" +9 +1 +0\.0056 / 0\.141 +0\.0079 / 0\.200 +1$`, lines[3])
	assert.Equal(t, `face "frame\n407", each point in mm off the plane: 1:+0.200, 2:-0.200, 3:+0.200, 4:-0.200, 5:-6.000 (set aside), 6:0.000,`, lines[4])
}
