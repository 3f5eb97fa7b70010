package marking

import (
	"fmt"
	"io"
	"math"
	"slices"

	"boltplate/drawing"
	"boltplate/dxfin"
)

// Options say how submissions are marked. The zero value is the usual choice.
type Options struct {
	// Tolerance is how far lines may be off, mm on paper; 0 means 0.5. More
	// than 2 is not sensible, because lines of a drawing stand 0.7 apart.
	Tolerance float64
	// EitherProjection lets views stand by the other projection method too, if
	// all of them do.
	EitherProjection bool
	// Lines says what layers, line types and colours mean. Nil is told by what
	// the file shows.
	Lines *Lines
	// Scheme says what findings cost. Its zero value means DefaultScheme.
	Scheme Scheme
}

// DefaultTolerance is the tolerance of Options that say nothing, mm on paper:
// the width of a wide line.
const DefaultTolerance = 0.5

// A Marker compares submissions with one model answer. It may be used by many
// goroutines at once.
type Marker struct {
	model   Model
	figures []modelFigure
	opt     Options
}

// New returns a Marker for a model answer.
func New(m Model, opt Options) (*Marker, error) {
	if opt.Tolerance == 0 {
		opt.Tolerance = DefaultTolerance
	}
	if !(opt.Tolerance > 0.01 && opt.Tolerance <= 2) {
		return nil, fmt.Errorf("marking: a tolerance of %v mm; use one from 0.05 to 2 mm on paper", opt.Tolerance)
	}
	if opt.Scheme == (Scheme{}) {
		opt.Scheme = DefaultScheme()
	}
	if err := opt.Scheme.check(); err != nil {
		return nil, err
	}
	figures, err := m.prepare()
	if err != nil {
		return nil, err
	}
	return &Marker{model: m, figures: figures, opt: opt}, nil
}

// A Result is what was found in a submission.
type Result struct {
	Points, Of float64
	Parts      []Part
	Findings   []Finding
	// Unsure lists what could not be read or told, for the instructor to look
	// at. It costs nothing.
	Unsure []string
	// Notes say how the submission was read.
	Notes []string
	Views []View

	scene *dxfin.Scene
	unit  float64 // of the submission, for a millimetre on paper
	sub   *submission
}

// A View is a view of the model and where it was found.
type View struct {
	Figure, Name string
	Found        bool
	At           drawing.Point // its origin, in units of the submission
	Scale        float64       // units of the submission for a millimetre on paper of the model
	Turn         float64       // degrees counter-clockwise
	Mirrored     bool
	Covered      float64 // the part of its lines that is drawn in place
}

// Mark compares a submission. The error is that of dxfin's Flatten: what a
// student has drawn is never an error.
func (k *Marker) Mark(f *dxfin.File) (*Result, error) {
	scene, err := f.Flatten()
	if err != nil {
		return nil, err
	}
	m := &marking{Marker: k, tol: k.opt.Tolerance, res: &Result{Of: k.opt.Scheme.Of(), scene: scene}}
	m.sub = newSubmission(f, scene)
	m.readNotes(f)
	places := m.locate()
	m.verify(places)
	m.compare(places)
	m.finish()
	return m.res, nil
}

// MarkReader reads a DXF file and compares it. The error is that of
// dxfin.Decode, or of Mark.
func (k *Marker) MarkReader(r io.Reader) (*Result, error) {
	f, err := dxfin.Decode(r)
	if err != nil {
		return nil, err
	}
	return k.Mark(f)
}

// marking is one submission on its way to a result.
type marking struct {
	*Marker
	tol       float64
	sub       *submission
	views     []foundView
	chunks    []chunk
	judge     *judge
	dims      *dimFinder
	wrongKind []kindFault
	shifted   []*shift
	res       *Result
	told      map[string]bool
}

// doubt adds a line for the instructor.
func (m *marking) doubt(format string, args ...any) {
	s := fmt.Sprintf(format, args...)
	if !m.told[s] {
		if m.told == nil {
			m.told = map[string]bool{}
		}
		m.told[s] = true
		m.res.Unsure = append(m.res.Unsure, s)
	}
}

func (m *marking) notef(format string, args ...any) {
	m.res.Notes = append(m.res.Notes, fmt.Sprintf(format, args...))
}

// readNotes tells what the reader has passed over.
func (m *marking) readNotes(f *dxfin.File) {
	for _, s := range f.Skipped {
		m.doubt("%s (the first at line %d) could not be read.", count(s.N, "entity", "entities")+" "+s.Kind, s.Line)
	}
	for _, n := range f.Notes {
		m.doubt("The file: %v.", n)
	}
	for _, n := range m.res.scene.Notes {
		m.doubt("The file: %v.", n)
	}
	for _, s := range m.sub.unsure {
		m.doubt("%s.", s)
	}
	if len(f.Paper) > 0 {
		m.doubt("%s of paper space did not count; draw in model space.", count(len(f.Paper), "entity", "entities"))
	}
}

// locate finds the views of all figures, the best first, so that two figures
// that look alike do not take one place.
func (m *marking) locate() [][]*placement {
	places := make([][]*placement, len(m.figures))
	found := m.sub.features()
	x := newIndex(m.sub.strokes, m.sub.size)
	finders := make([]*finder, len(m.figures))
	scores := make([]float64, len(m.figures))
	for i := range m.figures {
		finders[i] = newFinder(m.sub, found, x, m.tol, m.figures[i].views)
		finders[i].stated = m.sub.statedScale(m.figures[i].views[m.figures[i].main].scale)
		places[i] = finders[i].locate(&m.figures[i], m.opt.EitherProjection)
		scores[i] = score(&m.figures[i], places[i])
	}
	order := make([]int, len(m.figures))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return byCover(scores[a], scores[b]) })
	var taken []drawing.Rect
	for _, i := range order {
		if m.clash(i, places[i], taken) {
			finders[i].taken = taken
			places[i] = finders[i].locate(&m.figures[i], m.opt.EitherProjection)
		}
		for v, p := range places[i] {
			if p != nil {
				taken = append(taken, placedBox(&m.figures[i].views[v], p))
			}
		}
	}
	return places
}

func newFinder(b *submission, found []feature, x *index, tol float64, views []modelView) *finder {
	f := &finder{sub: b, found: found, index: x, tol: tol, views: views}
	for v := range views {
		f.features = append(f.features, views[v].features())
		f.samples = append(f.samples, views[v].samples())
	}
	return f
}

func score(f *modelFigure, ps []*placement) (sum float64) {
	length := 0.0
	for v, p := range ps {
		length += f.views[v].length
		if p != nil {
			sum += p.cover * f.views[v].length
		}
	}
	return sum / length
}

func (m *marking) clash(fig int, ps []*placement, taken []drawing.Rect) bool {
	for v, p := range ps {
		if p != nil && slices.ContainsFunc(taken, func(t drawing.Rect) bool { return overlap(t, placedBox(&m.figures[fig].views[v], p)) }) {
			return true
		}
	}
	return false
}

// verify takes away views of which too little is drawn, when each drawn line
// counts for one line of the model.
func (m *marking) verify(places [][]*placement) {
	var views []foundView
	for fig := range places {
		for v, p := range places[fig] {
			if p != nil {
				views = append(views, foundView{fig: fig, view: v, model: &m.figures[fig].views[v], place: p})
			}
		}
	}
	if len(views) == 0 {
		return
	}
	a := matcher{submission: m.sub, chunks: m.sub.chunks(views, views[0].place.Scale), views: views, tol: 1.5 * m.tol}
	a.match()
	for i := range views {
		v := &views[i]
		have, all := 0.0, 0.0
		for k := range v.model.elements {
			e := &v.model.elements[k]
			if e.idle {
				continue
			}
			w := e.weight()
			all += w * e.length
			have += w * min(e.part(v.covered(k, func(h *hit) bool { return !h.second })), e.length)
		}
		if all > 0 {
			v.place.cover = have / all
			if v.place.cover < leastDrawn {
				places[v.fig][v.view] = nil
			}
		}
	}
}

// compare finds what is wrong, given where the views are.
func (m *marking) compare(places [][]*placement) {
	for fig := range m.figures {
		f := &m.figures[fig]
		for v, p := range places[fig] {
			out := View{Figure: f.Name, Name: f.views[v].name, Found: p != nil}
			if p != nil {
				m.views = append(m.views, foundView{fig: fig, view: v, model: &f.views[v], place: p})
				if p.cover < doubtful {
					m.doubt("The %s agrees with the model answer in only %s %% of its lines; is it meant to be this view?", f.place(v), points(math.Round(100*p.cover)))
				}
				out.At, out.Scale, out.Turn, out.Mirrored, out.Covered = p.Move, p.Scale, p.Turn, p.Mirror, p.cover
			}
			m.res.Views = append(m.res.Views, out)
		}
	}
	m.res.unit = 1
	if len(m.views) > 0 {
		m.res.unit = m.views[0].place.Scale
	}
	m.dims = findDims(m.sub, m.res.unit)
	for fig := range m.figures {
		m.viewFaults(fig, places[fig])
	}
	if len(m.views) == 0 {
		m.doubt("None of the views was found: is it the right plate?")
		return
	}
	m.matchLines()
	runs := m.runs()
	for v := range m.views {
		m.areaFaults(v, runs)
		m.lineFaults(v, runs)
	}
	m.kindFaults()
	m.dimFaults()
	m.reportShifts()
	m.textFaults()
}

// matchLines assigns what is drawn to the lines of the model, first by place
// alone, which tells what the looks mean, then by place and look.
func (m *marking) matchLines() {
	m.chunks = m.sub.chunks(m.views, m.res.unit)
	for i := range m.chunks {
		m.chunks[i].mark = m.dims.notes[m.chunks[i].stroke] == sure
	}
	a := matcher{submission: m.sub, chunks: m.chunks, views: m.views, tol: m.tol}
	a.match()
	for i := range m.views {
		v := &m.views[i]
		for k := range v.hits {
			e := &v.model.elements[k]
			if e.idle {
				continue
			}
			for _, h := range v.hits[k] {
				if h.second {
					continue
				}
				l := &m.sub.looks[m.sub.strokes[m.chunks[h.chunk].stroke].look]
				l.votes[e.role] += h.len()
				l.used += h.len()
			}
		}
	}
	m.judge = newJudge(m.sub.looks, m.opt.Lines)
	m.noteJudge()
	a.fits = func(look int, r drawing.Role) bool {
		if len(demands(r)) == 0 {
			return true
		}
		v, _ := m.judge.line(look, r, 0)
		return v != wrong
	}
	a.match()
}

// noteJudge says how kinds of line were told apart.
func (m *marking) noteJudge() {
	j := m.judge
	if j.dashes != byLineType {
		m.doubt("The file has no dashed or dotted lines at the views: they were told by %v.", j.dashes)
	}
	if j.mixed {
		m.notef("Wide and narrow lines were told by %v.", j.widths)
	}
}

// add reports a finding at points of a view.
func (m *marking) add(view int, f Finding, ps []point, expected [][]point) {
	v := &m.views[view]
	var at []point
	for _, p := range ps {
		at = append(at, v.place.Point(p))
	}
	box := bounds(at)
	f.At = box.Mid()
	f.Radius = min(max(math.Hypot(box.Dx(), box.Dy())/2+2*m.res.unit, 4*m.res.unit), 14*m.res.unit)
	if len(ps) > 0 && len(at) > 1 && f.Radius >= 14*m.res.unit && f.Kind != Exchanged { // a long line: its middle
		f.At, f.Radius = v.place.Point(middle(ps)), 6*m.res.unit
	}
	for _, e := range expected {
		var c []point
		for _, p := range e {
			c = append(c, v.place.Point(p))
		}
		f.Expected = append(f.Expected, c)
	}
	f.Figure, f.View = m.figures[v.fig].Name, v.model.name
	m.append(f)
}

// middle returns the point half way along a chain.
func middle(ps []point) point {
	half := lengthOf(ps) / 2
	for i := 1; i < len(ps); i++ {
		l := ps[i].Sub(ps[i-1]).Len()
		if half <= l && l > 0 {
			return ps[i-1].Add(ps[i].Sub(ps[i-1]).Mul(half / l))
		}
		half -= l
	}
	return ps[len(ps)/2]
}

// addAt reports a finding at a point of the submission.
func (m *marking) addAt(view int, f Finding, at point, expected [][]point) {
	v := &m.views[view]
	f.At, f.Radius, f.Expected = at, 5*m.res.unit, expected
	f.Figure, f.View = m.figures[v.fig].Name, v.model.name
	m.append(f)
}

func (m *marking) append(f Finding) {
	if f.Advice == "" {
		f.Advice = kinds()[f.Kind].advice
	}
	f.part, f.Amount = kinds()[f.Kind].part, tidy(f.Amount)
	m.res.Findings = append(m.res.Findings, f)
}

// finish numbers the findings and works out the points.
func (m *marking) finish() {
	fs := m.res.Findings
	slices.SortStableFunc(fs, func(a, b Finding) int { return int(a.part) - int(b.part) })
	for i := range fs {
		fs[i].Number = i + 1
	}
	m.res.Parts, m.res.Points = m.opt.Scheme.score(fs)
	m.res.sub = m.sub
}
