package fastener

// A Fit holds the sizes by which a fastener fits into what it is put into, mm
// (the angle in degrees): what a joint must know of it without reading its
// table of quantities letter by letter. A size that the fastener does not have
// is 0. Their values, rules and sources are those of Quantities.
type Fit struct {
	Length float64 // as it is ordered
	Thread float64 // length of the thread that takes the nut or goes into the hole
	Metal  float64 // thread of a stud's metal end, beyond the joint face
	Bolted bool    // it is a bolt, screw or stud
	Head   HeadFit
	Neck   NeckFit
	Snug   SnugFit
	Eye    EyeFit
	Taper  TaperFit
	Nut    NutFit
	Washer WasherFit
}

// A HeadFit is the head of a bolt.
type HeadFit struct {
	Height   float64 // along the axis
	Corners  float64 // across the corners of a hexagon or square; 0 of others
	Diameter float64 // of a round head
	Bears    float64 // diameter of what it bears with
	Angle    float64 // included, of a countersunk head
	Length   float64 // across the axis, of a T-head or a hook
	Width    float64 // of a T-head
}

// A NeckFit is the square under a head.
type NeckFit struct{ Side, Length float64 }

// A SnugFit is a snug, or one of a pair of nibs: it stands Projection from the
// shank or, of a countersunk head, from the nominal diameter.
type SnugFit struct{ Projection, Length, Width float64 }

// An EyeFit is the eye of an eye bolt.
type EyeFit struct {
	Collar    float64 // diameter; 0 where it has none
	Thickness float64 // of the collar; of a flat eye, of the eye
	Section   float64 // diameter of the bar of the ring
	Outside   float64 // diameter of the ring
	Height    float64 // from the face of the collar to the top of the ring
}

// A TaperFit is the taper of a taper bolt.
type TaperFit struct{ Length, Large, Small float64 }

// A NutFit is what a nut takes up.
type NutFit struct {
	Height  float64
	Corners float64 // 0 where it is not turned by a spanner
	Bears   float64 // diameter of what it bears with: across its flats
	Blind   float64 // depth of the thread of a cap nut; 0 of an open one
	// of a castle nut, from its bearing face to the bottom of its slots, how wide
	// they are, and the diameter of the split pin's hole
	SlotsFrom, SlotWidth, Pin float64
}

// A WasherFit is what a washer takes up.
type WasherFit struct{ Hole, Outside, Thickness float64 }

// FitOf returns the sizes by which a fastener fits. Of a Bolted it is that of
// the bolt with those of the nut and the washer; of a type that is none of this
// package it is the zero Fit. The error is that of Validate.
func FitOf(f Fastener) (Fit, error) {
	switch p := f.(type) {
	case boltedPart:
		b, err := p.resolve()
		if err != nil {
			return Fit{}, err
		}
		return b.fit(), nil
	case EyeBolt:
		b, err := p.settled()
		if err != nil {
			return Fit{}, err
		}
		return b.fit(), nil
	case nutPart:
		n, err := p.resolve()
		if err != nil {
			return Fit{}, err
		}
		return Fit{Nut: n.fit()}, nil
	case washerPart:
		w, err := p.resolve()
		if err != nil {
			return Fit{}, err
		}
		return Fit{Washer: w.fit()}, nil
	case Bolted:
		b, on, err := p.resolve()
		if err != nil {
			return Fit{}, err
		}
		t := b.fit()
		if on.nut != nil {
			t.Nut = on.nut.fit()
		}
		if on.washer != nil {
			t.Washer = on.washer.fit()
		}
		return t, nil
	}
	return Fit{}, f.Validate()
}

func (b *bolt) fit() Fit {
	f := b.fits
	f.Bolted, f.Length, f.Thread = true, b.length.Value, b.z.list[b.place].value
	if b.form == nil {
		f.Head = HeadFit{Height: b.head.Value, Corners: b.widths.corners.Value, Bears: b.widths.flats.Value}
	}
	if f.Head.Bears == 0 {
		f.Head.Bears = f.Head.Diameter
	}
	return f
}

func (n *nut) fit() NutFit {
	f := n.fits
	f.Height, f.Corners = n.height.Value, n.widths.corners.Value
	if f.Bears == 0 {
		f.Bears = n.widths.flats.Value
	}
	return f
}

func (s *washerSizes) fit() WasherFit {
	return WasherFit{Hole: s.hole.Value, Outside: s.outside.Value, Thickness: s.thickness.Value}
}
