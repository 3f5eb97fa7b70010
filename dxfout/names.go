package dxfout

import (
	"math"
	"path/filepath"
	"strconv"
	"strings"
	"unicode/utf8"

	"boltplate/drawing"
)

// names are what the tables of a file are named. They are our own, and say all
// that the records depend on: what two files name alike is alike, so that a
// drawing which others are inserted into redefines nothing of theirs, nor they
// of it. Plain files have the names that weak readers know.
type names struct {
	scale string    // of the plot, such as "1-2"
	text  string    // the text style
	dim   string    // what the names of dimension styles begin with
	tail  string    // what they end with
	lines [4]string // of isoLineTypes
}

// planNames settles the names.
func (w *writer) planNames() {
	w.letters = textField
	st := w.d.Style
	for i, t := range isoLineTypes() {
		w.names.lines[i] = t.name
		if !w.plain {
			w.names.lines[i] = lineTypeName(t.name, st.Width(t.role))
		}
	}
	if w.plain {
		w.names.text, w.letters = "STANDARD", plainField
		return
	}
	w.names.scale = scaleName(st.PaperScale())
	font := ""
	if w.font != DefaultFont {
		font = "_" + strings.ToUpper(cleanName(strings.TrimSuffix(w.font, filepath.Ext(w.font))))
	}
	w.names.text = "BOLTPLATE" + font
	w.names.dim = "BOLTPLATE_" + w.names.scale
	tail := ""
	if h := st.Height(); h != 3.5 {
		tail += "_H" + formatFloat(h)
	}
	if g := st.Wide(); g != 0.5 {
		tail += "_G" + formatFloat(g)
	}
	if st.DecimalComma {
		tail += "_COMMA"
	}
	if c := w.layer[drawing.RoleText].colour; c != colourWide {
		tail += "_C" + strconv.Itoa(c)
	}
	w.names.tail = tail + font
}

// dimStyle returns the name of the dimension style for views of a scale,
// such as "BOLTPLATE_1-2", or "BOLTPLATE_1-1_VIEW_1-2" for views at 1:2 on a
// sheet.
func (n *names) dimStyle(scale float64) string {
	if scale == 1 {
		return n.dim + n.tail
	}
	return n.dim + "_VIEW_" + scaleName(scale) + n.tail
}

// scaleName returns a scale as a part of a name: 1-2 for 1:2.
func scaleName(scale float64) string {
	if inverse := 1 / scale; scale < 1 {
		if r := math.Round(inverse); math.Abs(inverse-r) < 1e-9*r {
			inverse = r
		}
		return "1-" + formatFloat(inverse)
	}
	return formatFloat(scale) + "-1"
}

// lineTypeName returns the name of a line type in a file that is not plain: the
// trade's word and the width of the line that the pattern belongs to, such as
// "HIDDEN_0.25".
func lineTypeName(word string, width float64) string { return word + "_" + formatFloat(width) }

// maxName leaves room for the number that makes a name unique.
const maxName = 200

// cleanName returns s as a name that the symbol tables of every reader take:
// ASCII without the characters that names must not hold. Letters of
// Windows-1252 stay as their bytes; whatever else is there becomes "_".
func cleanName(s string) string {
	b := make([]byte, 0, len(s))
	for _, r := range strings.TrimSpace(s) {
		switch {
		case len(b) == maxName:
			return string(b)
		case r < ' ' || r == 0x7f || r == utf8.RuneError || strings.ContainsRune("<>/\\\":;?*|,=`^%", r):
			b = append(b, '_')
		case r < utf8.RuneSelf:
			b = append(b, byte(r))
		case r >= 0xc0 && r <= 0xff && r != '×' && r != '÷':
			b = append(b, byte(r))
		case r == '×':
			b = append(b, 'x')
		default:
			b = append(b, '_')
		}
	}
	if len(b) == 0 {
		return "UNNAMED"
	}
	return string(b)
}

// A nameSet makes names unique. Readers do not tell upper from lower case.
type nameSet map[string]bool

func (n nameSet) unique(name string) string {
	key := foldName(name)
	for i, base := 2, name; n[key]; i++ {
		name = base + "_" + strconv.Itoa(i)
		key = foldName(name)
	}
	n[key] = true
	return name
}

// foldName turns the letters of a cleaned name into capitals, those of
// Windows-1252 included.
func foldName(s string) string {
	b := []byte(s)
	for i, c := range b {
		if c >= 'a' && c <= 'z' || c >= 0xe0 && c != 0xf7 && c != 0xff {
			b[i] = c - 0x20
		}
	}
	return string(b)
}
