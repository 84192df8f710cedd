package partfile

import (
	"fmt"

	"github.com/hangarflat/hangarflat/flat"
)

// unique refuses a name that two flanges of the part share, or two openings of one
// panel: on the card nobody could tell them apart. Edges are checked by the part.
func (d *decoder) unique(p flat.Part) {
	flanges := map[string]string{}
	d.uniqueOpenings("web", p.Web.Features)
	for i, e := range p.Web.Edges {
		d.uniqueFlanges(webEdge(i), e.Flanges, flanges)
	}
}

func (d *decoder) uniqueFlanges(path string, list []flat.Flange, seen map[string]string) {
	for i, g := range list {
		at := fmt.Sprintf("%s.flanges[%d]", path, i)
		d.once(at, g.Name, "flange", seen)
		d.uniqueOpenings(at, g.Features)
		d.uniqueFlanges(at, g.Flanges, seen)
	}
}

func (d *decoder) uniqueOpenings(path string, f flat.Features) {
	holes, cutouts := map[string]string{}, map[string]string{}
	for i, h := range f.Holes {
		d.once(fmt.Sprintf("%s.holes[%d]", path, i), h.Name, "hole of this panel", holes)
	}
	for i, c := range f.Cutouts {
		d.once(fmt.Sprintf("%s.cutouts[%d]", path, i), c.Name, "cut-out of this panel", cutouts)
	}
}

func (d *decoder) once(path, name, what string, seen map[string]string) {
	if name == "" {
		return
	}
	path += ".name"
	if first, twice := seen[name]; twice {
		s := d.spots[path]
		d.addf(s.at, s.field, s.value, "another %s has this name, in line %d: give each its own", what, d.spots[first].at.line)
		return
	}
	seen[name] = path
}
