package marking

import (
	"fmt"
	"math"
	"strings"

	"boltplate/drawing"
	"boltplate/dxfin"
	"boltplate/internal/plane"
)

// Drawing returns the submission with the findings over it, in its own
// coordinates: what the student drew in roles as it looks, and in
// drawing.RoleFinding rings with numbers, the lines that should be there, and
// below the drawing the points and the findings in words. Its scale is such
// that texts have their height on paper.
func (r *Result) Drawing() *drawing.Drawing {
	p := picture{r: r, d: &drawing.Drawing{}}
	p.d.Style.Scale = 1 / r.unit
	p.submission()
	box := p.d.Bounds()
	p.rings()
	box = box.Union(p.d.Bounds())
	if box.Empty() {
		box = drawing.Rect{Max: point{X: 100 * r.unit, Y: 10 * r.unit}}
	}
	p.legend(box)
	return p.d
}

// A picture is being made of a result.
type picture struct {
	r       *Result
	d       *drawing.Drawing
	numbers []drawing.Rect
}

func (p *picture) add(role drawing.Role, s drawing.Shape) {
	p.d.Items = append(p.d.Items, drawing.Item{Role: role, Shape: s})
}

// submission draws what the student drew.
func (p *picture) submission() {
	s := p.r.scene
	p.curves(s.Curves, -1)
	p.fills(s)
	p.texts(s.Texts, drawing.RoleText)
	for i := range s.Dimensions {
		d := &s.Dimensions[i].Picture
		p.curves(d.Curves, int(drawing.RoleDimension))
		p.fills(d)
		p.texts(d.Texts, drawing.RoleDimension)
	}
	for i := range s.Leaders {
		var line drawing.Polyline
		for _, q := range s.Leaders[i].Points {
			line.Vertices = append(line.Vertices, drawing.Vertex{Point: q})
		}
		p.add(drawing.RoleDimension, line)
	}
}

// curves draws curves, in the role that they look like where role is negative.
func (p *picture) curves(all []dxfin.Curve, role int) {
	for i := range all {
		c := &all[i]
		if !c.Shown || !c.Plotted {
			continue
		}
		as := drawing.Role(role)
		if role < 0 {
			as = p.r.roleOf(&c.Look, c.Width)
		}
		if c.Shape != nil {
			p.add(as, c.Shape)
			continue
		}
		var line drawing.Polyline
		for _, q := range c.Chords(0.02 * p.r.unit) {
			line.Vertices = append(line.Vertices, drawing.Vertex{Point: q})
		}
		if len(line.Vertices) > 1 {
			p.add(as, line)
		}
	}
}

func (p *picture) fills(s *dxfin.Scene) {
	for i := range s.Solids {
		var loop []drawing.Vertex
		for _, q := range s.Solids[i].Corners {
			loop = append(loop, drawing.Vertex{Point: q})
		}
		p.add(drawing.RoleDimension, drawing.Hatch{Solid: true, Loops: [][]drawing.Vertex{loop}})
	}
	for i := range s.Hatches {
		h := &s.Hatches[i]
		out := drawing.Hatch{Solid: h.Solid, Angle: h.Angle, Spacing: max(h.Spacing/p.r.unit, 0.8)}
		for _, l := range h.Loops {
			var loop []drawing.Vertex
			for _, q := range loopPoints(l) {
				loop = append(loop, drawing.Vertex{Point: q})
			}
			if len(loop) > 2 {
				out.Loops = append(out.Loops, loop)
			}
		}
		if len(out.Loops) > 0 {
			p.add(drawing.RoleHatching, out)
		}
	}
}

func (p *picture) texts(all []dxfin.PlaneText, role drawing.Role) {
	for i := range all {
		t := &all[i]
		if !t.Shown || !(t.Height > 0) {
			continue
		}
		l := newLabel(t, -1)
		lines := strings.Split(t.Value, "\n")
		up := unit(l.box[3].Sub(l.box[0]))
		for n, s := range lines {
			if strings.TrimSpace(s) == "" {
				continue
			}
			// The middle of its line, whatever font it was in.
			below := float64(len(lines)-1-n) * 5 / 3 * t.Height
			at := l.box[0].Mid(l.box[1]).Add(up.Mul(below))
			p.add(role, drawing.Text{At: at, Height: t.Height / p.r.unit, Angle: t.Angle, Align: drawing.AlignCentre, Value: s})
		}
	}
}

// roleOf returns the role that lines of a look are drawn in, in the picture:
// what the most of them stand for, or what they look like.
func (r *Result) roleOf(l *dxfin.Look, width float64) drawing.Role {
	k := &r.sub.looks[r.sub.look(l, width)]
	best, most := drawing.RoleDimension, leastVotes
	for role, v := range k.votes {
		if v > most {
			best, most = drawing.Role(role), v
		}
	}
	if best == drawing.RoleDimension && k.dash != continuous {
		return roleFor(demand{dash: k.dash})
	}
	return best
}

// rings draws a ring with a number about each finding, and the lines that
// should be there.
func (p *picture) rings() {
	st := p.d.Style
	h := st.Part(st.Height())
	for i := range p.r.Findings {
		f := &p.r.Findings[i]
		for _, e := range f.Expected {
			var line drawing.Polyline
			for _, q := range e {
				line.Vertices = append(line.Vertices, drawing.Vertex{Point: q})
			}
			if len(line.Vertices) > 1 {
				p.add(drawing.RoleFinding, line)
			}
		}
		if f.Radius <= 0 {
			continue // a view that is missing from a drawing without its main view
		}
		p.add(drawing.RoleFinding, drawing.Circle{Center: f.At, Radius: f.Radius})
		p.number(fmt.Sprint(f.Number), f, 1.4*h)
	}
}

// number writes the number of a finding at its ring, where no other number is.
func (p *picture) number(s string, f *Finding, h float64) {
	w := drawing.TextWidth(s, h)
	var best drawing.Rect
	least := math.Inf(1)
	for i := range 16 {
		a := 45 + 22.5*float64(i)
		c := f.At.Add(drawing.Polar(f.Radius+0.6*max(w, h), a))
		box := drawing.Rect{Min: c.Sub(point{X: w / 2, Y: h / 2}), Max: c.Add(point{X: w / 2, Y: h / 2})}
		cost := 0.1 * float64(i)
		for _, o := range p.numbers {
			if o.Overlaps(box.Grown(0.2 * h)) {
				cost += 10
			}
		}
		cost += p.crossings(box)
		if cost < least {
			best, least = box, cost
		}
	}
	p.numbers = append(p.numbers, best)
	p.add(drawing.RoleFinding, drawing.Text{At: point{X: best.Mid().X, Y: best.Min.Y}, Height: h / p.r.unit, Align: drawing.AlignCentre, Value: s})
}

// crossings returns how many lines of the submission run through a box.
func (p *picture) crossings(box drawing.Rect) (n float64) {
	if p.r.sub == nil {
		return 0
	}
	for i := range p.r.sub.strokes {
		ps := p.r.sub.strokes[i].points
		for j := 1; j < len(ps); j++ {
			if plane.SegmentHitsBox(plane.Vec(ps[j-1]), plane.Vec(ps[j]), plane.Box{Min: plane.Vec(box.Min), Max: plane.Vec(box.Max)}) {
				n++
				break
			}
		}
	}
	return n
}

// legend writes points and findings below the drawing.
func (p *picture) legend(box drawing.Rect) {
	st := p.d.Style
	h := st.Part(st.Height())
	width := max(box.Dx(), st.Part(170))
	y := box.Min.Y - 3*h
	line := func(role drawing.Role, x float64, s string) {
		p.add(role, drawing.Text{At: point{X: box.Min.X + x, Y: y}, Height: st.Height(), Value: s})
		y -= 1.6 * h
	}
	line(drawing.RoleFinding, 0, fmt.Sprintf("%s of %s points", points(p.r.Points), points(p.r.Of)))
	var parts []string
	for _, q := range p.r.Parts {
		parts = append(parts, fmt.Sprintf("%s %s of %s", q.Name, points(q.Points), points(q.Of)))
	}
	for _, s := range linesOf(strings.Join(parts, ", "), width, h) {
		line(drawing.RoleFinding, 0, s)
	}
	y -= 0.5 * h
	for i := range p.r.Findings {
		f := &p.r.Findings[i]
		cost := ""
		if f.Points > 0 {
			cost = fmt.Sprintf(" (-%s)", points(f.Points))
		}
		lines := linesOf(f.Text+cost, width-4*h, h)
		for n, s := range lines {
			if n == 0 {
				p.add(drawing.RoleFinding, drawing.Text{At: point{X: box.Min.X + 2.5*h, Y: y}, Height: st.Height(), Align: drawing.AlignRight, Value: fmt.Sprint(f.Number)})
			}
			line(drawing.RoleFinding, 4*h, s)
		}
	}
	if len(p.r.Unsure) > 0 {
		y -= 0.5 * h
		line(drawing.RoleFinding, 0, "For the instructor to decide:")
		for _, u := range p.r.Unsure {
			for _, s := range linesOf(u, width-4*h, h) {
				line(drawing.RoleFinding, 4*h, s)
			}
		}
	}
}

// linesOf breaks a text into lines no wider than width.
func linesOf(s string, width, height float64) (lines []string) {
	line := ""
	for _, word := range strings.Fields(s) {
		next := word
		if line != "" {
			next = line + " " + word
		}
		if line != "" && drawing.TextWidth(next, height) > width {
			lines = append(lines, line)
			next = word
		}
		line = next
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}
