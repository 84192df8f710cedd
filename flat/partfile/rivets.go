package partfile

import (
	"fmt"
	"math"
	"strconv"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/rivet"
)

var (
	rivetHeads = choice(headWords[:], []rivet.Head{rivet.Protruding, rivet.Countersunk, rivet.Dimpled})
	drillings  = choice([]string{"pilot", "full", "mark"}, []rivet.Drilling{rivet.Pilots, rivet.FullSize, rivet.MarkOnly})

	headWords = [...]string{"protruding", "countersunk", "dimpled"}
)

// rivets reads the rows of rivets a flange asks for.
func (d *decoder) rivets(t *table) (list []flat.Riveting) {
	at := func(i int) string { return fmt.Sprintf("%s.rivets[%d]", t.path, i) }
	t.tables("rivets", at, func(_ int, s *table) {
		var r rivet.FlangeRows
		r.Name, _ = maybe(s, "name", words)
		r.Rivet.Diameter = need(s, "rivet", length("1/8 in", above))
		r.Rivet.Head, _ = maybe(s, "head", rivetHeads)
		r.Pitch = need(s, "pitch", length("3/4 in", above))
		r.FromMold, _ = maybe(s, "from_mold", length("7/16 in", aboveOrOut("the middle of the flat")))
		r.End, _ = maybe(s, "end_distance", length("1/4 in", aboveOrOut("the least edge distance of the rivet")))
		r.Rows = s.count("rows", "2")
		r.Spacing, _ = maybe(s, "row_spacing", length("1/2 in", aboveOrOut("three quarters of the pitch")))
		r.Stagger, _ = maybe(s, "stagger", yesNo)
		if d.lost[s.pathOf("rows")] { // what hangs on their number is not asked about
			d.lose(s.pathOf("row_spacing"))
			d.lose(s.pathOf("stagger"))
		}
		r.Drill, _ = maybe(s, "drill", drillings)
		r.Onto, _ = maybe(s, "onto", length("0.050 in", aboveOrOut("what is not known")))
		list = append(list, r)
	})
	return list
}

// count reads how many of a thing there are; zero where the line is left out.
func (t *table) count(key, example string) int {
	x, given := t.number(key, example, 1, 1000)
	if given && x != math.Trunc(x) {
		t.refuse(key, t.n.get(key).value, "must be a whole number, such as "+key+" = "+example, nil)
		return 0
	}
	return int(x)
}

// rivets writes the rows a flange asks for, as it asks for them.
func (e *encoder) rivets(header string, list []flat.Riveting, f *faults) {
	for _, asked := range list {
		r, ok := asked.(rivet.FlangeRows)
		if !ok {
			f.addf(place{}, "rivets", fmt.Sprintf("%T", asked), "a file can hold rows of rivets along a flange: lay these, and write their holes")
			continue
		}
		e.open(header+".rivets", true)
		e.text("name", r.Name)
		e.length("rivet", r.Rivet.Diameter)
		if r.Rivet.Head != rivet.Protruding && int(r.Rivet.Head) < len(headWords) {
			e.line("head", quote(headWords[r.Rivet.Head]))
		}
		e.length("pitch", r.Pitch)
		e.optional("from_mold", r.FromMold)
		e.optional("end_distance", r.End)
		if r.Rows != 0 {
			e.line("rows", strconv.Itoa(r.Rows))
		}
		e.optional("row_spacing", r.Spacing)
		if r.Stagger {
			e.line("stagger", quote("yes"))
		}
		if r.Drill != rivet.Pilots {
			e.line("drill", quote(r.Drill.String()))
		}
		e.optional("onto", r.Onto)
	}
}
