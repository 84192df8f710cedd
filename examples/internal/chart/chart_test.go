package chart

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

// The chart is well-formed XML whatever the names hold, no number in it is not one,
// and a point comes to stand where the axes say.
func TestDrawIsWellFormed(t *testing.T) {
	var b bytes.Buffer
	panels := []Panel{
		{Title: `<bad> & "title"`, Equal: true, Lines: []Line{{P: []r2.Vec{{}, {X: 100, Y: 50}, {X: math.NaN()}, {X: 3}}}}, Words: []Word{{Text: "]]>"}}},
		{Title: "flat", Dots: []Dots{{Name: "dots", P: []r2.Vec{{X: 5, Y: 5}}}}},
		{Title: "empty"},
	}
	require.NoError(t, Draw(&b, "a & b", panels, []string{"<note>"}))
	assert.NotContains(t, b.String(), "NaN")
	assert.NotContains(t, b.String(), "Inf")
	dec := xml.NewDecoder(strings.NewReader(b.String()))
	circles := 0
	for {
		tok, err := dec.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
		if s, ok := tok.(xml.StartElement); ok && s.Name.Local == "circle" {
			circles++
		}
	}
	assert.Equal(t, 2, circles, "the dot, and its key")
}

func TestTicks(t *testing.T) {
	assert.Equal(t, []float64{0, 20, 40, 60, 80, 100}, ticks(0, 100))
	for _, span := range []float64{1e-6, 0.3, 7, 99, 12345} {
		n := len(ticks(-span/3, span))
		assert.True(t, n >= 3 && n <= 11, "%g: %d", span, n)
	}
}
