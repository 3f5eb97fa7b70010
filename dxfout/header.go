package dxfout

import "boltplate/drawing"

var headerStart = tags(`
0 SECTION | 2 HEADER
9 $ACADVER | 1 AC1015
9 $DWGCODEPAGE | 3 ANSI_1252
9 $INSBASE | 10 0.0 | 20 0.0 | 30 0.0`)

var headerSettings = tags(`
9 $ORTHOMODE | 70 0
9 $REGENMODE | 70 1
9 $FILLMODE | 70 1
9 $QTEXTMODE | 70 0
9 $MIRRTEXT | 70 0
9 $ATTMODE | 70 1
9 $CLAYER | 8 0
9 $CELTYPE | 6 ByLayer
9 $CECOLOR | 62 256
9 $CELTSCALE | 40 1.0
9 $CELWEIGHT | 370 -1
9 $LUNITS | 70 2
9 $LUPREC | 70 3
9 $AUNITS | 70 0
9 $AUPREC | 70 1
9 $ANGBASE | 50 0.0
9 $ANGDIR | 70 0
9 $PDMODE | 70 0
9 $PDSIZE | 40 0.0
9 $PLINEGEN | 70 1
9 $PSLTSCALE | 70 0
9 $TILEMODE | 70 1
9 $MEASUREMENT | 70 1
9 $INSUNITS | 70 4
9 $LWDISPLAY | 290 1
9 $EXTNAMES | 290 1
9 $PSTYLEMODE | 290 1
9 $CMLSTYLE | 2 Standard
9 $PINSBASE | 10 0.0 | 20 0.0 | 30 0.0
9 $PLIMCHECK | 70 0
9 $PEXTMIN | 10 0.0 | 20 0.0 | 30 0.0
9 $PLIMMIN | 10 0.0 | 20 0.0
9 $DIMPOST | 1 
9 $DIMBLK | 1 `)

func (w *writer) header() {
	w.lit(headerStart)
	w.extents()
	w.lit(headerSettings)
	width, height := w.layout.size()
	w.lit("  9\r\n$PEXTMAX\r\n")
	w.point('0', drawing.Point{X: width, Y: height})
	w.lit("  9\r\n$PLIMMAX\r\n")
	w.flat(drawing.Point{X: width, Y: height})
	w.lit("  9\r\n$TEXTSTYLE\r\n")
	w.str("  7", w.names.text)
	w.lit("  9\r\n$DIMSTYLE\r\n")
	w.str("  2", w.dimStyleName(0))
	w.lit("  9\r\n$DIMTXSTY\r\n")
	w.str("  7", w.names.text)
	values := dimValues(w.d.Style, 1)
	for i := range dimReals {
		w.str("  9", dimReals[i].name)
		w.num(" 40", values[i])
	}
	w.lit(dimIntsHeader[0])
	w.int(" 70", w.layer[drawing.RoleText].colour)
	w.lit(dimIntsHeader[1])
	w.lit("  9\r\n$DIMDSEP\r\n")
	w.int(" 70", separator(w.d.Style))
	w.lit("  9\r\n$HANDSEED\r\n")
	w.handle("  5", w.seed)
	w.lit("  0\r\nENDSEC\r\n")
}

// extents appends the variables that depend on the size of the drawing and of
// its text.
func (w *writer) extents() {
	w.lit("  9\r\n$EXTMIN\r\n")
	w.point('0', w.bounds.Min)
	w.lit("  9\r\n$EXTMAX\r\n")
	w.point('0', w.bounds.Max)
	w.lit("  9\r\n$LIMMIN\r\n")
	w.flat(w.bounds.Min)
	w.lit("  9\r\n$LIMMAX\r\n")
	w.flat(w.bounds.Max)
	w.lit("  9\r\n$LTSCALE\r\n")
	if w.plain {
		w.num(" 40", w.d.Style.Part(1)) // patterns are in mm on paper
	} else {
		w.num(" 40", 1) // each line has its own scale
	}
	w.lit("  9\r\n$TEXTSIZE\r\n")
	w.num(" 40", w.d.Style.Part(w.d.Style.Height()))
}

func separator(st drawing.Style) int {
	if st.DecimalComma {
		return ','
	}
	return '.'
}

// A dimReal is a dimension variable with a real value: its name in the header
// and its group code in a style.
type dimReal struct{ name, code string }

var dimReals = [...]dimReal{
	{"$DIMSCALE", " 40"}, {"$DIMASZ", " 41"}, {"$DIMEXO", " 42"}, {"$DIMDLI", " 43"}, {"$DIMEXE", " 44"},
	{"$DIMRND", " 45"}, {"$DIMDLE", " 46"}, {"$DIMTP", " 47"}, {"$DIMTM", " 48"}, {"$DIMTXT", "140"},
	{"$DIMCEN", "141"}, {"$DIMTSZ", "142"}, {"$DIMLFAC", "144"}, {"$DIMTVP", "145"}, {"$DIMTFAC", "146"}, {"$DIMGAP", "147"},
}

// dimValues returns the values of dimReals for views at a scale: sizes in mm
// on paper, multiplied by DIMSCALE to make drawing units.
func dimValues(st drawing.Style, scale float64) [len(dimReals)]float64 {
	return [...]float64{
		st.Part(1), st.ArrowLength(), st.ExtensionGap(), st.RowStep(), st.ExtensionGap(),
		0, 0, 0, 0, st.Height(),
		0, 0, 1 / scale, 0, 0.7, st.TextGap(),
	}
}

// dimInts lists the dimension variables with whole values as name, code and
// value: text above the line and along it, at most two decimals without
// trailing zeros, arrows moved outside before the text, lines that look as their
// layer does, text in the colour of the layer of text, which is put in place of
// the value of DIMCLRT.
var dimInts = [...][3]string{
	{"$DIMTOL", " 71", "0"}, {"$DIMLIM", " 72", "0"}, {"$DIMTIH", " 73", "0"}, {"$DIMTOH", " 74", "0"},
	{"$DIMSE1", " 75", "0"}, {"$DIMSE2", " 76", "0"}, {"$DIMTAD", " 77", "1"}, {"$DIMZIN", " 78", "8"},
	{"$DIMAZIN", " 79", "2"}, {"$DIMALT", "170", "0"}, {"$DIMTOFL", "172", "1"}, {"$DIMSAH", "173", "0"},
	{"$DIMTIX", "174", "0"}, {"$DIMSOXD", "175", "0"}, {"$DIMCLRD", "176", "256"}, {"$DIMCLRE", "177", "256"},
	{"$DIMCLRT", "178", "7"}, {"$DIMADEC", "179", "2"}, {"$DIMDEC", "271", "2"}, {"$DIMTDEC", "272", "2"},
	{"$DIMAUNIT", "275", "0"}, {"$DIMLUNIT", "277", "2"}, {"$DIMTMOVE", "279", "0"}, {"$DIMJUST", "280", "0"},
	{"$DIMSD1", "281", "0"}, {"$DIMSD2", "282", "0"}, {"$DIMTOLJ", "283", "1"}, {"$DIMTZIN", "284", "8"},
	{"$DIMATFIT", "289", "1"}, {"$DIMLWD", "371", "-1"}, {"$DIMLWE", "372", "-1"},
}

// dimIntsHeader and dimIntsStyle are what goes before and what goes after the
// value of DIMCLRT, in the header with its name.
var dimIntsHeader, dimIntsStyle = func() (header, style [2]string) {
	i := 0
	for _, v := range dimInts {
		header[i] += "  9\r\n" + v[0] + "\r\n"
		if v[0] == "$DIMCLRT" {
			i = 1
			continue
		}
		header[i] += " 70\r\n" + v[2] + "\r\n"
		style[i] += v[1] + "\r\n" + v[2] + "\r\n"
	}
	return header, style
}()
