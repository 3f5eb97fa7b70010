package drawing

import (
	"fmt"
	"reflect"
)

// Include adds what another drawing holds, as t moves, turns, mirrors and
// scales it: its views, its loose items as a view of their own, and its parts.
// The other drawing was made for a scale on paper; it must come out at that
// scale here, and its style must be that of d in all else, because the sizes of
// text, arrows and gaps go by the style. Otherwise Include returns a
// *ValueError and adds nothing.
func (d *Drawing) Include(o *Drawing, t Transform) error {
	if err := o.Validate(); err != nil {
		return err
	}
	if err := d.takes(o, t); err != nil {
		return err
	}
	for _, p := range o.Views {
		u := p.Transform().Then(t)
		p.At, p.Mirror, p.Scale, p.Turn = u.Move, u.Mirror, u.Scale, u.Turn
		d.Views = append(d.Views, p)
	}
	if len(o.Items) > 0 {
		d.Views = append(d.Views, Placed{View: View{Name: "items", Items: o.Items}, At: t.Move, Mirror: t.Mirror, Scale: t.Scale, Turn: t.Turn})
	}
	for _, p := range o.Parts {
		d.Parts = append(d.Parts, p.Apply(t))
	}
	return nil
}

// takes returns an error where another drawing would not look in d as it was
// made.
func (d *Drawing) takes(o *Drawing, t Transform) error {
	fault := func(field, value, reason string) error {
		return &ValueError{Index: -1, Item: -1, Object: "Style", Field: field, Value: value, Reason: reason}
	}
	a, b := &d.Style, &o.Style
	if k := a.PaperScale() * t.K() / b.PaperScale(); !(k > 1-1e-9 && k < 1+1e-9) {
		return fault("Scale", formatFloat(b.PaperScale()), "is not the scale "+formatFloat(a.PaperScale()*t.K())+" that the drawing would have in this one; arrange it for that scale, or place it at another")
	}
	switch {
	case a.Wide() != b.Wide():
		return fault("Group", formatFloat(b.Wide()), "is not that of the drawing it is put in, "+formatFloat(a.Wide()))
	case a.Height() != b.Height():
		return fault("TextHeight", formatFloat(b.Height()), "is not that of the drawing it is put in, "+formatFloat(a.Height()))
	case a.Labels != b.Labels:
		return fault("Labels", b.Labels.String(), "is not that of the drawing it is put in, "+a.Labels.String())
	case a.DecimalComma != b.DecimalComma:
		return fault("DecimalComma", fmt.Sprint(b.DecimalComma), "is not that of the drawing it is put in")
	case !sameFont(a.Font, b.Font):
		return fault("Font", "", "is not that of the drawing it is put in")
	}
	return nil
}

// sameFont reports whether two fonts are one. Fonts that cannot be compared are
// not.
func sameFont(a, b Font) bool {
	if a == nil || b == nil {
		return a == nil && b == nil
	}
	return reflect.TypeOf(a) == reflect.TypeOf(b) && reflect.ValueOf(a).Comparable() && a == b
}

// Apply returns the image of p. Its attributes move; they are not turned over.
func (p Part) Apply(t Transform) Part {
	p.At = t.Point(p.At)
	as := make([]Attribute, len(p.Attributes))
	for i, a := range p.Attributes {
		a.Text = a.Text.Apply(t)
		as[i] = a
	}
	p.Attributes = as
	return p
}
