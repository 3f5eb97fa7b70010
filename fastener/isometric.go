package fastener

import (
	"math"

	"boltplate/drawing"
	"boltplate/internal/solid"
)

// The main sizes of a part along the axes of its pictorial view (ISO 129-1, ISO
// 5456-3): extension lines, dimension line and letters lie in a plane of two
// axes.

// Distances of dimensions in a pictorial view, mm on paper along an axis (common
// practice, as in other views).
const (
	isoFirst = 9.0
	isoStep  = 8.0
	// how much further down a circle about the axis reaches in the picture than its
	// lowest point
	isoRound = 1.45
)

// dimensionPictorial gives the length, the thread, the head and the width, as far
// as the part has them.
func (b *bolt) dimensionPictorial(d *builder, from float64, on *clamped) {
	s, f := b.shank, b.fit()
	r := s.t.D / 2
	half := math.Max(f.Head.Corners, f.Head.Diameter) / 2
	low := math.Max(math.Max(half, r), math.Max(f.Eye.Outside, f.Taper.Large)/2)
	if f.Head.Width > 0 { // a T-head
		low = math.Max(low, (f.Head.Length+f.Head.Width)/2)
	}
	if on != nil {
		n := on.nut.fit()
		low = math.Max(low, math.Max(n.Corners, n.Bears)/2)
		if on.nut.form != nil && n.Corners == 0 {
			low *= 2 // wings
		}
		if on.washer != nil {
			low = math.Max(low, on.washer.outside.Value/2)
		}
	}
	size := func(v float64) string { return drawing.FormatValue(v, d.opt.Style.DecimalComma) }
	if v := f.Head.Height; v > 0 {
		row := 0
		if st := d.opt.Style; v < st.TextWidth(size(v), st.Part(st.Height()))+2*st.Part(st.ArrowLength()) {
			row = 2 // its figure stands beside it
		}
		d.alongAxis(from, from+v, low, half, row, size(v))
	}
	if s.limit > from+f.Head.Height {
		d.alongAxis(s.limit, s.end, low, r, 0, size(s.end-s.limit))
	}
	d.alongAxis(s.end-f.Length, s.end, low, r, 1, size(f.Length))
	if !on.capped(b) {
		d.upright(s.end, r, 1, s.t.String())
	}
	switch {
	case f.Head.Corners > 0:
		d.upright(from, half, -1, size(f.Head.Corners))
	case f.Head.Diameter > 0:
		d.upright(from, half, -1, "Ø"+size(f.Head.Diameter))
	}
}

// dimensionPictorial gives the thickness and the width of a nut, x its bearing
// face.
func (n *nut) dimensionPictorial(d *builder, x float64) {
	f := n.fit()
	size := func(v float64) string { return drawing.FormatValue(v, d.opt.Style.DecimalComma) }
	half := f.Corners / 2
	if half == 0 {
		half = f.Bears / 2
	}
	d.alongAxis(x, x+f.Height, half, half, 0, size(f.Height))
	if f.Corners > 0 {
		face := f.Height
		if n.form != nil && n.form.face > 0 {
			face = n.form.face
		}
		d.upright(x+face, half, 1, size(f.Corners))
	}
}

// dimensionPictorial gives the height and the span of the wings and the base, x the
// bearing face; the wings stand in the plane of the dimensions.
func (w wing) dimensionPictorial(d *builder, x float64) {
	size := func(v float64) string { return drawing.FormatValue(v, d.opt.Style.DecimalComma) }
	low, tip := w.span.Value/2, w.tip()
	d.alongAxis(x, x+w.total.Value, (low+w.thickness.Value)/isoRound, tip.Y, 0, size(w.total.Value))
	d.upright(x, w.base.Value/2, -1, "Ø"+size(w.base.Value))
	d.pictorial(solid.V(x+tip.X, -low, 0), solid.V(x+tip.X, low, 0),
		solid.V(w.tips.Value+d.opt.Style.Part(isoFirst), 0, 0), size(w.span.Value))
}

// dimensionPictorial gives the thickness and the outside diameter of a washer, x
// its face.
func (s *washerSizes) dimensionPictorial(d *builder, x float64) {
	size := func(v float64) string { return drawing.FormatValue(v, d.opt.Style.DecimalComma) }
	r, t := s.outside.Value/2, s.thickness.Value
	d.alongAxis(x, x+t, r, r, 0, size(t))
	d.upright(x+t, r, 1, "Ø"+size(2*r))
}

// alongAxis dimensions a length on the axis, below the part: low is how far that
// reaches down, start where the extension lines start.
func (d *builder) alongAxis(x0, x1, low, start float64, row int, text string) {
	st := d.opt.Style
	down := isoRound*low + st.Part(isoFirst+isoStep*float64(row))
	d.pictorial(solid.V(x0, -start, 0), solid.V(x1, -start, 0), solid.V(0, start-down, 0), text)
}

// upright dimensions a height about the axis at x, beyond the part.
func (d *builder) upright(x, half, sign float64, text string) {
	d.pictorial(solid.V(x, -half, 0), solid.V(x, half, 0), solid.V(sign*(half+d.opt.Style.Part(isoFirst)), 0, 0), text)
}

// pictorial draws a dimension from a to b, moved off by a vector.
func (d *builder) pictorial(a, b, off solid.Vec, text string) {
	st := d.opt.Style
	flat := func(v solid.Vec) drawing.Point { return drawing.Point(d.frame.Flat(v)) }
	unit := func(p drawing.Point) drawing.Point { return p.Mul(1 / math.Hypot(p.X, p.Y)) }
	p, q, o := flat(a), flat(b), flat(off)
	out, gap := unit(o), st.Part(st.ExtensionGap())
	if q.Sub(p).Len() < 1e-9 || o.Len() < 1e-9 {
		return
	}
	add := func(s drawing.Shape) { d.add(drawing.RoleDimension, s) }
	for _, e := range [2]drawing.Point{p, q} {
		add(drawing.Line{From: e.Add(out.Mul(gap)), To: e.Add(o).Add(out.Mul(gap))})
	}
	p, q = p.Add(o), q.Add(o)
	u, length := unit(q.Sub(p)), q.Sub(p).Len()
	arrow := st.Part(st.ArrowLength())
	head := func(tip, to drawing.Point) {
		base, n := tip.Add(to.Mul(arrow)), drawing.Pt(-to.Y, to.X).Mul(arrow/6)
		add(drawing.Hatch{Solid: true, Loops: [][]drawing.Vertex{{{Point: tip}, {Point: base.Add(n)}, {Point: base.Sub(n)}}}})
	}
	high := st.Part(st.Height())
	width := st.TextWidth(text, high)
	at := p.Mid(q)
	if room := length - 2*arrow; room >= 0 { // the arrows have room
		add(drawing.Line{From: p, To: q})
		head(p, u)
		head(q, u.Mul(-1))
	} else {
		add(drawing.Line{From: p.Sub(u.Mul(2 * arrow)), To: q.Add(u.Mul(2 * arrow))})
		head(p, u.Mul(-1))
		head(q, u)
	}
	// Along the line, to be read from below or from the right, in the plane.
	line := u
	if line.X < -1e-9 || math.Abs(line.X) <= 1e-9 && line.Y < 0 {
		line = line.Mul(-1)
	}
	up := out
	if n := drawing.Pt(-line.Y, line.X); up.X*n.X+up.Y*n.Y < 0 {
		up = up.Mul(-1)
	}
	n := drawing.Pt(-line.Y, line.X)
	slant := math.Atan2(up.X*line.X+up.Y*line.Y, up.X*n.X+up.Y*n.Y) * 180 / math.Pi
	if length < width+2*arrow { // beside the line, where that goes on
		end := q
		if line != u {
			end = p
		}
		at = end.Add(line.Mul(2*arrow + width/2))
		add(drawing.Line{From: end, To: end.Add(line.Mul(2*arrow + width))})
	}
	add(drawing.Text{At: at.Add(up.Mul(st.Part(st.Height() / 4))), Angle: line.Angle(), Slant: slant, Align: drawing.AlignCentre, Value: text})
}
