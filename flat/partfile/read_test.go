package partfile_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/partfile"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

func TestSamplesReadDevelopAndWrite(t *testing.T) {
	files, err := filepath.Glob("testdata/*.toml")
	require.NoError(t, err)
	require.Len(t, files, 5)
	for _, name := range files {
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
// rivet, 400 - 30 - 8 = 362 for the joggle.
func TestHat(t *testing.T) {
	w := sample(t, "hat-stiffener").Part.Web
	require.Len(t, w.Edges, 4)
	assert.Equal(t, r2.Vec{X: 400, Y: 40}, w.Edges[2].Start)
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
		} else {
			assert.Equal(t, "upper foot", foot.Name)
			assert.Equal(t, 5.0, foot.Radius)
			assert.Equal(t, 362.0, foot.Joggles[0].At)
			assert.Equal(t, r2.Vec{X: 388, Y: 12}, foot.Holes[0].At)
		}
	}
}

// The faces may be listed the other way round, and a fault of the fitted part still
// finds its face.
func TestBetweenFindsTheFace(t *testing.T) {
	data, err := os.ReadFile("testdata/keel-bay-7.toml")
	require.NoError(t, err)
	text := string(data)
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

func sample(t *testing.T, name string) partfile.Document {
	data, err := os.ReadFile("testdata/" + name + ".toml")
	require.NoError(t, err)
	doc, err := partfile.Read(name, bytes.NewReader(data))
	require.NoError(t, err)
	return doc
}
