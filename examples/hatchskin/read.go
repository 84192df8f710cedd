package main

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/flat/rivet"
	"github.com/hangarflat/hangarflat/material/measure"
)

// A job is what a file asks for.
type job struct {
	patch     rivet.Patch
	pilot     float64 // diameter, mm; zero takes the rivet's own
	temporary int     // every how many holes
	perSpace  float64 // slack of the skin from hole to hole, mm
	made      []r2.Vec
	tolerance float64 // of the made edge, mm
	in        *input
}

var fileName = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9_-]{0,59}$`)

// read reads a file, or returns every fault of it in the order of the lines.
func read(file string, data []byte) (job, error) {
	in, err := parse(file, data)
	if err != nil {
		return job{}, err
	}
	j := job{in: in}
	p := &j.patch
	p.Name, _ = in.text("name")
	if !fileName.MatchString(p.Name) {
		in.refuse("name", strconv.Quote(p.Name), "names the files: letters without accents, digits, - and _, 60 at most", nil)
	}
	p.Title, _ = in.text("title")
	p.Fitting = rivet.Fitting(in.word("fitting", "lap", "joggled", "insert", "ring"))
	p.Skin, p.Sheet = in.sheet("skin"), in.sheet("patch")
	in.asked["doubler"] = true
	if in.has("doubler") {
		p.Doubler = in.sheet("doubler")
		if p.Fitting != rivet.Insert {
			in.refuse("doubler", "", `stands behind an "insert" and nothing else; a "ring" is the [patch] itself`, nil)
		}
	}
	p.Opening = j.opening()
	in.asked["rolled"] = true
	p.Roll = rivet.Roll{Radius: in.length("rolled.radius"), Axis: in.angle("rolled.axis")}
	if in.has("rolled") && !in.has("rolled.radius") {
		in.refuse("rolled.radius", "", "is missing; leave the group out for a flat skin", nil)
	}
	j.rivets()
	in.asked["member"] = true
	for i := range in.lists["member"] {
		p.Members = append(p.Members, j.member("member["+strconv.Itoa(i)+"]"))
	}
	in.asked["keepout"] = true
	for i := range in.lists["keepout"] {
		p.Keep = append(p.Keep, in.keepout("keepout["+strconv.Itoa(i)+"]"))
	}
	in.asked["made"] = true
	if j.made = in.points("made.edge"); in.has("made") {
		j.tolerance = in.need("made.tolerance")
	}
	in.leftOver()
	return j, in.err()
}

func (j *job) rivets() {
	in, p := j.in, &j.patch
	in.asked["rivets"] = true
	p.Rivet = rivet.Rivet{Diameter: in.need("rivets.diameter"), Head: rivet.Head(in.word("rivets.head", "protruding", "countersunk", "dimpled"))}
	p.Pitch, p.Spacing, p.Edge, p.Overlap, p.Gap = in.need("rivets.pitch"), in.length("rivets.spacing"), in.length("rivets.edge"), in.length("rivets.overlap"), in.length("rivets.gap")
	p.Rows, p.Stagger, p.RunOut = in.count("rivets.rows", 1, 20), in.yes("rivets.stagger"), in.number("rivets.run_out", 1, 100)
	p.Found = in.found("rivets.found")
	j.pilot, j.perSpace = in.length("rivets.pilot"), in.length("rivets.slack")
	if err := p.Rivet.Validate(); err != nil && p.Rivet.Diameter != 0 {
		in.refuse("rivets.diameter", measure.Both(p.Rivet.Diameter), err.Error(), err)
	}
	if in.has("rivets.pilot") && !(0 < j.pilot && j.pilot <= p.Rivet.Diameter) {
		in.refuse("rivets.pilot", measure.Both(j.pilot), "must be above 0 and no larger than the rivet", nil)
	}
	if j.temporary = in.count("rivets.temporary", 1, 20); j.temporary == 0 {
		j.temporary = 3
	}
}

// opening is a polygon with rounded corners, or a circle.
func (j *job) opening() outline.Path {
	in := j.in
	in.asked["opening"] = true
	round := in.length("opening.diameter")
	in.asked["opening.centre"] = true
	corners, radius := in.points("opening.corners"), in.length("opening.radius")
	switch {
	case in.has("opening.diameter") && in.has("opening.corners"):
		in.refuse("opening", "", "give corners, or centre and diameter, not both", nil)
	case in.has("opening.diameter"):
		return outline.Circle(in.point("opening.centre"), round/2)
	case len(corners) < 3:
		in.refuse("opening.corners", "", "must be three points or more, or give centre and diameter", nil)
	case len(in.faults) == 0:
		p := outline.Polygon(corners...)
		if p.Area() < 0 {
			p = p.Reverse()
		}
		return j.rounded(p, radius)
	}
	return outline.Path{}
}

// rounded rounds every corner, the last first so that the numbers of those before it
// stay.
func (j *job) rounded(p outline.Path, radius float64) outline.Path {
	if radius == 0 {
		return p
	}
	for i := len(p.Vertices) - 1; i >= 0; i-- {
		q, err := p.Fillet(i, radius)
		if err != nil {
			j.in.refuse("opening.radius", measure.Both(radius), err.Error(), err)
			return p
		}
		p = q
	}
	return p
}

func (j *job) member(path string) rivet.Member {
	in := j.in
	in.asked[plainPath(path)] = true
	m := rivet.Member{Sheet: in.sheet(path)}
	m.Name, _ = in.text(path + ".name")
	if m.Name == "" {
		in.refuse(path+".name", "", "is missing: it names the row on the card", nil)
	}
	m.Edge, m.Pitch, m.End, m.Spacing = in.line(path+".line"), in.need(path+".pitch"), in.length(path+".end"), in.length(path+".spacing")
	m.Rows, m.Stagger, m.Found = in.count(path+".rows", 1, 20), in.yes(path+".stagger"), in.found(path+".found")
	return m
}

func (in *input) keepout(path string) rivet.Keepout {
	k := rivet.Keepout{}
	k.Name, _ = in.text(path + ".name")
	k.Clear = in.length(path + ".clear")
	for _, key := range []string{".line", ".centre", ".diameter"} {
		in.asked[plainPath(path+key)] = true
	}
	switch line, round := in.has(path+".line"), in.has(path+".centre"); {
	case line == round:
		in.refuse(path, "", "must have a line, or centre and diameter", nil)
	case line:
		k.Shape = in.line(path + ".line")
	default:
		k.Shape = outline.Circle(in.point(path+".centre"), in.need(path+".diameter")/2)
	}
	return k
}

// found asks for measured holes: two lengths, and the diameter where it was measured.
func (in *input) found(path string) (list []rivet.Found) {
	in.asked[plainPath(path)] = true
	for i := range in.lists[path] {
		at := fmt.Sprintf("%s[%d]", path, i)
		if n := in.lists[at]; n != 2 && n != 3 {
			in.refuse(at, "", `must be a place and, if measured, a diameter: ["58.2 mm", "96.1 mm", "3.30 mm"]`, nil)
			continue
		}
		list = append(list, rivet.Found{At: r2.Vec{X: in.need(at + "[0]"), Y: in.need(at + "[1]")}, Diameter: in.length(at + "[2]")})
	}
	return list
}

// locate gives the faults of the patch the lines they come from.
func (j *job) locate(err error) error {
	var list []error
	for _, e := range flatten(err) {
		var bad *rivet.Error
		if !errors.As(e, &bad) {
			list = append(list, &fault{file: j.in.file, field: "patch", rule: e.Error(), err: e})
			continue
		}
		j.in.refuse(j.pathOf(bad.Field), bad.Value, bad.Field+": "+bad.Rule, bad)
	}
	return errors.Join(j.in.err(), errors.Join(list...))
}

// flatten takes joined errors apart.
func flatten(err error) []error {
	if many, ok := err.(interface{ Unwrap() []error }); ok {
		var out []error
		for _, e := range many.Unwrap() {
			out = append(out, flatten(e)...)
		}
		return out
	}
	return []error{err}
}

// pathOf is the key that a field of the patch was read from; its group where there is
// no better.
func (j *job) pathOf(field string) string {
	last := field[strings.LastIndex(field, `" `)+1:]
	last = strings.TrimSpace(last)
	key := map[string]string{"pitch": "pitch", "spacing": "spacing", "end distance": "end", "edge": "line", "rows": "rows"}[last]
	for i, m := range j.patch.Members {
		if strings.HasPrefix(field, fmt.Sprintf("pattern %q ", m.Name)) || strings.HasPrefix(field, fmt.Sprintf("member %d ", i+1)) {
			return strings.TrimSuffix(fmt.Sprintf("member[%d].%s", i, key), ".")
		}
	}
	for i, k := range j.patch.Keep {
		if strings.Contains(field, fmt.Sprintf("keep-out %d %q", i+1, k.Name)) || field == fmt.Sprintf("keep-out %q", k.Name) {
			if last == "clearance" {
				return fmt.Sprintf("keepout[%d].clear", i)
			}
			return fmt.Sprintf("keepout[%d]", i)
		}
	}
	switch {
	case field == "rolled radius":
		return "rolled.radius"
	case field == "roll axis":
		return "rolled.axis"
	case field == "edge distance":
		return "rivets.edge"
	case field == "run-out":
		return "rivets.run_out"
	case slices.Contains([]string{"pitch", "spacing", "gap", "overlap", "rows"}, last):
		return "rivets." + last
	case strings.HasPrefix(field, "rivet"):
		return "rivets.diameter"
	}
	return "opening"
}
