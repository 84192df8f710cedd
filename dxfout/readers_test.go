package dxfout

import (
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// outside finds a reader that is no part of this project. On the project's own
// checks it must be there; elsewhere the test is skipped.
func outside(t *testing.T, program string, args ...string) *exec.Cmd {
	t.Helper()
	path, err := exec.LookPath(program)
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatalf("%s is needed here: %v", program, err)
		}
		t.Skipf("%s is not installed: %v", program, err)
	}
	return exec.Command(path, args...)
}

// reading is what testdata/read.py finds.
type reading struct {
	Version     string
	Units       int
	Measurement int
	Faults      []string
	Entities    map[string]int
	Areas       map[string][]float64
	Open        int
	Text        []string
}

// python runs Debian's own interpreter, for which ezdxf is packaged.
const python = "/usr/bin/python3"

func readAll(t *testing.T, files []string) []reading {
	t.Helper()
	if err := outside(t, python, "-c", "import ezdxf").Run(); err != nil {
		if os.Getenv("CI") != "" {
			t.Fatalf("ezdxf is needed here: %v", err)
		}
		t.Skipf("ezdxf is not installed: %v", err)
	}
	cmd := outside(t, python, append([]string{"testdata/read.py"}, files...)...)
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	require.NoError(t, err)
	var found []reading
	require.NoError(t, json.Unmarshal(out, &found))
	require.Len(t, found, len(files))
	return found
}

func saved(t *testing.T, d drawing.Drawing) (files []string) {
	t.Helper()
	folder := t.TempDir()
	for _, o := range kinds {
		name := filepath.Join(folder, o.String()+".dxf")
		require.NoError(t, os.WriteFile(name, write(t, d, o), 0o644))
		files = append(files, name)
	}
	return files
}

// ezdxf, an independent reader, finds nothing to mend, the entities that were
// drawn, and the area that follows by hand. Vertices are rounded to 1e-8 of the
// file's unit: at most 0.7e-8 in along an edge of about 34 in, in 29 in², is 8e-9.
func TestReadByEzdxf(t *testing.T) {
	d, area := slotted()
	for i, found := range readAll(t, saved(t, d)) {
		o := kinds[i]
		assert.Empty(t, found.Faults, o.String())
		polyline := [2]string{"LWPOLYLINE", "POLYLINE"}[o.Version]
		assert.Equal(t, map[string]int{
			polyline + " CUT": 2, "CIRCLE HOLE": 2, "LINE BEND_TANGENT": 1, "LINE MARK": 1, "CIRCLE RIVET": 1, "ARC MOLD": 1, polyline + " SIGHT": 1,
			"TEXT NOTE": 4, // a label, the unit, two notes
		}, found.Entities, o.String())
		assert.Equal(t, 1, found.Open)
		assert.Equal(t, [2]int{4, 1}[o.Unit], found.Units)
		assert.Equal(t, [2]int{1, 0}[o.Unit], found.Measurement)
		unit := o.Unit.size()
		cut, holes := found.Areas["CUT"], found.Areas["HOLE"]
		assert.InEpsilon(t, area, (cut[0]-math.Abs(cut[1])-holes[0]-holes[1])*unit*unit, 1e-8, o.String())
	}
}

// The reader sees what is wrong with a broken file, so its silence means something.
func TestEzdxfSeesAWrongBulge(t *testing.T) {
	d, area := slotted()
	d.Paths[0].Vertices[1].Bulge *= 0.99
	found := readAll(t, saved(t, d))[0]
	got := found.Areas["CUT"][0] - math.Abs(found.Areas["CUT"][1]) - found.Areas["HOLE"][0] - found.Areas["HOLE"][1]
	assert.Greater(t, math.Abs(got-area), 1e-3)
}

// GDAL, another, agrees. It chops arcs: a step of s radians loses s²/6 of the area
// between arc and centre, so 0.02° keeps within 2.1e-8 of each circle's area.
func TestReadByGDAL(t *testing.T) {
	d, area := slotted()
	for i, name := range saved(t, d) {
		o := kinds[i]
		cmd := outside(t, "ogr2ogr", "--config", "OGR_ARC_STEPSIZE", "0.02", "-f", "GeoJSON", "/vsistdout/", name, "-lco", "COORDINATE_PRECISION=15")
		out, err := cmd.Output()
		require.NoError(t, err)
		var found struct {
			Features []struct {
				Properties struct{ Layer, Text string }
				Geometry   struct {
					Type        string
					Coordinates json.RawMessage
				}
			}
		}
		require.NoError(t, json.Unmarshal(out, &found))
		count := map[string]int{}
		total := 0.0
		sign := 1.0 // the first loop is the plate, the rest are openings
		for _, f := range found.Features {
			layer := f.Properties.Layer
			count[layer]++
			if layer != "CUT" && layer != "HOLE" {
				continue
			}
			var line [][]float64
			if f.Geometry.Type == "Polygon" {
				var rings [][][]float64
				require.NoError(t, json.Unmarshal(f.Geometry.Coordinates, &rings))
				line = rings[0]
			} else {
				require.NoError(t, json.Unmarshal(f.Geometry.Coordinates, &line))
			}
			assert.InDelta(t, 0, math.Hypot(line[0][0]-line[len(line)-1][0], line[0][1]-line[len(line)-1][1]), 1e-9, "closed")
			sum := 0.0
			for k := 1; k < len(line); k++ {
				sum += (line[k-1][0]*line[k][1] - line[k][0]*line[k-1][1]) / 2
			}
			total += sign * math.Abs(sum)
			sign = -1
		}
		assert.Equal(t, map[string]int{"CUT": 2, "HOLE": 2, "BEND_TANGENT": 1, "MOLD": 1, "SIGHT": 1, "MARK": 1, "RIVET": 1, "NOTE": 4}, count, o.String())
		assert.InEpsilon(t, area, total*o.Unit.size()*o.Unit.size(), 1e-7, o.String())
	}
}
