package dxfout

import (
	"bytes"
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// A tag is a group code and its value.
type tag struct {
	code  int
	value string
}

// split reads the tags of a file and says what is wrong with its lines.
func split(file []byte) (all []tag, faults []string) {
	if !bytes.HasSuffix(file, []byte("\r\n")) {
		faults = append(faults, "no line end at the end")
	}
	lines := strings.Split(strings.TrimSuffix(string(file), "\r\n"), "\r\n")
	if len(lines)%2 != 0 {
		faults = append(faults, "odd number of lines")
	}
	for i := 0; i+1 < len(lines); i += 2 {
		code, err := strconv.Atoi(strings.TrimSpace(lines[i]))
		if err != nil {
			return all, append(faults, fmt.Sprintf("line %d: %q is no group code", i+1, lines[i]))
		}
		v := lines[i+1]
		for _, c := range []byte(v) {
			if c < ' ' || c > '~' {
				faults = append(faults, fmt.Sprintf("line %d: byte %#x", i+2, c))
			}
		}
		if len(v) > 255 {
			faults = append(faults, fmt.Sprintf("line %d: %d bytes", i+2, len(v)))
		}
		all = append(all, tag{code, v})
	}
	return all, faults
}

// A record is a tag of code 0 and what follows it.
type record struct {
	kind    string
	section string
	table   string
	tags    []tag
}

func (r record) all(code int) (values []string) {
	for _, t := range r.tags {
		if t.code == code {
			values = append(values, t.value)
		}
	}
	return values
}

func (r record) first(code int) string {
	if v := r.all(code); len(v) > 0 {
		return v[0]
	}
	return ""
}

func records(all []tag) (rs []record) {
	section, table := "", ""
	for i, t := range all {
		if t.code == 0 {
			switch {
			case t.value == "SECTION" && i+1 < len(all):
				section = all[i+1].value
			case t.value == "TABLE" && i+1 < len(all):
				table = all[i+1].value
			}
			rs = append(rs, record{kind: t.value, section: section, table: table})
			continue
		}
		if len(rs) > 0 {
			rs[len(rs)-1].tags = append(rs[len(rs)-1].tags, t)
		}
	}
	return rs
}

var plainReal = regexp.MustCompile(`^-?[0-9]+\.[0-9]+$`)

// real tells the group codes that hold real numbers, in what this package writes.
func isReal(code int) bool { return code >= 10 && code <= 59 || code >= 140 && code <= 149 }

// inspect is a structural check by the published reference, sharing no code with
// the writer. It returns every fault it finds.
func inspect(file []byte) (faults []string) {
	tags, faults := split(file)
	fault := func(format string, args ...any) { faults = append(faults, fmt.Sprintf(format, args...)) }
	if n := len(tags); n == 0 || tags[n-1] != (tag{0, "EOF"}) {
		fault("does not end with EOF")
	}
	for _, t := range tags {
		if isReal(t.code) && (!plainReal.MatchString(t.value) || strings.Trim(t.value, "-0.") == "" && t.value[0] == '-') {
			fault("group %d: %q is no plain number", t.code, t.value)
		}
		if t.code >= 60 && t.code <= 79 {
			if _, err := strconv.ParseInt(strings.TrimSpace(t.value), 10, 16); err != nil {
				fault("group %d: %q is no number of 16 bits", t.code, t.value)
			}
		}
	}
	rs := records(tags)
	version := ""
	var sections []string
	layers, handles := map[string]bool{}, map[string]bool{}
	header := map[string]string{}
	for _, r := range rs {
		switch r.kind {
		case "SECTION":
			sections = append(sections, r.first(2))
			if r.first(2) == "HEADER" {
				for i, t := range r.tags {
					if t.code == 9 && i+1 < len(r.tags) {
						header[t.value] = r.tags[i+1].value
					}
				}
			}
		case "LAYER":
			layers[r.first(2)] = true
		}
		codes := []int{5, 105}
		if r.kind == "SECTION" {
			codes = nil // $HANDSEED is no handle of its own
		}
		for _, c := range codes {
			for _, h := range r.all(c) {
				if handles[h] {
					fault("handle %s stands twice", h)
				}
				handles[h] = true
			}
		}
	}
	version = header["$ACADVER"]
	want := map[string]string{
		"AC1015": "HEADER CLASSES TABLES BLOCKS ENTITIES OBJECTS",
		"AC1009": "HEADER TABLES BLOCKS ENTITIES",
	}[version]
	if got := strings.Join(sections, " "); got != want {
		fault("%s: sections %s, want %s", version, got, want)
	}
	if u := header["$INSUNITS"] + header["$MEASUREMENT"]; u != "41" && u != "10" {
		fault("units %s and measurement %s disagree", header["$INSUNITS"], header["$MEASUREMENT"])
	}
	modern := version == "AC1015"
	for h := range handles {
		if len(h) > len(header["$HANDSEED"]) || len(h) == len(header["$HANDSEED"]) && h >= header["$HANDSEED"] {
			fault("handle %s is not below the seed", h)
		}
	}
	for _, r := range rs {
		if r.kind == "SECTION" || r.kind == "CLASS" {
			continue
		}
		if !modern && len(r.all(5))+len(r.all(330))+len(r.all(100)) > 0 {
			fault("%s: handle, owner or marker in an R12 file", r.kind)
		}
		for _, code := range []int{330, 340, 350, 390} {
			for _, o := range r.all(code) {
				if o != "0" && !handles[o] {
					fault("%s: group %d points to %s, which is not there", r.kind, code, o)
				}
			}
		}
		for _, l := range r.all(8) {
			if !layers[l] {
				fault("%s: layer %q is not declared", r.kind, l)
			}
		}
	}
	return append(faults, inspectEntities(rs, modern)...)
}

// order is the group codes an entity begins with.
var order = map[string][]int{
	"LINE": {5, 330, 100, 8, 100}, "CIRCLE": {5, 330, 100, 8, 100}, "ARC": {5, 330, 100, 8, 100},
	"LWPOLYLINE": {5, 330, 100, 8, 100, 90, 70}, "TEXT": {5, 330, 100, 8, 100},
}

var markers = map[string]string{
	"LINE": "AcDbEntity AcDbLine", "CIRCLE": "AcDbEntity AcDbCircle", "ARC": "AcDbEntity AcDbCircle AcDbArc",
	"LWPOLYLINE": "AcDbEntity AcDbPolyline", "TEXT": "AcDbEntity AcDbText AcDbText",
}

func inspectEntities(rs []record, modern bool) (faults []string) {
	fault := func(format string, args ...any) { faults = append(faults, fmt.Sprintf(format, args...)) }
	seen := map[string]bool{}
	open := false // a POLYLINE that waits for its SEQEND
	for _, r := range rs {
		if r.section != "ENTITIES" || r.kind == "SECTION" || r.kind == "ENDSEC" {
			continue
		}
		if open && r.kind != "VERTEX" && r.kind != "SEQEND" {
			fault("%s before the SEQEND of a polyline", r.kind)
		}
		open = r.kind == "POLYLINE" || r.kind == "VERTEX"
		if modern {
			if markers[r.kind] == "" {
				fault("%s in an R2000 file", r.kind)
				continue
			}
			if got := strings.Join(r.all(100), " "); got != markers[r.kind] {
				fault("%s: markers %s", r.kind, got)
			}
			for i, c := range order[r.kind] {
				if i >= len(r.tags) || r.tags[i].code != c {
					fault("%s: group %d is not where it belongs", r.kind, c)
					break
				}
			}
		}
		if r.kind == "LWPOLYLINE" {
			n := strconv.Itoa(len(r.all(10)))
			if r.first(90) != n || len(r.all(20)) != len(r.all(10)) {
				fault("LWPOLYLINE: count %s, %s vertices", r.first(90), n)
			}
			var last string
			for i, x := range r.all(10) {
				at := x + " " + r.all(20)[i]
				if at == last {
					fault("LWPOLYLINE: vertex %d coincides with the one before", i)
				}
				last = at
			}
			if r.first(70) == "1" && last == r.first(10)+" "+r.first(20) {
				fault("LWPOLYLINE: the first vertex is repeated")
			}
		}
		for _, b := range r.all(42) {
			if v, err := strconv.ParseFloat(b, 64); err != nil || v > 1 || v < -1 {
				fault("%s: bulge %s", r.kind, b)
			}
		}
		var shape strings.Builder
		for _, t := range r.tags {
			if t.code != 5 {
				fmt.Fprintln(&shape, t.code, t.value)
			}
		}
		if r.kind != "VERTEX" && r.kind != "SEQEND" && r.kind != "POLYLINE" {
			if seen[r.kind+shape.String()] {
				fault("%s stands twice: it would be cut twice", r.kind)
			}
			seen[r.kind+shape.String()] = true
		}
	}
	return faults
}
