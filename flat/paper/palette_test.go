package paper

import (
	"image/color"
	"math"
	"testing"

	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/stretchr/testify/assert"
)

// contrast is that of WCAG 2.1: (L1 + 0.05)/(L2 + 0.05) of the relative luminances, the lighter over the darker,
// with L = 0.2126·R + 0.7152·G + 0.0722·B of the channels made linear: c/12.92 to 0.03928, above it
// ((c + 0.055)/1.055)^2.4.
func contrast(a, b color.NRGBA) float64 {
	luminance := func(c color.NRGBA) (l float64) {
		for _, x := range []struct {
			channel uint8
			weight  float64
		}{{c.R, 0.2126}, {c.G, 0.7152}, {c.B, 0.0722}} {
			v := float64(x.channel) / 255
			if v <= 0.03928 {
				v /= 12.92
			} else {
				v = math.Pow((v+0.055)/1.055, 2.4)
			}
			l += x.weight * v
		}
		return l
	}
	one, two := luminance(a), luminance(b)
	return (max(one, two) + 0.05) / (min(one, two) + 0.05)
}

// Every line of a picture can be told from all it may run over, and every word read, on light paper and dark.
func TestContrast(t *testing.T) {
	// Known values: black on white 21; #767676 is the lightest grey that passes 4.5 on white, #949494 for 3.
	assert.InDelta(t, 21, contrast(rgb(0), rgb(0xffffff)), 1e-12)
	assert.InDelta(t, 4.54, contrast(rgb(0x767676), rgb(0xffffff)), 0.005)
	assert.InDelta(t, 3.03, contrast(rgb(0x949494), rgb(0xffffff)), 0.005)

	for _, of := range []Background{Light, Dark} {
		p := palettes(of)
		grounds := map[string]color.NRGBA{"paper": p.paper, "metal": p.metal, "a bend up": p.up, "a bend down": p.down}
		for name, ground := range grounds {
			assert.GreaterOrEqual(t, contrast(p.text, ground), 4.5, "lettering on %s", name)
			for _, layer := range drawing.Layers() {
				if ink, shown := p.lines(layer); shown {
					assert.GreaterOrEqual(t, contrast(ink.stroke, ground), 3.0, "%v lines on %s", layer, name)
				}
			}
			assert.GreaterOrEqual(t, contrast(p.faint, ground), 3.0, "extension lines on %s", name)
		}
		assert.GreaterOrEqual(t, contrast(p.faint, p.paper), 4.5, "heads of columns")
		assert.GreaterOrEqual(t, contrast(p.paper, p.stop), 4.5, "NOT FOR CUTTING")
		for _, face := range []surface{markingFace, farFace} {
			for light := range 11 {
				shade := p.shade(float64(light)/10, face)
				assert.GreaterOrEqual(t, contrast(p.line, shade), 3.0, "edges of the folded part")
				assert.GreaterOrEqual(t, contrast(p.text, shade), 3.0, "bends of the folded part")
			}
		}
	}
}
