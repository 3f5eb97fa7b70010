package fastener

import (
	"slices"

	"boltplate/drawing"
	"boltplate/internal/solid"
	"boltplate/thread"
)

// Stud is a stud: a bar with a thread at both ends. Its metal end, as long as
// the Material that it is screwed into asks for, goes home into a tapped hole;
// a nut goes on the other end. Between the threads it is plain, or has a
// square to turn it by (NeckSquare) or a collar that seats on the part
// (NeckCollar).
//
// Length is the nominal length of the standards: without the metal end, from
// the joint face to the nut end. The joint face is where the metal end's full
// thread ends, or the face of the collar. A square stands a short run-out away
// from it, since the run-out belongs on the round; in the joint it is inside
// the part that is clamped (common practice).
//
// Views have the outer face of the metal end at x = 0. The grip of a Bolted
// stud is measured from the joint face.
type Stud struct {
	Thread       thread.Thread   // of both ends
	Length       float64         // without the metal end, mm
	ThreadLength float64         // of the nut end, mm; 0 means by ISO 888
	Material     thread.Material // that it is screwed into; the zero value is steel
	Neck         Neck            // NeckPlain, which is the usual one, NeckSquare or NeckCollar
	Basis        Basis
	Extra
}

func studKind() KindInfo {
	return KindInfo{Name: "stud", Title: "stud", Length: true, Views: allViews(),
		Default: []drawing.Direction{drawing.Front, drawing.PointEnd},
		Note:    "length without the metal end",
		Options: append(append([]Option{optThread(), optEnd(), choice("neck", "plain", "square", "collar"),
			choice("material", studMaterials()...)},
			optNuts()...), optBasis()),
		variants: studVariants(),
		make: func(s Spec) Fastener {
			return Stud{Thread: s.Thread, Length: s.Length, ThreadLength: s.ThreadLength,
				Material: studMaterial(s.Material), Neck: neckNamed(s.Neck), Basis: s.Basis, Extra: s.Extra}
		}}
}

// StudMaterial returns the word by which a Spec names what a stud is screwed
// into; "" for a material that no stud is made for.
func StudMaterial(m thread.Material) string {
	if words := studMaterials(); m >= 0 && int(m) < len(words) {
		return words[m]
	}
	return ""
}

// studMaterials returns those words in the order of thread.Material.
func studMaterials() []string { return []string{"steel", "cast-iron", "aluminium", "soft-alloy"} }

func studMaterial(word string) thread.Material {
	for i, w := range studMaterials() {
		if is(word, w) {
			return thread.Material(i)
		}
	}
	return thread.Steel
}

// A studRow is a row of a standard of studs: nominal diameter and length of
// the metal end b1, mm.
type studRow struct {
	d, b1  float64
	status drawing.Status
}

func (r studRow) diameter() float64 { return r.d }

// A studStandard is what the studs for one material come down to.
type studStandard struct {
	name   string
	rule   *group // of the metal end by proportion
	column *size  // of the metal end in the table
	rows   []studRow
	fine   []finePitch // beside the coarse one; nil where none is held
}

// A finePitch is a fine pitch that a standard has for a nominal diameter, mm.
type finePitch struct{ d, p float64 }

const nameMetalEnd = "metal end"

func studStandardOf(name string, m thread.Material, text string, rows []studRow,
	fine ...finePitch) studStandard {
	return studStandard{name, groupOf(published("m", nameMetalEnd, text, name+" (about), for "+m.String())),
		column("m", nameMetalEnd, name+", b1"), rows, fine}
}

// studStandards are the standards of studs by material. Some rows of DIN 939 and
// DIN 835, and all of DIN 940, are from memory, unverified. The lengths of the nut
// end in all of them are those of ISO 888. Two published tables agree on the fine
// pitches of DIN 938 up to M24, but for M12 × 1.5, and one has the others; of the
// other standards none was found.
var studStandards = [...]studStandard{
	thread.Steel: studStandardOf("DIN 938", thread.Steel, "D", []studRow{
		{3, 3, isPublished}, {4, 4, isPublished}, {5, 5, isPublished}, {6, 6, isPublished}, {7, 7, isPublished},
		{8, 8, isPublished},
		{10, 10, isPublished}, {12, 12, isPublished}, {14, 14, isPublished}, {16, 16, isPublished},
		{18, 18, isPublished}, {20, 20, isPublished}, {22, 22, isPublished}, {24, 24, isPublished},
		{27, 25, isPublished}, {30, 30, isPublished}, {33, 32, isPublished}, {36, 35, isPublished},
		{39, 38, isPublished}, {42, 42, isPublished}, {45, 45, isPublished}, {48, 48, isPublished},
		{52, 52, isPublished},
	}, finePitch{8, 1}, finePitch{10, 1.25}, finePitch{12, 1.25}, finePitch{12, 1.5}, finePitch{14, 1.5},
		finePitch{16, 1.5}, finePitch{18, 1.5},
		finePitch{20, 1.5}, finePitch{22, 1.5}, finePitch{24, 2}, finePitch{27, 2}, finePitch{30, 2},
		finePitch{33, 2}, finePitch{36, 3},
		finePitch{39, 3}, finePitch{42, 3}, finePitch{45, 3}, finePitch{48, 3}, finePitch{52, 3}),
	thread.CastIron: studStandardOf("DIN 939", thread.CastIron, "1.25D", []studRow{
		{4, 5, isMemory}, {5, 6.5, isPublished}, {6, 7.5, isPublished}, {8, 10, isPublished},
		{10, 12, isPublished}, {12, 15, isPublished}, {14, 18, isPublished}, {16, 20, isPublished},
		{18, 22, isPublished}, {20, 25, isPublished}, {22, 28, isPublished}, {24, 30, isPublished},
		{27, 35, isPublished}, {30, 38, isMemory}, {33, 42, isMemory}, {36, 45, isMemory}, {39, 50, isMemory},
		{42, 52, isMemory}, {48, 60, isMemory},
	}),
	thread.Aluminium: studStandardOf("DIN 835", thread.Aluminium, "2D", []studRow{
		{3, 6, isMemory}, {4, 8, isMemory}, {5, 10, isPublished}, {6, 12, isPublished}, {8, 16, isPublished},
		{10, 20, isPublished}, {12, 24, isPublished}, {14, 28, isMemory}, {16, 32, isPublished},
		{18, 36, isMemory}, {20, 40, isPublished}, {22, 44, isMemory}, {24, 48, isPublished},
		{27, 54, isMemory}, {30, 60, isMemory}, {33, 66, isMemory}, {36, 72, isMemory},
	}),
	thread.SoftLightAlloy: studStandardOf("DIN 940", thread.SoftLightAlloy, "2.5D", []studRow{
		{4, 10, isMemory}, {5, 12, isMemory}, {6, 15, isMemory}, {8, 20, isMemory}, {10, 25, isMemory},
		{12, 30, isMemory}, {14, 35, isMemory}, {16, 40, isMemory}, {18, 45, isMemory}, {20, 50, isMemory},
		{22, 55, isMemory}, {24, 60, isMemory},
	}),
}

// The sizes of a stud beside those of its metal end.
var (
	studSquare = groupOf(
		practice("S", "side of square", "D"),
		fromMemory("N", "length of square", "D"))
	studCollar = groupOf(
		published("d2", nameCollar, "1.5D", low),
		fromMemory("c", nameCollarThick, "0.4D"))
	studThread = groupOf(nutEnd(byISO888.sizes[0]))

	sizeStudLength = stated("L", "length without the metal end")
	sizeNutEnd     = stated("n", "nut end thread")
	sizeMetalRun   = &size{letter: "x1", name: "run-out of the metal end"}
	sizeNutRun     = &size{letter: "x2", name: "run-out of the nut end"}
)

// nutEnd returns the rule of ISO 888 as that of a nut end's thread.
func nutEnd(s size) size {
	s = s.named("n", "nut end thread")
	s.source = "DIN 938, 939, 835, 940; " + thread.SourceLengths
	return s
}

func studVariants() []variant {
	var out []variant
	for m, word := range studMaterials() {
		for _, neck := range []*group{nil, studSquare, studCollar} {
			v := variant{word: word, families: []string{familyStuds}, groups: []*group{studStandards[m].rule},
				thread: studThread}
			if neck != nil {
				v.groups = append(v.groups, neck)
			}
			out = append(out, v)
		}
	}
	return out
}

// Kind returns "stud".
func (Stud) Kind() string { return "stud" }

// Designation returns for instance "Stud, collar, for cast iron, M20 × 90". A
// standard stands for its material.
func (s Stud) Designation() string {
	title := "Stud"
	switch s.Neck {
	case NeckSquare:
		title += ", square, " // not a neck: there is no head above it
	case NeckCollar:
		title += ", collar, "
	default:
		title += " "
	}
	if s.Basis == Standard {
		return title + standardPrefix(s.Basis, s.Thread, s.standard().name,
			"") + s.Thread.String() + times(s.Length) + s.supplied()
	}
	if s.Material != thread.Steel {
		title += "for " + s.Material.String() + ", "
	}
	return title + s.Thread.String() + times(s.Length) + s.supplied()
}

// standard returns the standard for the material; of one that is none, that for
// steel.
func (s Stud) standard() *studStandard {
	if s.Material < thread.Steel || s.Material > thread.SoftLightAlloy {
		return &studStandards[thread.Steel]
	}
	return &studStandards[s.Material]
}

// Validate reports what is wrong with the description, as a *FieldError. A
// stud that is too short for its threads is refused with the shortest
// preferred length that holds them.
func (s Stud) Validate() error {
	_, err := s.resolve()
	return err
}

// A studForm is what a stud has besides the shank of its nut end.
type studForm struct {
	t        thread.Thread
	metalEnd drawing.Quantity
	runOut   drawing.Quantity // of the metal end
	neck     Neck
	// side and length are those of a square, diameter and length those of a
	// collar.
	side, diameter, length drawing.Quantity
}

// start returns where the shank of the nut end begins, x = 0 being the joint
// face.
func (f *studForm) start() float64 {
	switch f.neck {
	case NeckSquare:
		return f.runOut.Value + f.length.Value
	case NeckCollar:
		return f.length.Value
	}
	return 0
}

// metalLimit returns where the metal end's full thread ends. A collar seats on
// the joint face, so that the run-out is on the metal end.
func (f *studForm) metalLimit() float64 {
	if f.neck == NeckCollar {
		return -f.runOut.Value
	}
	return 0
}

// taken returns how much of the length the nut end and its run-out cannot
// have.
func (f *studForm) taken() float64 {
	if f.neck == NeckPlain {
		return f.runOut.Value
	}
	return f.start()
}

func (s Stud) resolve() (*bolt, error) {
	kind, t := s.Kind(), s.Thread
	if err := checkCommon(kind, t, s.Basis, ByBasis, false); err != nil {
		return nil, err
	}
	if err := checkNeck(kind, s.Neck, NeckPlain, NeckSquare, NeckCollar); err != nil {
		return nil, err
	}
	if s.Material < thread.Steel || s.Material > thread.SoftLightAlloy {
		return nil, &FieldError{kind, "material", s.Material.String(),
			"not a material of the standards; use thread.Steel, CastIron, Aluminium or SoftLightAlloy"}
	}
	b := newBolt(kind, studMaterials()[s.Material], s.Extra, t)
	if err := checkLength(kind, "length", s.Length, "the length without the metal end"); err != nil {
		return nil, err
	}
	b.stateLength(sizeStudLength, s.Length, s.Basis)
	b.place = b.z.hold(sizeNutEnd)
	if err := s.metalEnd(b); err != nil {
		return nil, err
	}
	f, err := s.form(b)
	if err != nil {
		return nil, err
	}
	b.form = f.form()
	b.fits.Metal = f.metalEnd.Value
	if err := f.settle(b, s.ThreadLength); err != nil {
		return nil, err
	}
	b.endFigures()
	b.z.figure(sizeNutRun, t,
		thread.ItemRunOutShort).source = thread.SourceRunOut + ", short; at the nut end by published proportions of DIN 938"
	if err := b.z.solve(); err != nil {
		return nil, err
	}
	return b, b.setTip()
}

// metalEnd adds the length of the metal end and its run-out.
func (s Stud) metalEnd(b *bolt) error {
	std := s.standard()
	if s.Basis != Standard {
		b.z.use(std.rule)
	} else {
		if s.Neck > NeckPlain {
			return &FieldError{b.kind, "neck", s.Neck.String(),
				"the stud of " + std.name + " is plain between its threads; leave the neck out, or use basis proportion"}
		}
		if err := std.checkPitch(b.kind, s.Thread); err != nil {
			return err
		}
		row, err := find(b.kind, edition{name: std.name}, std.rows, s.Thread.D)
		if err != nil {
			return err
		}
		b.z.tabled(std.column, row.b1, row.status)
	}
	b.z.figure(sizeMetalRun, s.Thread,
		thread.ItemRunOut).source = thread.SourceRunOut + ", normal; at the metal end by published proportions of DIN 938"
	return nil
}

// checkPitch refuses a fine pitch that is not held of the standard.
func (s *studStandard) checkPitch(kind string, t thread.Thread) error {
	if t.IsCoarse() || slices.Contains(s.fine, finePitch{t.D, t.P}) {
		return nil
	}
	if s.fine == nil {
		_, err := editionFor(kind, t, s.name, "")
		return err
	}
	var held []float64
	for _, f := range s.fine {
		if f.d == t.D {
			held = append(held, f.p)
		}
	}
	return noPitch(kind, s.name, t, held)
}

// form returns what the stud has besides the shank of its nut end.
func (s Stud) form(b *bolt) (*studForm, error) {
	z := &b.z
	f := &studForm{t: s.Thread, neck: s.Neck}
	switch s.Neck {
	case NeckByKind:
		f.neck = NeckPlain
	case NeckSquare:
		z.use(studSquare)
	case NeckCollar:
		z.use(studCollar)
	}
	if err := z.solve(); err != nil {
		return nil, err
	}
	f.metalEnd, f.runOut = z.size("m"), z.size("x1")
	switch f.neck {
	case NeckSquare:
		f.side, f.length = z.size("S"), z.size("N")
		return f, z.atLeast("S", "D")
	case NeckCollar:
		f.diameter, f.length = z.size("d2"), z.size("c")
		return f, z.needs("d2", "D")
	}
	return f, nil
}

// settle fills in the nut end.
func (f *studForm) settle(b *bolt, given float64) error {
	t, length := f.t, b.length.Value
	run := t.RunOutShort()
	if given != 0 {
		if err := checkLength(b.kind, "thread", given, "the length of the nut end's thread"); err != nil {
			return err
		}
		if room := length - f.taken() - run; room <= 0 {
			return fieldErr(b.kind, "length", length, "leaves no room for a nut end's thread; more than %s mm",
				mm(f.taken()+run))
		} else if given > room+1e-9 {
			return fieldErr(b.kind, "thread", given,
				"longer than %s leave of the length, which is %s mm; at most that", f.needs(""), mm(room))
		}
		b.z.list[b.place] = settled{size: sizeNutEnd, value: given, source: sizeNutEnd.source,
			status: sizeNutEnd.status}
	} else {
		b.z.put(b.place, &b.z.rules.sizes(b.kind, b.z.word, studThread)[0])
		if err := b.z.solve(); err != nil {
			return err
		}
		if need := f.taken() + b.z.list[b.place].value + run; need > length+1e-9 {
			ruled := func(l float64) float64 { return f.taken() + thread.ThreadLength(t.D, l) + run }
			return fieldErr(b.kind, "length", length,
				"too short: %s come to %s mm; at least %s mm, or give the thread length",
				f.needs("thread"), mm(need), mm(shortestFor(ruled)))
		}
	}
	b.threaded(false)
	b.shank.start, b.shank.limit, b.shank.end = f.start(), b.thread.limit, length
	if f.neck == NeckPlain { // both run-outs are on one plain part
		b.shank.kept = f.metalRoom(b.thread.limit)
		*b.form.run = b.shank.kept
	}
	return nil
}

// needs names what has to stand on the length besides, or with, a thread.
func (f *studForm) needs(thread string) string {
	s := "the run-outs"
	if thread != "" {
		s = "the nut end's thread and the run-outs"
	}
	switch f.neck {
	case NeckSquare:
		return s + " and the square"
	case NeckCollar:
		return s + " and the collar"
	}
	return s
}

// metalRoom returns what the drawn run-out of the metal end may have of a
// plain part that holds both: half of it, since both are drawn alike, at 30
// degrees, and at a small scale longer than they are.
func (f *studForm) metalRoom(plain float64) float64 { return plain / 2 }

// shortestFor returns the shortest preferred length that holds what it needs,
// or where there is none the first whole millimetre.
func shortestFor(need func(l float64) float64) float64 {
	for _, l := range thread.Lengths() {
		if need(l) <= l+1e-9 {
			return l
		}
	}
	return need(maxLength)
}

// form returns the metal end and the neck as the head of a bolt, with the
// joint face at x = 0.
func (f *studForm) form() *form {
	m, r := f.metalEnd.Value, f.t.D/2
	g := &form{end: -m, start: f.start(), datum: m, origin: drawing.Pt(0, -r)}
	signs := threadSigns{t: f.t, limit: f.metalLimit(), end: -m, room: f.runOut.Value}
	g.run = &signs.room
	x0, x1 := g.start-f.length.Value, g.start
	g.build = func(l look, md *model) {
		c := r - DrawnRoot(f.t, l.style)
		if l.plain {
			c = 0
		}
		to := 0.0
		if f.neck == NeckSquare {
			to = f.runOut.Value
		}
		body := solid.Cylinder(solid.X(), r, -m+c, to)
		if f.neck == NeckPlain {
			body = body.Without(solid.At(to)) // it goes on as the shank
		}
		if c > 0 {
			md.add(solid.Cone(solid.X(), -m, r-c, -m+c, r).Without(solid.At(-m+c)).Mark(solid.NotAlong, solid.At(-m)))
		}
		md.add(body)
		md.mark(solid.CircleAt(solid.V(signs.limit, 0, 0), solid.V(1, 0, 0), r).Marked(solid.NotAlong))
		md.thread(l, signs)
		switch f.neck {
		case NeckSquare:
			h := f.side.Value / 2
			md.add(solid.Box(solid.V(x0, -h, -h), solid.V(x1, h, h)))
			md.squareFlats(l, f.side.Value, x0, x1, false)
		case NeckCollar:
			md.add(solid.Cylinder(solid.X(), f.diameter.Value/2, x0, x1))
		}
	}
	switch f.neck {
	case NeckSquare:
		g.least, g.standing = x1, "the square needs"
	case NeckCollar:
		g.origin.Y = -f.diameter.Value / 2
		g.least, g.standing = x1, "the collar is thick"
	}
	g.annotate = func(b *builder, dir drawing.Direction, rank drawing.Rank) {
		switch dir {
		case drawing.HeadEnd:
			f.fromMetalEnd(b)
			return
		case drawing.PointEnd:
			return
		}
		b.linear(drawing.Below, rank, label(f.metalEnd), -m, -DrawnRoot(f.t, b.opt.Style), 0, g.origin.Y)
		switch f.neck {
		case NeckSquare:
			h := f.side.Value / 2
			side := label(f.side)
			side.Symbol = drawing.SquareSymbol
			b.linear(drawing.Above, rank, label(f.runOut), 0, r, x0, h)
			b.linear(drawing.Above, rank, label(f.length), x0, h, x1, h)
			b.add(drawing.RoleDimension, drawing.Leader{Label: side, Tip: drawing.Pt(x0+0.6*(x1-x0), -h),
				Angle: -65, Rank: rank})
		case NeckCollar:
			h := f.diameter.Value / 2
			b.linear(drawing.Above, rank, label(f.length), x0, h, x1, h)
			b.linear(drawing.Left, rank, diameterLabel(f.diameter), x0, -h, x0, h)
		}
	}
	return g
}

// fromMetalEnd adds the dimensions of the view on the metal end, where nothing
// is in front of the neck.
func (f *studForm) fromMetalEnd(b *builder) {
	b.endLabel(f.t, true, 5)
	switch f.neck {
	case NeckSquare:
		h := f.side.Value / 2
		l := label(f.side)
		l.Symbol = drawing.SquareSymbol
		b.linear(drawing.Left, 2, l, -h, -h, -h, h)
	case NeckCollar:
		h := f.diameter.Value / 2
		b.linear(drawing.Left, 2, diameterLabel(f.diameter), 0, -h, 0, h)
	}
}

// Quantities returns the dimensions of the stud with their rules and sources.
func (s Stud) Quantities() ([]drawing.Quantity, error) { return boltQuantities(s) }

// View returns one view of the stud: front, side (the plan), head, which is
// that on the metal end, point or isometric. The flats of a square are to the
// front, the back, up and down.
func (s Stud) View(dir drawing.Direction, opt Options) (drawing.View, error) {
	return boltView(s, dir, opt)
}
