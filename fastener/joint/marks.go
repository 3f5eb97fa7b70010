package joint

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"boltplate/drawing"
	"boltplate/fastener"
)

// item enters a line of the parts list, its number pointing at tip.
func (b *board) item(name, material string, tip drawing.Point) {
	b.list = append(b.list, listed{name, material, tip, 1})
}

// listFastener lists the bolt, pointed at on its head at x, and nut and
// washers.
func (b *board) listFastener(x float64) {
	b.item(b.ordered(), "", drawing.Pt(x, b.headBears()/4))
	if b.head.t > 0 {
		b.item(b.head.part.Designation(), "", drawing.Pt(b.head.t/2, b.head.d2*0.45))
	}
	if b.nutOn == nil {
		return
	}
	if b.washer.t > 0 {
		b.item(b.washer.part.Designation(), "", drawing.Pt(b.seat()-b.washer.t/2, b.washer.d2*0.45))
	}
	b.item(b.nutOn.Designation(), "", drawing.Pt(b.seat()+b.nut/2, b.nutB*0.35))
}

// ordered returns the designation of the bolt, and how long its thread is where
// that is not the one of its rule.
func (b *board) ordered() string {
	name := b.bolt.Designation()
	if b.Scene == Taper || b.Bolt.ThreadLength == 0 {
		return name
	}
	plain := b.spec()
	plain.ThreadLength = 0
	if f, err := fastener.New(plain); err == nil && f.Designation() == name {
		if ruled, err := f.Quantities(); err == nil && value(ruled, "b") == b.size["b"] &&
			value(ruled, "n") == b.size["n"] {
			return name
		}
		name += ", thread " + num(b.Bolt.ThreadLength) + " mm"
	}
	return name
}

// value returns that of a quantity, 0 where it is not there.
func value(qs []drawing.Quantity, letter string) float64 {
	for _, q := range qs {
		if q.Letter == letter {
			return q.Value
		}
	}
	return 0
}

// listParts lists the parts, each pointed at near its broken end.
func (b *board) listParts(w float64) {
	for i, p := range b.Parts {
		name := p.Name
		if name == "" {
			name = "Part " + strconv.Itoa(i+1)
		}
		b.item(name, p.Material, drawing.Pt(b.middle(i), w-b.st.Part(4)))
	}
}

// A pointer is a number beside the section with a line to what it names.
type pointer struct {
	text string
	tip  drawing.Point
	mark bool // a finding: the place is ringed
}

// balloons sets item numbers in a column right of the section, in the order of
// their places, so that their leaders do not cross.
func (b *board) balloons(found []Finding, right, middle float64) []drawing.Item {
	var ps []pointer
	for i, l := range b.list {
		ps = append(ps, pointer{strconv.Itoa(i + 1), b.turn().Point(l.tip), false})
	}
	for i, f := range found {
		ps = append(ps, pointer{"F" + strconv.Itoa(i+1), b.turn().Point(f.At), true})
	}
	for i := range ps {
		if b.even {
			ps[i].tip.X = math.Abs(ps[i].tip.X)
		}
	}
	mm := b.st.Part(1)
	h := 2 * b.st.Height() // ISO 6433: at least twice the height of dimensions
	r := b.st.Part(h) * 0.85
	step := 2*r + 3*mm
	x := right + 14*mm + r
	ys := heights(ps, x, step, middle)
	for i := range ys {
		ys[i] += b.raised
	}
	for i, y := range ys { // no steeper than 60 degrees, clear of the numbers beside it
		x = math.Max(x, ps[i].tip.X+math.Abs(y-ps[i].tip.Y)/math.Sqrt(3))
	}
	uncross(ps, func(i int) drawing.Point { return drawing.Pt(x, ys[i]) })
	var out []drawing.Item
	add := func(role drawing.Role, s drawing.Shape) { out = append(out, drawing.Item{Role: role, Shape: s}) }
	for i, p := range ps {
		c := drawing.Pt(x, ys[i])
		add(drawing.RoleDimension, drawing.Circle{Center: c, Radius: r})
		height := h
		if p.mark {
			height = b.st.Height()
		}
		add(drawing.RoleText, drawing.Text{At: drawing.Pt(c.X, c.Y-b.st.Part(height)/2), Height: height,
			Align: drawing.AlignCentre, Value: p.text})
		u := c.Sub(p.tip)
		u = u.Mul(1 / u.Len())
		from := p.tip
		if p.mark {
			ring := 3 * mm
			// two may ring one place
			if !slices.ContainsFunc(ps[:i], func(q pointer) bool { return q.mark && q.tip == p.tip }) {
				add(drawing.RoleDimension, drawing.Circle{Center: p.tip, Radius: ring})
			}
			from = p.tip.Add(u.Mul(ring))
		} else {
			dot := 0.6 * mm
			add(drawing.RoleDimension, drawing.Hatch{Solid: true, Loops: [][]drawing.Vertex{{
				{Point: p.tip.Add(drawing.Pt(-dot, 0)), Bulge: 1}, {Point: p.tip.Add(drawing.Pt(dot, 0)), Bulge: 1}}}})
		}
		add(drawing.RoleDimension, drawing.Line{From: from, To: c.Sub(u.Mul(r))})
	}
	return out
}

// heights sorts the pointers and returns how high their numbers stand in a
// column at x: each a little further from the middle than its place, so that
// the line to it slants, and all at least a step apart.
func heights(ps []pointer, x, step, middle float64) []float64 {
	const slant = 0.2
	want := func(p pointer) float64 {
		return p.tip.Y + math.Copysign(slant*(x-p.tip.X), p.tip.Y-middle)
	}
	slices.SortStableFunc(ps, func(p, q pointer) int {
		switch {
		case want(p) > want(q)+1e-9:
			return -1
		case want(p) < want(q)-1e-9:
			return 1
		}
		return 0
	})
	// With a step taken off for each number above, the heights only have to
	// fall: neighbours that do not share their mean.
	type group struct{ sum, n float64 }
	var groups []group
	for i, p := range ps {
		groups = append(groups, group{want(p) + step*float64(i), 1})
		for k := len(groups) - 1; k > 0 && groups[k].sum*groups[k-1].n > groups[k-1].sum*groups[k].n; k-- {
			groups[k-1] = group{groups[k-1].sum + groups[k].sum, groups[k-1].n + groups[k].n}
			groups = groups[:k]
		}
	}
	out := make([]float64, 0, len(ps))
	for _, g := range groups {
		for range int(g.n) {
			out = append(out, g.sum/g.n-step*float64(len(out)))
		}
	}
	return out
}

// uncross swaps pointers until no two of their lines cross; place returns where
// the number in a place stands. Each swap makes the lines shorter, so that it
// ends.
func uncross(ps []pointer, place func(i int) drawing.Point) {
	side := func(p, q, r drawing.Point) float64 {
		u, v := q.Sub(p), r.Sub(p)
		return u.X*v.Y - u.Y*v.X
	}
	cross := func(a, b, c, d drawing.Point) bool {
		return side(a, b, c)*side(a, b, d) < -1e-9 && side(c, d, a)*side(c, d, b) < -1e-9
	}
	for swapped := true; swapped; {
		swapped = false
		for i := range ps {
			for k := range ps[:i] {
				if cross(ps[k].tip, place(k), ps[i].tip, place(i)) {
					ps[i], ps[k] = ps[k], ps[i]
					swapped = true
				}
			}
		}
	}
}

// tables writes the title, the parts list and the findings under box.
func (b *board) tables(found []Finding, box drawing.Rect) []drawing.Item {
	mm := b.st.Part(1)
	h := b.st.Height()
	var out []drawing.Item
	text := func(x, y, height float64, s string) {
		out = append(out, drawing.Item{Role: drawing.RoleText,
			Shape: drawing.Text{At: drawing.Pt(x, y), Height: height, Value: s}})
	}
	rule := func(x1, y1, x2, y2 float64, role drawing.Role) {
		out = append(out, drawing.Item{Role: role, Shape: drawing.Line{From: drawing.Pt(x1, y1),
			To: drawing.Pt(x2, y2)}})
	}
	x, y := box.Min.X, box.Min.Y-14*mm
	if b.Title != "" {
		text(x, y, 5, b.Title)
		y -= 12 * mm
	}
	// Parts list (ISO 7573): item, quantity, designation, material.
	columns := []string{"Item", "Qty", "Designation", "Material"}
	wide := make([]float64, len(columns))
	rows := [][]string{columns}
	for i, l := range b.list {
		material := l.material
		if material == "" {
			material = "-"
		}
		rows = append(rows, []string{strconv.Itoa(i + 1), strconv.Itoa(l.count), l.name, material})
	}
	for _, r := range rows {
		for k, s := range r {
			wide[k] = math.Max(wide[k], drawing.TextWidth(s, h)+4)
		}
	}
	rowHeight := (h + 4) * mm
	total := 0.0
	for _, w := range wide {
		total += w * mm
	}
	top := y + rowHeight - 2*mm
	for i, r := range rows {
		cx := x
		for k, s := range r {
			text(cx+2*mm, y, h, s)
			cx += wide[k] * mm
		}
		role := drawing.RoleDimension
		if i == 0 {
			role = drawing.RoleFrame
		}
		rule(x, y-2*mm, x+total, y-2*mm, role)
		y -= rowHeight
	}
	bottom := y + rowHeight - 2*mm
	rule(x, top, x+total, top, drawing.RoleFrame)
	cx := x
	for k := range columns {
		rule(cx, top, cx, bottom, drawing.RoleDimension)
		cx += wide[k] * mm
	}
	rule(cx, top, cx, bottom, drawing.RoleDimension)
	y -= 4 * mm
	if len(found) == 0 {
		text(x, y, h, "Checked: no findings.")
		y -= 1.6 * h * mm
	}
	for i, f := range found {
		for k, line := range wrap(fmt.Sprintf("F%d  %s", i+1, f), 90) {
			if k > 0 {
				line = "      " + line
			}
			text(x, y, h, line)
			y -= 1.6 * h * mm
		}
	}
	y -= 2 * mm
	for _, n := range b.notes {
		for _, line := range wrap(n, 90) {
			text(x, y, h, line)
			y -= 1.6 * h * mm
		}
	}
	return out
}

// wrap breaks text at blanks into lines of at most width characters.
func wrap(text string, width int) []string {
	var out []string
	line := ""
	for _, w := range strings.Split(text, " ") {
		if line != "" && len(line)+1+len(w) > width {
			out = append(out, line)
			line = ""
		}
		if line != "" {
			line += " "
		}
		line += w
	}
	return append(out, line)
}
