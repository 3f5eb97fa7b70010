package joint

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"boltplate/fastener"
	"boltplate/thread"
)

// A model is a complete joint with the sizes of what is in it: everything that
// the checks and the drawing need. x runs along the axis from the bearing face
// of the head towards the point.
type model struct {
	Joint
	given  Joint // as it was completed; the model adds holes that follow from the bolt
	t      thread.Thread
	bolt   fastener.Fastener
	fit    fastener.Fit // of the bolt
	washer washerSize
	head   washerSize        // under the head
	nutOn  fastener.Fastener // nil where the joint has none
	nut    fastener.NutFit
	// how far a countersunk head lies below the face; negative where it, or a taper bolt, stands proud
	sunk   float64
	wanted float64 // length of a taper that is too long to be made; 0 else
}

// A washerSize is a washer with its sizes; its part is nil where there is none.
type washerSize struct {
	part fastener.Fastener
	fastener.WasherFit
}

// seatMargin is how far below the seat of a nut, or above the mouth of a tapped
// hole, a thread must begin: a tenth of D, from 1 to 3 mm (common practice).
func seatMargin(t thread.Thread) float64 { return math.Min(math.Max(t.D/10, 1), 3) }

// validate refuses what no rule can make a joint of.
func (j Joint) validate() error {
	if _, err := ParseScene(string(j.Scene)); err != nil {
		return wrapped("scene", err)
	}
	if j.Bolt.Thread.D == 0 {
		return &FieldError{Field: "bolt.size", Want: "missing; give the thread, such as M16"}
	}
	if err := j.Bolt.Thread.Validate(); err != nil {
		return wrapped("bolt.size", err)
	}
	info := j.scene()
	if n := len(j.Parts); n < info.parts[0] || n > info.parts[1] {
		return &FieldError{Field: "part",
			Want: fmt.Sprintf("a joint of the scene %s has %d to %d parts, this one %d", j.Scene, info.parts[0],
				info.parts[1], n)}
	}
	for i, p := range j.Parts {
		for _, name := range PartNumbers() {
			if none(*p.Number(name)) && !mayBeNone(name) {
				return &FieldError{Field: partField(i, name), Want: "0 is no size; give it in mm, or leave it out"}
			}
			if v := *p.Number(name); math.IsNaN(v) || v > 3000 || v < 0 && name != "overlap" || v < -3000 {
				return &FieldError{Field: partField(i, name),
					Want: num(v) + " is not a length; give millimetres from 0 to 3000"}
			}
		}
		if p.Thickness == 0 {
			return &FieldError{Field: partField(i, "thickness"), Want: "missing; give it in mm"}
		}
	}
	for _, v := range []struct {
		name  string
		value float64
	}{{"bolt.length", j.Bolt.Length}, {"bolt.thread", j.Bolt.ThreadLength}, {"room", j.Room},
		{"spacing", j.Spacing}, {"pin_hole", j.PinHole}} {
		if none(v.value) {
			return &FieldError{Field: v.name, Want: "0 is no length; give it in mm, or leave it out"}
		}
		if math.IsNaN(v.value) || v.value < 0 || v.value > 3000 {
			return &FieldError{Field: v.name, Want: num(v.value) + " is not a length; give millimetres from 0 to 3000"}
		}
	}
	for _, v := range []struct{ name, value, want string }{
		{"nut", j.Bolt.Nut, "stands in the joint: give its nut"},
		{"washer", j.Bolt.Washer, "stands in the joint: give its washer"},
	} {
		if v.value != "" {
			return &FieldError{Field: "bolt." + v.name, Want: v.want}
		}
	}
	if j.Bolt.Grip != 0 {
		return &FieldError{Field: "bolt.grip", Want: "follows from the parts; leave it out"}
	}
	if err := info.suits(j.Bolt.Kind); err != nil {
		return err
	}
	if err := j.validFaces(); err != nil {
		return err
	}
	if info.validate != nil {
		if err := info.validate(j); err != nil {
			return err
		}
	}
	return j.unread(info)
}

func partField(i int, name string) string { return fmt.Sprintf("part %d: %s", i+1, name) }

// spec returns the description of the bolt.
func (j Joint) spec() fastener.Spec {
	s := j.Bolt
	s.Basis, s.Rules = j.boltBasis(), j.Rules
	return s
}

// extra is what the fasteners of the joint have besides.
func (j Joint) extra() fastener.Extra { return fastener.Extra{Rules: j.Rules} }

// boltBasis returns the basis of the bolt: that of the joint, or proportion
// where no standard has the kind.
func (j Joint) boltBasis() fastener.Basis {
	k, err := fastener.KindNamed(j.Bolt.Kind)
	if err == nil && !slices.ContainsFunc(k.Options, func(o fastener.Option) bool { return o.Name == "basis" }) {
		return fastener.Proportion
	}
	return j.Basis
}

// grip returns the thickness of the parts that are clamped.
func (j Joint) grip() float64 {
	parts := j.Parts
	if j.scene().tapped {
		parts = parts[:len(parts)-1]
	}
	sum := 0.0
	for i := range parts {
		sum += j.taken(i)
	}
	return sum
}

// taken returns how much of the grip a part takes: of a part with a T-slot,
// what is above the head.
func (j Joint) taken(i int) float64 {
	p := j.Parts[i]
	if j.Scene == TSlot && i == 0 {
		return p.SlotWhole - p.SlotDepth
	}
	if j.Scene == Hook && i == 0 {
		return p.Thickness + 2*p.Packing
	}
	return p.Thickness // packing belongs under a hook only
}

// holed reports whether the bolt goes through a clearance hole in a part.
func (j Joint) holed(i int) bool {
	switch j.Scene {
	case TSlot:
		return i > 0
	case Hook:
		return i > 0 && j.Parts[i].SlotWidth == 0 // else its hole is square
	}
	return true
}

// newModel settles the sizes of a complete joint.
func newModel(j Joint) (*model, error) {
	m := &model{Joint: j, given: j, t: j.Bolt.Thread}
	f, err := fastener.New(j.spec())
	if err != nil && j.Scene == Taper {
		f, err = m.shorterTaper(err)
	}
	if err != nil {
		return nil, wrapped("bolt", err)
	}
	m.bolt = f
	if m.fit, err = fastener.FitOf(f); err != nil {
		return nil, wrapped("bolt", err)
	}
	if m.washer, err = j.washerSize(j.Washer); err != nil {
		return nil, err
	}
	if m.head, err = j.washerSize(j.HeadWasher); err != nil {
		return nil, err
	}
	if j.scene().nut {
		n, err := fastener.New(fastener.Spec{Kind: strings.TrimSuffix(j.Nut, "-nut") + "-nut",
			Thread: j.Bolt.Thread, Basis: j.Basis, Extra: j.extra()})
		if err != nil {
			return nil, wrapped("nut", err)
		}
		m.nutOn = n
		fit, err := fastener.FitOf(n)
		if err != nil {
			return nil, wrapped("nut", err)
		}
		m.nut = fit.Nut
	}
	switch j.Scene {
	case Countersunk:
		m.sunk = m.headDepth()
	case Taper:
		m.taperHole()
	default:
		m.sunk = m.Parts[0].CounterboreDepth
	}
	return m, nil
}

func (j Joint) washerSize(kind string) (washerSize, error) {
	if kind == "" || kind == "none" {
		return washerSize{}, nil
	}
	s := fastener.Spec{Kind: "washer", Thread: j.Bolt.Thread, Basis: j.Basis, Extra: j.extra()}
	switch {
	case is(kind, "plain"):
	case is(kind, "large"):
		s.Form = "large"
	case is(kind, "spring"):
		s.Kind = "spring-washer"
	default:
		want := fmt.Sprintf("%q is no washer of a joint; use plain, large, spring or none", kind)
		if near := fastener.Nearest(strings.ToLower(kind), []string{"plain", "large", "spring", "none"}); near != "" {
			want = fmt.Sprintf("%q is no washer of a joint; did you mean %s?", kind, near)
		}
		return washerSize{}, &FieldError{Field: "washer", Want: want}
	}
	w, err := fastener.New(s)
	if err != nil {
		return washerSize{}, wrapped("washer", err)
	}
	fit, err := fastener.FitOf(w)
	if err != nil {
		return washerSize{}, wrapped("washer", err)
	}
	return washerSize{part: w, WasherFit: fit.Washer}, nil
}

// length returns the length of the bolt, and limit where its usable thread
// begins, on x.
func (m *model) length() float64 { return m.fit.Length }
func (m *model) limit() float64 {
	return m.fit.Length - m.fit.Thread
}

// face returns where the first part begins.
func (m *model) face() float64 { return m.head.Thickness - m.sunk }

// seat returns where the bearing face of the nut is.
func (m *model) seat() float64 { return m.face() + m.grip() + m.washer.Thickness }

// middle returns the place on the axis of the middle of a part.
func (m *model) middle(i int) float64 {
	x := m.face()
	for k := range i {
		x += m.taken(k)
	}
	if m.Scene == Stud { // its parts are in the order from the nut
		return m.grip() - x - m.taken(i)/2
	}
	return x + m.taken(i)/2
}
