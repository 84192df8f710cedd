package rivet_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/flat/rivet"
	"github.com/hangarflat/hangarflat/material"
)

func findings(t *testing.T, c rivet.Check) []flat.Finding {
	t.Helper()
	list, err := c.Findings()
	require.NoError(t, err)
	return list
}

// worded picks the findings with a text.
func worded(list []flat.Finding, text string) (out []flat.Finding) {
	for _, f := range list {
		if strings.Contains(f.Text, text) {
			out = append(out, f)
		}
	}
	return out
}

// A lap of two .040 sheets with 1/8 rivets 1/4 in from the edge at 3/4 in: nothing stops it.
func TestGoodRow(t *testing.T) {
	edge := line(at(0, 0), at(10*inch, 0))
	l, err := rivet.Pattern{Name: "lap", Edge: edge, Inset: inch / 4, Pitch: .75 * inch, End: inch / 4, Rows: 2}.Lay(eighth)
	require.NoError(t, err)
	list := findings(t, rivet.Check{Layout: l, Stack: []material.Sheet{clad(.040), clad(.040)}, Edges: []rivet.SheetEdge{{Name: "the edge", Path: edge, HeldDown: true}}})
	for _, f := range list {
		assert.Equal(t, flat.Note, f.Severity, f.String())
		assert.NotEqual(t, material.Unstated, f.Source.Provenance, f.String())
	}
	burr := worded(list, "deburr")
	require.Len(t, burr, 1)
	assert.Contains(t, burr[0].Text, "0.0040 in", "a tenth of .040")
	list = findings(t, rivet.Check{Layout: l, Stack: []material.Sheet{clad(.040), {Material: material.Material{Alloy: "2024", Temper: "T3"}, Thickness: .5 * inch}}})
	assert.Len(t, worded(list, "thinner than the thickest sheet"), 1)
	// A tenth of 1/2 in would be .050: MIL-R-47196A as quoted has .032 at most.
	list = findings(t, rivet.Check{Layout: l, Stack: []material.Sheet{{Material: material.Material{Alloy: "2024", Temper: "T3"}, Thickness: .5 * inch}}})
	assert.Contains(t, worded(list, "deburr")[0].Text, "0.0320 in")
}

// A sheet given by the gauge of another metal is asked about, once of two alike: 20 MSG is .0359 in, 20 B&S .0320.
func TestGaugeOfAnotherMetalIsAskedAbout(t *testing.T) {
	mm, by, err := material.ParseGauged("20 MSG")
	require.NoError(t, err)
	odd := material.Sheet{Material: clad(.040).Material, Thickness: mm, Gauge: by}
	row := rowAt("r", at(0, 0), at(20, 0), 3)
	list := worded(findings(t, rivet.Check{Layout: layoutOf(eighth, row), Stack: []material.Sheet{odd, clad(.040), odd}}), "20 MSG")
	require.Len(t, list, 1)
	assert.Equal(t, flat.Warn, list[0].Severity)
	assert.InDelta(t, .0359*inch, list[0].Figure, 1e-9)
	assert.InDelta(t, .032*inch, list[0].Limit, 1e-9)
}

// Edge distance on curved rows, measured against chords of the edge. The edge waves; its row lies 1.9
// diameters in, and 2 are asked for.
func TestEdgeDistanceOnCurvedRows(t *testing.T) {
	edge := outline.Path{Vertices: []outline.Vertex{{P: at(0, 0), Bulge: .3}, {P: at(120, 0), Bulge: -.3}, {P: at(240, 0)}}}
	d := eighth.Diameter
	for _, c := range []struct {
		inset float64
		stop  bool
	}{{1.9 * d, true}, {2 * d, false}, {2.6 * d, false}} {
		l, err := rivet.Pattern{Name: "row", Edge: edge, Inset: c.inset, Pitch: 20, End: 10}.Lay(eighth)
		require.NoError(t, err)
		pts := chords(edge)
		for _, h := range l.Rows[0].Holes {
			assert.InDelta(t, c.inset, nearestOf(pts, h.At), .01)
		}
		list := findings(t, rivet.Check{Layout: l, Stack: []material.Sheet{clad(.040)}, Edges: []rivet.SheetEdge{{Name: "the edge", Path: edge, HeldDown: true}}})
		short := worded(list, "edge distance to the edge is below")
		if !c.stop {
			assert.Empty(t, short)
			continue
		}
		require.Len(t, short, 1)
		assert.Equal(t, flat.Stop, short[0].Severity)
		assert.InDelta(t, 1.9*d, short[0].Figure, 1e-6)
		assert.InDelta(t, 2*d, short[0].Limit, 1e-12)
		// Flush heads want 2½.
		flush := l
		flush.Rivet.Head = rivet.Dimpled
		list = findings(t, rivet.Check{Layout: flush, Stack: []material.Sheet{clad(.032)}, Edges: []rivet.SheetEdge{{Name: "the edge", Path: edge, HeldDown: true}}})
		assert.InDelta(t, 2.5*d, worded(list, "edge distance")[0].Limit, 1e-12)
	}
	// Beyond 4 diameters the edge may lift: of two rows the one nearer to it counts.
	l, err := rivet.Pattern{Name: "row", Edge: edge, Inset: 3.9 * d, Rows: 2, Spacing: 3 * d, Pitch: 20, End: 10}.Lay(eighth)
	require.NoError(t, err)
	c := rivet.Check{Layout: l, Stack: []material.Sheet{clad(.040)}, Edges: []rivet.SheetEdge{{Name: "the edge", Path: edge, HeldDown: true}}}
	assert.Empty(t, worded(findings(t, c), "more than 4 diameters"))
	l, err = rivet.Pattern{Name: "row", Edge: edge, Inset: 4.1 * d, Pitch: 20, End: 10}.Lay(eighth)
	require.NoError(t, err)
	c.Layout = l
	far := worded(findings(t, c), "more than 4 diameters")
	require.Len(t, far, 1)
	assert.InDelta(t, 4.1*d, far[0].Figure, 1e-6)
	c.Edges[0].HeldDown = false
	assert.Empty(t, worded(findings(t, c), "more than 4 diameters"))
}

func layoutOf(r rivet.Rivet, rows ...rivet.Row) rivet.Layout {
	return rivet.Layout{Rivet: r, Rows: rows}
}

func TestPitchRules(t *testing.T) {
	d := eighth.Diameter
	row := func(step float64) rivet.Check {
		return rivet.Check{Layout: layoutOf(eighth, rowAt("r", at(0, 0), at(step, 0), 6)), Stack: []material.Sheet{clad(.040)}}
	}
	for _, c := range []struct {
		diameters float64
		text      string
		severity  flat.Severity
	}{{2.9, "below 3 diameters", flat.Stop}, {3.5, "usually 4 to 8", flat.Note}, {9, "usually 4 to 8", flat.Note}, {10.1, "more than 10 diameters", flat.Warn}} {
		list := worded(findings(t, row(c.diameters*d)), "pitch")
		require.Len(t, list, 1, "%v", c)
		assert.Contains(t, list[0].Text, c.text)
		assert.Equal(t, c.severity, list[0].Severity)
		assert.InDelta(t, c.diameters*d, list[0].Figure, 1e-9)
	}
	for _, fine := range []float64{4, 6, 8} {
		assert.Empty(t, worded(findings(t, row(fine*d)), "pitch"))
	}
	// The limits themselves are allowed.
	assert.Empty(t, worded(findings(t, row(3*d)), "below 3"))
	assert.Empty(t, worded(findings(t, row(10*d)), "more than 10"))
}

// Close and loose places of one row are counted and told apart, whichever come first.
func TestPitchesCloseAndLoose(t *testing.T) {
	d := eighth.Diameter
	for _, steps := range [][]float64{{3.5, 9, 3.6, 9.1, 6}, {9, 3.6, 9.1, 3.5, 6}} {
		row, x := rivet.Row{Name: "r", Line: line(at(0, 0), at(40*d, 0))}, 0.0
		for _, s := range append([]float64{0}, steps...) {
			x += s * d
			row.Holes = append(row.Holes, rivet.Hole{At: at(x, 0), Station: x})
		}
		list := worded(findings(t, rivet.Check{Layout: layoutOf(eighth, row), Stack: []material.Sheet{clad(.040)}}), "usually 4 to 8")
		require.Len(t, list, 2)
		for k, want := range [][2]float64{{3.5, 4}, {9.1, 8}} {
			assert.Contains(t, list[k].Place, "r, 2 places")
			assert.InDelta(t, want[0]*d, list[k].Figure, 1e-9)
			assert.InDelta(t, want[1]*d, list[k].Limit, 1e-9)
		}
	}
}

// A rivet 2 diameters from one of another row is found in whatever direction it stands.
func TestNeighboursAllRound(t *testing.T) {
	d := eighth.Diameter
	for k := range 16 {
		sin, cos := math.Sincos(math.Pi / 8 * float64(k))
		l := layoutOf(eighth, rowAt("a", at(1.25*d, 1.25*d), at(1, 0), 1), rowAt("b", at((1.25+2*cos)*d, (1.25+2*sin)*d), at(1, 0), 1))
		list := worded(findings(t, rivet.Check{Layout: l, Stack: []material.Sheet{clad(.040)}}), "2½ diameters")
		require.Len(t, list, 1, "%d", k)
		assert.InDelta(t, 2*d, list[0].Figure, 1e-9)
	}
}

// Rows 2.4 diameters apart, rivets opposite each other: too near. Staggered at a wide pitch the same
// rows keep clear: √(2.4² + 3²) = 3.8 diameters.
func TestRowSpacing(t *testing.T) {
	d := eighth.Diameter
	stack := []material.Sheet{clad(.040)}
	l := layoutOf(eighth, rowAt("a", at(0, 0), at(6*d, 0), 5), rowAt("b", at(0, 2.4*d), at(6*d, 0), 5))
	list := worded(findings(t, rivet.Check{Layout: l, Stack: stack}), "2½ diameters")
	require.Len(t, list, 1)
	assert.Contains(t, list[0].Place, "b, 5 places")
	assert.InDelta(t, 2.4*d, list[0].Figure, 1e-9)
	l = layoutOf(eighth, rowAt("a", at(0, 0), at(6*d, 0), 5), rowAt("b", at(3*d, 2.4*d), at(6*d, 0), 5))
	assert.Empty(t, worded(findings(t, rivet.Check{Layout: l, Stack: stack}), "2½ diameters"))
	// Two rows that cross share a place.
	l = layoutOf(eighth, rowAt("a", at(0, 0), at(6*d, 0), 5), rowAt("b", at(12*d, -12*d), at(0, 6*d), 5))
	list = worded(findings(t, rivet.Check{Layout: l, Stack: stack}), "2½ diameters")
	require.Len(t, list, 1)
	assert.Equal(t, at(12*d, 0), list[0].At)
}

// TM 9-2320-363: countersink 3/32, 1/8, 5/32, 3/16 in at least .040, .050, .064, .072; else dimple.
func TestCountersinkOrDimple(t *testing.T) {
	ran := 0
	for size, least := range map[float64]float64{3: .040, 4: .050, 5: .064, 6: .072} {
		for _, head := range []rivet.Head{rivet.Protruding, rivet.Countersunk, rivet.Dimpled} {
			for _, thick := range []float64{least - .004, least} {
				r := rivet.Rivet{Diameter: size / 32 * inch, Head: head}
				list := findings(t, rivet.Check{Layout: layoutOf(r, rowAt("r", at(0, 0), at(20, 0), 3)), Stack: []material.Sheet{clad(thick), clad(.125)}})
				stop, note := worded(list, "too thin to countersink"), worded(list, "thick enough to countersink")
				assert.Equal(t, head == rivet.Countersunk && thick < least, len(stop) == 1, "%v %v %v", size, head, thick)
				assert.Equal(t, head == rivet.Dimpled && thick >= least, len(note) == 1, "%v %v %v", size, head, thick)
				if len(stop) == 1 {
					assert.Equal(t, flat.Stop, stop[0].Severity)
					assert.InDelta(t, least*inch, stop[0].Limit, 1e-9)
				}
				ran++
			}
		}
	}
	assert.Equal(t, 24, ran)
}

// NAVEDTRA 14018: at least the thickest sheet, at most 3 times it; the Navy's structure not under 3/32.
func TestDiameterRules(t *testing.T) {
	of := func(thirtySeconds float64, sheets ...float64) []flat.Finding {
		var stack []material.Sheet
		for _, s := range sheets {
			stack = append(stack, clad(s))
		}
		return findings(t, rivet.Check{Layout: layoutOf(rivet.Rivet{Diameter: thirtySeconds / 32 * inch}, rowAt("r", at(0, 0), at(20, 0), 3)), Stack: stack})
	}
	assert.Len(t, worded(of(3, .032, .1), "thinner than the thickest"), 1)
	assert.Empty(t, worded(of(4, .032, .125), "thinner than the thickest"))
	assert.Empty(t, worded(of(4, .040, .040), "thicker than 3 times"))  // 3·.040 = .120: the size is 1/8
	assert.Len(t, worded(of(5, .040, .040), "thicker than 3 times"), 1) // and not 5/32
	assert.Len(t, worded(of(4, .025, .030), "thicker than 3 times"), 1) // .090: 3/32
	assert.Empty(t, worded(of(3, .032, .032), "thicker than 3 times"))  // .096 against .09375
	assert.Len(t, worded(of(2, .032), "under 3/32"), 1)
	assert.Empty(t, worded(of(3, .032), "under 3/32"))
	assert.Len(t, worded(of(6, .040), "about 3 times"), 1)
	assert.Empty(t, worded(of(4, .040), "about 3 times"))
	assert.Len(t, worded(of(5, .040), "about 3 times"), 1) // .120 is .036 in off, and sizes are .031 apart
	assert.Empty(t, worded(of(3, .040), "about 3 times"))  // .026 off
	assert.Len(t, worded(of(3, .050), "about 3 times"), 1) // .056 off
}

// An old hole of 3.4 mm in a row of 1/8 rivets, drilled No. 30 (.1285 in, 3.264 mm), fits; 3.6 wants the
// next size.
func TestWornHoles(t *testing.T) {
	found := []rivet.Found{{At: at(20, 0), Diameter: 3.36}, {At: at(60, 0), Diameter: 3.6}, {At: at(80, 0), Diameter: 3.8}}
	l, err := rivet.Pattern{Name: "old", Edge: line(at(0, 0), at(100, 0)), Pitch: 20, Found: found}.Lay(eighth)
	require.NoError(t, err)
	list := worded(findings(t, rivet.Check{Layout: l, Stack: []material.Sheet{clad(.040)}}), "larger than the rivet's drill")
	require.Len(t, list, 1)
	assert.Contains(t, list[0].Place, "2 places")
	assert.InDelta(t, 3.8, list[0].Figure, 1e-12)
}

func TestCheckRefuses(t *testing.T) {
	_, err := rivet.Check{Layout: layoutOf(rivet.Rivet{}, rowAt("r", at(math.NaN(), 0), at(1, 0), 1)), Edges: []rivet.SheetEdge{{Name: "e", Path: line(at(0, 0))}}}.Findings()
	for _, says := range []string{"rivet diameter 0 mm", "stack: name the sheets", `edge "e"`, "r rivet 1"} {
		assert.ErrorContains(t, err, says)
	}
	_, err = rivet.Check{Layout: layoutOf(eighth), Stack: []material.Sheet{{}}}.Findings()
	var bad *rivet.Error
	require.ErrorAs(t, err, &bad)
	assert.Equal(t, "stack sheet 1", bad.Field)
	var inner *material.Error
	assert.ErrorAs(t, err, &inner)
}

// Neighbours against all pairs.
func TestSpacingSeesEveryPair(t *testing.T) {
	d := eighth.Diameter
	a, b := rowAt("a", at(0, 0), at(17, 5), 30), rowAt("b", at(-30, 40), at(19, 2), 30)
	b.Holes[17].At = r2.Add(a.Holes[11].At, at(-1.3*d, 2*d))
	list := worded(findings(t, rivet.Check{Layout: layoutOf(eighth, a, b), Stack: []material.Sheet{clad(.040)}}), "2½ diameters to a rivet of another row")
	n, least := 0, math.Inf(1)
	for _, p := range a.Holes {
		for _, q := range b.Holes {
			if x := r2.Norm(r2.Sub(p.At, q.At)); x < 2.5*d {
				n, least = n+1, math.Min(least, x)
			}
		}
	}
	require.Positive(t, n)
	require.Len(t, list, 1)
	assert.InDelta(t, least, list[0].Figure, 1e-12)
}

// A row that doubles back upon itself 5 mm away: rivets of 3.2 mm want 2½ diameters, 8 mm. By hand: (0, 0) to (60, 0) in
// steps of 20, round by (80, 10), and back from (60, 5) to (0, 5).
func TestRowThatDoublesBack(t *testing.T) {
	r := rivet.Row{Name: "hairpin"}
	for _, p := range []r2.Vec{at(0, 0), at(20, 0), at(40, 0), at(60, 0), at(80, 10), at(60, 5), at(40, 5), at(20, 5), at(0, 5)} {
		r.Holes = append(r.Holes, rivet.Hole{At: p, Station: 20 * float64(len(r.Holes))})
		r.Line.Vertices = append(r.Line.Vertices, outline.Vertex{P: p})
	}
	check := func(r rivet.Row) []flat.Finding {
		return worded(findings(t, rivet.Check{Layout: layoutOf(rivet.Rivet{Diameter: 3.2}, r), Stack: []material.Sheet{clad(.040)}}), "farther along its own row")
	}
	list := check(r)
	require.Len(t, list, 1)
	assert.Equal(t, flat.Stop, list[0].Severity)
	assert.Contains(t, list[0].Place, "4 places")
	assert.InDelta(t, 5, list[0].Figure, 1e-12)
	assert.InDelta(t, 8, list[0].Limit, 1e-12)

	// Closed, its two ends follow each other: the pitch speaks of them.
	r.Line.Closed = true
	assert.Contains(t, check(r)[0].Place, "3 places")
	assert.Empty(t, check(rowAt("too tight", at(0, 0), at(6, 0), 5)), "as of all that follow each other")
}
