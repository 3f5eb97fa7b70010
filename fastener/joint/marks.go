package joint

import (
	"math"
	"strconv"

	"boltplate/drawing"
	"boltplate/fastener"
)

// item enters a line of the parts list, its number pointing at tip.
func (b *board) item(name, material string, tip drawing.Point) {
	b.list = append(b.list, listed{name, material, tip, 1})
}

// itemFastener enters a fastener, as many times as the joint has it.
func (b *board) itemFastener(name string, tip drawing.Point) {
	b.list = append(b.list, listed{name, "", tip, max(1, b.Count)})
}

// listFastener lists the bolt, pointed at on its head at x, and nut and
// washers.
func (b *board) listFastener(x float64) {
	b.itemFastener(b.ordered(), drawing.Pt(x, b.fit.Head.Bears/4))
	if b.head.Thickness > 0 {
		b.itemFastener(b.head.part.Designation(), drawing.Pt(b.head.Thickness/2, b.head.Outside*0.45))
	}
	if b.nutOn == nil {
		return
	}
	if b.washer.Thickness > 0 {
		b.itemFastener(b.washer.part.Designation(), drawing.Pt(b.seat()-b.washer.Thickness/2, b.washer.Outside*0.45))
	}
	b.itemFastener(b.nutOn.Designation(), drawing.Pt(b.seat()+b.nut.Height/2, b.nut.Bears*0.35))
}

// ordered returns the designation of the bolt, and how long its thread is where
// that is not the one of its rule.
func (b *board) ordered() string {
	name := b.bolt.Designation()
	if b.Scene == Taper || b.Bolt.ThreadLength == 0 {
		return name
	}
	plain := b.spec()
	plain.ThreadLength = 0
	if f, err := fastener.New(plain); err == nil && f.Designation() == name {
		if ruled, err := fastener.FitOf(f); err == nil && ruled.Thread == b.fit.Thread {
			return name
		}
		name += ", thread " + num(b.Bolt.ThreadLength) + " mm"
	}
	return name
}

// listParts lists the parts, each pointed at near its broken end.
func (b *board) listParts(w float64) {
	for i, p := range b.Parts {
		name := p.Name
		if name == "" {
			name = "Part " + strconv.Itoa(i+1)
		}
		b.item(name, p.Material, drawing.Pt(b.middle(i), w-b.st.Part(4)))
	}
}

// place returns where an item reference points in the picture: where both sides
// are the same, on the right, the dimensions being on the left.
func (b *board) place(tip drawing.Point) []drawing.Point {
	p := b.at(tip.X, tip.Y)
	if b.even {
		p.X = math.Abs(p.X)
	}
	return []drawing.Point{p}
}
