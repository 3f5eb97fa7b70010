package fastener

import (
	"math"

	"boltplate/drawing"
	"boltplate/internal/solid"
	"boltplate/thread"
)

// The undercuts of threads that reach to the head (DIN 76-1).
const (
	undercutRegular = "regular"
	undercutShort   = "short"
)

func undercutWords() []string { return []string{undercutRegular, undercutShort} }

func optUndercut() Option { return choice("undercut", undercutWords()...) }

// Columns of DIN 76-1.
var (
	columnUndercutDiameter = column("dg", "undercut diameter", thread.SourceUndercuts)
	columnUndercutWidth    = column("g2", "undercut width", thread.SourceUndercuts)
	columnUndercutRadius   = column("Ru", "undercut radius", thread.SourceUndercuts)
	undercutFloor          = follows("g1", "width of the undercut's floor", "g2 - (D - dg)/2 / tan 30°", "the slope of 30 degrees up to the thread")
	undercutToHead         = follows("b", sizeThread.name, "L - g2", "the length: threaded as far as the undercut")
)

// An undercut is the groove between a thread and the head; the zero undercut is none.
type undercut struct{ diameter, width, floor, radius drawing.Quantity }

func (u undercut) present() bool { return u.width.Value > 0 }

// bottom returns the radius at which the bottom is drawn: its own, or where the root
// of the thread is drawn further in, that.
func (u undercut) bottom(t thread.Thread, st drawing.Style) float64 {
	return math.Min(u.diameter.Value/2, DrawnRoot(t, st))
}

// reaches returns how far the root line goes into the slope up to the thread.
func (u undercut) reaches(t thread.Thread, st drawing.Style) float64 {
	r := t.D / 2
	return (r - DrawnRoot(t, st)) / (r - u.bottom(t, st)) * (u.width.Value - u.floor.Value)
}

// setUndercut settles the undercut that was asked for; it says whether there is one.
func (b *bolt) setUndercut() (bool, error) {
	if b.groove == "" {
		return false, nil
	}
	if !is(b.groove, undercutRegular) && !is(b.groove, undercutShort) {
		return false, &FieldError{b.kind, "undercut", b.groove, "no such undercut; use regular or short"}
	}
	t := b.shank.t
	short := is(b.groove, undercutShort)
	d := t.Undercut(short)
	from := d.Source
	switch {
	case from != thread.SourceUndercuts: // the rules, for a pitch that is not in the table
	case short:
		from += ", form B"
	default:
		from += ", form A"
	}
	add := func(s *size, v float64) drawing.Quantity {
		l := b.z.tabled(s, v, d.Status)
		l.source = from
		return l.quantity()
	}
	u := undercut{diameter: add(columnUndercutDiameter, d.Diameter), width: add(columnUndercutWidth, d.Width),
		radius: add(columnUndercutRadius, d.Radius)}
	b.z.list = append(b.z.list, undercutFloor.unsettled())
	if err := b.z.solve(); err != nil {
		return false, err
	}
	u.floor = b.z.size(undercutFloor.letter)
	b.shank.cut = u
	return true, nil
}

// undercutSolids adds the groove in front of the thread, which begins at limit: its
// bottom, the slope up to the thread, and the radius at the shoulder. Seen along the axis
// the bottom would lie on the root of the thread; it is left out, as a point's chamfer.
func (m *model) undercutSolids(l look, s shank) {
	r, low := s.t.D/2, s.cut.bottom(s.t, l.style)
	foot := s.start + s.cut.floor.Value
	m.add(solid.Cylinder(solid.X(), low, s.start, foot).Mark(solid.NotAlong, solid.At(s.start)).Mark(solid.NotAlong, solid.At(foot)),
		solid.Cone(solid.X(), foot, low, s.limit, r).Mark(solid.NotAlong, solid.At(foot)))
	if rad := s.cut.radius.Value; rad < foot-s.start && (l.along() || l.pictorial()) {
		at := s.start + rad
		m.add(solid.Cylinder(solid.X(), low+rad, s.start, at).Bare().
			Less(solid.Torus(solid.V(at, 0, 0), solid.V(1, 0, 0), low+rad, rad)))
	}
}

// dimensions gives the sizes of the groove in an elevation.
func (u undercut) dimensions(d *builder, s shank, rank drawing.Rank) {
	if !u.present() || d.opt.Simplified {
		return
	}
	r, low := s.t.D/2, u.bottom(s.t, d.opt.Style)
	foot := s.start + u.floor.Value
	d.linear(drawing.Above, rank, label(u.floor), s.start, low, foot, low)
	d.linear(drawing.Above, rank, label(u.width), s.start, r, s.limit, r)
	d.add(drawing.RoleDimension, drawing.Leader{Label: diameterLabel(u.diameter), Rank: rank,
		Tip: drawing.Pt((s.start+u.radius.Value+foot)/2, low), Angle: 45})
	turn := u.radius.Value * (1 - math.Sqrt2/2)
	d.add(drawing.RoleDimension, drawing.Leader{Label: drawing.Label{Quantity: u.radius, Symbol: drawing.RadiusSymbol}, Rank: rank,
		Tip: drawing.Pt(s.start+turn, low+turn), Angle: 60})
}
