package fastener

import (
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
}

func studKind() KindInfo {
	return KindInfo{Name: "stud", Title: "stud", Length: true, Views: allViews(), Default: []drawing.Direction{drawing.Front, drawing.PointEnd},
		Note: "length without the metal end",
		Options: append(append([]Option{optThread(), choice("neck", "plain", "square", "collar"), choice("material", studMaterials()...)},
			optNuts()...), optBasis()),
		make: func(s Spec) Fastener {
			return Stud{Thread: s.Thread, Length: s.Length, ThreadLength: s.ThreadLength, Material: studMaterial(s.Material), Neck: neckNamed(s.Neck), Basis: s.Basis}
		}}
}

// studMaterials returns the words for what a stud is screwed into, in the
// order of thread.Material.
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
// the metal end b1, mm; memory says that the row is from memory, unverified.
type studRow struct {
	d, b1  float64
	memory bool
}

// A studStandard is what the studs for one material come down to.
type studStandard struct {
	name  string
	rule  string // of the metal end by proportion
	table []studRow
}

// studStandardOf returns the standard for a material. About half of the rows
// of DIN 939 and DIN 835, and all of DIN 940, are from memory, unverified; they
// say so. The lengths of the nut end in all of them are those of ISO 888.
func studStandardOf(m thread.Material) studStandard {
	switch m {
	case thread.CastIron:
		return studStandard{"DIN 939", "1.25D", []studRow{
			{4, 5, true}, {5, 6.5, false}, {6, 7.5, false}, {8, 10, false}, {10, 12, false}, {12, 15, false}, {14, 18, true}, {16, 20, false},
			{18, 22, true}, {20, 25, false}, {22, 28, true}, {24, 30, false}, {27, 35, true}, {30, 38, true}, {33, 42, true}, {36, 45, true},
			{39, 50, true}, {42, 52, true}, {48, 60, true}}}
	case thread.Aluminium:
		return studStandard{"DIN 835", "2D", []studRow{
			{3, 6, true}, {4, 8, true}, {5, 10, false}, {6, 12, false}, {8, 16, false}, {10, 20, false}, {12, 24, false}, {14, 28, true}, {16, 32, false},
			{18, 36, true}, {20, 40, false}, {22, 44, true}, {24, 48, false}, {27, 54, true}, {30, 60, true}, {33, 66, true}, {36, 72, true}}}
	case thread.SoftLightAlloy:
		return studStandard{"DIN 940", "2.5D", []studRow{
			{4, 10, true}, {5, 12, true}, {6, 15, true}, {8, 20, true}, {10, 25, true}, {12, 30, true}, {14, 35, true}, {16, 40, true},
			{18, 45, true}, {20, 50, true}, {22, 55, true}, {24, 60, true}}}
	}
	return studStandard{"DIN 938", "D", []studRow{
		{3, 3, false}, {4, 4, false}, {5, 5, false}, {6, 6, false}, {8, 8, false}, {10, 10, false}, {12, 12, false}, {14, 14, false}, {16, 16, false},
		{18, 18, false}, {20, 20, false}, {22, 22, false}, {24, 24, false}, {27, 25, false}, {30, 30, false}, {33, 32, false}, {36, 35, false},
		{39, 38, false}, {42, 42, false}, {48, 48, false}}}
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
		return title + standardPrefix(s.Basis, s.Thread, studStandardOf(s.Material).name, "") + s.Thread.String() + times(s.Length)
	}
	if s.Material != thread.Steel {
		title += "for " + s.Material.String() + ", "
	}
	return title + s.Thread.String() + times(s.Length)
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
		return nil, &FieldError{kind, "material", s.Material.String(), "not a material of the standards; use thread.Steel, CastIron, Aluminium or SoftLightAlloy"}
	}
	std := studStandardOf(s.Material)
	f := &studForm{t: t, neck: s.Neck}
	if f.neck == NeckByKind {
		f.neck = NeckPlain
	}
	f.metalEnd = drawing.Quantity{Letter: "m", Name: "metal end", Rule: std.rule, Value: thread.Engagement(s.Material, t.D),
		Source: std.name + " (about), for " + s.Material.String(), Status: drawing.Published}
	if s.Basis == Standard {
		if f.neck != NeckPlain {
			return nil, &FieldError{kind, "neck", f.neck.String(), "the stud of " + std.name + " is plain between its threads; leave the neck out, or use basis proportion"}
		}
		e, err := editionFor(kind, t, std.name, "")
		if err != nil {
			return nil, err
		}
		row, err := find(kind, e, std.table, t.D, func(r studRow) float64 { return r.d })
		if err != nil {
			return nil, err
		}
		f.metalEnd.Rule, f.metalEnd.Value, f.metalEnd.Source = drawing.RuleTable, row.b1, std.name+", b1"
		if row.memory {
			f.metalEnd.Source += " (from memory, unverified)"
			f.metalEnd.Status = drawing.FromMemory
		}
	}
	f.runOut = drawing.Quantity{Letter: "xs", Name: "run-out of the metal end", Rule: "1.25P", Value: t.RunOutShort(),
		Source: sourceISO3508 + ", short", Status: drawing.Published}
	switch f.neck {
	case NeckSquare:
		f.side = drawing.Quantity{Letter: "S", Name: "side of square", Rule: "D", Value: t.D, Source: "common practice", Status: drawing.CommonPractice}
		f.length = drawing.Quantity{Letter: "N", Name: "length of square", Rule: "D", Value: t.D,
			Source: "common practice (from memory, unverified)", Status: drawing.FromMemory}
	case NeckCollar:
		f.diameter = drawing.Quantity{Letter: "d2", Name: "collar diameter", Rule: "1.5D", Value: 1.5 * t.D,
			Source: "Low, Machine Drawing and Design (1887)", Status: drawing.Published}
		f.length = drawing.Quantity{Letter: "c", Name: "collar thickness", Rule: "0.4D", Value: 0.4 * t.D,
			Source: "common practice (from memory, unverified)", Status: drawing.FromMemory}
	}
	b := &bolt{kind: kind, form: f.form()}
	return b, f.settle(b, s.Length, s.ThreadLength)
}

// settle fills in the nut end.
func (f *studForm) settle(b *bolt, length, given float64) error {
	t := f.t
	if err := checkLength(b.kind, "length", length, "the length without the metal end"); err != nil {
		return err
	}
	n := drawing.Quantity{Letter: "n", Name: "nut end thread"}
	ruled := func(l float64) float64 { return f.taken() + thread.ThreadLength(t.D, l) + t.RunOut() }
	if given != 0 {
		if err := checkLength(b.kind, "thread", given, "the length of the nut end's thread"); err != nil {
			return err
		}
		if room := length - f.taken() - t.RunOut(); room <= 0 {
			return fieldErr(b.kind, "length", length, "leaves no room for a nut end's thread; more than %s mm", mm(f.taken()+t.RunOut()))
		} else if given > room {
			return fieldErr(b.kind, "thread", given, "longer than %s leave of the length, which is %s mm; at most that", f.needs(""), mm(room))
		}
		n.Value, n.Source, n.Status = given, "as described", drawing.Given
	} else {
		if need := ruled(length); need > length+1e-9 {
			return fieldErr(b.kind, "length", length, "too short: %s come to %s mm; at least %s mm, or give the thread length",
				f.needs("thread"), mm(need), mm(shortestFor(ruled)))
		}
		n.Value, n.Source, n.Status = thread.ThreadLength(t.D, length), "DIN 938, 939, 835, 940; "+sourceISO888, drawing.Published
		n.Rule = threadLengthRule(length)
	}
	b.length = lengthQuantity(length)
	b.length.Name = "length without the metal end"
	b.thread = threading{limit: length - n.Value, length: n}
	b.shank = shank{t: t, start: f.start(), limit: length - n.Value, end: length}
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
// plain part that holds both: the run-outs are as 1 to 2, but at a small scale
// both are drawn longer than they are.
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
	g.quantities = []drawing.Quantity{f.metalEnd, f.runOut}
	signs := threadSigns{t: f.t, limit: f.metalLimit(), end: -m, room: f.runOut.Value}
	g.run = &signs.room
	x0, x1 := g.start-f.length.Value, g.start
	g.build = func(l look, md *model) {
		c := r - rootRadius(f.t, l.style)
		to := 0.0
		if f.neck == NeckSquare {
			to = f.runOut.Value
		}
		body := solid.Cylinder(solid.X(), r, -m+c, to)
		if f.neck == NeckPlain {
			body = body.Without(solid.At(to)) // it goes on as the shank
		}
		md.add(solid.Cone(solid.X(), -m, r-c, -m+c, r).Without(solid.At(-m+c)).Mark(solid.NotAlong, solid.At(-m)), body)
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
		g.quantities = append(g.quantities, f.side, f.length)
		g.least, g.standing = x1, "the square needs"
	case NeckCollar:
		g.quantities = append(g.quantities, f.diameter, f.length)
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
		b.linear(drawing.Below, rank, label(f.metalEnd), -m, -rootRadius(f.t, b.opt.Style), 0, g.origin.Y)
		switch f.neck {
		case NeckSquare:
			h := f.side.Value / 2
			side := label(f.side)
			side.Symbol = drawing.SquareSymbol
			b.linear(drawing.Above, rank, label(f.runOut), 0, r, x0, h)
			b.linear(drawing.Above, rank, label(f.length), x0, h, x1, h)
			b.add(drawing.RoleDimension, drawing.Leader{Label: side, Tip: drawing.Pt(x0+0.6*(x1-x0), -h), Angle: -65, Rank: rank})
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
