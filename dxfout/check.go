package dxfout

import (
	"fmt"

	"boltplate/drawing"
)

// A checker looks for what a DXF file cannot hold of a drawing that is sound,
// and remembers the first.
type checker struct {
	d     *drawing.Drawing
	plain bool // for a plain file
	err   *ValueError
}

// A report makes an error about a field of what is being checked.
type report func(field, value, reason string) *ValueError

func (c *checker) fail(at report, field, value, reason string) {
	if c.err == nil {
		c.err = at(field, value, reason)
	}
}

// items checks the texts and the labels of all items.
func (c *checker) items() {
	_ = c.d.Each(func(at drawing.Place, it *drawing.Item) error {
		here := func(field, value, reason string) *ValueError {
			return at.Fault(drawing.ShapeName(it.Shape), field, value, reason)
		}
		switch s := it.Shape.(type) {
		case drawing.Text:
			c.lettering(here, "Value", s.Value)
		case drawing.Dimension:
			if l, _, _ := s.Describe(); c.d.Style.Labels != drawing.NoLabels {
				c.text(here, "Label.Text", l.Text, dimensionField)
				c.plainText(here, "Label.Text", l.Text)
			}
		}
		if c.err != nil {
			return c.err
		}
		return nil
	})
}

// lettering checks a line of text. Outside plain files it may be as long as it
// is: what one TEXT cannot hold is an MTEXT.
func (c *checker) lettering(at report, field, s string) {
	if c.plain {
		c.text(at, field, s, plainField)
		c.plainText(at, field, s)
	}
}

func (c *checker) text(at report, field, s string, f field) {
	if !fits(s, f, maxString) {
		c.fail(at, field, fmt.Sprintf("%.40q...", s), fmt.Sprintf("is longer than the %d bytes that a line of text may have in a DXF file", maxString))
	}
}
