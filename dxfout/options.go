package dxfout

import (
	"errors"
	"fmt"
	"math"
	"strconv"

	"gonum.org/v1/gonum/spatial/r2"
)

// A Version is a generation of the format.
type Version uint8

const (
	R2000 Version = iota // AC1015: carries units; outlines are LWPOLYLINE
	R12                  // AC1009: for old machine controls; outlines are POLYLINE
)

// A Unit is what a coordinate of the file counts.
type Unit uint8

const (
	Millimetre Unit = iota
	Inch
)

// Options choose the kind of file. The zero value is R2000 in millimetres.
type Options struct {
	Version Version
	Unit    Unit
}

func (o Options) validate() error {
	var faults []error
	if o.Version > R12 {
		faults = append(faults, &Error{Entity: "file", Field: "version", Value: fmt.Sprint(uint8(o.Version)), Rule: "must be R2000 or R12"})
	}
	if o.Unit > Inch {
		faults = append(faults, &Error{Entity: "file", Field: "unit", Value: fmt.Sprint(uint8(o.Unit)), Rule: "must be Millimetre or Inch"})
	}
	return errors.Join(faults...)
}

// size is the length of the unit in mm.
func (u Unit) size() float64 {
	if u == Inch {
		return 25.4
	}
	return 1
}

// A Layer is declared before anything is drawn on it.
type Layer struct {
	Name  string // A to Z, 0 to 9, "_" and "-", 31 characters at most
	Color uint8  // index colour, 1 to 255
}

// A Sheet is what has to be known before the first outline is drawn.
type Sheet struct {
	Options
	Layers []Layer // 32766 at most
	// Bounds is the box round everything that will be drawn, mm. It is written at
	// the head of the file; drawing outside it is an error.
	Bounds r2.Box
}

// An Error says what cannot be written.
type Error struct {
	Entity string // "polyline 3", "layer", "file"
	Layer  string // the layer it was meant for; may be empty
	Field  string // "vertex 4 x"
	Value  string
	Rule   string
}

func (e *Error) Error() string {
	where := e.Entity
	if e.Layer != "" {
		where += fmt.Sprintf(" on layer %q", e.Layer)
	}
	return fmt.Sprintf("dxfout: %s: %s %s: %s", where, e.Field, e.Value, e.Rule)
}

// farthest bounds every coordinate, mm: a kilometre of sheet is a unit slip.
const farthest = 1e6

// mostLayers is how many layers a sheet declares: group 70 of their table counts them and
// layer 0 in 16 bits. Their handles end well below those of entities.
const mostLayers = math.MaxInt16 - 1

func (s Sheet) validate() error {
	faults := []error{s.Options.validate()}
	if n := len(s.Layers); n > mostLayers {
		faults = append(faults, &Error{Entity: "file", Field: "layers", Value: strconv.Itoa(n), Rule: fmt.Sprintf("must be %d at most, the count of a table being 16 bits", mostLayers)})
	}
	seen := map[string]bool{"0": true}
	for _, l := range s.Layers {
		if !layerName(l.Name) {
			faults = append(faults, &Error{"layer", "", "name", fmt.Sprintf("%q", l.Name), `must be 1 to 31 of A-Z, 0-9, "_" and "-"`})
		}
		if l.Color == 0 {
			faults = append(faults, &Error{"layer", l.Name, "colour", "0", "must be 1 to 255"})
		}
		if seen[l.Name] {
			faults = append(faults, &Error{"layer", "", "name", fmt.Sprintf("%q", l.Name), "is declared twice"})
		}
		seen[l.Name] = true
	}
	b := s.Bounds
	for _, v := range []struct {
		field string
		x     float64
	}{{"least x", b.Min.X}, {"least y", b.Min.Y}, {"greatest x", b.Max.X}, {"greatest y", b.Max.Y}} {
		if !(math.Abs(v.x) <= farthest) {
			faults = append(faults, &Error{"bounds", "", v.field, fmt.Sprint(v.x), "must be finite and within a kilometre"})
		}
	}
	if b.Max.X < b.Min.X || b.Max.Y < b.Min.Y {
		faults = append(faults, &Error{"bounds", "", "box", fmt.Sprint(b), "must not be inside out"})
	}
	return errors.Join(faults...)
}

func layerName(s string) bool {
	if len(s) == 0 || len(s) > 31 {
		return false
	}
	for _, c := range []byte(s) {
		switch {
		case 'A' <= c && c <= 'Z', '0' <= c && c <= '9', c == '_', c == '-':
		default:
			return false
		}
	}
	return true
}
