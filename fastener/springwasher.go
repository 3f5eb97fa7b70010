package fastener

import (
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
}

func springWasherKind() KindInfo {
	return KindInfo{Name: "spring-washer", Title: "spring washer", Views: allViews(), Default: nutViews(),
		make: func(s Spec) Fastener { return SpringWasher{Thread: s.Thread} }}
}

// springCutAngle is the angle of the cut of a spring washer to the axis as it
// is drawn, degrees.
const springCutAngle = 20.0

// Kind returns "spring-washer".
func (SpringWasher) Kind() string { return "spring-washer" }

// Designation returns for instance "Spring washer for M20".
func (w SpringWasher) Designation() string { return "Spring washer for M" + mm(w.Thread.D) }

// Validate reports what is wrong with the description, as a *FieldError.
func (w SpringWasher) Validate() error {
	_, err := w.resolve()
	return err
}

// A springCut is the cut through a spring washer.
type springCut struct{ gap, angle drawing.Quantity }

func (SpringWasher) cut(d float64) springCut {
	return springCut{
		gap:   drawing.Quantity{Letter: "g", Name: "gap of the cut", Rule: "0.07D", Value: 0.07 * d, Source: "common practice", Status: drawing.CommonPractice},
		angle: drawing.Quantity{Letter: "q", Name: "angle of the cut to the axis", Rule: "20°", Value: springCutAngle, Unit: drawing.Degree, Source: "common practice", Status: drawing.CommonPractice},
	}
}

func (w SpringWasher) resolve() (*washerSizes, error) {
	if err := checkThread(w.Kind(), w.Thread); err != nil {
		return nil, err
	}
	d := w.Thread.D
	s := &washerSizes{
		d:         d,
		outside:   drawing.Quantity{Letter: "d2", Name: "outside diameter", Rule: "1.7D", Value: 1.7 * d, Source: "DIN 127", Status: drawing.Published},
		hole:      drawing.Quantity{Letter: "d1", Name: "hole diameter", Rule: "1.05D", Value: 1.05 * d, Source: "common practice", Status: drawing.CommonPractice},
		thickness: drawing.Quantity{Letter: "t", Name: "thickness", Rule: "0.2D", Value: 0.2 * d, Source: "DIN 127", Status: drawing.Published},
	}
	s.form = func(x float64, onBolt bool) *figure { return w.figure(s, x, onBolt) }
	return s, nil
}

func (w SpringWasher) figure(s *washerSizes, x float64, onBolt bool) *figure {
	c := w.cut(s.d)
	t, gap := s.thickness.Value, c.gap.Value
	r0, r1 := s.hole.Value/2, s.outside.Value/2
	slope := math.Tan(springCutAngle * math.Pi / 180)
	if w.Thread.LeftHand {
		slope = -slope
	}
	// The heights of both sides of the cut, from the first face on.
	low := func(u float64) float64 { return slope*(u-t/2) - gap/2 }
	high := func(u float64) float64 { return low(u) + gap }
	g := &figure{kind: w.Kind(), from: x, to: x + t, fromPoint: true}
	g.build = func(l look, m *model) {
		outside, hole := solid.Cylinder(solid.X(), r1, x, x+t), solid.Cylinder(solid.X(), r0, x, x+t)
		if l.dir == drawing.SideView && !l.exact { // the cut is on the outline, where it would only thicken the line
			m.add(outside.Less(hole))
			return
		}
		over := t // the cut runs past both faces
		cut := solid.Extrude(solid.V(x, 0, 0), solid.V(1, 0, 0), solid.V(0, 1, 0), 0, 2*r1, []solid.Vertex{
			{X: -over, Y: low(-over)}, {X: t + over, Y: low(t + over)}, {X: t + over, Y: high(t + over)}, {X: -over, Y: high(-over)},
		}).Beyond()
		var edges []solid.Curve
		for _, side := range [2]func(float64) float64{low, high} {
			at := func(u, r float64) solid.Vec {
				y := side(u)
				return solid.V(x+u, y, math.Sqrt(r*r-y*y))
			}
			across := solid.V(slope, -1, 0)
			edges = append(edges, outside.Section(at(0, r1), at(t, r1), across), hole.Section(at(0, r0), at(t, r0), across),
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
					b.add(drawing.RoleDimension, drawing.Leader{Label: label(c.angle), Tip: drawing.Pt(x+t*0.75, high(t*0.75)), Angle: 60})
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
	c := w.cut(s.d)
	return []drawing.Quantity{nominalDiameter(w.Thread), s.outside, s.hole, s.thickness, c.gap, c.angle}, nil
}

// View returns one view of the washer: front, side, head, point or isometric.
// The front view shows the cut.
func (w SpringWasher) View(dir drawing.Direction, opt Options) (drawing.View, error) {
	s, err := w.resolve()
	if err != nil {
		return drawing.View{}, err
	}
	return s.form(0, false).view(dir, opt)
}
