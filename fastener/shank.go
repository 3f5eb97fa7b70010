package fastener

import (
	"boltplate/drawing"
	"boltplate/rule"
	"boltplate/thread"
	"math"
)

// A shank is the cylinder of a bolt from x = start to x = end, threaded from
// limit to the end.
type shank struct {
	t                 thread.Thread
	start, limit, end float64
	cut               undercut
	tip               tip     // the end of the thread; zero for the usual chamfer
	kept              float64 // how much of it from start on the run-out must leave free
}

// A span is a stretch of the axis.
type span struct{ from, to float64 }

// A threading is the thread of a bolt as it was decided.
type threading struct {
	limit  float64 // where the usable thread begins
	length drawing.Quantity
	toHead bool
}

// byISO888 is the thread length of a bolt.
var byISO888 = groupOf(size{letter: "b", name: sizeThread.name, rule: thread.ThreadLengthRule(),
	source: thread.SourceLengths, status: drawing.Published}.
	branching(lengths(125), lengths(200), lengths(201)))

// lengths returns values for which a rule of a thread's length is chosen.
func lengths(l float64) rule.Values {
	return rule.Values{{Letter: "D", Value: 20}, {Letter: "L", Value: l}}
}

// A wish is how a bolt is to be threaded.
type wish struct {
	given    float64 // thread length asked for, mm; 0 for the rule
	toHead   bool    // threaded to the head, however long it is
	basis    Basis
	standard string // for messages
	by       *threadRule
}

// A threadRule says how far screws of a standard are threaded that does not go
// by ISO 888: up to a nominal length as far as the head, and longer ones by
// their own length. Those too short for it are threaded to the head on either
// basis.
type threadRule struct {
	toHead float64 // nominal length up to which they are threaded to the head, mm; 0 for none
	short  bool    // the thread ends 2P under the head in place of 3P
	group  *group  // of longer ones; nil means by ISO 888
	column *size   // or the column of a table, with what it has
	length float64
	status drawing.Status
}

// threadsToHead are the lengths of threads that reach as far towards the head
// as they can, by the letters of what keeps them from it.
var threadsToHead = toHeadRules("", "N", "k", "k - N", "g2", "p1", "p", "T", "c", "c - N")

func toHeadRules(letters ...string) map[string]*size {
	out := map[string]*size{}
	for _, l := range letters {
		text := "L - "
		if l != "" {
			text += l + " - "
		}
		s := follows("b", sizeThread.name, text+"a1", "the length: threaded as far as the head")
		out[l] = &s
	}
	return out
}

// settle decides how far the bolt is threaded, and with it the shank, and works
// out its sizes.
func (b *bolt) settle(w wish) error {
	start, plain, letters := b.plainPart()
	t, length := b.shank.t, b.length.Value
	if length-plain <= 2*t.P {
		return fieldErr(b.kind, "length", length, "leaves no room for a thread; more than %s mm", mm(plain+2*t.P))
	}
	b.shank.start, b.shank.end = start, length
	if err := b.cut(w, span{plain, length}, letters); err != nil {
		return err
	}
	if b.groove != "" && !b.shank.cut.present() {
		return &FieldError{b.kind, "undercut", b.groove,
			"belongs to a thread that reaches to the head, and this one ends on the shank; leave it out, or use a shorter length"}
	}
	b.shank.limit = b.thread.limit
	b.threadFigures()
	if err := b.z.solve(); err != nil {
		return err
	}
	return b.setTip()
}

// plainPart returns where the round shank starts, up to where it must be
// without thread, and the letters of what makes it so.
func (b *bolt) plainPart() (start, plain float64, letters string) {
	f := b.form
	if f == nil {
		if b.neck.present() {
			return b.neck.length.Value, b.neck.length.Value, b.neck.length.Letter
		}
		return 0, 0, ""
	}
	if f.plainLetter != "" && f.plain >= f.start {
		return f.start, f.plain, f.plainLetter
	}
	if f.start > 0 {
		letters = "N"
	}
	return f.start, f.start, letters
}

// cut decides how long the thread is; free is the stretch that may carry one.
func (b *bolt) cut(w wish, free span, letters string) error {
	t, length, room := b.shank.t, b.length.Value, free.to-free.from
	if w.given != 0 {
		return b.cutAsGiven(w, room)
	}
	by := w.by
	if by == nil {
		by = &threadRule{}
	}
	if w.toHead || length <= by.toHead {
		return b.cutToHead(by, free, letters)
	}
	if err := b.cutByRule(by); err != nil {
		return err
	}
	own := b.thread.length.Value
	if own+t.RunOut() <= room {
		return nil
	}
	if w.basis == Standard && w.by == nil {
		instead := ""
		if b.kind == "hex-bolt" {
			instead = "hex-screw, threaded to the head, or "
		}
		return fieldErr(b.kind, "length", length,
			"too short for %s: the thread of %s mm and its run-out leave no plain shank; use %sat least %s mm, or give the thread length",
			w.standard, mm(own), instead, mm(shortest(t, free.from)))
	}
	return b.cutToHead(by, free, letters)
}

func (b *bolt) cutAsGiven(w wish, room float64) error {
	if err := checkLength(b.kind, "thread", w.given, "the thread length"); err != nil {
		return err
	}
	switch {
	case w.toHead:
		return fieldErr(b.kind, "thread", w.given,
			"this kind is threaded to the head; leave it out, or use hex-bolt")
	case w.given > room+1e-9:
		return fieldErr(b.kind, "thread", w.given, "longer than the shank, which has %s mm; at most that", mm(room))
	}
	t := b.shank.t
	if least := (t.D-t.RootDiameter())/2 + t.P; w.given < least-1e-9 { // which stands beyond the chamfer of 45 degrees
		return fieldErr(b.kind, "thread", w.given,
			"shorter than the chamfer of the point and one pitch; at least %s mm", mm(math.Ceil(least*10)/10))
	}
	b.z.list[b.place] = settled{size: sizeThread, value: w.given, source: sizeThread.source,
		status: sizeThread.status}
	b.threaded(false)
	return nil
}

// cutByRule makes the thread as long as the rule says.
func (b *bolt) cutByRule(by *threadRule) error {
	if by.column != nil {
		b.z.list[b.place] = settled{size: by.column, value: by.length, source: by.column.source, status: by.status}
		b.threaded(false)
		return nil
	}
	g := by.group
	if g == nil {
		g = byISO888
	}
	b.z.put(b.place, &b.z.rules.sizes(b.kind, b.z.word, g)[0])
	if err := b.z.solve(); err != nil {
		return err
	}
	b.threaded(false)
	return nil
}

// cutToHead makes the thread reach as far towards the head as it can.
func (b *bolt) cutToHead(by *threadRule, free span, letters string) error {
	t := b.shank.t
	grooved, err := b.setUndercut()
	if err != nil {
		return err
	}
	a, item := t.HeadDistance(), thread.ItemHeadDistance
	if by.short {
		a, item = t.HeadDistanceShort(), thread.ItemHeadDistanceShort
	}
	if grooved {
		a = b.shank.cut.width.Value
	}
	if free.to-free.from < a+2*t.P {
		least := free.from + a + 2*t.P
		if l, ok := thread.NextLength(least); ok {
			least = l
		}
		return fieldErr(b.kind, "length", b.length.Value, "too short to carry a thread; at least %s mm", mm(least))
	}
	if grooved {
		b.z.put(b.place, &undercutToHead)
	} else {
		b.z.figure(sizeToHead, t, item)
		b.z.put(b.place, threadsToHead[letters])
	}
	if b.length.Value <= by.toHead {
		b.z.list[b.place].source += "; so up to " + mm(by.toHead) + " mm, from memory"
	}
	if err := b.z.solve(); err != nil {
		return err
	}
	b.threaded(true)
	b.thread.limit = free.from + a
	return nil
}

// threaded takes the thread's length over from the list.
func (b *bolt) threaded(toHead bool) {
	q := b.z.list[b.place].quantity()
	b.thread = threading{limit: b.length.Value - q.Value, length: q, toHead: toHead}
}

// shortest returns the shortest preferred length that holds the standard
// thread and its run-out.
func shortest(t thread.Thread, start float64) float64 {
	for _, l := range thread.Lengths() {
		if thread.ThreadLength(t.D, l)+t.RunOut() <= l-start {
			return l
		}
	}
	return 0
}

// threadFigures adds the figures of the thread that a drawing needs.
func (b *bolt) threadFigures() {
	b.endFigures()
	if !b.shank.cut.present() {
		b.z.figure(sizeRunOut, b.shank.t, thread.ItemRunOut)
	}
}

// endFigures adds those of the thread's end.
func (b *bolt) endFigures() {
	t := b.shank.t
	b.z.figure(sizeRoot, t, thread.ItemRootDiameter)
	z := b.z.figure(sizePoint, t, thread.ItemDepth)
	z.source, z.status = commonPractice+": the depth of the thread, at 45°", drawing.CommonPractice
}

// nominalDiameter returns the quantity that a thread is named at.
func nominalDiameter(t thread.Thread) drawing.Quantity {
	return drawing.Quantity{Letter: sizeDiameter.letter, Name: sizeDiameter.name, Value: t.D,
		Source: asDescribed, Status: drawing.Given}
}
