package joint

import (
	"slices"
	"strconv"
)

func throughScene() scene {
	return scene{name: ThroughBolt, kind: "hex-bolt",
		kinds: append(slices.DeleteFunc(turned(), func(k string) bool { return k == "tap-bolt" }), "cheese-bolt",
			"cup-bolt"), nut: true, parts: [2]int{2, 6},
		reads: []string{"hole"}, validate: Joint.flatHead,
		choose: func(c *chooser) error {
			c.clearanceHoles(len(c.Parts))
			return c.lengthForNut()
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
		b.plate(p, x, x+p.Thickness, w, b.t.D/2)
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
	b.listParts(w)
	return nil
}
