package partfile_test

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/partfile"
	"github.com/hangarflat/hangarflat/flat/survey"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

func TestSamplesReadDevelopAndWrite(t *testing.T) {
	for _, name := range sampleFiles(t) {
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		doc, err := partfile.Read(name, bytes.NewReader(text))
		require.NoError(t, err)
		blank, err := flat.Develop(doc.Part)
		require.NoError(t, doc.Locate(err))
		assert.Less(t, blank.Proof.Largest(), 1e-6, name)

		var out strings.Builder
		require.NoError(t, partfile.Write(&out, doc.Part), name)
		again, err := partfile.Read("again", strings.NewReader(out.String()))
		require.NoError(t, err, name)
		assert.Equal(t, doc.Part, again.Part, name)
	}
}

// The handbook's channel as its worked example has it: FAA-H-8083-31, chapter 4,
// flat layout of a U-channel: setback 0.20 in, flats 0.80, 1.60 and 0.80 in.
func TestChannelOfTheHandbook(t *testing.T) {
	doc := sample(t, "u-channel")
	assert.Equal(t, partfile.Section, doc.Kind)
	blank, err := flat.Develop(doc.Part)
	require.NoError(t, err)
	require.Len(t, blank.Bends, 2)
	for _, b := range blank.Bends {
		assert.InDelta(t, 0.20, b.Setback/measure.Inch, 1e-12)
		assert.InDelta(t, 0.80, (b.Height-b.Setback)/measure.Inch, 1e-12)
	}
	lower, upper := blank.Bends[0].Near.Vertices[0].P, blank.Bends[1].Near.Vertices[0].P
	assert.InDelta(t, 1.60, (upper.Y-lower.Y)/measure.Inch, 1e-12)
	box := blank.Outline.Bounds()
	assert.InDelta(t, 6, (box.Max.X-box.Min.X)/measure.Inch, 1e-12)
}

// The hat, worked out by hand. The crown is leg 3, so the lower side and foot hang
// from the first edge and take their bends from the legs named before: the side's
// bend to the crown is the side's own, the foot's bend to the side the foot's own.
// The upper side takes the crown's bend, the upper foot the upper side's, with its
// radius. Along the second edge stations run from the right: 400 - 12 = 388 for the
// rivet, 400 - 30 - 8 = 362 for the joggle, which offsets what lies before it there.
func TestHat(t *testing.T) {
	w := sample(t, "hat-stiffener").Part.Web
	require.Len(t, w.Edges, 4)
	assert.Equal(t, r2.Vec{X: 400, Y: 60}, w.Edges[2].Start)
	assert.Equal(t, 200.0, w.Lightening[0].At.X)
	assert.Equal(t, flat.Tooling, w.Holes[0].Purpose)
	for i, e := range w.Edges {
		if i%2 == 1 {
			assert.Empty(t, e.Flanges)
			continue
		}
		require.Len(t, e.Flanges, 1)
		side := e.Flanges[0]
		require.Len(t, side.Flanges, 1)
		foot := side.Flanges[0]
		assert.Equal(t, []flat.Turn{flat.Down, flat.Up}, []flat.Turn{side.Turn, foot.Turn})
		assert.Equal(t, []float64{25, 20}, []float64{side.Height, foot.Height})
		assert.InDelta(t, 85, foot.Angle.Degrees(), 1e-12)
		assert.Zero(t, side.Radius)
		require.Len(t, foot.Joggles, 1)
		if i == 0 {
			assert.Equal(t, "lower foot", foot.Name)
			assert.Zero(t, foot.Radius)
			assert.Equal(t, 30.0, foot.Joggles[0].At)
			assert.Equal(t, flat.Beyond, foot.Joggles[0].Part)
		} else {
			assert.Equal(t, "upper foot", foot.Name)
			assert.Equal(t, 5.0, foot.Radius)
			assert.Equal(t, 362.0, foot.Joggles[0].At)
			assert.Equal(t, flat.Before, foot.Joggles[0].Part, "the same end of the hat")
			assert.Equal(t, r2.Vec{X: 388, Y: 14}, foot.Holes[0].At)
		}
	}
}

// The faces may be listed the other way round, and a fault of the fitted part still
// finds its face.
func TestBetweenFindsTheFace(t *testing.T) {
	text := sampleText(t, "keel-bay-7")
	blocks := strings.Split(text, "[[face]]\n")
	hole := strings.Index(blocks[4], "# A hole in the web")
	tail := blocks[4][hole:]
	blocks[4] = blocks[4][:hole]
	turned := blocks[0]
	for _, i := range []int{1, 4, 3, 2} {
		turned += "[[face]]\n" + blocks[i]
	}
	turned += tail
	for _, text := range []string{text, turned} {
		doc, err := partfile.Read("bay.toml", strings.NewReader(text))
		require.NoError(t, err)
		names := ""
		for i, e := range doc.Part.Web.Edges {
			names += e.Name + ", "
			located := doc.Locate(&flat.Error{Path: fmt.Sprintf("web.edges[%d].flanges[0].height", i), Rule: "too low"})
			f := partfile.Faults(located)
			require.Len(t, f, 1)
			before := strings.Join(strings.Split(text, "\n")[:f[0].Line], "\n")
			last := before[strings.LastIndex(before, "name "):]
			assert.Contains(t, last[:strings.Index(last, "\n")], `"`+e.Name+`"`)
		}
		// Seen from outboard to port, aft is to the right: keel, frame 421, skin, 407.
		assert.Equal(t, "keel, frame 421, skin, frame 407, ", names)
	}
}

// The faces of the sample lie where its readings say: worked out by hand from the
// numbers in the file, in inches.
func TestGaugedSample(t *testing.T) {
	doc := sample(t, "keel-bay-9")
	s := doc.Part.Site.Surroundings
	assert.InDelta(t, 0.5, s.AngleError.Degrees(), 1e-12)
	on := func(face int, x, y, z float64) {
		assert.InDelta(t, 0, s.Faces[face].Plane.Distance(r3.Vec{X: x * measure.Inch, Y: y * measure.Inch, Z: z * measure.Inch}), 1e-3*measure.Inch, s.Faces[face].Name)
	}
	tan := func(deg float64) float64 { return math.Tan(deg * math.Pi / 180) }
	// The keel rises aft by 2° - 1.25° in the boat's own axes, since the datum reads
	// 1.25°; and to starboard by -4° + 0.25°. That the two datum readings mix makes
	// less than a thousandth of an inch over 6 in.
	on(0, 442, -2.5, 2.3)
	on(0, 448, -2.5, 2.3+6*tan(0.75))
	on(0, 442, -0.5, 2.3-2*tan(3.75))
	// Frame 435 is read at 435.1, half an inch up; it leans 1.5° and is turned -2°.
	on(1, 435.1, -2.5, 2.8)
	on(1, 435.1+4*tan(1.5)/math.Cos(2*math.Pi/180), -2.5, 6.8)
	on(1, 435.1+2*tan(2), -0.5, 2.8)
	on(2, 448, -2.5, 8.2-6*tan(1.5))
	on(3, 448.92, 0, 2.8)
	on(3, 448.70, -5, 7.8)

	list, total, err := flat.Doubts(doc.Part, s)
	require.NoError(t, err)
	assert.Len(t, list, 3+(3+2)+4+3+5, "of the web, the keel and the datum, frame 435, the skin, frame 449")
	assert.Greater(t, total.Shift, 0.0)
}

// By hand, in inches. Of frame 407 point 4 is an inch off; of the five kept those at y = -1 have a mean of 407 + 0.01/3
// and those at y = -5 of 407. Frame 421's four stand 0.03 off x = 421 by turns, so it is their plane, and none is set aside.
func TestSampleOfManyPoints(t *testing.T) {
	doc := sample(t, "keel-bay-13")
	s := doc.Part.Site.Surroundings
	assert.Nil(t, s.Faces[1].Readings)
	require.IsType(t, survey.Touched{}, s.Faces[1].Measured)
	assert.Equal(t, 25.4/64, s.Faces[1].Measured.(survey.Touched).Error)
	assert.Len(t, s.Faces[0].Readings, 3, "three points fix the keel")
	off := func(face int, x, y, z float64) float64 {
		return s.Faces[face].Plane.Distance(r3.Vec{X: x * measure.Inch, Y: y * measure.Inch, Z: z * measure.Inch})
	}
	assert.InDelta(t, 0, off(1, 407+0.01/3, -1, 6), 1e-5)
	assert.InDelta(t, 0, off(1, 407, -5, 4), 1e-5)
	assert.InDelta(t, 0, off(3, 421, -1, 3), 1e-9)
	assert.InDelta(t, 0, off(3, 421, -5, 9), 1e-9)
	fits := doc.Part.Site.Fits()
	require.Len(t, fits, 2)
	assert.Equal(t, []int{3}, fits[0].Outliers)
	assert.Empty(t, fits[1].Outliers)
	list, _, err := flat.Doubts(doc.Part, s)
	require.NoError(t, err)
	assert.Len(t, list, 3+3+5+3+4, "of the web, the keel, frame 407 but for point 4, the skin, frame 421")
}

// What is wrong with many points is told at their line, once.
func TestFaultsOfManyPoints(t *testing.T) {
	data := sampleText(t, "keel-bay-13")
	const fourth = "  [\"408.00 in\", \"-5.00 in\", \"6.00 in\"],\n"
	many := strings.Repeat(fourth, 96)
	all := data[strings.Index(data, "  [\"407.00 in\", \"-1.00 in\""):strings.Index(data, "]\n\n[face.flange]\nturn   = \"up\"")]
	for _, c := range []struct{ old, now, rule string }{
		{fourth, many, "must be 4 to 100 points of the face"},
		{fourth, "  [\"408.00 in\", \"6.00 in\"],\n", "a point is 3 lengths"},
		{all, `["407 in", "0 in", "0 in"], ["407 in", "0 in", "2 in"], ["407 in", "0 in", "4 in"], ["407 in", "0 in", "5 in"]`, "they lie on one line"},
		{all, `["407 in", "0 in", "0 in"], ["407 in", "0 in", "2 in"]`, "fixed by three points or more"},
	} {
		text := strings.Replace(data, c.old, c.now, 1)
		require.NotEqual(t, data, text)
		_, err := partfile.Read("bay.toml", strings.NewReader(text))
		faults := partfile.Faults(err)
		require.Len(t, faults, 1, "%v", err)
		assert.Contains(t, faults[0].Rule, c.rule)
		assert.Contains(t, faults[0].Field, "face 2 points")
	}
	// A hundred are read.
	_, err := partfile.Read("bay.toml", strings.NewReader(strings.Replace(data, fourth, many[len(fourth):], 1)))
	assert.NoError(t, err)
}

// A file has one reading error for all its points.
func TestWriteRefusesPointsOfAnotherError(t *testing.T) {
	p := sample(t, "keel-bay-13").Part
	p.Site.Surroundings.ReadingError = 0.5
	var out strings.Builder
	err := partfile.Write(&out, p)
	assert.ErrorContains(t, err, "one reading error for all, here 0.5 mm")
	assert.Empty(t, out.String())
}

// The curved skin takes several edges, each an arc or straight, and a fault of any of
// them is found at its face.
func TestCurvedSample(t *testing.T) {
	doc := sample(t, "keel-bay-11")
	arcs := 0
	for i, e := range doc.Part.Web.Edges {
		if doc.Part.Site.FaceOf[i] != 2 {
			continue
		}
		arcs++
		assert.Empty(t, e.Flanges)
		located := partfile.Faults(doc.Locate(&flat.Error{Path: fmt.Sprintf("web.edges[%d].bulge", i), Rule: "is odd"}))
		require.Len(t, located, 1)
		assert.Contains(t, located[0].Field, "face 3")
	}
	assert.Greater(t, arcs, 0)

	data := sampleText(t, "keel-bay-11")
	for old, want := range map[string][2]string{
		`within = "1/64 in"`:                      {`witin = "1/64 in"`, `did you mean "within"?`},
		`["442.0 in", "-2.51 in", "8.24 in"]`:     {`["442.0 in", "-4.51 in", "8.24 in"]`, "must lie within 25 mm of the web's plane"},
		`["444.5 in", "-2.51 in", "8.20 in"]`:     {`["444.5 in", "-2.51 in", 8.20]`, "a bare number has no unit"},
		`["439.5 in", "-2.51 in", "8.20 in"]`:     {`["439.5 in", "8.20 in"]`, "a point is 3 lengths"},
		"name      = \"skin\"":                    {"name = \"skin\"\nnormal = [0, 0, 1]", "a curved face has no plane"},
		"[face.curve]":                            {"[face.curv]", `did you mean "curve"?`},
		"clearance = \"1/16 in\"\n\n[face.curve]": {"[face.flange]\nturn = \"up\"\nheight = \"3/4 in\"\n[face.curve]", "an edge that follows a curve is plain"},
	} {
		require.Contains(t, data, old)
		_, err := partfile.Read("bay.toml", strings.NewReader(strings.Replace(data, old, want[0], 1)))
		assert.ErrorContains(t, err, want[1])
	}
}

// One face given in two ways, and slips within a measurement, each at its line.
func TestFaultsOfMeasurements(t *testing.T) {
	data := sampleText(t, "keel-bay-9")
	for old, want := range map[string][2]string{
		`along         = "2 deg"`:    {`along = "91 deg"`, "bay.toml:46:9: face 1 level along"},
		`lean     = "1.5 deg"`:       {`laen = "1.5 deg"`, `did you mean "lean"?`},
		`low_distance  = "14.92 in"`: {`low_distance = 14.92`, `"14.92 in"`},
		`high_height   = "5 1/2 in"`: {`high_height = "0.51 in"`, "at least 1 mm above the low one"},
		`up       = [0, 0, 1] `:      {`up = [0.6, 0, 0.8] `, "must stand square to along"},
		`along    = [1, 0, 0] `:      {`along = [1, 1, 0] `, "must be a unit vector"},
		`[face.heights]`:             {"[face.hights]", `did you mean "heights"?`},
		`angle_error   = "0.5 deg"`:  {`angle_error = "0.5 in"`, "angle_error"},
		"name      = \"frame 449\"":  {"normal = [1, 0, 0]\npoint = [\"1 in\", \"1 in\", \"1 in\"]", "says the same: keep one"},
		`skew     = "-2 deg" `:       {`skew = "-82 deg" `, "from square across the line"},
		`datum_along   = "1.25 deg"`: {`datum_along = "50 deg"`, "the aeroplane's own datum"},
	} {
		require.Contains(t, data, old)
		_, err := partfile.Read("bay.toml", strings.NewReader(strings.Replace(data, old, want[0], 1)))
		assert.ErrorContains(t, err, want[1])
	}
}

// Each corner of the battery tray is cut as its line says; the one without a line as [bends] does.
func TestCornerCutsSample(t *testing.T) {
	p := sample(t, "corner-cuts").Part
	assert.Equal(t, []flat.Corner{
		{Kind: flat.Closed, Gap: 0.1}, {Width: 8}, {Kind: flat.Notched, Width: 10, Gap: 2}, {},
	}, []flat.Corner{p.Web.Edges[0].Corner, p.Web.Edges[1].Corner, p.Web.Edges[2].Corner, p.Web.Edges[3].Corner})
	b, err := flat.Develop(p)
	require.NoError(t, err)
	assert.False(t, b.Stopped())
	widths := map[string]float64{}
	for _, r := range b.Reliefs {
		widths[r.Corner] = r.Diameter
	}
	// By the rule 2R = 5 mm, above the handbook's 1/8 in.
	assert.Equal(t, map[string]float64{"left/front": 5, "front/right": 8, "right/back": 10, "back/left": 5}, widths)
}

// Slips within a corner's line are found there.
func TestFaultsOfCornerCuts(t *testing.T) {
	data := sampleText(t, "corner-cuts")
	for old, want := range map[string][2]string{
		`kind = "notched"`: {`kind = "noched"`, `did you mean "notched"?`},
		`width = "8 mm"`:   {`widht = "8 mm"`, `did you mean "width"?`},
		`gap = "2 mm"`:     {`gap = "0 mm"`, "must be above 0; leave the line out for the gap in [bends], or none at a closed corner"},
		`width = "10 mm"`:  {`width = 10`, "a bare number has no unit"},
	} {
		require.Contains(t, data, old)
		_, err := partfile.Read("tray.toml", strings.NewReader(strings.Replace(data, old, want[0], 1)))
		require.ErrorContains(t, err, want[1])
		assert.Contains(t, partfile.Faults(err)[0].Field, "corner_cut_before")
	}
	// A fault of the shape is told at the line of the corner.
	text := strings.Replace(data, "turn   = \"up\"\nangle  = \"84 deg\"", "turn   = \"down\"\nangle  = \"84 deg\"", 1)
	text = strings.Replace(text, `corner_cut_before = { width = "8 mm" }`, `corner_cut_before = { kind = "closed" }`, 1)
	_, err := partfile.Read("tray.toml", strings.NewReader(text))
	require.ErrorContains(t, err, "joins flanges turned the same way")
	line := strings.Count(text[:strings.Index(text, `corner_cut_before = { kind = "closed" }`)], "\n") + 1
	assert.Equal(t, line, partfile.Faults(err)[0].Line)
}

// The corner whose angle an edge gives is at its end, and the one whose cut it gives at its
// start: a key that does not say which is refused with its place, and with nothing else.
func TestCornerCutOfEitherEnd(t *testing.T) {
	for _, name := range []string{"corner-cuts", "keel-bay-7"} {
		whole := sampleText(t, name)
		text := strings.Replace(whole, "\ncorner_cut_before = {", "\ncorner_cut = {", 1)
		if text == whole {
			text = strings.Replace(text, "[[face]]", "[[face]]\ncorner_cut = { kind = \"closed\" }", 1)
		}
		_, err := partfile.Read(name, strings.NewReader(text))
		faults := partfile.Faults(err)
		require.Len(t, faults, 1, "%v", err)
		assert.Regexp(t, "^(edge|face) 1 corner_cut$", faults[0].Field)
		assert.Equal(t, strings.Count(text[:strings.Index(text, "\ncorner_cut =")], "\n")+2, faults[0].Line)
		assert.Equal(t, "does not say at which end: write corner_cut_before for the corner with the one before this, and write it in the next for the corner with that", faults[0].Rule)
	}
	// A line that could not be read is told once.
	_, err := partfile.Read("tray.toml", strings.NewReader("kind = \"edges\"\n[[edge]]\ncorner_cut = { kind\n"))
	assert.NotContains(t, err.Error(), "does not say")
}

// A corner between two measured faces is cut as its face says, whichever way round they are listed.
func TestCornerCutsBetweenFaces(t *testing.T) {
	data := sampleText(t, "keel-bay-7")
	doc, err := partfile.Read("bay.toml", strings.NewReader(data))
	require.NoError(t, err)
	s := doc.Part.Site.Surroundings
	n := len(s.Faces)
	at := -1
	for i := range s.Faces {
		if i > 0 && s.Faces[i].Flange != nil && s.Faces[i-1].Flange != nil && s.Faces[i].Flange.Turn == s.Faces[i-1].Flange.Turn {
			at = i
		}
	}
	require.Positive(t, at, "two neighbours turned the same way")
	s.Faces[at].Corner = flat.Corner{Kind: flat.Closed, Width: 9}
	names := [2]string{s.Faces[at-1].Name, s.Faces[at].Name}
	backward := s
	backward.Faces = nil
	for i := range n {
		backward.Faces = append(backward.Faces, s.Faces[n-1-i])
	}
	for i := range n { // the corner belongs to the later of the two in the list
		backward.Faces[i].Corner = flat.Corner{}
	}
	backward.Faces[n-at].Corner = s.Faces[at].Corner
	for _, around := range []flat.Surroundings{s, backward} {
		p, err := flat.Between(doc.Part, around)
		require.NoError(t, err)
		b, err := flat.Develop(p)
		require.NoError(t, err)
		closed := 0
		for _, r := range b.Reliefs {
			if r.Kind == flat.Closed {
				closed++
				assert.Contains(t, r.Corner, names[0])
				assert.Contains(t, r.Corner, names[1])
				assert.InDelta(t, 9, r.Diameter, 1e-12)
			}
		}
		assert.Equal(t, 1, closed)
	}
}

// Two flanges with changing bevels on one edge, with a slot in the first, and openings in the web.
func TestChineRib(t *testing.T) {
	p := sample(t, "chine-rib").Part
	fore, aft := p.Web.Edges[0].Flanges[0], p.Web.Edges[0].Flanges[1]
	assert.InDelta(t, 84, fore.Angle.Degrees(), 1e-12)
	assert.InDelta(t, 88, fore.AngleEnd.Degrees(), 1e-12)
	assert.Equal(t, []float64{8, 112, 148, 252}, []float64{fore.From, fore.To, aft.From, aft.To})
	assert.Equal(t, []float64{18, 14}, []float64{aft.Height, aft.HeightEnd})
	assert.Equal(t, []flat.Slot{{Name: "drain", From: r2.Vec{X: 50, Y: 11}, To: r2.Vec{X: 62, Y: 11}, Width: 4}}, fore.Slots)
	require.Len(t, p.Web.Slots, 1)
	require.Len(t, p.Web.Cutouts, 1)
	// 24 by 20 and half a circle of 12.
	assert.InDelta(t, 24*20+math.Pi*72, p.Web.Cutouts[0].Path.Area(), 1e-9)
	b, err := flat.Develop(p)
	require.NoError(t, err)
	assert.False(t, b.Stopped())
	assert.Len(t, b.Cutouts, 3)
	assert.Len(t, b.Bends, 3)
}

// The bounds of what a file may say, on either side of each.
func TestBoundsOfWords(t *testing.T) {
	data := sampleText(t, "keel-bay-7")
	keel := "[\"408.00 in\", \"-1.50 in\", \"2.10 in\"]"
	for _, c := range []struct{ old, good, bad, rule string }{
		{`"keel-bay-7"`, `"` + strings.Repeat("a", 64) + `"`, `"` + strings.Repeat("a", 65) + `"`, "1 to 64 letters"},
		{`"handbook"`, "\"neutral axis\"\nneutral = 1", "\"neutral axis\"\nneutral = 1.001", "must be 0.01 to 1"},
		{`"3/4 in"`, `"30 mm"`, `+30`, `write "30 in" or "30 mm"`},
		{`"3/4 in"`, `"30 mm"`, `"10.5 m"`, "is more than 10 m"},
		// 200 m is where no aeroplane reaches.
		{keel, keel, `["210 m", "-1.50 in", "2.10 in"]`, "is more than 200 m"},
	} {
		require.Contains(t, data, c.old)
		_, err := partfile.Read("bay.toml", strings.NewReader(strings.Replace(data, c.old, c.good, 1)))
		assert.NoError(t, err, c.good)
		_, err = partfile.Read("bay.toml", strings.NewReader(strings.Replace(data, c.old, c.bad, 1)))
		assert.ErrorContains(t, err, c.rule, c.bad)
	}
}
