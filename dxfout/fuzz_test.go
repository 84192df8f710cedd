package dxfout

import (
	"bytes"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

// No text breaks the structure, whatever it is.
func FuzzText(f *testing.F) {
	for _, s := range []string{"", "plain", "A\n  0\nEOF", "%%d", "^J", `\U+000A`, "Ω\U0001F6E9", "\xff", strings.Repeat("x", 300), strings.Repeat("°", 100)} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		d := drawing.Drawing{Title: s, Notes: []string{s}, Labels: []drawing.Label{{Text: []string{s, s}, At: r2.Vec{X: 5, Y: 5}}}}
		d.Add(drawing.Cut, s, closed(vb(0, 0, 0), vb(10, 0, 0), vb(10, 10, 0)))
		for _, v := range []Version{R2000, R12} {
			var b bytes.Buffer
			require.NoError(t, Write(&b, d, Options{Version: v}))
			for _, fault := range inspect(b.Bytes()) {
				if !strings.Contains(fault, "cut twice") { // the same words twice are no fault
					t.Fatal(fault)
				}
			}
		}
	})
}

// Any path is either written so that its numbers read back within half a unit of
// the last place, or refused.
func FuzzPath(f *testing.F) {
	f.Add(0.0, 0.0, 0.5, 10.0, 3.0, -2.0, 1.5)
	f.Add(math.NaN(), 1e300, math.Inf(1), math.Copysign(0, -1), 5e-324, 1e-13, -1e-9)
	f.Add(1e6, -1e6, 1e6, 0.1, 0.2, 1e-300, 25.4)
	f.Fuzz(func(t *testing.T, x0, y0, b0, x1, y1, b1, scale float64) {
		for _, o := range kinds {
			var out bytes.Buffer
			s := plainSheet()
			s.Options = o
			w, err := NewWriter(&out, s)
			require.NoError(t, err)
			p := closed(vb(x0, y0, b0), vb(x1, y1, b1), vb(x0+scale, y1-scale, 0))
			w.Path("CUT", p)
			w.Line("CUT", v(x0, y0), v(x1*scale, y1))
			w.Circle("CUT", v(x1, y1), scale)
			if w.Close() != nil {
				continue
			}
			require.Empty(t, inspect(out.Bytes()))
			tags, _ := split(out.Bytes())
			for _, r := range records(tags) {
				if r.kind != "LINE" {
					continue
				}
				got, err := strconv.ParseFloat(r.first(10), 64)
				require.NoError(t, err)
				// Half a step, and the rounding of the scaled number itself.
				require.InDelta(t, x0/o.Unit.size(), got, 0.5e-8+1e-15*math.Abs(x0))
			}
		}
	})
}
