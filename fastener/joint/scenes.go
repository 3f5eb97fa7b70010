package joint

import (
	"fmt"
	"slices"
	"strings"

	"boltplate/fastener"
)

// A scene says what the rules need to know of a scene, and who chooses, checks
// and draws it.
type scene struct {
	name   Scene
	kind   string   // the usual fastener
	kinds  []string // others whose head and neck can work in it
	nut    bool     // it has a nut
	tapped bool     // the last part is tapped
	parts  [2]int   // least and greatest number of parts
	// reads are the sizes of a part that the scene has a use for, beside
	// thickness and edge.
	reads    []string
	validate func(Joint) error // nil: nothing of its own
	choose   func(*chooser) error
	check    func(*checker)
	draw     func(*board) error
}

// scenes returns the table of the scenes, in the order in which they are
// listed.
func scenes() []scene {
	return []scene{
		throughScene(), tappedScene(), studScene(), tSlotScene(), countersunkScene(), hookScene(),
		liftingScene(), taperScene(),
	}
}

var (
	tappedFields = []string{"full_depth", "drill_depth"}
	// of a face that head or nut bear on, and of the hole under it
	faceFields = []string{"hole", "slotted", "seat", "slope", "wall", "fillet"}
	boreFields = []string{"counterbore", "counterbore_depth"}
	sinkFields = []string{"sink_angle", "sink_diameter"}
	slotFields = []string{"slot_width", "slot_head", "slot_depth", "slot_whole"}
)

// turned are the kinds that a spanner or a driver turns at the head, the
// bearing face of which is flat.
func turned() []string {
	return []string{"hex-bolt", "hex-screw", "tap-bolt", "square-bolt", "cap-screw", "cheese-screw", "pan-screw"}
}

// scene returns the entry of a scene, as it is in this joint.
func (j Joint) scene() scene {
	all := scenes()
	s := all[max(0, slices.IndexFunc(all, func(s scene) bool { return s.name == j.Scene }))]
	if s.name == Countersunk && j.screwedIn() {
		s.kind, s.nut, s.tapped = "countersunk-screw", false, true
	}
	return s
}

// flatHead refuses what stands under a head and does not go into a round hole.
func (j Joint) flatHead() error {
	if n := j.Bolt.Neck; n != "" && !is(n, "plain") {
		return &FieldError{Field: "bolt.neck",
			Want: fmt.Sprintf("%s does not go into a round hole; leave it out, or use plain", n)}
	}
	return nil
}

// suits refuses a kind of fastener whose head or neck cannot work in the scene.
func (s scene) suits(kind string) error {
	if kind == "" || is(kind, s.kind) {
		return nil
	}
	if slices.ContainsFunc(s.kinds, func(k string) bool { return is(k, kind) }) {
		return nil
	}
	if _, err := fastener.KindNamed(kind); err != nil {
		return wrapped("bolt.kind", err)
	}
	want := "use " + s.kind + ", or leave it out"
	if len(s.kinds) > 0 {
		all := append([]string{s.kind}, s.kinds...)
		slices.Sort(all)
		want = "use one of " + strings.Join(slices.Compact(all), ", ")
	}
	return &FieldError{Field: "bolt.kind", Want: fmt.Sprintf("%s does not belong in the scene %s; %s",
		kind, s.name, want)}
}

// faceOnly are the sizes of a face that something bears on.
func faceOnly() []string { return []string{"seat", "slope", "wall", "fillet"} }

// unread refuses values that the scene has no use for.
func (j Joint) unread(s scene) error {
	unused := func(field, why string) error { return &FieldError{Field: field, Want: why + "; leave it out"} }
	last := len(j.Parts) - 1
	for i := range j.Parts {
		p := &j.Parts[i]
		for _, name := range PartNumbers() {
			use := slices.Contains(s.reads, name) || name == "thickness" || name == "edge"
			tapped := s.tapped && i == last
			why := fmt.Sprintf("the scene %s has no use for it", s.name)
			switch {
			case slices.Contains(tappedFields, name) && use && !tapped:
				use, why = false, "belongs to the last part, where that is tapped"
			case name == "hole" && use && tapped:
				use, why = false, "the last part is tapped for the bolt"
			case slices.Contains(boreFields, name) && i > 0:
				use, why = false, "belongs to part 1, where the head is"
			case name == "insert" && use && !tapped:
				use, why = false, "belongs to the last part, where that is tapped"
			case name == "slotted" && use && tapped:
				use, why = false, "the last part is tapped for the bolt"
			case slices.Contains(faceOnly(), name) && use && !j.bornOn(i):
				use, why = false, "nothing bears on this part"
			case slices.Contains(sinkFields, name) && i > 0, name == "draw_up" && i > 0, name == "overlap" &&
				i > 0, name == "packing" && i > 0,
				s.name == TSlot && slices.Contains(slotFields, name) && i > 0:
				use, why = false, "belongs to part 1"
			case s.name == TSlot && name == "hole" && i == 0:
				use, why = false, "part 1 has a slot"
			}
			if v := *p.Number(name); !use && (v != 0 || none(v)) {
				return unused(partField(i, name), why)
			}
		}
		switch {
		case p.Through && (!s.tapped || i != last):
			return unused(partField(i, "through"), "says that a tapped hole goes through, and this part has none")
		case p.Through && p.FullDepth != 0:
			return unused(partField(i, "full_depth"), "the tapped hole goes through")
		case p.Through && p.DrillDepth != 0:
			return unused(partField(i, "drill_depth"), "the tapped hole goes through")
		}
	}
	switch {
	case !s.nut && j.Nut != "" && !is(j.Nut, noNut):
		return unused("nut", fmt.Sprintf("the scene %s has no nut", s.name))
	case !s.nut && j.Washer != "" && !is(j.Washer, "none"):
		return unused("washer", "goes under a nut, and there is none; under the head it is head_washer")
	case j.PinHole != 0 && !(s.nut && is(strings.TrimSuffix(j.Nut, "-nut"), "castle")):
		return unused("pin_hole", "belongs to a castle nut")
	case s.name != Lifting && j.Pull != 0:
		return unused("pull", "belongs to the scene lifting")
	case s.name != Lifting && j.PullAcross:
		return unused("pull_across", "belongs to the scene lifting")
	}
	return nil
}
