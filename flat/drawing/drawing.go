package drawing

import (
	"slices"

	"github.com/hangarflat/hangarflat/flat/outline"
	"gonum.org/v1/gonum/spatial/r2"
)

// A Drawing is a blank, or anything else flat, ready to be written. The zero
// value is an empty drawing; its fields may be filled by hand to draw an outline
// that never was a blank.
type Drawing struct {
	Name  string // names the file: "keel-bay-7"
	Title string // "Keel-bay intercostal, bay 7, port"
	// NotForCutting is set when a finding forbids cutting. Every output then
	// carries the words in large letters.
	NotForCutting bool

	Paths      []Path
	Circles    []Circle
	Labels     []Label
	Dimensions []Dimension
	Notes      []string // lines for the foot of the drawing: sheet, marking face, cautions
}

// A Path is an outline on its layer.
type Path struct {
	Layer Layer
	Name  string // what it is: `relief "aft/keel"`; may be empty
	outline.Path
}

// A Circle is a round hole or mark.
type Circle struct {
	Layer    Layer
	Name     string
	Center   r2.Vec
	Diameter float64 // mm
}

// A Label says what something is. It is lettered beside At, along the direction
// given, and kept clear of the other labels.
type Label struct {
	Layer Layer
	Text  []string // lines, the first on top
	At    r2.Vec   // what it speaks of
	Along r2.Vec   // direction of reading; the zero vector reads along x
	// Room is an area the label belongs in if it fits, such as the flange it
	// names: counter-clockwise corners. Nil lets it stand anywhere near At.
	Room []r2.Vec
}

// DimensionKind says what a [Dimension] measures.
type DimensionKind uint8

const (
	Width   DimensionKind = iota // from From to To along x, below the part
	Height                       // from From to To along y, left of the part
	Station                      // x and y of To from the datum From, on rulers below and left
	Corner                       // angle at From between the directions of To and Other
)

// A Dimension is one measurement to be written on the drawing.
type Dimension struct {
	Kind            DimensionKind
	From, To, Other r2.Vec
}

// Add puts an outline on a layer.
func (d *Drawing) Add(l Layer, name string, p outline.Path) {
	d.Paths = append(d.Paths, Path{l, name, p})
}

// AddLine puts a straight line on a layer.
func (d *Drawing) AddLine(l Layer, name string, a, b r2.Vec) {
	d.Add(l, name, outline.Polyline(a, b))
}

// Bounds returns the smallest box, sides along x and y, round all paths and
// circles on the given layers, or on all layers when none is given. It reports
// false when there is nothing there.
func (d Drawing) Bounds(on ...Layer) (box r2.Box, ok bool) {
	wanted := func(l Layer) bool { return len(on) == 0 || slices.Contains(on, l) }
	grow := func(b r2.Box) {
		if !ok {
			box, ok = b, true
			return
		}
		box = Join(box, b)
	}
	for _, p := range d.Paths {
		if wanted(p.Layer) && len(p.Vertices) > 0 {
			grow(p.Bounds())
		}
	}
	for _, c := range d.Circles {
		if wanted(c.Layer) {
			r := r2.Vec{X: c.Diameter / 2, Y: c.Diameter / 2}
			grow(r2.Box{Min: r2.Sub(c.Center, r), Max: r2.Add(c.Center, r)})
		}
	}
	return box, ok
}

// Join returns the smallest box that holds both.
func Join(a, b r2.Box) r2.Box {
	return r2.Box{
		Min: r2.Vec{X: min(a.Min.X, b.Min.X), Y: min(a.Min.Y, b.Min.Y)},
		Max: r2.Vec{X: max(a.Max.X, b.Max.X), Y: max(a.Max.Y, b.Max.Y)},
	}
}
