package fastener

import (
	"math"
	"slices"
	"strings"

	"boltplate/drawing"
)

// A Step is a step of drawing a fastener by hand: what the board shows after it.
type Step struct {
	// Title names what is drawn, such as "Head".
	Title string
	// Text says in the imperative what to do, with the rules worked out: "Draw the
	// circle ...: W = 1.5D + 3 = 1.5 × 20 + 3 = 33 mm."
	Text string
	// Drawing has what is there already in narrow lines, what is new in its own
	// lines, and in RoleConstruction what it is set out by. Its views stand as
	// those of Draw do. Of the last step it is the drawing that Draw makes.
	Drawing *drawing.Drawing
	New     int // how many items are new, construction lines not counted
}

// Steps returns how the drawing that Draw makes is drawn by hand, in the order
// of the drawing board: axes, the view that shows the true shape, head, neck,
// shank, thread and point, then washer and nut from their seat outwards, curves
// after straight lines, hidden edges, sections, dimensions. Order and methods
// are common practice; textbooks differ. The error is that of Draw.
func Steps(f Fastener, opt DrawOptions) ([]Step, error) {
	opt.Construction = false
	d, err := Draw(f, opt)
	if err != nil {
		return nil, err
	}
	qs, err := f.Quantities()
	if err != nil {
		return nil, err
	}
	p := planOf(f, d)
	var out []Step
	for s := range stageCount {
		if s != stageFinish && p.count(s) == 0 {
			continue
		}
		out = append(out, Step{Title: p.title(s), Text: p.text(s, qs), Drawing: p.drawing(s), New: p.count(s)})
	}
	return out, nil
}

// addConstruction adds to a drawing what it is set out by.
func addConstruction(f Fastener, d *drawing.Drawing) {
	p := planOf(f, d)
	for i := range d.Views {
		v := &d.Views[i].View
		v.Items = slices.Clip(v.Items)
		for s := range stageCount {
			v.Items = append(v.Items, p.construction(s, i)...)
		}
	}
	for s := range stageCount {
		d.Items = append(slices.Clip(d.Items), p.projections(s)...)
	}
}

// A stage is what is drawn in one go, in the order of the work.
type stage uint8

const (
	stageAxes stage = iota
	stageShape
	stageHead
	stageHeadCurves
	stageNeck
	stageShank
	stageThread
	stagePoint
	stageWasher
	stageNutShape
	stageNut
	stageNutCurves
	stageHidden
	stageSection
	stagePictorial
	stageFinish
	stageCount
)

// A region is a stretch of the axis in which one stage draws, in the
// coordinates of the views.
type region struct {
	stage    stage
	from, to float64
}

// A plan says which stage draws each item of a drawing.
type plan struct {
	d       *drawing.Drawing
	regions []region
	bolt    bool             // there is a shank
	head    string           // what stands before the shank: "head", "metal end"
	nut     bool             // there is a nut, on a bolt or alone
	radius  float64          // of the thread
	washer  float64          // radius of the washer, 0 without one
	limit   float64          // of the thread
	root    float64          // half the width between the root lines
	items   [][]drawing.Item // of each view, cut where stages meet
	of      [][]stage        // of each of them

	tip    string // the end of the thread, where it is no chamfer
	groove bool   // there is an undercut before the thread

	how, howNut map[stage]string // words of the kinds of head and nut
}

// howOf returns the words of a kind; nil for none.
func howOf(f Fastener) map[stage]string {
	if f == nil {
		return nil
	}
	k, err := kindNamed(f.Kind())
	if err != nil {
		return nil
	}
	return k.how
}

func planOf(f Fastener, d *drawing.Drawing) *plan {
	p := &plan{d: d, how: howOf(f), howNut: howOf(f)}
	switch f := f.(type) {
	case Bolted:
		p.how, p.howNut = howOf(f.Bolt), howOf(f.Nut)
		if b, c, err := f.resolve(); err == nil {
			p.boltRegions(b, d.Style)
			at := p.datum(b)
			if c.washer != nil {
				p.add(stageWasher, c.grip.Value+at, c.seat()+at)
				p.washer = c.washer.outside.Value / 2
			}
			p.add(stageNut, c.seat()+at, c.seat()+c.nut.height.Value+at)
			p.nut = true
		}
	case boltedPart:
		if b, err := f.resolve(); err == nil {
			p.boltRegions(b, d.Style)
		}
	case EyeBolt:
		if b, err := f.settled(); err == nil {
			p.boltRegions(b, d.Style)
		}
	default:
		p.nut = true
	}
	p.items, p.of = make([][]drawing.Item, len(d.Views)), make([][]stage, len(d.Views))
	for i := range d.Views {
		v := &d.Views[i].View
		for _, it := range v.Items {
			for _, piece := range p.cut(v, it) {
				p.items[i] = append(p.items[i], piece)
				p.of[i] = append(p.of[i], p.stageOf(v, piece))
			}
		}
	}
	return p
}

// cut divides a line along the axis where the head or the neck ends: what looks
// like one line is the edge of two.
func (p *plan) cut(v *drawing.View, it drawing.Item) []drawing.Item {
	l, ok := it.Shape.(drawing.Line)
	if !ok || v.Direction != drawing.Front && v.Direction != drawing.SideView ||
		math.Abs(l.From.Y-l.To.Y) > same ||
		it.Role != drawing.RoleOutline && it.Role != drawing.RoleThin {
		return []drawing.Item{it}
	}
	for _, r := range p.regions {
		if r.stage != stageHead && r.stage != stageNeck {
			continue
		}
		a, b := min(l.From.X, l.To.X), max(l.From.X, l.To.X)
		if a < r.to-same && b > r.to+same {
			mid := drawing.Pt(r.to, l.From.Y)
			first, second := it, it
			first.Shape, second.Shape = drawing.Line{From: l.From, To: mid}, drawing.Line{From: mid, To: l.To}
			return append(p.cut(v, first), p.cut(v, second)...)
		}
	}
	return []drawing.Item{it}
}

func (p *plan) add(s stage, from, to float64) {
	if to > from {
		p.regions = append(p.regions, region{s, from, to})
	}
}

func (p *plan) datum(b *bolt) float64 {
	if b.form != nil {
		return b.form.datum
	}
	return 0
}

// headWords names what stands before the shank of kinds that have no head.
var headWords = map[string]string{"stud": "metal end", "taper-bolt": "taper", "eye-bolt": "eye",
	"hook-bolt": "hook"}

func (p *plan) boltRegions(b *bolt, st drawing.Style) {
	p.bolt, p.radius, p.head = true, b.shank.t.D/2, "head"
	if word, ok := headWords[b.kind]; ok {
		p.head = word
	}
	at, s := p.datum(b), b.shank
	head := 0.0
	if b.form == nil {
		head = b.prism().x1
		p.add(stageHead, head+at, at)
		p.add(stageNeck, at, s.start+at)
	} else {
		p.add(stageHead, math.Min(b.form.end, 0)+at, math.Max(s.start, 0)+at)
	}
	p.root, p.tip, p.groove = DrawnRoot(s.t, st), s.tip.form, s.cut.present()
	p.limit = s.limit + at
	point := s.full(st) - (p.radius - p.root)
	p.add(stageShank, s.start+at, s.limit+at)
	p.add(stageThread, s.limit+at, point+at)
	p.add(stagePoint, point+at, s.end+at)
}

// stageOf returns the stage that draws an item of a view.
func (p *plan) stageOf(v *drawing.View, it drawing.Item) stage {
	switch it.Role {
	case drawing.RoleCentre:
		return stageAxes
	case drawing.RoleHatching, drawing.RoleCutting:
		return stageSection
	case drawing.RoleHidden:
		return stageHidden
	case drawing.RoleOutline, drawing.RoleThin:
	default:
		return stageFinish
	}
	switch v.Direction {
	case drawing.Isometric:
		return stagePictorial
	case drawing.HeadEnd, drawing.PointEnd:
		return p.endStage(v.Direction, it)
	}
	box := extentOf(it.Shape)
	if !p.bolt {
		if isCurve(it.Shape) {
			return stageHeadCurves
		}
		return stageHead
	}
	s := p.along(box)
	switch {
	case it.Role == drawing.RoleThin && (s == stageShank || s == stagePoint || s == stageHead) &&
		box.Max.X > p.limit-same:
		return stageThread // a root, or the run-out, which reaches into the shank
	case it.Role == drawing.RoleThin && s == stageShank && box.Max.X > p.limit-same:
		return stageThread
	case s == stageHead && isCurve(it.Shape):
		return stageHeadCurves
	case s == stageNut && isCurve(it.Shape):
		return stageNutCurves
	}
	return s
}

// along returns the stage of what stands at a stretch of the axis.
func (p *plan) along(box drawing.Rect) stage {
	if box.Dx() < same && math.Abs(box.Mid().X-p.limit) < same {
		return stageThread
	}
	best, short := stageShank, math.Inf(1)
	for _, r := range p.regions {
		if box.Min.X > r.from-same && box.Max.X < r.to+same && r.to-r.from < short-same {
			best, short = r.stage, r.to-r.from
		}
	}
	if !math.IsInf(short, 1) {
		// The bearing face of a head is its own, and so is the seat of a nut where
		// there is no washer.
		if box.Dx() < same && best != stageWasher {
			for _, r := range p.regions {
				if (r.stage == stageHead || r.stage == stageNut) &&
					(math.Abs(box.Mid().X-r.to) < same || math.Abs(box.Mid().X-r.from) < same) {
					return r.stage
				}
			}
		}
		return best
	}
	// It runs through several: the first of them draws it.
	from := math.Inf(1)
	for _, r := range p.regions {
		if r.from < box.Max.X-same && r.to > box.Min.X+same && r.from < from {
			best, from = r.stage, r.from
		}
	}
	return best
}

// endStage returns the stage of what is seen along the axis.
func (p *plan) endStage(dir drawing.Direction, it drawing.Item) stage {
	if c, r, ok := circleAt(it.Shape); ok && c.Len() < same {
		switch {
		case p.bolt && (it.Role == drawing.RoleThin || r < p.radius+same):
			return stageThread
		case p.washer > 0 && math.Abs(r-p.washer) < same:
			return stageWasher
		}
	}
	if p.bolt && p.nut && dir == drawing.PointEnd {
		return stageNutShape
	}
	return stageShape
}

// circleAt returns the centre and the radius of a circle or an arc.
func circleAt(s drawing.Shape) (c drawing.Point, r float64, ok bool) {
	switch s := s.(type) {
	case drawing.Circle:
		return s.Center, s.Radius, true
	case drawing.Arc:
		return s.Center, s.Radius, true
	}
	return c, 0, false
}

// isCurve reports whether a shape is bent.
func isCurve(s drawing.Shape) bool {
	switch s := s.(type) {
	case drawing.Line:
		return false
	case drawing.Polyline:
		return slices.ContainsFunc(s.Vertices, func(v drawing.Vertex) bool { return v.Bulge != 0 })
	}
	return true
}

func extentOf(s drawing.Shape) drawing.Rect {
	d := drawing.Drawing{Items: []drawing.Item{{Role: drawing.RoleOutline, Shape: s}}}
	return d.Bounds()
}

// count returns how many items a stage draws.
func (p *plan) count(s stage) (n int) {
	for _, of := range p.of {
		for _, o := range of {
			if o == s {
				n++
			}
		}
	}
	if s == stageFinish {
		n += len(p.d.Items)
	}
	return n
}

// drawing returns what the board shows after a stage.
func (p *plan) drawing(s stage) *drawing.Drawing {
	if s == stageFinish {
		return p.d
	}
	d := &drawing.Drawing{Style: p.d.Style, Views: slices.Clone(p.d.Views)}
	for i := range d.Views {
		v := &d.Views[i].View
		var items []drawing.Item
		for k, it := range p.items[i] {
			switch o := p.of[i][k]; {
			case o > s || o == stageFinish:
				continue
			case o < s && it.Role.Wide():
				it.Role = drawing.RoleThin
			}
			items = append(items, it)
		}
		v.Items = append(items, p.construction(s, i)...)
		d.Views[i].Block = ""
	}
	d.Views = slices.DeleteFunc(d.Views, func(v drawing.Placed) bool { return len(v.View.Items) == 0 })
	d.Items = p.projections(s)
	return d
}

// construct returns a construction line.
func construct(s drawing.Shape) drawing.Item {
	return drawing.Item{Role: drawing.RoleConstruction, Shape: s}
}

// construction returns what a stage sets its lines out by in one view: of a
// polygon the circle through its corners, of arcs their centres and a radius.
func (p *plan) construction(s stage, view int) (out []drawing.Item) {
	v := &p.d.Views[view].View
	if v.Direction == drawing.Isometric {
		return nil
	}
	tick := p.d.Style.Part(1.5)
	mark := func(c drawing.Point) {
		out = append(out, construct(drawing.Line{From: c.Sub(drawing.Pt(tick, 0)), To: c.Add(drawing.Pt(tick, 0))}),
			construct(drawing.Line{From: c.Sub(drawing.Pt(0, tick)), To: c.Add(drawing.Pt(0, tick))}))
	}
	if (s == stageShape || s == stageNutShape) && (v.Direction == drawing.HeadEnd ||
		v.Direction == drawing.PointEnd) {
		if r := p.cornerRadius(view, s); r > 0 {
			out = append(out, construct(drawing.Circle{Radius: r}))
		}
		return out
	}
	out = append(out, p.chamferLines(s, view)...)
	box := v.Outline()
	size := math.Hypot(box.Max.X-box.Min.X, box.Max.Y-box.Min.Y)
	seen := map[drawing.Point]bool{}
	for k, it := range p.items[view] {
		a, ok := it.Shape.(drawing.Arc)
		if !ok || p.of[view][k] != s || s == stageThread || it.Role != drawing.RoleOutline || a.Radius > 1.5*size {
			continue // of an arc that is all but straight nobody finds the centre
		}
		if !seen[a.Center] {
			seen[a.Center] = true
			mark(a.Center)
		}
		mid := a.Start + sweepOf(a)/2
		out = append(out, construct(drawing.Line{From: a.Center, To: a.Center.Add(drawing.Polar(a.Radius, mid))}))
	}
	return out
}

// chamferLines returns what the arcs of a chamfer are set out by in the elevation
// that shows the most faces: the chamfer drawn on beyond the outermost edges, and
// across from there the level of all corners.
func (p *plan) chamferLines(s stage, view int) (out []drawing.Item) {
	base := map[stage]stage{stageHeadCurves: stageHead, stageNutCurves: stageNut}
	from, ok := base[s]
	if !ok || p.count(s) == 0 {
		return nil
	}
	on := p.d.Style.Part(4)
	var level []drawing.Point
	for k, it := range p.items[view] {
		l, ok := it.Shape.(drawing.Line)
		if !ok || p.of[view][k] != from || it.Role != drawing.RoleOutline {
			continue
		}
		d := l.To.Sub(l.From)
		if math.Abs(math.Abs(d.Y)-math.Abs(d.X)*math.Sqrt(3)) > 1e-6 || d.Len() < 1e-6 {
			continue // not at 30 degrees to the end face
		}
		a, b := l.From, l.To // from the face to the edge
		if math.Abs(a.Y) > math.Abs(b.Y) {
			a, b = b, a
		}
		u := b.Sub(a).Mul(1 / d.Len())
		out = append(out, construct(drawing.Line{From: a, To: b.Add(u.Mul(on))}))
		level = append(level, b)
	}
	for i, q := range level {
		for _, r := range level[:i] {
			if math.Abs(q.X-r.X) < 1e-6 && q.Y*r.Y < 0 {
				out = append(out, construct(drawing.Line{From: q, To: r}))
			}
		}
	}
	return out
}

func sweepOf(a drawing.Arc) float64 {
	s := math.Mod(a.End-a.Start, 360)
	if s <= 0 {
		s += 360
	}
	return s
}

// corners returns the corners of the polygon that a stage draws in an end view.
func (p *plan) corners(view int, s stage) (out []drawing.Point) {
	for k, it := range p.items[view] {
		l, ok := it.Shape.(drawing.Line)
		if !ok || p.of[view][k] != s || it.Role != drawing.RoleOutline {
			continue
		}
		for _, q := range [2]drawing.Point{l.From, l.To} {
			if !slices.ContainsFunc(out, func(o drawing.Point) bool { return o.Sub(q).Len() < 1e-4 }) {
				out = append(out, q)
			}
		}
	}
	return out
}

// cornerRadius returns the radius of the circle through the corners of a regular
// polygon, or 0 where there is none.
func (p *plan) cornerRadius(view int, s stage) float64 {
	r, n := 0.0, 0
	for _, c := range p.corners(view, s) {
		switch l := c.Len(); {
		case l > r+1e-4:
			r, n = l, 1
		case l > r-1e-4:
			n++
		}
	}
	side := map[int]float64{4: math.Sqrt2, 6: 1}[n] * r
	if side == 0 {
		return 0
	}
	for _, c := range p.corners(view, s) {
		nearest := math.Inf(1)
		for _, o := range p.corners(view, s) {
			if l := o.Sub(c).Len(); l > 1e-4 && c.Len() > r-1e-4 && o.Len() > r-1e-4 {
				nearest = min(nearest, l)
			}
		}
		if c.Len() > r-1e-4 && math.Abs(nearest-side) > 1e-3 {
			return 0 // a rectangle, say
		}
	}
	return r
}

// projections returns the lines by which a stage carries corners from the view
// that shows them to the others.
func (p *plan) projections(s stage) (out []drawing.Item) {
	from := map[stage]stage{stageHead: stageShape, stageNut: stageNutShape}
	shape, ok := from[s]
	if !ok {
		return nil
	}
	var levels []float64 // of corners that the elevation has
	for i := range p.d.Views {
		end := &p.d.Views[i]
		if end.View.Direction != drawing.HeadEnd && end.View.Direction != drawing.PointEnd ||
			end.Turn != 0 || end.Mirror {
			continue
		}
		for k := range p.d.Views {
			side := &p.d.Views[k]
			if side.View.Direction != drawing.Front || math.Abs(side.At.Y-end.At.Y) > same {
				continue
			}
			for _, c := range p.corners(i, shape) {
				y := c.Y
				if slices.ContainsFunc(levels, func(l float64) bool { return math.Abs(l-y) < 1e-4 }) {
					continue
				}
				x, ok := p.reaches(k, s, y, end.At.X > side.At.X)
				if !ok {
					continue
				}
				levels = append(levels, y)
				out = append(out, construct(drawing.Line{From: c.Add(end.At), To: drawing.Pt(x, y).Add(side.At)}))
			}
		}
	}
	return out
}

// reaches returns where an elevation has a corner of a stage at a level: the
// end nearest to a view on the right or on the left.
func (p *plan) reaches(view int, s stage, y float64, right bool) (x float64, ok bool) {
	for k, it := range p.items[view] {
		l, isLine := it.Shape.(drawing.Line)
		if !isLine || p.of[view][k] != s {
			continue
		}
		for _, q := range [2]drawing.Point{l.From, l.To} {
			if math.Abs(q.Y-y) < 1e-4 && (!ok || right && q.X > x || !right && q.X < x) {
				x, ok = q.X, true
			}
		}
	}
	return x, ok
}

// title names a stage.
func (p *plan) title(s stage) string {
	titles := [stageCount]string{"Axes", "True shape", "Head", "Curves of the head", "Neck", "Shank", "Thread",
		"Point", "Washer", "True shape of the nut", "Nut",
		"Curves of the nut", "Hidden edges", "Section", "Pictorial view", "Lining in, and dimensions"}
	if !p.bolt && s == stageHead {
		return "Elevation"
	}
	if !p.bolt && s == stageHeadCurves {
		return "Curves"
	}
	if p.bolt && p.head != "head" {
		switch s {
		case stageHead:
			return strings.ToUpper(p.head[:1]) + p.head[1:]
		case stageHeadCurves:
			return "Curves of the " + p.head
		}
	}
	return titles[s]
}

// text says what to do in a stage.
func (p *plan) text(s stage, qs []drawing.Quantity) string {
	say := p.order(s)
	var sizes []string
	for _, q := range p.quantities(s, qs) {
		if w := working(q, qs); w != "" {
			sizes = append(sizes, w)
		}
	}
	if len(sizes) == 0 {
		return say + "."
	}
	return say + ": " + strings.Join(sizes, "; ") + "."
}

// order is the sentence of a stage, without its sizes.
func (p *plan) order(s stage) string {
	switch s {
	case stageNut, stageNutShape, stageNutCurves:
		alone := map[stage]stage{stageNut: stageHead, stageNutShape: stageShape, stageNutCurves: stageHeadCurves}
		if say := p.howNut[alone[s]]; say != "" {
			return say
		}
	default:
		if say := p.how[s]; say != "" {
			return say
		}
	}
	switch s {
	case stageAxes:
		return "Draw the axes of all views as narrow long-dashed dotted lines"
	case stageShape, stageNutShape:
		return p.shapeOrder(s)
	case stageHead:
		if p.count(stageShape) == 0 {
			return "Draw the straight lines of the " + strings.ToLower(p.title(s))
		}
		if !p.bolt {
			return "Project the elevation from the true shape and draw its straight lines"
		}
		return "Project the " + p.head + " to the elevation and draw its straight lines"
	case stageHeadCurves, stageNutCurves:
		if p.chamfered(s) {
			return "From the ends of the chamfer circle on the end face draw lines at 30° to the outermost edges: their level is that of all corners. Through the corners swing an arc in each face that touches the end face, its centre on the middle of the face"
		}
		return "Mark the centres of the arcs and draw the curves, from one straight line to the next"
	case stageNeck:
		return "Draw the neck under the head; where a flat face is seen, cross it with narrow diagonals"
	case stageShank:
		if p.groove {
			return "Draw the undercut under the head: its floor as far apart as its diameter, the radius at the head, and from the end of the floor lines at 30° as far as the nominal diameter"
		}
		return "Draw the shank, two wide lines as far apart as the nominal diameter"
	case stageThread:
		say := "Draw the limit of the thread wide across the shank, the roots narrow, and the run-out beyond the limit narrow"
		if p.groove {
			say = "Draw the crests of the thread wide, its limit wide where the undercut ends, and the roots narrow as far as the slope of the undercut"
		}
		if p.seenFromPoint() {
			say += "; seen along the axis the crest is a wide circle, and the root three quarters of a narrow one, open at the upper right"
		}
		return say
	case stagePoint:
		if p.tip != "" {
			return "Draw the " + endTitles[p.tip] + ", from the crest down at 45°"
		}
		return "Draw the chamfer of the point at 45°, as deep as the thread"
	case stageWasher:
		return "Draw the washer on its seat"
	case stageNut:
		return "Draw the nut from its seat outwards"
	case stageHidden:
		return "Draw the hidden edges as narrow dashed lines"
	case stageSection:
		return "Draw the edge of the section, and hatch the metal that is cut at 45° with narrow lines, up to the crests of a thread"
	case stagePictorial:
		return "Draw the pictorial view on axes at 30°: box the part, set its corners off along the axes, draw circles as ellipses, leave hidden edges out"
	}
	return "Line in the visible edges wide, clean construction lines away, and give the dimensions"
}

// chamfered reports whether the curves of a stage are those of a chamfer.
func (p *plan) chamfered(s stage) bool {
	for i := range p.d.Views {
		if len(p.chamferLines(s, i)) > 0 {
			return true
		}
	}
	return false
}

// shapeOrder is the sentence for the view that shows the true shape.
func (p *plan) shapeOrder(s stage) string {
	for i := range p.d.Views {
		dir := p.d.Views[i].View.Direction
		if dir != drawing.HeadEnd && dir != drawing.PointEnd {
			continue
		}
		corners := p.corners(i, s)
		if p.cornerRadius(i, s) == 0 {
			continue
		}
		upright := slices.ContainsFunc(corners, func(c drawing.Point) bool {
			return math.Abs(c.X) < 1e-4 &&
				math.Abs(c.Y) > 1
		})
		n := 0
		for _, c := range corners {
			if math.Abs(c.Len()-p.cornerRadius(i, s)) < 1e-4 {
				n++
			}
		}
		switch {
		case n == 6 && upright:
			return "Draw the chamfer circle about the axis and round it the hexagon, six tangents with the 30°/60° set square, two corners on the upright axis; its corners lie on the circle of the width across corners"
		case n == 6:
			return "Draw the chamfer circle about the axis and round it the hexagon, six tangents with the 30°/60° set square, two corners on the level axis; its corners lie on the circle of the width across corners"
		case upright:
			return "Draw the chamfer circle about the axis and round it the square, four tangents with the 45° set square; its corners lie on the circle of the width across corners"
		}
		return "Draw the chamfer circle about the axis and round it the square, four tangents with the tee square and a set square; its corners lie on the circle of the width across corners"
	}
	return "Draw the view that shows the true shape, circles first"
}

// seenFromPoint reports whether a view shows the thread along the axis.
func (p *plan) seenFromPoint() bool {
	for i := range p.d.Views {
		if d := p.d.Views[i].View.Direction; (d == drawing.HeadEnd || d == drawing.PointEnd) &&
			slices.Contains(p.of[i], stageThread) {
			return true
		}
	}
	return false
}

// besides are sizes that a stage needs though they have no dimension, or have it
// in a view that another stage draws.
var besides = [stageCount][]string{stageShape: {"A", "W", "Dc"}, stageHeadCurves: {"R", "R1"}, stageWasher: {"d2w"},
	stageNutShape: {"An", "Wn"}, stageThread: {"d3", "x"}, stagePoint: {"z"}}

// quantities returns the sizes that a stage needs and none before it has said:
// those of its dimensions, and some besides.
func (p *plan) quantities(s stage, qs []drawing.Quantity) (out []drawing.Quantity) {
	said := map[string]bool{}
	for before := range s + 1 {
		all := p.dimensioned(before)
		for _, letter := range besides[before] {
			if i := slices.IndexFunc(qs, func(q drawing.Quantity) bool { return q.Letter == letter }); i >= 0 &&
				p.count(before) > 0 {
				all = append(all, qs[i])
			}
		}
		for _, q := range all {
			if !said[q.Letter] && before == s {
				out = append(out, q)
			}
			said[q.Letter] = true
		}
	}
	return out
}

// dimensioned returns the sizes that the dimensions of what a stage draws give.
func (p *plan) dimensioned(s stage) (out []drawing.Quantity) {
	for i := range p.d.Views {
		v := &p.d.Views[i].View
		for _, it := range v.Items {
			label, box, ok := dimensionOf(it.Shape)
			if !ok || p.dimensionStage(v, box) != s {
				continue
			}
			if q := label.Quantity; q.Letter != "" && !slices.ContainsFunc(out,
				func(o drawing.Quantity) bool { return o.Letter == q.Letter }) {
				out = append(out, q)
			}
		}
	}
	return out
}

// dimensionOf returns the label of a dimension, and the extent of what it
// measures.
func dimensionOf(s drawing.Shape) (l drawing.Label, box drawing.Rect, ok bool) {
	between := func(a, b drawing.Point) drawing.Rect { return drawing.Rect{Min: a, Max: a}.Including(b) }
	switch s := s.(type) {
	case drawing.Linear:
		b := between(s.From, s.To)
		if s.Side == drawing.Left || s.Side == drawing.Right {
			b.Min.X, b.Max.X = s.From.X, s.From.X
		}
		return s.Label, b, true
	case drawing.Aligned:
		return s.Label, between(s.From, s.To), true
	case drawing.Diameter:
		return s.Label, between(s.Center, s.Center), true
	case drawing.Radius:
		return s.Label, between(s.Center, s.Center), true
	case drawing.Angular:
		return s.Label, between(s.Vertex, s.Vertex), true
	case drawing.Leader:
		return s.Label, between(s.Tip, s.Tip), true
	}
	return l, box, false
}

// dimensionStage returns the stage in which a size is needed.
func (p *plan) dimensionStage(v *drawing.View, box drawing.Rect) stage {
	switch {
	case v.Direction == drawing.PointEnd && p.bolt && p.nut:
		return stageNutShape
	case v.Direction == drawing.HeadEnd || v.Direction == drawing.PointEnd:
		return stageShape
	case !p.bolt:
		return stageHead
	case box.Dx() < same && box.Mid().X > p.limit && p.along(box) != stageNut && p.along(box) != stageWasher:
		return stageShank // the diameter, which is given at the point
	case box.Dx() > same && box.Max.X > p.limit+same && math.Abs(box.Min.X-p.limit) < same:
		return stageThread
	}
	return p.along(box)
}

// working returns a size with its name and its rule worked out: "head thickness
// T = 0.8D = 0.8 × 20 = 16 mm".
func working(q drawing.Quantity, qs []drawing.Quantity) string {
	if w := q.Working(qs, 2); w != "" {
		return q.Name + " " + w
	}
	unit := map[drawing.Unit]string{drawing.Millimetre: " mm", drawing.Degree: "°"}[q.Unit]
	return q.Name + " " + q.Letter + " = " + drawing.FormatValue(q.Value, false) + unit
}
