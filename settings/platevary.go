package settings

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"sync"

	"boltplate/drawing/sheet"
	"boltplate/exercise"
	"boltplate/fastener/joint"
	"boltplate/fastener/schedule"
	"boltplate/thread"
)

// A Deal gives the figures of a plate the data of one student.
type Deal struct {
	Seed  string
	Place int // in the list, from 0
	Decks *Decks
}

// Decks are the cards of the figures of a plate, which are made once for a
// class. They may be used by many goroutines.
type Decks struct {
	mu sync.Mutex
	of map[int][]card
}

// NewDecks returns no cards; they are made when the first plate asks for them.
func NewDecks() *Decks { return &Decks{of: map[int][]card{}} }

// A card is the data that a figure may have.
type card struct {
	keys  map[string]any // of the figure, with no choice left
	joint *joint.Joint   // of a joint
}

func (d *Decks) cards(index int, make func() []card) []card {
	d.mu.Lock()
	defer d.mu.Unlock()
	cards, ok := d.of[index]
	if !ok {
		cards = make()
		d.of[index] = cards
	}
	return cards
}

// mostCards bounds how many cards a figure may have.
const mostCards = 2000

// A choice is a key of a figure with the values that it may have.
type choice struct {
	key    string
	values []any
}

// vary puts the data of the student in the place of the choices of a figure. It
// reports whether the figure can be read.
func (r *Plate) vary(t *figureTable) bool {
	choices, ok := r.choices(t)
	if !ok || len(choices) == 0 {
		return ok
	}
	first := choices[0].key
	if r.Deal == nil {
		r.failAt(t, first, "%s: a choice for every student; boltplate handout makes the sheets of a class, and a sheet needs one value", first)
		return false
	}
	cards := r.Deal.Decks.cards(t.index, func() []card {
		if _, ok := t.keys["joint"]; ok {
			return r.jointCards(t, choices)
		}
		return r.partCards(t, choices)
	})
	if len(cards) == 0 {
		r.failAt(t, first, "%s: none of these can be drawn with the other keys of the figure at the scale of the sheet", first)
		return false
	}
	c := cards[exercise.Deal(r.Deal.Seed, "figure "+strconv.Itoa(t.index+1), len(cards), r.Deal.Place)]
	t.keys, t.joint = c.keys, c.joint
	return true
}

// choices returns what a figure leaves open.
func (r *Plate) choices(t *figureTable) (out []choice, ok bool) {
	_, isJoint := t.keys["joint"]
	kinds := map[string]func(any) ([]any, error){"size": sizeChoice, "length": lengthChoice, "grip": lengthChoice}
	if isJoint {
		kinds = map[string]func(any) ([]any, error){"size": sizeChoice, "thickness": thicknessChoice, "fault": faultChoice}
	}
	ok = true
	for _, key := range slices.Sorted(maps.Keys(kinds)) {
		v, given := t.keys[key]
		if !given {
			continue
		}
		values, err := kinds[key](v)
		switch {
		case err != nil:
			r.failAt(t, key, "%s: %v", key, err)
			ok = false
		case values != nil:
			out = append(out, choice{key, values})
		case isJoint:
			out = append(out, choice{key, []any{v}})
		}
	}
	n := 1
	for _, c := range out {
		if n *= len(c.values); n > mostCards {
			r.failAt(t, c.key, "%s: the figure has more than %d combinations; give fewer values", c.key, mostCards)
			return nil, false
		}
	}
	return out, ok
}

// sizeChoice reads ["M16", "M20"] or "M8..M24", the first choices of ISO 261
// between two sizes. It returns nil for one size.
func sizeChoice(v any) ([]any, error) {
	if list, ok := v.([]any); ok {
		for _, one := range list {
			if _, ok := one.(string); !ok {
				return nil, fmt.Errorf(`%v is no size; write a list such as ["M16", "M20"]`, one)
			}
		}
		return notEmpty(list, `["M16", "M20"]`)
	}
	from, to, ok := between(v)
	if !ok {
		return nil, nil
	}
	a, err := thread.Parse(from)
	if err != nil {
		return nil, err
	}
	b, err := thread.Parse(to)
	if err != nil {
		return nil, err
	}
	var out []any
	for _, d := range thread.Sizes() {
		if th, err := thread.Coarse(d); err == nil && th.Choice() == 1 && d >= a.D && d <= b.D {
			out = append(out, th.String())
		}
	}
	return notEmpty(out, `"M16..M24", from the smaller to the larger`)
}

// lengthChoice reads [80, 100] or "80..140", the preferred lengths of ISO 888
// from one to the other. It returns nil for one length.
func lengthChoice(v any) ([]any, error) {
	if list, ok := v.([]any); ok {
		var out []any
		for _, one := range list {
			if _, _, ok := between(one); ok {
				more, err := lengthChoice(one)
				if err != nil {
					return nil, err
				}
				out = append(out, more...)
				continue
			}
			if _, ok := asNumber(one); !ok {
				return nil, fmt.Errorf("%v is no length; write a list such as [80, 100]", one)
			}
			out = append(out, one)
		}
		return notEmpty(out, "[80, 100]")
	}
	from, to, ok := between(v)
	if !ok {
		return nil, nil
	}
	a, errA := strconv.ParseFloat(from, 64)
	b, errB := strconv.ParseFloat(to, 64)
	if errA != nil || errB != nil {
		return nil, fmt.Errorf(`%v is no range of lengths; write "80..140"`, v)
	}
	var out []any
	for _, l := range thread.Lengths() {
		if l >= a && l <= b {
			out = append(out, l)
		}
	}
	return notEmpty(out, `"80..140", between which there are preferred lengths`)
}

// thicknessChoice reads a list with a list of thicknesses, or a range of
// preferred ones, for each part of a joint, and returns lists of thicknesses.
func thicknessChoice(v any) ([]any, error) {
	list, ok := v.([]any)
	if !ok {
		return nil, fmt.Errorf(`%v is no choice of thicknesses; write a list for each part, such as [[16, 20, 25], [20, 30]]`, v)
	}
	all := []any{[]float64(nil)}
	for _, part := range list {
		values, err := lengthChoice(part)
		if err != nil {
			return nil, err
		}
		if values == nil {
			values = []any{part}
		}
		var next []any
		for _, before := range all {
			for _, one := range values {
				n, ok := asNumber(one)
				if !ok || !(n > 0) {
					return nil, fmt.Errorf("%v is no thickness", one)
				}
				next = append(next, append(slices.Clone(before.([]float64)), n))
			}
			if len(next) > mostCards {
				return nil, fmt.Errorf("more than %d combinations; give fewer values", mostCards)
			}
		}
		all = next
	}
	return all, nil
}

// faultChoice reads fault = true.
func faultChoice(v any) ([]any, error) {
	if _, ok := v.(bool); !ok {
		return nil, fmt.Errorf("must be true, for one thing that is wrong with the joint, or false")
	}
	return []any{v}, nil
}

// between reads "A..B".
func between(v any) (from, to string, ok bool) {
	s, _ := v.(string)
	from, to, ok = strings.Cut(s, "..")
	return strings.TrimSpace(from), strings.TrimSpace(to), ok
}

func notEmpty(values []any, want string) ([]any, error) {
	if len(values) == 0 {
		return nil, fmt.Errorf("nothing to choose from; write %s", want)
	}
	return values, nil
}

// combined calls f with every combination of the values of choices.
func combined(choices []choice, f func(values map[string]any)) {
	values := map[string]any{}
	var next func(i int)
	next = func(i int) {
		if i == len(choices) {
			f(values)
			return
		}
		for _, v := range choices[i].values {
			values[choices[i].key] = v
			next(i + 1)
		}
	}
	next(0)
}

// partCards returns the combinations that can be drawn and have room.
func (r *Plate) partCards(t *figureTable, choices []choice) (out []card) {
	combined(choices, func(values map[string]any) {
		keys := maps.Clone(t.keys)
		maps.Copy(keys, values)
		probe := *r
		probe.errs, probe.more = nil, 0
		sub := &figureTable{index: t.index, keys: keys}
		kind, ok := probe.sort(sub)
		if !ok {
			return
		}
		if kind.read == nil { // steps: what can be drawn can be drawn in steps
			sub.keys = maps.Clone(keys)
			delete(sub.keys, kind.key)
			kind.read = (*Plate).fastenerFigure
		}
		f, ok := kind.read(&probe, sub)
		if probe.common(sub, &f) && ok && len(probe.errs) == 0 && probe.hasRoom(f) {
			out = append(out, card{keys: keys})
		}
	})
	return out
}

// hasRoom reports whether a figure has room on a sheet of its own, at the scale
// that it must have.
func (r *Plate) hasRoom(f sheet.Figure) bool {
	if r.Sheet.Scale == 0 && f.Scale <= 0 {
		return true // the sheet will find one
	}
	p := r.Sheet
	p.Figures, p.Pages, p.Exercise = []sheet.Figure{f}, 1, sheet.Answer
	_, err := p.Sheets(context.Background())
	return err == nil
}

// jointCards returns the joints that work, or with fault = true those with one
// fault.
func (r *Plate) jointCards(t *figureTable, choices []choice) (out []card) {
	keys := maps.Clone(t.keys)
	for _, c := range choices {
		delete(keys, c.key)
	}
	base, err := ReadJoint(r.Loader.Open, r.besidePlate(keys["joint"]))
	if err != nil {
		return []card{{keys: keys}} // the figure itself says what is wrong
	}
	combined(choices, func(values map[string]any) {
		j := base
		j.Parts = slices.Clone(base.Parts)
		if s, ok := values["size"].(string); ok {
			th, length, err := schedule.ParseDesignation(s, thread.Parser{})
			if err != nil {
				return
			}
			j.Bolt.Thread, j.Bolt.Length = th, length
		}
		for i, v := range valueOf[[]float64](values["thickness"]) {
			if i >= len(j.Parts) {
				return
			}
			j.Parts[i].Thickness = v
			j.Bolt.Length = 0
		}
		if !valueOf[bool](values["fault"]) {
			if found, err := j.Check(); err == nil && len(found) == 0 {
				out = append(out, card{keys, &j})
			}
			return
		}
		faults, err := exercise.Faults(j)
		if err != nil {
			return
		}
		for i := range faults {
			out = append(out, card{keys, &faults[i].Joint})
		}
	})
	return out
}

func valueOf[T any](v any) T {
	t, _ := v.(T)
	return t
}
