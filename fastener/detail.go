package fastener

import (
	"math"
	"slices"

	"boltplate/drawing"
	"boltplate/internal/plane"
)

// What would be under a millimetre on paper is drawn again beside the views, as
// large as it takes, in a ring with a letter (ISO 128-3).

// Sizes of details, mm on paper (common practice).
const (
	detailBelow = 1.0 // what a size on paper must be less than to have one
	detailLeast = 3.0 // how large it is made
	detailRing  = 2.2 // least radius of the ring about it in the view
)

// A detail is a place of a view that is drawn larger.
type detail struct {
	view   int
	at     drawing.Point // in the view
	radius float64
	times  float64
	letter string
	mark   drawing.Point // where the letter stands in the view
	dims   []drawing.Linear
}

// findDetails returns the details that a drawing wants, two at most, and takes
// the dimensions that stand in them out of the views. The views have been
// arranged; the first letter is one that none of them has.
func findDetails(views []drawing.View, st drawing.Style) (out []detail) {
	scale := st.PaperScale()
	letter := 'A'
	for i := range views {
		for _, it := range views[i].Items {
			if s, ok := it.Shape.(drawing.Text); ok && s.Value == string(letter) {
				letter++
			}
		}
	}
	for i := range views {
		if views[i].Direction == drawing.Isometric {
			continue
		}
		for _, it := range views[i].Items {
			l, ok := it.Shape.(drawing.Linear)
			span := math.Abs(l.To.X - l.From.X)
			if l.Side.Vertical() {
				span = math.Abs(l.To.Y - l.From.Y)
			}
			if !ok || l.Turn != 0 || span < 1e-6 || span*scale >= detailBelow || len(out) == 2 {
				continue
			}
			d := detail{view: i, at: l.From.Mid(l.To), letter: string(letter), dims: []drawing.Linear{l}}
			across := math.Hypot(l.To.X-l.From.X, l.To.Y-l.From.Y)
			if across > 4*st.Part(detailRing) {
				continue // its ends lie far apart: no ring is about both
			}
			d.radius = max(across, st.Part(detailRing))
			for _, k := range [...]float64{2, 5, 10, 20} {
				d.times = k
				if span*scale*k >= detailLeast {
					break
				}
			}
			if near := slices.IndexFunc(out, func(o detail) bool { return o.view == i && o.at.Sub(d.at).Len() < o.radius+3*d.radius }); near >= 0 {
				if o := &out[near]; l.From.Sub(o.at).Len() < o.radius && l.To.Sub(o.at).Len() < o.radius {
					o.dims = append(o.dims, l) // in the ring that is there
				}
				continue
			}
			if !d.drawable(views[i]) || !d.lettered(views[i], st) {
				continue
			}
			out = append(out, d)
			letter++
		}
	}
	return out
}

// drawable reports whether nothing in the ring is hatched, which would have to be
// hatched anew.
func (d *detail) drawable(v drawing.View) bool {
	return !slices.ContainsFunc(v.Items, func(it drawing.Item) bool {
		return it.Role == drawing.RoleHatching && len(d.inside(it.Shape)) > 0
	})
}

// lettered finds a free place for the letter beside the ring.
func (d *detail) lettered(v drawing.View, st drawing.Style) bool {
	high := st.Part(st.Height() * math.Sqrt2)
	free := func(box drawing.Rect) bool {
		at := plane.Box{Min: plane.Vec(box.Min), Max: plane.Vec(box.Max)}
		return inTheWay(v, box, st) == 0 && !slices.ContainsFunc(v.Items, func(it drawing.Item) bool {
			if s, ok := it.Shape.(drawing.Text); ok {
				return s.Bounds(st).Overlaps(box)
			}
			for _, chain := range drawing.Flatten(it.Shape, d.radius/20) {
				for i := range len(chain) - 1 {
					if plane.SegmentHitsBox(plane.Vec(chain[i]), plane.Vec(chain[i+1]), at) {
						return true
					}
				}
			}
			return false
		})
	}
	for _, off := range [...]float64{0.8, 1.2, 1.7} {
		for n := range 24 {
			d.mark = d.at.Add(drawing.Polar(d.radius+off*high, 135-15*float64(n))).Sub(drawing.Pt(0, high/2))
			box := drawing.Rect{Min: d.mark.Sub(drawing.Pt(high/2, 0)), Max: d.mark.Add(drawing.Pt(high/2, high))}.Grown(st.Part(0.7))
			if free(box) {
				return true
			}
		}
	}
	return false
}

// inside returns what of a shape lies in the ring, as straight lines.
func (d *detail) inside(s drawing.Shape) (out []drawing.Line) {
	for _, chain := range drawing.Flatten(s, d.radius/200) {
		for i := range len(chain) - 1 {
			if l, ok := clipped(chain[i], chain[i+1], d.at, d.radius); ok {
				out = append(out, l)
			}
		}
	}
	return out
}

// clipped returns what of a line lies in a circle.
func clipped(a, b, c drawing.Point, r float64) (drawing.Line, bool) {
	u, w := b.Sub(a), a.Sub(c)
	q, h, k := u.X*u.X+u.Y*u.Y, u.X*w.X+u.Y*w.Y, w.X*w.X+w.Y*w.Y-r*r
	root := h*h - q*k
	if q < 1e-18 || root <= 0 {
		return drawing.Line{}, false
	}
	root = math.Sqrt(root)
	s, t := max(0, (-h-root)/q), min(1, (-h+root)/q)
	if t-s < 1e-9 {
		return drawing.Line{}, false
	}
	return drawing.Line{From: a.Add(u.Mul(s)), To: a.Add(u.Mul(t))}, true
}

// enlarged returns the view of a detail, its middle at the origin.
func (d *detail) enlarged(v drawing.View, st drawing.Style) drawing.View {
	out := drawing.View{Name: "detail " + d.letter, Direction: v.Direction}
	up := func(p drawing.Point) drawing.Point { return p.Sub(d.at).Mul(d.times) }
	for _, it := range v.Items {
		if it.Role == drawing.RoleDimension || it.Role == drawing.RoleText || it.Role == drawing.RoleConstruction {
			continue
		}
		for _, l := range d.inside(it.Shape) {
			out.Items = append(out.Items, drawing.Item{Role: it.Role, Shape: drawing.Line{From: up(l.From), To: up(l.To)}})
		}
	}
	r := d.radius * d.times
	out.Items = append(out.Items, drawing.Item{Role: drawing.RoleThin, Shape: drawing.Circle{Radius: r}})
	for _, l := range d.dims {
		l.From, l.To, l.Placed = up(l.From), up(l.To), false
		out.Items = append(out.Items, drawing.Item{Role: drawing.RoleDimension, Shape: l})
	}
	out = drawing.Arrange(out, st)
	high := st.Height() * math.Sqrt2
	out.Items = append(out.Items, drawing.Item{Role: drawing.RoleText, Shape: drawing.Text{
		At: drawing.Pt(0, out.Bounds(st).Max.Y+st.Part(high/2)), Height: high, Align: drawing.AlignCentre,
		Value: d.letter + " (" + drawing.ScaleName(st.PaperScale()*d.times) + ")"}})
	return out
}

// ring marks the place in its view, and takes the dimensions out of it.
func (d *detail) ring(v drawing.View, st drawing.Style) drawing.View {
	v.Items = slices.DeleteFunc(slices.Clone(v.Items), func(it drawing.Item) bool {
		l, ok := it.Shape.(drawing.Linear)
		return ok && slices.ContainsFunc(d.dims, func(o drawing.Linear) bool { return o.Label.Quantity.Letter == l.Label.Quantity.Letter })
	})
	v.Items = append(v.Items, drawing.Item{Role: drawing.RoleThin, Shape: drawing.Circle{Center: d.at, Radius: d.radius}},
		drawing.Item{Role: drawing.RoleText, Shape: drawing.Text{At: d.mark, Height: st.Height() * math.Sqrt2, Align: drawing.AlignCentre, Value: d.letter}})
	return v
}

// addDetails sets the details below what fills box, side by side, and returns the
// box of the whole.
func addDetails(d *drawing.Drawing, details []detail, from []drawing.View, box drawing.Rect) drawing.Rect {
	st := d.Style
	x, y := box.Min.X, box.Min.Y-st.Part(viewGap)
	for _, one := range details {
		v := one.enlarged(from[one.view], st)
		r := v.Bounds(st)
		at := drawing.Pt(x-r.Min.X, y-r.Max.Y)
		d.Views = append(d.Views, drawing.Placed{View: v, At: at})
		box = box.Union(drawing.Rect{Min: r.Min.Add(at), Max: r.Max.Add(at)})
		x += r.Max.X - r.Min.X + st.Part(viewGap)
	}
	return box
}
