package dxfout

import "boltplate/drawing"

var blocksStart = tags(`
0 SECTION | 2 BLOCKS
0 BLOCK | 5 20 | 330 1F | 100 AcDbEntity | 8 0 | 100 AcDbBlockBegin | 2 *Model_Space | 70 0 | 10 0.0 | 20 0.0 | 30 0.0 | 3 *Model_Space | 1 
0 ENDBLK | 5 21 | 330 1F | 100 AcDbEntity | 8 0 | 100 AcDbBlockEnd
0 BLOCK | 5 1C | 330 1B | 100 AcDbEntity | 67 1 | 8 0 | 100 AcDbBlockBegin | 2 *Paper_Space | 70 0 | 10 0.0 | 20 0.0 | 30 0.0 | 3 *Paper_Space | 1 
0 ENDBLK | 5 1D | 330 1B | 100 AcDbEntity | 67 1 | 8 0 | 100 AcDbBlockEnd`)

const endSection = "  0\r\nENDSEC\r\n"

// blocks appends the definitions of the layouts, which are empty because
// their entities stand in the next section, of views, parts and dimensions.
func (w *writer) blocks() {
	w.lit(blocksStart)
	for i := range w.views {
		w.viewBlock(&w.views[i])
	}
	for i := range w.parts {
		w.partBlock(&w.parts[i])
	}
	if w.dims > 0 {
		w.dimBlocks()
	}
	w.lit(endSection)
}

func (w *writer) beginBlock(handle uint64) {
	w.owner = handle
	w.entity("  0\r\nBLOCK\r\n  5\r\n", "0", "AcDbBlockBegin")
}

func (w *writer) namedBlock(handle uint64, name, flags string) {
	w.beginBlock(handle)
	w.str("  2", name)
	w.str(" 70", flags)
	w.lit(" 10\r\n0.0\r\n 20\r\n0.0\r\n 30\r\n0.0\r\n")
	w.str("  3", name)
	w.lit("  1\r\n\r\n")
}

func (w *writer) endBlock() { w.entity("  0\r\nENDBLK\r\n  5\r\n", "0", "AcDbBlockEnd") }

// viewBlock appends the geometry of a view at the scale of its first placing,
// its origin at the base point.
func (w *writer) viewBlock(b *viewBlock) {
	p := &w.d.Views[b.first]
	w.namedBlock(b.handle, b.name, "0")
	w.place(drawing.Point{}, viewScale(p))
	for i := range p.View.Items {
		if it := &p.View.Items[i]; inBlock(it.Shape) {
			w.item(it.Role, it.Shape)
		}
	}
	for i := range p.Attributes {
		a := &p.Attributes[i]
		w.definition(a, w.move(a.Text.At))
	}
	w.endBlock()
}

// place sets where the entities that follow stand.
func (w *writer) place(at drawing.Point, scale float64) {
	w.at, w.k, w.turned = at, scale, false
	w.mm = w.d.Style.Part(1)
}

// enter sets where the items of a view stand, or with -1 those of none. What is
// turned or mirrored is moved to its place before it is written.
func (w *writer) enter(view int) {
	w.viewScale = 1
	if view < 0 {
		w.place(drawing.Point{}, 1)
		return
	}
	p := &w.d.Views[view]
	w.viewScale = viewScale(p)
	if p.Mirror || p.Turn != 0 {
		w.place(drawing.Point{}, 1)
		w.turned, w.standing = true, p.Transform()
		return
	}
	w.place(p.At, w.viewScale)
}

// moved returns the shape as it is to be written.
func (w *writer) moved(s drawing.Shape) drawing.Shape {
	if w.turned {
		return drawing.Apply(s, w.standing)
	}
	return s
}

// insert places the block of a view.
func (w *writer) insert(b *viewBlock, p *drawing.Placed) {
	insert := w.next
	w.entity("  0\r\nINSERT\r\n  5\r\n", "0", "AcDbBlockReference")
	if len(p.Attributes) > 0 {
		w.lit(" 66\r\n1\r\n")
	}
	w.str("  2", b.name)
	w.point('0', p.At)
	f := viewScale(p) / viewScale(&w.d.Views[b.first])
	if f != 1 || p.Mirror {
		w.num(" 41", f)
		if p.Mirror {
			w.num(" 42", -f)
		} else {
			w.num(" 42", f)
		}
		w.num(" 43", f)
	}
	if p.Turn != 0 {
		from, _ := turn(p.Turn, p.Turn)
		w.num(" 50", from)
	}
	if len(p.Attributes)+len(p.Properties) == 0 {
		return
	}
	w.properties(p.Attributes, p.Properties)
	w.place(drawing.Point{}, 1)
	as := make([]drawing.Attribute, len(p.Attributes))
	for i, a := range p.Attributes {
		a.Text = a.Text.Apply(p.Transform())
		as[i] = a
	}
	w.attributes(insert, as, p.At)
}

// entities appends the contents of model space, and of paper space after it.
func (w *writer) entities() {
	w.lit("  0\r\nSECTION\r\n  2\r\nENTITIES\r\n")
	w.owner = handleModelRecord
	dim := 0
	for i := range w.d.Views {
		p := &w.d.Views[i]
		blocked := w.viewOf != nil && w.viewOf[i] >= 0
		if blocked {
			w.insert(&w.views[w.viewOf[i]], p)
		}
		w.enter(i)
		dim = w.contents(p.View.Items, blocked, dim)
	}
	w.enter(-1)
	w.contents(w.d.Items, false, dim)
	for i := range w.d.Parts {
		w.part(i)
	}
	w.paperSpace()
	w.lit(endSection)
}

// contents appends items to model space; dim is the index of the next
// dimension. Of a view that has a block only what the block lacks is written.
func (w *writer) contents(items []drawing.Item, blocked bool, dim int) int {
	for i := range items {
		it := &items[i]
		if d, ok := it.Shape.(drawing.Dimension); ok {
			if w.d.Style.Labels != drawing.NoLabels && w.dimension(w.moved(d), dim) {
				dim++
			}
			continue
		}
		if !blocked || !inBlock(it.Shape) {
			w.item(it.Role, w.moved(it.Shape))
		}
	}
	return dim
}
