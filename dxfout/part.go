package dxfout

import (
	"fmt"
	"strconv"
	"strings"

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
		c.description(func(field, value, reason string) *ValueError {
			return &ValueError{View: p.Name, Index: i, Item: -1, Object: "Part", Field: field, Value: value, Reason: reason}
		}, p.Attributes, p.Properties)
	}
	for i := range c.d.Views {
		p := &c.d.Views[i]
		c.description(func(field, value, reason string) *ValueError {
			return &ValueError{View: p.View.Name, Index: i, Item: -1, Object: "Placed", Field: field, Value: value, Reason: reason}
		}, p.Attributes, p.Properties)
	}
}

// description checks what is to be written at an insert.
func (c *checker) description(at report, as []drawing.Attribute, ps []drawing.Property) {
	size := len(dataVersion)
	for j := range as {
		c.attribute(at, &as[j])
		if tooLong(&as[j]) {
			size += dataSize(drawing.Property{Key: as[j].Tag, Value: as[j].Text.Value})
		}
	}
	for j := range ps {
		c.property(at, ps[j])
		size += dataSize(ps[j])
	}
	if size > maxData {
		c.fail(at, "Properties", "", fmt.Sprintf("take %d bytes; one entity can carry %d", size, maxData))
	}
}

func (c *checker) attribute(at report, a *drawing.Attribute) {
	if !validTag(a.Tag) {
		c.fail(at, "Attributes.Tag", strconv.Quote(a.Tag), "is no tag: printable ASCII without blanks, at most 31 characters")
	}
	c.text(at, "Attributes.Prompt", a.Prompt, textField)
	if !a.Hidden {
		c.lettering(at, "Attributes.Text.Value", a.Text.Value)
	}
}

// tooLong reports whether the value of an attribute is longer than a string may
// be. It then has its beginning in the ATTRIB, which does not show, the whole
// of it among the properties, and an MTEXT in its place.
func tooLong(a *drawing.Attribute) bool { return !fits(a.Text.Value, textField, maxString) }

func validTag(s string) bool {
	for i := range len(s) {
		if s[i] <= ' ' || s[i] > '~' || s[i] == '^' || s[i] == '%' || s[i] == '\\' {
			return false
		}
	}
	return s != "" && len(s) <= 31
}

func (c *checker) property(at report, p drawing.Property) {
	if strings.ContainsAny(p.Key, "=#") {
		c.fail(at, "Properties.Key", strconv.Quote(p.Key), "holds = or #, which divide key, index and value")
	}
	if p.Key == "" || !fits(p.Key, dataField, maxKey) {
		c.fail(at, "Properties.Key", strconv.Quote(p.Key), fmt.Sprintf("is empty or longer than %d bytes", maxKey))
	}
}

// dataSize returns about how many bytes a property takes.
func dataSize(p drawing.Property) int {
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
		w.definition(a, at)
	}
	w.endBlock()
}

// definition appends what a block says of an attribute of its inserts.
func (w *writer) definition(a *drawing.Attribute, at drawing.Point) {
	w.entity("  0\r\nATTDEF\r\n  5\r\n", w.on(drawing.RoleText), "AcDbText")
	w.attributeText(a, at)
	w.lit("100\r\nAcDbAttributeDefinition\r\n")
	w.text("  3", a.Prompt, textField)
	w.attributeEnd(a)
}

// attributeText appends the value of an attribute, as much of it as a string
// may hold.
func (w *writer) attributeText(a *drawing.Attribute, at drawing.Point) {
	t := a.Text
	t.Value = cut(t.Value, textField, maxString)
	w.string(&t, at)
}

func (w *writer) attributeEnd(a *drawing.Attribute) {
	w.str("  2", a.Tag)
	if a.Hidden || tooLong(a) {
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
	w.entity("  0\r\nINSERT\r\n  5\r\n", w.on(drawing.RoleText), "AcDbBlockReference")
	if len(p.Attributes) > 0 {
		w.lit(" 66\r\n1\r\n")
	}
	w.str("  2", w.plan.parts[w.partOf[i]].name)
	w.point('0', p.At)
	w.properties(p.Attributes, p.Properties)
	w.attributes(insert, p.Attributes, p.At)
}

// attributes appends the attributes of an insert, those that do not show at
// its own place.
func (w *writer) attributes(insert uint64, as []drawing.Attribute, place drawing.Point) {
	if len(as) == 0 {
		return
	}
	owner := w.owner
	w.owner = insert
	for j := range as {
		a := &as[j]
		at := place
		if !a.Hidden {
			at = a.Text.At
		}
		w.entity("  0\r\nATTRIB\r\n  5\r\n", w.on(drawing.RoleText), "AcDbText")
		w.attributeText(a, at)
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
	for j := range as {
		if a := &as[j]; !a.Hidden && tooLong(a) {
			w.paragraph(w.on(drawing.RoleText), &a.Text)
		}
	}
}

// properties appends extended data, one string a property. A property that is
// longer than a string may be is split; its pieces are key#1=, key#2= and so
// on.
func (w *writer) properties(as []drawing.Attribute, ps []drawing.Property) {
	w.lit("1001\r\nBOLTPLATE\r\n1000\r\n" + dataVersion + "\r\n")
	for i := range ps {
		w.whole(ps[i])
	}
	for i := range as {
		if a := &as[i]; tooLong(a) {
			w.whole(drawing.Property{Key: a.Tag, Value: a.Text.Value})
		}
	}
}

func (w *writer) whole(p drawing.Property) {
	w.flush()
	if len(p.Key)+len(p.Value) <= maxString/7 || w.fitsWhole(p) {
		w.property(p.Key, 0)
		w.buf = appendText(w.buf, p.Value, dataField)
		w.lit("\r\n")
		return
	}
	w.split(p)
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
