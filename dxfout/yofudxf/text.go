package yofudxf

import (
	"github.com/yofu/dxf/color"
	"github.com/yofu/dxf/entity"
	"github.com/yofu/dxf/format"
)

// A Text is a text that is aligned to its second point or has a colour of its
// own. Otherwise it is the library's: Coord1 is the left end of its base line,
// as far as the width of the text is known, Coord2 the point it is aligned to.
type Text struct {
	*entity.Text
	Colour color.ColorNumber // 0 is that of its layer
}

// Format writes the text to f.
func (t *Text) Format(f format.Formatter) { t.Text.Format(&completer{f, t}) }

// FormatString returns the text as f writes it.
func (t *Text) FormatString(f format.Formatter) string {
	t.Format(f)
	return f.Output()
}

// String returns the text as the library's default formatter writes it.
func (t *Text) String() string { return t.FormatString(format.NewASCII()) }

// A completer adds what the library leaves out of a text: the colour after the
// layer, and the second point after the horizontal alignment.
type completer struct {
	format.Formatter
	t *Text
}

// WriteString writes a group, and the colour after that of the layer.
func (c *completer) WriteString(code int, s string) {
	c.Formatter.WriteString(code, s)
	if code == 8 && c.t.Colour != 0 {
		c.Formatter.WriteInt(62, int(c.t.Colour))
	}
}

// WriteInt writes a group, and the second point after the alignment.
func (c *completer) WriteInt(code, v int) {
	c.Formatter.WriteInt(code, v)
	if code == 72 {
		for i, v := range c.t.Coord2 {
			c.Formatter.WriteFloat(11+10*i, v)
		}
	}
}
