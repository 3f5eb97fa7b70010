package dxfout

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"boltplate/drawing"
)

// The line types that a file defines, by the words of the trade (ASME Y14.2): a
// solid line and the patterns of ISO 128-2, in millimetres on paper. In the
// tables of a file that is not plain a word is followed by the width of the
// line, which the lengths of the dashes depend on: HIDDEN_0.25. The scale is a
// matter of each line that has one, so that drawings of several scales can share
// layers.
const (
	Continuous = "Continuous"
	Hidden     = "HIDDEN"  // no. 02 dashed
	Center     = "CENTER"  // no. 04 long-dashed dotted, for narrow lines
	Cutting    = "CUTTING" // the same for cutting planes, which are wide: twice as long
	Phantom    = "PHANTOM" // no. 05 long-dashed double-dotted
)

// LineTypes returns the words for the line types that a file defines.
func LineTypes() []string { return []string{Continuous, Hidden, Center, Cutting, Phantom} }

// LineTypeName returns under what name a line type is in the tables of drawings
// of a style.
func LineTypeName(lineType string, st drawing.Style) string {
	for _, t := range isoLineTypes() {
		if strings.EqualFold(t.name, lineType) {
			return lineTypeName(t.name, st.Width(t.role))
		}
	}
	return Continuous
}

// A Layer says on which layer the items of a role stand and how its lines
// look. Fields that are zero keep what the role has without it.
type Layer struct {
	Name     string  // such as "OUTLINE"; in AC1009 at most 31 of A-Z, 0-9, _, - and $
	Colour   int     // the colour index of the format, 1 to 255
	LineType string  // one of LineTypes, in capitals or not
	Width    float64 // mm, one of LineWidths; AC1009 has no widths
}

// A LayerMap gives each role a layer. The zero value keeps all layers of the
// package comment. Several roles may share a layer if they agree in colour,
// line type and width, which then belong to the layer.
//
// The text of dimensions stands on the layer of RoleDimension in the colour of
// RoleText.
type LayerMap [drawing.RoleCount]Layer

// LineWidths returns the widths that a layer can have, mm.
func LineWidths() []float64 {
	widths := make([]float64, 0, len(lineWeights)-1)
	for _, w := range lineWeights[1:] {
		widths = append(widths, float64(w)/100)
	}
	return widths
}

// Layer returns the layer of a role, with all that looks like it, in drawings
// of a style; the zero Layer for what is no role.
func (m LayerMap) Layer(r drawing.Role, st drawing.Style) Layer {
	if r >= drawing.RoleCount {
		return Layer{}
	}
	l := m[r].layerOf(r, st)
	name := l.name
	if m[r].Name != "" {
		name = m[r].Name
	}
	return Layer{Name: name, Colour: l.colour, LineType: l.lineType, Width: float64(l.weight) / 100}
}

// LinePattern returns the dashes (positive) and gaps (negative) of a line type
// in drawings of a style, mm on paper; nil for Continuous and for what is no
// line type.
func LinePattern(lineType string, st drawing.Style) []float64 {
	for _, t := range isoLineTypes() {
		if strings.EqualFold(t.name, lineType) {
			return t.pattern(st)
		}
	}
	return nil
}

// layerOf returns the layer of a role in drawings of a style.
func (m *Layer) layerOf(r drawing.Role, st drawing.Style) layer {
	l := roleLayers[r]
	l.colour, l.weight = look(r, st)
	if m.Name != "" {
		l.name = cleanName(m.Name)
	}
	if m.Colour != 0 {
		l.colour = m.Colour
	}
	for _, t := range LineTypes() {
		if strings.EqualFold(t, m.LineType) {
			l.lineType = t
		}
	}
	if m.Width != 0 {
		l.weight = lineWeight(m.Width)
	}
	return l
}

// A layer holds the items of one role, or of several.
type layer struct {
	name     string
	lineType string
	colour   int
	weight   int    // hundredths of a millimetre
	shared   bool   // with a role before this one
	entity   string // the name, and for dashed lines the scale of the dashes
	unused   bool   // nothing stands on it, and the file does not have it
}

// on returns the layer of what a role has, with the groups that go with it.
func (w *writer) on(r drawing.Role) string {
	if w.paper {
		return w.layer[r].name
	}
	return w.layer[r].entity
}

// Colours of the format's index: black or white by the background for wide
// lines and text, grey for narrow lines, red for findings.
const (
	colourWide    = 7
	colourNarrow  = 8
	colourFinding = 1
)

// roleLayers lists the layer of each role.
var roleLayers = [drawing.RoleCount]layer{
	drawing.RoleOutline:   {name: "OUTLINE", lineType: Continuous},
	drawing.RoleThin:      {name: "THIN", lineType: Continuous},
	drawing.RoleHidden:    {name: "HIDDEN", lineType: Hidden},
	drawing.RoleCentre:    {name: "CENTRE", lineType: Center},
	drawing.RoleCutting:   {name: "CUTTING", lineType: Cutting},
	drawing.RoleAdjacent:  {name: "ADJACENT", lineType: Phantom},
	drawing.RoleHatching:  {name: "HATCHING", lineType: Continuous},
	drawing.RoleDimension: {name: "DIMENSION", lineType: Continuous},
	drawing.RoleText:      {name: "TEXT", lineType: Continuous},
	drawing.RoleFrame:     {name: "FRAME", lineType: Continuous},
	drawing.RoleFinding:   {name: "FINDINGS", lineType: Continuous},

	drawing.RoleConstruction: {name: "CONSTRUCTION", lineType: Continuous},
}

// defaultDimText is the layer of the text of dimensions with its colour, ready
// for the common case.
const defaultDimText = "DIMENSION\r\n 62\r\n7"

// planLayers settles the layer of each role. m has been checked.
func (w *writer) planLayers(m *LayerMap) error {
	for r := range w.layer {
		l := m[r].layerOf(drawing.Role(r), w.d.Style)
		if w.plain {
			l.name = strings.ToUpper(l.name)
		}
		for q := range r {
			o := &w.layer[q]
			if foldName(o.name) != foldName(l.name) {
				continue
			}
			a, b, why := q, r, o.differs(&l, w.plain)
			if m[r].Name == "" { // the one that was named is to blame
				a, b, why = r, q, l.differs(o, w.plain)
			}
			if why != "" {
				return layerError(drawing.Role(b), "", strconv.Quote(l.name), fmt.Sprintf("is the layer of %v too, which has %s; give both the same, or two layers", drawing.Role(a), why))
			}
			l.name, l.shared = o.name, true
			break
		}
		l.unused = drawing.Role(r).Extra() && !w.d.Uses(drawing.Role(r))
		l.entity = l.name
		if mm := w.d.Style.Part(1); l.lineType != Continuous && mm != 1 && !w.plain {
			// The dashes have their lengths on paper.
			l.entity += "\r\n 48\r\n" + string(appendNumber(nil, mm))
		}
		w.layer[r] = l
	}
	dim, text := &w.layer[drawing.RoleDimension], &w.layer[drawing.RoleText]
	if w.dimTextLayer = defaultDimText; dim.name != "DIMENSION" || text.colour != colourWide {
		w.dimTextLayer = dim.name + "\r\n 62\r\n" + strconv.Itoa(text.colour)
	}
	return nil
}

// differs says in what l, the layer of another role, looks different from o.
func (o *layer) differs(l *layer, plain bool) string {
	switch {
	case o.colour != l.colour:
		return fmt.Sprintf("the colour %d and not %d", o.colour, l.colour)
	case o.lineType != l.lineType:
		return fmt.Sprintf("the line type %s and not %s", o.lineType, l.lineType)
	case o.weight != l.weight && !plain:
		return fmt.Sprintf("the width %g and not %g", float64(o.weight)/100, float64(l.weight)/100)
	}
	return ""
}

func (w *writer) layerCount() (n int) {
	for i := range w.layer {
		if !w.layer[i].shared && !w.layer[i].unused {
			n++
		}
	}
	return n
}

// encoder checks what an Encoder says.
func (c *checker) encoder(e Encoder) {
	fail := func(field, value, reason string) {
		if c.err == nil {
			c.err = &ValueError{Index: -1, Item: -1, Object: "Encoder", Field: field, Value: value, Reason: reason}
		}
	}
	if e.Version >= versionCount {
		fail("Version", strconv.Itoa(int(e.Version)), "is no version; there are R2000 and R12")
	}
	font := e.font(c.d.Style)
	if !fits(font, dataField, maxString) {
		fail("Font", "", "is too long")
	}
	if r := notPlain(font); c.plain && r >= 0 {
		fail("Font", strconv.Quote(font), fmt.Sprintf("holds %q, which an AC1009 file cannot hold", r))
	}
	if e.Layers == (LayerMap{}) {
		return
	}
	for r := range e.Layers {
		if err := e.Layers[r].check(drawing.Role(r), c.plain); err != nil && c.err == nil {
			c.err = err
		}
	}
}

func layerError(r drawing.Role, field, value, reason string) *ValueError {
	name := fmt.Sprintf("Layers[%v]", r)
	if field != "" {
		name += "." + field
	}
	return &ValueError{Index: -1, Item: -1, Object: "Encoder", Field: name, Value: value, Reason: reason}
}

// check returns what is wrong with the layer of a role.
func (l *Layer) check(r drawing.Role, plain bool) *ValueError {
	if why := badLayerName(l.Name, plain); l.Name != "" && why != "" {
		return layerError(r, "Name", strconv.Quote(l.Name), why)
	}
	if l.Colour < 0 || l.Colour > 255 {
		return layerError(r, "Colour", strconv.Itoa(l.Colour), "is no colour index; they go from 1 to 255")
	}
	known := func(t string) bool { return strings.EqualFold(t, l.LineType) }
	if l.LineType != "" && !slices.ContainsFunc(LineTypes(), known) {
		return layerError(r, "LineType", strconv.Quote(l.LineType), "is no line type; there are "+strings.Join(LineTypes(), ", "))
	}
	if l.Width != 0 && (!(l.Width > 0) || !slices.Contains(LineWidths(), l.Width)) {
		return layerError(r, "Width", formatFloat(l.Width), fmt.Sprintf("is no width of the format; the nearest is %g", float64(max(lineWeights[1], lineWeight(l.Width)))/100))
	}
	return nil
}

// badLayerName says what is wrong with the name of a layer, "" if nothing is.
func badLayerName(name string, plain bool) string {
	switch {
	case name == "0" || strings.EqualFold(name, "DEFPOINTS"):
		return "is a layer with a meaning of its own; give another name"
	case plain && (len(name) > 31 || strings.ContainsFunc(name, func(r rune) bool { return !plainName(r) })):
		return "cannot be the name of a layer in an AC1009 file: at most 31 of the characters A-Z, 0-9, _, - and $"
	case len([]rune(name)) > maxName:
		return fmt.Sprintf("is longer than %d characters", maxName)
	case strings.TrimSpace(name) != name || !isCleanName(name):
		return "holds what the name of a layer must not: blanks at its ends, signs such as < > / \\ \" : ; ? * | , = ` ^ %, or letters beyond those of western Europe"
	}
	return ""
}

func plainName(r rune) bool {
	return r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '_' || r == '-' || r == '$'
}

// isCleanName reports whether cleanName leaves name as it is.
func isCleanName(name string) bool {
	b := cleanName(name)
	i := 0
	for _, r := range name {
		if i >= len(b) || rune(b[i]) != r {
			return false
		}
		i++
	}
	return i == len(b)
}

// look returns colour and line weight of a layer, the weight in hundredths of
// a millimetre.
func look(r drawing.Role, st drawing.Style) (colour, weight int) {
	colour = colourNarrow
	switch {
	case r == drawing.RoleFinding:
		colour = colourFinding
	case r == drawing.RoleText || r.Wide():
		colour = colourWide
	}
	return colour, lineWeight(st.Width(r))
}

// lineWeights are those of the format, in hundredths of a millimetre. Readers
// refuse weights that are not in the list.
var lineWeights = [...]int{0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120, 140, 158, 200, 211}

// lineWeight returns the line weight of the format that is nearest to a width
// in millimetres.
func lineWeight(mm float64) int {
	best := 0
	for _, w := range lineWeights {
		if abs(float64(w)-100*mm) < abs(float64(best)-100*mm) {
			best = w
		}
	}
	return best
}

func abs(v float64) float64 {
	if v < 0 {
		return -v
	}
	return v
}

// A lineType is the pattern of a role's line under the trade's word.
type lineType struct {
	name, picture string
	role          drawing.Role
}

// pattern returns the dashes (positive) and gaps (negative), mm on paper.
func (t *lineType) pattern(st drawing.Style) []float64 {
	p := append([]float64(nil), t.role.Dashes()...)
	for i := range p {
		if p[i] *= st.Width(t.role); i%2 == 1 {
			p[i] = -p[i]
		}
	}
	return p
}

// isoLineTypes lists the lines of ISO 128-2 that are not continuous.
func isoLineTypes() [4]lineType {
	return [4]lineType{
		{Hidden, "ISO 128-2 no. 02 dashed __ __ __", drawing.RoleHidden},
		{Center, "ISO 128-2 no. 04 long-dashed dotted ____ . ____", drawing.RoleCentre},
		{Cutting, "ISO 128-2 no. 04 wide ________ . ________", drawing.RoleCutting},
		{Phantom, "ISO 128-2 no. 05 long-dashed double-dotted ____ . . ____", drawing.RoleAdjacent},
	}
}
