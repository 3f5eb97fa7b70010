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
	Extra
}

func taperBoltKind() KindInfo {
	return KindInfo{Name: "taper-bolt", Title: "headless taper bolt", Length: true, Views: allViews(),
		Default: []drawing.Direction{drawing.Front, drawing.PointEnd},
		Options: append([]Option{optThread(), choice("taper", taperWords()...)}, optNuts()...),
		variants: []variant{{families: []string{familyBolts}, groups: []*group{taperRules, taperEnd},
			thread: byISO888}},
		how: map[stage]string{
			stageShape: "Draw the circles of both ends about the axis",
			stageHead:  "Draw the large end; step off on the axis as many units as the taper says and at their end one unit across, half to each side; the parallel through a corner of the large end is the edge of the taper, down to the length of the taper"},
		make: func(s Spec) Fastener {
			return TaperBolt{Thread: s.Thread, Length: s.Length, ThreadLength: s.ThreadLength,
				Taper: taperNamed(s.Taper), Extra: s.Extra}
		}}
}

const nameTaper = "taper on the diameter"

// The sizes of a taper bolt. The taper is of ISO 1119, whose cone angles follow
// from the tapers.
var (
	taperRules = groupOf(usualTaperSize(), coneAngleSize())
	taperEnd   = groupOf(practice("d2", "large end diameter", "1.2D"))
	taperCone  = groupOf(
		follows("ds", "small end diameter", "d2 - C Lt", "the large end, the taper and its length"),
		follows("Lt", "length of the taper", "L - b - x", "the lengths"))

	statedTapers = taperSizes()
)

// taperSizes returns each taper as the description of a bolt says it.
func taperSizes() map[int]*size {
	out := map[int]*size{}
	for _, n := range boltTapers() {
		s := published("C", nameTaper, fmt.Sprintf("1/%d", n), asDescribed+"; one of "+sourceISO1119)
		s.unit, s.status = drawing.One, drawing.Given
		out[n] = &s
	}
	return out
}

func usualTaperSize() size {
	s := practiceBy("C", nameTaper, "1/30", commonPractice+"; one of "+sourceISO1119).fix()
	s.unit = drawing.One
	return s
}

func coneAngleSize() size {
	s := follows("a", "cone angle", "2 arctan(C/2)", "the taper").angle()
	s.source = sourceISO1119 + ", rule of the cone angle"
	return s
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
	return "Taper bolt " + taperWord(b.taper()) + " " + b.Thread.String() + times(b.Length) + b.supplied()
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
		return nil, &FieldError{kind, "taper", taperWord(n),
			"not a taper of this kind; it has 1:10, 1:12, 1:15, 1:20, 1:30, 1:50, 1:100"}
	}
	out := newBolt(kind, "", b.Extra, t)
	if err := out.begin(b.Length, Proportion, "the length from the large end to the point"); err != nil {
		return nil, err
	}
	z := &out.z
	z.use(taperRules)
	if b.Taper != 0 {
		*z.at("C") = statedTapers[n].unsettled()
	}
	z.use(taperEnd)
	if err := z.solve(); err != nil {
		return nil, err
	}
	if err := z.needs("d2", "D"); err != nil {
		return nil, err
	}
	f := &taperForm{t: t, n: n, taper: z.size("C"), large: z.size("d2")}
	if err := f.settle(out, b.ThreadLength); err != nil {
		return nil, err
	}
	out.form = f.form()
	out.fits.Taper = TaperFit{Length: f.length.Value, Large: f.large.Value, Small: f.small.Value}
	return out, nil
}

const sourceISO1119 = "ISO 1119:1998"

// most returns how long the taper can be before its small end is thinner than
// the thread.
func (f *taperForm) most() float64 { return (f.large.Value - f.t.D) * float64(f.n) }

// least is how long a taper must be to hold and to centre: the nominal
// diameter (common practice).
func (f *taperForm) least() float64 { return f.t.D }

// settle divides the length into taper, run-out and thread.
func (f *taperForm) settle(b *bolt, given float64) error {
	if given != 0 {
		if err := checkLength(b.kind, "thread", given, "the thread length"); err != nil {
			return err
		}
		b.z.list[b.place] = settled{size: sizeThread, value: given, source: sizeThread.source,
			status: sizeThread.status}
	} else if err := b.cutByRule(&threadRule{}); err != nil {
		return err
	}
	b.threaded(false)
	t, length := f.t, b.length.Value
	taper := length - b.thread.length.Value - t.RunOut()
	if err := f.check(b, taper, given); err != nil {
		return err
	}
	b.z.use(taperCone)
	b.threadFigures()
	if err := b.z.solve(); err != nil {
		return err
	}
	f.small, f.length = b.z.size("ds"), b.z.size("Lt")
	b.shank.start, b.shank.limit, b.shank.end = f.length.Value, b.thread.limit, length
	return nil
}

// check refuses a taper that is too short to hold, or so long that its small
// end is thinner than the thread.
func (f *taperForm) check(b *bolt, taper, given float64) error {
	t, length := f.t, b.length.Value
	x := t.RunOut()
	if taper < f.least()-1e-9 {
		if room := length - x - f.least(); given != 0 && room > 2*t.P {
			return fieldErr(b.kind, "thread", given, "leaves no taper as long as the nominal diameter; at most %s mm",
				mm(room))
		}
		need := func(l float64) float64 { return f.least() + x + thread.ThreadLength(t.D, l) }
		if given != 0 {
			need = func(float64) float64 { return f.least() + x + given }
		}
		return fieldErr(b.kind, "length", length,
			"too short: the thread, its run-out and a taper as long as the nominal diameter come to %s mm; at least %s mm",
			mm(need(length)), mm(shortestFor(need)))
	}
	if taper > f.most()+1e-9 {
		longest := f.longest()
		if given != 0 {
			longest = f.most() + x + given
		}
		return fieldErr(b.kind, "length", length,
			"too long: at its small end the taper of %s would be %s mm thick, thinner than the thread of %s mm; at most %s mm, or a thread length of at least %s mm",
			taperWord(f.n), mm(f.large.Value-taper/float64(f.n)), mm(t.D), mm(longest), mm(length-x-f.most()))
	}
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
			b.add(drawing.RoleDimension, drawing.Leader{Tip: drawing.Pt(at, r0-at/float64(2*f.n)),
				Angle: 60, Rank: rank,
				Label: drawing.Label{Quantity: f.taper, Symbol: drawing.TaperSymbol, Number: taperWord(f.n)}})
		case drawing.HeadEnd:
			b.add(drawing.RoleDimension, drawing.Diameter{Label: diameterLabel(f.large), Radius: r0,
				Angle: 50, Rank: 2})
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
