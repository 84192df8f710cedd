package paper

import (
	"bytes"
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func cardWords(t *testing.T, b flat.Blank, opt CardOptions) string {
	t.Helper()
	var card bytes.Buffer
	require.NoError(t, Card(&card, b, opt))
	return strings.Join(strings.Fields(card.String()), " ")
}

// The card gives the angle to bend to first, and says where there is none. The channel by hand, as in package bend:
// x = .16·50/(10600·.040) = 1/53, 90·(.16/(4x³ - 3x + 1) + .020)/.180 = 94.80°, of which 4.80° are overbend, and .1696 in
// is left.
func TestCardTellsTheOverbend(t *testing.T) {
	p := channel()
	card := cardWords(t, develop(t, p), CardOptions{})
	assert.Contains(t, card, "1 lower 94.8° 4.8° 0.1696 / 4.308")
	assert.Contains(t, card, "AB angle to bend to on the first try, flange \"upper\" 94.798°")
	assert.Equal(t, 1, strings.Count(card, "100·R·Fty/(E·T)"), "once for both bends of one radius")
	assert.Contains(t, card, "only a test bend in the same sheet settles it")
	assert.NotContains(t, card, "R below T")

	p.Radius = 0.035 * measure.Inch // sharper than the sheet is thick
	card = cardWords(t, develop(t, p), CardOptions{})
	assert.Contains(t, card, "R below T: too little")

	p = channel()
	p.Sheet.Material.Alloy, p.Sheet.Material.Temper, p.Sheet.Material.Clad = "7075", "T6", true
	card = cardWords(t, develop(t, p), CardOptions{})
	assert.Contains(t, card, "Not known: material alclad 7075-T6: no table at hand gives typical strengths")
	assert.NotContains(t, card, "first try, flange")
}

// A bend so far closed that its overbend would go past flat has none, and the card says so of it alone: 170° round
// .25 want 170·(.25/(1 - 3/33.92 + 4/33.92³) + .020)/.270 = 185°.
func TestCardOfABendWithoutOverbend(t *testing.T) {
	p := channel()
	p.Rule = bend.NeutralAxis{K: 0.4}
	p.Web.Edges[2].Start.Y, p.Web.Edges[3].Start.Y = 8*measure.Inch, 8*measure.Inch
	p.Web.Edges[0].Flanges = []flat.Flange{{Angle: 170 * measure.Degree, Height: 4 * measure.Inch, Radius: .25 * measure.Inch}}
	card := cardWords(t, develop(t, p), CardOptions{})
	assert.Contains(t, card, "1 lower none the sheet would have to be turned through 185")
	assert.Contains(t, card, "2 upper 94.8°")
}

// A plan made with springback swings to the angle of the first try, and the card no longer says that it comes on top.
func TestCardOfAPlanWithOverbend(t *testing.T) {
	b := develop(t, channel())
	roomy := roomyBrake()
	const onTop, included, some = "Springback comes on top of the swing", "first try, overbend included: only the test bend", "overbend included where one is known"
	for words, spring := range map[string]bend.Springback{onTop: nil, included: bend.SpringAlCuMg1, some: bend.SpringAlCuMg1} {
		plan, err := roomy.Order(b, spring)
		require.NoError(t, err)
		require.Len(t, plan.Steps, 2)
		if words == some {
			plan.Steps[0].To = plan.Steps[0].Angle
		}
		card := cardWords(t, b, CardOptions{Plan: &plan, Brake: roomy})
		for _, w := range []string{onTop, included, some} {
			assert.Equal(t, w == words, strings.Contains(card, w), "%s: %s", words, w)
		}
	}
}
