package dxfout

import "gonum.org/v1/gonum/spatial/r2"

// headR12 writes everything before the entities. R12 has no handles, owners,
// subclass markers or objects.
func (d *Writer) headR12(s Sheet) {
	d.section("HEADER")
	d.variable("$ACADVER")
	d.str(1, "AC1009")
	d.unitsAndExtents(s)
	d.str(0, "ENDSEC")

	d.section("TABLES")
	d.tableR12("LTYPE", 1)
	d.str(0, "LTYPE")
	d.str(2, "CONTINUOUS")
	d.int(70, 0)
	d.str(3, "Solid line")
	d.int(72, 65)
	d.int(73, 0)
	d.str(40, "0.0")
	d.str(0, "ENDTAB")

	d.tableR12("LAYER", len(s.Layers)+1)
	for _, l := range withZero(s.Layers) {
		d.str(0, "LAYER")
		d.str(2, l.Name)
		d.int(70, 0)
		d.int(62, int64(l.Color))
		d.str(6, "CONTINUOUS")
	}
	d.str(0, "ENDTAB")

	d.tableR12("STYLE", 1)
	d.str(0, "STYLE")
	d.str(2, "STANDARD")
	d.styleBody()
	d.str(0, "ENDTAB")
	d.str(0, "ENDSEC")

	d.section("BLOCKS")
	d.str(0, "ENDSEC")
	d.section("ENTITIES")
}

func (d *Writer) tableR12(name string, entries int) {
	d.str(0, "TABLE")
	d.str(2, name)
	d.int(70, int64(entries))
}

func (d *Writer) section(name string) {
	d.str(0, "SECTION")
	d.str(2, name)
}

func (d *Writer) variable(name string) { d.str(9, name) }

// unitsAndExtents says the unit twice, agreeing: one reader takes the first,
// another the second.
func (d *Writer) unitsAndExtents(s Sheet) {
	insert, metric := int64(4), int64(1)
	if s.Unit == Inch {
		insert, metric = 1, 0
	}
	d.variable("$INSUNITS")
	d.int(70, insert)
	d.variable("$MEASUREMENT")
	d.int(70, metric)
	d.variable("$LUNITS")
	d.int(70, 2)
	d.variable("$EXTMIN")
	d.point(10, d.grid(s.Bounds.Min))
	d.variable("$EXTMAX")
	d.point(10, d.grid(s.Bounds.Max))
}

// styleBody is the text style after its name.
func (d *Writer) styleBody() {
	d.int(70, 0)
	d.str(40, "0.0")
	d.str(41, "1.0")
	d.str(50, "0.0")
	d.int(71, 0)
	d.str(42, "2.5")
	d.str(3, "txt")
	d.str(4, "")
}

// withZero puts the layer that every file has before the others.
func withZero(layers []Layer) []Layer {
	return append([]Layer{{Name: "0", Color: 7}}, layers...)
}

// view is the part of the plane a reader shows first.
func view(b r2.Box) (center r2.Vec, height float64) {
	size := b.Size()
	return r2.Scale(0.5, r2.Add(b.Min, b.Max)), 1.1*max(size.X/2, size.Y) + 1e-3
}
