package rivet_test

import (
	"math"
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

// askew is a web with no right angle and four flanges: up, down, closed, open, one tapered.
func askew() flat.Part {
	f := func(name string, turn flat.Turn, degrees, height, end float64) []flat.Flange {
		return []flat.Flange{{Name: name, Turn: turn, Angle: measure.Angle(degrees) * measure.Degree, Height: height, HeightEnd: end}}
	}
	return flat.Part{
		Name: "keel-bay", Radius: 3,
		Sheet: material.Sheet{Material: material.Material{Alloy: "2024", Temper: "T3", Clad: true}, Thickness: 1},
		Web: flat.Web{Edges: []flat.Edge{
			{Name: "keel", Start: at(0, 0), Flanges: f("keel", flat.Up, 97, 20, 0)},
			{Name: "aft", Start: at(310, 12), Flanges: f("aft", flat.Down, 84, 18, 0)},
			{Name: "floor", Start: at(296, 168), Flanges: f("floor", flat.Up, 90, 18, 26)},
			{Name: "fore", Start: at(-14, 150), Flanges: f("fore", flat.Up, 92, 18, 0)},
		}},
	}
}

// Rows along every flange of an askew part come out on the blank: each rivet within its flange, in the
// middle of its flat, clear of the flange's ends and free edge.
func TestFlangeRowsLandOnTheBlank(t *testing.T) {
	part := askew()
	b, err := flat.Develop(part)
	require.NoError(t, err)
	r := rivet.Rivet{Diameter: 3. / 32 * inch}
	least, _ := r.EdgeDistance()
	total := 0
	for k := 1; k < len(b.Panels); k++ {
		row, err := rivet.FlangeLine(b, k, 0, least)
		require.NoError(t, err, b.Panels[k].Name)
		l, err := rivet.Pattern{Name: b.Panels[k].Name, Edge: row, Pitch: 20}.Lay(r)
		require.NoError(t, err)
		require.Greater(t, l.Count(), 4)
		fl := &part.Web.Edges[k-1].Flanges[0]
		require.Equal(t, b.Panels[k].Name, fl.Name)
		fl.Holes = l.Holes(fl.Name, 0)
		total += l.Count()
		// Midway between tangent line and free edge, by the flange's own numbers.
		line, edge := b.Bends[k-1], part.Web.Edges[k-1]
		long := r2.Norm(r2.Sub(part.Web.Edges[k%4].Start, edge.Start))
		for _, h := range fl.Holes {
			high := fl.Height
			if fl.HeightEnd != 0 {
				high += (fl.HeightEnd - fl.Height) * h.At.X / long
			}
			assert.InDelta(t, (line.Setback+high)/2, h.At.Y, 1e-6, "%s", h.Name)
			assert.Equal(t, flat.RivetPilot, h.Purpose)
			assert.InDelta(t, 2./32*inch, h.Diameter, 1e-12)
		}
		moved := l.OnBlank(b.Panels[k])
		list, err := rivet.Check{Layout: moved, Stack: []material.Sheet{part.Sheet, part.Sheet}, Edges: []rivet.SheetEdge{{Name: "the blank's edge", Path: b.Outline}}}.Findings()
		require.NoError(t, err)
		assert.Empty(t, worded(list, "is below"), b.Panels[k].Name)
		for _, h := range moved.Rows[0].Holes {
			assert.Equal(t, outline.Inside, outline.Polygon(b.Panels[k].Outline...).Side(h.At))
		}
		marks, err := l.Marks(b, k, 2)
		require.NoError(t, err)
		require.Len(t, marks, 2*l.Count())
		mid := r2.Scale(.5, r2.Add(marks[0].Line.Vertices[0].P, marks[0].Line.Vertices[1].P))
		assert.InDelta(t, 0, r2.Norm(r2.Sub(mid, moved.Rows[0].Holes[0].At)), 1e-9)
	}
	again, err := flat.Develop(part)
	require.NoError(t, err)
	require.Len(t, again.Holes, total)
	assert.Less(t, again.Proof.Hole, 1e-6, "folded back, the holes are where they were asked for")
	for _, f := range again.Findings {
		assert.NotEqual(t, flat.Stop, f.Severity, f.String())
	}
}

// Under the rivet's diameter a hole is a pilot, from there on it has its finished size.
func TestPilotsAndFullHoles(t *testing.T) {
	l := layoutOf(eighth, rowAt("r", at(0, 0), at(20, 0), 3))
	for diameter, want := range map[float64]flat.Purpose{0: flat.RivetPilot, 2.4: flat.RivetPilot, inch / 8: flat.Opening, .1285 * inch: flat.Opening} {
		holes := l.Holes("r", diameter)
		require.Len(t, holes, 3)
		for _, h := range holes {
			assert.Equal(t, want, h.Purpose, "%v", diameter)
			assert.True(t, diameter == 0 || h.Diameter == diameter)
		}
	}
}

// An end that leans keeps the edge distance square to itself: an end cut at 45 degrees through (0, 0)
// and a row 10 mm out start the row at 10 + 5·√2 when 5 mm are to stay.
func TestFlangeLineAtALeaningEnd(t *testing.T) {
	part := flat.Part{Name: "angle", Radius: 2, Sheet: clad(.040), Web: flat.Web{Edges: []flat.Edge{
		{Name: "a", Start: at(0, 0), Flanges: []flat.Flange{{Name: "a", Angle: 90 * measure.Degree, Height: 20,
			Start: flat.Trim{Kind: flat.Angled, Angle: 45 * measure.Degree}, End: flat.Trim{Kind: flat.Square}}}},
		{Name: "b", Start: at(200, 0)}, {Name: "c", Start: at(200, 60)}, {Name: "d", Start: at(0, 60)},
	}}}
	b, err := flat.Develop(part)
	require.NoError(t, err)
	row, err := rivet.FlangeLine(b, 1, 10, 5)
	require.NoError(t, err)
	require.Len(t, row.Vertices, 2)
	assert.InDelta(t, 10+5*math.Sqrt2, row.Vertices[0].P.X, 1e-6)
	assert.InDelta(t, 195, row.Vertices[1].P.X, 1e-6)
	assert.InDelta(t, 10, row.Vertices[0].P.Y, 1e-12)
	for _, panel := range []int{-1, 0, 2} {
		_, err = rivet.FlangeLine(b, panel, 0, 5)
		assert.ErrorContains(t, err, "is no flange")
	}
	_, err = rivet.FlangeLine(b, 1, math.NaN(), math.Inf(1))
	assert.ErrorContains(t, err, "row from mold line")
	assert.ErrorContains(t, err, "clearance of flange ends")
	_, err = rivet.FlangeLine(b, 1, 10, 110)
	assert.ErrorContains(t, err, "leaves no room")
	_, err = rivet.FlangeLine(b, 1, 21, 5)
	assert.ErrorContains(t, err, "leaves no room")
	_, err = rivet.Layout{}.Marks(b, 9, 0)
	assert.ErrorContains(t, err, "arm of a cross")
	assert.ErrorContains(t, err, "panel 9")
}

// On the web a curved row turns the way it was given; on a flange, whose own axes are mirrored on the
// blank, the other way: its line goes through its rivets either way.
func TestCurvedRowOnBlank(t *testing.T) {
	b, err := flat.Develop(askew())
	require.NoError(t, err)
	arc := outline.Path{Vertices: []outline.Vertex{{P: at(60, 10), Bulge: .2}, {P: at(120, 10)}}}
	l, err := rivet.Pattern{Edge: arc, Pitch: 12}.Lay(eighth)
	require.NoError(t, err)
	for _, panel := range []int{0, 1, 2} {
		moved := l.OnBlank(b.Panels[panel])
		for _, h := range moved.Rows[0].Holes {
			assert.InDelta(t, 0, moved.Rows[0].Line.Distance(h.At), 1e-9, "panel %d", panel)
		}
	}
}
