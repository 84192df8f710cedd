package partfile

import (
	"errors"
	"math"
	"strconv"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/survey"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/pelletier/go-toml/v2/unstable"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// between reads what the part must touch and works the part out from it.
func (d *decoder) between(t *table, p flat.Part) flat.Part {
	var s flat.Surroundings
	s.ReadingError, _ = maybe(t, "reading_error", length("1/64 in", aboveOrOut("readings whose doubt is not known")))
	d.alias("surroundings.reading_error", "reading_error")
	web := t.needSub("web", "surroundings.web")
	s.Web, s.WebReadings, s.WebMeasured = d.plane(web, s.ReadingError)
	s.WebFace, _ = maybe(web, "face", webFaces)
	s.MarkingSide = d.space(web, "seen_from")
	d.alias("surroundings.marking_side", web.pathOf("seen_from"))
	web.done()
	s.AngleError, _ = maybe(t, "angle_error", angle("0.5 deg", func(a measure.Angle) string {
		if 0 < a && a <= 10*measure.Degree {
			return ""
		}
		return "must be above 0 and at most 10 deg; leave the line out for angles whose doubt is not known"
	}))
	p.Web.Features = d.features(t, "web")
	n := t.tables("face", faceAt, func(i int, f *table) {
		s.Faces = append(s.Faces, d.face(f, s.ReadingError))
	})
	d.alias("surroundings.faces", "face")
	d.alias("surroundings", "face")
	if n == 0 && !d.headless && !d.lost["face"] {
		t.miss("face", "write [[face]] for each thing the part comes to, walking round the web")
	}
	d.standIn(p, s)
	if d.broken["surroundings"] || d.broken["face"] || d.lost["sheet.thickness"] {
		return p // what is missing has been said
	}
	fitted, err := flat.Between(p, s)
	if err != nil {
		d.take(err)
		return p
	}
	d.seat(fitted)
	if len(d.list) == 0 { // the stand-in has had the rest looked at
		d.take(fitted.Validate())
	}
	return fitted
}

func faceAt(i int) string { return "surroundings.faces[" + strconv.Itoa(i) + "]" }

func (d *decoder) face(t *table, readingError float64) (f flat.Face) {
	f.Name, _ = maybe(t, "name", words)
	if f.Curve = d.curve(t); f.Curve == nil {
		f.Plane, f.Readings, f.Measured = d.plane(t, readingError)
	}
	f.Clearance, _ = maybe(t, "clearance", length("1/32 in", notBelow))
	f.Corner = d.cornerCut(t)
	if flange := t.sub("flange", t.pathOf("flange")); flange.n != nil {
		g := d.fittedFlange(flange)
		f.Flange = &g
		flange.done()
	}
	return f
}

// fittedFlange reads a flange whose angle the surroundings give.
func (d *decoder) fittedFlange(t *table) (g flat.Flange) {
	if e := t.find("angle"); e != nil {
		t.refuse("angle", e.value, "follows from the measured faces: leave the line out", nil)
	}
	g.Name, _ = maybe(t, "name", words)
	g.Turn = need(t, "turn", turns)
	d.shape(t, &g)
	return g
}

// plane reads a face in the one way of five in which the file gives it: three points
// or more measured on it, a point of it and the direction square to it, angle and
// distance, distances at two heights, or a spirit level's readings.
func (d *decoder) plane(t *table, readingError float64) (p survey.Plane, readings []r3.Vec, by flat.Measurement) {
	const example = `points = [["16.02 in", "2.5 in", "4.1 in"], [...], [...]]`
	var given []*entry
	for _, key := range [...]string{"points", "normal", leanKey, heightsKey, levelKey} {
		if e := t.find(key); e != nil {
			given = append(given, e)
		}
	}
	if len(given) == 0 {
		for _, key := range [...]string{"normal", leanKey, heightsKey, levelKey} {
			if d.lost[t.pathOf(key)] {
				return p, nil, nil // said already
			}
		}
		t.miss("points", "write "+example+", three points of the face or more, each x, y and z")
		return p, nil, nil
	}
	for _, e := range given[1:] {
		t.refuse(e.name, e.value, given[0].name+" says the same: keep one", nil)
	}
	switch e := given[0]; e.name {
	case "points":
		p, readings, by = d.points(t, e.value, readingError, example)
	case "normal":
		p.Point = d.space(t, "point")
		d.alias(t.pathOf("plane"), t.pathOf("normal"))
		p.Normal = d.direction(t, "normal", e.value, "is the direction square to the face: three plain numbers whose squares add up to 1, such as [0.6, 0, 0.8]")
	default:
		p, by = d.measured(t, e.name)
	}
	return p, readings, by
}

// points reads the points measured on a face: three that fix it, or more that it is laid
// through by least squares.
func (d *decoder) points(t *table, n *node, readingError float64, example string) (p survey.Plane, readings []r3.Vec, by flat.Measurement) {
	if n.kind != unstable.Array || n.made == headers || len(n.items) < 3 {
		t.refuse("points", n, "a face is fixed by three points or more, each x, y and z: "+example, nil)
		return p, nil, nil
	}
	at := make([]r3.Vec, len(n.items))
	whole := true
	for i, item := range n.items {
		if c := t.coordinates("points "+strconv.Itoa(i+1), item, "xyz", station); c != nil {
			at[i] = r3.Vec{X: c[0], Y: c[1], Z: c[2]}
		} else {
			whole = false
		}
	}
	d.alias(t.pathOf("plane"), t.pathOf("points"))
	d.alias(t.pathOf("measured"), t.pathOf("points"))
	if !whole {
		d.lose(t.pathOf("points"))
		return p, nil, nil
	}
	if len(at) > 3 {
		touched := survey.Touched{Points: at, Error: readingError}
		p, err := touched.Plane()
		if err != nil {
			t.refuse("points", n, reasonOf(err), err)
		}
		return p, nil, touched
	}
	p, err := survey.ThreePoints(at[0], at[1], at[2])
	if err != nil || !spread(at) {
		t.refuse("points", n, "the three points lie on one line, or nearly: take the third well to the side of the other two", err)
	}
	return p, at, nil
}

// reasonOf is what the survey found wrong with the points of a face.
func reasonOf(err error) string {
	var fault *survey.Error
	if !errors.As(err, &fault) {
		return err.Error()
	}
	return joined(fault.Value, ": ", fault.Rule)
}

// spread reports whether points are apart enough to be a measurement of a plane: a
// triangle no flatter than one in a hundred. Below it a reading that is wrong by
// 0.1 mm over 100 mm tilts the plane by more than 5 degrees.
func spread(p []r3.Vec) bool {
	a, b, c := r3.Sub(p[1], p[0]), r3.Sub(p[2], p[1]), r3.Sub(p[0], p[2])
	return r3.Norm(r3.Cross(a, b)) > 0.01*max(r3.Norm2(a), r3.Norm2(b), r3.Norm2(c))
}

// space reads a point among the surroundings that must be there.
func (d *decoder) space(t *table, key string) (p r3.Vec) {
	e := t.find(key)
	if e == nil {
		t.miss(key, "write "+key+` = ["16.02 in", "2.5 in", "4.1 in"], its x, y and z`)
		return p
	}
	if c := t.coordinates(key, e.value, "xyz", station); c != nil {
		p = r3.Vec{X: c[0], Y: c[1], Z: c[2]}
	}
	return p
}

// direction reads three plain numbers.
func (d *decoder) direction(t *table, key string, n *node, rule string) (v r3.Vec) {
	if n.kind != unstable.Array || n.made == headers || len(n.items) != 3 {
		t.refuse(key, n, rule, nil)
		return v
	}
	for i, to := range []*float64{&v.X, &v.Y, &v.Z} {
		item := n.items[i]
		x, err := plainNumber(item)
		if err != nil || !(math.Abs(x) <= 1.1) {
			t.d.lose(t.pathOf(key))
			t.d.add(item.at, t.name(key)+" "+strconv.Itoa(i+1), item.shown(), rule, nil)
		}
		*to = x
	}
	return v
}

// standIn has the part looked at apart from its shape: on a regular web, with
// square flanges, so that all else is checked even where a face is not yet known.
func (d *decoder) standIn(p flat.Part, s flat.Surroundings) {
	n := max(len(s.Faces), 3)
	p.Web.Edges = make([]flat.Edge, n)
	for i := range p.Web.Edges {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		p.Web.Edges[i].Start = r2.Scale(0.9*flat.MostLength, r2.Vec{X: cos, Y: sin}) // no station lies off it
		if i >= len(s.Faces) {
			continue
		}
		p.Web.Edges[i].Name = s.Faces[i].Name
		if g := s.Faces[i].Flange; g != nil {
			square := *g
			square.Angle = 90 * measure.Degree
			p.Web.Edges[i].Flanges = []flat.Flange{square}
		}
		d.standFor(i, i)
	}
	d.take(p.Validate())
	d.unique(p)
}

// seat tells which face each edge of the fitted part came from: the fit walks
// counter-clockwise, the file may have walked the other way, and a curved face takes
// several edges.
func (d *decoder) seat(p flat.Part) {
	for i, from := range p.Site.FaceOf {
		d.standFor(i, from)
	}
}

// standFor makes an edge of the part known to stand where a face does.
func (d *decoder) standFor(edge, face int) {
	d.alias(webEdge(edge), faceAt(face))
	d.alias(webEdge(edge)+".flanges[0]", faceAt(face)+".flange")
}
