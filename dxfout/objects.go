package dxfout

import (
	"fmt"

	"boltplate/drawing"
)

// The dictionaries, with the root first, the only plot style, the only
// multi-line style, and the two layouts. Readers of the strict kind want each
// of them.
var objectsStart = tags(`
0 SECTION | 2 OBJECTS
0 DICTIONARY | 5 C | 330 0 | 100 AcDbDictionary | 281 1
3 ACAD_GROUP | 350 D | 3 ACAD_LAYOUT | 350 1A | 3 ACAD_MLINESTYLE | 350 17 | 3 ACAD_PLOTSETTINGS | 350 19 | 3 ACAD_PLOTSTYLENAME | 350 E`)

// wipeoutEntry is the entry of the root for the settings of WIPEOUTs: their
// edges are not drawn.
var wipeoutEntry = tags(`3 ACAD_WIPEOUT_VARS | 350 2E`)

var wipeoutVariables = tags(`
0 WIPEOUTVARIABLES | 5 2E | 102 {ACAD_REACTORS | 330 C | 102 } | 330 C | 100 AcDbWipeoutVariables | 70 0`)

var layoutDictionary = tags(`
0 DICTIONARY | 5 D | 102 {ACAD_REACTORS | 330 C | 102 } | 330 C | 100 AcDbDictionary | 281 1
0 DICTIONARY | 5 1A | 102 {ACAD_REACTORS | 330 C | 102 } | 330 C | 100 AcDbDictionary | 281 1`)

var moreObjects = tags(`350 1E | 3 Model | 350 22
0 DICTIONARY | 5 17 | 102 {ACAD_REACTORS | 330 C | 102 } | 330 C | 100 AcDbDictionary | 281 1 | 3 Standard | 350 18
0 DICTIONARY | 5 19 | 102 {ACAD_REACTORS | 330 C | 102 } | 330 C | 100 AcDbDictionary | 281 1
0 ACDBDICTIONARYWDFLT | 5 E | 102 {ACAD_REACTORS | 330 C | 102 } | 330 C | 100 AcDbDictionary | 281 1 | 3 Normal | 350 F | 100 AcDbDictionaryWithDefault | 340 F
0 ACDBPLACEHOLDER | 5 F | 102 {ACAD_REACTORS | 330 E | 102 } | 330 E
0 MLINESTYLE | 5 18 | 102 {ACAD_REACTORS | 330 17 | 102 } | 330 17 | 100 AcDbMlineStyle | 2 Standard | 70 0 | 3  | 62 256 | 51 90.0 | 52 90.0 | 71 2
49 0.5 | 62 256 | 6 ByLayer | 49 -0.5 | 62 256 | 6 ByLayer
0 LAYOUT | 5 1E | 102 {ACAD_REACTORS | 330 1A | 102 } | 330 1A | 100 AcDbPlotSettings
1  | 2 none_device`)

var paperPlot = tags(`
6  | 40 0.0 | 41 0.0 | 42 0.0 | 43 0.0`)

var paperScale = tags(`
46 0.0 | 47 0.0 | 48 0.0 | 49 0.0 | 140 0.0 | 141 0.0 | 142 1.0 | 143 1.0 | 70 688 | 72 1 | 73 0 | 74 5 | 7  | 75 16
147 1.0 | 148 0.0 | 149 0.0 | 100 AcDbLayout`)

var paperLimits = tags(`
70 1 | 71 1 | 10 0.0 | 20 0.0`)

var paperBase = tags(`
12 0.0 | 22 0.0 | 32 0.0 | 14 0.0 | 24 0.0 | 34 0.0`)

var modelStart = tags(`
146 0.0 | 13 0.0 | 23 0.0 | 33 0.0 | 16 1.0 | 26 0.0 | 36 0.0 | 17 0.0 | 27 1.0 | 37 0.0 | 76 0 | 330 1B
0 LAYOUT | 5 22 | 102 {ACAD_REACTORS | 330 1A | 102 } | 330 1A | 100 AcDbPlotSettings
1  | 2 none_device | 4 ISO_A3_(420.00_x_297.00_MM) | 6  | 40 0.0 | 41 0.0 | 42 0.0 | 43 0.0 | 44 420.0 | 45 297.0
46 0.0 | 47 0.0 | 48 0.0 | 49 0.0 | 140 0.0 | 141 0.0`)

var modelPlot = tags(`
143 1.0 | 70 1696 | 72 1 | 73 0 | 74 1 | 7  | 75 0`)

var modelLayout = tags(`
148 0.0 | 149 0.0 | 100 AcDbLayout | 1 Model | 70 1 | 71 0`)

var modelEnd = tags(`
146 0.0 | 13 0.0 | 23 0.0 | 33 0.0 | 16 1.0 | 26 0.0 | 36 0.0 | 17 0.0 | 27 1.0 | 37 0.0 | 76 0 | 330 1F`)

// objects ends with the layout of model space, which plots the whole drawing
// at the scale it is made for.
func (w *writer) objects() {
	w.flush()
	w.lit(objectsStart)
	if w.covers {
		w.lit(wipeoutEntry)
	}
	w.lit(layoutDictionary)
	w.text("  3", w.layout.name(), dataField)
	w.lit(moreObjects)
	w.paperLayout()
	w.lit(modelStart)
	scale := w.d.Style.PaperScale()
	w.num("142", scale)
	w.lit(modelPlot)
	w.num("147", scale)
	w.lit(modelLayout)
	w.flat(w.bounds.Min)
	w.num(" 11", w.bounds.Max.X)
	w.num(" 21", w.bounds.Max.Y)
	w.point('2', drawing.Point{})
	w.point('4', w.bounds.Min)
	w.point('5', w.bounds.Max)
	w.lit(modelEnd)
	if w.covers {
		w.lit(wipeoutVariables)
	}
	w.lit(endSection)
}

// paperLayout appends the rest of the layout of paper space.
func (w *writer) paperLayout() {
	width, height := w.layout.size()
	if w.layout == nil {
		w.str("  4", "ISO_A3_(420.00_x_297.00_MM)")
	} else {
		w.str("  4", paperName(width, height))
	}
	w.lit(paperPlot)
	w.num(" 44", width)
	w.num(" 45", height)
	w.lit(paperScale)
	w.text("  1", w.layout.name(), dataField)
	w.lit(paperLimits)
	w.num(" 11", width)
	w.num(" 21", height)
	w.lit(paperBase)
	w.point('5', drawing.Point{X: width, Y: height})
}

// paperName returns a name for paper of a size, which for the sheets of ISO 216
// is that of the standard.
func paperName(width, height float64) string {
	size := fmt.Sprintf("(%.2f_x_%.2f_MM)", width, height)
	for i, a := range [...][2]float64{{841, 1189}, {594, 841}, {420, 594}, {297, 420}, {210, 297}} {
		if a == [2]float64{min(width, height), max(width, height)} {
			return fmt.Sprintf("ISO_A%d_%s", i, size)
		}
	}
	return "UserDefined_" + size
}
