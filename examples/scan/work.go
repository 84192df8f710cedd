package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/former"
	"github.com/hangarflat/hangarflat/flat/loft"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/flat/survey"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
)

// result is all that comes of a scan.
type result struct {
	job
	cut     survey.Section     // as measured, both sides
	true    survey.Section     // the good side and its mirror image
	fit     loft.TraceFit      // of that
	outside outline.Path       // faired outside of the skin
	mold    outline.Path       // mold line of the former, inside the skin
	off     []survey.Deviation // of every point measured, from the faired outside
	ring    former.Ring
	made    survey.Verdict
	madeBy  string // where the made blank's points come from; "" where none was measured
}

const (
	arcTolerance = 0.02 // of the cutter's arcs from the faired line, mm
	webDepth     = 60.0 // of the ring's web, mm
	flangeHeight = 18.0 // mm
	bendRadius   = 3.2  // mm
)

// work goes from the cloud to the former.
func (j job) work(cloud []r3.Vec) (*result, error) {
	r := &result{job: j}
	frame := survey.AtStation(j.station)
	opt := survey.SectionOptions{Half: j.half}
	var err error
	if r.cut, err = survey.Cut(cloud, frame, opt); err != nil {
		return nil, err
	}
	// The good side, and its image behind the centre plane, make a whole hull.
	centre := survey.Plane{Normal: r3.Vec{Y: 1}}
	var whole []r3.Vec
	for _, k := range r.cut.Source {
		if p := cloud[k]; p.Y*float64(j.good) >= 0 {
			whole = append(whole, p, centre.Mirror(p))
		}
	}
	if r.true, err = survey.Cut(whole, frame, opt); err != nil {
		return nil, fmt.Errorf("the %s side mirrored: %w", j.good, err)
	}
	if !r.true.Closed {
		return nil, fmt.Errorf("the %s side and its mirror image do not close: is the centre plane at Y = 0, and is the whole side scanned?", j.good)
	}
	if r.fit, err = loft.FairTrace(r.true.Along, r.true.Points, loft.TraceOptions{Closed: true, Length: r.true.Length, Corners: r.true.Corners}); err != nil {
		return nil, err
	}
	if r.outside, err = r.fit.Arcs(arcTolerance); err != nil {
		return nil, err
	}
	// The section runs counter-clockwise, so its left is inboard.
	if r.mold, err = r.fit.Parallel(-j.thickness, arcTolerance); err != nil {
		return nil, err
	}
	if r.off, err = survey.Deviations(r.cut.Points, []outline.Path{r.outside}); err != nil {
		return nil, err
	}
	return r, r.former()
}

// former makes a ring with a flange to the skin of the mold line.
func (r *result) former() error {
	stock, err := material.Lookup("2024-O")
	if err != nil {
		return err
	}
	inner, err := r.mold.Offset(-webDepth, outline.OffsetOptions{})
	if err != nil {
		return err
	}
	if len(inner) != 1 {
		return fmt.Errorf("a web %g mm deep leaves %d openings: the section is too narrow", webDepth, len(inner))
	}
	r.ring, err = former.Develop(former.Former{
		Name:  "frame-at-scan",
		Title: fmt.Sprintf("Former at station %.0f", r.station),
		Sheet: material.Sheet{Material: stock, Thickness: 0.040 * measure.Inch},
		Outer: former.Rim{Contour: r.mold, Flange: &former.Flange{Turn: flat.Up, Height: flangeHeight, Radius: bendRadius,
			Bevels: []former.Bevel{{Angle: 90 * measure.Degree}}}},
		Inner: former.Rim{Contour: inner[0].Reverse()},
	})
	return err
}

// compare lays points measured round a made blank on the wanted one; the demo's are invented.
func (r *result) compare(name string) error {
	piece := r.ring.Pieces[0]
	wanted := append([]outline.Path{piece.Outline}, piece.Openings...)
	var points []r2.Vec
	if name == "" {
		points, r.madeBy = inventMade(wanted), "invented"
	} else {
		r.madeBy = name
		f, err := os.Open(name)
		if err != nil {
			return fmt.Errorf("-made: %w", err)
		}
		defer f.Close()
		read, err := survey.ReadCSV(f)
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		for _, p := range read {
			points = append(points, r2.Vec{X: p.X, Y: p.Y})
		}
	}
	var err error
	r.made, err = survey.Compare(points, wanted, survey.CompareOptions{Tolerance: r.tolerance})
	return err
}

// inventMade is a blank that was cut a little wandering, laid askew on the bench,
// with one place filed too deep.
func inventMade(wanted []outline.Path) []r2.Vec {
	rnd := rand.New(rand.NewPCG(demoSeed, 1))
	lay := outline.Rotate(r2.Vec{Y: 900}, 1.5*measure.Degree).Then(outline.Translate(r2.Vec{X: 14, Y: -9}))
	var out []r2.Vec
	for k, p := range wanted {
		length := p.Length()
		n := int(length / 25)
		for i := range n {
			seg, t, err := p.Locate(length * (float64(i) + 0.5) / float64(n))
			if err != nil {
				continue
			}
			s := p.Segment(seg)
			d := s.Tangent(t)
			off := 0.15 * rnd.NormFloat64()
			if at := float64(i) / float64(n); k == 0 && math.Abs(at-0.37) < 0.02 {
				off -= 1.6
			}
			out = append(out, lay.Apply(r2.Add(s.At(t), r2.Vec{X: off * d.Y, Y: -off * d.X})))
		}
	}
	return out
}
