package material

import "strconv"

// An Error says which value of an input is at fault and by which rule.
type Error struct {
	Field string // "material", "thickness", "gauge"
	Value string // as given
	Rule  string
}

func (e *Error) Error() string { return e.Field + " " + e.Value + ": " + e.Rule }

func plain(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }
