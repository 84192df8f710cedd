// Package hand names the parts of the other side of the aircraft, in all examples alike.
package hand

import (
	"cmp"

	"github.com/hangarflat/hangarflat/flat"
)

// Suffix stands behind the name of a part of the other hand, and so in the names of its files.
const Suffix = "-other-hand"

// Other is the part of the other hand. Its name and its title, which head the card, say so.
// Of a part that was fitted between measured faces it has the shape and not the fit: what the
// other side of the aircraft measures is not known.
func Other(p flat.Part) flat.Part {
	m := p.Mirrored()
	m.Title = "OTHER HAND of " + cmp.Or(p.Title, p.Name)
	m.Name += Suffix
	return m
}

// Hands are the part and, where it is wanted, that of the other hand.
func Hands(p flat.Part, other bool) []flat.Part {
	if !other {
		return []flat.Part{p}
	}
	return []flat.Part{p, Other(p)}
}
