package joint

import (
	"boltplate/fastener"
	"slices"
	"strconv"
)

func throughScene() scene {
	return scene{name: ThroughBolt, kind: "hex-bolt",
		kinds: append(slices.DeleteFunc(turned(), func(k string) bool { return k == "tap-bolt" }), "cheese-bolt",
			"cup-bolt"), nut: true, parts: [2]int{2, 6},
		reads: slices.Concat(faceFields, boreFields), validate: Joint.flatHead,
		choose: func(c *chooser) error {
			c.clearanceHoles(len(c.Parts))
			if err := c.chooseFaces(); err != nil {
				return err
			}
			return c.boltOrScrew()
		},
		check: func(c *checker) {
			c.holes(c.Parts)
			c.bearing()
			c.nutAndLength()
		},
		draw: (*board).throughBolt}
}

func (b *board) throughBolt() error {
	bolted, err := b.bolted()
	if err != nil {
		return err
	}
	w := b.width()
	x := b.face()
	left := -w // the left of the picture
	for i, p := range b.Parts {
		b.plate(i, p, x, x+p.Thickness, w, b.t.D/2)
		b.along("t"+strconv.Itoa(i+1), "thickness", x, left, x+p.Thickness, left)
		b.holeSize(i, x+0.6*p.Thickness, -1, 190)
		x += p.Thickness
	}
	if err := b.fastener(bolted, 0); err != nil {
		return err
	}
	b.headWasher()
	b.along("L", "length", 0, -b.fit.Head.Bears/2, b.length(), -b.t.RootDiameter()/2)
	b.along("b", "thread length", b.limit(), -b.t.D/2, b.length(), -b.t.RootDiameter()/2)
	b.listFastener(-b.fit.Head.Height / 2)
	b.faceSizes()
	b.listParts(w)
	return nil
}

// boltOrScrew chooses the length and, where a bolt of ISO 4014 would need another
// thread than its own, one of ISO 4017 instead, which is threaded to the head.
func (c *chooser) boltOrScrew() error {
	free := c.freeKind && c.Basis == fastener.Standard && c.Bolt.ThreadLength == 0
	n := len(c.choices)
	screw := *c
	screw.choices = slices.Clone(c.choices)
	err := c.lengthForNut()
	if !free || err == nil && c.Bolt.ThreadLength == 0 {
		return err
	}
	screw.Bolt.Kind = "hex-screw"
	if e := screw.lengthForNut(); e != nil || screw.Bolt.ThreadLength != 0 {
		return err
	}
	m, e := newModel(screw.Joint)
	if e != nil || m.limit() > m.seat()-seatMargin(m.t)+slack {
		return err
	}
	for i, o := range screw.choices[:n] {
		if o.Field == "bolt.kind" {
			screw.choices[i].Value = screw.Bolt.Kind
			screw.choices[i].Why = "threaded to the head: a bolt of this length would need a longer thread than its standard's"
		}
	}
	*c = screw
	return nil
}
