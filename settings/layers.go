package settings

import (
	"boltplate/drawing"
	"boltplate/dxfout"
	"boltplate/fastener"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/BurntSushi/toml"
)

// DidYouMean suggests the nearest of the known words, or lists them.
func DidYouMean(word string, known []string) string {
	if near := fastener.Nearest(strings.ToLower(word), known); near != "" {
		return "did you mean " + near + "?"
	}
	return "use " + strings.Join(known[:len(known)-1], ", ") + " or " + known[len(known)-1]
}

// A layerReader reads a file of layers.
type layerReader struct {
	File
	tables map[string]map[string]toml.Primitive
	layers dxfout.LayerMap
}

// ReadLayers reads a file of layers: a table for each role, all of whose keys
// may be left out. It reports everything that is wrong, a line each, as
// schedule.Errors.
func ReadLayers(file, text string, version dxfout.Version) (dxfout.LayerMap, error) {
	r := layerReader{File: File{Name: file, text: text}, tables: map[string]map[string]toml.Primitive{}}
	top := r.top()
	for name, table := range InOrder(top) {
		r.role(name, table)
	}
	if len(r.errs) == 0 {
		r.check(version)
	}
	return r.layers, r.failed()
}

func (r *layerReader) role(name string, table toml.Primitive) {
	role, known := drawing.Role(0), false
	var names []string
	for i := range drawing.RoleCount {
		names = append(names, i.String())
		if i.String() == name {
			role, known = i, true
		}
	}
	if !known {
		r.fail(table, "%s: no such role; %s", name, DidYouMean(name, names))
		return
	}
	var keys map[string]toml.Primitive
	if r.md.PrimitiveDecode(table, &keys) != nil || keys == nil {
		r.fail(table, "%s: not a table; start it with a line [%s]", name, name)
		return
	}
	r.tables[name] = keys
	l := &r.layers[role]
	for key, value := range InOrder(keys) {
		switch key {
		case "layer":
			r.value(name, key, value, &l.Name, `a name in quotes, such as "EDGES"`)
			if l.Name == "" {
				r.fail(value, "%s.layer: empty; give a name, or leave the line out to keep ours", name)
			}
		case "colour":
			r.value(name, key, value, &l.Colour, "a whole number from 1 to 255")
			if l.Colour == 0 {
				r.fail(value, "%s.colour: 0 is no colour index; they go from 1 to 255", name)
			}
		case "line":
			if r.value(name, key, value, &l.LineType, "a name in quotes") {
				r.line(name, value, l)
			}
		case "width":
			r.value(name, key, value, &l.Width, "a number of millimetres, such as 0.35")
			if l.Width == 0 {
				r.fail(value, "%s.width: 0 is no width of the format; the least is %g", name, dxfout.LineWidths()[0])
			}
		default:
			r.fail(value, "%s.%s: no such key; %s", name, key, DidYouMean(key, layerKeys[:]))
		}
	}
}

// value decodes a value; where it is of another type it says what would be
// right, and sets what would be complained of once more aside.
func (r *layerReader) value(role, key string, value toml.Primitive, to any, want string) bool {
	if r.md.PrimitiveDecode(value, to) == nil {
		return true
	}
	r.fail(value, "%s.%s: must be %s", role, key, want)
	switch to := to.(type) {
	case *string:
		*to = "?"
	case *int:
		*to = -1
	case *float64:
		*to = -1
	}
	return false
}

func (r *layerReader) line(role string, value toml.Primitive, l *dxfout.Layer) {
	var known []string
	for _, t := range dxfout.LineTypes() {
		known = append(known, strings.ToLower(t))
		if strings.EqualFold(t, l.LineType) {
			return
		}
	}
	r.fail(value, "%s.line: %q is no line type; %s", role, l.LineType, DidYouMean(l.LineType, known))
}

// check has the encoder look at the layers, and tells where in the file it
// found something.
func (r *layerReader) check(version dxfout.Version) {
	_, err := dxfout.Encoder{Version: version, Layers: r.layers}.Append(nil, &drawing.Drawing{})
	var ve *dxfout.ValueError
	if !errors.As(err, &ve) {
		if err != nil {
			r.syntax(err)
		}
		return
	}
	role, field, _ := strings.Cut(strings.TrimPrefix(ve.Field, "Layers["), "]")
	key := "layer"
	if i := slices.Index(layerFields[:], strings.TrimPrefix(field, ".")); i >= 0 {
		key = layerKeys[i]
	}
	said := fmt.Sprintf("%s.%s: %s %s", role, key, ve.Value, ve.Reason)
	if at, ok := r.tables[role][key]; ok {
		r.fail(at, "%s", said)
		return
	}
	r.add(1, 1, errors.New(said))
}

// The keys of a role in a file of layers, and the fields of dxfout.Layer that
// they set.
var (
	layerKeys   = [...]string{"layer", "colour", "line", "width"}
	layerFields = [...]string{"Name", "Colour", "LineType", "Width"}
)
