package assembly

import (
	"fmt"
	"hash/fnv"
	"slices"
	"strconv"
	"strings"

	"boltplate/drawing"
	"boltplate/fastener"
)

// maxName is how long the name of a block may be in AC1009, which takes A-Z,
// 0-9, _, - and $.
const maxName = 31

// BlockName returns the name of the block of a view of the part with a mark,
// in drawings of a style, such as "HS-01_FRONT_1-2": mark, view, scale. What
// AC1009 does not take in a name becomes "_"; where that, or cutting the mark
// short, changes it, four digits that follow from the mark keep it apart from
// others. Letters become capitals, since readers do not tell them apart.
func BlockName(mark string, view drawing.Direction, st drawing.Style) string {
	scale := "1-"
	if k := st.PaperScale(); k >= 1 {
		scale = drawing.FormatValue(k, false) + "-1"
	} else {
		scale += drawing.FormatValue(1/k, false)
	}
	tail := "_" + strings.ToUpper(view.String()) + "_" + legal(scale)
	name := legal(mark)
	if room := maxName - len(tail); name != strings.ToUpper(mark) || len(name) > room {
		sum := fnv.New32a()
		sum.Write([]byte(strings.ToUpper(mark)))
		name = fmt.Sprintf("%.*s-%04X", max(room-5, 0), name, sum.Sum32()&0xffff)
	}
	return name + tail
}

// legal returns s in the characters of a name in AC1009.
func legal(s string) string {
	return strings.Map(func(r rune) rune {
		if r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' || r == '_' || r == '$' {
			return r
		}
		return '_'
	}, strings.ToUpper(s))
}

// blocks are the views of parts that have been asked for, each made once.
type blocks struct {
	st     drawing.Style
	parts  []Part
	byMark map[string]int
	views  map[blockKey]drawing.View
}

type blockKey struct {
	part          int
	view          drawing.Direction
	cover, radial bool
}

func newBlocks(parts []Part, st drawing.Style) (*blocks, error) {
	b := &blocks{st: st, parts: parts, byMark: map[string]int{}, views: map[blockKey]drawing.View{}}
	names := map[string]string{}
	for i, p := range parts {
		if p.Mark == "" {
			return nil, &MarkError{-1, p.Mark, "missing; give every part a mark of its own"}
		}
		if _, twice := b.byMark[p.Mark]; twice {
			return nil, &MarkError{-1, p.Mark, "is that of two parts; give every part a mark of its own"}
		}
		name := BlockName(p.Mark, drawing.Front, st)
		if other, twice := names[name]; twice {
			return nil, &MarkError{-1, p.Mark, "its block " + name + " would be that of mark " + other + "; choose another mark"}
		}
		b.byMark[p.Mark], names[name] = i, p.Mark
	}
	return b, nil
}

// view returns a view of a part without dimensions.
func (b *blocks) view(key blockKey) (drawing.View, error) {
	if v, ok := b.views[key]; ok {
		return v, nil
	}
	p := &b.parts[key.part]
	opt := p.Options
	opt.Style = b.st
	v, err := p.Fastener.View(key.view, opt)
	if err != nil {
		return v, err
	}
	v.Items = slices.DeleteFunc(slices.Clone(v.Items), func(it drawing.Item) bool {
		_, dim := it.Shape.(drawing.Dimension)
		line, straight := it.Shape.(drawing.Line)
		return dim || key.radial && straight && it.Role == drawing.RoleCentre && line.From.X == line.To.X
	})
	if key.cover {
		v = v.Covering()
	}
	b.views[key] = v
	return v, nil
}

// place returns the insert of a view.
func (b *blocks) place(p Place) (drawing.Placed, error) {
	i, ok := b.byMark[p.Mark]
	if !ok {
		want := "no part has it"
		var marks []string
		for _, x := range b.parts {
			marks = append(marks, x.Mark)
		}
		if near := fastener.Nearest(p.Mark, marks); near != "" {
			want += "; did you mean " + near + "?"
		} else if len(marks) > 0 {
			want += "; the marks are " + strings.Join(marks[:min(len(marks), 20)], ", ")
		}
		return drawing.Placed{}, &MarkError{-1, p.Mark, want}
	}
	end := p.View == drawing.HeadEnd || p.View == drawing.PointEnd
	key := blockKey{i, p.View, p.Cover, p.Radial && end}
	v, err := b.view(key)
	if err != nil {
		return drawing.Placed{}, err
	}
	name := BlockName(p.Mark, p.View, b.st)
	// What looks different is another block; these come up in one drawing only.
	if key.radial {
		name += "-R"
	}
	if key.cover {
		name += "-C"
	}
	part := &b.parts[i]
	return drawing.Placed{View: v, At: p.At, Turn: p.Turn, Mirror: p.Mirror, Block: name,
		Attributes: attributes(part, b.st), Properties: properties(part)}, nil
}

// attributes are what a person reads at an insert; they do not show.
func attributes(p *Part, st drawing.Style) []drawing.Attribute {
	d := fastener.Describe(p.Fastener)
	value := func(key string) string {
		i := slices.IndexFunc(d, func(p drawing.Property) bool { return p.Key == key })
		if i < 0 {
			return ""
		}
		return d[i].Value
	}
	var out []drawing.Attribute
	for _, a := range [...][3]string{{"MARK", "Mark", p.Mark}, {"DESIGNATION", "Designation", value("designation")}, {"SIZE", "Size", value("thread")}, {"LENGTH", "Length", value("length")}} {
		out = append(out, drawing.Attribute{Tag: a[0], Prompt: a[1], Hidden: true, Text: drawing.Text{Height: st.Height(), Value: a[2]}})
	}
	return out
}

// properties are what a program reads at an insert.
func properties(p *Part) []drawing.Property {
	out := append(fastener.Describe(p.Fastener), drawing.Property{Key: "mark", Value: p.Mark})
	for _, more := range p.Properties {
		if i := slices.IndexFunc(out, func(p drawing.Property) bool { return p.Key == more.Key }); i >= 0 {
			out[i] = more
		} else {
			out = append(out, more)
		}
	}
	return out
}

// count writes at every insert how many there are of its part.
func (b *blocks) count(d *drawing.Drawing, shown map[string]map[drawing.Direction]int) error {
	for i := range d.Views {
		ps := d.Views[i].Properties
		at := slices.IndexFunc(ps, func(p drawing.Property) bool { return p.Key == "mark" })
		if at < 0 {
			continue
		}
		part, ok := b.byMark[ps[at].Value]
		if !ok {
			continue
		}
		n := strconv.Itoa(b.parts[part].quantity(shown[ps[at].Value]))
		if q := slices.IndexFunc(ps, func(p drawing.Property) bool { return p.Key == "quantity" }); q >= 0 {
			ps[q].Value = n
		} else {
			d.Views[i].Properties = append(ps, drawing.Property{Key: "quantity", Value: n})
		}
	}
	return nil
}

// libraryGap is the distance of blocks in a library, mm on paper.
const libraryGap = 15.0

// Library returns a drawing with a block for each view of each part, laid out
// one part a row with its mark and designation. The base point of a block is
// the origin of the view. There are no dimensions. Errors are those of
// [Layout.Draw].
func Library(parts []Part, st drawing.Style) (*drawing.Drawing, error) {
	b, err := newBlocks(parts, st)
	if err != nil {
		return nil, err
	}
	d := &drawing.Drawing{Style: st}
	gap := st.Part(libraryGap)
	y := 0.0
	shown := map[string]map[drawing.Direction]int{}
	for i := range parts {
		p := &parts[i]
		dirs := p.Views
		if len(dirs) == 0 {
			dirs = fastener.UsualViews(p.Fastener)
		}
		d.Items = append(d.Items, drawing.Item{Role: drawing.RoleText, Shape: drawing.Text{At: drawing.Pt(0, y), Height: st.Height(), Value: p.Mark + "  " + p.Fastener.Designation()}})
		shown[p.Mark] = map[drawing.Direction]int{}
		row := make([]drawing.Placed, len(dirs))
		up, down := 0.0, 0.0
		x := 0.0
		for j, dir := range dirs {
			if row[j], err = b.place(Place{Mark: p.Mark, View: dir}); err != nil {
				return nil, err
			}
			shown[p.Mark][dir] = 1
			box := row[j].Bounds(st)
			up, down = max(up, box.Max.Y), min(down, box.Min.Y)
			row[j].At.X = x - box.Min.X
			x += box.Dx() + gap
		}
		for j := range row {
			row[j].At.Y = y - gap/2 - up
		}
		d.Views = append(d.Views, row...)
		y -= gap/2 + up - down + gap
	}
	return d, b.count(d, shown)
}
