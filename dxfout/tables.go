package dxfout

import (
	"math"
	"strconv"

	"boltplate/drawing"
)

// Handles of what every file holds.
const (
	handlePaperRecord = 0x1B
	handleModelRecord = 0x1F
	handleDimStyle    = 0x27 // Standard
	handleTextStyle   = 0x28 // ours
	handleFirstLine   = 0x2A // of four line types
	handleFirstLayer  = 0x30 // of the layers of roles
	firstFree         = 0x40
)

var classes = tags(`
0 SECTION | 2 CLASSES
0 CLASS | 1 ACDBDICTIONARYWDFLT | 2 AcDbDictionaryWithDefault | 3 ObjectDBX Classes | 90 0 | 280 0 | 281 0
0 CLASS | 1 ACDBPLACEHOLDER | 2 AcDbPlaceHolder | 3 ObjectDBX Classes | 90 0 | 280 0 | 281 0
0 CLASS | 1 LAYOUT | 2 AcDbLayout | 3 ObjectDBX Classes | 90 0 | 280 0 | 281 0`)

var wipeoutClasses = tags(`
0 CLASS | 1 WIPEOUT | 2 AcDbWipeout | 3 WipeOut | 90 127 | 280 0 | 281 1
0 CLASS | 1 WIPEOUTVARIABLES | 2 AcDbWipeoutVariables | 3 WipeOut | 90 0 | 280 0 | 281 0`)

var viewportStart = tags(`
0 SECTION | 2 TABLES
0 TABLE | 2 VPORT | 5 8 | 330 0 | 100 AcDbSymbolTable | 70 1
0 VPORT | 5 29 | 330 8 | 100 AcDbSymbolTableRecord | 100 AcDbViewportTableRecord | 2 *Active | 70 0
10 0.0 | 20 0.0 | 11 1.0 | 21 1.0`)

var viewportEnd = tags(`
13 0.0 | 23 0.0 | 14 10.0 | 24 10.0 | 15 10.0 | 25 10.0
16 0.0 | 26 0.0 | 36 1.0 | 17 0.0 | 27 0.0 | 37 0.0`)

var lineTypesStart = tags(`
42 50.0 | 43 0.0 | 44 0.0 | 50 0.0 | 51 0.0
71 0 | 72 100 | 73 1 | 74 3 | 75 0 | 76 0 | 77 0 | 78 0
0 ENDTAB
0 TABLE | 2 LTYPE | 5 5 | 330 0 | 100 AcDbSymbolTable | 70 7
0 LTYPE | 5 14 | 330 5 | 100 AcDbSymbolTableRecord | 100 AcDbLinetypeTableRecord | 2 ByBlock | 70 0 | 3  | 72 65 | 73 0 | 40 0.0
0 LTYPE | 5 15 | 330 5 | 100 AcDbSymbolTableRecord | 100 AcDbLinetypeTableRecord | 2 ByLayer | 70 0 | 3  | 72 65 | 73 0 | 40 0.0
0 LTYPE | 5 16 | 330 5 | 100 AcDbSymbolTableRecord | 100 AcDbLinetypeTableRecord | 2 Continuous | 70 0 | 3 Solid line | 72 65 | 73 0 | 40 0.0`)

var layersStart = tags(`
0 ENDTAB
0 TABLE | 2 LAYER | 5 2 | 330 0 | 100 AcDbSymbolTable`)

var layerZero = tags(`
0 LAYER | 5 10 | 330 2 | 100 AcDbSymbolTableRecord | 100 AcDbLayerTableRecord | 2 0 | 70 0 | 62 7 | 6 Continuous | 370 -3 | 390 F`)

var styleStart = tags(`
0 ENDTAB
0 TABLE | 2 STYLE | 5 3 | 330 0 | 100 AcDbSymbolTable | 70 2`)

var styleValues = tags(`
70 0 | 40 0.0 | 41 1.0 | 50 0.0 | 71 0`)

var dimStylesStart = tags(`
0 ENDTAB
0 TABLE | 2 VIEW | 5 6 | 330 0 | 100 AcDbSymbolTable | 70 0
0 ENDTAB
0 TABLE | 2 UCS | 5 7 | 330 0 | 100 AcDbSymbolTable | 70 0
0 ENDTAB
0 TABLE | 2 APPID | 5 9 | 330 0 | 100 AcDbSymbolTable | 70 2
0 APPID | 5 12 | 330 9 | 100 AcDbSymbolTableRecord | 100 AcDbRegAppTableRecord | 2 ACAD | 70 0
0 APPID | 5 13 | 330 9 | 100 AcDbSymbolTableRecord | 100 AcDbRegAppTableRecord | 2 BOLTPLATE | 70 0
0 ENDTAB
0 TABLE | 2 DIMSTYLE | 5 A | 330 0 | 100 AcDbSymbolTable`)

var recordsStart = tags(`
0 ENDTAB
0 TABLE | 2 BLOCK_RECORD | 5 1 | 330 0 | 100 AcDbSymbolTable`)

var layoutRecords = tags(`
0 BLOCK_RECORD | 5 1F | 330 1 | 100 AcDbSymbolTableRecord | 100 AcDbBlockTableRecord | 2 *Model_Space | 340 22
0 BLOCK_RECORD | 5 1B | 330 1 | 100 AcDbSymbolTableRecord | 100 AcDbBlockTableRecord | 2 *Paper_Space | 340 1E`)

const endTable = "  0\r\nENDTAB\r\n  0\r\nENDSEC\r\n"

// record appends the head of a table record; kind is its name with the code
// of its handle.
func (w *writer) record(kind string, handle uint64, table, marker string) {
	w.flush()
	w.lit(kind)
	w.buf = append(appendHandle(w.buf, handle), "\r\n330\r\n"...)
	w.lit(table)
	w.lit("\r\n100\r\nAcDbSymbolTableRecord\r\n100\r\n")
	w.lit(marker)
	w.lit("\r\n")
}

func (w *writer) tables() {
	w.lit(viewportStart)
	w.viewport()
	w.lit(lineTypesStart)
	w.lineTypes()
	w.lit(layersStart)
	w.layers()
	w.lit(styleStart)
	w.style(0x11, "Standard")
	w.style(handleTextStyle, w.names.text)
	w.lit(dimStylesStart)
	w.dimStyles()
	w.lit(recordsStart)
	w.blockRecords()
	w.lit(endTable)
}

// style appends a text style.
func (w *writer) style(handle uint64, name string) {
	w.record("  0\r\nSTYLE\r\n  5\r\n", handle, "3", "AcDbTextStyleTableRecord")
	w.str("  2", name)
	w.lit(styleValues)
	w.num(" 42", w.d.Style.Part(w.d.Style.Height()))
	w.text("  3", w.font, dataField)
	w.lit("  4\r\n\r\n")
}

// viewport shows the whole drawing when the file is opened.
func (w *writer) viewport() {
	const aspect = 1.6
	b := w.bounds
	height := 1.05 * math.Max(b.Dy(), b.Dx()/aspect)
	if height < 1e-6 {
		height = 1
	}
	c := b.Min.Mid(b.Max)
	w.num(" 12", c.X)
	w.num(" 22", c.Y)
	w.lit(viewportEnd)
	w.num(" 40", height)
	w.num(" 41", aspect)
}

func (w *writer) lineTypes() {
	for i, t := range isoLineTypes() {
		w.record("  0\r\nLTYPE\r\n  5\r\n", handleFirstLine+uint64(i), "5", "AcDbLinetypeTableRecord")
		w.lineType(&t)
	}
}

// lineTypeName returns the name of a line type in the tables of the file.
func (w *writer) lineTypeName(word string) string {
	for i, t := range isoLineTypes() {
		if t.name == word {
			return w.names.lines[i]
		}
	}
	return Continuous
}

// lineType appends what follows the head of a line type. Its lengths are
// millimetres on paper.
func (w *writer) lineType(t *lineType) {
	w.str("  2", w.lineTypeName(t.name))
	w.lit(" 70\r\n0\r\n")
	w.str("  3", t.picture)
	w.lit(" 72\r\n65\r\n")
	dashes, d := t.role.Dashes(), w.d.Style.Width(t.role)
	w.int(" 73", len(dashes))
	total := 0.0
	for _, e := range dashes {
		total += e
	}
	w.num(" 40", total*d)
	for i, e := range dashes {
		if i%2 == 1 {
			e = -e // a gap
		}
		w.num(" 49", e*d)
		if !w.plain {
			w.lit(" 74\r\n0\r\n")
		}
	}
}

func (w *writer) layers() {
	w.int(" 70", 1+w.layerCount())
	w.lit(layerZero)
	for r := range w.layer {
		l := &w.layer[r]
		if l.shared || l.unused {
			continue
		}
		w.record("  0\r\nLAYER\r\n  5\r\n", handleFirstLayer+uint64(r), "2", "AcDbLayerTableRecord")
		w.str("  2", l.name)
		w.lit(" 70\r\n0\r\n")
		w.int(" 62", l.colour)
		w.str("  6", w.lineTypeName(l.lineType))
		w.int("370", l.weight)
		w.lit("390\r\nF\r\n")
	}
}

// dimStyles appends a style for each scale that views with dimensions have:
// they differ in the factor that leads back to the true size. Standard is there
// because readers want it; nothing uses it.
func (w *writer) dimStyles() {
	w.int(" 70", 1+len(w.scales))
	w.lit("100\r\nAcDbDimStyleTable\r\n")
	w.dimStyleRecord(handleDimStyle, "Standard", 0x11, 1)
	for i, s := range w.scales {
		w.dimStyleRecord(firstFree+uint64(i), w.dimStyleName(i), handleTextStyle, s)
	}
}

func (w *writer) dimStyleRecord(handle uint64, name string, textStyle uint64, scale float64) {
	w.record("  0\r\nDIMSTYLE\r\n105\r\n", handle, "A", "AcDbDimStyleTableRecord")
	w.str("  2", name)
	w.lit(" 70\r\n0\r\n  3\r\n\r\n")
	values := dimValues(w.d.Style, scale)
	for i := range dimReals {
		w.num(dimReals[i].code, values[i])
	}
	w.lit(dimIntsStyle[0])
	w.int("178", w.layer[drawing.RoleText].colour)
	w.lit(dimIntsStyle[1])
	w.int("278", separator(w.d.Style))
	w.handle("340", textStyle)
}

// dimStyleName returns the name of the dimension style for the scale of the
// given index.
func (w *writer) dimStyleName(index int) string { return w.styles[index] }

func (w *writer) blockRecords() {
	w.int(" 70", 2+len(w.views)+len(w.parts)+w.dims)
	w.lit(layoutRecords)
	const kind, marker = "  0\r\nBLOCK_RECORD\r\n  5\r\n", "AcDbBlockTableRecord"
	for i := range w.views {
		w.record(kind, w.views[i].handle, "1", marker)
		w.str("  2", w.views[i].name)
		w.lit("340\r\n0\r\n")
	}
	for i := range w.parts {
		w.record(kind, w.parts[i].handle, "1", marker)
		w.str("  2", w.parts[i].name)
		w.lit("340\r\n0\r\n")
	}
	for i := range w.dims {
		w.record(kind, w.dimBase+uint64(i), "1", marker)
		w.dimBlockName(i)
		w.lit("340\r\n0\r\n")
	}
}

// dimBlockName appends the name of the block of the i-th dimension.
func (w *writer) dimBlockName(i int) {
	b := append(w.buf, "  2\r\n*D"...)
	b = strconv.AppendInt(b, int64(i+1), 10)
	w.buf = append(b, "\r\n"...)
}
