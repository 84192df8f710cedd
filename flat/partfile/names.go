package partfile

import (
	"fmt"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/rivet"
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
		d.uniqueRows(at, g.Rivets)
		d.uniqueFlanges(at, g.Flanges, seen)
	}
}

func (d *decoder) uniqueRows(path string, list []flat.Riveting) {
	seen := map[string]string{}
	for i, asked := range list {
		if r, ok := asked.(rivet.FlangeRows); ok {
			d.once(fmt.Sprintf("%s.rivets[%d]", path, i), r.Name, "table of rivets of this flange", seen)
		}
	}
}

func (d *decoder) uniqueOpenings(path string, f flat.Features) {
	seen := map[string]string{}
	once := func(list string, i int, name string) {
		d.once(fmt.Sprintf("%s.%s[%d]", path, list, i), name, "opening of this panel", seen)
	}
	for i, h := range f.Holes {
		once("holes", i, h.Name)
	}
	for i, s := range f.Slots {
		once("slots", i, s.Name)
	}
	for i, l := range f.Lightening {
		once("lightening", i, l.Name)
	}
	for i, c := range f.Cutouts {
		once("cutouts", i, c.Name)
	}
}

func (d *decoder) once(path, name, what string, seen map[string]string) {
	if name == "" {
		return
	}
	path += ".name"
	if first, twice := seen[name]; twice {
		s, _ := d.find(path)
		before, _ := d.find(first)
		d.addf(s.at, s.field, s.value, "another %s has this name, in line %d: give each its own", what, before.at.line)
		return
	}
	seen[name] = path
}
