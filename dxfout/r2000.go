package dxfout

// Handles of everything that stands in every file, below those of entities and of
// layers. Each is used once.
const (
	hVportTable uint64 = iota + 1
	hLtypeTable
	hLayerTable
	hStyleTable
	hViewTable
	hUcsTable
	hAppidTable
	hDimstyleTable
	hRecordTable
	hVport
	hByBlock
	hByLayer
	hContinuous
	hStyle
	hAppid
	hDimstyle
	hModelRecord
	hPaperRecord
	hModelBlock
	hModelEnd
	hPaperBlock
	hPaperEnd
	hRoot
	hGroups
	hLayouts
	hPlotStyles
	hPlotStyle
	hModelLayout
	hPaperLayout
	hLayerZero
)

const (
	// firstEntity leaves room for a layer of every name a table can hold.
	firstEntity uint64 = 0x10000
	// handleSeed stands above every handle. It is written before the number of
	// entities is known, so it bounds it: 4e9 entities are a terabyte.
	handleSeed uint64 = 0xFFFFFFFF
)

func (d *Writer) headR2000(s Sheet) {
	d.section("HEADER")
	d.variable("$ACADVER")
	d.str(1, "AC1015")
	d.variable("$DWGCODEPAGE")
	d.str(3, "ANSI_1252")
	d.variable("$HANDSEED")
	d.handle(5, handleSeed)
	d.unitsAndExtents(s)
	d.str(0, "ENDSEC")

	d.section("CLASSES")
	for _, c := range [][2]string{
		{"ACDBDICTIONARYWDFLT", "AcDbDictionaryWithDefault"},
		{"ACDBPLACEHOLDER", "AcDbPlaceHolder"},
		{"LAYOUT", "AcDbLayout"},
	} {
		d.str(0, "CLASS")
		d.str(1, c[0])
		d.str(2, c[1])
		d.str(3, "ObjectDBX Classes")
		d.int(90, 0)
		d.int(280, 0)
		d.int(281, 0)
	}
	d.str(0, "ENDSEC")

	d.section("TABLES")
	d.vport(s)
	d.linetypes()
	d.layerTable(s.Layers)
	d.styles()
	d.table("VIEW", hViewTable, 0)
	d.str(0, "ENDTAB")
	d.table("UCS", hUcsTable, 0)
	d.str(0, "ENDTAB")
	d.table("APPID", hAppidTable, 1)
	d.record("APPID", hAppid, hAppidTable, "AcDbRegAppTableRecord", "ACAD")
	d.int(70, 0)
	d.str(0, "ENDTAB")
	d.dimstyles()
	d.table("BLOCK_RECORD", hRecordTable, 2)
	d.record("BLOCK_RECORD", hModelRecord, hRecordTable, "AcDbBlockTableRecord", "*Model_Space")
	d.handle(340, hModelLayout)
	d.record("BLOCK_RECORD", hPaperRecord, hRecordTable, "AcDbBlockTableRecord", "*Paper_Space")
	d.handle(340, hPaperLayout)
	d.str(0, "ENDTAB")
	d.str(0, "ENDSEC")

	d.section("BLOCKS")
	d.space("*Model_Space", hModelRecord, hModelBlock, hModelEnd, false)
	d.space("*Paper_Space", hPaperRecord, hPaperBlock, hPaperEnd, true)
	d.str(0, "ENDSEC")
	d.section("ENTITIES")
}

// ownerTags says that an entity stands in model space.
func ownerTags() []byte {
	t := tags{}
	t.handle(330, hModelRecord)
	t.str(100, "AcDbEntity")
	return t.buf
}

// table begins a symbol table.
func (d *Writer) table(name string, handle uint64, entries int) {
	d.str(0, "TABLE")
	d.str(2, name)
	d.handle(5, handle)
	d.handle(330, 0)
	d.str(100, "AcDbSymbolTable")
	d.int(70, int64(entries))
}

// record begins an entry of a symbol table.
func (d *Writer) record(kind string, handle, owner uint64, class, name string) {
	d.str(0, kind)
	code := 5
	if kind == "DIMSTYLE" {
		code = 105 // its group 5 was taken by another meaning
	}
	d.handle(code, handle)
	d.handle(330, owner)
	d.str(100, "AcDbSymbolTableRecord")
	d.str(100, class)
	d.str(2, name)
}

func (d *Writer) vport(s Sheet) {
	d.table("VPORT", hVportTable, 1)
	d.record("VPORT", hVport, hVportTable, "AcDbViewportTableRecord", "*Active")
	center, height := view(s.Bounds)
	c := d.grid(center)
	pair := func(code int, x, y string) { d.str(code, x); d.str(code+10, y) }
	d.int(70, 0)
	pair(10, "0.0", "0.0")
	pair(11, "1.0", "1.0")
	d.length(12, c.x)
	d.length(22, c.y)
	pair(13, "0.0", "0.0")
	pair(14, "10.0", "10.0")
	pair(15, "10.0", "10.0")
	pair(16, "0.0", "0.0")
	d.str(36, "1.0")
	pair(17, "0.0", "0.0")
	d.str(37, "0.0")
	d.length(40, grid(height*d.scale))
	d.str(41, "2.0") // width over height
	d.str(42, "50.0")
	d.str(43, "0.0")
	d.str(44, "0.0")
	d.str(50, "0.0")
	d.str(51, "0.0")
	for i, v := range []int64{0, 100, 1, 3, 0, 0, 0, 0} {
		d.int(71+i, v)
	}
	d.str(0, "ENDTAB")
}

func (d *Writer) linetypes() {
	d.table("LTYPE", hLtypeTable, 3)
	for _, l := range []struct {
		handle     uint64
		name, note string
	}{{hByBlock, "ByBlock", ""}, {hByLayer, "ByLayer", ""}, {hContinuous, "Continuous", "Solid line"}} {
		d.record("LTYPE", l.handle, hLtypeTable, "AcDbLinetypeTableRecord", l.name)
		d.int(70, 0)
		d.str(3, l.note)
		d.int(72, 65)
		d.int(73, 0)
		d.str(40, "0.0")
	}
	d.str(0, "ENDTAB")
}

func (d *Writer) layerTable(layers []Layer) {
	d.table("LAYER", hLayerTable, len(layers)+1)
	for i, l := range withZero(layers) {
		d.record("LAYER", hLayerZero+uint64(i), hLayerTable, "AcDbLayerTableRecord", l.Name)
		d.int(70, 0)
		d.int(62, int64(l.Color))
		d.str(6, "Continuous")
		d.handle(390, hPlotStyle)
	}
	d.str(0, "ENDTAB")
}

func (d *Writer) styles() {
	d.table("STYLE", hStyleTable, 1)
	d.record("STYLE", hStyle, hStyleTable, "AcDbTextStyleTableRecord", "Standard")
	d.styleBody()
	d.str(0, "ENDTAB")
}

func (d *Writer) dimstyles() {
	d.table("DIMSTYLE", hDimstyleTable, 1)
	d.str(100, "AcDbDimStyleTable")
	d.record("DIMSTYLE", hDimstyle, hDimstyleTable, "AcDbDimStyleTableRecord", "Standard")
	d.int(70, 0)
	d.str(0, "ENDTAB")
}

// space writes the empty block of model or paper space.
func (d *Writer) space(name string, record, block, end uint64, paper bool) {
	entity := func(kind string, handle uint64, class string) {
		d.str(0, kind)
		d.handle(5, handle)
		d.handle(330, record)
		d.str(100, "AcDbEntity")
		if paper {
			d.int(67, 1)
		}
		d.str(8, "0")
		d.str(100, class)
	}
	entity("BLOCK", block, "AcDbBlockBegin")
	d.str(2, name)
	d.int(70, 0)
	d.point(10, gridPoint{})
	d.str(3, name)
	d.str(1, "")
	entity("ENDBLK", end, "AcDbBlockEnd")
}

// objects ends an R2000 file: the root dictionary first, then what it names.
func (d *Writer) objects() {
	if d.next >= handleSeed {
		d.err = &Error{Entity: "file", Field: "entities", Value: "4e9", Rule: "must be fewer"}
		return
	}
	d.section("OBJECTS")
	d.dictionary("DICTIONARY", hRoot, 0)
	d.entry("ACAD_GROUP", hGroups)
	d.entry("ACAD_LAYOUT", hLayouts)
	d.entry("ACAD_PLOTSTYLENAME", hPlotStyles)
	d.dictionary("DICTIONARY", hGroups, hRoot)
	d.dictionary("DICTIONARY", hLayouts, hRoot)
	d.entry("Model", hModelLayout)
	d.entry("Layout1", hPaperLayout)
	d.dictionary("ACDBDICTIONARYWDFLT", hPlotStyles, hRoot)
	d.entry("Normal", hPlotStyle)
	d.str(100, "AcDbDictionaryWithDefault")
	d.handle(340, hPlotStyle)
	d.str(0, "ACDBPLACEHOLDER")
	d.handle(5, hPlotStyle)
	d.handle(330, hPlotStyles)
	d.layout("Model", hModelLayout, hModelRecord, 0)
	d.layout("Layout1", hPaperLayout, hPaperRecord, 1)
	d.str(0, "ENDSEC")
}

func (d *Writer) dictionary(kind string, handle, owner uint64) {
	d.str(0, kind)
	d.handle(5, handle)
	d.handle(330, owner)
	d.str(100, "AcDbDictionary")
	d.int(281, 1)
}

func (d *Writer) entry(name string, handle uint64) {
	d.str(3, name)
	d.handle(350, handle)
}

// layout describes a space that nothing is plotted from: paper size none, limits
// 12 by 9, no axes turned.
func (d *Writer) layout(name string, handle, record uint64, tab int64) {
	zeros := func(codes ...int) {
		for _, c := range codes {
			d.str(c, "0.0")
		}
	}
	plotFlags := int64(688)
	if name == "Model" {
		plotFlags = 1712 // the same, and plots the model tab
	}
	d.str(0, "LAYOUT")
	d.handle(5, handle)
	d.handle(330, hLayouts)
	d.str(100, "AcDbPlotSettings")
	d.str(1, "")
	d.str(2, "none_device")
	d.str(4, "")
	d.str(6, "")
	zeros(40, 41, 42, 43, 44, 45, 46, 47, 48, 49, 140, 141)
	d.str(142, "1.0")
	d.str(143, "1.0")
	d.int(70, plotFlags)
	d.int(72, 0)
	d.int(73, 0)
	d.int(74, 5)
	d.str(7, "")
	d.int(75, 16)
	d.str(147, "1.0")
	zeros(148, 149)
	d.str(100, "AcDbLayout")
	d.str(1, name)
	d.int(70, 1)
	d.int(71, tab)
	zeros(10, 20)
	d.str(11, "12.0")
	d.str(21, "9.0")
	zeros(12, 22, 32, 14, 24, 34, 15, 25, 35, 146, 13, 23, 33)
	d.str(16, "1.0")
	zeros(26, 36, 17)
	d.str(27, "1.0")
	zeros(37)
	d.int(76, 0)
	d.handle(330, record)
}
