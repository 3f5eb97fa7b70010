package joint

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"boltplate/fastener"
)

// A Change sets one value of a joint. Fields are named as in a FieldError:
// "bolt.length", "part 2: hole". Value is as in a joint file without quotes; ""
// leaves the value out, so that it is chosen.
type Change struct {
	Field, Value string
}

// words makes the name of a field that of a remedy.
func words() *strings.Replacer {
	return strings.NewReplacer("bolt.thread", "thread of the bolt", "bolt.length", "length of the bolt", "bolt.",
		"", "_", " ", ": ", ", ")
}

// String returns the change as "length of the bolt 65 mm".
func (c Change) String() string {
	name := words().Replace(c.Field)
	if c.Value == "" {
		for _, o := range optionalFields() {
			if strings.HasSuffix(c.Field, ": "+o) {
				return "no " + words().Replace(o) + " in " + strings.TrimSuffix(c.Field, ": "+o)
			}
		}
		return name + " by its rule"
	}
	if _, err := strconv.ParseFloat(c.Value, 64); err == nil {
		switch {
		case strings.HasSuffix(c.Field, "angle"), strings.HasSuffix(c.Field, "slope"), c.Field == "pull":
			return name + " " + c.Value + "°"
		}
		return name + " " + c.Value + " mm"
	}
	return name + " " + c.Value
}

// PartNumbers returns the names of the sizes of a part, as joint files have
// them.
func PartNumbers() []string {
	return []string{"thickness", "hole", "edge", "full_depth", "drill_depth", "sink_angle", "sink_diameter",
		"slot_width", "slot_head",
		"slot_depth", "slot_whole", "overlap", "packing", "draw_up", "seat", "relief", "relief_depth",
		"counterbore", "counterbore_depth", "slotted", "slope", "wall", "fillet", "insert"}
}

// None is a size that is given as nothing: a hook that reaches over no edge, a
// taper bolt that nothing is left to draw in, no packing, no relief. Of a Part
// the number 0 means a size that is left out, and chosen. (It is the negative
// zero of floating point, equal to 0 where one calculates.)
func None() float64 { return math.Copysign(0, -1) }

// none reports whether a size is given as nothing.
func none(v float64) bool { return v == 0 && math.Signbit(v) }

// mayBeNone reports whether a size of a part may be None.
func mayBeNone(name string) bool {
	return slices.Contains([]string{"overlap", "packing", "draw_up", "relief", "relief_depth"}, name)
}

// optionalFields are sizes of a part of what it need not have.
func optionalFields() []string {
	return []string{"counterbore", "slotted", "slope", "wall", "fillet", "insert", "seat"}
}

// Number returns where the size with a name of PartNumbers is, or nil.
func (p *Part) Number(name string) *float64 {
	i := slices.Index(PartNumbers(), name)
	if i < 0 {
		return nil
	}
	return [...]*float64{&p.Thickness, &p.Hole, &p.Edge, &p.FullDepth, &p.DrillDepth, &p.SinkAngle,
		&p.SinkDiameter, &p.SlotWidth, &p.SlotHead,
		&p.SlotDepth, &p.SlotWhole, &p.Overlap, &p.Packing, &p.DrawUp, &p.Seat, &p.Relief, &p.ReliefDepth,
		&p.Counterbore, &p.CounterboreDepth, &p.Slotted, &p.Slope, &p.StandsAt, &p.Fillet, &p.Insert}[i]
}

// field returns where a value of the joint is: a *string, *float64 or *bool, or
// nil.
func (j *Joint) field(name string) any {
	if part, key, ok := strings.Cut(strings.TrimPrefix(name, "part "), ": "); ok &&
		strings.HasPrefix(name, "part ") {
		i, err := strconv.Atoi(part)
		if err != nil || i < 1 || i > len(j.Parts) {
			return nil
		}
		p := &j.Parts[i-1]
		switch key {
		case "name":
			return &p.Name
		case "material":
			return &p.Material
		case "through":
			return &p.Through
		case "brittle":
			return &p.Brittle
		}
		if n := p.Number(key); n != nil {
			return n
		}
		return nil
	}
	switch name {
	case "basis":
		return &j.Basis
	case "nut":
		return &j.Nut
	case "washer":
		return &j.Washer
	case "head_washer":
		return &j.HeadWasher
	case "room":
		return &j.Room
	case "spacing":
		return &j.Spacing
	case "pin_hole":
		return &j.PinHole
	case "pull":
		return &j.Pull
	case "pull_across":
		return &j.PullAcross
	case "bolt.kind":
		return &j.Bolt.Kind
	case "bolt.length":
		return &j.Bolt.Length
	case "bolt.thread":
		return &j.Bolt.ThreadLength
	case "bolt.form":
		return &j.Bolt.Form
	case "bolt.neck":
		return &j.Bolt.Neck
	case "bolt.angle":
		return &j.Bolt.Angle
	case "bolt.taper":
		return &j.Bolt.Taper
	case "bolt.material":
		return &j.Bolt.Material
	}
	return nil
}

// get returns the value of a field as a Change has it.
func (j *Joint) get(name string) string {
	switch v := j.field(name).(type) {
	case *string:
		return *v
	case *float64:
		if *v != 0 {
			return strconv.FormatFloat(*v, 'f', -1, 64)
		}
	case *fastener.Basis:
		return v.String()
	case *bool:
		if *v {
			return "true"
		}
	}
	return ""
}

// With returns the joint with changes made. The error is a *FieldError for a
// field that a joint has not, or a value that is none for it.
func (j Joint) With(changes ...Change) (Joint, error) {
	j.Parts = slices.Clone(j.Parts)
	for _, c := range changes {
		var err error
		switch to := j.field(c.Field).(type) {
		case *string:
			*to = c.Value
		case *float64:
			*to = 0
			if c.Value != "" {
				*to, err = strconv.ParseFloat(c.Value, 64)
			}
		case *fastener.Basis:
			*to, err = fastener.ParseBasis(c.Value)
		case *bool:
			*to = false
			if c.Value != "" {
				*to, err = strconv.ParseBool(c.Value)
			}
		default:
			return j, &FieldError{Field: c.Field, Want: "no such field"}
		}
		if err != nil {
			return j, &FieldError{Field: c.Field, Want: fmt.Sprintf("%q is no value for it", c.Value), Err: err}
		}
	}
	return j, nil
}
