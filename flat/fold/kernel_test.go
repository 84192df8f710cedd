package fold_test

import (
	"bufio"
	"bytes"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/flat/fold"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// A solid model of the parts in testdata/corpus.txt, built by a general geometry
// kernel (Open CASCADE) from mold lines, angles, radii and thickness, was measured and
// its numbers stored: testdata/kernel.txt. Here the same definitions are laid out flat
// by hand arithmetic and folded. The two have no line of code in common.

// fields reads the lines of a file as words, without remarks.
func fields(t *testing.T, path string) [][]string {
	t.Helper()
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	return words(text)
}

func words(text []byte) (lines [][]string) {
	for scan := bufio.NewScanner(bytes.NewReader(text)); scan.Scan(); {
		line, _, _ := strings.Cut(scan.Text(), "#")
		if f := strings.Fields(line); len(f) > 0 {
			lines = append(lines, f)
		}
	}
	return lines
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err)
	return x
}

// A laidPart is a part of the corpus on its way to the flat.
type laidPart struct {
	name   string
	t, k   float64
	flat   fold.Flat
	panels []laidPanel
	bends  []string
}

// A laidPanel places a panel's own coordinates on the flat.
type laidPanel struct {
	name    string
	o, x, y r2.Vec
	corners []string
	lead    []r2.Vec // the start of the far tangent line
	tail    []r2.Vec // and its end
}

func (p *laidPanel) at(u, v float64) r2.Vec {
	return r2.Add(p.o, r2.Add(r2.Scale(u, p.x), r2.Scale(v, p.y)))
}

// hang lays a flange out beyond its bend: tangent line one setback within the mold
// line, BA = A(R + KT) of metal, then the flange from its own tangent line.
func (p *laidPart) hang(t *testing.T, f []string) {
	t.Helper()
	n := func(i int) float64 { return number(t, f[i]) }
	parent := 0
	for p.panels[parent].name != f[2] {
		parent++
	}
	a, b := p.panels[parent].at(n(3), n(4)), p.panels[parent].at(n(5), n(6))
	along := r2.Unit(r2.Sub(b, a))
	out := r2.Vec{X: along.Y, Y: -along.X}
	angle, radius := n(8)*math.Pi/180, n(9)
	setback := (radius + p.t) * math.Tan(angle/2)
	allowance := angle * (radius + p.k*p.t)
	station := func(u, v float64) r2.Vec { return r2.Add(a, r2.Add(r2.Scale(u, along), r2.Scale(v, out))) }
	bend := fold.Bend{
		Parent: parent, Child: len(p.panels), A: station(n(10), -setback), B: station(n(11), -setback),
		Width: allowance, Angle: measure.Angle(angle), Radius: radius, Up: f[7] == "up",
		Zone: []r2.Vec{station(n(10), -setback), station(n(12), allowance-setback), station(n(13), allowance-setback), station(n(11), -setback)},
	}
	p.flat.Bends, p.bends = append(p.flat.Bends, bend), append(p.bends, f[1])
	p.panels = append(p.panels, laidPanel{
		name: f[1], o: station(0, allowance-2*setback), x: along, y: out, corners: f[15:],
		lead: bend.Zone[1:2], tail: bend.Zone[2:3],
	})
}

// outline gathers the corners of a panel, once all flanges are laid out.
func (p *laidPart) outline(t *testing.T, panel *laidPanel) []r2.Vec {
	t.Helper()
	corners := append([]r2.Vec(nil), panel.lead...)
	for _, c := range panel.corners {
		if x, y, ok := strings.Cut(c, ","); ok {
			corners = append(corners, panel.at(number(t, x), number(t, y)))
			continue
		}
		i := 0
		for p.bends[i] != c {
			i++
		}
		corners = append(corners, p.flat.Bends[i].A, p.flat.Bends[i].B)
	}
	return append(corners, panel.tail...)
}

func corpus(t *testing.T) []*laidPart {
	t.Helper()
	var parts []*laidPart
	var p *laidPart
	for _, f := range fields(t, "testdata/corpus.txt") {
		switch f[0] {
		case "part":
			p = &laidPart{name: f[1]}
			parts = append(parts, p)
		case "sheet":
			p.t, p.k = number(t, f[1]), number(t, f[2])
			p.flat.Thickness = p.t
		case "web":
			p.panels = append(p.panels, laidPanel{name: "web", x: r2.Vec{X: 1}, y: r2.Vec{Y: 1}, corners: f[2:]})
		case "flange":
			p.hang(t, f)
		}
	}
	for _, p := range parts {
		for i := range p.panels {
			p.flat.Panels = append(p.flat.Panels, p.outline(t, &p.panels[i]))
		}
	}
	return parts
}

// The kernel's numbers are printed to 1e-9 mm. Plane and cylinder faces it measures to
// rounding. The ends of a mitred bend it draws through 49 sections of a helicoid; what
// the spline leaves of that was found to lie below 1e-8 of the volume.
const (
	kernelLength = 2e-8 // mm
	kernelPart   = 1e-8 // of a volume or an area
)

func TestKernel(t *testing.T) {
	parts := corpus(t)
	require.Len(t, parts, 6)
	var p *laidPart
	var s fold.Solid
	var wholes, pieces, next int
	for _, f := range fields(t, "testdata/kernel.txt") {
		n := func(i int) float64 { return number(t, f[i]) }
		vec := func(i int) r3.Vec { return r3.Vec{X: n(i), Y: n(i + 1), Z: n(i + 2)} }
		what := f[0] + " " + f[1]
		switch f[0] {
		case "part":
			p, next = parts[wholes], 0
			require.Equal(t, p.name, f[1])
			var err error
			s, err = fold.Fold(p.flat)
			require.NoError(t, err, what)
			assert.Empty(t, s.Clashes(1e-3, nil), "the pieces of %s touch and do not lap", p.name)
		case "panel":
			corners := p.flat.Panels[next]
			require.Equal(t, p.panels[next].name, f[1])
			area, center := shoelace(corners)
			assert.InEpsilon(t, n(3), area, kernelPart, "%s of %s", what, p.name)
			assert.InDelta(t, 0, r3.Norm(r3.Sub(vec(4), s.Panel(next, center, 0))), kernelLength, "%s of %s: centre of the marking face", what, p.name)
			assert.InDelta(t, 0, r3.Norm(r3.Sub(vec(7), s.Frames[next].Z)), 1e-11, "%s of %s: direction", what, p.name)
			next++
			pieces++
		case "bend":
			only := alone(t, p.flat, s, next-1)
			assert.InEpsilon(t, n(2), only.Volume, kernelPart, "%s of %s", what, p.name)
			assert.InEpsilon(t, n(3), only.Middle, kernelPart, "%s of %s: middle surface", what, p.name)
			assert.InDelta(t, 0, r3.Norm(r3.Sub(vec(4), only.Center)), kernelLength, "%s of %s: centre of gravity", what, p.name)
			pieces++
		case "whole":
			bulk, err := s.Bulk(nil)
			require.NoError(t, err)
			assert.InEpsilon(t, n(2), bulk.Volume, kernelPart, what)
			assert.InEpsilon(t, n(3), bulk.Middle, kernelPart, what)
			assert.InDelta(t, 0, r3.Norm(r3.Sub(vec(4), bulk.Center)), kernelLength, what)
			wholes++
		case "fused":
			bulk, err := s.Bulk(nil)
			require.NoError(t, err)
			// The kernel joins faces within 1e-7 mm of each other.
			assert.InEpsilon(t, n(2), bulk.Volume, 1e-7, what)
		}
	}
	assert.Equal(t, 6, wholes)
	assert.Equal(t, 44, pieces, "panels and bends compared")
}

// shoelace gives the area and centroid of a polygon.
func shoelace(corners []r2.Vec) (area float64, center r2.Vec) {
	for i, p := range corners {
		q := corners[(i+1)%len(corners)]
		c := r2.Cross(p, q)
		area += c / 2
		center = r2.Add(center, r2.Scale(c/6, r2.Add(p, q)))
	}
	return area, r2.Scale(1/area, center)
}

// alone is the metal of one bend: of the whole, less the same sheet without its zone.
func alone(t *testing.T, f fold.Flat, s fold.Solid, bend int) fold.Bulk {
	t.Helper()
	without := f
	without.Bends = append([]fold.Bend(nil), f.Bends...)
	without.Bends[bend].Zone = nil
	rest, err := fold.Fold(without)
	require.NoError(t, err)
	all, err := s.Bulk(nil)
	require.NoError(t, err)
	other, err := rest.Bulk(nil)
	require.NoError(t, err)
	v := all.Volume - other.Volume
	moment := r3.Sub(r3.Scale(all.Volume, all.Center), r3.Scale(other.Volume, other.Center))
	return fold.Bulk{Volume: v, Middle: all.Middle - other.Middle, Center: r3.Scale(1/v, moment)}
}

// A radius, an angle or a setback that is wrong by a thousandth shows: the comparison
// can fail.
func TestKernelSeesFaults(t *testing.T) {
	p := corpus(t)[3]
	bulk := func(change func(b *fold.Bend)) fold.Bulk {
		f := p.flat
		f.Bends = append([]fold.Bend(nil), f.Bends...)
		change(&f.Bends[1])
		s, err := fold.Fold(f)
		require.NoError(t, err)
		b, err := s.Bulk(nil)
		require.NoError(t, err)
		return b
	}
	right := bulk(func(*fold.Bend) {})
	for name, change := range map[string]func(b *fold.Bend){
		"radius": func(b *fold.Bend) { b.Radius *= 1.001 },
		"angle":  func(b *fold.Bend) { b.Angle *= 1.001 },
		"turn":   func(b *fold.Bend) { b.Up = !b.Up },
		"width":  func(b *fold.Bend) { b.Width *= 1.001 },
	} {
		wrong := bulk(change)
		off := r3.Norm(r3.Sub(wrong.Center, right.Center))
		assert.True(t, off > 100*kernelLength || math.Abs(wrong.Volume-right.Volume) > 100*kernelPart*right.Volume, name)
	}
}

// kernelPackages are what kernel.cpp needs; in bookworm a header of the first stands
// in the last.
var kernelPackages = "g++ libocct-foundation-dev libocct-modeling-data-dev libocct-modeling-algorithms-dev libocct-visualization-dev"

// The stored numbers are what the program beside them prints.
func TestKernelNumbersAreFresh(t *testing.T) {
	if testing.Short() {
		t.Skip("compiles the kernel's program")
	}
	program := filepath.Join(t.TempDir(), "kernel")
	build := exec.Command("g++", "-O1", "-I/usr/include/opencascade", "testdata/kernel.cpp", "-o", program,
		"-lTKOffset", "-lTKBO", "-lTKPrim", "-lTKTopAlgo", "-lTKGeomAlgo", "-lTKBRep", "-lTKGeomBase", "-lTKG3d", "-lTKMath", "-lTKernel")
	if out, err := build.CombinedOutput(); err != nil {
		why := "cannot build testdata/kernel.cpp (Debian: " + kernelPackages + "): " + err.Error()
		if os.Getenv("CI") == "true" {
			t.Fatalf("%s\n%s", why, out)
		}
		t.Skip(why)
	}
	definition, err := os.Open("testdata/corpus.txt")
	require.NoError(t, err)
	defer func() { assert.NoError(t, definition.Close()) }()
	run := exec.Command(program)
	run.Stdin = definition
	printed, err := run.Output()
	require.NoError(t, err)
	fresh, stored := words(printed), fields(t, "testdata/kernel.txt")
	require.Equal(t, len(stored), len(fresh))
	for i, f := range stored {
		require.Equal(t, len(f), len(fresh[i]))
		require.Equal(t, f[:2], fresh[i][:2])
		for k := 2; k < len(f); k++ {
			want := number(t, f[k])
			// Another build of the kernel may round otherwise.
			assert.InDelta(t, want, number(t, fresh[i][k]), 1e-9*max(1, math.Abs(want)), "%v: rerun testdata/kernel.cpp", f[:2])
		}
	}
}
