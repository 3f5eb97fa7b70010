package settings

import (
	"strings"

	"github.com/BurntSushi/toml"

	"boltplate/drawing"
	"boltplate/marking"
)

// readMarks reads the table [marks]: the points of each part and what each kind
// of fault costs, the tolerance, and what layers, line types and colours mean.
func (r *Plate) readMarks(value toml.Primitive) {
	var keys map[string]toml.Primitive
	if r.md.PrimitiveDecode(value, &keys) != nil || keys == nil {
		r.fail(value, "marks: start it with a line [marks]")
		return
	}
	m := &r.Marks
	m.Scheme = marking.DefaultScheme()
	for key, v := range InOrder(keys) {
		switch key {
		case "tolerance":
			r.size("marks.tolerance", v, &m.Tolerance, 0.05, 2)
		case "either_projection":
			r.truth("marks.either_projection", v, &m.EitherProjection)
		case "layers", "line_types":
			lines := r.marksLines()
			to := &lines.Layers
			if key == "line_types" {
				to = &lines.LineTypes
			}
			*to = r.roles("marks."+key, v)
		default:
			r.markRule(key, v)
		}
	}
}

func (r *Plate) marksLines() *marking.Lines {
	if r.Marks.Lines == nil {
		r.Marks.Lines = &marking.Lines{}
	}
	return r.Marks.Lines
}

// roles reads what the names of layers or line types mean.
func (r *Plate) roles(key string, value toml.Primitive) map[string]drawing.Role {
	var keys map[string]toml.Primitive
	if r.md.PrimitiveDecode(value, &keys) != nil {
		r.fail(value, `%s: must be a table such as { VISIBLE = "outline" }`, key)
		return nil
	}
	out := map[string]drawing.Role{}
	for name, v := range InOrder(keys) {
		var word string
		if !r.str(key+"."+name, v, &word) {
			continue
		}
		var role drawing.Role
		if err := role.UnmarshalText([]byte(word)); err != nil {
			r.fail(v, "%s.%s: %v", key, name, err)
			continue
		}
		out[name] = role
	}
	return out
}

// markRule reads the points of a part, or what a kind of fault costs: a number,
// or a table with each and most.
func (r *Plate) markRule(key string, value toml.Primitive) {
	name := strings.ReplaceAll(key, "_", " ")
	if part, err := marking.ParsePart(name); err == nil {
		r.points("marks."+key, value, &r.Marks.Scheme.Parts[part])
		return
	}
	kind, err := marking.ParseKind(strings.ReplaceAll(key, "_", "-"))
	if err != nil {
		known := []string{"tolerance", "either_projection", "layers", "line_types"}
		for p := marking.PartViews; p <= marking.PartNeatness; p++ {
			known = append(known, strings.ReplaceAll(p.String(), " ", "_"))
		}
		for _, k := range marking.Kinds() {
			known = append(known, strings.ReplaceAll(k.String(), "-", "_"))
		}
		r.fail(value, "marks.%s: no such key; %s", key, DidYouMean(key, known))
		return
	}
	rule := &r.Marks.Scheme.Rules[kind]
	var keys map[string]toml.Primitive
	if r.md.PrimitiveDecode(value, &keys) != nil || keys == nil {
		r.points("marks."+key, value, &rule.Each)
		return
	}
	for word, v := range InOrder(keys) {
		switch word {
		case "each":
			r.points("marks."+key+".each", v, &rule.Each)
		case "most":
			r.points("marks."+key+".most", v, &rule.Most)
		default:
			r.fail(v, "marks.%s.%s: no such key; use each and most", key, word)
		}
	}
}

// points reads points from 0 to 1000.
func (r *Plate) points(key string, value toml.Primitive, to *float64) {
	var whole int64
	v := 0.0
	if r.md.PrimitiveDecode(value, &whole) == nil {
		v = float64(whole)
	} else if r.md.PrimitiveDecode(value, &v) != nil {
		r.fail(value, "%s: must be a number of points", key)
		return
	}
	if !(v >= 0 && v <= 1000) {
		r.fail(value, "%s: %v: must be from 0 to 1000 points", key, inWords(v))
		return
	}
	*to = v
}
