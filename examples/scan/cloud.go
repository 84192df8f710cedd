package main

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/spatial/r3"
)

// The demo scan: the after-body of the Corrie about station 4200, invented, and made
// here so that the truth is known. X aft, Y to starboard, Z up.
const (
	demoStation = 4200.0
	demoPoints  = 1_000_000
	demoSeed    = 20
	scanNoise   = 0.5 // standard deviation square to the skin, mm
	strayShare  = 0.004
	// A knock on the port side, deepest at dentAngle from straight down.
	dentDepth = 7.0
	dentAngle = 2.0  // radians, clockwise seen from aft: to port
	dentWidth = 0.22 // radians, of the bell's shoulder
	// Where a stand hid the skin from the scanner.
	gapFrom, gapTo = 0.35, 0.42 // radians to port
)

// skin is the true outside of the skin, without the knock: half breadth and height
// of the section at station x, for the angle a from straight down, positive to
// starboard. An oval that is fuller below.
func skin(x, a float64) (y, z float64) {
	shrink := 1 - (x-demoStation)/9000 // the after-body tapers aft
	b, h := 410*shrink, 560*shrink
	fuller := 1 + 0.06*math.Cos(a)
	return b * math.Sin(a) * fuller, 900 - h*math.Cos(a)
}

func dent(a float64) float64 {
	d := (a + dentAngle) / dentWidth
	return dentDepth * math.Exp(-d*d/2)
}

// makeCloud is a scan of the skin between stations 4100 and 4300.
func makeCloud(n int, seed uint64) []r3.Vec {
	rnd := rand.New(rand.NewPCG(seed, 0))
	out := make([]r3.Vec, 0, n)
	for len(out) < n {
		x := demoStation - 100 + 200*rnd.Float64()
		if rnd.Float64() < strayShare { // dust, a hose, somebody's sleeve
			out = append(out, r3.Vec{X: x, Y: 700 * (2*rnd.Float64() - 1), Z: 200 + 1400*rnd.Float64()})
			continue
		}
		a := math.Pi * (2*rnd.Float64() - 1)
		if -a > gapFrom && -a < gapTo {
			continue
		}
		y, z := skin(x, a)
		const step = 1e-5
		y1, z1 := skin(x, a+step)
		ty, tz := y1-y, z1-z
		l := math.Hypot(ty, tz)
		in := dent(a) + scanNoise*rnd.NormFloat64()
		out = append(out, r3.Vec{X: x, Y: y - in*tz/l, Z: z + in*ty/l})
	}
	return out
}
