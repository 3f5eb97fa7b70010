package drawing

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
)

// JSONVersion is the version of what a Drawing is in JSON. It grows where a
// program that reads the one before would misread the next.
const JSONVersion = 1

// MarshalJSON returns the drawing as an object, its version first. The font of
// the style is left out.
func (d Drawing) MarshalJSON() ([]byte, error) {
	type plain Drawing
	return json.Marshal(struct {
		Version int `json:"version"`
		plain
	}{JSONVersion, plain(d)})
}

// UnmarshalJSON reads what MarshalJSON writes. It refuses keys that it does not
// know; whether the drawing is sound is for Validate to say.
func (d *Drawing) UnmarshalJSON(b []byte) error {
	type plain Drawing
	var read struct {
		Version int `json:"version"`
		plain
	}
	if err := strict(b, &read); err != nil {
		return err
	}
	if read.Version != JSONVersion {
		return fmt.Errorf("version %d of a drawing cannot be read; this program reads version %d", read.Version, JSONVersion)
	}
	*d = Drawing(read.plain)
	return nil
}

// UnmarshalJSON reads a view. It refuses keys that it does not know.
func (v *View) UnmarshalJSON(b []byte) error {
	type plain View
	return strict(b, (*plain)(v))
}

// MarshalJSON returns [x,y].
func (p Point) MarshalJSON() ([]byte, error) { return json.Marshal([2]float64{p.X, p.Y}) }

// UnmarshalJSON reads [x,y].
func (p *Point) UnmarshalJSON(b []byte) error {
	ns, err := numbers(b)
	if err != nil || len(ns) != 2 {
		return errors.Join(err, fmt.Errorf("%.40s is no point; write [x,y]", b))
	}
	*p = Point{ns[0], ns[1]}
	return nil
}

// MarshalJSON returns [x,y], or [x,y,bulge] where the segment is no straight
// one.
func (v Vertex) MarshalJSON() ([]byte, error) {
	if v.Bulge == 0 {
		return v.Point.MarshalJSON()
	}
	return json.Marshal([3]float64{v.X, v.Y, v.Bulge})
}

// UnmarshalJSON reads [x,y] or [x,y,bulge].
func (v *Vertex) UnmarshalJSON(b []byte) error {
	ns, err := numbers(b)
	if err != nil || len(ns) != 2 && len(ns) != 3 {
		return errors.Join(err, fmt.Errorf("%.40s is no vertex; write [x,y] or [x,y,bulge]", b))
	}
	*v = Vertex{Point: Point{ns[0], ns[1]}}
	if len(ns) == 3 {
		v.Bulge = ns[2]
	}
	return nil
}

func numbers(b []byte) (ns []float64, err error) {
	err = json.Unmarshal(b, &ns)
	return ns, err
}

// MarshalJSON returns the fields of the shape as an object, the role and the
// name of the shape before them.
func (it Item) MarshalJSON() ([]byte, error) {
	role, err := it.Role.MarshalText()
	if err != nil {
		return nil, err
	}
	name := strings.ToLower(ShapeName(it.Shape))
	if _, ok := shapeReaders[name]; !ok {
		return nil, errors.New("an item without a shape")
	}
	body, err := json.Marshal(it.Shape)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return append(fmt.Appendf(nil, `{"role":%q,"shape":%q,`, role, name), body[1:]...), nil
}

// UnmarshalJSON reads what MarshalJSON writes; an item without a role is of
// the outline. It refuses keys that the shape does not have.
func (it *Item) UnmarshalJSON(b []byte) error {
	var head struct {
		Role  Role   `json:"role"`
		Shape string `json:"shape"`
	}
	if err := json.Unmarshal(b, &head); err != nil {
		return err
	}
	read, ok := shapeReaders[head.Shape]
	if !ok {
		names := slices.Sorted(maps.Keys(shapeReaders))
		return fmt.Errorf("%q is no shape; the shapes are %s", head.Shape, strings.Join(names, ", "))
	}
	var fields map[string]json.RawMessage
	if err := json.Unmarshal(b, &fields); err != nil {
		return err
	}
	delete(fields, "role")
	delete(fields, "shape")
	b, err := json.Marshal(fields)
	if err != nil {
		return err
	}
	s, err := read(b)
	if err != nil {
		return fmt.Errorf("%s: %w", head.Shape, err)
	}
	*it = Item{head.Role, s}
	return nil
}

// shapeReaders read the fields of a shape by its name.
var shapeReaders = map[string]func([]byte) (Shape, error){
	"line": readShape[Line], "arc": readShape[Arc], "circle": readShape[Circle], "ellipse": readShape[Ellipse], "conic": readShape[Conic],
	"polyline": readShape[Polyline], "text": readShape[Text], "hatch": readShape[Hatch], "cover": readShape[Cover],
	"linear": readShape[Linear], "aligned": readShape[Aligned], "diameter": readShape[Diameter], "radius": readShape[Radius],
	"angular": readShape[Angular], "leader": readShape[Leader],
}

func readShape[S Shape](b []byte) (Shape, error) {
	var s S
	err := strict(b, &s)
	return s, err
}

// strict reads JSON into v and refuses keys that v does not have.
func strict(b []byte, v any) error {
	d := json.NewDecoder(bytes.NewReader(b))
	d.DisallowUnknownFields()
	return d.Decode(v)
}
