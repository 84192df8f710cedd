package flat

import "math"

// weigh works out how much sheet the blank keeps.
func (l *layout) weigh() {
	b := &l.blank
	b.Area = b.Outline.Area()
	if !(b.Area > 0) {
		f := (&faults{all: &l.faults, index: -1}).in("", "web")
		f.add("edges", "", "its bends start beyond its far side and leave no blank: the web is too small for them")
		return
	}
	for _, h := range b.Holes {
		b.Area -= math.Pi * h.Diameter * h.Diameter / 4
	}
	for _, c := range b.Cutouts {
		b.Area -= math.Abs(c.Path.Area())
	}
	// A sheet whose density is not known has a mass that is not known.
	if density, _, err := b.Part.Sheet.Material.Density(); err == nil {
		b.Mass = b.Area * b.Part.Sheet.Thickness * density / 1000
	}
}
