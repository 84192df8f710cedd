package flat

// A Proof is what folding the blank back, without knowledge of the part, left
// over against what the part asked for. All are lengths in mm.
type Proof struct {
	MoldLine float64 // largest distance of a folded mold line from the one asked for
	Plane    float64 // largest distance of a folded flange face from its plane
	Hole     float64 // largest distance of a folded hole centre from its place
	Edge     float64 // largest distance of a folded free edge from its place
	// Fit is the largest distance of a folded flange's outside face from the face
	// of the surroundings it lies against, less clearance; zero without a site.
	Fit float64
}

// Largest returns the largest of the residuals, mm.
func (p Proof) Largest() float64 { return max(p.MoldLine, p.Plane, p.Hole, p.Edge, p.Fit) }
