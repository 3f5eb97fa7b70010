package joint

import (
	"math"
	"slices"
	"strconv"

	"boltplate/drawing"
	"boltplate/fastener"
)

func tappedScene() scene {
	return scene{name: Tapped, kind: "tap-bolt", kinds: turned(), tapped: true, parts: [2]int{2, 4},
		reads: slices.Concat(faceFields, boreFields, tappedFields, []string{"insert"}), validate: Joint.flatHead,
		choose: func(c *chooser) error {
			c.clearanceHoles(len(c.Parts) - 1)
			if err := c.chooseFaces(); err != nil {
				return err
			}
			return c.lengthForThread()
		},
		check: func(c *checker) {
			c.holes(c.Parts[:len(c.Parts)-1])
			c.bearing()
			c.tapped()
		},
		draw: (*board).tappedScene}
}

func (b *board) tappedScene() error {
	w := b.width()
	x := b.face()
	for i, p := range b.Parts[:len(b.Parts)-1] {
		b.plate(i, p, x, x+p.Thickness, w, b.t.D/2)
		b.along("t"+strconv.Itoa(i+1), "thickness", x, -w, x+p.Thickness, -w)
		b.holeSize(i, x+0.6*p.Thickness, -1, 190)
		x += p.Thickness
	}
	last := b.Parts[len(b.Parts)-1]
	chamfer := b.t.D/2 - fastener.DrawnRoot(b.t, b.st)
	b.tappedPart(last, x, w, b.length(), chamfer)
	if err := b.fastener(b.bolt, 0); err != nil {
		return err
	}
	b.headWasher()
	b.along("L", "length", 0, -b.fit.Head.Bears/2, b.length(), -b.t.RootDiameter()/2)
	b.tappedDimensions(last, x, w)
	b.along("t"+strconv.Itoa(len(b.Parts)), "thickness", x, -w, x+last.Thickness, -w)
	if !last.Through {
		b.line(drawing.RoleCentre, 0, 0, x+last.DrillDepth+b.point()+b.st.Part(drawing.CentreOverrun), 0)
	}
	b.listFastener(-b.fit.Head.Height / 2)
	b.faceSizes()
	b.insertSize(last, x)
	b.listParts(w)
	return nil
}

// tappedDimensions gives the depths of a tapped part from x on, and its thread.
func (b *board) tappedDimensions(p Part, x, w float64) {
	if !p.Through {
		b.along("e", "full thread", x, -w, x+p.FullDepth, -b.t.D/2)
		b.along("f", "drilled depth", x, -w, x+p.DrillDepth, -b.crest())
	}
	b.leader(b.t.String(), drawing.Quantity{Letter: "D", Name: "thread", Value: b.t.D}, drawing.NoSymbol,
		math.Min(b.length(), x+p.Thickness)-0.3*b.t.D, -b.t.D/2, 200)
}
