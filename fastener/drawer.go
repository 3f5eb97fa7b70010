package fastener

import (
	"reflect"
	"sync"

	"boltplate/drawing"
)

// A Drawer draws as [Draw] does and keeps what it has worked out: a part that comes
// again, in a list of many, costs its caption and its properties only. The zero Drawer
// is ready, a nil one keeps nothing. Many goroutines may use one at once.
//
// What it returns shares its views with other drawings. It may be encoded, placed, and
// given further views and items; the items of its views are not to be changed.
type Drawer struct {
	mu   sync.Mutex
	kept map[drawn]*composition
	ring [mostKept]drawn // what is kept, the oldest at next
	next int
}

// mostKept is how many compositions a Drawer keeps: each has some 20 kB.
const mostKept = 256

// drawn is what a composition depends on.
type drawn struct {
	part                          Fastener
	opt                           Options
	views                         string
	projection                    Projection
	construction, details, legend bool
}

// Draw returns a drawing of f, equal to that of the function Draw, with its errors.
func (w *Drawer) Draw(f Fastener, opt DrawOptions) (*drawing.Drawing, error) {
	if w == nil || !lasting(f) || !reflect.ValueOf(opt.Options).Comparable() {
		return Draw(f, opt)
	}
	key := drawn{part: f, opt: opt.Options, projection: opt.Projection, construction: opt.Construction, details: opt.Details, legend: opt.Legend}
	if opt.Views != nil {
		key.views = "of " // no views are the usual ones, an empty list is an error
		for _, v := range opt.Views {
			key.views += string(rune(v))
		}
	}
	w.mu.Lock()
	c := w.kept[key]
	w.mu.Unlock()
	if c == nil {
		var err error
		if c, err = compose(f, opt); err != nil {
			return nil, err
		}
		w.keep(key, c)
	}
	return c.described(opt), nil
}

// lasting reports whether a fastener is a value of this package, which nobody can change
// while it is a key.
func lasting(f Fastener) bool {
	if a, ok := f.(Bolted); ok {
		for _, p := range [...]Fastener{a.Bolt, a.Nut, a.Washer} {
			if _, again := p.(Bolted); p != nil && (again || !lasting(p)) {
				return false
			}
		}
		return true
	}
	t := reflect.TypeOf(f)
	return t != nil && t.Kind() == reflect.Struct && t.PkgPath() == reflect.TypeFor[HexBolt]().PkgPath() && t.Comparable()
}

// keep keeps a composition in the place of the oldest one.
func (w *Drawer) keep(key drawn, c *composition) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.kept == nil {
		w.kept = make(map[drawn]*composition, mostKept)
	}
	if w.kept[key] != nil {
		return // another goroutine was faster
	}
	delete(w.kept, w.ring[w.next])
	w.kept[key], w.ring[w.next] = c, key
	w.next = (w.next + 1) % mostKept
}
