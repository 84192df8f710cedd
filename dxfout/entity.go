package dxfout

import (
	"math"

	"github.com/hangarflat/hangarflat/flat/outline"
	"gonum.org/v1/gonum/spatial/r2"
)

// head begins an entity: kind, handle, owner and layer.
func (d *Writer) head(kind, layer, class string) {
	d.str(0, kind)
	if d.opt.Version == R12 {
		d.str(8, layer)
		return
	}
	d.handle(5, d.next)
	d.next++
	d.buf = append(d.buf, d.owner...)
	d.str(8, layer)
	d.class(class)
}

// class writes a subclass marker, which R12 does not know.
func (d *Writer) class(name string) {
	if d.opt.Version == R2000 {
		d.str(100, name)
	}
}

func (d *Writer) line(layer string, a, b gridPoint) {
	d.head("LINE", layer, "AcDbLine")
	d.point(10, a)
	d.point(11, b)
}

func (d *Writer) circle(layer string, center r2.Vec, radius float64) {
	d.head("CIRCLE", layer, "AcDbCircle")
	d.point(10, d.grid(center))
	d.length(40, grid(radius*d.scale))
}

// arc writes an ARC, which always runs counter-clockwise.
func (d *Writer) arc(layer string, s outline.Segment) {
	if s.Bulge < 0 {
		s = s.Reverse()
	}
	center := s.Center()
	from := r2.Sub(s.A, center)
	start := math.Atan2(from.Y, from.X)
	d.head("ARC", layer, "AcDbCircle")
	d.point(10, d.grid(center))
	d.length(40, grid(s.Radius()*d.scale))
	d.class("AcDbArc")
	d.fine(50, turned(start))
	d.fine(51, turned(start+s.Sweep().Radians()))
}

// turned gives an angle in degrees from 0 up to 360.
func turned(radians float64) float64 {
	deg := math.Mod(radians*(180/math.Pi), 360)
	if deg < 0 {
		deg += 360
	}
	return deg
}

// polyline writes the vertices made ready by round.
func (d *Writer) polyline(layer string, closed bool) {
	var flag int64
	if closed {
		flag = 1 // group 70 bit 1: the first vertex is not repeated
	}
	if d.opt.Version == R12 {
		d.polylineR12(layer, flag)
		return
	}
	d.head("LWPOLYLINE", layer, "AcDbPolyline")
	// The count stands before the vertices: strict readers size their list by it
	// and some ignore the closed flag otherwise. Held by TestTagOrder.
	d.int(90, int64(len(d.verts)))
	d.int(70, flag)
	for _, v := range d.verts {
		d.length(10, v.at.x)
		d.length(20, v.at.y)
		if v.bulge != 0 {
			d.fine(42, v.bulge)
		}
	}
}

func (d *Writer) polylineR12(layer string, flag int64) {
	d.head("POLYLINE", layer, "")
	d.int(66, 1) // vertices follow
	d.point(10, gridPoint{})
	d.int(70, flag)
	for _, v := range d.verts {
		d.head("VERTEX", layer, "")
		d.point(10, v.at)
		if v.bulge != 0 {
			d.fine(42, v.bulge)
		}
	}
	// One reader in use hangs on a polyline without its SEQEND.
	d.head("SEQEND", layer, "")
}

func (d *Writer) text(layer string, t Text, line string) {
	d.head("TEXT", layer, "AcDbText")
	d.point(10, d.grid(t.At))
	d.length(40, grid(t.Height*d.scale))
	d.str(1, line)
	if t.Turned != 0 {
		d.fine(50, turned(t.Turned))
	}
	if t.Align == Middle {
		d.int(72, 1)
		d.point(11, d.grid(t.At))
	}
	d.class("AcDbText") // the marker stands twice, before and after what places the text
	if t.Align == Middle {
		d.int(73, 2)
	}
}
