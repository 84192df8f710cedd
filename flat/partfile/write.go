package partfile

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/flat/survey"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Write writes a part as a file that [Read] reads back to the same part, every
// length and angle to the last bit: of kind [Between] for a part that was worked
// out from its surroundings, else of kind [Edges].
//
// A part that is not valid, or that a file cannot hold (a bend rule of the shop's
// own, a web that was changed after its surroundings gave it, a name that would name no
// file, two flanges of one name), is an [*Error] without a line; then nothing is written.
func Write(w io.Writer, p flat.Part) error {
	text, err := encode(p)
	if err != nil {
		return err
	}
	doc, err := Read(p.Name, bytes.NewReader(text))
	if err != nil {
		return neverInAFile(err)
	}
	again, err := encode(doc.Part)
	if err != nil {
		return err
	}
	if !bytes.Equal(text, again) || !sameEdges(p.Web.Edges, doc.Part.Web.Edges) {
		return &Error{File: p.Name, Field: "web", Rule: "is no longer what its surroundings give: set Site to nil to write it by its edges"}
	}
	_, err = w.Write(text)
	return err
}

// sameEdges holds the webs that surroundings gave against each other.
func sameEdges(a, b []flat.Edge) bool {
	var left, right encoder
	var ignored faults // they have been told
	left.edges(a, &ignored)
	right.edges(b, &ignored)
	return left.b.String() == right.b.String()
}

func encode(p flat.Part) ([]byte, error) {
	f := faults{file: p.Name}
	for _, leaf := range leaves(p.Validate()) {
		var e *flat.Error
		if errors.As(leaf, &e) {
			field := e.Path[strings.LastIndexByte(e.Path, '.')+1:]
			f.add(place{}, joined(e.Place, ", ", field), e.Value, e.Rule, e)
		}
	}
	var e encoder
	kind := Edges
	if p.Site != nil {
		kind = Between
	}
	e.line("kind", quote(kind.String()))
	e.line("name", quote(p.Name))
	if p.Title != "" {
		e.line("title", quote(p.Title))
	}
	if p.Site != nil {
		e.optional("reading_error", p.Site.Surroundings.ReadingError)
		e.optionalAngle("angle_error", p.Site.Surroundings.AngleError)
	}
	e.open("sheet", false)
	e.line("material", quote(p.Sheet.Material.String()))
	if gauge := p.Sheet.GaugeText(); gauge != "" {
		e.line("thickness", quote(gauge))
	} else {
		e.length("thickness", p.Sheet.Thickness)
	}
	if p.Sheet.Grain.Stated {
		e.angle("grain", p.Sheet.Grain.Angle)
	}
	e.bends(p, &f)
	if p.Site != nil {
		e.site(p.Site.Surroundings, &f)
	} else {
		e.edges(p.Web.Edges, &f)
	}
	e.features("", p.Web.Features)
	return []byte(e.b.String()), f.err()
}

// An encoder writes one file.
type encoder struct{ b strings.Builder }

func (e *encoder) line(key, value string) { fmt.Fprintf(&e.b, "%s = %s\n", key, value) }

// open begins a table, or the next of a list of tables.
func (e *encoder) open(header string, list bool) {
	if list {
		header = "[" + header + "]"
	}
	fmt.Fprintf(&e.b, "\n[%s]\n", header)
}

func (e *encoder) text(key, s string) {
	if s != "" {
		e.line(key, quote(s))
	}
}

func (e *encoder) length(key string, mm float64) { e.line(key, quote(lengthText(mm))) }

// optional is length for a value whose zero is what a line left out means.
func (e *encoder) optional(key string, mm float64) {
	if mm != 0 {
		e.length(key, mm)
	}
}

// angle adds the degrees as a remark where they could not be written exactly.
func (e *encoder) angle(key string, a measure.Angle) {
	text := quote(angleText(a))
	if strings.HasSuffix(text, `rad"`) {
		text += "  # " + a.Text(6)
	}
	e.line(key, text)
}

func (e *encoder) bends(p flat.Part, f *faults) {
	e.open("bends", false)
	e.optional("radius", p.Radius)
	e.optional("gap", p.Gap)
	e.optional("relief", p.Relief.Diameter)
	switch r := p.Rule.(type) {
	case nil:
	case bend.Handbook:
		e.line("rule", quote(lawWords[handbook]))
	case bend.DIN6935:
		e.line("rule", quote(lawWords[din6935]))
	case bend.NeutralAxis:
		e.line("rule", quote(lawWords[neutralAxis]))
		e.line("neutral", numberText(r.K))
	case TestStrips:
		e.line("rule", quote(lawWords[testStrips]))
		e.line("strips", quote(r.File))
		if r.Material != p.Sheet.Material {
			f.add(place{}, "rule material", r.Material.String(), "the strips of a file are of the sheet of its part, "+p.Sheet.Material.String(), nil)
		}
	default:
		f.addf(place{}, "rule", fmt.Sprintf("%T", r), "a file can name handbook, neutral axis, DIN 6935 and test strips; set a rule of the shop's own in the program that reads the file")
	}
}

func (e *encoder) edges(edges []flat.Edge, f *faults) {
	for _, edge := range edges {
		e.open("edge", true)
		e.text("name", edge.Name)
		e.line("at", point(edge.Start))
		if edge.Bulge != 0 {
			e.line(bulge(edge.Bulge))
		}
		e.corner(edge.Corner)
		e.flanges("edge.flange", edge.Flanges, f)
	}
}

func (e *encoder) flanges(header string, list []flat.Flange, f *faults) {
	for _, g := range list {
		e.open(header, true)
		e.text("name", g.Name)
		e.line("turn", quote(g.Turn.String()))
		e.angle("angle", g.Angle)
		if g.AngleEnd != 0 {
			e.angle("angle_end", g.AngleEnd)
		}
		e.shape(header, g, f)
	}
}

// shape writes what a flange is apart from its bend.
func (e *encoder) shape(header string, g flat.Flange, f *faults) {
	e.length("height", g.Height)
	e.optional("height_end", g.HeightEnd)
	if g.Basis != flat.MoldLine && int(g.Basis) < len(basisWords) {
		e.line("basis", quote(basisWords[g.Basis]))
	}
	e.optional("radius", g.Radius)
	e.optional("from", g.From)
	e.optional("to", g.To)
	e.trim("start", g.Start)
	e.trim("end", g.End)
	e.features(header+".", g.Features)
	for _, j := range g.Joggles {
		e.open(header+".joggle", true)
		e.text("name", j.Name)
		e.length("at", j.At)
		e.length("run", j.Run)
		e.length("depth", j.Depth)
		if j.Part != flat.Beyond {
			e.line("part", quote(j.Part.String()))
		}
		if j.Side != flat.Inward {
			e.line("side", quote(j.Side.String()))
		}
	}
	e.rivets(header, g.Rivets, f)
	e.flanges(header+".flange", g.Flanges, f)
}

func (e *encoder) corner(c flat.Corner) {
	if c == (flat.Corner{}) || int(c.Kind) >= len(cornerCutWords) {
		return
	}
	parts := []string{"kind = " + quote(cornerCutWords[c.Kind])}
	if c.Width != 0 {
		parts = append(parts, "width = "+quote(lengthText(c.Width)))
	}
	if c.Gap != 0 {
		parts = append(parts, "gap = "+quote(lengthText(c.Gap)))
	}
	e.line(cornerCutKey, "{ "+strings.Join(parts, ", ")+" }")
}

func (e *encoder) trim(key string, t flat.Trim) {
	if t == (flat.Trim{}) || int(t.Kind) >= len(cutWords) {
		return
	}
	parts := []string{"cut = " + quote(cutWords[t.Kind])}
	if t.Angle != 0 {
		parts = append(parts, "angle = "+quote(angleText(t.Angle)))
	}
	if t.Inset != 0 {
		parts = append(parts, "inset = "+quote(lengthText(t.Inset)))
	}
	e.line(key, "{ "+strings.Join(parts, ", ")+" }")
}

func (e *encoder) features(header string, f flat.Features) {
	for _, h := range f.Holes {
		e.open(header+"hole", true)
		e.text("name", h.Name)
		e.line("at", point(h.At))
		e.length("diameter", h.Diameter)
		if h.Purpose != flat.Opening && int(h.Purpose) < len(purposeWords) {
			e.line("purpose", quote(purposeWords[h.Purpose]))
		}
	}
	for _, s := range f.Slots {
		e.open(header+"slot", true)
		e.text("name", s.Name)
		e.line("from", point(s.From))
		e.line("to", point(s.To))
		e.length("width", s.Width)
	}
	for _, l := range f.Lightening {
		e.open(header+"lightening", true)
		e.text("name", l.Name)
		if l.Turn == flat.Down {
			e.line("turn", quote(l.Turn.String()))
		}
		e.line("at", point(l.At))
		e.length("diameter", l.Diameter)
		e.length("height", l.Height)
		e.length("radius", l.Radius)
	}
	for _, c := range f.Cutouts {
		e.open(header+"cutout", true)
		e.text("name", c.Name)
		e.corners(c.Path)
	}
}

func (e *encoder) corners(p outline.Path) {
	e.b.WriteString("corner = [\n")
	for _, v := range p.Vertices {
		e.b.WriteString("  { at = " + point(v.P))
		if v.Bulge != 0 {
			key, value := bulge(v.Bulge)
			e.b.WriteString(", " + key + " = " + value)
		}
		e.b.WriteString(" },\n")
	}
	e.b.WriteString("]\n")
}

func (e *encoder) site(s flat.Surroundings, f *faults) {
	e.open("web", false)
	if s.WebFace == flat.FarFace {
		e.line("face", `"far"`)
	}
	e.line("seen_from", space(s.MarkingSide))
	e.plane("web", "web", laid{s.Web, s.WebReadings, s.WebMeasured, s.ReadingError}, f)
	for i, face := range s.Faces {
		e.open("face", true)
		e.text("name", face.Name)
		e.optional("clearance", face.Clearance)
		e.corner(face.Corner)
		if face.Curve != nil {
			e.curve(*face.Curve)
			continue
		}
		e.plane("face", "face "+strconv.Itoa(i+1), laid{face.Plane, face.Readings, face.Measured, s.ReadingError}, f)
		if g := face.Flange; g != nil {
			e.open("face.flange", false)
			e.text("name", g.Name)
			e.line("turn", quote(g.Turn.String()))
			e.shape("face.flange", *g, f)
		}
	}
}

// A laid plane is one and what it was laid by.
type laid struct {
	plane    survey.Plane
	readings []r3.Vec
	by       flat.Measurement
	within   float64 // the reading error of the file, mm
}

// plane writes the readings that a plane was laid through, or the plane itself. It
// stands last in its table: a measurement opens one of its own.
func (e *encoder) plane(header, field string, p laid, f *faults) {
	if p.by != nil {
		again, err := p.by.Plane()
		touched, points := p.by.(survey.Touched)
		switch {
		case err != nil || again != p.plane:
			f.add(place{}, field+" measured", "", "does not lay the plane: leave it out to write the plane itself", err)
		case len(p.readings) > 0:
			f.addf(place{}, field+" readings", fmt.Sprint(len(p.readings)), "stand beside a measurement that says the same: keep one")
		case points && touched.Error != p.within:
			f.add(place{}, field+" error of the points", lengthText(touched.Error), "a file has one reading error for all, here "+lengthText(p.within), nil)
		case points:
			e.points(touched.Points)
		case !e.measured(header+".", p.by):
			f.addf(place{}, field+" measured", fmt.Sprintf("%T", p.by), "a file can hold points, a leaning, two heights and a level: leave it out to write the plane itself")
		}
		return
	}
	if len(p.readings) == 0 {
		e.line("point", space(p.plane.Point))
		e.line("normal", direction(p.plane.Normal))
		return
	}
	var through survey.Plane
	if len(p.readings) == 3 {
		through, _ = survey.ThreePoints(p.readings[0], p.readings[1], p.readings[2])
	}
	if through != p.plane {
		f.addf(place{}, field+" readings", fmt.Sprint(len(p.readings)), "are not the three points the plane was laid through: leave them out to write the plane itself")
		return
	}
	e.points(p.readings)
}

func point(p r2.Vec) string {
	return "[" + quote(lengthText(p.X)) + ", " + quote(lengthText(p.Y)) + "]"
}

func space(p r3.Vec) string {
	return "[" + quote(lengthText(p.X)) + ", " + quote(lengthText(p.Y)) + ", " + quote(lengthText(p.Z)) + "]"
}

func numberText(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }

// bulge is the angle an arc turns through where whole minutes or less give the
// very same arc, else the tangent of its quarter.
func bulge(b float64) (key, value string) {
	for decimals := range 5 {
		text := strconv.FormatFloat(measure.Angle(4*math.Atan(b)).Degrees(), 'f', decimals, 64) + " deg"
		if a, err := measure.ParseAngle(text); err == nil && math.Tan(a.Radians()/4) == b {
			return "arc", quote(text)
		}
	}
	return "bulge", numberText(b)
}
