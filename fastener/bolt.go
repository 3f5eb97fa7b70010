package fastener

import (
	"boltplate/drawing"
	"boltplate/thread"
	"math"
)

// A bolt is what bolts with a prismatic head come down to once their sizes are
// settled: everything that their views and quantities need.
type bolt struct {
	kind   string
	z      sizer // its sizes
	place  int   // of the thread's length among them
	widths widths
	head   drawing.Quantity // thickness
	neck   neck
	length drawing.Quantity
	thread threading
	shank  shank
	// tapped says that the part is screwed into a tapped hole and carries no nut.
	tapped bool
	// form is the head of a bolt whose views are made from solids. Such a bolt
	// has no widths and no head.
	form *form
	fits Fit    // as far as the kind says it
	end  string // of the thread, in words
	// groove is the undercut of the thread, in words.
	groove string
}

// A form is a head that is made of solids, with what stands under it.
type form struct {
	end   float64 // where the head ends on the axis: x of its outer end
	start float64 // where the round shank starts
	flush bool    // the length is that of the whole bolt, from the face that ends flush
	// plain is how far from x = 0 the shank must be without thread, and
	// plainLetter the letter of that quantity; 0 means from start on.
	plain       float64
	plainLetter string
	// build adds the head's solids and lines; the thread of the shank it does
	// not add.
	build func(l look, m *model)
	// run, where it is not nil, is the room for the run-out of another thread than
	// that of the shank.
	run *float64
	// datum is as in a figure.
	datum float64
	views []drawing.Direction // nil means all
	// least is how thick what is clamped must be at least, for what stands
	// under the head; standing says what that is, where it is something else.
	least    float64
	standing string
	// section returns the local section of the head; nil where it has none.
	section func(st drawing.Style, s shank) *cutaway
	// origin is where the length is measured from: a point of the drawn head
	// in either elevation.
	origin drawing.Point
	// originOf takes the place of origin where it is not nil.
	originOf func(drawing.Direction, drawing.Style) drawing.Point
	// above says that the front view gives the lengths above the bolt, where
	// its head reaches; origin is that of the view upside down.
	above bool
	// hiddenIn are views that show hidden edges even where the options do not
	// ask for them.
	hiddenIn []drawing.Direction
	// annotate adds the dimensions and centre lines of the head; rank is that
	// of the dimensions that this elevation shares with the other one.
	annotate func(b *builder, dir drawing.Direction, rank drawing.Rank)
}

// A bolted part can carry a washer and a nut.
type boltedPart interface {
	Fastener
	resolve() (*bolt, error)
}

// newBolt returns a bolt whose diameter and pitch are known. word is what tells
// the variant of the kind from others in rules of one's own.
func newBolt(kind, word string, e Extra, t thread.Thread) *bolt {
	b := &bolt{kind: kind, end: e.End, groove: e.Undercut, z: newSizer(kind, word, e.Rules, t), shank: shank{t: t}}
	b.z.pitch(t)
	return b
}

const underHead = "the length under the head"

// begin checks the length, which what says in words, and keeps a place for that
// of the thread. A length that ISO 888 does not list passes with a note.
func (b *bolt) begin(length float64, basis Basis, what string) error {
	if err := checkLength(b.kind, "length", length, what); err != nil {
		return err
	}
	b.stateLength(sizeLength, length, basis)
	b.place = b.z.hold(sizeThread)
	return nil
}

func (b *bolt) stateLength(s *size, length float64, basis Basis) {
	l := b.z.given(s, length)
	if _, _, listed := thread.LengthStatus(length); basis == Standard && !listed {
		l.source = unlistedLength
	}
	b.length = l.quantity()
}

const unlistedLength = asDescribed + "; not among the lengths of " + thread.SourceLengths + " that are held here"

func (b *bolt) prism() prism { return b.widths.prism(0, -b.head.Value) }

func (b *bolt) quantities() []drawing.Quantity { return quantitiesOf(b.z.list) }

// view draws the bolt, and what is on it where on is not nil.
func (b *bolt) view(dir drawing.Direction, opt Options, on *clamped) (drawing.View, error) {
	g := b.figure(opt.Style, on)
	v, err := g.view(dir, opt, on.figures(b)...)
	if err == nil && opt.Break && (dir == drawing.Front || dir == drawing.SideView) {
		if from, to, ok := b.breakAt(on, opt.Style); ok {
			v = broken(v, from+g.datum, to+g.datum, b.shank.t.D/2, opt.Style)
		}
	}
	return v, err
}

// figure returns the bolt as solids; its views say what is on it as well.
func (b *bolt) figure(st drawing.Style, on *clamped) *figure {
	g := &figure{kind: b.kind, to: b.shank.end, eighth: b.widths.n == 4 && on.square()}
	g.annotate = func(d *builder, dir drawing.Direction) { b.annotate(d, dir, on) }
	g.build = b.build
	g.pictorial = func(d *builder) { b.dimensionPictorial(d, g.from, on) }
	if f := b.form; f != nil {
		g.from, g.datum, g.views, g.hiddenIn = f.end, f.datum, f.views, f.hiddenIn
		if f.section != nil {
			g.section = func(st drawing.Style) []*cutaway { return []*cutaway{f.section(st, b.shank)} }
		}
	} else {
		g.from = b.prism().x1
	}
	if b.shank.tip.form == endCup && on == nil {
		head := g.section
		g.section = func(st drawing.Style) (out []*cutaway) {
			if head != nil {
				out = head(st)
			}
			return append(out, b.shank.cupSection(st))
		}
	}
	return g
}

func (b *bolt) build(l look, m *model) {
	if b.form != nil {
		b.form.build(l, m)
	} else {
		m.add(b.prism().solid(l))
		b.neck.build(l, m, true)
	}
	m.shank(l, b.shank)
}

// elevationDimensions gives the sizes of a bolt with a prismatic head.
func (b *bolt) elevationDimensions(d *builder, on *clamped) {
	p := b.prism()
	corners := d.onCorner(p.n)
	under := p.bearing(corners)
	rank := drawing.Rank(0)
	if d.dir != drawing.Front {
		rank = 1
	}
	d.linear(drawing.Below, rank, label(b.head), p.x1, -p.flats/2, 0, -under)
	b.shankDimensions(d, rank, drawing.Pt(0, -under), on)
	b.widths.dimensionsAlong(d, p, corners, drawing.Left)
	b.neck.dimensions(d, corners, under, rank)
	on.dimensions(d, under, rank)
}

// shankDimensions gives the length, from origin, and the thread.
func (b *bolt) shankDimensions(d *builder, rank drawing.Rank, origin drawing.Point, on *clamped) {
	s := b.shank
	r, root := s.t.D/2, DrawnRoot(s.t, d.opt.Style)
	if on.capped(b) { // nothing of the end is seen to measure to
		return
	}
	tip := math.Min(s.endRadius(d.opt.Style), root)
	d.linear(drawing.Below, rank, label(b.length), origin.X, origin.Y, s.end, -tip)
	if c := on.covered(); s.limit < c.from || s.limit > c.to { // else nothing is seen to measure to
		l := label(b.thread.length)
		l.Reference = b.thread.toHead // follows from the length and the pitch
		d.linear(drawing.Below, rank, l, s.limit, -r, s.end, -tip)
	}
	d.linear(drawing.Right, rank, threadLabel(s.t), s.end-s.tipFrom(d.opt.Style), -r, s.end-s.tipFrom(d.opt.Style), r)
	if !d.opt.Simplified {
		s.tipDimensions(d, rank)
	}
	b.pointChamfer(d, rank)
	s.cut.dimensions(d, s, rank)
}

// pointChamfer says the chamfer of the point, where it is drawn to its size.
func (b *bolt) pointChamfer(d *builder, rank drawing.Rank) {
	if l := d.opt.Style.Labels; b.shank.tip.form != "" || d.opt.Simplified || l == drawing.Rules || l == drawing.Letters {
		return // a rule of the thread, not of the part
	}
	t := b.shank.t
	q, root := b.z.find(sizePoint.letter), DrawnRoot(t, d.opt.Style)
	if math.Abs(t.D/2-root-q.Value) > 0.005 {
		return // drawn deeper, so that the lines of the thread stay apart
	}
	l := label(q)
	l.Number = drawing.FormatValue(q.Value, d.opt.Style.DecimalComma) + " × 45°"
	d.add(drawing.RoleDimension, drawing.Leader{Label: l, Rank: rank,
		Tip: drawing.Pt(b.shank.end-q.Value/2, t.D/2-q.Value/2), Angle: 60})
}

// annotate adds what a view says of the bolt and of what is on it.
func (b *bolt) annotate(d *builder, dir drawing.Direction, on *clamped) {
	along := dir == drawing.Front || dir == drawing.SideView
	if on != nil && on.nut.form != nil && on.nut.form.annotate != nil {
		on.nut.form.annotate(d, dir, on.seat(), on)
	}
	switch {
	case b.form != nil:
		b.annotateForm(d, dir, on)
	case along:
		b.elevationDimensions(d, on)
	default:
		rank := drawing.Rank(0)
		if dir == drawing.PointEnd {
			rank = 2
		}
		if on == nil || d.seen(b.prism().corner(d.onCorner(b.widths.n))) { // a wide washer covers the head
			b.widths.dimensionsAcross(d, b.prism(), d.onCorner(b.widths.n), rank)
		}
		on.endDimensions(d)
	}
	if dir == drawing.PointEnd && !on.capped(b) {
		d.endLabel(b.shank.t, true, 4)
	}
}

func (b *bolt) annotateForm(d *builder, dir drawing.Direction, on *clamped) {
	rank := drawing.Rank(0)
	if dir == drawing.SideView {
		rank = 1
	}
	if dir == drawing.Front || dir == drawing.SideView {
		origin := b.form.origin
		if b.form.originOf != nil {
			origin = b.form.originOf(dir, d.opt.Style)
		}
		d.flipped = b.form.above && dir == drawing.Front
		b.shankDimensions(d, rank, origin, on)
		on.dimensions(d, -origin.Y, rank)
		d.flipped = false
	} else {
		on.endDimensions(d)
	}
	if b.form.annotate != nil {
		b.form.annotate(d, dir, rank)
	}
}
