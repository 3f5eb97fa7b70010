package joint

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"boltplate/drawing"
	"boltplate/fastener"
)

// descriptions returns what a program reads of the fasteners of the joint.
func (b *board) descriptions() []drawing.Part {
	all := b.fitted
	if len(all) == 0 {
		all = []fastener.Fastener{b.bolt}
	}
	var out []drawing.Part
	for _, f := range all {
		designation := drawing.Attribute{Tag: "DESIGNATION", Prompt: "Designation", Hidden: true,
			Text: drawing.Text{Height: b.st.Height(), Value: f.Designation()}}
		out = append(out, drawing.Part{Name: "PART-" + strings.ToUpper(f.Kind()),
			Attributes: []drawing.Attribute{designation},
			Properties: append(fastener.Describe(f), drawing.Property{Key: "quantity", Value: "1"},
				drawing.Property{Key: "scene", Value: string(b.Scene)})})
	}
	return out
}

// fastener adds the front view of a fastener without its dimensions, moved
// along the axis.
func (b *board) fastener(f fastener.Fastener, dx float64) error {
	v, err := f.View(drawing.Front, fastener.Options{Style: b.st})
	if err != nil {
		return err
	}
	b.fitted = append(b.fitted, f)
	for _, it := range v.Items {
		if it.Role == drawing.RoleDimension || it.Role == drawing.RoleText {
			continue
		}
		b.items = append(b.items, drawing.Item{Role: it.Role,
			Shape: drawing.Apply(it.Shape, drawing.Transform{Move: drawing.Pt(dx, 0)})})
	}
	return nil
}

// width returns how far from the axis the parts are drawn before they are
// broken off.
func (b *board) width() float64 {
	w := math.Max(b.washer.Outside, math.Max(b.head.Outside, math.Max(b.fit.Head.Corners, b.nut.Corners)))/2 + math.Max(0.8*b.t.D,
		b.st.Part(8))
	for _, p := range b.Parts {
		w = math.Max(w, p.Hole/2+b.t.D)
	}
	return w
}

// plate draws a part with a clearance hole in section from x0 to x1, broken off
// at the given width, or on the lower side at its edge. What it shows of its
// faces behind the bolt reaches in to the radius inner.
func (b *board) plate(p Part, x0, x1, w, inner float64) {
	r := b.clear(p)
	low := w
	if p.Edge > 0 && p.Edge < w {
		low = p.Edge
	}
	upper := []drawing.Vertex{{Point: drawing.Pt(x0, r)}, {Point: drawing.Pt(x1, r)}}
	upper = append(upper, b.broken(x1, x0, w)...)
	lower := []drawing.Vertex{{Point: drawing.Pt(x0, -r)}, {Point: drawing.Pt(x1, -r)}}
	if low < w {
		lower = append(lower, drawing.Vertex{Point: drawing.Pt(x1, -low)},
			drawing.Vertex{Point: drawing.Pt(x0, -low)})
		b.line(drawing.RoleOutline, x0, -low, x1, -low)
	} else {
		lower = append(lower, b.broken(x1, x0, -w)...)
		b.breakLine(x0, x1, -w)
	}
	b.breakLine(x0, x1, w)
	b.hatch(x1-x0, upper, lower)
	for _, x := range [2]float64{x0, x1} {
		b.line(drawing.RoleOutline, x, inner, x, w)
		b.line(drawing.RoleOutline, x, -inner, x, -low)
	}
	b.both(drawing.RoleOutline, x0, r, x1, r)
}

// clear returns the radius at which a clearance hole is drawn: its own, or that
// at which its gap is seen on paper.
func (b *board) clear(p Part) float64 {
	if p.Hole < b.t.D {
		return p.Hole / 2
	}
	return math.Max(p.Hole/2, b.t.D/2+b.st.Part(b.st.ThreadGap()))
}

// holeSize names the diameter of the clearance hole of part i at x, on the side
// of the sign, where no part before it has the same.
func (b *board) holeSize(i int, x, sign, angle float64) {
	p := b.Parts[i]
	for _, q := range b.Parts[:i] {
		if q.Hole == p.Hole {
			return
		}
	}
	b.leader("", drawing.Quantity{Letter: "Dh" + strconv.Itoa(i+1), Name: "hole", Value: p.Hole},
		drawing.DiameterSymbol, x, sign*b.clear(p), angle)
}

// hatch fills areas of one part; the next part gets the other direction.
func (b *board) hatch(thickness float64, loops ...[]drawing.Vertex) {
	if b.hand == 0 {
		b.hand = 45
	}
	b.add(drawing.RoleHatching, drawing.Hatch{Loops: loops, Angle: b.hand, Spacing: b.spacing(thickness)})
	b.hand = 180 - b.hand
}

// spacing returns that of the hatching, mm on paper, by the size of the area.
func (b *board) spacing(thickness float64) float64 {
	if thickness*b.st.PaperScale() > 30 {
		return 3
	}
	return 2
}

// broken returns the corners of a break from x0 to x1 at the height y, waving
// about it as by hand.
func (b *board) broken(x0, x1, y float64) []drawing.Vertex {
	n := max(2, 2*int(math.Round(math.Abs(x1-x0)/b.st.Part(12))))
	out := make([]drawing.Vertex, 0, n+1)
	for i := range n { // an even number, so that the wave is the same from either end
		s := 0.22
		if i%2 == 1 {
			s = -s
		}
		out = append(out, drawing.Vertex{Point: drawing.Pt(x0+(x1-x0)*float64(i)/float64(n), y), Bulge: s})
	}
	return append(out, drawing.Vertex{Point: drawing.Pt(x1, y)})
}

func (b *board) breakLine(x0, x1, y float64) {
	b.add(drawing.RoleThin, drawing.Polyline{Vertices: b.broken(x0, x1, y)})
}

// tappedPart draws a part with a tapped hole from x0 on; the bolt fills the
// hole to x = end, with a point chamfer of the given depth.
func (b *board) tappedPart(p Part, x0, w, end, chamfer float64) {
	x1 := x0 + p.Thickness
	r, crest := b.t.D/2, b.crest()
	full, drill := x0+p.FullDepth, x0+p.DrillDepth
	if p.Through {
		full, drill = x1, x1
	}
	point := b.point()
	// The wall of the hole as the hatching meets it: the bolt where it is, then
	// the crest of the thread.
	wall := b.mouthOf(p, x0)
	mouth, face := wall[0].Y, w
	if p.Seat > 0 {
		face = p.Seat / 2
	}
	inside := math.Min(end, full)
	if end < drill {
		wall = append(wall, drawing.Pt(inside-chamfer, r), drawing.Pt(inside-chamfer+(r-crest), crest))
	} else {
		wall = append(wall, drawing.Pt(math.Min(end, drill), r))
	}
	low := w
	if p.Edge > 0 && p.Edge < w {
		low = p.Edge
	}
	var upper, lower []drawing.Vertex
	if p.Through {
		wall = append(wall, drawing.Pt(x1, crest))
	} else {
		wall = append(wall, drawing.Pt(drill, crest), drawing.Pt(drill+point, 0))
	}
	for _, q := range wall {
		upper = append(upper, drawing.Vertex{Point: q})
		lower = append(lower, drawing.Vertex{Point: drawing.Pt(q.X, -q.Y)})
	}
	if !p.Through {
		upper = append(upper, drawing.Vertex{Point: drawing.Pt(x1, 0)})
		lower = append(lower, drawing.Vertex{Point: drawing.Pt(x1, 0)})
	}
	upper = append(upper, b.broken(x1, x0, w)...)
	b.breakLine(x0, x1, w)
	if low < w {
		lower = append(lower, drawing.Vertex{Point: drawing.Pt(x1, -low)},
			drawing.Vertex{Point: drawing.Pt(x0, -low)})
		b.line(drawing.RoleOutline, x0, -low, x1, -low)
	} else {
		lower = append(lower, b.broken(x1, x0, -w)...)
		b.breakLine(x0, x1, -w)
	}
	if p.Through {
		b.hatch(p.Thickness, upper, lower)
	} else {
		slices.Reverse(lower)
		b.hatch(p.Thickness, joined(upper, lower))
	}
	b.line(drawing.RoleOutline, x0, mouth, x0, math.Min(face, w))
	b.line(drawing.RoleOutline, x0, -mouth, x0, -math.Min(face, low))
	inner := 0.0
	if p.Through && end < x1 {
		inner = crest
		b.line(drawing.RoleOutline, x1, -crest, x1, crest)
	}
	if p.Through && end >= x1 {
		inner = r
	}
	b.line(drawing.RoleOutline, x1, inner, x1, w)
	b.line(drawing.RoleOutline, x1, -inner, x1, -low)
	// What is left of the hole beyond the bolt.
	if end < drill {
		b.both(drawing.RoleOutline, math.Max(inside-chamfer+(r-crest), x0), crest, drill, crest)
		if full > inside-chamfer {
			b.both(drawing.RoleThin, inside-chamfer, r, full, r)
		}
	}
	if !p.Through {
		if full > end {
			b.line(drawing.RoleOutline, full, -r, full, r)
		} else {
			b.both(drawing.RoleOutline, full, crest, full, r)
		}
		b.line(drawing.RoleOutline, drill, -crest, drill, crest)
		b.both(drawing.RoleOutline, drill, crest, drill+point, 0)
	}
}

// mouthOf returns the corners of the mouth of a tapped hole, and draws its
// relief.
func (b *board) mouthOf(p Part, x0 float64) []drawing.Point {
	r, R := b.t.D/2, p.Relief/2
	if R <= r || p.ReliefDepth == 0 {
		return []drawing.Point{drawing.Pt(x0, r)}
	}
	x1 := x0 + p.ReliefDepth
	out := []drawing.Point{drawing.Pt(x0, R), drawing.Pt(math.Max(x1-(R-r), x0), R), drawing.Pt(x1, r)}
	b.both(drawing.RoleOutline, out[0].X, R, out[1].X, R)
	b.both(drawing.RoleOutline, out[1].X, R, x1, r)
	return out
}

// joined makes one loop of the upper half and the reversed lower half, which
// meet on the axis.
func joined(upper, lower []drawing.Vertex) []drawing.Vertex {
	// Reversing moves each bulge to the other end of its side and turns its
	// sign.
	out := append([]drawing.Vertex(nil), upper...)
	n := len(lower)
	for i := range lower {
		v := drawing.Vertex{Point: lower[i].Point}
		if i+1 < n {
			v.Bulge = -lower[i+1].Bulge
		}
		out = append(out, v)
	}
	return out
}

// crest returns the radius at which the crest of an internal thread is drawn:
// its own, or further in where the two lines would stand too near on paper.
func (b *board) crest() float64 {
	r := b.t.D / 2
	return math.Max(r-math.Max(b.t.InternalDepth(), b.st.Part(b.st.ThreadGap())), r/3)
}

// bolted returns the bolt with what is on it.
func (b *board) bolted() (fastener.Fastener, error) {
	f := fastener.Bolted{Bolt: b.bolt, Grip: b.face() + b.grip(), AsGiven: true, Nut: b.nutOn}
	if b.washer.Thickness > 0 {
		f.Washer = b.washer.part
	}
	return f, nil
}

// headWasher draws the washer under the head; like other fasteners it is not
// cut.
func (b *board) headWasher() {
	if t, r := b.head.Thickness, b.head.Outside/2; t > 0 {
		b.both(drawing.RoleOutline, 0, r, t, r)
		b.both(drawing.RoleOutline, 0, b.t.D/2, 0, r)
		b.both(drawing.RoleOutline, t, b.t.D/2, t, r)
	}
}
