package dxfout

import (
	"reflect"

	"boltplate/drawing"
)

// A plan is what must be known of a drawing before its first byte: names and
// handles of what the tables define, and the extents.
type plan struct {
	d     *drawing.Drawing
	plain bool // AC1009
	font  string
	layer [drawing.RoleCount]layer
	names names

	dimTextLayer string // layer of the text of dimensions, with its colour
	letters      field  // of TEXT
	layout       *layout

	bounds drawing.Rect
	seed   uint64 // above every handle

	scales  []float64   // scales of views that have dimensions; the first is 1
	styles  []string    // the names of their dimension styles
	views   []viewBlock // blocks that hold a view
	viewOf  []int       // per placed view its index in views, or -1; nil if there are no blocks
	parts   []partBlock // blocks that carry the attributes of parts
	partOf  []int       // per part its index in parts
	covers  bool        // something is covered
	dims    int         // dimensions with an anonymous block
	dimBase uint64      // handle of the BLOCK_RECORD of the first of them
}

// A viewBlock is a view that is written once and inserted where it is placed.
type viewBlock struct {
	name   string
	first  int // index of the placed view that it is made from
	handle uint64
}

// A partBlock holds the definitions of the attributes of a part.
type partBlock struct {
	name   string
	first  int
	handle uint64
}

// prepare checks d and plans its file.
func (w *writer) prepare(e Encoder, d *drawing.Drawing) error {
	if err := d.Validate(); err != nil {
		return err
	}
	w.d, w.font, w.plain = d, e.font(d.Style), e.Version == R12
	c := checker{d: d, plain: w.plain}
	c.encoder(e)
	c.items()
	c.parts()
	if c.err != nil {
		return c.err
	}
	if err := w.planLayers(&e.Layers); err != nil {
		return err
	}
	if err := w.planLayout(e.Layout); err != nil {
		return err
	}
	w.planNames()
	if w.plain {
		w.d = d.Uncovered() // there is nothing that hides
		return w.planExtents()
	}
	if err := w.planBlocks(); err != nil {
		return err
	}
	w.planHandles()
	return w.planExtents()
}

func (w *writer) planExtents() error {
	w.bounds = w.d.Bounds()
	if w.bounds.Empty() {
		w.bounds = drawing.Rect{Max: drawing.Point{X: usualWidth, Y: usualHeight}}
	}
	b := w.bounds
	if !finite(b.Min.X) || !finite(b.Min.Y) || !finite(b.Max.X) || !finite(b.Max.Y) {
		return &ValueError{Index: -1, Item: -1, Object: "Drawing", Field: "Bounds", Reason: "the drawing reaches further than 1e12"}
	}
	return nil
}

// A blockKey tells the blocks of views apart.
type blockKey struct {
	name  string
	scale float64
}

// hatchScale returns the scale of a view that is hatched with lines, or 0. The
// lines keep their distance on paper, so that such a view has a block for each
// scale.
func hatchScale(p *drawing.Placed) float64 {
	for i := range p.View.Items {
		if h, ok := p.View.Items[i].Shape.(drawing.Hatch); ok && !h.Solid {
			return viewScale(p)
		}
	}
	return 0
}

// planBlocks gives views and parts their blocks.
func (w *writer) planBlocks() error {
	var names nameSet
	var firsts map[string]int   // name to the first placed view
	var blocks map[blockKey]int // to the index in w.views
	for i := range w.d.Views {
		p := &w.d.Views[i]
		if p.Block == "" {
			continue
		}
		if names == nil {
			names, firsts, blocks = nameSet{}, map[string]int{}, map[blockKey]int{}
			w.viewOf = make([]int, len(w.d.Views))
			for j := range w.viewOf {
				w.viewOf[j] = -1
			}
		}
		if first, known := firsts[p.Block]; !known {
			firsts[p.Block] = i
		} else if !sameAttributes(w.d.Views[first].Attributes, p.Attributes) {
			return &ValueError{View: p.View.Name, Index: i, Item: -1, Object: "Placed", Field: "Attributes", Value: p.Block,
				Reason: "are not those of the block where it was placed before; give all its inserts the same tags"}
		} else if !sameBlock(w.d.Views[first].View.Items, p.View.Items) {
			return &ValueError{View: p.View.Name, Index: i, Item: -1, Object: "Placed", Field: "Block", Value: p.Block,
				Reason: "names a block that holds another view"}
		}
		key := blockKey{p.Block, hatchScale(p)}
		n, known := blocks[key]
		if !known {
			n = len(w.views)
			blocks[key] = n
			w.views = append(w.views, viewBlock{name: names.unique(cleanName(p.Block)), first: i})
		}
		w.viewOf[i] = n
	}
	w.planParts(names)
	return nil
}

// planParts lets parts of the same name with the same attributes share a
// block, so that a program that counts blocks counts parts.
func (w *writer) planParts(names nameSet) {
	if len(w.d.Parts) == 0 {
		return
	}
	if names == nil {
		names = nameSet{}
	}
	byName := map[string][]int{}
	w.partOf = make([]int, len(w.d.Parts))
	for i := range w.d.Parts {
		p := &w.d.Parts[i]
		w.partOf[i] = -1
		for _, n := range byName[p.Name] {
			if sameAttributes(w.d.Parts[w.parts[n].first].Attributes, p.Attributes) {
				w.partOf[i] = n
			}
		}
		if w.partOf[i] < 0 {
			w.partOf[i] = len(w.parts)
			byName[p.Name] = append(byName[p.Name], len(w.parts))
			w.parts = append(w.parts, partBlock{name: names.unique(cleanName(p.Name) + "_" + w.names.scale), first: i})
		}
	}
}

func sameAttributes(a, b []drawing.Attribute) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i].Tag != b[i].Tag || a[i].Prompt != b[i].Prompt || a[i].Hidden != b[i].Hidden {
			return false
		}
	}
	return true
}

// inBlock reports whether a block holds the item: geometry, but neither
// dimensions nor text, whose size belongs to the paper and which some programs
// lose inside blocks.
func inBlock(s drawing.Shape) bool {
	switch s.(type) {
	case drawing.Text, drawing.Dimension:
		return false
	}
	return true
}

// sameBlock reports whether two views have the same geometry. Most often they
// are copies of one view and share its items.
func sameBlock(a, b []drawing.Item) bool {
	if len(a) == len(b) && (len(a) == 0 || &a[0] == &b[0]) {
		return true
	}
	i, j := 0, 0
	for {
		for i < len(a) && !inBlock(a[i].Shape) {
			i++
		}
		for j < len(b) && !inBlock(b[j].Shape) {
			j++
		}
		if i == len(a) || j == len(b) {
			return i == len(a) && j == len(b)
		}
		if a[i].Role != b[j].Role || !reflect.DeepEqual(a[i].Shape, b[j].Shape) {
			return false
		}
		i, j = i+1, j+1
	}
}

// entitiesOfDimension is how many entities a dimension or a leader has at most
// when it is taken apart.
const entitiesOfDimension = 14

// planHandles deals out the handles of table records and finds one that no
// entity will reach. It also collects the scales of dimensions.
func (w *writer) planHandles() {
	w.dimStyle(1)
	entities := len(w.d.Views)
	_ = w.d.Each(func(at drawing.Place, it *drawing.Item) error {
		entities++
		switch s := it.Shape.(type) {
		case drawing.Dimension:
			if w.d.Style.Labels == drawing.NoLabels {
				return nil
			}
			scale := 1.0
			if at.View >= 0 {
				scale = viewScale(&w.d.Views[at.View])
			}
			w.dimStyle(scale)
			entities += entitiesOfDimension
			if hasBlock(s) {
				w.dims++
			}
		case drawing.Cover:
			entities += len(s.Loops)
			w.covers = true
		}
		return nil
	})
	for i := range w.d.Parts {
		entities += 2 + 3*len(w.d.Parts[i].Attributes) // INSERT, SEQEND, ATTRIBs, perhaps ATTDEFs and MTEXTs
	}
	for i := range w.d.Views {
		if n := len(w.d.Views[i].Attributes); n > 0 {
			entities += 1 + 3*n
		}
	}
	entities += w.layout.entities()

	w.next = firstFree + uint64(len(w.scales))
	for i := range w.views {
		w.views[i].handle = w.take()
	}
	for i := range w.parts {
		w.parts[i].handle = w.take()
	}
	w.dimBase = w.next
	w.next += uint64(w.dims)
	ends := 2 * (len(w.views) + len(w.parts) + w.dims) // BLOCK and ENDBLK
	w.seed = w.next + uint64(entities+ends+w.dims*entitiesOfDimension)
}

func (w *writer) take() uint64 {
	w.next++
	return w.next - 1
}

// dimStyle returns the index of the dimension style for views of a scale.
func (w *writer) dimStyle(scale float64) int {
	for i, s := range w.scales {
		if s == scale {
			return i
		}
	}
	w.scales, w.styles = append(w.scales, scale), append(w.styles, w.names.dimStyle(scale))
	return len(w.scales) - 1
}

func viewScale(p *drawing.Placed) float64 {
	if p.Scale == 0 {
		return 1
	}
	return p.Scale
}
