package dxfout

import (
	"fmt"
	"strconv"

	"boltplate/drawing"
)

// Extended data: the version of its form, and how much one entity may carry.
const (
	dataVersion = "version=1"
	maxData     = 16000 // bytes; the format allows 16383 for all applications
	maxKey      = 100
)

// parts checks the descriptions of parts.
func (c *checker) parts() {
	for i := range c.d.Parts {
		p := &c.d.Parts[i]
		c.view, c.item = -1, -1
		c.point("At", p.At)
		for j := range p.Attributes {
			c.attribute(&p.Attributes[j])
		}
		size := len(dataVersion)
		for j := range p.Properties {
			size += c.property(p.Properties[j])
		}
		if size > maxData {
			c.fail("Properties", "", fmt.Sprintf("take %d bytes; one entity can carry %d", size, maxData))
		}
		if c.err != nil {
			c.err.Index, c.err.View, c.err.Object = i, p.Name, "Part"
			return
		}
	}
}

func (c *checker) attribute(a *drawing.Attribute) {
	if !validTag(a.Tag) {
		c.fail("Attributes.Tag", strconv.Quote(a.Tag), "is no tag: printable ASCII without blanks, at most 31 characters")
	}
	c.text("Attributes.Prompt", a.Prompt, textField)
	c.lettering(a.Text)
	if c.plain && !a.Hidden {
		c.plainText("Attributes.Text.Value", a.Text.Value)
	}
}

func validTag(s string) bool {
	for i := range len(s) {
		if s[i] <= ' ' || s[i] > '~' || s[i] == '^' || s[i] == '%' || s[i] == '\\' {
			return false
		}
	}
	return s != "" && len(s) <= 31
}

// property checks one property and returns about how much space it takes.
func (c *checker) property(p drawing.Property) int {
	for i := range len(p.Key) {
		if p.Key[i] == '=' || p.Key[i] == '#' {
			c.fail("Properties.Key", strconv.Quote(p.Key), "holds = or #, which divide key, index and value")
		}
	}
	if p.Key == "" || !fits(p.Key, dataField, maxKey) {
		c.fail("Properties.Key", strconv.Quote(p.Key), fmt.Sprintf("is empty or longer than %d bytes", maxKey))
	}
	n := 0
	var scratch [16]byte
	for i := 0; i < len(p.Value); {
		var b []byte
		b, i = appendCharacter(scratch[:0], p.Value, i, dataField)
		n += len(b)
	}
	return n + (n/(maxString-maxKey)+1)*(len(p.Key)+8)
}

// partBlock appends the block of a part, which holds the definitions of its
// attributes.
func (w *writer) partBlock(b *partBlock) {
	p := &w.d.Parts[b.first]
	w.namedBlock(b.handle, b.name, "2")
	w.place(drawing.Point{}, 1)
	for i := range p.Attributes {
		a := &p.Attributes[i]
		at := drawing.Point{}
		if !a.Hidden {
			at = a.Text.At.Sub(p.At)
		}
		w.entity("  0\r\nATTDEF\r\n  5\r\n", w.layer[drawing.RoleText].name, "AcDbText")
		w.string(&a.Text, at)
		w.lit("100\r\nAcDbAttributeDefinition\r\n")
		w.text("  3", a.Prompt, textField)
		w.attributeEnd(a)
	}
	w.endBlock()
}

func (w *writer) attributeEnd(a *drawing.Attribute) {
	w.str("  2", a.Tag)
	if a.Hidden {
		w.lit(" 70\r\n1\r\n")
	} else {
		w.lit(" 70\r\n0\r\n")
	}
}

// part appends a part: the insert of its block with its attributes and its
// properties.
func (w *writer) part(i int) {
	p := &w.d.Parts[i]
	if w.plain {
		w.plainPart(p)
		return
	}
	insert := w.next
	w.entity("  0\r\nINSERT\r\n  5\r\n", w.layer[drawing.RoleText].name, "AcDbBlockReference")
	if len(p.Attributes) > 0 {
		w.lit(" 66\r\n1\r\n")
	}
	w.str("  2", w.plan.parts[w.partOf[i]].name)
	w.point('0', p.At)
	w.properties(p.Properties)
	if len(p.Attributes) == 0 {
		return
	}
	owner := w.owner
	w.owner = insert
	for j := range p.Attributes {
		a := &p.Attributes[j]
		at := p.At
		if !a.Hidden {
			at = a.Text.At
		}
		w.entity("  0\r\nATTRIB\r\n  5\r\n", w.layer[drawing.RoleText].name, "AcDbText")
		w.string(&a.Text, at)
		w.lit("100\r\nAcDbAttribute\r\n")
		w.attributeEnd(a)
	}
	w.flush()
	w.handle("  0\r\nSEQEND\r\n  5", w.next)
	w.next++
	w.handle("330", insert)
	w.lit("100\r\nAcDbEntity\r\n")
	w.str("  8", w.layer[drawing.RoleText].name)
	w.owner = owner
}

// properties appends extended data, one string a property. A property that is
// longer than a string may be is split; its pieces are key#1=, key#2= and so
// on.
func (w *writer) properties(ps []drawing.Property) {
	w.lit("1001\r\nBOLTPLATE\r\n1000\r\n" + dataVersion + "\r\n")
	for _, p := range ps {
		w.flush()
		if len(p.Key)+len(p.Value) <= maxString/7 || w.fitsWhole(p) {
			w.property(p.Key, 0)
			w.buf = appendText(w.buf, p.Value, dataField)
			w.lit("\r\n")
			continue
		}
		w.split(p)
	}
}

func (w *writer) fitsWhole(p drawing.Property) bool {
	n := len(w.buf)
	w.buf = appendText(w.buf, p.Key, dataField)
	n, w.buf = len(w.buf)-n, w.buf[:n]
	return fits(p.Value, dataField, maxString-1-n)
}

// property appends the start of a string up to the equals sign; piece 0 is
// the whole of a property.
func (w *writer) property(key string, piece int) {
	w.lit("1000\r\n")
	w.buf = appendText(w.buf, key, dataField)
	if piece > 0 {
		w.buf = strconv.AppendInt(append(w.buf, '#'), int64(piece), 10)
	}
	w.buf = append(w.buf, '=')
}

func (w *writer) split(p drawing.Property) {
	for i, piece := 0, 1; i < len(p.Value); piece++ {
		w.flush()
		start := len(w.buf) + len("1000\r\n")
		w.property(p.Key, piece)
		for i < len(p.Value) {
			b, next := appendCharacter(w.buf, p.Value, i, dataField)
			if len(b)-start > maxString {
				break
			}
			w.buf, i = b, next
		}
		w.lit("\r\n")
	}
}
