package flat_test

import (
	"math"
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// An error says where in words from the outside in, by name where there is one and else by number, then the
// field with its value and unit, then the rule. All faults are told at once.
func TestErrorsReadFromTheOutsideIn(t *testing.T) {
	p := stock()
	p.Web.Edges = plate(6, 4, .04, .1, [4]*flat.Flange{}).Web.Edges
	p.Web.Edges[0].Flanges = leg(90)
	p.Web.Edges[1].Flanges = leg(90)
	p.Web.Edges[0].Flanges[0].Name, p.Web.Edges[0].Flanges[0].Height = "foot", math.NaN()
	p.Web.Edges[1].Flanges[0].Name, p.Web.Edges[1].Flanges[0].Height = "", -3
	p.Web.Edges[1].Name = ""
	p.Relief.Diameter = 300
	err := p.Validate()
	told := map[string]string{}
	for _, e := range err.(interface{ Unwrap() []error }).Unwrap() {
		var fault *flat.Error
		if assert.ErrorAs(t, e, &fault) {
			told[fault.Path] = fault.Error()
		}
	}
	assert.Contains(t, told["web.edges[0].flanges[0].height"], `edge "lower", flange "foot": height NaN mm: must be `)
	assert.Contains(t, told["web.edges[1].flanges[0].height"], `edge 2, flange 1: height -3 mm: must be `)
	assert.Contains(t, told["relief.diameter"], "relief: diameter 300 mm: relief hole must be 0 mm (by the rule) to 200 mm")

	assert.Equal(t, "must be so", (&flat.Error{Path: "a.b", Rule: "must be so"}).Error(), "neither place nor value")
	assert.Equal(t, "here: must be so", (&flat.Error{Place: "here", Path: "a.b", Rule: "must be so"}).Error(), "no value")
	assert.Equal(t, "b 1 mm: must be so", (&flat.Error{Path: "a.b", Value: "1 mm", Rule: "must be so"}).Error(), "no place")
}

// The ends of the ranges are allowed, what lies beyond is not.
func TestEndsOfRanges(t *testing.T) {
	good := func() flat.Part {
		p := lowerFlange(flat.Flange{Angle: degrees(90), Height: 1 * inch, To: 6 * inch})
		p.Sheet.Grain.Stated = true
		return p
	}
	f := func(p *flat.Part) *flat.Flange { return &p.Web.Edges[0].Flanges[0] }
	for name, c := range map[string]struct {
		change func(p *flat.Part)
		path   string // of the fault; none where all is well
		says   string
	}{
		"as it is":            {func(*flat.Part) {}, "", ""},
		"from the start":      {func(p *flat.Part) { f(p).From = 0 }, "", ""},
		"past the end":        {func(p *flat.Part) { f(p).To = 6*inch + 1e-6 }, "web.edges[0].flanges[0].to", "at most the length of the edge"},
		"nothing between":     {func(p *flat.Part) { f(p).From, f(p).To = 3*inch, 3*inch }, "web.edges[0].flanges[0].to", "above from"},
		"grain all round":     {func(p *flat.Part) { p.Sheet.Grain.Angle = degrees(-360) }, "", ""},
		"grain too far":       {func(p *flat.Part) { p.Sheet.Grain.Angle = degrees(-361) }, "sheet.grain", "between -360° and 360°"},
		"grain too far on":    {func(p *flat.Part) { p.Sheet.Grain.Angle = degrees(361) }, "sheet.grain", "between -360° and 360°"},
		"end at 80":           {func(p *flat.Part) { f(p).End = flat.Trim{Kind: flat.Angled, Angle: degrees(-80)} }, "", ""},
		"end at 81":           {func(p *flat.Part) { f(p).End = flat.Trim{Kind: flat.Angled, Angle: degrees(-81)} }, "web.edges[0].flanges[0].end.angle", "between -80° and 80°"},
		"end at 81 the other": {func(p *flat.Part) { f(p).End = flat.Trim{Kind: flat.Angled, Angle: degrees(81)} }, "web.edges[0].flanges[0].end.angle", "between -80° and 80°"},
		"half a circle":       {func(p *flat.Part) { p.Web.Edges[1].Bulge = -1 }, "", ""},
		"more than that":      {func(p *flat.Part) { p.Web.Edges[1].Bulge = -1.01 }, "web.edges[1].bulge", "split an arc"},
		"angle between legs":  {func(p *flat.Part) { f(p).Angle = degrees(171) }, "web.edges[0].flanges[0].angle", "an angle between the legs is 180° less"},
		"a whole turn":        {func(p *flat.Part) { f(p).Angle = degrees(720) }, "web.edges[0].flanges[0].angle", "180° less"},
		"degrees for radians": {func(p *flat.Part) { f(p).Angle = 90 }, "web.edges[0].flanges[0].angle", "at most 170°, turned from flat"},
	} {
		p := good()
		c.change(&p)
		err := p.Validate()
		if c.path == "" {
			assert.NoError(t, err, name)
			continue
		}
		var fault *flat.Error
		if assert.ErrorAs(t, err, &fault, name) {
			assert.Equal(t, c.path, fault.Path, name)
			assert.Contains(t, fault.Rule, c.says, name)
		}
	}
}

// A number that would be right in another unit, or between the legs of a bend, is asked about; one that no slip explains is not.
func TestSlipsOfUnitAreAskedAbout(t *testing.T) {
	for thickness, hint := range map[float64]string{
		12.8: "thousandths", 40: "thousandths", 12700: "thousandths", 12701: "", .04: "inches", .099: "inches", 0: "", -.04: "", -40: "",
	} {
		p := lowerFlange(flat.Flange{Angle: degrees(90), Height: 1 * inch})
		p.Sheet.Thickness = thickness
		var fault *flat.Error
		require.ErrorAs(t, p.Validate(), &fault)
		assert.Equal(t, "sheet.thickness", fault.Path)
		if hint == "" {
			assert.NotContains(t, fault.Rule, "meant", "%g mm", thickness)
			continue
		}
		assert.Contains(t, fault.Rule, hint, "%g mm", thickness)
	}
	for angle, asked := range map[float64]bool{171: true, 720: true, 721: false, 0: false, -90: false} {
		var fault *flat.Error
		require.ErrorAs(t, lowerFlange(flat.Flange{Angle: degrees(angle), Height: 1 * inch}).Validate(), &fault)
		assert.Equal(t, asked, strings.Contains(fault.Rule, "between the legs"), "%g°: %s", angle, fault.Rule)
	}
}
