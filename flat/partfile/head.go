package partfile

import (
	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/material"
)

// Kind is the way a file describes its part.
type Kind uint8

const (
	// Edges gives the web by corner points, or by its sides and the angles between
	// them, and a flange at a time on each side.
	Edges Kind = iota
	// Section gives a length of channel, zed, hat or angle by the mold-line widths
	// of its legs and the bends between them.
	Section
	// Between gives what the part must touch, as measured, and leaves the shape of
	// the web and every bend angle to be worked out.
	Between
)

func (k Kind) String() string {
	if int(k) < len(kindWords) {
		return kindWords[k]
	}
	return "unknown kind"
}

// kindWords stand in the file, in the order of the constants. An array, for no
// one to change.
var kindWords = [...]string{"edges", "section", "between"}

// The words of the file for what the part keeps as constants.
var (
	kinds       = choice(kindWords[:], []Kind{Edges, Section, Between})
	turns       = choice([]string{"up", "down"}, []flat.Turn{flat.Up, flat.Down})
	bases       = choice(basisWords[:], []flat.Basis{flat.MoldLine, flat.InsideMold, flat.Tangent})
	cuts        = choice(cutWords[:], []flat.TrimKind{flat.Auto, flat.Square, flat.Angled})
	joggleParts = choice([]string{"beyond", "before"}, []flat.JogglePart{flat.Beyond, flat.Before})
	joggleSides = choice([]string{"inward", "outward"}, []flat.JoggleSide{flat.Inward, flat.Outward})
	cornerCuts  = choice(cornerCutWords[:], []flat.CornerKind{flat.Drilled, flat.Notched, flat.Closed})
	webFaces    = choice([]string{"marking", "far"}, []flat.WebFace{flat.MarkingFace, flat.FarFace})
	purposes    = choice(purposeWords[:], []flat.Purpose{flat.Opening, flat.Tooling, flat.RivetPilot, flat.FlangedPilot})
	yesNo       = choice([]string{"yes", "no"}, []bool{true, false})
	lawful      = choice(lawWords[:], []law{handbook, neutralAxis, din6935, testStrips})

	basisWords     = [...]string{"mold line", "inside", "tangent"}
	cornerCutWords = [...]string{"drilled", "notched", "closed"}
	cutWords       = [...]string{"auto", "square", "angled"}
	purposeWords   = [...]string{"opening", "tooling", "rivet pilot", "flanged pilot"}
	lawWords       = [...]string{"handbook", "neutral axis", "DIN 6935", "test strips"}
)

// law is the rule of bend allowance a file can ask for.
type law uint8

const (
	handbook law = iota
	neutralAxis
	din6935
	testStrips
)

// head reads what every kind of file begins with.
func (d *decoder) head(t *table) (kind Kind, known bool, p flat.Part) {
	kind, known = maybe(t, "kind", kinds)
	if !known {
		t.miss("kind", `write kind = "edges", "section" or "between"`)
	}
	p.Name = need(t, "name", fileName)
	p.Title, _ = maybe(t, "title", words)
	d.sheet(t.needSub("sheet", "sheet"), &p.Sheet)
	bends := t.sub("bends", "")
	d.bends(bends, &p)
	if p.Radius == 0 && !d.lost["radius"] {
		d.noRadius = func() {
			if bends.n != nil {
				bends.miss("radius", `write radius = "5/32 in", the inside radius of the bends`)
			} else {
				t.miss("bends", `write [bends] on a line of its own and below it radius = "5/32 in", the inside radius of the bends`)
			}
			d.lose("radius")
		}
	}
	return kind, known, p
}

func (d *decoder) sheet(t *table, s *material.Sheet) {
	s.Material = need(t, "material", alloy)
	given := need(t, "thickness", thickness)
	s.Thickness, s.Gauge = given.mm, given.by
	s.Grain.Angle, s.Grain.Stated = maybe(t, "grain", angle("0 deg", anyAngle))
	t.done()
}

func (d *decoder) bends(t *table, p *flat.Part) {
	if t.n == nil {
		if d.lost["bends"] {
			d.lose("radius")
		}
		return // or all of it was left out
	}
	p.Radius, _ = maybe(t, "radius", length("5/32 in", aboveOrOut("flanges that each state their own")))
	p.Gap, _ = maybe(t, "gap", length("1/64 in", aboveOrOut("the usual 1/64 in")))
	p.Relief.Diameter, _ = maybe(t, "relief", length("3/16 in", aboveOrOut("the handbook's least")))
	d.alias("relief.diameter", "relief")
	p.Rule = d.rule(t, p.Sheet.Material)
	t.done()
}

// bendRadius sees to it that a flange that gives no radius of its own finds that
// of the part.
func (d *decoder) bendRadius(path string, own float64) {
	if own == 0 && d.noRadius != nil && !d.silent(path) {
		d.noRadius()
		d.noRadius = nil
	}
	if own == 0 && d.lost["radius"] {
		d.lose(path)
	}
}

func (d *decoder) rule(t *table, of material.Material) bend.Rule {
	which, given := maybe(t, "rule", lawful)
	k, kGiven := t.number("neutral", "0.44", 0.01, 1)
	log, logGiven := maybe(t, "strips", logFile)
	if logGiven && (!given || which != testStrips) {
		t.refuse("strips", t.n.get("strips").value, `belongs to rule = "test strips"`, nil)
	}
	switch {
	case kGiven && (!given || which != neutralAxis):
		t.refuse("neutral", t.n.get("neutral").value, `belongs to rule = "neutral axis"`, nil)
	case !given:
	case which == handbook:
		return bend.Handbook{}
	case which == din6935:
		return bend.DIN6935{}
	case which == testStrips:
		if !logGiven {
			t.miss("strips", "write strips = "+logFile.example+", the log of test strips, from the folder of this file")
			return nil
		}
		return TestStrips{File: log, Material: of}
	case kGiven:
		return bend.NeutralAxis{K: k}
	default:
		t.miss("neutral", "write neutral = 0.44, the depth of the neutral line over the thickness")
	}
	return nil
}
