package joint

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"
)

// A remedy is found by trying: each finding has a few candidates, the smallest
// change first, and the first that makes the finding go away, and brings no
// other, is its remedy. So no remedy can be one that does not cure.

// A candidate is a change: fields that are left out, so that they are chosen
// again, and fields that are set.
type candidate struct {
	reset []string
	set   []Change
}

func reset(fields ...string) candidate { return candidate{reset: fields} }

func set(field string, v float64) candidate {
	return candidate{set: []Change{{field, strconv.FormatFloat(v, 'f', -1, 64)}}}
}

func word(field, v string) candidate { return candidate{set: []Change{{field, v}}} }

func (c candidate) and(others ...candidate) candidate {
	for _, o := range others {
		c.reset, c.set = slices.Concat(c.reset, o.reset), slices.Concat(c.set, o.set)
	}
	return c
}

// remedy fills in the Fix and the words of the findings of a complete joint.
func (j Joint) remedy(found []Finding) {
	for i := range found {
		f := &found[i]
		f.Fix = j.fix(*f, found)
		if len(f.Fix) == 0 {
			continue
		}
		var said []string
		for _, c := range f.Fix {
			said = append(said, c.String())
		}
		f.Remedy = strings.Join(said, "; ")
	}
}

// fix returns the first candidate that cures.
func (j Joint) fix(f Finding, found []Finding) []Change {
	loose := []Change(nil)
	for _, c := range j.candidates(f) {
		changes, left, ok := j.try(c)
		if !ok || len(changes) == 0 {
			continue
		}
		switch {
		case count(left, f.Code) >= count(found, f.Code):
		case within(left, found):
			return changes
		case loose == nil && worth(left) < worth(found):
			loose = changes
		}
	}
	return loose
}

// try makes a candidate's changes; what was left out gets the value that is
// chosen, and what does not change is no change.
func (j Joint) try(c candidate) ([]Change, []Finding, bool) {
	changes := slices.Clone(c.set)
	for _, r := range c.reset {
		changes = append(changes, Change{Field: r})
	}
	next, err := j.With(changes...)
	if err != nil {
		return nil, nil, false
	}
	m, _, err := next.model()
	if err != nil {
		return nil, nil, false
	}
	for i, h := range changes {
		if h.Value == "" {
			changes[i].Value = m.given.get(h.Field)
		}
	}
	changes = slices.DeleteFunc(changes, func(h Change) bool { return h.Value == j.get(h.Field) })
	return changes, m.check(), true
}

func count(found []Finding, code Code) (n int) {
	for _, f := range found {
		if f.Code == code {
			n++
		}
	}
	return n
}

// within reports whether no code is found more often than before, and none is
// a fault that was a warning.
func within(now, before []Finding) bool {
	for _, f := range now {
		if count(now, f.Code) > count(before, f.Code) {
			return false
		}
	}
	return worth(now) < worth(before)
}

// worth weighs findings: a fault outweighs any warnings.
func worth(found []Finding) (n int) {
	for _, f := range found {
		if n++; f.Severity == Fault {
			n += 1000
		}
	}
	return n
}

// candidates returns what may cure a finding, the smallest change first.
func (j Joint) candidates(f Finding) []candidate {
	var out []candidate
	add := func(c ...candidate) { out = append(out, c...) }
	last := len(j.Parts) - 1
	part := func(name string) candidate { // of all parts
		var c candidate
		for i := range j.Parts {
			c.reset = append(c.reset, partField(i, name))
		}
		return c
	}
	each := func(name string) { // of one part, then of all
		for i := range j.Parts {
			add(reset(partField(i, name)))
		}
		add(part(name))
	}
	depths := part("full_depth").and(part("drill_depth"))
	length, thread := reset("bolt.length", "bolt.thread", "pin_hole"), reset("bolt.thread")
	bore := part("counterbore").and(part("counterbore_depth"))
	large := word("washer", "large").and(length)
	slot := part("slot_width").and(part("slot_head"), part("slot_depth"), part("slot_whole"))
	sink := part("sink_angle").and(part("sink_diameter"))
	up := math.Ceil(f.Required - slack)
	switch f.Code {
	case LengthShort, LengthLong, CapFull:
		add(length, length.and(depths))
	case ThreadEnds, RunOut:
		add(thread, length, length.and(depths), reset("bolt.kind").and(length))
	case TaperLong, TaperShort, TaperThrough, DrawUp:
		add(part("draw_up"), thread, length, reset("bolt.taper"), length.and(reset("bolt.taper")),
			length.and(reset("bolt.taper"), part("draw_up")))
	case Engagement:
		add(reset("bolt.length"), length, part("insert"), part("insert").and(length, depths), reset("bolt.material"), depths, length.and(depths),
			length.and(depths, reset("bolt.material"), part("relief_depth")), part("relief_depth"),
			part("through").and(length, depths, reset("bolt.material")))
	case Bottoming, FullThread, DrillDepth, Wall:
		add(part("drill_depth"), depths, length.and(depths))
		if f.Code == Wall {
			add(set(partField(0, "thickness"), math.Ceil(j.Parts[0].Thickness+f.Required-f.Measured-slack)))
			add(set(partField(last, "thickness"), math.Ceil(j.Parts[last].Thickness+f.Required-f.Measured-slack)))
		}
	case HoleInterferes, HoleSmall, HoleLarge, SquareHole:
		each("hole")
		each("slot_width")
		add(part("hole").and(part("slot_width")))
	case WasherCover, Bearing:
		each("hole")
		if j.Washer == "plain" || j.Washer == "none" || j.Washer == "" {
			add(large)
		}
		each("slotted")
		add(part("relief"), word("head_washer", "plain").and(length), reset("washer").and(length),
			part("hole").and(length), slot, slot.and(part("hole"), length))
	case Edge:
		for i := range j.Parts {
			add(set(partField(i, "edge"), up))
		}
	case SpannerRoom:
		add(set("room", up))
		for i := range j.Parts {
			add(set(partField(i, "wall"), up))
		}
		add(set(partField(0, "wall"), up).and(set(partField(last, "wall"), up)))
	case Slope, SeatNarrow:
		for i := range j.Parts {
			if v := j.spotOn(i); v > 0 {
				add(set(partField(i, "seat"), v))
			}
		}
	case Fillet:
		for i := range j.Parts {
			add(set(partField(i, "wall"), math.Ceil(f.Required+j.Parts[i].Fillet-slack)))
		}
	case Counterbore:
		add(part("counterbore"), bore, bore.and(length), bore.and(length, depths))
	case Spacing:
		add(set("spacing", up))
	case PinHole:
		add(reset("pin_hole"), length)
	case Insert:
		add(depths, part("insert"), part("insert").and(length, depths))
	case SinkAngle, HeadProud, HeadSunk:
		add(part("counterbore_depth"), part("counterbore_depth").and(length), part("counterbore_depth").and(length, depths),
			bore.and(length, depths), part("sink_diameter"), sink, sink.and(part("hole"), length, depths))
	case PlateThin:
		add(set(partField(0, "thickness"), up), set(partField(0, "thickness"), up).and(sink, length, depths))
	case Turns, NeckLoose, NeckLong, SlotHead, SlotDepth, SlotThroat, Lips:
		each("slot_width")
		add(part("slot_head"), part("slot_depth"), part("slot_whole"), part("slot_whole").and(length),
			reset("bolt.neck"), reset("bolt.neck").and(length),
			part("overlap"), slot, slot.and(length), slot.and(length, reset("bolt.neck")),
			reset("bolt.kind", "bolt.neck").and(length))
	case HookCover, EdgeGap:
		add(part("overlap"))
	case PackingThin:
		add(part("packing").and(length), part("packing").and(length, part("slot_width"), part("overlap")))
	case BrittleHole:
		for i := range j.Parts {
			add(reset(partField(i, "hole")), word(partField(i, "material"),
				"steel").and(reset(partField(i, "brittle"))))
		}
	case Relief:
		add(part("relief"), part("relief_depth"), part("relief").and(part("relief_depth")),
			part("relief").and(part("relief_depth"), depths))
	case PullFlat:
		add(set("pull", steepest))
	case PullAcross:
		add(reset("pull_across"))
	case MaterialUnknown:
		for i := range j.Parts {
			add(word(partField(i, "material"), "steel").and(length, depths, reset("bolt.material")))
		}
	}
	// All that can be chosen, then thicker parts as well.
	all := length.and(depths, reset("bolt.neck", "bolt.taper", "bolt.material", "washer"), slot, sink,
		part("through"))
	for _, name := range []string{"hole", "overlap", "packing", "draw_up", "relief", "relief_depth", "counterbore",
		"counterbore_depth", "slotted", "slope", "wall", "fillet", "insert", "seat"} {
		all = all.and(part(name))
	}
	all = all.and(reset("spacing"))
	anew := all.and(reset("bolt.kind", "bolt.form"))
	ways := []candidate{all, anew, anew.and(word("basis", "proportion"))}
	add(ways...)
	if f.Code == Engagement || f.Code == BrittleHole { // nothing else helps: a part of another material
		add(word(partField(last, "material"), "steel").and(all, reset(partField(last, "brittle"))))
	}
	for i := range j.Parts { // thicker or thinner parts, one, then all
		for _, k := range []float64{1.2, 1.5, 2, 3, 5, 8, 12} {
			thick := set(partField(i, "thickness"), j.scaled(i, k))
			add(thick.and(length, depths), thick.and(all))
		}
	}
	for _, k := range []float64{1.2, 1.5, 2, 3, 5, 8, 12, 0.8, 0.6, 0.4, 0.25} {
		var other candidate
		for i := range j.Parts {
			other = other.and(set(partField(i, "thickness"), j.scaled(i, k)))
		}
		for _, w := range ways {
			add(other.and(w))
		}
	}
	if f.Code == TaperLong { // a thinner first part, and a second one that the taper holds in
		for _, k := range []float64{0.8, 0.6, 0.4, 0.25} {
			add(set(partField(0, "thickness"), j.scaled(0, k)).and(set(partField(1, "thickness"),
				math.Max(j.Parts[1].Thickness, math.Ceil(j.Bolt.Thread.D))), all))
		}
	}
	return out
}

// spotOn returns how wide a spot face on a part must be, in whole millimetres; 0
// where nothing bears on it.
func (j Joint) spotOn(i int) float64 {
	m, _, err := j.model()
	if err != nil || !j.bornOn(i) {
		return 0
	}
	h, w := m.fit.Head, m.head
	if i > 0 || j.Scene == Stud {
		h, w = nutHead(m), m.washer
	}
	return math.Ceil(math.Max(reachOf(h, w), m.fit.Eye.Collar) + 1)
}

// scaled returns the thickness of a part times k, in whole millimetres.
func (j Joint) scaled(i int, k float64) float64 {
	return math.Ceil(math.Max(j.Parts[i].Thickness, j.Bolt.Thread.D/2) * k)
}

// Fixed returns the joint, complete, with the remedies of its findings applied
// until nothing is found, and what was changed. What no change of the joint can
// cure is left. The error is that of Settle.
func (j Joint) Fixed() (Joint, []Change, error) {
	var made []Change
	m, _, err := j.model()
	if err != nil {
		return j, nil, err
	}
	for range 40 {
		found := m.check()
		var fix []Change
		for _, f := range found {
			if fix = m.given.fix(f, found); len(fix) > 0 {
				break
			}
		}
		if len(fix) == 0 {
			break
		}
		next, err := m.given.With(fix...)
		if err != nil {
			return j, nil, err
		}
		if m, _, err = next.model(); err != nil {
			return j, nil, err
		}
		for _, c := range fix {
			made = slices.DeleteFunc(made, func(o Change) bool { return o.Field == c.Field })
			made = append(made, c)
		}
	}
	slices.SortStableFunc(made, func(a, b Change) int { return cmp.Compare(a.Field, b.Field) })
	return m.given, made, nil
}
