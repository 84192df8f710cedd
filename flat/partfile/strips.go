package partfile

import (
	"path"
	"strings"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/bend/striplog"
	"github.com/hangarflat/hangarflat/material"
)

// TestStrips is the rule of a part file that has its bends allowed for by the shop's own
// log of test strips. The file says where the log is; nothing is opened here, so that the
// rule answers no bend before [Document.Calibrate] has given it what the log says.
type TestStrips struct {
	File     string            // of the log, by / and from the folder of the part file
	Material material.Material // of the sheet
	// Log is nil until it is read.
	Log *striplog.Log
}

// Allowance answers a bend whose material, thickness and radius were tried, at any angle; the
// source is the log with its hash, K and its standard error. What was not tried is a [*bend.Error]
// that names what is nearest.
func (r TestStrips) Allowance(b bend.Bend) (bend.Allowance, error) {
	if err := b.Validate(); err != nil {
		return bend.Allowance{}, err
	}
	if r.Log == nil {
		return bend.Allowance{}, &bend.Error{Field: "strips", Value: r.File, Rule: "the log has not been read: this program works out no test strips"}
	}
	g, err := r.Log.Lookup(r.Material, b.Thickness, b.Radius)
	if err != nil {
		return bend.Allowance{}, err
	}
	return g.Rule().Allowance(b)
}

// Strips is where the part's log of test strips is, as the file has it: by / and from the folder of
// the part file. asked is false for a part that is worked out by another rule.
func (doc Document) Strips() (file string, asked bool) {
	r, asked := doc.Part.Rule.(TestStrips)
	return r.File, asked
}

// Calibrate gives the part what its log of test strips says. A document that asks for none is left
// as it is. Bends that were not tried are found by [flat.Develop].
func (doc *Document) Calibrate(log striplog.Log) {
	if r, asked := doc.Part.Rule.(TestStrips); asked {
		r.Log = &log
		doc.Part.Rule = r
	}
}

// logFile is the name of a file from the folder of another, the same on every computer.
var logFile = quantity[string]{"a file", `"strips.csv"`, nil, func(s string) (string, error) { return s, nil }, func(s string) string {
	const rule = "is the log of test strips, by / from the folder of this file, such as "
	switch {
	case strings.TrimSpace(s) == "", len(s) > 250, strings.ContainsFunc(s, func(r rune) bool { return r < ' ' || r == 0x7f }):
		return rule + `"strips.csv"`
	case strings.ContainsAny(s, `\:`), path.IsAbs(s):
		return rule + `"../shop/strips.csv", so that it is found on every computer`
	}
	return ""
}}
