package flat_test

import (
	"math"
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
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
		"crossing":          {func(p *flat.Part) { e := p.Web.Edges; e[2], e[3] = e[3], e[2] }, "web.edges[1].start"},
		"corner twice":      {func(p *flat.Part) { p.Web.Edges[1].Start = p.Web.Edges[0].Start }, "web.edges[0].start"},
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
		"web of one corner": {func(p *flat.Part) { p.Web.Edges[2].Start, p.Web.Edges[3].Start = r2.Vec{X: 50}, r2.Vec{X: 25} }, "web.edges[0].start"},
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

// Edges that cross are named, by the place where they do: (0, 0)-(100, 100) and (100, 0)-(0, 100) at 50, 50.
func TestCrossingEdgesAreNamed(t *testing.T) {
	p := stock()
	p.Web.Edges = []flat.Edge{{Name: "up"}, {Name: "right", Start: r2.Vec{X: 100, Y: 100}}, {Start: r2.Vec{X: 100}}, {Start: r2.Vec{Y: 100}}}
	err := p.Validate()
	require.ErrorContains(t, err, `edge "up" and edge 3 touch or cross at (1.9685 in (50.000 mm), 1.9685 in (50.000 mm))`)
	assert.NotContains(t, err.Error(), "outline.")
}

// A flange must stand out of its bend: the setback is (3 + 1)·tan 45° = 4. All that do not are told, and each once.
func TestFlangesReachOutOfTheirBends(t *testing.T) {
	for height, fine := range map[float64]bool{3.9: false, 4: false, 4.2: true} {
		p := shelf(shelfLip("lip", 0, 0))
		front := &p.Web.Edges[0].Flanges[0]
		front.Flanges, front.Height = nil, height
		back := *front
		back.Name = "back"
		p.Web.Edges[2].Flanges = []flat.Flange{back}
		_, err := flat.Develop(p)
		if fine {
			require.NoError(t, err)
			continue
		}
		for _, name := range []string{`flange "front": height`, `flange "back": height`} {
			require.ErrorContains(t, err, name)
		}
		assert.ErrorContains(t, err, "past the setback of its bend, 0.1575 in (4.000 mm)")
		assert.Equal(t, 2, strings.Count(err.Error(), "setback"))
	}
	// The flat alone is given: any height above 0 reaches out of the bend.
	p := shelf()
	p.Web.Edges[0].Flanges[0].Height, p.Web.Edges[0].Flanges[0].Basis = 1, flat.Tangent
	_, err := flat.Develop(p)
	require.NoError(t, err)
}

// A lip turned 150° on 25 mm of sheet .9 with radius 6: its setback of 6.9·tan 75° = 25.75 mm starts below the panel it
// stands on. The two ends of the panel say so with one voice.
func TestLipWithoutRoomForItsBend(t *testing.T) {
	p := shelf(flat.Flange{Name: "lip", Angle: 150 * measure.Degree, Height: 30})
	p.Sheet.Thickness, p.Radius = 0.9, 6
	p.Web.Edges[0].Flanges[0].Height = 25
	_, err := flat.Develop(p)
	require.ErrorContains(t, err, "a setback of 1.0138 in (25.751 mm)")
	assert.Equal(t, 1, strings.Count(err.Error(), "\n")+1, err)
}

// An end asked to lean outward where nothing may stand beyond its corner is told: by 30·tan 20° = 10.919 at the free edge.
func TestEndsHeldBackAreTold(t *testing.T) {
	for angle, want := range map[float64]string{-20: "0.4299 in (10.919 mm)", 20: "", 0: ""} {
		p := shelf()
		p.Web.Edges[0].Flanges[0].End = flat.Trim{Kind: flat.Angled, Angle: measure.Angle(angle) * measure.Degree}
		b, err := flat.Develop(p)
		require.NoError(t, err)
		got := texts(b, flat.Note)
		assert.Equal(t, want != "", strings.Contains(got, "cut back from the angle asked for"), "%g: %s", angle, got)
		assert.Contains(t, got, want)
	}
	// Ends that are left to the corner are no news.
	flange := flat.Flange{Angle: 90 * measure.Degree, Height: 1 * inch}
	b, err := flat.Develop(plate(6, 4, .04, .16, [4]*flat.Flange{&flange, &flange, &flange, &flange}))
	require.NoError(t, err)
	assert.NotContains(t, texts(b, flat.Note), "cut back")
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
