package flat

import (
	"fmt"
	"strconv"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// Severity ranks what a foreman would say of a part.
type Severity uint8

const (
	Note Severity = iota // good to know
	Warn                 // think before cutting
	Stop                 // NOT FOR CUTTING
)

func (s Severity) String() string {
	switch s {
	case Warn:
		return "WARN"
	case Stop:
		return "STOP"
	}
	return "note"
}

// A Finding is a remark on a valid part: a figure held against a limit.
type Finding struct {
	Severity Severity
	Place    string // `flange "aft"`
	At       r2.Vec // on the blank, mm
	Text     string // "bend radius is below the least the table allows"
	Figure   float64
	Limit    float64
	Unit     bend.Unit // of Figure and Limit; both zero where the text says all
	Source   material.Source
}

// NotForCutting are the words every output of a blank with a Stop carries.
const NotForCutting = "NOT FOR CUTTING"

func (f Finding) String() string {
	s := fmt.Sprintf("%s  %s: %s", f.Severity, f.Place, f.Text)
	if f.Figure != 0 || f.Limit != 0 {
		s += fmt.Sprintf(" (%s against %s)", figure(f.Figure, f.Unit), figure(f.Limit, f.Unit))
	}
	return s + " [" + f.Source.String() + "]"
}

func figure(x float64, u bend.Unit) string {
	switch u {
	case bend.Length:
		return measure.Both(x)
	case bend.Degrees:
		return measure.Angle(x).String()
	}
	return strconv.FormatFloat(x, 'g', 4, 64)
}

// Stopped reports whether a finding forbids cutting the blank.
func (b Blank) Stopped() bool {
	for _, f := range b.Findings {
		if f.Severity == Stop {
			return true
		}
	}
	return false
}
