package fastener

import (
	"fmt"
	"math"

	"boltplate/drawing"
	"boltplate/internal/solid"
)

// The ends of external threads (ISO 4753). Their sizes are rules that come near
// to the table of the standard; from memory, unverified.
const (
	endRound = "round"
	endDog   = "dog"
	endCone  = "cone"
	endCup   = "cup"
)

// endWords returns the words for the ends of threads, the usual one first.
func endWords() []string { return []string{"chamfer", endRound, endDog, endCone, endCup} }

func optEnd() Option { return choice("end", endWords()...) }

// ofEnds is a size that comes near to the table of ISO 4753, from memory.
func ofEnds(letter, name, text string) size {
	s := fromMemory(letter, name, text)
	s.source = "near to ISO 4753"
	return s
}

var (
	roundEnd = groupOf(ofEnds("re", "radius of the rounded end", "1.4D"))
	dogEnd   = groupOf(ofEnds("dp", "diameter of the dog point", "0.75D"), ofEnds("zp", "length of the dog point", "0.5D"))
	coneEnd  = groupOf(ofEnds("dt", "diameter of the cone's end", "0.25D"), ofEnds("ac", "angle of the cone", "90°").angle().fix())
	cupEnd   = groupOf(ofEnds("dz", "diameter of the cup", "0.7D"), ofEnds("az", "angle of the cup", "120°").angle().fix())
)

func endGroups() []*group { return []*group{roundEnd, dogEnd, coneEnd, cupEnd} }

// endTitles are the words of designations.
var endTitles = map[string]string{endRound: "rounded end", endDog: "dog point", endCone: "cone point", endCup: "cup point"}

// A tip is the end of a thread other than the usual chamfer; the zero tip is
// that.
type tip struct {
	form   string
	across drawing.Quantity // diameter
	long   drawing.Quantity // length of a dog point, radius of a round one
	angle  drawing.Quantity // of a cone or cup, included
}

// setTip settles the end of the thread.
func (b *bolt) setTip() error {
	if b.end == "" || is(b.end, "chamfer") {
		return nil
	}
	groups := map[string]*group{endRound: roundEnd, endDog: dogEnd, endCone: coneEnd, endCup: cupEnd}
	for _, w := range endWords() {
		if is(b.end, w) {
			b.shank.tip.form = w
		}
	}
	g, ok := groups[b.shank.tip.form]
	if !ok {
		return &FieldError{b.kind, "end", b.end, "no such end of a thread; use chamfer, round, dog, cone or cup"}
	}
	b.z.use(g)
	if err := b.z.solve(); err != nil {
		return err
	}
	t, s, root := &b.shank.tip, &b.shank, b.shank.t.RootDiameter()
	switch t.form {
	case endRound:
		t.long = b.z.size("re")
	case endDog:
		t.across, t.long = b.z.size("dp"), b.z.size("zp")
	case endCone:
		t.across, t.angle = b.z.size("dt"), b.z.size("ac")
	case endCup:
		t.across, t.angle = b.z.size("dz"), b.z.size("az")
	}
	switch {
	case t.across.Value >= root:
		return b.z.refuse(b.z.at(t.across.Letter), fmt.Sprintf("must be less than the root of the thread, %s", mm(root)))
	case t.form == endRound && t.long.Value <= root/2:
		return b.z.refuse(b.z.at("re"), fmt.Sprintf("must be more than half the root of the thread, %s", mm(root/2)))
	}
	if room, need := s.end-s.limit, s.tipFrom(drawing.Style{})+s.t.P; room < need-1e-9 {
		return &FieldError{b.kind, "end", b.end, fmt.Sprintf("needs a thread of at least %s mm, and this one has %s",
			mm(math.Ceil(need*10)/10), mm(room))}
	}
	return nil
}

// tipFrom returns how long the end is, from where the crest stops.
func (s shank) tipFrom(st drawing.Style) float64 {
	r, root := s.t.D/2, DrawnRoot(s.t, st)
	switch s.tip.form {
	case endRound:
		return r - root + s.rise(root)
	case endDog:
		return r - s.tip.across.Value/2 + s.tip.long.Value
	case endCone:
		return r - s.tip.across.Value/2
	}
	return r - root
}

// rise returns how far a rounded end stands out over a radius.
func (s shank) rise(root float64) float64 {
	R := s.tip.long.Value
	return R - math.Sqrt(max(0, R*R-root*root))
}

// full returns where the root line of the thread meets the end.
func (s shank) full(st drawing.Style) float64 {
	low := DrawnRoot(s.t, st)
	if s.tip.form == endDog || s.tip.form == endCone {
		low = math.Max(low, s.tip.across.Value/2)
	}
	return s.end - s.tipFrom(st) + s.t.D/2 - low
}

// endRadius returns the radius of the end face; 0 of a rounded end.
func (s shank) endRadius(st drawing.Style) float64 {
	switch s.tip.form {
	case endRound:
		return 0
	case endDog, endCone:
		return s.tip.across.Value / 2
	}
	return DrawnRoot(s.t, st)
}

// tipSolids adds the shank and the end of the thread beyond the crest, which stops
// at x.
func (m *model) tipSolids(l look, s shank, x float64) {
	r, root := s.t.D/2, DrawnRoot(s.t, l.style)
	chamfer := func(to float64) solid.Solid { // at 45 degrees down to a radius
		return solid.Cone(solid.X(), x, r, x+r-to, to).Without(solid.At(x))
	}
	body := solid.Cylinder(solid.X(), r, s.start, x)
	if s.tip.form == endCup {
		wide, deep := s.cup(l.style)
		cup := solid.Cone(solid.X(), s.end-deep, 0, s.end, wide).Without(solid.At(s.end - deep))
		m.add(body.Less(cup), chamfer(root).Mark(solid.NotAlong, solid.At(s.end)).Less(cup))
		return
	}
	m.add(body)
	switch s.tip.form {
	case endRound:
		from := x + r - root
		m.add(chamfer(root).Mark(solid.NotAlong, solid.At(from)), solid.Ball(solid.X(), s.end-s.tip.long.Value, s.tip.long.Value, from, s.end).Without(solid.At(from)))
	case endDog:
		to := s.tip.across.Value / 2
		m.add(chamfer(to), solid.Cylinder(solid.X(), to, x+r-to, s.end).Without(solid.At(x+r-to)))
	case endCone:
		m.add(chamfer(s.tip.across.Value / 2))
	}
}

// cupSection returns the local section that shows the cup.
func (s shank) cupSection(st drawing.Style) *cutaway {
	r, root, crest := s.t.D/2, s.endRadius(st), s.end-s.tipFrom(st)
	cup, depth := s.cup(st)
	from := math.Max(math.Min(s.end-depth, crest)-0.25*s.t.D, s.limit)
	face := corners([2]float64{crest, r}, [2]float64{s.end, root}, [2]float64{s.end, cup}, [2]float64{s.end - depth, 0},
		[2]float64{s.end, -cup}, [2]float64{s.end, -root}, [2]float64{crest, -r})
	return &cutaway{from: from, to: s.end, high: r, room: 0.1 * s.t.D, face: face, end: true}
}

// cup returns the radius and the depth of the cup as it is drawn: its own, or where the
// root of the thread is drawn further in than it is, less in the same proportion.
func (s shank) cup(st drawing.Style) (radius, depth float64) {
	radius = s.tip.across.Value * DrawnRoot(s.t, st) / s.t.RootDiameter()
	return radius, radius / math.Tan(s.tip.angle.Value/2*math.Pi/180)
}

// tipDimensions gives the sizes of the end in an elevation.
func (s shank) tipDimensions(d *builder, rank drawing.Rank) {
	r := s.tip.across.Value / 2
	switch s.tip.form {
	case endRound:
		d.add(drawing.RoleDimension, drawing.Radius{Label: drawing.Label{Quantity: s.tip.long, Symbol: drawing.RadiusSymbol},
			Center: drawing.Pt(s.end-s.tip.long.Value, 0), Radius: s.tip.long.Value, Angle: 12, Start: 3, End: 14, Rank: rank})
	case endDog:
		d.linear(drawing.Below, rank, label(s.tip.long), s.end-s.tip.long.Value, -r, s.end, -r)
		d.linear(drawing.Right, rank, diameterLabel(s.tip.across), s.end, -r, s.end, r)
	case endCone:
		d.linear(drawing.Right, rank, diameterLabel(s.tip.across), s.end, -r, s.end, r)
		half := s.tip.angle.Value / 2
		leg := -r / math.Sin(half*math.Pi/180) // beyond the apex, where nothing is in the way
		d.add(drawing.RoleDimension, drawing.Angular{Label: label(s.tip.angle), Rank: rank, Vertex: drawing.Pt(s.end+r, 0),
			Start: -half, End: half, From: leg, To: leg})
	case endCup:
		r, depth := s.cup(d.opt.Style)
		d.linear(drawing.Right, rank, diameterLabel(s.tip.across), s.end, -r, s.end, r)
		if half := s.tip.angle.Value / 2; d.opt.Section || d.opt.Hidden { // else nothing of it is seen
			leg := r / math.Sin(half*math.Pi/180)
			d.add(drawing.RoleDimension, drawing.Angular{Label: label(s.tip.angle), Rank: rank,
				Vertex: drawing.Pt(s.end-depth, 0), Start: -half, End: half, From: leg, To: leg})
		}
	}
}
