package flat_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/survey"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// leaning returns a plane through at whose outward normal lies in the direction
// out of the plane of the web (z = 0) and is raised by tilt toward +z.
func leaning(at r3.Vec, out r2.Vec, tilt float64) survey.Plane {
	sin, cos := math.Sincos(tilt * math.Pi / 180)
	u := r2.Unit(out)
	return survey.Plane{Point: at, Normal: r3.Vec{X: cos * u.X, Y: cos * u.Y, Z: sin}}
}

func stock() flat.Part {
	return flat.Part{
		Name: "bay", Radius: 4.7,
		Sheet: material.Sheet{Material: material.Material{Alloy: "2024", Temper: "T3"}, Thickness: 1},
	}
}

func surroundings() flat.Surroundings {
	up := func() *flat.Flange { return &flat.Flange{Height: 18} }
	return flat.Surroundings{
		Web:         survey.Plane{Normal: r3.Vec{Z: 1}},
		MarkingSide: r3.Vec{Z: 50},
		Faces: []flat.Face{
			{Name: "keel", Plane: leaning(r3.Vec{}, r2.Vec{Y: -1}, 0), Flange: up()},
			{Name: "fwd", Plane: leaning(r3.Vec{X: 200}, r2.Vec{X: 1}, -7), Flange: up()},
			{Name: "skin", Plane: leaning(r3.Vec{Y: 120}, r2.Vec{Y: 1}, 5), Flange: &flat.Flange{Height: 18, Turn: flat.Down}},
			{Name: "aft", Plane: leaning(r3.Vec{}, r2.Vec{X: -1}, 7), Flange: up()},
		},
	}
}

// Hand derivation, T = 1. An outside face whose outward normal is raised by t
// toward the marking face makes an angle of 90 + t turned up (the flange leans in
// over the web) and 90 - t turned down. A flange turned up has its mold line on the
// far face, z = -1, where a plane raised by t through the marking face at d stands
// at d + tan t: normal·(p - d) = 0 gives cos t·(p - d) + sin t·(-1) = 0. A flange
// turned down has it on the marking face, at d itself.
func TestBetween(t *testing.T) {
	p, err := flat.Between(stock(), surroundings())
	require.NoError(t, err)
	tan7 := math.Tan(7 * math.Pi / 180)
	for i, want := range []struct {
		name  string
		angle float64
	}{{"keel", 90}, {"fwd", 83}, {"skin", 85}, {"aft", 97}} {
		e := p.Web.Edges[i]
		assert.Equal(t, want.name, e.Name)
		assert.InDelta(t, want.angle, e.Flanges[0].Angle.Degrees(), 1e-9)
	}
	// fwd at x = 200 + tan(-7°), aft at -x = tan 7°, so x = -tan 7°: both move aft
	// alike and the length stays 200. The first corner is aft/keel.
	assert.InDelta(t, 200, p.Web.Edges[1].Start.X, 1e-9)
	assert.InDelta(t, 120, p.Web.Edges[2].Start.Y, 1e-9)
	assert.InDelta(t, -tan7, p.Site.O.X, 1e-9)

	b, err := flat.Develop(p)
	require.NoError(t, err)
	assert.Less(t, b.Proof.Largest(), 1e-9)
	assert.Positive(t, b.Proof.Fit, "the fit is measured, not left at zero")
}

// A clearance moves a face in by its own amount: the part gets shorter by that over
// the cosine of the lean.
func TestClearance(t *testing.T) {
	s := surroundings()
	s.Faces[1].Clearance = 0.8
	p, err := flat.Between(stock(), s)
	require.NoError(t, err)
	assert.InDelta(t, 200-0.8/math.Cos(7*math.Pi/180), p.Web.Edges[1].Start.X, 1e-9)
}

// A plain edge stays clear of its face at both faces of the web.
func TestPlainEdgeClearsItsFace(t *testing.T) {
	for _, tilt := range []float64{-20, 20} {
		s := surroundings()
		s.Faces[1] = flat.Face{Name: "fwd", Plane: leaning(r3.Vec{X: 200}, r2.Vec{X: 1}, tilt)}
		p, err := flat.Between(stock(), s)
		require.NoError(t, err)
		for _, z := range []float64{0, -1} {
			corner := p.Web.Edges[1].Start
			at := p.Site.Point(r3.Vec{X: corner.X, Y: corner.Y, Z: z})
			assert.LessOrEqual(t, s.Faces[1].Plane.Distance(at), 1e-9)
		}
	}
}

// Where the axes of the hull lie, which way the normals point, in which direction
// the faces are listed and which one comes first change nothing of the part.
func TestBetweenDoesNotCareHowItIsMeasured(t *testing.T) {
	want, err := flat.Between(stock(), surroundings())
	require.NoError(t, err)
	wantBlank, err := flat.Develop(want)
	require.NoError(t, err)
	r := rand.New(rand.NewPCG(11, 3))
	for range 50 {
		s := surroundings()
		turn := r3.NewRotation(2*math.Pi*r.Float64(), r3.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()})
		shift := r3.Vec{X: 3000 * r.NormFloat64(), Y: 500 * r.NormFloat64(), Z: 500 * r.NormFloat64()}
		move := func(q survey.Plane) survey.Plane {
			sign := float64(1 - 2*r.IntN(2))
			return survey.Plane{Point: r3.Add(turn.Rotate(q.Point), shift), Normal: r3.Scale(sign, turn.Rotate(q.Normal))}
		}
		s.Web = move(s.Web)
		s.MarkingSide = r3.Add(turn.Rotate(s.MarkingSide), shift)
		for i := range s.Faces {
			s.Faces[i].Plane = move(s.Faces[i].Plane)
		}
		if r.IntN(2) == 0 {
			slices.Reverse(s.Faces)
		}
		p, err := flat.Between(stock(), s)
		require.NoError(t, err)
		b, err := flat.Develop(p)
		require.NoError(t, err)
		assert.InDelta(t, wantBlank.Area, b.Area, 1e-6)
		assert.Less(t, b.Proof.Fit, 1e-6)
		angles := map[string]measure.Angle{}
		for _, line := range b.Bends {
			angles[line.Name] = line.Bend.Angle
		}
		for _, line := range wantBlank.Bends {
			assert.InDelta(t, line.Bend.Angle.Degrees(), angles[line.Name].Degrees(), 1e-8, line.Name)
		}
	}
}

func TestBetweenRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*flat.Part, *flat.Surroundings)
		path   string
	}{
		"web no plane":         {func(_ *flat.Part, s *flat.Surroundings) { s.Web = survey.Plane{} }, "surroundings.web.plane"},
		"face no plane":        {func(_ *flat.Part, s *flat.Surroundings) { s.Faces[2].Plane.Normal.X = math.NaN() }, "surroundings.faces[2].plane"},
		"marking side on web":  {func(_ *flat.Part, s *flat.Surroundings) { s.MarkingSide = r3.Vec{X: 40} }, "surroundings.marking_side"},
		"marking side NaN":     {func(_ *flat.Part, s *flat.Surroundings) { s.MarkingSide.Y = math.NaN() }, "surroundings.marking_side"},
		"two faces":            {func(_ *flat.Part, s *flat.Surroundings) { s.Faces = s.Faces[:2] }, "surroundings.faces"},
		"clearance NaN":        {func(_ *flat.Part, s *flat.Surroundings) { s.Faces[0].Clearance = math.NaN() }, "surroundings.faces[0].clearance"},
		"clearance negative":   {func(_ *flat.Part, s *flat.Surroundings) { s.Faces[0].Clearance = -1 }, "surroundings.faces[0].clearance"},
		"angle given":          {func(_ *flat.Part, s *flat.Surroundings) { s.Faces[0].Flange.Angle = 1 }, "surroundings.faces[0].flange.angle"},
		"face along the web":   {func(_ *flat.Part, s *flat.Surroundings) { s.Faces[3].Plane = leaning(r3.Vec{}, r2.Vec{X: -1}, 86) }, "surroundings.faces[3].plane"},
		"neighbours parallel":  {func(_ *flat.Part, s *flat.Surroundings) { s.Faces[1], s.Faces[2] = s.Faces[2], s.Faces[1] }, "surroundings.faces"},
		"clearance eats all":   {func(_ *flat.Part, s *flat.Surroundings) { s.Faces[0].Clearance = 60; s.Faces[2].Clearance = 70 }, "surroundings.faces"},
		"sheet no thickness":   {func(p *flat.Part, _ *flat.Surroundings) { p.Sheet.Thickness = 0 }, "surroundings.sheet.thickness"},
		"sheet thickness inch": {func(p *flat.Part, _ *flat.Surroundings) { p.Sheet.Thickness = 0.04 }, "surroundings.sheet.thickness"},
	} {
		t.Run(name, func(t *testing.T) {
			p, s := stock(), surroundings()
			c.change(&p, &s)
			_, err := flat.Between(p, s)
			var fault *flat.Error
			require.ErrorAs(t, err, &fault)
			assert.Equal(t, c.path, fault.Path, err)
			assert.NotEmpty(t, fault.Rule)
		})
	}
	// All at once.
	p, s := stock(), surroundings()
	s.Web, s.Faces[0].Clearance, p.Sheet.Thickness = survey.Plane{}, -1, math.Inf(1)
	_, err := flat.Between(p, s)
	var joined interface{ Unwrap() []error }
	require.True(t, errors.As(err, &joined))
	assert.GreaterOrEqual(t, len(joined.Unwrap()), 3)
}

// A fault of the web as a whole numbers its faces as they are listed, also where that runs
// clockwise and is walked the other way. Clearances of 60 and 70 mm below and above a web of 120
// turn its ends round, of which that at fwd comes first; a skin measured from 50 mm to 160 is not
// met by it either.
func TestFacesAreNumberedAsListed(t *testing.T) {
	short := vaulted(flat.Up)
	short.Faces[2].Curve.Points = short.Faces[2].Curve.Points[6:17]
	tight := surroundings()
	tight.Faces[0].Clearance, tight.Faces[2].Clearance = 60, 70
	parallel := surroundings()
	parallel.Faces = slices.Delete(parallel.Faces, 1, 2)
	for _, c := range []struct {
		s             flat.Surroundings
		as, clockwise string
	}{
		{tight, "nothing of the edge at face 2", "nothing of the edge at face 4"},
		{short, "faces 2 and 3 do not meet", "faces 4 and 3 do not meet"},
		{parallel, "faces 1 and 2 run within 5°", "faces 3 and 1 run within 5°"},
	} {
		_, err := flat.Between(stock(), c.s)
		assert.ErrorContains(t, err, c.as)
		slices.Reverse(c.s.Faces[1:])
		_, err = flat.Between(stock(), c.s)
		assert.ErrorContains(t, err, c.clockwise)
	}
}

func ExampleBetween() {
	// Four faces of a keel bay, each by three points measured on the hull, mm.
	three := func(a, b, c r3.Vec) survey.Plane {
		p, err := survey.ThreePoints(a, b, c)
		if err != nil {
			panic(err)
		}
		return p
	}
	flange := &flat.Flange{Height: 0.75 * measure.Inch}
	part, err := flat.Between(
		flat.Part{
			Name: "bay", Radius: 0.1875 * measure.Inch,
			Sheet: material.Sheet{Material: material.Material{Alloy: "2024", Temper: "T3"}, Thickness: 0.040 * measure.Inch},
		},
		flat.Surroundings{
			Web:         three(r3.Vec{}, r3.Vec{X: 100}, r3.Vec{Z: 100}), // the plane y = 0
			MarkingSide: r3.Vec{Y: 100},
			Faces: []flat.Face{
				{Name: "aft", Plane: three(r3.Vec{}, r3.Vec{Z: 100}, r3.Vec{X: 10, Y: 100}), Flange: flange},
				{Name: "keel", Plane: three(r3.Vec{}, r3.Vec{X: 100}, r3.Vec{Y: 100}), Flange: flange},
				{Name: "fwd", Plane: three(r3.Vec{X: 250}, r3.Vec{X: 245, Z: 100}, r3.Vec{X: 255, Y: 100}), Flange: flange},
				{Name: "skin", Plane: three(r3.Vec{Z: 150}, r3.Vec{X: 250, Z: 140}, r3.Vec{Y: 100, Z: 150}), Flange: flange},
			},
		})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, e := range part.Web.Edges {
		a := e.Flanges[0].Angle
		fmt.Printf("%-4s bend %s, between the legs %s\n", e.Name, a, a.Opening())
	}
	// Output:
	// aft  bend 95.71°, between the legs 84.29°
	// skin bend 90°, between the legs 90°
	// fwd  bend 87.14°, between the legs 92.86°
	// keel bend 90°, between the legs 90°
}

// The same part, whichever face of its web is measured: the far one lies a thickness, 1 mm, behind the other.
func TestEitherFaceOfTheWeb(t *testing.T) {
	want, err := flat.Between(stock(), surroundings())
	require.NoError(t, err)
	s := surroundings()
	s.WebFace, s.Web.Point.Z = flat.FarFace, -1
	p, err := flat.Between(stock(), s)
	require.NoError(t, err)
	for i, e := range want.Web.Edges {
		assert.InDelta(t, 0, r2.Norm(r2.Sub(e.Start, p.Web.Edges[i].Start)), 1e-9, e.Name)
	}
	s.WebFace++
	_, err = flat.Between(stock(), s)
	assert.ErrorContains(t, err, "must be the marking face or the far face")
}

// Each corner is cut as the later of its two faces in the list says, the last and the first as the first says, also where the
// list runs clockwise. A flange is called what its face is, where it has no name of its own.
func TestCornersAndNamesOfASite(t *testing.T) {
	s := surroundings()
	s.Faces[2].Flange.Name = "cap"
	widths := func() []float64 {
		for i := range s.Faces {
			s.Faces[i].Corner.Width = 10 + float64(i)
		}
		p, err := flat.Between(stock(), s)
		require.NoError(t, err)
		var list []float64
		for _, e := range p.Web.Edges {
			list = append(list, e.Corner.Width)
			want := e.Name
			if want == "skin" {
				want = "cap"
			}
			assert.Equal(t, want, e.Flanges[0].Name)
		}
		return list
	}
	// keel, fwd, skin, aft: each edge starts at the corner with the one before.
	assert.Equal(t, []float64{10, 11, 12, 13}, widths())
	// Listed keel, aft, skin, fwd, and walked keel, fwd, skin, aft: the corners are those of aft and keel, where aft says, keel
	// and fwd, where the first says, fwd and skin, where fwd says, skin and aft, where skin says.
	s.Faces[1], s.Faces[3] = s.Faces[3], s.Faces[1]
	assert.Equal(t, []float64{11, 10, 13, 12}, widths())
}
