package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

func demoJob() job {
	return job{station: demoStation, half: 4, thickness: 1.016, tolerance: 0.8, good: starboard}
}

// The truth put into the scan comes out: the skin, the depth and place of the
// knock, the hidden place, and the mold line a skin's thickness inside.
func TestTruthComesOut(t *testing.T) {
	r, err := demoJob().work(makeCloud(400_000, 7))
	require.NoError(t, err)
	require.NoError(t, r.compare(""))
	var sq float64
	const n = 720
	for i := range n {
		y, z := skin(demoStation, 2*math.Pi*float64(i)/n)
		p := r2.Vec{X: y, Y: z}
		d := r.outside.Distance(p)
		sq += d * d
		assert.Less(t, d, 0.4, "at %g°", 360*float64(i)/n)
		assert.InDelta(t, 1.016, r.mold.Distance(p), 0.45)
	}
	// The noise of 0.5 mm, and the freedom that each coordinate used.
	want := scanNoise * math.Sqrt(r.fit.Freedom/float64(len(r.true.Points)))
	assert.Less(t, math.Sqrt(sq/n), 2*want, "freedom %g", r.fit.Freedom)
	worst := bin{}
	for _, b := range r.tally() {
		if math.Abs(b.median) > math.Abs(worst.median) {
			worst = b
		}
		if sideOf(b.at) == starboard && !math.IsNaN(b.median) {
			assert.Less(t, math.Abs(b.median), 0.3)
		}
	}
	assert.InDelta(t, -dentDepth, worst.median, 0.3)
	y, z := skin(demoStation, -dentAngle)
	assert.Less(t, r2.Norm(r2.Sub(worst.at, r2.Vec{X: y, Y: z})), 60.0)
	require.Len(t, r.cut.Gaps, 1)
	g := (r.cut.Gaps[0].From + r.cut.Gaps[0].To) / 2 / r.cut.Length
	assert.InDelta(t, 1-0.385*400/r.cut.Length, g, 0.02, "to port of the keel, where the section ends")
	// The blank filed too deep over a 25th of its edge.
	assert.False(t, r.made.Pass)
	assert.InDelta(t, -1.6, r.made.Deviations[r.made.Worst].Off, 0.5)
	assert.InDelta(t, -1.5, r.made.Turn.Degrees(), 0.1)
}

// The points of this scan that lie next to the keel are a pair 1.3 mm apart, mirror images: taken
// for the step once round it kinked the section there, and left it so limp elsewhere that the
// sides went nearly straight. What bends most and least is that of the true skin.
func TestSectionIsFairWhereItCloses(t *testing.T) {
	r, err := demoJob().work(makeCloud(demoPoints, 22))
	require.NoError(t, err)
	skinBend := func(a float64) float64 {
		const h = 1e-4
		at := func(a float64) r2.Vec { y, z := skin(demoStation, a); return r2.Vec{X: y, Y: z} }
		d := r2.Scale(1/(2*h), r2.Sub(at(a+h), at(a-h)))
		dd := r2.Scale(1/(h*h), r2.Add(r2.Sub(at(a+h), at(a)), r2.Sub(at(a-h), at(a))))
		return r2.Cross(d, dd) / math.Pow(r2.Norm(d), 3)
	}
	from, to := r.fit.Range()
	lo, hi, least, most := math.Inf(1), 0.0, math.Inf(1), 0.0
	const n = 2000
	for i := range n {
		k, truth := r.fit.Curvature(from+(to-from)*float64(i)/n), skinBend(2*math.Pi*float64(i)/n)
		lo, hi, least, most = min(lo, k), max(hi, k), min(least, truth), max(most, truth)
	}
	assert.InEpsilon(t, least, lo, 0.08)
	assert.InEpsilon(t, most, hi, 0.05)
	assert.InDelta(t, r.fit.Curvature(from), r.fit.Curvature(to), 1e-9)
}

func TestDemoFilesAndOtherScans(t *testing.T) {
	dir := t.TempDir()
	// The demo's scan, thinned, in the forms a scanner writes.
	cloud := makeCloud(60_000, 3)
	var xyz, ply bytes.Buffer
	require.NoError(t, writeXYZ(&xyz, cloud))
	fmt.Fprintf(&ply, "ply\nformat binary_little_endian 1.0\nelement vertex %d\nproperty double x\nproperty double y\nproperty double z\nend_header\n", len(cloud))
	for _, p := range cloud {
		for _, v := range []float64{p.X, p.Y, p.Z} {
			ply.Write(binary.LittleEndian.AppendUint64(nil, math.Float64bits(v/1000)))
		}
	}
	xyzName, plyName := filepath.Join(dir, "hull.xyz"), filepath.Join(dir, "hull-m.ply")
	require.NoError(t, os.WriteFile(xyzName, xyz.Bytes(), 0o600))
	require.NoError(t, os.WriteFile(plyName, ply.Bytes(), 0o600))
	var first, second bytes.Buffer
	out := filepath.Join(dir, "out")
	// A blank measured at places on its own axes: whatever of it, FAIL at this tolerance.
	madeName := filepath.Join(dir, "made.csv")
	require.NoError(t, os.WriteFile(madeName, []byte("x [mm],y [mm],z [mm]\n420,900,0\n0,330,0\n-420,900,0\n0,1470,0\n"), 0o600))
	require.NoError(t, run([]string{"-o", out, "-slab", "20 mm", "-made", madeName, xyzName}, &first))
	require.NoError(t, run([]string{"-o", out, "-slab", "20 mm", "-unit", "m", plyName}, &second))
	for _, s := range []string{first.String(), second.String()} {
		assert.Contains(t, s, "port side")
	}
	assert.Contains(t, first.String(), "made.csv): FAIL, ")
	assert.NotContains(t, second.String(), "Made blank", "of a scan that was given no blank is invented")
	list, err := os.ReadDir(out)
	require.NoError(t, err)
	assert.Len(t, list, 11)
	assert.FileExists(t, filepath.Join(out, "hull-former-pattern.pdf"))
	svg, err := os.ReadFile(filepath.Join(out, "hull-distortion.svg"))
	require.NoError(t, err)
	assert.NotContains(t, string(svg), "NaN")
}

func TestBadInputWritesNothing(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "half.xyz")
	var half bytes.Buffer
	for _, p := range makeCloud(30_000, 3) {
		if p.Y > 0 {
			fmt.Fprintf(&half, "%.2f %.2f %.2f\n", p.X, p.Y+200, p.Z)
		}
	}
	require.NoError(t, os.WriteFile(name, half.Bytes(), 0o600))
	for says, args := range map[string][]string{
		"no such file":            {filepath.Join(dir, "none.ply")},
		"not a kind of scan":      {"main.go"},
		"no unit":                 {"-station", "4200"},
		"-paper":                  {"-paper", "foolscap", name},
		"-unit":                   {"-unit", "furlong", name},
		"-unit: \"1/8 in\"":       {"-unit", "1/8 in", name}, // was taken as 1 1/8 in
		"port or starboard":       {"-good", "left"},
		"nearest point of the cl": {"-station", "900 mm", name},
		"do not close":            {"-slab", "40 mm", name},
		"slab half thickness":     {"-slab", "0 mm", name},
		// Read as the name of a second scan, and cut at the demo's station.
		`"-station": one scan is cut at a time`: {name, "-station", "4200 mm"},
		"-save: writes the demo's":              {"-save", filepath.Join(dir, "out"), name},
		// The scan was saved before the fault was met.
		"-made: open": {"-save", filepath.Join(dir, "out"), "-made", filepath.Join(dir, "none.csv")},
	} {
		out := filepath.Join(dir, "out")
		err := run(append([]string{"-o", out}, args...), &bytes.Buffer{})
		if assert.ErrorContains(t, err, says) {
			_, err := os.Stat(out)
			assert.ErrorIs(t, err, os.ErrNotExist, says)
		}
	}
}
