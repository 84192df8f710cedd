package material

// A Material is an alloy in a temper, bare or clad. The zero value names no
// material and answers every look-up with an error.
type Material struct {
	Alloy  string // "2024", "4130", "Ti-6Al-4V"
	Temper string // "T3", "O", "normalized"
	Clad   bool
}
