package paper

import "fmt"

// An Error says what cannot be drawn or set out.
type Error struct {
	Field string // "background"
	Value string
	Rule  string
}

func (e *Error) Error() string { return fmt.Sprintf("paper: %s %s: %s", e.Field, e.Value, e.Rule) }
