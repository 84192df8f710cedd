package former_test

import (
	"math"
	"testing"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/former"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

// Where a flange is helped there is metal, and no rivet: a rounded box with bevels that change, so that stretches end
// anywhere, and cut-outs all round.
func TestHelpWhereThereIsMetal(t *testing.T) {
	box := outline.Rect(r2.Vec{X: -250, Y: -200}, r2.Vec{X: 250, Y: 200})
	for i := 3; i >= 0; i-- {
		var err error
		box, err = box.Fillet(i, 110)
		require.NoError(t, err)
	}
	around := box.Length()
	f := former.Former{Name: "box", Sheet: sheet(t), Outer: former.Rim{Contour: box, Flange: &former.Flange{Turn: flat.Up, Height: 22, Radius: 3.2, Trim: 1,
		Bevels: []former.Bevel{{At: 0.05 * around, Angle: 82 * deg}, {At: around / 2, Angle: 101 * deg}, {At: around * 0.8, Angle: 90 * deg}},
		Rivets: former.Rivets{Diameter: 3.2, Pitch: 20}}}}
	for shift := range 40 {
		f.Cutouts = nil
		for i := range 13 {
			f.Cutouts = append(f.Cutouts, former.Cutout{Girth: around * (float64(i) + float64(shift)/40) / 13, Width: 18, Depth: 15, Clearance: 1, Radius: 4})
		}
		r, err := former.Develop(f)
		require.NoError(t, err)
		require.NotEmpty(t, r.Pieces[0].Helps)
		for _, h := range r.Pieces[0].Helps {
			assert.InDelta(t, 0, r.Pieces[0].Outline.Distance(h.At), 0.006, "on the edge of the blank, fitted arcs and all")
			assertNoRivet(t, f.Outer.Contour, r.Pieces[0], h.At)
		}
	}
}

// Knuckles of 10 mm with rivets every 20: where none of the spaces between rivets has its middle on a knuckle, it
// is helped in the nearest and not on a rivet.
func TestHelpBesideARivet(t *testing.T) {
	const sides = 31
	var corners []r2.Vec
	for i := range sides {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / sides)
		corners = append(corners, r2.Vec{X: 400 * cos, Y: 400 * sin})
	}
	knuckled := outline.Polygon(corners...)
	for i := sides - 1; i >= 0; i-- {
		var err error
		knuckled, err = knuckled.Fillet(i, 50)
		require.NoError(t, err)
	}
	f := former.Former{Name: "knuckles", Sheet: sheet(t), Outer: former.Rim{Contour: knuckled, Flange: &former.Flange{Height: 18, Radius: 3,
		Bevels: []former.Bevel{{Angle: 90 * deg}}, Rivets: former.Rivets{Diameter: 3.2, Pitch: 20}}}}
	r, err := former.Develop(f)
	require.NoError(t, err)
	require.Len(t, r.Remedies, sides)
	for _, h := range r.Pieces[0].Helps {
		assertNoRivet(t, knuckled, r.Pieces[0], h.At)
	}
}

// A flange on a circle of radius 100: its tangent line runs at 95.8, the formed edge stands out from it by
// the neutral line's radius, 2·BA/π, and lay at BA and its flat. Of 2024-O shrunk by hand 8 % is the most the guidance has: up to twice
// that is fluted, from there on the flange is parted.
func TestFlangeIsPartedPastTwiceTheGuidance(t *testing.T) {
	const allowance, setback = (0.01743*3 + 0.0078*1.2) * 90, 4.2
	formed := 100 - setback + 2*allowance/math.Pi
	for shrink, want := range map[float64]former.RemedyKind{0.15: former.Flute, 0.158: former.Flute, 0.162: former.Part, 0.2: former.Part} {
		f := bulkhead(t, 90*deg)
		f.Outer.Contour = outline.Circle(r2.Vec{}, 100)
		f.Outer.Flange.Height = formed/(1-shrink) - (100 - setback) - allowance + setback
		r, err := former.Develop(f)
		require.NoError(t, err)
		require.NotEmpty(t, r.Remedies)
		_, least, _ := r.Outer.Worst()
		assert.InDelta(t, -shrink, least.Value(), 1e-9)
		for _, h := range r.Remedies {
			assert.Equal(t, want, h.Kind, "shrunk by %g", shrink)
		}
	}
}

// assertNoRivet holds a place on the edge against all rivets, by girth.
func assertNoRivet(t *testing.T, contour outline.Path, p former.Piece, at r2.Vec) {
	t.Helper()
	girth := func(q r2.Vec) float64 {
		_, i, u := contour.Nearest(q)
		run := u * contour.Segment(i).Length()
		for k := range i {
			run += contour.Segment(k).Length()
		}
		return run
	}
	around := contour.Length()
	for _, m := range p.Rivets {
		apart := math.Abs(girth(m.At) - girth(at))
		assert.Greater(t, math.Min(apart, around-apart), 4.8, "at %v", at)
	}
}

// What has to be taken up stands on the edge: where cut-outs part it there is nothing. Seven of 20 mm and 1 mm clear take
// 2·asin(11/Re) of the turn each from an edge of radius Re.
func TestNothingToTakeUpInCutouts(t *testing.T) {
	total := func(cutouts int, marked bool) float64 {
		f := bulkhead(t, 90*deg)
		for i := range cutouts {
			f.Cutouts = append(f.Cutouts, former.Cutout{Girth: 2 * math.Pi * 200 * (float64(i) + 0.4) / 7, Width: 20, Depth: 12, Clearance: 1, Radius: 3, MarkOnly: marked})
		}
		f.Outer.Flange.Height = 24
		r, err := former.Develop(f)
		require.NoError(t, err)
		sum := 0.0
		for _, h := range r.Remedies {
			sum += h.TakeUp * float64(len(h.Places))
		}
		return sum
	}
	edge := 200 + (0.01743*3+0.0078*1.2)*90 + (24 - 4.2) - 4.2
	whole := total(0, false)
	assert.InEpsilon(t, whole*(1-7*2*math.Asin(11/edge)/(2*math.Pi)), total(7, false), 1e-9)
	assert.InEpsilon(t, whole, total(7, true), 1e-9, "what is only marked is there when the flange is formed")
}
