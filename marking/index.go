package marking

import (
	"math"

	"boltplate/drawing"
)

// An index finds the chords of a submission near a point.
type index struct {
	strokes []stroke
	cell    float64
	cells   map[[2]int32][]chord
}

// A chord is one straight piece of a stroke.
type chord struct{ stroke, piece int32 }

func newIndex(strokes []stroke, size float64) *index {
	x := &index{strokes: strokes, cell: max(size/120, 1e-9), cells: map[[2]int32][]chord{}}
	for i := range strokes {
		ps := strokes[i].points
		for j := 1; j < len(ps); j++ {
			x.add(ps[j-1], ps[j], chord{int32(i), int32(j)})
		}
	}
	return x
}

func (x *index) key(p point) [2]int32 {
	return [2]int32{int32(math.Floor(p.X / x.cell)), int32(math.Floor(p.Y / x.cell))}
}

// add puts a chord into the cells that it passes through, and some beside.
func (x *index) add(a, b point, c chord) {
	n := 1 + int(b.Sub(a).Len()/(0.5*x.cell))
	last := [2]int32{math.MinInt32, 0}
	for i := range n + 1 {
		k := x.key(a.Add(b.Sub(a).Mul(float64(i) / float64(n))))
		if k != last {
			x.cells[k] = append(x.cells[k], c)
			last = k
		}
	}
}

// near reports whether a chord runs by p in the direction u, no further off
// than d, and turned by no more than the angle of the given sine.
func (x *index) near(p, u point, d, sine float64) bool {
	lo, hi := x.key(point{X: p.X - d - 0.5*x.cell, Y: p.Y - d - 0.5*x.cell}), x.key(point{X: p.X + d + 0.5*x.cell, Y: p.Y + d + 0.5*x.cell})
	for i := lo[0]; i <= hi[0]; i++ {
		for j := lo[1]; j <= hi[1]; j++ {
			for _, c := range x.cells[[2]int32{i, j}] {
				ps := x.strokes[c.stroke].points
				a, b := ps[c.piece-1], ps[c.piece]
				if off, _ := fromSegment(a, b, p); off <= d && math.Abs(wedge(unit(b.Sub(a)), u)) <= sine {
					return true
				}
			}
		}
	}
	return false
}

// A feature is a whole line or a circle, by which a view is found.
type feature struct {
	round bool
	a, b  point   // of a line; the centre of a round one
	size  float64 // length or radius
	fold  float64 // direction of a line, 0 to 45: the same after quarter turns and in a mirror
}

// weight is how much a feature says.
func (f *feature) weight() float64 { return math.Sqrt(min(f.size, 200)) }

func lineFeature(a, b point) feature {
	f := feature{a: a, b: b, size: b.Sub(a).Len()}
	f.fold = math.Mod(norm(b.Sub(a).Angle()), 90)
	f.fold = min(f.fold, 90-f.fold)
	return f
}

func (f *feature) mid() point {
	if f.round {
		return f.a
	}
	return f.a.Mid(f.b)
}

// features returns those of a model view: its lines whatever their role, those
// on one line that touch taken together, and its circles and arcs.
func (v *modelView) features() []feature {
	var lines []element
	var out []feature
	for _, e := range v.elements {
		switch {
		case e.idle || e.role == drawing.RoleCentre:
		case e.form == straight:
			e.role = drawing.RoleOutline
			lines = append(lines, e)
		case e.form == round && e.sweep > 25 && e.r < 300: // flat arcs say little of their centres
			out = append(out, feature{round: true, a: e.c, size: e.r})
		}
	}
	for _, e := range join(lines) {
		if e.length > 1 {
			out = append(out, lineFeature(e.a, e.b))
		}
	}
	if len(out) < 2 { // little to go by: the centre lines too
		for _, e := range v.elements {
			if e.role == drawing.RoleCentre && e.form == straight {
				out = append(out, lineFeature(e.a, e.b))
			}
		}
	}
	return out
}

// features returns those of a submission.
func (b *submission) features() (out []feature) {
	carriers := map[[2]int64][]span{}
	base := map[[2]int64][2]point{}
	var order [][2]int64
	tol := 2e-4 * b.size
	for i := range b.strokes {
		s := &b.strokes[i]
		if !s.level {
			if c, r, off, ok := circleOf(s.points); ok && len(s.points) > 3 && off < 0.01*r {
				out = append(out, feature{round: true, a: c, size: r})
			}
			continue
		}
		u := unit(s.points[1].Sub(s.points[0]))
		if u.X < -1e-9 || u.X < 1e-9 && u.Y < 0 {
			u = u.Mul(-1)
		}
		key := [2]int64{int64(math.Round(u.Angle() * 5)), int64(math.Round(wedge(u, s.points[0]) / tol / 4))}
		if _, known := base[key]; !known {
			base[key] = [2]point{s.points[0].Sub(u.Mul(dot(u, s.points[0]))), u}
			order = append(order, key)
		}
		p, q := dot(u, s.points[0]), dot(u, s.points[1])
		carriers[key] = append(carriers[key], span{min(p, q), max(p, q)})
	}
	for _, key := range order {
		o, u := base[key][0], base[key][1]
		for _, s := range union(carriers[key], tol) {
			out = append(out, lineFeature(o.Add(u.Mul(s.from)), o.Add(u.Mul(s.to))))
		}
	}
	return out
}
