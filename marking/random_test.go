package marking_test

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"boltplate/drawing"
	"boltplate/dxfout"
	"boltplate/internal/clash"
	"boltplate/marking"

	"github.com/stretchr/testify/require"
)

// A maker puts random faults into a plate. It keeps faults apart that would be
// one of another name together: a line that is missing beside one too many is
// a line in the wrong place.
type maker struct {
	*rand.Rand
	d     *drawing.Drawing
	paper float64 // of a millimetre of the part
	took  map[[2]int]bool
	lines map[int]bool // views that have a fault of missing, moved or extra lines
	kinds map[int]bool // views that have a line of the wrong kind
	want  map[marking.Kind]int
}

// snapshot returns a copy of m, to go back to.
func (m *maker) snapshot() maker {
	c := *m
	c.d, c.took, c.lines, c.kinds, c.want = clone(m.d), maps.Clone(m.took), maps.Clone(m.lines), maps.Clone(m.kinds), maps.Clone(m.want)
	return c
}

func (m *maker) between(lo, hi float64) float64 { return lo + (hi-lo)*m.Float64() }

// views returns the indices of views with lines.
func (m *maker) views() (out []int) {
	for i, v := range m.d.Views {
		if slices.ContainsFunc(v.View.Items, func(it drawing.Item) bool { return it.Role == visible }) {
			out = append(out, i)
		}
	}
	return out
}

func (m *maker) mm(v int) float64 {
	k := m.d.Style.PaperScale()
	if s := m.d.Views[v].Scale; s != 0 {
		k *= s
	}
	return k
}

func asLine(it drawing.Item) (l drawing.Line, ok bool) {
	l, ok = it.Shape.(drawing.Line)
	return l, ok && (it.Role == visible || it.Role == thin || it.Role == hidden || it.Role == centre)
}

func toLine(l drawing.Line, p drawing.Point) (along, off float64) {
	d := l.To.Sub(l.From)
	u := d.Mul(1 / d.Len())
	v := p.Sub(l.From)
	return u.X*v.X + u.Y*v.Y, math.Abs(u.X*v.Y - u.Y*v.X)
}

func length(l drawing.Line) float64 { return l.To.Sub(l.From).Len() }

func angle(l drawing.Line) float64 { return math.Mod(l.To.Sub(l.From).Angle()+360, 180) }

func parallel(a, b drawing.Line) bool {
	d := math.Abs(angle(a) - angle(b))
	return min(d, 180-d) < 8
}

// clear reports whether a line keeps off all others of a view, but for one:
// none that is nearly parallel comes nearer than gap, over more than a little.
func (m *maker) clear(v, but int, l drawing.Line, gap float64) bool {
	k := m.mm(v)
	for i, it := range m.d.Views[v].View.Items {
		if i == but {
			continue
		}
		if o, ok := asLine(it); ok && parallel(l, o) {
			s, d1 := toLine(l, o.From)
			t, d2 := toLine(l, o.To)
			_, d3 := toLine(o, l.From)
			_, d4 := toLine(o, l.To)
			if over := min(max(s, t), length(l)) - max(min(s, t), 0); min(d1, d2, d3, d4)*k < gap && over*k > -1 {
				return false
			}
		}
		// Curves and hatching: no point of them near the inner part of the line.
		for _, p := range points(it.Shape) {
			if s, off := toLine(l, p); off*k < gap && s > 0.1*length(l) && s < 0.9*length(l) && flat(it.Shape, l) {
				return false
			}
		}
	}
	return true
}

// flat reports whether a curve may run along a line for a while: an arc that is
// large beside it.
func flat(s drawing.Shape, l drawing.Line) bool {
	switch s := s.(type) {
	case drawing.Arc:
		return s.Radius > 0.3*length(l)
	case drawing.Circle:
		return s.Radius > 0.3*length(l)
	}
	return true
}

func points(s drawing.Shape) (ps []drawing.Point) {
	switch s := s.(type) {
	case drawing.Arc:
		sweep := math.Mod(s.End-s.Start+720, 360)
		for i := range 33 {
			ps = append(ps, s.Center.Add(drawing.Polar(s.Radius, s.Start+sweep*float64(i)/32)))
		}
	case drawing.Circle:
		for i := range 64 {
			ps = append(ps, s.Center.Add(drawing.Polar(s.Radius, float64(i)*360/64)))
		}
	case drawing.Conic:
		for i := range 17 {
			t := float64(i) / 16
			u := 1 - t
			a, b, c := u*u, 2*u*t*s.Weight, t*t
			ps = append(ps, s.From.Mul(a/(a+b+c)).Add(s.Control.Mul(b/(a+b+c))).Add(s.To.Mul(c/(a+b+c))))
		}
	}
	return ps
}

// pick returns a line of a view that is an element of its own: it can be
// changed without another covering it.
func (m *maker) pick(v int, least float64, roles ...drawing.Role) (int, drawing.Line, bool) {
	k := m.mm(v)
	var all []int
	for i, it := range m.d.Views[v].View.Items {
		l, ok := asLine(it)
		if ok && slices.Contains(roles, it.Role) && length(l)*k >= least && !m.took[[2]int{v, i}] && m.clear(v, i, l, 1.2) {
			all = append(all, i)
		}
	}
	if len(all) == 0 {
		return 0, drawing.Line{}, false
	}
	i := all[m.IntN(len(all))]
	l, _ := asLine(m.d.Views[v].View.Items[i])
	return i, l, true
}

func (m *maker) set(v, i int, s drawing.Shape) {
	m.d.Views[v].View.Items[i].Shape = s
	m.took[[2]int{v, i}] = true
}

// blank takes an item away and keeps the places of the others.
func (m *maker) blank(v, i int) { m.set(v, i, drawing.Hatch{Solid: true}) }

func (m *maker) expect(k marking.Kind) { m.want[k]++ }

// A family of faults; each returns false where it finds no place.
func (m *maker) families() []func(v int) bool {
	return []func(int) bool{m.removed, m.moved, m.extra, m.shortened, m.gap, m.wrongKind, m.noDimension, m.wrongText, m.twice, m.outOfLine}
}

func (m *maker) lineFault(v int) bool {
	if m.lines[v] {
		return false
	}
	m.lines[v] = true
	return true
}

func (m *maker) removed(v int) bool {
	i, _, ok := m.pick(v, 5, visible, thin, hidden, centre)
	if !ok || !m.lineFault(v) {
		return false
	}
	if m.d.Views[v].View.Items[i].Role == centre {
		m.expect(marking.MissingCentreLine)
	} else {
		m.expect(marking.MissingLine)
	}
	m.blank(v, i)
	return true
}

func (m *maker) moved(v int) bool {
	i, l, ok := m.pick(v, 8, visible, thin, hidden)
	if !ok {
		return false
	}
	k := m.mm(v)
	d := l.To.Sub(l.From)
	n := pt(-d.Y, d.X).Mul(m.between(1.5, 4) / k / d.Len())
	if m.IntN(2) == 0 {
		n = n.Mul(-1)
	}
	to := drawing.Line{From: l.From.Add(n), To: l.To.Add(n)}
	if !m.clear(v, i, to, 1.2) || !m.lineFault(v) {
		return false
	}
	m.set(v, i, to)
	m.expect(marking.LineOff)
	return true
}

func (m *maker) extra(v int) bool {
	k := m.mm(v)
	b := m.d.Views[v].View.Outline()
	from := pt(m.between(b.Min.X+b.Dx()*0.25, b.Max.X-b.Dx()*0.25), m.between(b.Min.Y+b.Dy()*0.3, b.Max.Y-b.Dy()*0.3))
	l := drawing.Line{From: from, To: from.Add(drawing.Polar(m.between(6, 12)/k, 180*m.Float64()))}
	if !m.clear(v, -1, l, 1.2) || m.hatched(v) || !m.lineFault(v) {
		return false
	}
	add(m.d, v, visible, l)
	m.took[[2]int{v, len(m.d.Views[v].View.Items) - 1}] = true
	m.expect(marking.ExtraLine)
	return true
}

// hatched reports whether a view is hatched: a plain file has lines for it.
func (m *maker) hatched(v int) bool {
	return slices.ContainsFunc(m.d.Views[v].View.Items, func(it drawing.Item) bool { return it.Role == drawing.RoleHatching })
}

func (m *maker) shortened(v int) bool {
	i, l, ok := m.pick(v, 15, visible, thin, hidden)
	if !ok {
		return false
	}
	cut := m.between(2, 5) / m.mm(v) / length(l)
	d := l.To.Sub(l.From)
	if m.IntN(2) == 0 {
		l.From = l.From.Add(d.Mul(cut))
	} else {
		l.To = l.To.Sub(d.Mul(cut))
	}
	m.set(v, i, l)
	m.expect(marking.LineShort)
	return true
}

func (m *maker) gap(v int) bool {
	i, l, ok := m.pick(v, 20, visible, thin, hidden)
	if !ok {
		return false
	}
	k := m.mm(v)
	d := l.To.Sub(l.From)
	at, wide := m.between(0.3, 0.6), m.between(2.5, 5)/k/length(l)
	m.set(v, i, drawing.Line{From: l.From, To: l.From.Add(d.Mul(at))})
	add(m.d, v, m.d.Views[v].View.Items[i].Role, drawing.Line{From: l.From.Add(d.Mul(at + wide)), To: l.To})
	m.took[[2]int{v, len(m.d.Views[v].View.Items) - 1}] = true
	m.expect(marking.LineGap)
	return true
}

// wrongKind draws a line as one of a role that other lines of the plate have.
func (m *maker) wrongKind(v int) bool {
	if m.kinds[v] {
		return false
	}
	i, _, ok := m.pick(v, 8, visible, thin, hidden, centre)
	if !ok {
		return false
	}
	role := m.d.Views[v].View.Items[i].Role
	var others []drawing.Role
	for _, r := range []drawing.Role{visible, thin, hidden, centre} {
		if r != role && m.drawn(r) >= 2 && m.drawn(role) >= 2 {
			others = append(others, r)
		}
	}
	if len(others) == 0 {
		return false
	}
	m.kinds[v] = true
	m.took[[2]int{v, i}] = true
	m.d.Views[v].View.Items[i].Role = others[m.IntN(len(others))]
	m.expect(marking.WrongLine)
	return true
}

// drawn returns how many lines of a role the plate has that nothing has been
// done to.
func (m *maker) drawn(r drawing.Role) (n int) {
	for v := range m.d.Views {
		for i, it := range m.d.Views[v].View.Items {
			if _, ok := asLine(it); ok && it.Role == r && !m.took[[2]int{v, i}] {
				n++
			}
		}
	}
	return n
}

// dimension picks one whose text no other of the plate has.
func (m *maker) dimension(v int) (int, bool) {
	count := map[string]int{}
	for w := range m.d.Views {
		for _, it := range m.d.Views[w].View.Items {
			if l := label(it.Shape); l != nil {
				count[l.Text]++
			}
		}
	}
	var all []int
	for i, it := range m.d.Views[v].View.Items {
		if l := label(it.Shape); l != nil && !l.Reference && count[l.Text] == 1 && !m.took[[2]int{v, i}] {
			all = append(all, i)
		}
	}
	if len(all) == 0 {
		return 0, false
	}
	return all[m.IntN(len(all))], true
}

func (m *maker) noDimension(v int) bool {
	i, ok := m.dimension(v)
	if !ok {
		return false
	}
	m.blank(v, i)
	m.expect(marking.MissingDimension)
	return true
}

func (m *maker) wrongText(v int) bool {
	i, ok := m.dimension(v)
	if !ok {
		return false
	}
	s := m.d.Views[v].View.Items[i].Shape
	if _, leader := s.(drawing.Leader); leader {
		return false // a note of another text may be any note
	}
	m.set(v, i, relabelled(s, func(l *drawing.Label) { l.Text = fmt.Sprint(211 + m.IntN(700)) }))
	m.expect(marking.WrongText)
	return true
}

func (m *maker) twice(v int) bool {
	i, ok := m.dimension(v)
	if !ok {
		return false
	}
	it := m.d.Views[v].View.Items[i]
	l, straight := it.Shape.(drawing.Linear)
	if !straight {
		return false
	}
	// On another row far out, so that the two touch nothing.
	step := (60 + 10*float64(m.IntN(3))) / m.mm(v)
	if l.Side == drawing.Below || l.Side == drawing.Left {
		step = -step
	}
	l.At += step
	add(m.d, v, it.Role, l)
	m.took[[2]int{v, i}], m.took[[2]int{v, len(m.d.Views[v].View.Items) - 1}] = true, true
	m.expect(marking.DimensionTwice)
	return true
}

func (m *maker) outOfLine(v int) bool {
	if v == 0 || m.took[[2]int{v, -1}] || len(m.views()) < 2 || m.d.Views[v].View.Direction == drawing.Isometric {
		return false
	}
	m.took[[2]int{v, -1}] = true
	p := &m.d.Views[v]
	across := p.View.Direction == drawing.SideView
	d := m.between(2, 4) / m.paper
	if across {
		p.At.X += d
	} else {
		p.At.Y += d
	}
	m.expect(marking.OutOfLine)
	return true
}

// parts tells, apart from the code, of which part a finding takes points.
var parts = map[marking.Kind]string{
	marking.MissingLine: "lines", marking.MissingCentreLine: "lines", marking.ExtraLine: "lines", marking.LineOff: "lines", marking.LineShort: "lines", marking.LineGap: "lines",
	marking.WrongLine: "kinds of line", marking.MissingDimension: "dimensions", marking.WrongText: "dimensions", marking.DimensionTwice: "dimensions", marking.OutOfLine: "views",
}

// each is what a finding costs in the scheme of the test.
var each = map[marking.Kind]float64{
	marking.MissingLine: 5, marking.MissingCentreLine: 3.5, marking.ExtraLine: 2, marking.LineOff: 4, marking.LineShort: 1.5, marking.LineGap: 1,
	marking.WrongLine: 2.5, marking.MissingDimension: 3, marking.WrongText: 2, marking.DimensionTwice: 1, marking.OutOfLine: 6,
}

var has = map[string]float64{"views": 10, "lines": 30, "kinds of line": 20, "dimensions": 25, "neatness": 15}

func testScheme() marking.Scheme {
	s := marking.DefaultScheme()
	for k, v := range each {
		s.Rules[k].Each = v
	}
	for i := range s.Parts {
		s.Parts[i] = has[marking.PartName(i).String()]
	}
	return s
}

// points works out by hand what a submission should get.
func expectedPoints(want map[marking.Kind]int) float64 {
	lost := map[string]float64{}
	for k, n := range want {
		lost[parts[k]] += float64(n) * each[k]
	}
	sum := 0.0
	for part, p := range has {
		sum += max(0, p-lost[part])
	}
	return sum
}

// TestRandomSubmissions: a thousand submissions with random faults, in both
// forms of file, on random layers and a little off, get the points that they
// should.
func TestRandomSubmissions(t *testing.T) {
	n := 1000
	if testing.Short() {
		n = 60
	}
	all := append(plates(t), faultPlates(t)...)
	markers := make([]*marking.Marker, len(all))
	for i := range all {
		markers[i] = marker(t, all[i].d, marking.Options{Scheme: testScheme()})
	}
	faults := 0
	for i := range n {
		rnd := rand.New(rand.NewPCG(uint64(i), 7))
		s := all[i%len(all)]
		m := &maker{Rand: rnd, d: clone(s.d), paper: s.d.Style.PaperScale(), took: map[[2]int]bool{}, lines: map[int]bool{}, kinds: map[int]bool{}, want: map[marking.Kind]int{}}
		families := m.families()
		views := m.views()
		count := rnd.IntN(6)
		for tries := 0; tries < 60 && faultCount(m.want) < count; tries++ {
			before := m.snapshot()
			families[rnd.IntN(len(families))](views[rnd.IntN(len(views))])
			if len(clash.Find(m.d)) > 0 { // a text touches something: another fault, by another witness
				*m = before
			}
		}
		faults += faultCount(m.want)
		d := m.d
		if i%3 == 0 {
			d = reshaped(d, off(uint64(i), 0.12/m.paper))
		}
		e := dxfout.Encoder{Version: dxfout.Version(i / 2 % 2)}
		if i%5 == 0 {
			e.Layers = office()
		}
		b, err := e.Append(nil, d)
		require.NoError(t, err)
		r := mark(t, markers[i%len(all)], b)
		got := map[marking.Kind]int{}
		for _, f := range r.Findings {
			got[f.Kind]++
		}
		if fmt.Sprint(got) != fmt.Sprint(m.want) || math.Abs(r.Points-expectedPoints(m.want)) > 1e-6 {
			t.Errorf("%d, %s, %v: %v points and not %v; wanted %v", i, s.name, e.Version, r.Points, expectedPoints(m.want), m.want)
			for _, f := range r.Findings {
				t.Errorf("    %v in the %s: %s", f.Kind, f.View, f.Text)
			}
			for _, f := range r.Unsure {
				t.Errorf("    ? %s", f)
			}
			for key := range m.took {
				if key[1] >= 0 {
					t.Errorf("    %v %v", key, m.d.Views[key[0]].View.Items[key[1]])
				}
			}
		}
	}
	t.Log(faults, "faults")
}

func faultCount(want map[marking.Kind]int) (n int) {
	for _, c := range want {
		n += c
	}
	return n
}
