package marking

import (
	"fmt"
	"math"

	"boltplate/drawing"
)

// viewFaults looks at the places of the views of a figure.
func (m *marking) viewFaults(fig int, ps []*placement) {
	f := &m.figures[fig]
	main := ps[f.main]
	for i, p := range ps {
		if p == nil {
			m.missingView(fig, i, ps)
		}
	}
	if main == nil {
		if len(f.views) > 1 && m.anyPlaced(ps) {
			m.doubt("The %s is missing, so that the places of the other views were not judged.", f.place(f.main))
		}
		return
	}
	other := m.otherMethod(f, ps)
	for i, p := range ps {
		if p != nil && i != f.main {
			m.placeFaults(fig, i, main, p, other)
		}
	}
}

func (m *marking) anyPlaced(ps []*placement) bool {
	for _, p := range ps {
		if p != nil {
			return true
		}
	}
	return false
}

// missingView reports a view that is not there. It costs its share of all but
// dimensions, and its own dimensions; where no view is there, its share of
// those too.
func (m *marking) missingView(fig, view int, ps []*placement) {
	f := &m.figures[fig]
	v := &f.views[view]
	n := 0.0
	for i := range m.figures {
		n += float64(len(m.figures[i].views))
	}
	s := &m.opt.Scheme
	fd := Finding{Kind: MissingView, Figure: f.Name, View: v.name, Text: fmt.Sprintf("The %s is missing.", f.place(view))}
	for _, p := range [...]PartName{PartViews, PartLines, PartKinds, PartNeatness} {
		fd.losses = append(fd.losses, loss{p, s.Parts[p] / n})
	}
	if len(m.views) == 0 {
		fd.losses = append(fd.losses, loss{PartDimensions, s.Parts[PartDimensions] / n})
	} else if len(v.dims) > 0 {
		fd.Text += fmt.Sprintf(" With it %s.", count(len(v.dims), "dimension is missing", "dimensions are missing"))
		fd.losses = append(fd.losses, loss{PartDimensions, float64(len(v.dims)) * s.Rules[MissingDimension].Each})
	}
	fd.Text += " It costs its share of the points for views, lines, kinds of line and neatness."
	if main := ps[f.main]; main != nil {
		at := v.at.Sub(f.views[f.main].at)
		fd.At = main.Point(at.Add(v.box.Mid()))
		fd.Radius = 12 * main.Scale
	}
	m.append(fd)
}

// otherMethod reports whether the views stand by the other projection method,
// and that is allowed.
func (m *marking) otherMethod(f *modelFigure, ps []*placement) bool {
	right, other := 0, 0
	for i, p := range ps {
		w := f.wanted(i)
		if p == nil || w == nowhere {
			continue
		}
		switch f.seen(i, ps[f.main], p) {
		case w:
			right++
		case w.opposite():
			other++
		}
	}
	if other == 0 || right > 0 || !m.opt.EitherProjection {
		return false
	}
	m.notef("The views stand in %s projection, which is allowed here.", methodName(!f.ThirdAngle))
	return true
}

func methodName(third bool) string {
	if third {
		return "third-angle"
	}
	return "first-angle"
}

// placeFaults looks at the place of one view.
func (m *marking) placeFaults(fig, view int, main, p *placement, other bool) {
	f := &m.figures[fig]
	v := &f.views[view]
	index := m.viewIndex(fig, view)
	name := f.place(view)
	ring := func(fd Finding) {
		m.add(index, fd, []point{v.box.Min, v.box.Max}, nil)
	}
	if math.Abs(p.Scale/main.Scale-1) > 0.02 {
		ring(Finding{Kind: ScaledView, Amount: p.Scale / main.Scale, Text: fmt.Sprintf("The %s is drawn %s times as large as the %s.", name, times(p.Scale/main.Scale), f.views[f.main].name)})
	}
	if p.Mirror != main.Mirror {
		ring(Finding{Kind: MirroredView, Text: fmt.Sprintf("The %s is drawn as in a mirror, beside the %s.", name, f.views[f.main].name)})
	} else if turn := norm(p.Turn - main.Turn); turn != 0 {
		ring(Finding{Kind: TurnedView, Amount: turn, Text: fmt.Sprintf("The %s is turned by %s°, beside the %s.", name, mm(turn), f.views[f.main].name)})
	}
	want := f.wanted(view)
	if want == nowhere {
		return
	}
	if other {
		want = want.opposite()
	}
	third := f.ThirdAngle != other
	got := f.seen(view, main, p)
	if got != want {
		fd := Finding{Kind: WrongSide, Text: fmt.Sprintf("The %s stands %s the %s; in %s projection it stands %s it.", name, got, f.views[f.main].name, methodName(third), want)}
		ring(fd)
		if got == nowhere || got.across() != want.across() {
			return
		}
	}
	if off := f.outOfLine(view, main, p, want); math.Abs(off) > m.tol+0.5 {
		way := "high"
		if !want.across() {
			way = "far right"
		}
		if off < 0 {
			way = map[string]string{"high": "low", "far right": "far left"}[way]
		}
		ring(Finding{Kind: OutOfLine, Amount: math.Abs(off), Text: fmt.Sprintf("The %s stands %s mm too %s to be in line with the %s.", name, mm(math.Abs(off)), way, f.views[f.main].name)})
	}
}

// times writes a ratio for a report.
func times(v float64) string { return drawing.FormatValue(v, false) }

// viewIndex returns the index of a view among those that were found.
func (m *marking) viewIndex(fig, view int) int {
	for i := range m.views {
		if m.views[i].fig == fig && m.views[i].view == view {
			return i
		}
	}
	return -1
}
