package drawing

import "math"

// Closest returns the least distance, mm on paper, of two parallel visible edges
// of a view that run beside each other along or across it; +Inf where there are
// none. Below LeastApart a plotter runs them into one.
func (v View) Closest(st Style) float64 {
	var along, across []Line // each from its lesser end to its greater
	for _, it := range v.Items {
		l, ok := it.Shape.(Line)
		if !ok || it.Role != RoleOutline {
			continue
		}
		switch {
		case math.Abs(l.From.Y-l.To.Y) < 1e-9:
			along = append(along, Line{Pt(min(l.From.X, l.To.X), l.From.Y), Pt(max(l.From.X, l.To.X), l.To.Y)})
		case math.Abs(l.From.X-l.To.X) < 1e-9:
			across = append(across, Line{Pt(min(l.From.Y, l.To.Y), l.From.X), Pt(max(l.From.Y, l.To.Y), l.To.X)})
		}
	}
	least := math.Inf(1)
	for _, list := range [2][]Line{along, across} {
		for i, a := range list {
			for _, b := range list[:i] {
				d := math.Abs(a.From.Y - b.From.Y)
				if beside := min(a.To.X, b.To.X) - max(a.From.X, b.From.X); d > 1e-6 && beside > d {
					least = min(least, d)
				}
			}
		}
	}
	return least * st.PaperScale()
}

// LeastApart is how far parallel lines stand apart at least, mm on paper (ISO
// 128-2: twice the width of the wider line, and not less than 0.7 mm).
const LeastApart = 0.7
