// Package outline is the plane geometry of a blank: chains of straight lines and
// circular arcs.
package outline
