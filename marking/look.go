package marking

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"boltplate/drawing"
	"boltplate/dxfin"
)

// A dash is how a line is broken.
type dash uint8

const (
	continuous dash = iota
	dashed
	chain
	double // chain with two dots
	otherDash
)

// A demand is how a role must be drawn.
type demand struct {
	dash dash
	wide bool
}

// demands returns how the lines of a role are drawn (ISO 128-2); none for roles
// that are no lines of a view.
func demands(r drawing.Role) []demand {
	switch r {
	case drawing.RoleOutline:
		return []demand{{continuous, true}}
	case drawing.RoleThin:
		return []demand{{continuous, false}}
	case drawing.RoleHidden:
		return []demand{{dashed, false}}
	case drawing.RoleCentre:
		return []demand{{chain, false}}
	case drawing.RoleCutting:
		return []demand{{chain, true}}
	case drawing.RoleAdjacent:
		return []demand{{double, false}}
	}
	return nil
}

// A look is how lines of a submission are drawn.
type look struct {
	key    lookKey
	dash   dash
	weight int // hundredths of a millimetre, -1 where the file does not say
	// votes is the length of lines with this look that lie where the model has
	// lines of a role.
	votes [drawing.RoleCount]float64
	used  float64 // length in views, all roles
}

type lookKey struct {
	layer, lineType string
	colour, weight  int
}

func (k lookKey) String() string {
	s := fmt.Sprintf("layer %q, line type %s", k.layer, k.lineType)
	if k.colour >= 0 {
		s += fmt.Sprintf(", colour %d", k.colour)
	}
	if k.weight >= 0 {
		s += fmt.Sprintf(", width %s", drawing.FormatValue(float64(k.weight)/100, false))
	}
	return s
}

// look returns the index of a look. width is that of a polyline in drawing
// units, which goes before the weight.
func (b *submission) look(l *dxfin.Look, width float64) int {
	k := lookKey{layer: strings.ToUpper(l.Layer), lineType: strings.ToUpper(l.LineType.Name), colour: l.Colour.Index, weight: int(l.Weight)}
	if l.Colour.RGB >= 0 {
		k.colour = 1000 + l.Colour.RGB
	}
	if l.Weight == dxfin.WeightDefault {
		k.weight = -1
	}
	if width > 0 {
		k.weight = int(math.Round(width * 100))
	}
	i, ok := b.lookOf[k]
	if !ok {
		i = len(b.looks)
		b.lookOf[k] = i
		b.looks = append(b.looks, look{key: k, dash: dashOf(&l.LineType), weight: k.weight})
	}
	return i
}

// dashOf tells from a pattern, or where there is none from its name, how a line
// is broken.
func dashOf(t *dxfin.LineType) dash {
	var dashes []float64
	for _, p := range t.Pattern {
		if p >= 0 {
			dashes = append(dashes, p)
		}
	}
	if len(dashes) == 0 {
		return dashByName(t.Name)
	}
	long := slices.Max(dashes)
	short := 0
	for _, d := range dashes {
		if d < long/2 {
			short++
		}
	}
	longs := len(dashes) - short
	switch {
	case long == 0:
		return otherDash // dots
	case short == 0:
		return dashed
	case short <= longs:
		return chain
	case short <= 2*longs:
		return double
	}
	return otherDash
}

func dashByName(name string) dash {
	n := strings.ToUpper(name)
	has := func(words ...string) bool {
		return slices.ContainsFunc(words, func(w string) bool { return strings.Contains(n, w) })
	}
	switch {
	case has("PHANTOM", "DIVIDE", "DIVISIDE"):
		return double
	case has("CENTER", "CENTRE", "DASHDOT", "CHAIN", "DOTDASH"):
		return chain
	case has("HIDDEN", "DASH"):
		return dashed
	case has("DOT"):
		return otherDash
	}
	return continuous
}

func (b *submission) noteHidden(layers map[string]int) {
	names := make([]string, 0, len(layers))
	for n := range layers {
		names = append(names, n)
	}
	slices.Sort(names)
	for _, n := range names {
		b.unsure = append(b.unsure, fmt.Sprintf("%s on the layer %q, which is off, frozen or not printed, did not count", count(layers[n], "line", "lines"), n))
	}
}

// count writes a number with the word for one or for several.
func count(n int, one, several string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, several)
}
