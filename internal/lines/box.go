package lines

import (
	"reflect"

	"boltplate/drawing"
)

// A boxer makes shapes of stretches. A shape in an interface is a value of its
// own on the heap; here several of a kind share one, an array, and each
// interface refers to its element. That is done by the means of package
// reflect, whose elements of an array in an interface are not copied.
type boxer struct {
	move  drawing.Transform
	still bool // move is none

	lines   box[drawing.Line]
	arcs    box[drawing.Arc]
	ovals   box[drawing.Ellipse]
	conics  box[drawing.Conic]
	linears box[drawing.Linear]
}

const boxed = 16

type box[T drawing.Shape] struct {
	n     int
	shape [boxed]T
	in    [boxed]*drawing.Item
}

func (b *box[T]) add(it *drawing.Item, s T) {
	b.shape[b.n], b.in[b.n] = s, it
	if b.n++; b.n == boxed {
		b.flush()
	}
}

func (b *box[T]) flush() {
	if b.n < 3 { // not worth an array
		for i := range b.n {
			b.in[i].Shape = b.shape[i]
		}
		b.n = 0
		return
	}
	v := reflect.ValueOf(b.shape)
	for i := range b.n {
		b.in[i].Shape = v.Index(i).Interface().(drawing.Shape)
	}
	b.n = 0
}

func (b *boxer) flush() {
	b.lines.flush()
	b.arcs.flush()
	b.ovals.flush()
	b.conics.flush()
	b.linears.flush()
}

// add sets the shape of an item, at the latest when flush is called. The item
// must stay where it is.
func (b *boxer) add(it *drawing.Item, c *geometry, u *stretch) {
	switch {
	case !c.round:
		a, z := c.o.Add(c.d.Mul(u.from)), c.o.Add(c.d.Mul(u.to))
		b.lines.add(it, moved(b, drawing.Line{From: drawing.Pt(tidy(a.X), tidy(a.Y)), To: drawing.Pt(tidy(z.X), tidy(z.Y))}))
	case c.ratio < 1:
		b.ovals.add(it, moved(b, c.ellipse(u.from, u.to)))
	case whole(u.from, u.to):
		it.Shape = moved(b, c.circle())
	default:
		b.arcs.add(it, moved(b, c.arc(u.from, u.to)))
	}
}

// moved returns a shape where it belongs.
func moved[T interface {
	Apply(t drawing.Transform) T
}](b *boxer, s T) T {
	if b.still {
		return s
	}
	return s.Apply(b.move)
}

func (b *boxer) other(s drawing.Shape) drawing.Shape {
	if b.still || s == nil {
		return s
	}
	return drawing.Apply(s, b.move)
}
