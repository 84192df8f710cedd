package paper

import (
	"image/color"
	"math"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"gonum.org/v1/gonum/spatial/r2"
)

// A palette is the colours of a picture.
type palette struct {
	paper, text, line, faint, metal, stop color.NRGBA
	up, down                              color.NRGBA // tint of the bends
	tangent, sight, mold, grain           color.NRGBA
	dim, bright                           color.NRGBA // faces of the folded part, unlit and lit
	dimBack, brightBack                   color.NRGBA
	edge                                  color.NRGBA // its cut edge
}

func rgb(hex uint32) color.NRGBA {
	return color.NRGBA{uint8(hex >> 16), uint8(hex >> 8), uint8(hex), 255}
}

func palettes(b Background) palette {
	if b == Dark {
		return palette{
			paper: rgb(0x14181d), text: rgb(0xe6e9ec), line: rgb(0xf4f6f8), faint: rgb(0x9fa8b1), metal: rgb(0x252c34), stop: rgb(0xff6a5c),
			up: rgb(0x24425a), down: rgb(0x584024), tangent: rgb(0x7fb4dd), sight: rgb(0xe0a458), mold: rgb(0xa3acb5), grain: rgb(0x8fbf8a),
			dim: rgb(0x2c343c), bright: rgb(0x74808c), dimBack: rgb(0x33302a), brightBack: rgb(0x7d735f), edge: rgb(0x8b949e),
		}
	}
	return palette{
		paper: rgb(0xffffff), text: rgb(0x1b1f24), line: rgb(0x111417), faint: rgb(0x5d666f), metal: rgb(0xf1f3f5), stop: rgb(0xb3261e),
		up: rgb(0xcfe3f3), down: rgb(0xf6e2c4), tangent: rgb(0x2a6da3), sight: rgb(0x9a5b0a), mold: rgb(0x69737d), grain: rgb(0x3c7a3a),
		dim: rgb(0x9fabb6), bright: rgb(0xf4f7f9), dimBack: rgb(0xb5a78f), brightBack: rgb(0xf3eadb), edge: rgb(0x7a838c),
	}
}

// way is the tint of a bend by the way it turns.
func (p palette) way(t flat.Turn) color.NRGBA {
	if t == flat.Down {
		return p.down
	}
	return p.up
}

// shade is the colour of a face of the folded part: one hue for the marking face,
// another for the far one, and grey for the cut edge.
func (p palette) shade(light float64, of surface) color.NRGBA {
	a, b := p.dimBack, p.brightBack
	switch of {
	case markingFace:
		a, b = p.dim, p.bright
	case cutFace:
		return p.edge
	}
	t := max(0, min(1, light))
	mix := func(x, y uint8) uint8 { return uint8(math.Round(float64(x) + t*(float64(y)-float64(x)))) }
	return color.NRGBA{mix(a.R, b.R), mix(a.G, b.G), mix(a.B, b.B), 255}
}

// lines is how a layer is drawn in a picture.
func (p palette) lines(l drawing.Layer) (ink, bool) {
	switch l {
	case drawing.Cut, drawing.Block:
		return ink{stroke: p.line, width: 0.4}, true
	case drawing.Hole, drawing.Rivet:
		return ink{stroke: p.line, width: 0.28}, true
	case drawing.BendTangent:
		return ink{stroke: p.tangent, width: 0.18}, true
	case drawing.BendCenter:
		return ink{stroke: p.tangent, width: 0.14, dash: []float64{2.4, 0.7, 0.4, 0.7}}, true
	case drawing.Sight:
		return ink{stroke: p.sight, width: 0.18, dash: []float64{1.4, 0.9}}, true
	case drawing.Mold:
		return ink{stroke: p.mold, width: 0.12, dash: []float64{0.5, 0.8}}, true
	case drawing.Mark:
		return ink{stroke: p.sight, width: 0.22, dash: []float64{3.2, 0.8}}, true
	case drawing.Note:
		return ink{stroke: p.text, width: 0.14}, true
	case drawing.Grain:
		return ink{stroke: p.grain, width: 0.25}, true
	}
	return ink{}, false
}

func angleOf(v r2.Vec) float64 { return math.Atan2(v.Y, v.X) }
