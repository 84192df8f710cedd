package flat_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/rivet"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
)

// riveted is a web 200 by 100 mm with one flange of 30 mm from its lower edge.
func riveted(rows ...flat.Riveting) flat.Part {
	return flat.Part{
		Name: "rail", Radius: 3,
		Sheet: material.Sheet{Material: material.Material{Alloy: "2024", Temper: "T3"}, Thickness: 1},
		Web: flat.Web{Edges: []flat.Edge{
			{Name: "keel", Flanges: []flat.Flange{{Name: "keel", Angle: 90 * measure.Degree, Height: 30, Rivets: rows}}},
			{Start: r2.Vec{X: 200}}, {Start: r2.Vec{X: 200, Y: 100}}, {Start: r2.Vec{Y: 100}},
		}},
	}
}

// A plainRow asks for holes in the flange at the given places.
type plainRow []r2.Vec

func (plainRow) Validate(func(field, value, rule string)) {}

func (p plainRow) Lay(b flat.Blank, panel int) ([]flat.RivetRow, []flat.Finding, error) {
	row := flat.RivetRow{Name: "row"}
	for _, at := range p {
		row.Centers = append(row.Centers, b.Panels[panel].At(at))
		row.Holes = append(row.Holes, flat.Hole{At: at, Diameter: 2.4, Purpose: flat.RivetPilot})
	}
	return []flat.RivetRow{row}, []flat.Finding{{Place: "row", Text: "own words"}}, nil
}

// What is asked for is refused with the part's other faults, under the path of the field.
func TestRivetingRefused(t *testing.T) {
	p := riveted(nil, rivet.FlangeRows{Rivet: rivet.Rivet{Diameter: 3}})
	p.Name = ""
	err := p.Validate()
	require.Error(t, err)
	assert.Contains(t, err.Error(), "name is missing")
	assert.Contains(t, err.Error(), `edge "keel", flange "keel", rivets 1: are nil`)
	assert.Contains(t, err.Error(), `edge "keel", flange "keel", rivets 2: pitch 0 mm: must be 0.5 mm to 10 m`)

	p = riveted(plainRow{{X: 20, Y: 18}})
	p.Web.Edges[0].Flanges[0].AngleEnd = 80 * measure.Degree
	_, err = flat.Develop(p)
	var fault *flat.Error
	require.True(t, errors.As(err, &fault))
	assert.Equal(t, "web.edges[0].flanges[0].rivets", fault.Path)
	assert.Contains(t, fault.Rule, "bends along curves")
	p.Web.Edges[0].Flanges[0].AngleEnd = 90 * measure.Degree // no twist
	_, err = flat.Develop(p)
	assert.NoError(t, err)
}

// The holes of a row are inspected with what else is in the flange: in a joggle's run-out, 50 to 60 mm along,
// lies the second; the third is drawn along by it. The rows' own findings stand with the part's.
func TestRowHolesAreHolesOfTheFlange(t *testing.T) {
	p := riveted(plainRow{{X: 20, Y: 18}, {X: 55, Y: 18}, {X: 90, Y: 18}})
	f := &p.Web.Edges[0].Flanges[0]
	f.Joggles = []flat.Joggle{{At: 50, Run: 10, Depth: 1}}
	f.Holes = []flat.Hole{{Name: "own", At: r2.Vec{X: 120, Y: 18}, Diameter: 3}}
	b, err := flat.Develop(p)
	require.NoError(t, err)
	require.Len(t, b.Holes, 4)
	assert.Equal(t, []int{0, 1, 1, 1}, []int{b.Holes[0].Row, b.Holes[1].Row, b.Holes[2].Row, b.Holes[3].Row})
	assert.Equal(t, 1, b.Rows[0].Panel)
	assert.Less(t, b.Proof.Hole, 1e-6)
	assert.Len(t, f.Holes, 1, "the caller's part is left alone")
	said := func(text string) (n int) {
		for _, f := range b.Findings {
			if strings.Contains(f.Text, text) {
				n++
			}
		}
		return n
	}
	assert.Equal(t, 1, said("own words"))
	assert.Equal(t, 1, said("rivet pilot 3 lies in the run-out"))
}

// What is found alike of the holes of a row is said once, of the worst, with their number; of holes given
// by their place each has its own line. Within a row holes are left to their pitch, but not against
// others: the row's hole at 60 mm touches "own", and is stopped.
func TestFindingsOnceARow(t *testing.T) {
	p := riveted(plainRow{{X: 20, Y: 18}, {X: 40, Y: 18.3}, {X: 60, Y: 18}}, plainRow{{X: 100, Y: 18}, {X: 101, Y: 18}})
	f := &p.Web.Edges[0].Flanges[0]
	f.Height = 20 // 20 - 18 - 1.2 = 0.8 mm of metal is left, beside one 0.5 mm, where 2 mm are wanted
	f.Holes = []flat.Hole{{Name: "own", At: r2.Vec{X: 61, Y: 18}, Diameter: 2.4}, {Name: "other", At: r2.Vec{X: 150, Y: 18}, Diameter: 2.4}}
	b, err := flat.Develop(p)
	require.NoError(t, err)
	var places []string
	for _, f := range b.Findings {
		if strings.Contains(f.Text, "little metal is left beside the edge") {
			places = append(places, fmt.Sprintf("%s: %.1f", f.Place, f.Figure))
		}
	}
	assert.Equal(t, []string{
		`hole "own" in keel: 0.8`, `hole "other" in keel: 0.8`,
		"rivet pilot 4 in keel, the worst of 3: 0.5", "rivet pilot 6 in keel, the worst of 2: 0.8",
	}, places)
	var into []string
	for _, f := range b.Findings {
		if strings.Contains(f.Text, "runs into") {
			into = append(into, f.Place+" "+f.Text)
		}
	}
	assert.Equal(t, []string{`rivet pilot 5 in keel opening runs into hole "own" in keel`}, into)
}
