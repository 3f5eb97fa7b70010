package fastener

import (
	"slices"

	"boltplate/drawing"
	"boltplate/rule"
)

// A key explains the letters that the dimensions of a figure say: what each is,
// and its rule, or its value where it was read from a table.
type key struct {
	w      *wording
	labels drawing.Labels
	comma  bool
	rows   []keyRow
}

type keyRow struct{ letter, name, says string }

func (r keyRow) texts() [3]string { return [3]string{r.letter, r.name, r.says} }

// keyOf returns the key to what views say, where they say letters or rules.
func keyOf(views []drawing.View, qs []drawing.Quantity, st drawing.Style) []keyRow {
	k := &key{w: newWording(qs), labels: st.Labels, comma: st.DecimalComma}
	var used []string
	for _, v := range views {
		for _, it := range v.Items {
			if l, _, ok := dimensionLabel(it.Shape); ok {
				used = append(used, k.letters(l)...)
			}
		}
	}
	// In the order of the table, with the letters that their own rules need.
	for n := 0; n < len(used); n++ {
		if q, ok := k.w.quantity(used[n]); ok && k.explains(q) {
			if e := k.rule(q); e != nil {
				for _, l := range e.Letters() {
					if !slices.Contains(used, l) {
						used = append(used, l)
					}
				}
			}
		}
	}
	for _, q := range qs {
		if slices.Contains(used, q.Letter) && k.explains(q) {
			k.rows = append(k.rows, keyRow{q.Letter, q.Name, k.says(q)})
		}
	}
	return k.rows
}

// letters returns those that a label says.
func (k *key) letters(l drawing.Label) []string {
	switch {
	case k.labels == drawing.Letters, l.Quantity.Rule == nil:
		return []string{l.Quantity.Letter}
	}
	return l.Quantity.Rule.Letters()
}

// explains reports whether a letter has a line in the key. Everybody knows D and
// L, which rules are given in, and the thread is named on the drawing.
func (k *key) explains(q drawing.Quantity) bool {
	return k.labels == drawing.Letters || q.Letter != "D" && q.Letter != "L"
}

// rule returns the rule that the key gives of a quantity: in D, L and P where
// the figure says rules, and its own where it says letters, so that one sees how
// they hang together.
func (k *key) rule(q drawing.Quantity) *rule.Expr {
	if q.Rule == nil || k.labels == drawing.Letters {
		return q.Rule
	}
	if full := k.w.resolved(q.Letter); full != nil && plain(full) && full.Len() <= mostInKey {
		return full
	}
	return q.Rule
}

func (k *key) says(q drawing.Quantity) string {
	if e := k.rule(q); e != nil {
		return e.Text(rule.Format{Comma: k.comma})
	}
	s := drawing.FormatValue(q.Value, k.comma)
	switch {
	case q.Unit == drawing.Degree:
		s += "°"
	case q.Unit == drawing.Millimetre:
		s += " mm"
	}
	if q.Status == drawing.FromMemory {
		s += ", from memory"
	}
	return s
}

// Distances of a key, in heights of its text.
const (
	keyLine   = 1.7 // from one line to the next
	keyColumn = 1.6 // between its columns
	keyBlock  = 5   // between blocks that stand beside each other
)

// addKey writes a key under box, in as many blocks beside each other as there
// is room for, and returns the box with it.
func addKey(d *drawing.Drawing, rows []keyRow, box drawing.Rect) drawing.Rect {
	if len(rows) == 0 {
		return box
	}
	h := d.Style.Part(d.Style.Height())
	width := func(rows []keyRow) (columns [3]float64, all float64) {
		for _, r := range rows {
			for i, text := range r.texts() {
				columns[i] = max(columns[i], d.Style.TextWidth(text, h))
			}
		}
		return columns, columns[0] + columns[1] + columns[2] + 2*keyColumn*h
	}
	_, widest := width(rows)
	blocks := max(1, int((box.Dx()+keyBlock*h)/(widest+keyBlock*h)))
	out, left := box, box.Min.X
	for block := range slices.Chunk(rows, (len(rows)+blocks-1)/blocks) {
		columns, wide := width(block)
		for i, r := range block {
			x, y := left, box.Min.Y-d.Style.Part(12)-float64(i)*keyLine*h
			for j, text := range r.texts() {
				t := drawing.Text{At: drawing.Pt(x, y), Height: d.Style.Height(), Value: text}
				d.Items = append(d.Items, drawing.Item{Role: drawing.RoleText, Shape: t})
				out = out.Union(t.Bounds(d.Style))
				x += columns[j] + keyColumn*h
			}
		}
		left += wide + keyBlock*h
	}
	return out
}
