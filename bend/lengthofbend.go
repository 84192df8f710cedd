package bend

// LengthOfBend is a formula of Machinery's Handbook for parts bent with simple tools
// or on the bench: L = c·T + 1.57·R for 90°, in proportion for other angles. The 1.57 is
// π/2 cut short, 0.05 % of R.
type LengthOfBend uint8

// The groups of material, formulas (32) to (34).
const (
	SoftCopper LengthOfBend = 1 + iota // soft brass, soft copper: 0.55
	SoftSteel                          // half-hard copper and brass, soft steel, aluminium: 0.64
	HardSheet                          // bronze, hard copper, cold-rolled and spring steel: 0.71
)

type lengthLaw struct {
	t, r float64
	law  Law
}

// Allowance answers any valid bend for one of the three groups. It returns an [*Error] for any
// other group, and the errors of [Bend.Validate].
func (g LengthOfBend) Allowance(b Bend) (Allowance, error) {
	if !b.valid() {
		return Allowance{}, b.Validate()
	}
	if g < SoftCopper || g > HardSheet {
		return Allowance{}, &Error{"group", plain(float64(g)), "name a group of material, such as bend.SoftSteel"}
	}
	l := &lengthLaws[g-1]
	length := (float64(l.t*b.Thickness) + float64(l.r*b.Radius)) * (b.Angle.Degrees() / 90)
	return Allowance{Length: length, K: (length/float64(b.Angle) - b.Radius) / b.Thickness, Law: &l.law}, nil
}
