package dxfin

import (
	"strconv"
	"strings"
)

// A File is what a DXF file holds, as it stands there. Lengths are in drawing
// units, angles in degrees counter-clockwise, names in the case in which they
// stand.
type File struct {
	Version  string // $ACADVER, such as "AC1015"; "" where the file does not say
	Binary   bool
	CodePage string // $DWGCODEPAGE, such as "ANSI_1252"; "" where the file does not say
	UTF8     bool   // texts were read as UTF-8

	Layers     []Layer
	LineTypes  []LineType
	TextStyles []TextStyle
	DimStyles  []DimStyle
	Blocks     []Block

	// Entities are those of model space, Paper those of paper space.
	Entities []Entity
	Paper    []Entity

	// Skipped counts the entities that are not read, by kind, in the order in
	// which they occur.
	Skipped []Count
	// Notes say what was odd and was read all the same.
	Notes []Note

	header map[string][]headerValue
	tables tableIndex
}

// A Count is how many entities there are of a kind.
type Count struct {
	Kind string
	N    int
	Line int // of the first
}

// A Note is an oddity of a file, with its line, or its byte offset in a binary
// file; 0 is no line in particular.
type Note struct {
	Line int
	Text string
}

// String returns the note with its line.
func (n Note) String() string {
	if n.Line == 0 {
		return n.Text
	}
	return "line " + strconv.Itoa(n.Line) + ": " + n.Text
}

type headerValue struct {
	code int
	text string
}

// Variable returns the value of a header variable, such as "$INSUNITS", as it
// stands in the file; of a point it is x.
func (f *File) Variable(name string) (string, bool) {
	v := f.header[strings.ToUpper(name)]
	if len(v) == 0 {
		return "", false
	}
	return v[0].text, true
}

// Number returns the value of a numeric header variable, or def where the file
// has none.
func (f *File) Number(name string, def float64) float64 {
	if s, ok := f.Variable(name); ok {
		if v, err := strconv.ParseFloat(strings.TrimSpace(s), 64); err == nil && v-v == 0 {
			return v
		}
	}
	return def
}

// Millimetres returns how many millimetres the unit of the drawing has
// ($INSUNITS); ok is false where the file does not say.
func (f *File) Millimetres() (mm float64, ok bool) {
	units := map[int]float64{1: 25.4, 2: 304.8, 4: 1, 5: 10, 6: 1000, 8: 25.4e-6, 9: 0.0254, 10: 914.4, 13: 1e-3, 14: 100, 15: 1e4}
	mm, ok = units[int(f.Number("$INSUNITS", 0))]
	return mm, ok
}

// A Layer is a record of the layer table.
type Layer struct {
	Name     string
	Colour   Colour
	LineType string
	Weight   Weight
	// Off, Frozen: its entities are not shown. Unplotted: they are not printed.
	Off, Frozen, Unplotted bool
	Line                   int // of the file; 0 where no table has the layer
}

// A LineType is a pattern: dashes are positive, gaps negative, dots 0, in
// drawing units. It is nil for continuous lines.
type LineType struct {
	Name        string
	Description string
	Pattern     []float64
}

// A TextStyle is a record of the text style table.
type TextStyle struct {
	Name   string
	Font   string
	Height float64 // 0: each text has its own
	Width  float64 // of characters, 1 is that of the font
}

// A DimStyle is a record of the dimension style table: what the text of a
// dimension depends on.
type DimStyle struct {
	Name      string
	Post      string  // around the value: "<> mm", or a suffix
	Factor    float64 // of lengths, DIMLFAC
	Round     float64 // to multiples of this; 0 is not
	Decimals  int     // of lengths; -1 where the style does not say
	AngleDecs int     // of angles; -1 as Decimals
	Zeros     int     // DIMZIN: 8 leaves out trailing zeros, 4 leading ones
	Separator rune    // of decimals
}

// A Block is a block definition.
type Block struct {
	Name     string
	Base     Vec3
	External bool // it stands for another file
	Entities []Entity
	Line     int
}

// A Weight is the width of a line in hundredths of a millimetre, or one of the
// constants.
type Weight int

// Weights that are no width.
const (
	WeightByLayer Weight = -1
	WeightByBlock Weight = -2
	WeightDefault Weight = -3 // what the program takes where nothing is said
)

// A Colour is an index of the format, 1 to 255, or one of the constants; where
// RGB is not negative it is 0xRRGGBB and the index the nearest to it.
type Colour struct {
	Index int
	RGB   int
}

// Indices that are no colour of their own.
const (
	ColourByBlock = 0
	ColourByLayer = 256
)

// tableIndex finds records by name.
type tableIndex struct {
	layers, lineTypes, dimStyles, blocks map[string]int
}

// fold is how names are compared.
func fold(name string) string { return strings.ToUpper(name) }

// Layer returns the layer of a name, whatever the case of its letters; one that
// no table has is white and continuous.
func (f *File) Layer(name string) Layer {
	if i, ok := f.tables.layers[fold(name)]; ok {
		return f.Layers[i]
	}
	return Layer{Name: name, Colour: Colour{7, -1}, LineType: "CONTINUOUS", Weight: WeightDefault, Unplotted: neverPlotted(name)}
}

// neverPlotted reports whether a layer is the one for the points of dimensions,
// which no program prints whatever the file says.
func neverPlotted(name string) bool { return fold(name) == "DEFPOINTS" }

// LineType returns the line type of a name; one that no table has is
// continuous.
func (f *File) LineType(name string) LineType {
	if i, ok := f.tables.lineTypes[fold(name)]; ok {
		return f.LineTypes[i]
	}
	return LineType{Name: name}
}

// DimStyle returns the dimension style of a name; one that no table has says
// what the header says.
func (f *File) DimStyle(name string) DimStyle {
	if i, ok := f.tables.dimStyles[fold(name)]; ok {
		return f.DimStyles[i]
	}
	s := newDimStyle()
	s.Factor = f.Number("$DIMLFAC", 1)
	s.Round = f.Number("$DIMRND", 0)
	s.Decimals = int(f.Number("$DIMDEC", f.Number("$LUPREC", -1)))
	s.AngleDecs = int(f.Number("$DIMADEC", f.Number("$AUPREC", -1)))
	s.Zeros = int(f.Number("$DIMZIN", 8))
	s.Post, _ = f.Variable("$DIMPOST")
	if c := rune(f.Number("$DIMDSEP", '.')); c > ' ' {
		s.Separator = c
	}
	return s
}

func newDimStyle() DimStyle {
	return DimStyle{Factor: 1, Decimals: -1, AngleDecs: -1, Zeros: 8, Separator: '.'}
}

// Block returns the block of a name.
func (f *File) Block(name string) (*Block, bool) {
	i, ok := f.tables.blocks[fold(name)]
	if !ok {
		return nil, false
	}
	return &f.Blocks[i], true
}
