package nest

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"pgregory.net/rapid"
)

func rect(w, h float64) outline.Path { return outline.Rect(r2.Vec{}, r2.Vec{X: w, Y: h}) }

func along(a measure.Angle) material.Grain { return material.Grain{Stated: true, Angle: a} }

func ExampleLay() {
	bay := Piece{Name: "keel-bay", Outline: rect(330, 150), Grain: along(90 * measure.Degree)}
	l, err := Lay(Stock{Length: 96 * measure.Inch, Width: 48 * measure.Inch, Gap: 6, Margin: 12}, []Piece{bay, bay, bay, bay})
	if err != nil {
		fmt.Println(err)
		return
	}
	s := l.Sheets[0]
	for _, p := range s.Placed {
		at := p.Move.Apply(r2.Vec{})
		fmt.Printf("turned %v, its corner at %.1f, %.1f mm\n", p.Turned, at.X, at.Y)
	}
	fmt.Printf("%d sheet, %.1f %% of the first %s becomes blanks\n", len(l.Sheets), 100*s.UsedOfReach(l.Stock), measure.InchText(s.Reach+l.Stock.Gap, 1))
	// Output:
	// turned -90°, its corner at 12.0, 342.0 mm
	// turned -90°, its corner at 12.0, 678.0 mm
	// turned -90°, its corner at 12.0, 1014.0 mm
	// turned -90°, its corner at 168.0, 342.0 mm
	// 1 sheet, 50.1 % of the first 12.8 in becomes blanks
}

// check holds a layout to what a cutter asks of it, by the true outlines.
func check(t require.TestingT, l Layout, pieces []Piece) {
	seen := map[int]int{}
	for _, left := range l.Left {
		seen[left.Piece]++
	}
	for _, s := range l.Sheets {
		area := 0.0
		var paths []outline.Path
		for _, p := range s.Placed {
			seen[p.Piece]++
			piece := pieces[p.Piece]
			moved := piece.Outline.Transform(p.Move)
			area += piece.Outline.Area()
			assert.InDelta(t, piece.Outline.Area(), moved.Area(), 1e-6*moved.Area(), "neither scaled nor turned over")
			box := moved.Bounds()
			assert.GreaterOrEqual(t, box.Min.X, l.Stock.Margin-1e-6)
			assert.GreaterOrEqual(t, box.Min.Y, l.Stock.Margin-1e-6)
			assert.LessOrEqual(t, box.Max.X, l.Stock.Length-l.Stock.Margin+1e-6)
			assert.LessOrEqual(t, box.Max.Y, l.Stock.Width-l.Stock.Margin+1e-6)
			assert.LessOrEqual(t, box.Max.X, s.Reach+1e-6)
			if g := piece.Grain; g.Stated {
				sin, cos := math.Sincos(float64(g.Angle))
				way := r2.Sub(p.Move.Apply(r2.Vec{X: cos, Y: sin}), p.Move.Apply(r2.Vec{}))
				assert.InDelta(t, 0, way.Y, 1e-9, "the grain of %s lies across", piece.Name)
			}
			for _, q := range paths {
				d, _, _ := outline.Clearance(q, moved)
				assert.GreaterOrEqual(t, d, l.Stock.Gap-1e-6, "%s", piece.Name)
				assert.False(t, holds(q, moved.Vertices[0].P) || holds(moved, q.Vertices[0].P), "one lies in another")
			}
			paths = append(paths, moved)
		}
		assert.InDelta(t, area, s.Area, 1e-6*area)
		assert.NotEmpty(t, s.Placed, "an empty sheet")
	}
	for i := range pieces {
		assert.Equal(t, 1, seen[i], "piece %d", i)
	}
}

// holds reports whether a point lies within an outline, more than rounding within.
func holds(p outline.Path, q r2.Vec) bool { return p.Side(q) == outline.Inside && p.Distance(q) > 1e-6 }

// Nine squares of 96 mm and their gaps of 10 take 308 mm each way; the tenth needs a
// sheet of its own. Used: 9·96² of 310², and 1/9 of that.
func TestSquaresByHand(t *testing.T) {
	var pieces []Piece
	for range 10 {
		pieces = append(pieces, Piece{Outline: rect(96, 96)})
	}
	l, err := Lay(Stock{Length: 310, Width: 310, Gap: 10}, pieces)
	require.NoError(t, err)
	check(t, l, pieces)
	require.Len(t, l.Sheets, 2)
	assert.Len(t, l.Sheets[0].Placed, 9)
	assert.InDelta(t, 9*96*96/(310.0*310), l.Sheets[0].Used(l.Stock), 1e-12)
	assert.InDelta(t, 96*96/(106.0*310), l.Sheets[1].UsedOfReach(l.Stock), 1e-12)
	assert.InDelta(t, 10*96*96/(2*310.0*310), l.Used(), 1e-12)
	assert.Zero(t, Layout{}.Used())
}

// Five squares of 2 in with four gaps and both margins of 1/4 in stand one over the other on 11 1/2 in to the last digit: in mm
// the room left beside one is a hair less than the rows it takes.
func TestLastRowOfASheet(t *testing.T) {
	var inch float64 = measure.Inch // as it is worked with: a constant would be exact
	pieces := slices.Repeat([]Piece{{Outline: rect(2*inch, 2*inch), Grain: along(0)}}, 5)
	l, err := Lay(Stock{Length: 2.5 * inch, Width: 11.5 * inch, Gap: inch / 4, Margin: inch / 4}, pieces)
	require.NoError(t, err)
	check(t, l, pieces)
	assert.Empty(t, l.Left)
	require.Len(t, l.Sheets, 1)
	assert.Len(t, l.Sheets[0].Placed, 5)
}

// Two right triangles laid as a square with a diagonal cut take 200 + 10·√2 mm, where
// their boxes side by side would take 410.
func TestTrianglesNestle(t *testing.T) {
	triangle := outline.Polygon(r2.Vec{}, r2.Vec{X: 200}, r2.Vec{Y: 200})
	pieces := []Piece{{Outline: triangle, Grain: along(0)}, {Outline: triangle, Grain: along(0)}}
	l, err := Lay(Stock{Length: 220, Width: 202, Gap: 10}, pieces)
	require.NoError(t, err)
	check(t, l, pieces)
	require.Len(t, l.Sheets, 1)
	assert.Equal(t, 180*measure.Degree, l.Sheets[0].Placed[1].Turned-l.Sheets[0].Placed[0].Turned)
}

// A strip whose grain runs across it would fit the sheet only with its grain across.
func TestGrainIsKept(t *testing.T) {
	strip := Piece{Name: "strip", Outline: rect(300, 100), Grain: along(90 * measure.Degree)}
	stock := Stock{Length: 350, Width: 150}
	l, err := Lay(stock, []Piece{strip, {Name: "free", Outline: rect(100, 300)}})
	require.NoError(t, err)
	check(t, l, []Piece{strip, {Name: "free", Outline: rect(100, 300)}})
	require.Len(t, l.Left, 1)
	assert.Equal(t, 0, l.Left[0].Piece)
	assert.Equal(t, "takes 3.94 in along the grain by 11.81 in, and a sheet has 13.78 in x 5.91 in inside its margins", l.Left[0].Reason)
	require.Len(t, l.Sheets, 1)

	// 400 mm fit no way round.
	l, err = Lay(stock, []Piece{{Outline: rect(100, 400)}})
	require.NoError(t, err)
	assert.Empty(t, l.Sheets)
	require.Len(t, l.Left, 1)
	assert.Contains(t, l.Left[0].Reason, "is 15.75 in by 3.94 in")
}

// Whatever the shapes, arcs and hooks among them, gap, margin and grain are kept, and
// the same pieces lie the same way again.
func TestAnyShapes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stock := Stock{
			Length: rapid.Float64Range(300, 900).Draw(t, "length"), Width: rapid.Float64Range(200, 500).Draw(t, "width"),
			Gap: rapid.Float64Range(0, 15).Draw(t, "gap"), Margin: rapid.Float64Range(0, 20).Draw(t, "margin"),
		}
		var pieces []Piece
		for i := range rapid.IntRange(1, 9).Draw(t, "pieces") {
			w, h := rapid.Float64Range(5, 250).Draw(t, "w"), rapid.Float64Range(5, 250).Draw(t, "h")
			var p outline.Path
			switch rapid.IntRange(0, 3).Draw(t, "shape") {
			case 0:
				p = rect(w, h)
			case 1: // a hook
				p = outline.Polygon(r2.Vec{}, r2.Vec{X: w}, r2.Vec{X: w, Y: h / 4}, r2.Vec{X: w / 3, Y: h / 3}, r2.Vec{X: w / 4, Y: h})
			case 2: // round ends, bulging and hollow
				p = outline.Path{Closed: true, Vertices: []outline.Vertex{{P: r2.Vec{}}, {P: r2.Vec{X: w}, Bulge: 0.9}, {P: r2.Vec{X: w, Y: h}}, {P: r2.Vec{Y: h}, Bulge: -0.3 * min(1, w/h)}}}
			default:
				p = outline.Circle(r2.Vec{X: w, Y: -h}, w)
			}
			piece := Piece{Name: fmt.Sprint(i), Outline: p}
			if rapid.Bool().Draw(t, "stated") {
				piece.Grain = along(measure.Angle(rapid.Float64Range(-4, 4).Draw(t, "grain")))
			}
			pieces = append(pieces, piece)
		}
		l, err := Lay(stock, pieces)
		require.NoError(t, err)
		check(t, l, pieces)
		again, err := Lay(stock, pieces)
		require.NoError(t, err)
		assert.Equal(t, l, again)
	})
}

// Small pieces do fill a sheet: three quarters of it and more, while there are enough.
func TestFills(t *testing.T) {
	var pieces []Piece
	for i := range 450 {
		pieces = append(pieces, Piece{Outline: rect(60+float64(i*7%90), 40+float64(i*11%70))})
	}
	stock := Stock{Length: 2438, Width: 1219, Gap: 5, Margin: 10}
	l, err := Lay(stock, pieces)
	require.NoError(t, err)
	check(t, l, pieces)
	require.Len(t, l.Sheets, 2)
	assert.Greater(t, l.Sheets[0].Used(stock), 0.75)
}

// Blanks as high as their sheet but for rounding, up to the millionth of a micrometre by which
// they still fit, lie side by side: 20 of 50 mm in 1000, and what is higher fits none. The bands
// of the sheets are 0.5 mm, 1000/256, 7/14 and 29000/256 mm high.
func TestAsHighAsTheSheet(t *testing.T) {
	for _, s := range []Stock{
		{Length: 1000, Width: 100}, {Length: 1000, Width: 1000}, {Length: 1133, Width: 100, Gap: 7}, {Length: 1000, Width: 29e3}, {Length: 1006, Width: 106, Margin: 3},
	} {
		room := s.Width - 2*s.Margin
		for _, over := range []float64{-9e-10, -1e-12, 0, 1e-12, 4e-10, 6e-10, 9e-10} {
			var pieces []Piece
			for range 20 {
				pieces = append(pieces, Piece{Outline: rect(50, room+over), Grain: along(0)})
			}
			l, err := Lay(s, pieces)
			require.NoError(t, err)
			check(t, l, pieces)
			require.Len(t, l.Sheets, 1, "%+v %v", s, over)
		}
		l, err := Lay(s, []Piece{{Outline: rect(50, room+3e-9), Grain: along(0)}})
		require.NoError(t, err)
		assert.Len(t, l.Left, 1)
	}
}

// All faults come at once.
func TestFaults(t *testing.T) {
	nan := math.NaN()
	_, err := Lay(Stock{Length: nan, Width: 4.8, Gap: -1, Margin: nan}, []Piece{
		{Name: "good", Outline: rect(1, 1)}, {Name: "open", Outline: outline.Polyline(r2.Vec{}, r2.Vec{X: 1})}, {Name: "cw", Outline: rect(1, 1).Reverse()},
		{Name: "empty"}, {Name: "nan", Outline: rect(nan, 1)}, {Name: "far", Outline: rect(1e9, 1)}, {Name: "grain", Outline: rect(1, 1), Grain: along(measure.Angle(nan))},
	})
	require.Error(t, err)
	for _, want := range []string{
		"length NaN mm: a sheet is", "width 4.8 mm: a sheet is 10 mm to 30 m wide: if inches were meant", "gap -1 mm", "margin NaN mm",
		`piece 2 "open"`, `piece 3 "cw"`, `piece 4 "empty"`, `piece 5 "nan"`, `piece 6 "far"`, `grain of piece 7 "grain"`,
	} {
		assert.Contains(t, err.Error(), want)
	}
	assert.NotContains(t, err.Error(), "good")
	var fault *Error
	require.ErrorAs(t, err, &fault)
	_, err = Lay(Stock{Length: 100, Width: 50, Margin: 25}, nil)
	require.ErrorContains(t, err, "leaves nothing of a sheet")
	l, err := Lay(Stock{Length: 100, Width: 50}, nil)
	require.NoError(t, err)
	assert.Empty(t, l.Sheets)
}

// No input panics, and what is laid out is laid out well.
func FuzzLay(f *testing.F) {
	f.Add(100.0, 50.0, 1.0, 1.0, 30.0, 20.0, 0.0, 0.5)
	f.Add(310.0, 310.0, 10.0, 0.0, 96.0, 96.0, 0.3, -0.7)
	f.Add(1e4, 20.0, 0.0, 9.0, 1e-3, 1e3, 5e5, 2.0)
	f.Fuzz(func(t *testing.T, length, width, gap, margin, w, h, grain, bulge float64) {
		p := outline.Path{Closed: true, Vertices: []outline.Vertex{{P: r2.Vec{}}, {P: r2.Vec{X: w}, Bulge: bulge}, {P: r2.Vec{X: w, Y: h}}, {P: r2.Vec{Y: h}}}}
		pieces := []Piece{{Outline: p, Grain: along(measure.Angle(grain))}, {Outline: p}, {Outline: p}}
		l, err := Lay(Stock{Length: length, Width: width, Gap: gap, Margin: margin}, pieces)
		if err == nil && strings.TrimSpace(fmt.Sprint(l.Used())) == "NaN" {
			t.Error("not a number")
		}
		if err == nil && min(w, h) > 1 {
			check(t, l, pieces)
		}
	})
}

func BenchmarkLay(b *testing.B) {
	for _, n := range []int{11, 1000, 10000} {
		var pieces []Piece
		for i := range n {
			pieces = append(pieces, Piece{Outline: rect(250+float64(i*7%90), 140+float64(i*11%70)), Grain: along(45 * measure.Degree)})
		}
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Lay(Stock{Length: 3658, Width: 1219, Gap: 6, Margin: 10}, pieces); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// Of the orders of laying the best is kept: fewer sheets, then less of the last. Each is run here by itself.
func TestTheBestOrderIsKept(t *testing.T) {
	differ := 0
	rapid.Check(t, func(t *rapid.T) {
		n := nester{stock: Stock{Length: 400, Width: 100, Gap: 2}}
		for range rapid.IntRange(3, 8).Draw(t, "pieces") {
			w, h := rapid.IntRange(20, 90).Draw(t, "w"), rapid.IntRange(20, 90).Draw(t, "h")
			n.pieces = append(n.pieces, Piece{Outline: rect(float64(w), float64(h)), Grain: along(0)})
		}
		n.bands = bandsOf(n.stock)
		n.lyings()
		fewest, least := math.MaxInt, math.Inf(1)
		reaches := map[float64]bool{}
		for _, order := range []func(a, b int) int{n.byArea, n.byLength, n.byHeight} {
			l := n.run(order)
			last := l.Sheets[len(l.Sheets)-1].Reach
			if len(l.Sheets) < fewest || len(l.Sheets) == fewest && last < least {
				fewest, least = len(l.Sheets), last
			}
			reaches[last] = true
		}
		if len(reaches) > 1 {
			differ++
		}
		kept, err := Lay(n.stock, n.pieces)
		require.NoError(t, err)
		assert.Len(t, kept.Sheets, fewest)
		assert.InDelta(t, least, kept.Sheets[fewest-1].Reach, 1e-6)
	})
	assert.Greater(t, differ, 5, "the orders must differ for one to be better")
}
