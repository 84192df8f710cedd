package flat

// LaidOut is Develop before its proof, and Proved before its findings: for the
// benchmarks, which hold each to a goal of its own.
func LaidOut(p Part) (Blank, error) {
	return develop(p, (*layout).web, (*layout).openings, (*layout).weigh)
}

// Proved is Develop before its findings.
func Proved(p Part) (Blank, error) {
	return develop(p, (*layout).web, (*layout).openings, (*layout).weigh, (*layout).prove)
}
