package fastener

import (
	"fmt"
	"math"

	"boltplate/drawing"
	"boltplate/internal/solid"
	"boltplate/thread"
)

// SpringWasher is a spring lock washer of a single coil for a bolt of the given
// thread; only its diameter and its hand count. It is drawn flat, as when it is
// tightened. The cut is towards the viewer of the front view and slants so that
// its edges bite when the nut is turned back: for a right-hand thread a
// left-hand coil. The origin is at the face towards the clamped part. The sizes
// are by proportion on either basis.
type SpringWasher struct {
	Thread thread.Thread
	Extra
}

func springWasherKind() KindInfo {
	return KindInfo{Name: "spring-washer", Title: "spring washer", Views: allViews(), Default: nutViews(),
		variants: []variant{{families: []string{familyWashers}, groups: []*group{springRules}}},
		how:      map[stage]string{stageShape: "Draw the circles of hole and rim, and the cut across the ring"},
		make:     func(s Spec) Fastener { return SpringWasher{Thread: s.Thread, Extra: s.Extra} }}
}

// springRules are the sizes of a spring washer.
var springRules = groupOf(
	practiceBy("d2", nameOutside, "1.7D", "DIN 127, rounded"),
	practice("d1", nameHole, "1.05D"),
	practiceBy("t", nameThickness, "0.2D", "DIN 127, rounded"),
	practice("g", "gap of the cut", "0.07D"),
	practice("q", "angle of the cut to the axis", "20°").angle())

// Kind returns "spring-washer".
func (SpringWasher) Kind() string { return "spring-washer" }

// Designation returns for instance "Spring washer for M20".
func (w SpringWasher) Designation() string {
	return "Spring washer for M" + mm(w.Thread.D) + w.supplied()
}

// Validate reports what is wrong with the description, as a *FieldError.
func (w SpringWasher) Validate() error {
	_, err := w.resolve()
	return err
}

// A springCut is the cut through a spring washer.
type springCut struct{ gap, angle drawing.Quantity }

func (w SpringWasher) resolve() (*washerSizes, error) {
	if err := checkThread(w.Kind(), w.Thread); err != nil {
		return nil, err
	}
	s := &washerSizes{d: w.Thread.D, z: newSizer(w.Kind(), "", w.Rules, w.Thread)}
	s.z.use(springRules)
	if err := s.finish(); err != nil {
		return nil, err
	}
	c := springCut{gap: s.z.size("g"), angle: s.z.size("q")}
	s.form = func(x float64, onBolt bool) *figure { return w.figure(s, c, x, onBolt) }
	return s, c.check(s)
}

// check refuses a cut that the front view could not show.
func (c springCut) check(s *washerSizes) error {
	const most = 45
	switch {
	case c.angle.Value > most:
		return s.z.refuse(s.z.at("q"), fmt.Sprintf("must be at most %d degrees", most))
	case c.gap.Value > s.hole.Value/2:
		return s.z.refuse(s.z.at("g"), fmt.Sprintf("must be at most half the hole, %s", mm(s.hole.Value/2)))
	}
	return nil
}

func (w SpringWasher) figure(s *washerSizes, c springCut, x float64, onBolt bool) *figure {
	t, gap := s.thickness.Value, c.gap.Value
	r0, r1 := s.hole.Value/2, s.outside.Value/2
	slope := math.Tan(c.angle.Value * math.Pi / 180)
	if w.Thread.LeftHand {
		slope = -slope
	}
	// The heights of both sides of the cut, from the first face on.
	low := func(u float64) float64 { return slope*(u-t/2) - gap/2 }
	high := func(u float64) float64 { return low(u) + gap }
	g := &figure{kind: w.Kind(), from: x, to: x + t, fromPoint: true}
	g.build = func(l look, m *model) {
		outside, hole := solid.Cylinder(solid.X(), r1, x, x+t), solid.Cylinder(solid.X(), r0, x, x+t)
		// the cut is on the outline, where it would only thicken the line
		if l.dir == drawing.SideView && !l.exact {
			m.add(outside.Less(hole))
			return
		}
		over := t // the cut runs past both faces
		cut := solid.Extrude(solid.V(x, 0, 0), solid.V(1, 0, 0), solid.V(0, 1, 0), 0, 2*r1, []solid.Vertex{
			{X: -over, Y: low(-over)}, {X: t + over, Y: low(t + over)}, {X: t + over, Y: high(t + over)},
			{X: -over, Y: high(-over)},
		}).Beyond()
		var edges []solid.Curve
		for _, side := range [2]func(float64) float64{low, high} {
			at := func(u, r float64) solid.Vec {
				y := side(u)
				return solid.V(x+u, y, math.Sqrt(r*r-y*y))
			}
			across := solid.V(slope, -1, 0)
			edges = append(edges, outside.Section(at(0, r1), at(t, r1), across),
				hole.Section(at(0, r0), at(t, r0), across),
				solid.Segment(at(0, r0), at(0, r1)), solid.Segment(at(t, r0), at(t, r1)))
		}
		m.add(outside.Less(hole, cut).With(edges...))
	}
	if !onBolt {
		g.annotate = func(b *builder, dir drawing.Direction) {
			switch dir {
			case drawing.Front, drawing.SideView:
				rank := drawing.Rank(0)
				if dir == drawing.SideView {
					rank = 1
				}
				b.linear(drawing.Below, rank, label(s.thickness), x, -r1, x+t, -r1)
				b.linear(drawing.Right, 1+rank, diameterLabel(s.outside), x+t, -r1, x+t, r1)
				if dir == drawing.Front {
					b.linear(drawing.Left, 0, label(c.gap), x, low(0), x, high(0))
					b.add(drawing.RoleDimension, drawing.Leader{Label: label(c.angle),
						Tip: drawing.Pt(x+t*0.75, high(t*0.75)), Angle: 60})
				}
			default:
				b.linear(drawing.Below, 0, diameterLabel(s.outside), -r1, 0, r1, 0)
				b.add(drawing.RoleDimension, drawing.Diameter{Label: diameterLabel(s.hole), Radius: r0, Angle: 130})
			}
		}
	}
	return g
}

// Quantities returns the dimensions of the washer with their rules and
// sources.
func (w SpringWasher) Quantities() ([]drawing.Quantity, error) {
	s, err := w.resolve()
	if err != nil {
		return nil, err
	}
	return s.quantities(), nil
}

// View returns one view of the washer: front, side, head, point or isometric.
// The front view shows the cut.
func (w SpringWasher) View(dir drawing.Direction, opt Options) (drawing.View, error) {
	s, err := w.resolve()
	if err != nil {
		return drawing.View{}, err
	}
	v, err := s.figure(0, false).view(dir, opt)
	return worded(v, opt, s.quantities), err
}
