package fastener

import (
	"fmt"
	"math"
	"slices"

	"boltplate/drawing"
	"boltplate/internal/solid"
	"boltplate/thread"
)

// TaperBolt is a headless taper bolt: a tapered shank, which a taper hole
// holds and centres, with a thread at its small end. The taper runs from the
// large end to where the thread and its run-out begin, and steps down to the
// thread there. Some books make the large end 1.33D (Low, 1887) instead of
// 1.2D.
//
// Views have the face of the large end at x = 0; the grip of a bolted one is
// measured from there.
type TaperBolt struct {
	Thread       thread.Thread
	Length       float64 // from the large end to the point, mm
	ThreadLength float64 // mm; 0 means by ISO 888
	Taper        int     // n of the taper 1:n on the diameter: 10, 12, 15, 20, 30, 50 or 100; 0 means 30
}

func taperBoltKind() KindInfo {
	return KindInfo{Name: "taper-bolt", Title: "headless taper bolt", Length: true, Views: allViews(), Default: []drawing.Direction{drawing.Front, drawing.PointEnd},
		Options: append([]Option{optThread(), choice("taper", taperWords()...)}, optNuts()...),
		make: func(s Spec) Fastener {
			return TaperBolt{Thread: s.Thread, Length: s.Length, ThreadLength: s.ThreadLength, Taper: taperNamed(s.Taper)}
		}}
}

// usualTaper is the taper of a bolt of which none is named (common practice).
const usualTaper = 30

// boltTapers are those of ISO 1119 that hold a bolt and can be driven out
// again, the usual one first.
func boltTapers() []int { return []int{usualTaper, 10, 12, 15, 20, 50, 100} }

func taperWords() []string {
	var words []string
	for _, n := range boltTapers() {
		words = append(words, taperWord(n))
	}
	return words
}

func taperWord(n int) string { return fmt.Sprintf("1:%d", n) }

func taperNamed(word string) int {
	for _, n := range boltTapers() {
		if is(word, taperWord(n)) {
			return n
		}
	}
	return 0
}

// Kind returns "taper-bolt".
func (TaperBolt) Kind() string { return "taper-bolt" }

func (b TaperBolt) taper() int {
	if b.Taper == 0 {
		return usualTaper
	}
	return b.Taper
}

// Designation returns for instance "Taper bolt 1:30 M20 × 120".
func (b TaperBolt) Designation() string {
	return "Taper bolt " + taperWord(b.taper()) + " " + b.Thread.String() + times(b.Length)
}

// Validate reports what is wrong with the description, as a *FieldError. A
// taper whose small end would be thinner than the thread is refused with the
// greatest length that works.
func (b TaperBolt) Validate() error {
	_, err := b.resolve()
	return err
}

// A taperForm is the tapered part of the bolt.
type taperForm struct {
	t     thread.Thread
	n     int
	taper drawing.Quantity
	angle drawing.Quantity // of the cone
	large drawing.Quantity // diameters of its ends
	small drawing.Quantity
	// length is that of the taper.
	length drawing.Quantity
}

func (b TaperBolt) resolve() (*bolt, error) {
	kind, t := b.Kind(), b.Thread
	if err := checkThread(kind, t); err != nil {
		return nil, err
	}
	n := b.taper()
	if !slices.Contains(boltTapers(), n) {
		return nil, &FieldError{kind, "taper", taperWord(n), "not a taper of this kind; it has 1:10, 1:12, 1:15, 1:20, 1:30, 1:50, 1:100"}
	}
	f := &taperForm{t: t, n: n}
	f.taper = drawing.Quantity{Letter: "C", Name: "taper on the diameter", Rule: taperWord(n), Value: 1 / float64(n), Unit: drawing.One,
		Source: sourceISO1119, Status: drawing.Published}
	if b.Taper == 0 {
		f.taper.Source, f.taper.Status = "common practice; a taper of "+sourceISO1119, drawing.CommonPractice
	}
	f.angle = drawing.Quantity{Letter: "a", Name: "cone angle", Rule: "2 arctan(C/2)", Value: coneAngle(n), Unit: drawing.Degree,
		Source: sourceISO1119, Status: drawing.Published}
	f.large = drawing.Quantity{Letter: "d2", Name: "large end diameter", Rule: "1.2D", Value: 1.2 * t.D, Source: "common practice", Status: drawing.CommonPractice}
	out := &bolt{kind: kind}
	if err := f.settle(out, b.Length, b.ThreadLength); err != nil {
		return nil, err
	}
	out.form = f.form()
	return out, nil
}

const sourceISO1119 = "ISO 1119:1998"

// A taperRow is a taper 1:n of ISO 1119 with its cone angle, degrees.
type taperRow struct {
	n     int
	angle float64
}

// taperTable holds the tapers of ISO 1119 that a bolt can have. The angles are
// computed from the tapers.
func taperTable() []taperRow {
	return []taperRow{{10, 5.72481}, {12, 4.771888}, {15, 3.818305}, {20, 2.864192}, {30, 1.909683}, {50, 1.145877}, {100, 0.572953}}
}

func coneAngle(n int) float64 {
	for _, r := range taperTable() {
		if r.n == n {
			return r.angle
		}
	}
	return 2 * math.Atan(1/float64(2*n)) * 180 / math.Pi
}

// most returns how long the taper can be before its small end is thinner than
// the thread.
func (f *taperForm) most() float64 { return (f.large.Value - f.t.D) * float64(f.n) }

// least is how long a taper must be to hold and to centre: the nominal
// diameter (common practice).
func (f *taperForm) least() float64 { return f.t.D }

// settle divides the length into taper, run-out and thread.
func (f *taperForm) settle(b *bolt, length, given float64) error {
	t := f.t
	if err := checkLength(b.kind, "length", length, "the length from the large end to the point"); err != nil {
		return err
	}
	th := drawing.Quantity{Letter: "b", Name: "thread length", Rule: threadLengthRule(length), Value: thread.ThreadLength(t.D, length),
		Source: sourceISO888, Status: drawing.Published}
	if given != 0 {
		if err := checkLength(b.kind, "thread", given, "the thread length"); err != nil {
			return err
		}
		th.Rule, th.Value, th.Source, th.Status = "", given, "as described", drawing.Given
	}
	x := t.RunOut()
	taper := length - th.Value - x
	if taper < f.least()-1e-9 {
		if room := length - x - f.least(); given != 0 && room > 2*t.P {
			return fieldErr(b.kind, "thread", given, "leaves no taper as long as the nominal diameter; at most %s mm", mm(room))
		}
		need := func(l float64) float64 { return f.least() + x + thread.ThreadLength(t.D, l) }
		if given != 0 {
			need = func(float64) float64 { return f.least() + x + given }
		}
		return fieldErr(b.kind, "length", length, "too short: the thread, its run-out and a taper as long as the nominal diameter come to %s mm; at least %s mm",
			mm(need(length)), mm(shortestFor(need)))
	}
	small := f.large.Value - taper/float64(f.n)
	if taper > f.most()+1e-9 {
		longest := f.longest()
		if given != 0 {
			longest = f.most() + x + given
		}
		return fieldErr(b.kind, "length", length,
			"too long: at its small end the taper of %s would be %s mm thick, thinner than the thread of %s mm; at most %s mm, or a thread length of at least %s mm",
			taperWord(f.n), mm(small), mm(t.D), mm(longest), mm(length-x-f.most()))
	}
	f.small = drawing.Quantity{Letter: "ds", Name: "small end diameter", Rule: "d2 - C Lt", Value: small,
		Source: "follows from the large end, the taper and its length", Status: drawing.Derived}
	f.length = drawing.Quantity{Letter: "Lt", Name: "length of the taper", Rule: "L - b - x", Value: taper,
		Source: "follows from the lengths", Status: drawing.Derived}
	b.length, b.thread = lengthQuantity(length), threading{limit: length - th.Value, length: th}
	b.shank = shank{t: t, start: taper, limit: length - th.Value, end: length}
	return nil
}

// longest returns the greatest length whose taper is not too long. The thread
// length goes up in steps with the length (ISO 888), so that each step is
// tried.
func (f *taperForm) longest() float64 {
	best := 0.0
	for _, step := range [3][2]float64{{0, 125}, {125, 200}, {200, maxLength}} {
		l := math.Min(step[1], f.most()+f.t.RunOut()+thread.ThreadLength(f.t.D, step[1]))
		if l > step[0] {
			best = math.Max(best, l)
		}
	}
	return best
}

// form returns the taper as the head of a bolt.
func (f *taperForm) form() *form {
	l, r0, r1 := f.length.Value, f.large.Value/2, f.small.Value/2
	g := &form{start: l, origin: drawing.Pt(0, -r0)}
	g.quantities = []drawing.Quantity{f.taper, f.angle, f.large, f.small, f.length}
	g.build = func(k look, m *model) {
		cone := solid.Cone(solid.X(), 0, r0, l, r1)
		// Seen along the axis the small end stands between the large one and
		// the thread, at times too near to either to be drawn.
		if least := k.style.Part(k.style.ThreadGap()); !k.exact && (r1-f.t.D/2 < least || r0-r1 < least) {
			cone = cone.Mark(solid.NotAlong, solid.At(l))
		}
		m.add(cone)
	}
	g.annotate = func(b *builder, dir drawing.Direction, rank drawing.Rank) {
		switch dir {
		case drawing.Front, drawing.SideView:
			b.linear(drawing.Left, rank, diameterLabel(f.large), 0, -r0, 0, r0)
			b.linear(drawing.Below, rank, label(f.length), 0, -r0, l, -r1)
			at := 0.4 * l
			b.add(drawing.RoleDimension, drawing.Leader{Tip: drawing.Pt(at, r0-at/float64(2*f.n)), Angle: 60, Rank: rank,
				Label: drawing.Label{Quantity: f.taper, Symbol: drawing.TaperSymbol, Number: taperWord(f.n)}})
		case drawing.HeadEnd:
			b.add(drawing.RoleDimension, drawing.Diameter{Label: diameterLabel(f.large), Radius: r0, Angle: 50, Rank: 2})
		}
	}
	return g
}

// Quantities returns the dimensions of the bolt with their rules and sources.
func (b TaperBolt) Quantities() ([]drawing.Quantity, error) { return boltQuantities(b) }

// View returns one view of the bolt: front, side, head, which is that on the
// large end, point or isometric.
func (b TaperBolt) View(dir drawing.Direction, opt Options) (drawing.View, error) {
	return boltView(b, dir, opt)
}
