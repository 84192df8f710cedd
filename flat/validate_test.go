package flat_test

import (
	"math"
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

// Every number of a part, made bad in every way, is refused with its own path.
func TestBadNumbersAreNamed(t *testing.T) {
	part := func() flat.Part {
		p := channel(bend.Handbook{})
		f := &p.Web.Edges[0].Flanges[0]
		f.Name = "leg"
		f.Radius, f.AngleEnd, f.HeightEnd = 4, f.Angle, f.Height
		f.From, f.To = 10, 100
		f.Start = flat.Trim{Kind: flat.Angled, Angle: 0.1, Inset: 1}
		f.Holes = []flat.Hole{{At: r2.Vec{X: 50, Y: 15}, Diameter: 3}}
		p.Relief.Diameter, p.Gap = 9, 1
		return p
	}
	leg := func(p *flat.Part) *flat.Flange { return &p.Web.Edges[0].Flanges[0] }
	const flange = "web.edges[0].flanges[0]"
	for _, c := range []struct {
		path string
		at   func(*flat.Part) *float64
		zero bool // zero has a meaning and is taken
	}{
		{"sheet.thickness", func(p *flat.Part) *float64 { return &p.Sheet.Thickness }, false},
		{"radius", func(p *flat.Part) *float64 { return &p.Radius }, true},
		{"gap", func(p *flat.Part) *float64 { return &p.Gap }, true},
		{"relief.diameter", func(p *flat.Part) *float64 { return &p.Relief.Diameter }, true},
		{flange + ".angle", func(p *flat.Part) *float64 { return (*float64)(&leg(p).Angle) }, false},
		{flange + ".angle_end", func(p *flat.Part) *float64 { return (*float64)(&leg(p).AngleEnd) }, true},
		{flange + ".height", func(p *flat.Part) *float64 { return &leg(p).Height }, false},
		{flange + ".height_end", func(p *flat.Part) *float64 { return &leg(p).HeightEnd }, true},
		{flange + ".radius", func(p *flat.Part) *float64 { return &leg(p).Radius }, true},
		{flange + ".from", func(p *flat.Part) *float64 { return &leg(p).From }, true},
		{flange + ".to", func(p *flat.Part) *float64 { return &leg(p).To }, false},
		{flange + ".start.angle", func(p *flat.Part) *float64 { return (*float64)(&leg(p).Start.Angle) }, true},
		{flange + ".start.inset", func(p *flat.Part) *float64 { return &leg(p).Start.Inset }, true},
		{flange + ".holes[0].diameter", func(p *flat.Part) *float64 { return &leg(p).Holes[0].Diameter }, false},
	} {
		bad := []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 1e7}
		if !c.zero {
			bad = append(bad, 0)
		}
		for _, x := range bad {
			p := part()
			*c.at(&p) = x
			paths := pathsOf(t, p.Validate())
			if x == -1 && c.path == flange+".start.angle" {
				continue // -57° is an angle an end may lean
			}
			assert.Contains(t, paths, c.path, "%s = %v", c.path, x)
			_, err := flat.Develop(p)
			assert.Error(t, err, "%s = %v", c.path, x)
		}
		if c.zero {
			p := part()
			*c.at(&p) = 0
			assert.NotContains(t, pathsOf(t, p.Validate()), c.path)
		}
	}
	require.NoError(t, part().Validate())
}

func pathsOf(t *testing.T, err error) []string {
	t.Helper()
	if err == nil {
		return nil
	}
	joined, ok := err.(interface{ Unwrap() []error })
	require.True(t, ok, "faults are joined: %v", err)
	var paths []string
	for _, e := range joined.Unwrap() {
		var fault *flat.Error
		require.ErrorAs(t, e, &fault)
		assert.NotEmpty(t, fault.Rule)
		paths = append(paths, fault.Path)
	}
	return paths
}

func TestBadShapesAreNamed(t *testing.T) {
	square := []flat.Edge{{Start: r2.Vec{}}, {Start: r2.Vec{X: 100}}, {Start: r2.Vec{X: 100, Y: 100}}, {Start: r2.Vec{Y: 100}}}
	for name, c := range map[string]struct {
		change func(*flat.Part)
		path   string
	}{
		"no name":           {func(p *flat.Part) { p.Name = "" }, "name"},
		"two edges":         {func(p *flat.Part) { p.Web.Edges = p.Web.Edges[:2] }, "web.edges"},
		"clockwise":         {func(p *flat.Part) { e := p.Web.Edges; e[1], e[3] = e[3], e[1] }, "web.edges"},
		"crossing":          {func(p *flat.Part) { e := p.Web.Edges; e[2], e[3] = e[3], e[2] }, "web.edges"},
		"corner twice":      {func(p *flat.Part) { p.Web.Edges[1].Start = p.Web.Edges[0].Start }, "web.edges"},
		"corner NaN":        {func(p *flat.Part) { p.Web.Edges[1].Start.Y = math.NaN() }, "web.edges[1].start.y"},
		"same name":         {func(p *flat.Part) { p.Web.Edges[1].Name, p.Web.Edges[2].Name = "a", "a" }, "web.edges[2].name"},
		"bent arc":          {func(p *flat.Part) { p.Web.Edges[0].Bulge = 0.2; p.Web.Edges[0].Flanges = leg(90) }, "web.edges[0].bulge"},
		"bulge NaN":         {func(p *flat.Part) { p.Web.Edges[0].Bulge = math.NaN() }, "web.edges[0].bulge"},
		"no radius":         {func(p *flat.Part) { p.Radius = 0; p.Web.Edges[0].Flanges = leg(90) }, "web.edges[0].flanges[0].radius"},
		"two without spans": {func(p *flat.Part) { p.Web.Edges[0].Flanges = append(leg(90), leg(80)...) }, "web.edges[0].flanges[0].to"},
		"end angle on auto": {func(p *flat.Part) { f := leg(90); f[0].End.Angle = 0.1; p.Web.Edges[0].Flanges = f }, "web.edges[0].flanges[0].end.angle"},
		"open cut-out":      {func(p *flat.Part) { p.Web.Cutouts = []flat.Cutout{{Path: outline.Polyline(r2.Vec{}, r2.Vec{X: 1})}} }, "web.cutouts[0].path"},
		"hole NaN":          {func(p *flat.Part) { p.Web.Holes = []flat.Hole{{At: r2.Vec{X: math.NaN()}, Diameter: 1}} }, "web.holes[0].at.x"},
		"grain NaN":         {func(p *flat.Part) { p.Sheet.Grain.Stated = true; p.Sheet.Grain.Angle = leg(math.NaN())[0].Angle }, "sheet.grain"},
		"height of the lip": {func(p *flat.Part) {
			f := leg(90)
			f[0].Flanges = leg(90)
			f[0].Flanges[0].Height = 0
			p.Web.Edges[0].Flanges = f
		}, "web.edges[0].flanges[0].flanges[0].height"},
		"web of one corner": {func(p *flat.Part) { p.Web.Edges[2].Start, p.Web.Edges[3].Start = r2.Vec{X: 50}, r2.Vec{X: 25} }, "web.edges"},
		"spans out of order": {func(p *flat.Part) {
			f := append(leg(90), leg(80)...)
			f[0].From, f[0].To, f[1].From, f[1].To = 50, 80, 10, 30
			p.Web.Edges[0].Flanges = f
		}, "web.edges[0].flanges[1].from"},
	} {
		t.Run(name, func(t *testing.T) {
			p := stock()
			p.Web.Edges = append([]flat.Edge(nil), square...)
			require.NoError(t, p.Validate())
			c.change(&p)
			assert.Contains(t, pathsOf(t, p.Validate()), c.path)
		})
	}
}

func leg(angle float64) []flat.Flange {
	return []flat.Flange{{Angle: degrees(angle), Height: 20}}
}

// What a part asks for may be well formed and still not be possible.
func TestImpossibleParts(t *testing.T) {
	corners := func(points ...r2.Vec) []flat.Edge {
		edges := make([]flat.Edge, len(points))
		for i, p := range points {
			edges[i] = flat.Edge{Name: string(rune('a' + i)), Start: p}
		}
		return edges
	}
	for name, c := range map[string]struct {
		edges  []flat.Edge
		bent   []int
		angle  float64
		reason string
	}{
		"web smaller than its setbacks": {corners(r2.Vec{}, r2.Vec{X: 10}, r2.Vec{X: 10, Y: 10}, r2.Vec{Y: 10}), []int{0, 1, 2, 3}, 90, "too small for its bends"},
		"relief as long as the edge":    {corners(r2.Vec{}, r2.Vec{X: 20}, r2.Vec{X: 20, Y: 100}, r2.Vec{Y: 100}), []int{0, 1, 3}, 90, "shorter than the relief hole"},
		"bends in one line":             {corners(r2.Vec{}, r2.Vec{X: 50}, r2.Vec{X: 100, Y: 1}, r2.Vec{X: 50, Y: 90}), []int{0, 1}, 90, "turns"},
	} {
		t.Run(name, func(t *testing.T) {
			p := stock()
			p.Web.Edges = c.edges
			for _, i := range c.bent {
				p.Web.Edges[i].Flanges = leg(c.angle)
			}
			require.NoError(t, p.Validate())
			_, err := flat.Develop(p)
			var fault *flat.Error
			require.ErrorAs(t, err, &fault)
			assert.Contains(t, err.Error(), c.reason)
			assert.Contains(t, fault.Path, "web.edges[")
		})
	}
}
