package fastener

import (
	"fmt"
	"math"

	"boltplate/drawing"
	"boltplate/internal/solid"
	"boltplate/thread"
)

// A slot is a groove for a screwdriver across the end of a head. It runs
// towards the viewer of the front view, so that this shows it as a notch, the
// plan hides its bottom and the end views show it true, level. A slot drawn at
// 45 degrees in the end view, as many do, could not stand in projection with
// the notch in the elevation. The zero slot is none.
type slot struct {
	width, depth drawing.Quantity
	x            float64 // of the end of the head
}

func (s slot) present() bool { return s.depth.Value > 0 }

// half returns half the width, and bottom where the slot ends.
func (s slot) half() float64   { return s.width.Value / 2 }
func (s slot) bottom() float64 { return s.x + s.depth.Value }

// hole returns the slot, open to both sides and beyond the end of the head.
func (s slot) hole() solid.Solid {
	const far = 1e2 // beyond any head
	z := solid.V(0, 0, 1)
	return solid.Box(solid.V(s.x-1, -s.half(), -far),
		solid.V(s.bottom(), s.half(), far)).OpenAt(-far).OpenAt(far).
		Without(solid.InPlane(solid.V(s.x-1, 0, 0), solid.V(1, 0, 0)).Along(z))
}

// rim returns the edges of the slot on a flat end of radius r.
func (s slot) rim(r float64) []solid.Curve {
	h, z := s.half(), s.reach(r)
	return []solid.Curve{solid.Segment(solid.V(s.x, h, -z), solid.V(s.x, h, z)),
		solid.Segment(solid.V(s.x, -h, -z), solid.V(s.x, -h, z))}
}

// reach returns how far from the middle a side of the slot leaves a round of
// radius r.
func (s slot) reach(r float64) float64 { return math.Sqrt(r*r - s.half()*s.half()) }

// four returns a curve in the four places that the symmetry of a slot gives it:
// of its points (x, y, z), also those with y or z or both turned round.
func four(curve func(y, z float64) solid.Curve) []solid.Curve {
	return []solid.Curve{curve(1, 1), curve(1, -1), curve(-1, 1), curve(-1, -1)}
}

// onCylinder returns the edges that the slot leaves on a cylinder of radius r
// from x0 to x1, and on its far side the end of its bottom.
func (s slot) onCylinder(r, x0, x1 float64) []solid.Curve {
	end := math.Min(x1, s.bottom())
	if end <= x0 {
		return nil
	}
	h, z := s.half(), s.reach(r)
	out := four(func(ky, kz float64) solid.Curve {
		return solid.Segment(solid.V(x0, ky*h, kz*z), solid.V(end, ky*h, kz*z))
	})
	return append(out, s.ends(r, x1)...)
}

// ends returns the ends of the slot's bottom, at the radius r that the head has
// there, unless that is beyond x1.
func (s slot) ends(r, x1 float64) []solid.Curve {
	if s.bottom() > x1 {
		return nil
	}
	a := math.Asin(s.half()/r) * 180 / math.Pi
	at := func(mid float64) solid.Curve {
		return solid.ArcAt(solid.V(s.bottom(), 0, 0), solid.V(0, 1, 0), solid.V(0, 0, 1), r, mid-a, mid+a)
	}
	return []solid.Curve{at(90), at(270)}
}

// onCone returns the edges on a cone that narrows from the radius r0 at x0 to r1
// at x1: hyperbolas.
func (s slot) onCone(x0, r0, x1, r1 float64) []solid.Curve {
	end := math.Min(x1, s.bottom())
	if end <= x0 {
		return nil
	}
	cone := solid.Cone(solid.X(), x0, r0, x1, r1)
	radius := r0 + (r1-r0)/(x1-x0)*(end-x0)
	z0, z1 := s.reach(r0), s.reach(radius)
	out := four(func(ky, kz float64) solid.Curve {
		return cone.Section(solid.V(x0, ky*s.half(), kz*z0), solid.V(end, ky*s.half(), kz*z1), solid.V(0, 1, 0))
	})
	return append(out, s.ends(radius, x1)...)
}

// onBall returns the edges on a sphere about x = c with the radius r, as far as
// x1: arcs right across it, since a sphere is nowhere steep at the axis.
func (s slot) onBall(c, r, x1 float64) []solid.Curve {
	h, end := s.half(), math.Min(x1, s.bottom())
	rho := s.reach(r)
	a := math.Acos((c-end)/rho) * 180 / math.Pi
	side := func(y float64) solid.Curve {
		return solid.ArcAt(solid.V(c, y, 0), solid.V(-1, 0, 0), solid.V(0, 0, 1), rho, -a, a)
	}
	return append([]solid.Curve{side(h), side(-h)}, s.ends(math.Sqrt(r*r-(c-end)*(c-end)), x1)...)
}

// dimensions gives the width and the depth. In the front view the end face of
// the head reaches up to the height top at x = s.x; in the end view the slot is
// as long as the head, of radius r.
func (s slot) dimensions(b *builder, dir drawing.Direction, top, r float64) {
	if !s.present() {
		return
	}
	h := s.half()
	switch dir {
	case drawing.Front:
		b.linear(drawing.Left, 0, label(s.width), s.x, -h, s.x, h)
		b.linear(drawing.Above, 0, label(s.depth), s.x, top, s.bottom(), h)
	case drawing.HeadEnd:
		if z := s.reach(r); b.opt.turned {
			b.linear(drawing.Below, 1, label(s.width), -h, -z, h, -z)
		} else {
			b.linear(drawing.Right, 1, label(s.width), z, -h, z, h)
		}
	case drawing.SideView:
		if b.opt.Hidden {
			b.linear(drawing.Above, 1, label(s.depth), s.x, top, s.bottom(), top)
		}
	}
}

// slotRules are the sizes of a slot.
var slotRules = groupOf(practice("n", nameSlotWidth, "0.25D"), practice("t", nameSlotDepth, "0.25D"))

const (
	nameSlotWidth = "slot width"
	nameSlotDepth = "slot depth"
)

// slot takes the sizes of a slot over and refuses one that does not go into a
// head of the given height and radius.
func (z *sizer) slot(height, radius float64) (slot, error) {
	if err := z.solve(); err != nil {
		return slot{}, err
	}
	s := slot{width: z.size("n"), depth: z.size("t")}
	switch {
	case s.width.Value >= 1.5*radius:
		return s, z.refuse(z.at("n"), fmt.Sprintf("must be less than three quarters of the head, %s",
			mm(1.5*radius)))
	case s.depth.Value >= height:
		return s, z.refuse(z.at("t"), fmt.Sprintf("must be less than the height of the head, %s", mm(height)))
	}
	return s, nil
}

// A slottedRow is a row of a standard of slotted heads: greatest diameter dk and
// height k of the head, nominal width n and depth t of the slot; mm.
type slottedRow struct {
	d, dk, k, n, t float64
	status         drawing.Status
}

func (r slottedRow) diameter() float64 { return r.d }

// A slottedStandard is a standard of slotted screws.
type slottedStandard struct {
	name                           string
	diameter, height, width, depth *size
	thread                         *size
	rows                           []slottedRow
}

// slotted returns a standard; depth says which limit of the slot's depth its
// table has.
func slotted(name, depth string, rows []slottedRow) *slottedStandard {
	return &slottedStandard{name, column("d2", nameHead, name+", dk max"),
		column("T", nameHeadHeight, name+", k max"),
		column("n", nameSlotWidth, name+", n nominal"), column("t", nameSlotDepth, name+", "+depth),
		threadColumn(name), rows}
}

func threadColumn(standard string) *size {
	return column("b", sizeThread.name, standard+", b min")
}

// use adds the sizes of the row for a thread. Its error is a *FieldError.
func (s *slottedStandard) use(z *sizer, t thread.Thread) error {
	std, err := editionFor(z.kind, t, s.name, "")
	if err != nil {
		return err
	}
	row, err := find(z.kind, std, s.rows, t.D)
	if err != nil {
		return err
	}
	z.tabled(s.diameter, row.dk, row.status)
	z.tabled(s.height, row.k, row.status)
	z.tabled(s.width, row.n, row.status)
	z.tabled(s.depth, row.t, row.status)
	return nil
}

// machineScrewThread returns how far the slotted and recessed screws of ISO
// 1207, 1580, 2009 and 7045 are threaded: up to the nominal length toHead as
// far as the head, 2P left (from memory, unverified), and longer ones at least 38
// mm, M3 25 mm, which has the given status. By proportion, where column is nil, the
// longer ones go by ISO 888.
func machineScrewThread(d, toHead float64, column *size, status drawing.Status) *threadRule {
	b := 38.0
	if d <= 3 {
		toHead, b = 30, 25
	}
	return &threadRule{toHead: toHead, short: true, column: column, length: b, status: status}
}
