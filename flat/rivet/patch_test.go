package rivet_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/flat/rivet"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
)

// roundedRect is a rectangle with rounded corners.
func roundedRect(t testing.TB, w, h, radius float64) outline.Path {
	t.Helper()
	p := outline.Rect(at(0, 0), at(w, h))
	for i := 3; i >= 0; i-- {
		var err error
		p, err = p.Fillet(i, radius)
		require.NoError(t, err)
	}
	return p
}

func roundedArea(w, h, r float64) float64 { return w*h - (4-math.Pi)*r*r }

// hatch is a lapped patch over a rounded opening, two staggered rows, all in one sheet.
func hatch(t testing.TB) rivet.Patch {
	return rivet.Patch{
		Name: "hatch", Opening: roundedRect(t, 240, 160, 20), Skin: clad(.040), Sheet: clad(.040),
		Rivet: eighth, Rows: 2, Pitch: 20, Stagger: true,
	}
}

// Flat lap: the overlap is what two rows need, 2·6.35 + .75·20 = 27.7 mm; the patch is the opening that
// much larger all round, corners and all; the mass is its area in sheet of 1.016 mm at 2.78 g/cm³ and the
// rivets.
func TestLapPatch(t *testing.T) {
	f, err := hatch(t).Fit()
	require.NoError(t, err)
	require.Len(t, f.Pieces, 1)
	p := f.Pieces[0]
	const lap = 2*6.35 + 15
	assert.InDelta(t, roundedArea(240+2*lap, 160+2*lap, 20+lap), p.Area, 1e-3)
	assert.Equal(t, f.Rivets, len(p.Holes))
	density, _, err := clad(.040).Material.Density()
	require.NoError(t, err)
	sheet := p.Area * 1.016 * density / 1000
	assert.InDelta(t, sheet, p.Mass, 1e-6)
	// Grip .080, wanted .080 + .1875 = .2675, stock 5/16.
	require.Len(t, f.Groups, 1)
	assert.InDelta(t, 5./16, f.Groups[0].Shank.Stock/inch, 1e-9)
	assert.InDelta(t, sheet+float64(f.Rivets)*eighth.Mass(5./16*inch), f.Mass, 1e-6)
	assert.False(t, f.Stopped(), "%v", f.Findings)
	assert.Len(t, worded(f.Findings, "approved data"), 2)
	// Each rivet keeps 2 diameters from both edges, by chords of them.
	outer, hole := chords(p.Outline), chords(f.Patch.Opening)
	for _, h := range p.Holes {
		assert.GreaterOrEqual(t, nearestOf(outer, h), 2*eighth.Diameter-.01)
		assert.GreaterOrEqual(t, nearestOf(hole, h), 2*eighth.Diameter-.01)
	}
	assert.Len(t, f.Order, f.Rivets)
	assert.Equal(t, 1, f.Order[0].Row, "the inner ring first")
	assert.Equal(t, 0, f.Order[f.Rivets-1].Row, "the outer last")
}

// The table asks for .75 of 6.2 an inch across 160 mm: 6.2992·6.2 = 39.06, 40, 30; across 240: 58.6, 59, 45.
// Rivets of each side are counted here by themselves.
func TestPatchAgainstTheTable(t *testing.T) {
	f, err := hatch(t).Fit()
	require.NoError(t, err)
	require.Len(t, f.Sides, 4)
	want := []int{30, 30, 45, 45}
	for i, s := range f.Sides {
		assert.Equal(t, want[i], s.Need.Needed, s.Name)
		// From the centres of the opening's corners, which span 20 to 220 and 20 to 140, a rivet lies
		// farther out on one axis than on the other, or as far in the middle of a corner.
		n := 0
		for _, row := range f.Layout.Rows {
			for _, h := range row.Holes {
				out := [4]float64{20 - h.At.X, h.At.X - 220, 20 - h.At.Y, h.At.Y - 140}
				if out[i] > slices.Max(out[:])-1e-6 {
					n++
				}
			}
		}
		assert.Equal(t, n, s.Rivets, s.Name)
		assert.Equal(t, n < want[i], len(worded(byPlace(f.Findings, s.Name), "fewer rivets")) == 1, "%s: %d", s.Name, n)
	}
	wide := hatch(t)
	wide.Pitch, wide.Rows = 28, 1
	f, err = wide.Fit()
	require.NoError(t, err)
	assert.Len(t, worded(f.Findings, "fewer rivets"), 4, "one row at 28 mm is too few")
	odd := hatch(t)
	odd.Sheet.Material = material.Material{Alloy: "5052", Temper: "H32"}
	odd.Skin = odd.Sheet
	f, err = odd.Fit()
	require.NoError(t, err)
	assert.Empty(t, f.Sides)
	assert.Len(t, worded(f.Findings, "does not speak of this joint"), 1)
}

func byPlace(list []flat.Finding, place string) (out []flat.Finding) {
	for _, f := range list {
		if f.Place == place {
			out = append(out, f)
		}
	}
	return out
}

// Flush: the insert is the opening less the gap, the doubler a ring from the overlap outside to as far
// inside; rivets of the insert go through insert and doubler, those of the rim through skin and doubler.
func TestInsertPatch(t *testing.T) {
	p := hatch(t)
	p.Fitting, p.Rows, p.Stagger, p.Gap = rivet.Insert, 1, false, .5
	p.Rivet.Head = rivet.Dimpled
	p.Opening = roundedRect(t, 240, 160, 30)
	p.Doubler = clad(.050)
	f, err := p.Fit()
	require.NoError(t, err)
	require.Len(t, f.Pieces, 2)
	insert, doubler := f.Pieces[0], f.Pieces[1]
	const lap = 2 * 2.5 * 3.175
	assert.InDelta(t, roundedArea(239, 159, 29.5), insert.Area, 1e-3)
	assert.InDelta(t, roundedArea(240+2*lap, 160+2*lap, 30+lap)-roundedArea(239-2*lap, 159-2*lap, 29.5-lap), doubler.Area, 1e-3)
	require.Len(t, doubler.Openings, 1)
	assert.Negative(t, doubler.Openings[0].Area(), "clockwise")
	require.Len(t, f.Groups, 2)
	assert.Equal(t, f.Groups[1].Count, len(insert.Holes))
	assert.Equal(t, f.Rivets, len(doubler.Holes))
	// .040 and .050: .090 + .1875 = .2775, 5/16.
	assert.InDelta(t, .2775, f.Groups[0].Shank.Wanted/inch, 1e-9)
	assert.False(t, f.Stopped(), "%v", f.Findings)
	assert.Len(t, f.Sides, 8)
	edge := chords(insert.Outline)
	for _, h := range insert.Holes {
		assert.InDelta(t, 2.5*3.175, nearestOf(edge, h), .05)
	}
	// Where the opening's corners are tighter than the doubler is wide, the doubler's own inner corners
	// still have 1/4 in: four of them fill (4-π)/4·(1/4 in)² each.
	tight := p
	tight.Opening = roundedRect(t, 240, 160, 10)
	g, err := tight.Fit()
	require.NoError(t, err)
	w, h := 239-2*lap, 159-2*lap
	assert.InDelta(t, -roundedArea(w, h, inch/4), g.Pieces[1].Openings[0].Area(), 1e-3)
	// Countersunk instead, in .040: stopped.
	p.Rivet.Head = rivet.Countersunk
	f, err = p.Fit()
	require.NoError(t, err)
	assert.True(t, f.Stopped())
	thin := worded(f.Findings, "too thin to countersink")
	require.Len(t, thin, 1, "once for both groups")
	assert.Equal(t, "rivet of rim, insert", thin[0].Place)
}

// Old holes go to the rows they belong to: those within the opening to the insert's, the others to the rim's.
func TestFoundHolesOfAnInsert(t *testing.T) {
	p := hatch(t)
	p.Fitting, p.Rows, p.Stagger, p.Opening = rivet.Insert, 1, false, roundedRect(t, 240, 160, 30)
	p.Found = []rivet.Found{{At: at(120, 6.3)}, {At: at(100, -6.4)}}
	f, err := p.Fit()
	require.NoError(t, err)
	require.Len(t, f.Groups, 2)
	for g, want := range []r2.Vec{at(100, -6.4), at(120, 6.3)} {
		var found []r2.Vec
		for _, h := range f.Layout.Rows[f.Groups[g].From].Holes {
			if h.Found {
				found = append(found, h.At)
			}
		}
		assert.Equal(t, []r2.Vec{want}, found, f.Groups[g].Name)
	}
	assert.Empty(t, worded(f.Findings, "left out"))
}

// Joggled: run-out 6·1.016 mm, growth √(6² + 1)-6 = .08276 depths = .08408 mm on every side of the flat
// sheet, and each rim rivet that much farther out.
func TestJoggledPatch(t *testing.T) {
	p := hatch(t)
	p.Fitting, p.Gap = rivet.Joggled, .8
	f, err := p.Fit()
	require.NoError(t, err)
	const growth = .0827625 * 1.016
	const lap = 2*6.35 + 15
	piece := f.Pieces[0]
	assert.InDelta(t, roundedArea(240+2*(lap+growth), 160+2*(lap+growth), 20+lap+growth), piece.Area, 1e-2)
	i := 0
	for _, row := range f.Layout.Rows {
		for _, h := range row.Holes {
			assert.InDelta(t, growth, r2.Norm(r2.Sub(piece.Holes[i], h.At)), 1e-6)
			assert.Greater(t, p.Opening.Distance(piece.Holes[i]), p.Opening.Distance(h.At))
			i++
		}
	}
	require.Len(t, piece.Lines, 2)
	assert.InDelta(t, 6*1.016+growth, nearestOf(chords(piece.Lines[1].Path), at(120, -.8*-1+growth*-1)), 1e-3, "lines lie the run-out and its growth apart")
	p.RunOut = 3
	f, err = p.Fit()
	require.NoError(t, err)
	assert.Len(t, worded(f.Findings, "run-out is short"), 1)
	p.Sheet.Material.Temper = "O"
	p.Sheet.Material.Clad = false
	f, err = p.Fit()
	require.NoError(t, err)
	assert.Empty(t, worded(f.Findings, "run-out is short"))
}

// Only the rim of a joggled patch grows: rivets into a stringer, on the level middle, stay. A
// patch of T6 wants 8 depths of run-out (from memory), and has 6.
func TestJoggledPatchOverAStringer(t *testing.T) {
	p := hatch(t)
	p.Fitting = rivet.Joggled
	p.Sheet.Material = material.Material{Alloy: "7075", Temper: "T6", Clad: true}
	p.Members = []rivet.Member{{Pattern: rivet.Pattern{Name: "stringer", Edge: line(at(30, 80), at(210, 80)), Pitch: 22}, Sheet: clad(.032)}}
	f, err := p.Fit()
	require.NoError(t, err)
	holes := f.Pieces[0].Holes
	for i, h := range f.Layout.Rows[2].Holes {
		assert.Equal(t, h.At, holes[f.Groups[0].Count+i])
	}
	short := worded(f.Findings, "run-out is short")
	require.Len(t, short, 1)
	assert.Equal(t, 8.0, short[0].Limit)
}

// A side that is short of the table by however little is told, and no other.
func TestSidesShortOfTheTable(t *testing.T) {
	byLittle, enough := 0, 0
	for pitch := 10.0; pitch <= 20; pitch++ {
		p := hatch(t)
		p.Pitch, p.Spacing, p.Skin = pitch, 15, clad(.032)
		f, err := p.Fit()
		require.NoError(t, err)
		for _, s := range f.Sides {
			told := false
			for _, x := range worded(f.Findings, "has fewer rivets") {
				told = told || x.Place == s.Name
			}
			assert.Equal(t, s.Rivets < s.Need.Needed, told, "%s at %v", s.Name, pitch)
			switch short := s.Need.Needed - s.Rivets; {
			case short <= 0:
				enough++
			case short <= 3:
				byLittle++
			}
		}
	}
	assert.Positive(t, byLittle)
	assert.Positive(t, enough)
}

// The thinner sheet of a lap says how many rivets it wants: .032 skin, 4.9 an inch.
func TestThinnerSheetCounts(t *testing.T) {
	p := hatch(t)
	p.Skin = clad(.032)
	f, err := p.Fit()
	require.NoError(t, err)
	require.Len(t, f.Sides, 4)
	for _, s := range f.Sides {
		assert.Equal(t, 4.9, s.Need.PerInch)
	}
}

// A doubler round an opening that stays open: one ring-shaped piece and no strength to make whole.
func TestRingDoubler(t *testing.T) {
	p := hatch(t)
	p.Fitting, p.Opening = rivet.Ring, outline.Circle(at(0, 0), 60)
	f, err := p.Fit()
	require.NoError(t, err)
	const lap = 2*6.35 + 15
	assert.InDelta(t, math.Pi*((60+lap)*(60+lap)-3600), f.Pieces[0].Area, 1e-3)
	assert.Empty(t, f.Sides)
	assert.Empty(t, f.Steps[1:], "only the rivet's length")
}

// Rolled to 600 mm about lines along x: across, a lapped patch of 1.016 mm is (600 + .508)/600 as wide on
// the flat as along the skin, along the roll as long; its rivets lie on the same angles. The doubler behind
// is narrower.
func TestRolledPatch(t *testing.T) {
	flatPatch, err := hatch(t).Fit()
	require.NoError(t, err)
	p := hatch(t)
	p.Roll = rivet.Roll{Radius: 600}
	f, err := p.Fit()
	require.NoError(t, err)
	k := (600 + .508) / 600.
	a, b := flatPatch.Pieces[0], f.Pieces[0]
	assert.InDelta(t, a.Area*k, b.Area, 2*fitLoss(a.Outline))
	sa, sb := a.Outline.Bounds().Size(), b.Outline.Bounds().Size()
	assert.InDelta(t, sa.X, sb.X, 1e-9)
	assert.InDelta(t, sa.Y*k, sb.Y, 1e-9)
	require.Len(t, b.Holes, len(a.Holes))
	for i := range a.Holes {
		assert.InDelta(t, a.Holes[i].X, b.Holes[i].X, 1e-9)
		assert.InDelta(t, a.Holes[i].Y/600, b.Holes[i].Y/(600+.508), 1e-12, "the same angle about the roll's axis")
	}
	// The rounded corners, now parts of ellipses, by points: (20 + 27.7) mm arcs.
	edge := chords(b.Outline)
	for _, q := range chords(a.Outline) {
		if q.X < 0 && q.Y < 0 && math.Mod(math.Abs(q.X*1000), 7) < 1 {
			assert.InDelta(t, 0, nearestOf(edge, at(q.X, q.Y*k)), .02)
		}
	}
	require.Len(t, rollLines(f), 2, "lines to keep parallel to the rolls")

	p.Fitting = rivet.Ring
	f, err = p.Fit()
	require.NoError(t, err)
	assert.InDelta(t, -1.016-.508, f.Pieces[0].Above, 1e-9)
	assert.InDelta(t, sa.Y*(600-1.524)/600, f.Pieces[0].Outline.Bounds().Size().Y, 1e-9)
	// Along the roll's own lines nothing changes, whichever way they run.
	for _, axis := range []measure.Angle{0, 30 * measure.Degree, 90 * measure.Degree} {
		r := rivet.Roll{Radius: 500, Axis: axis}
		sin, cos := math.Sincos(float64(axis))
		got := r.At(at(100*cos-40*sin, 100*sin+40*cos), 2)
		assert.InDelta(t, 100*cos-40*(502./500)*sin, got.X, 1e-12)
		assert.InDelta(t, 100*sin+40*(502./500)*cos, got.Y, 1e-12)
	}
	p.Roll.Radius = 20
	_, err = p.Fit()
	assert.ErrorContains(t, err, "sharper is a bend")
}

func rollLines(f rivet.Fitted) (lines []rivet.Line) {
	for _, l := range f.Pieces[0].Lines {
		if l.Name == "keep parallel to the rolls" {
			lines = append(lines, l)
		}
	}
	return lines
}

// fitLoss bounds what arcs within 0.002 mm of a path can lose of its area.
func fitLoss(p outline.Path) float64 { return .002 * p.Length() }

// A stringer behind: its row goes through the patch, a filler and the member, and keeps clear of the rim
// or is stopped.
func TestMembers(t *testing.T) {
	p := hatch(t)
	p.Members = []rivet.Member{{Pattern: rivet.Pattern{Name: "stringer 4", Edge: line(at(10, 80), at(230, 80)), Pitch: 22}, Sheet: clad(.032)}}
	f, err := p.Fit()
	require.NoError(t, err)
	require.Len(t, f.Groups, 2)
	// .040 + .040 + .032.
	assert.InDelta(t, .112, f.Groups[1].Shank.Grip/inch, 1e-9)
	assert.Len(t, f.Pieces[0].Holes, f.Rivets)
	assert.Equal(t, 2, f.Order[0].Row, "the stringer first")
	assert.False(t, f.Stopped(), "%v", f.Findings)
	// A keep-out of the patch holds for the member's row too.
	p.Keep = []rivet.Keepout{{Name: "drain", Shape: outline.Circle(at(120, 80), 5), Clear: 8}}
	kept, err := p.Fit()
	require.NoError(t, err)
	for _, h := range kept.Layout.Rows[2].Holes {
		assert.GreaterOrEqual(t, r2.Norm(r2.Sub(h.At, at(120, 80))), 13-1e-6)
	}
	p.Keep = nil
	p.Members[0].Edge = line(at(-40, 80), at(230, 80)) // beyond the patch, which ends at -27.7
	f, err = p.Fit()
	require.NoError(t, err)
	beside := worded(f.Findings, "edge distance to the edge of the patch")
	require.Len(t, beside, 1)
	assert.InDelta(t, -(40 - 27.7), beside[0].Figure, 1e-6)
	p.Members[0].Edge = line(at(-6.35, 30), at(-6.35, 130)) // along the inner row of the rim
	f, err = p.Fit()
	require.NoError(t, err)
	assert.True(t, f.Stopped())
	assert.NotEmpty(t, worded(f.Findings, "nearer than 2½ diameters"))
}

func TestPatchRemarks(t *testing.T) {
	p := hatch(t)
	p.Opening = outline.Rect(at(0, 0), at(240, 160))
	p.Sheet = clad(.032)
	f, err := p.Fit()
	require.NoError(t, err)
	assert.Len(t, worded(f.Findings, "corner radius of a cut-out"), 1)
	assert.Len(t, worded(f.Findings, "thinner than the skin"), 1)
	p = hatch(t)
	p.Overlap = 18
	f, err = p.Fit()
	require.NoError(t, err)
	short := worded(f.Findings, "edge distance to the edge of the opening")
	require.Len(t, short, 1, "rows of an overlap of 18 mm run to 21.35")
	assert.Equal(t, flat.Stop, short[0].Severity)
}

func TestPatchRefuses(t *testing.T) {
	good := hatch(t)
	ran := 0
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1} {
		for field, change := range map[string]func(*rivet.Patch){
			"gap":           func(p *rivet.Patch) { p.Gap = bad },
			"run-out":       func(p *rivet.Patch) { p.RunOut = bad },
			"edge distance": func(p *rivet.Patch) { p.Edge = bad },
			"overlap":       func(p *rivet.Patch) { p.Overlap = bad },
			"pitch":         func(p *rivet.Patch) { p.Pitch = bad },
			`keep-out 1 "k" clearance`: func(p *rivet.Patch) {
				p.Keep = []rivet.Keepout{{Name: "k", Shape: outline.Circle(at(0, 0), 5), Clear: bad}}
			},
			"rolled radius":     func(p *rivet.Patch) { p.Roll.Radius = bad },
			"rivet diameter":    func(p *rivet.Patch) { p.Rivet.Diameter = bad },
			"skin":              func(p *rivet.Patch) { p.Skin.Thickness = bad },
			"opening":           func(p *rivet.Patch) { p.Opening = outline.Circle(at(0, 0), bad) },
			`member 1 "" sheet`: func(p *rivet.Patch) { p.Members = []rivet.Member{{Sheet: material.Sheet{Thickness: bad}}} },
		} {
			p := good
			change(&p)
			_, err := p.Fit()
			if field == "opening" && bad == -1 {
				continue // a circle of -1 mm is one of 1 mm started opposite
			}
			var fault *rivet.Error
			require.ErrorAs(t, err, &fault, "%s %v", field, bad)
			assert.ErrorContains(t, err, field)
			ran++
		}
	}
	assert.Equal(t, 43, ran)
	for _, rows := range []int{-5, -1, 101, math.MinInt} {
		p := good
		p.Rows, p.Overlap = rows, 0
		p.Spacing = 1 // or the overlap of 101 rows is too much itself
		_, err := p.Fit()
		require.EqualError(t, err, fmt.Sprintf("rows %d: must be 0 to 100; 0 is one", rows))
	}
	p := good
	p.Rows = 0
	one, err := p.Fit()
	require.NoError(t, err)
	p.Rows = 1
	stated, err := p.Fit()
	require.NoError(t, err)
	assert.Equal(t, stated, one)
	p = good
	p.Opening = p.Opening.Reverse()
	_, err = p.Fit()
	assert.ErrorContains(t, err, "counter-clockwise")
	p = good
	p.Fitting, p.Opening = rivet.Insert, roundedRect(t, 60, 50, 10)
	_, err = p.Fit()
	assert.ErrorContains(t, err, "inner edge of the doubler", "no room inside")
	assert.ErrorIs(t, err, outline.ErrNothingLeft)
	p = rivet.Patch{}
	_, err = p.Fit()
	for _, says := range []string{"rivet diameter", "opening", "skin", "patch sheet", "pitch"} {
		assert.ErrorContains(t, err, says)
	}
}

// A patch wants corners of 1/2 in (US Army AL0992). Round a square opening its corners have the radius of its
// overlap: one row of 3/32 rivets, two diameters from either edge, 3/8 in; of 1/8 rivets, 1/2 in.
func TestCornersOfAPatch(t *testing.T) {
	for thirtySeconds, told := range map[float64]int{3: 1, 4: 0} {
		p := hatch(t)
		p.Opening = outline.Rect(at(0, 0), at(240, 160))
		p.Rivet.Diameter = thirtySeconds * inch / 32
		p.Rows, p.Stagger = 1, false
		f, err := p.Fit()
		require.NoError(t, err)
		found := worded(f.Findings, "corner radius of a patch")
		require.Len(t, found, told, "%v/32 in", thirtySeconds)
		if told > 0 {
			assert.InDelta(t, 3.0/8, found[0].Figure/inch, 1e-6)
			assert.InDelta(t, 0.5, found[0].Limit/inch, 1e-12)
		}
	}
}
