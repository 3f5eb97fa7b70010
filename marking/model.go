package marking

import (
	"fmt"
	"math"
	"strings"

	"boltplate/drawing"
)

// A Model is a model answer: one figure, or those of a plate.
type Model struct {
	Figures []Figure
}

// A Figure is a figure of a model answer. Its views stand in projection; the
// one with the lowest direction (front before side, and so on) is the main
// view, which the others are placed about.
type Figure struct {
	// Name is what reports call it, such as "Fig. 1"; "" where there is only
	// one.
	Name string
	// Drawing has the views with their dimensions placed, as fastener.Draw
	// makes it. Items outside of views, such as captions, are not compared.
	Drawing *drawing.Drawing
	// ThirdAngle says by which method the views are placed.
	ThirdAngle bool
}

// A modelFigure is a figure that is ready to be compared.
type modelFigure struct {
	Figure
	views []modelView
	main  int // index of the main view
}

// A modelView is a view in millimetres on paper, its origin at 0, 0.
type modelView struct {
	name      string
	direction drawing.Direction
	at        point   // of its origin, mm on paper
	scale     float64 // mm on paper for a mm of the part
	style     drawing.Style
	elements  []element
	length    float64      // of the elements that must be drawn
	box       drawing.Rect // of those without centre lines
	areas     []area
	dims      []modelDim
}

// An area is a hatched area of a view.
type area struct {
	loops   [][]point
	angle   float64
	samples []point // inside
	box     drawing.Rect
}

// prepare makes the figures of m ready.
func (m *Model) prepare() ([]modelFigure, error) {
	if len(m.Figures) == 0 {
		return nil, fmt.Errorf("marking: the model answer has no figure")
	}
	figures := make([]modelFigure, len(m.Figures))
	for i, f := range m.Figures {
		if f.Drawing == nil || len(f.Drawing.Views) == 0 {
			return nil, fmt.Errorf("marking: figure %d of the model answer has no views", i+1)
		}
		figures[i] = prepareFigure(f)
		if len(figures[i].views) == 0 {
			return nil, fmt.Errorf("marking: figure %d of the model answer has no lines", i+1)
		}
	}
	return figures, nil
}

func prepareFigure(f Figure) modelFigure {
	g := modelFigure{Figure: f}
	paper := f.Drawing.Style.PaperScale()
	for i := range f.Drawing.Views {
		p := &f.Drawing.Views[i]
		v := prepareView(p, f.Drawing.Style, paper)
		if v.length == 0 {
			continue // notes, item references
		}
		if len(g.views) > 0 && v.direction < g.views[g.main].direction {
			g.main = len(g.views)
		}
		g.views = append(g.views, v)
	}
	nameViews(g.views)
	return g
}

func prepareView(p *drawing.Placed, st drawing.Style, paper float64) modelView {
	k := paper
	if p.Scale != 0 {
		k *= p.Scale
	}
	st.Scale = k
	v := modelView{name: viewName(p.View), direction: p.View.Direction, at: p.At.Mul(paper), scale: k, style: st}
	v.elements = elementsOf(p.View.Items, k)
	v.box = drawing.EmptyRect()
	all := drawing.EmptyRect()
	for i := range v.elements {
		e := &v.elements[i]
		if e.idle {
			continue
		}
		v.length += e.length
		all = all.Union(e.box)
		if e.role != drawing.RoleCentre {
			v.box = v.box.Union(e.box)
		}
	}
	if v.box.Empty() {
		v.box = all
	}
	t := drawing.Transform{Scale: k}
	for i := range p.View.Items {
		switch s := p.View.Items[i].Shape.(type) {
		case drawing.Hatch:
			if !s.Solid {
				v.areas = append(v.areas, newArea(s.Apply(t)))
			}
		default:
			if d, ok := newDim(p.View.Items[i].Shape, st, t); ok {
				v.dims = append(v.dims, d)
			}
		}
	}
	return v
}

// viewName returns what a report calls a view.
func viewName(v drawing.View) string {
	names := [...]string{drawing.Front: "front view", drawing.SideView: "side view", drawing.HeadEnd: "view of the head", drawing.PointEnd: "view of the point",
		drawing.Isometric: "isometric view"}
	if int(v.Direction) < len(names) {
		return names[v.Direction]
	}
	return v.Name
}

// nameViews gives views of one name a number.
func nameViews(views []modelView) {
	seen := map[string]int{}
	for i := range views {
		n := views[i].name
		if seen[n]++; seen[n] > 1 {
			views[i].name = fmt.Sprintf("%s %d", n, seen[n])
		}
	}
}

// newArea returns a hatched area in millimetres on paper.
func newArea(h drawing.Hatch) area {
	a := area{angle: math.Mod(norm(h.Angle), 180)}
	all := drawing.EmptyRect()
	for _, loop := range h.Loops {
		var ps []point
		for i, v := range loop {
			w := loop[(i+1)%len(loop)]
			if arc, ok := drawing.BulgeArc(v, w.Point); ok {
				c := newRound(drawing.RoleHatching, arc.Center, arc.Radius, arc.Start, norm(arc.End-arc.Start)).chain
				if v.Bulge < 0 {
					for j, k := 0, len(c)-1; j < k; j, k = j+1, k-1 {
						c[j], c[k] = c[k], c[j]
					}
				}
				ps = append(ps, c[:len(c)-1]...)
			} else {
				ps = append(ps, v.Point)
			}
		}
		a.loops = append(a.loops, ps)
		all = all.Union(bounds(ps))
	}
	a.box = all
	a.samples = samples(a.loops, all)
	return a
}

// samples returns points inside of an area, some forty of them, on a grid that
// lies skew.
func samples(loops [][]point, box drawing.Rect) (ps []point) {
	for n := 7; n <= 56 && len(ps) < 30; n *= 2 {
		ps = ps[:0]
		for i := range n {
			for j := range n {
				p := point{X: box.Min.X + box.Dx()*(float64(i)+0.5+0.3*float64(j%3-1))/float64(n), Y: box.Min.Y + box.Dy()*(float64(j)+0.47)/float64(n)}
				if within(loops, p) {
					ps = append(ps, p)
				}
			}
		}
	}
	return ps
}

// place returns how a report names a view of a figure.
func (f *modelFigure) place(view int) string {
	if f.Name == "" {
		return f.views[view].name
	}
	return strings.TrimSpace(f.Name + ", " + f.views[view].name)
}
