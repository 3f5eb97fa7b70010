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
	b.fitted = append(b.fitted, f)
	return b.fastenerFrom(f, drawing.Front, dx)
}

// fastenerFrom adds a view of a fastener without its dimensions, moved along the
// axis.
func (b *board) fastenerFrom(f fastener.Fastener, dir drawing.Direction, dx float64) error {
	v, err := f.View(dir, fastener.Options{Style: b.st})
	if err != nil {
		return err
	}
	for _, it := range v.Items {
		if it.Role == drawing.RoleDimension || it.Role == drawing.RoleText {
			continue
		}
		b.ofFastener(drawing.Item{Role: it.Role, Shape: drawing.Apply(it.Shape, drawing.Transform{Move: drawing.Pt(dx, 0)})})
	}
	return nil
}

// ofFastener adds an item that belongs to a fastener.
func (b *board) ofFastener(it drawing.Item) {
	b.items = append(b.items, it)
	b.fast = append(b.fast, it.Shape)
}

// width returns how far from the axis the parts are drawn before they are
// broken off.
func (b *board) width() float64 {
	w := math.Max(b.washer.Outside, math.Max(b.head.Outside, math.Max(b.fit.Head.Corners, b.nut.Corners)))/2 + math.Max(0.8*b.t.D,
		b.st.Part(8))
	for i, p := range b.Parts {
		w = math.Max(w, p.wide()/2+b.t.D)
		w = math.Max(w, math.Max(p.Counterbore, p.Seat)/2+math.Max(0.6*b.t.D, b.st.Part(6)))
		if p.StandsAt > 0 {
			w = math.Max(w, p.StandsAt+b.wallThick(i))
		}
	}
	return w
}

// plate draws part i with a clearance hole in section from x0 to x1, broken off
// at the given width, or on the lower side at its edge. What it shows of its
// faces behind the bolt reaches in to the radius inner.
func (b *board) plate(i int, p Part, x0, x1, w, inner float64) {
	low := w
	if p.Edge > 0 && p.Edge < w {
		low = p.Edge
	}
	near, far := b.rims(i, p, x0, x1)
	var halves [2][]drawing.Vertex
	for k, side := range [2]struct{ sign, to float64 }{{1, w}, {-1, low}} {
		from, end := b.rimAlong(near, side.sign, side.to), b.rimAlong(far, side.sign, side.to)
		half := slices.Clone(end)
		last, first := end[len(end)-1].Point, from[len(from)-1].Point
		if side.sign < 0 && low < w {
			b.line(drawing.RoleOutline, first.X, first.Y, last.X, last.Y)
			b.edgeSize(i, first.X, last.X)
			half = append(half, drawing.Vertex{Point: first})
		} else {
			half = append(half[:len(half)-1], b.broken(last.X, first.X, last.Y)...)
			b.breakLine(first.X, last.X, first.Y)
		}
		back := slices.Clone(from)
		slices.Reverse(back)
		halves[k] = joined(half[:len(half)-1], back)
		for _, rim := range [2][]drawing.Vertex{from, end} {
			b.line(drawing.RoleOutline, rim[0].X, side.sign*inner, rim[0].X, rim[0].Y)
			b.profile(rim)
		}
		b.line(drawing.RoleOutline, from[0].X, from[0].Y, end[0].X, end[0].Y)
	}
	b.hatch(x1-x0, halves[0], halves[1])
}

// profile draws the lines and arcs of a face; the last side of a wall, where it
// is broken off, as a break.
func (b *board) profile(rim []drawing.Vertex) {
	for i, v := range rim[:len(rim)-1] {
		to := rim[i+1]
		if v.Bulge != 0 {
			role := drawing.RoleOutline
			if v.Bulge == wave || v.Bulge == -wave {
				role = drawing.RoleThin
			}
			if a, ok := drawing.BulgeArc(v, to.Point); ok {
				b.add(role, a)
			}
			continue
		}
		b.line(drawing.RoleOutline, v.X, v.Y, to.X, to.Y)
	}
}

// edgeSize dimensions how far the edge of part i, from x0 to x1, is from the
// axis: on the side where the first part is free, of the others on the other side.
func (b *board) edgeSize(i int, x0, x1 float64) {
	p := b.Parts[i]
	for _, q := range b.Parts[:i] {
		if q.Edge == p.Edge {
			return // said once
		}
	}
	x, side := x1, drawing.Below
	switch {
	case i == 0 && b.upward:
		side = drawing.Above
	case b.upward:
		x = x0
	case i == 0 && len(b.Parts) > 1:
		x, side = x0, drawing.Above
	}
	b.dims = append(b.dims, drawing.Item{Role: drawing.RoleDimension, Shape: drawing.Linear{
		Label: drawing.Label{Quantity: drawing.Quantity{Letter: "E" + strconv.Itoa(i+1), Name: "edge", Value: p.Edge}},
		Side:  side, From: b.at(x, -p.Edge), To: b.at(x, 0)}})
}

// clear returns the radius at which a clearance hole is drawn: its own, or that
// at which its gap is seen on paper.
func (b *board) clear(p Part) float64 {
	if p.wide() < b.t.D {
		return p.wide() / 2
	}
	return math.Max(p.wide()/2, b.t.D/2+b.st.Part(b.st.ThreadGap()))
}

// holeSize names the diameter of the clearance hole of part i at x, on the side
// of the sign, where no part before it has the same.
func (b *board) holeSize(i int, x, sign, angle float64) {
	p := b.Parts[i]
	for _, q := range b.Parts[:i] {
		if q.Hole == p.Hole && q.Slotted == p.Slotted {
			return
		}
	}
	if text := b.holeText(p); text != "" {
		b.leader(text, drawing.Quantity{Letter: "Dh" + strconv.Itoa(i+1), Name: "hole", Value: p.Hole}, drawing.NoSymbol, x,
			sign*b.clear(p), angle)
		return
	}
	b.leader("", drawing.Quantity{Letter: "Dh" + strconv.Itoa(i+1), Name: "hole", Value: p.Hole},
		drawing.DiameterSymbol, x, sign*b.clear(p), angle)
}

// hatch fills areas of one part; the next part gets the other direction.
func (b *board) hatch(thickness float64, loops ...[]drawing.Vertex) {
	if b.hand == 0 {
		b.hand = 45
		if b.Scene == Countersunk && math.Abs(b.Parts[0].SinkAngle-90) < 20 {
			b.hand = 30 // the countersink's own edges lie at 45
		}
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
	return b.waved(drawing.Pt(x0, y), drawing.Pt(x1, y))
}

// wave is the bulge of a break by hand.
const wave = 0.22

// waved returns the corners of a break between any two points.
func (b *board) waved(from, to drawing.Point) []drawing.Vertex {
	d := to.Sub(from)
	n := max(2, 2*int(math.Round(math.Hypot(d.X, d.Y)/b.st.Part(12))))
	out := make([]drawing.Vertex, 0, n+1)
	for i := range n { // an even number, so that the wave is the same from either end
		s := wave
		if i%2 == 1 {
			s = -s
		}
		k := float64(i) / float64(n)
		out = append(out, drawing.Vertex{Point: drawing.Pt(from.X+d.X*k, from.Y+d.Y*k), Bulge: s})
	}
	return append(out, drawing.Vertex{Point: to})
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
		b.edgeSize(len(b.Parts)-1, x0, x1)
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
	if p.Insert > 0 {
		R, x1 := b.insertDrawn(), x0+math.Min(p.Insert, p.Thickness)
		b.both(drawing.RoleOutline, x0, R, x1, R)
		b.both(drawing.RoleOutline, x1, r, x1, R)
		return []drawing.Point{drawing.Pt(x0, R), drawing.Pt(x1, R), drawing.Pt(x1, r)}
	}
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
	t, r := b.head.Thickness, b.head.Outside/2
	if t == 0 {
		return
	}
	for _, s := range [2]float64{1, -1} {
		for _, l := range [3][4]float64{{0, r, t, r}, {0, b.t.D / 2, 0, r}, {t, b.t.D / 2, t, r}} {
			b.ofFastener(drawing.Item{Role: drawing.RoleOutline, Shape: drawing.Line{From: drawing.Pt(l[0], s*l[1]), To: drawing.Pt(l[2], s*l[3])}})
		}
	}
}
