package flat

import "github.com/hangarflat/hangarflat/flat/outline"

// LaidOut is Develop before its proof, and Proved before its findings: for the
// benchmarks, which hold each to a goal of its own.
func LaidOut(p Part) (Blank, error) {
	return develop(p, (*layout).web, (*layout).openings, (*layout).weigh)
}

// Proved is Develop before its findings.
func Proved(p Part) (Blank, error) {
	return develop(p, (*layout).web, (*layout).openings, (*layout).weigh, (*layout).prove)
}

// PastItsStations is how far the tangent line of each bend would run past the stations it stands within, were it drawn
// from one X to another.
func PastItsStations(p Part, from, to float64) (past []float64) {
	_, _ = develop(p, (*layout).web, func(l *layout) {
		for _, s := range l.sides {
			past = append(past, s.beyond(outline.Polyline(s.plan(from, 0), s.plan(to, 0))))
		}
	})
	return past
}
