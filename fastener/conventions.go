package fastener

import (
	"math"

	"boltplate/drawing"
	"boltplate/internal/solid"
	"boltplate/thread"
)

// The end view of a thread leaves the upper right quadrant of the root circle
// open, its ends off the centre lines (ISO 6410-1).
const (
	rootArcStart = 100.0
	rootArcEnd   = 350.0
)

// runOutAngle is the angle of the run-out lines to the axis (common practice).
const runOutAngle = 30.0

// DrawnRoot returns the radius at which the root of an external thread is drawn
// in this style: its own, or further in where the two lines would stand nearer on
// paper than ISO 6410-1 allows. A thread too small for that on paper keeps a
// third of its radius.
func DrawnRoot(t thread.Thread, st drawing.Style) float64 {
	r := t.D / 2
	return math.Max(r-math.Max(t.Depth(), st.Part(st.ThreadGap())), r/3)
}

// boreRadius returns the radius at which the crest of an internal thread is
// drawn, by the same rule.
func boreRadius(t thread.Thread, st drawing.Style) float64 {
	r := t.D / 2
	return math.Max(r-math.Max(t.InternalDepth(), st.Part(st.ThreadGap())), r/3)
}

// threadSigns are what the convention draws of an external thread about the
// axis: from limit, where the usable thread ends towards the shank, to the end
// of the part, in either direction.
type threadSigns struct {
	t          thread.Thread
	limit, end float64
	// room is how far the run-out may reach from limit into the shank.
	room float64
	// into is how far the root goes on beyond limit, to the slope of an undercut.
	into float64
}

// thread adds the narrow lines of an external thread (ISO 6410-1): along the
// axis root and run-out, which are inside the shank, across it three quarters of
// the root circle, and in a pictorial view rings.
func (m *model) thread(l look, s threadSigns) {
	r, root := s.t.D/2, DrawnRoot(s.t, l.style)
	sign := math.Copysign(1, s.end-s.limit)
	switch {
	case l.along():
		at := func(x, y float64) solid.Vec { return solid.V(x, 0, 0).Add(l.frame.Up.Mul(y)) }
		run := math.Min((r-root)/math.Tan(runOutAngle*math.Pi/180), s.room)
		if l.plain {
			run = 0
		}
		for _, y := range [2]float64{1, -1} {
			m.mark(solid.Segment(at(s.limit-sign*s.into, y*root), at(s.end, y*root)).Marked(solid.Thin | solid.Within))
			if run > 1e-9 {
				h := root + run*math.Tan(runOutAngle*math.Pi/180)
				m.mark(solid.Segment(at(s.limit, y*root), at(s.limit-sign*run, y*h)).Marked(solid.Thin | solid.Within))
			}
		}
	case l.pictorial():
		length := math.Abs(s.end-s.limit) - (r - root)
		n := math.Floor(length / math.Max(s.t.P, l.style.Part(ringGap)))
		for i := 1.0; i < n; i++ {
			m.mark(solid.CircleAt(solid.V(s.limit+sign*length*i/n, 0, 0), solid.V(1, 0, 0), r).Marked(solid.Thin))
		}
	default:
		m.mark(solid.ArcAt(solid.V(s.end, 0, 0), l.frame.Right, l.frame.Up, root, rootArcStart,
			rootArcEnd).Marked(solid.Thin))
	}
}

// ringGap is the least distance along the axis, mm on paper, of the rings that
// stand for a thread in a pictorial view (common practice: one ring a pitch,
// fewer where they would close up).
const ringGap = 1.4

// A bore is an internal thread about the axis, open at both ends or, where
// blind is set, only at x0.
type bore struct {
	t      thread.Thread
	x0, x1 float64
	blind  bool
}

// hole returns the solid to take out of the part: as wide as the crests, or
// where a bolt fills it as wide as that, whose thread covers its own.
func (h bore) hole(l look, on *bolt) solid.Solid {
	r := h.t.D / 2
	if on == nil {
		r = boreRadius(h.t, l.style)
	}
	return solid.Cylinder(solid.X(), r, math.Min(h.x0, h.x1), math.Max(h.x0, h.x1))
}

// drilled returns the solids to take out for a blind hole: as wide as the
// crests, with the point that the drill leaves.
func (h bore) drilled(l look) []solid.Solid {
	r := boreRadius(h.t, l.style)
	return []solid.Solid{solid.Cylinder(solid.X(), r, h.x0, h.x1),
		solid.Cone(solid.X(), h.x1, r, h.x1+r/math.Tan(drillPoint/2*math.Pi/180), 0).Without(solid.At(h.x1))}
}

// bore adds the narrow lines of an internal thread: its root, which is inside
// the metal, and across it three quarters of the root circle.
func (m *model) bore(l look, h bore) {
	r := h.t.D / 2
	if l.along() {
		for _, y := range [2]float64{r, -r} {
			at := func(x float64) solid.Vec { return solid.V(x, 0, 0).Add(l.frame.Up.Mul(y)) }
			m.mark(solid.Segment(at(h.x0), at(h.x1)).Marked(solid.Thin | solid.Buried))
		}
		return
	}
	right, up := l.acrossAxis()
	m.mark(solid.ArcAt(solid.V(h.x0, 0, 0), right, up, r, rootArcStart, rootArcEnd).Marked(solid.Thin))
	if !h.blind {
		m.mark(solid.ArcAt(solid.V(h.x1, 0, 0), right, up, r, rootArcStart, rootArcEnd).Marked(solid.Thin))
	}
}

// acrossAxis returns what is right and up on a face across the axis that the
// viewer sees.
func (l look) acrossAxis() (right, up solid.Vec) {
	if !l.pictorial() {
		return l.frame.Right, l.frame.Up
	}
	return solid.V(0, 0, math.Copysign(1, -l.frame.To.X)), solid.V(0, 1, 0)
}

// A flatFace is a rectangle on a flat of a part that is round beside it: its
// middle, and half its sides.
type flatFace struct{ mid, u, v solid.Vec }

// flat adds the crossed diagonals of a flat face where it is seen true
// (ISO 128-3).
func (m *model) flat(l look, p flatFace) {
	if n := p.u.Cross(p.v).Unit().Dot(l.frame.To); l.pictorial() || math.Abs(n) < 1-1e-9 {
		return
	}
	for _, s := range [2]float64{1, -1} {
		m.mark(solid.Segment(p.mid.Add(p.u).Add(p.v.Mul(s)),
			p.mid.Sub(p.u).Sub(p.v.Mul(s))).Marked(solid.Thin | solid.VisibleOnly))
	}
}

// squareFlats adds the diagonals on the four faces of a square of the given
// side on the axis from x0 to x1: its faces up, down and to the front and the
// back, or where onCorner is set its corners.
func (m *model) squareFlats(l look, side, x0, x1 float64, onCorner bool) {
	h, mid, x := side/2, (x0+x1)/2, solid.V((x1-x0)/2, 0, 0)
	y, z := solid.V(0, 1, 0), solid.V(0, 0, 1)
	if onCorner {
		const k = math.Sqrt2 / 2
		y, z = solid.V(0, k, k), solid.V(0, -k, k)
	}
	for _, n := range [4][2]solid.Vec{{z, y}, {z.Mul(-1), y}, {y, z}, {y.Mul(-1), z}} {
		m.flat(l, flatFace{solid.V(mid, 0, 0).Add(n[0].Mul(h)), x, n[1].Mul(h)})
	}
}

// shank adds the round shank with its point chamfer and its thread. The chamfer
// is not shown in a view along the axis (ISO 6410-1).
func (m *model) shank(l look, s shank) {
	r, root := s.t.D/2, DrawnRoot(s.t, l.style)
	c := r - root // 45 degrees, down to the root
	if l.plain {
		m.add(solid.Cylinder(solid.X(), r, s.start, s.end))
		if s.limit > s.start+1e-9 {
			m.mark(solid.CircleAt(solid.V(s.limit, 0, 0), solid.V(1, 0, 0), r).Marked(solid.NotAlong))
		}
		m.thread(l, threadSigns{t: s.t, limit: s.limit, end: s.end})
		return
	}
	signs := threadSigns{t: s.t, limit: s.limit, end: s.end, room: math.Max(0, s.limit-s.start-s.kept)}
	if s.cut.present() {
		m.undercutSolids(l, s)
		s.start, signs.room, signs.into = s.limit, 0, s.cut.reaches(s.t, l.style)
	}
	if s.tip.form != "" {
		x := s.end - s.tipFrom(l.style)
		m.tipSolids(l, s, x)
		if s.limit > s.start+1e-9 {
			m.mark(solid.CircleAt(solid.V(s.limit, 0, 0), solid.V(1, 0, 0), r).Marked(solid.NotAlong))
		}
		signs.end = s.full(l.style)
		m.thread(l, signs)
		return
	}
	m.add(solid.Cylinder(solid.X(), r, s.start, s.end-c),
		solid.Cone(solid.X(), s.end-c, r, s.end, root).Without(solid.At(s.end-c)).Mark(solid.NotAlong,
			solid.At(s.end)))
	if s.limit > s.start+1e-9 {
		at := r - math.Max(0, s.limit-(s.end-c)) // on the chamfer, where that is drawn so long
		m.mark(solid.CircleAt(solid.V(s.limit, 0, 0), solid.V(1, 0, 0), at).Marked(solid.NotAlong))
	}
	m.thread(l, signs)
}
