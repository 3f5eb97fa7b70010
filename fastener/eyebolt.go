package fastener

import (
	"boltplate/drawing"
	"boltplate/thread"
)

// EyeBolt is a bolt with an eye. The flat eye, turned out of a plate, takes the
// pin on which the bolt swings (DIN 444): its axis is the Z axis, the origin
// is its centre, and Length is measured from there. The collar eye bolt is a
// ring of round section on a round collar, for lifting (DIN 580): its origin is
// at the seat of the collar, and its length is settled by the kind, so that
// Length is 0.
//
// No nut goes on it with Bolted: what a swing bolt clamps is set out from its
// pin, and a lifting eye bolt is screwed home into the load.
type EyeBolt struct {
	Thread       thread.Thread
	Length       float64 // mm; flat: from the centre of the eye; collar: 0
	ThreadLength float64 // mm; 0 means by the rule
	Neck         Neck    // under a flat eye by proportion: NeckSquare, else none
	Collar       bool    // the lifting eye bolt
	Basis        Basis
	Extra
}

func eyeBoltKind() KindInfo {
	return KindInfo{Name: "eye-bolt", Title: "bolt with an eye", Length: true, Views: allViews(),
		Note:    "length from the centre of the eye; form collar has its own",
		Default: []drawing.Direction{drawing.Front, drawing.SideView},
		Options: []Option{optThread(), choice("form", "flat", "collar"),
			choice("neck", "plain", "square"), optBasis()},
		variants: []variant{
			{word: "flat", families: []string{familyBolts}, groups: []*group{eyeRules, squareNeck, eyeShank},
				thread: byISO888},
			{word: "collar", families: []string{familyBolts}, groups: []*group{collarRules, collarLength}},
		},
		how: map[stage]string{
			stageHead:       "Set the centre of the eye off on the axis and mark where the round shank begins; draw the plan of the eye by projection",
			stageHeadCurves: "Swing ring and hole about their centre on the axis. For a fillet cut the arc of ring radius + fillet about that centre with a parallel at the fillet radius from the shank: there is its centre; swing it from line to ring"},
		make: func(s Spec) Fastener {
			return EyeBolt{Thread: s.Thread, Length: s.Length, ThreadLength: s.ThreadLength, Neck: neckNamed(s.Neck),
				Collar: is(s.Form, "collar"), Basis: s.Basis, Extra: s.Extra}
		}}
}

// Kind returns "eye-bolt".
func (EyeBolt) Kind() string { return "eye-bolt" }

// Designation returns for instance "Eye bolt M20 × 90" or "Collar eye bolt
// DIN 580 - M20". A flat eye bolt by DIN 444 is of its form B.
func (e EyeBolt) Designation() string {
	if e.Collar {
		return "Collar eye bolt " + standardPrefix(e.Basis, e.Thread, standardCollarEye,
			"") + e.Thread.String() + e.supplied()
	}
	s := "Eye bolt" + e.Neck.inTitle() + standardPrefix(e.Basis, e.Thread, standardEye, "")
	if e.Basis == Standard {
		s += "B "
	}
	return s + e.Thread.String() + times(e.Length) + e.supplied()
}

// Cautions returns what is printed with every drawing and table of the bolt.
func (e EyeBolt) Cautions() []string {
	if !e.Collar {
		return []string{"Not a lifting eye bolt. No load rating is given."}
	}
	return []string{
		"No load rating is given: use that of the maker, marked on the bolt.",
		"Seat the collar flat on the face, with the whole thread engaged.",
		"Pull in line with the shank; inclined only in the plane of the ring",
		"and within the limits of the maker. Never pull across the ring.",
		"The local rules for lifting and licensed practice apply.",
	}
}

// Validate reports what is wrong with the description, as a *FieldError.
func (e EyeBolt) Validate() error {
	_, err := e.settled()
	return err
}

// settled works the sizes out. It is not called resolve, because nothing that
// goes on a bolt with a head goes on this one.
func (e EyeBolt) settled() (*bolt, error) {
	if err := checkCommon(e.Kind(), e.Thread, e.Basis, ByBasis, false); err != nil {
		return nil, err
	}
	if err := checkNeck(e.Kind(), e.Neck, NeckPlain, NeckSquare); err != nil {
		return nil, err
	}
	if e.Collar {
		return e.collar()
	}
	return e.flat()
}

// Quantities returns the dimensions of the bolt with their rules and sources.
func (e EyeBolt) Quantities() ([]drawing.Quantity, error) {
	b, err := e.settled()
	if err != nil {
		return nil, err
	}
	return b.quantities(), nil
}

// View returns one view of the bolt: front, side (the plan), head, point or
// isometric. The front view shows the eye as a circle. The plan of a flat eye
// shows the hole dashed, even where hidden edges are not asked for.
func (e EyeBolt) View(dir drawing.Direction, opt Options) (drawing.View, error) {
	b, err := e.settled()
	if err != nil {
		return drawing.View{}, err
	}
	v, err := b.view(dir, opt, nil)
	return worded(v, opt, b.quantities), err
}
