package drawing

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestClosest: distances that one sees at once, at a scale of 2.
func TestClosest(t *testing.T) {
	inf := math.Inf(1)
	edge := func(s Shape) Item { return Item{Role: RoleOutline, Shape: s} }
	thin := func(s Shape) Item { return Item{Role: RoleThin, Shape: s} }
	level := Line{Pt(0, 0), Pt(10, 0)}
	for name, c := range map[string]struct {
		items []Item
		want  float64
	}{
		"nothing":                    {nil, inf},
		"level lines":                {[]Item{edge(level), edge(Line{Pt(10, 0.3), Pt(2, 0.3)})}, 0.6},
		"slanting lines":             {[]Item{edge(Line{Pt(0, 0), Pt(3, 4)}), edge(Line{Pt(-0.4, 0.3), Pt(2.6, 4.3)})}, 1},
		"lines that meet end to end": {[]Item{edge(level), edge(Line{Pt(10.2, 0.3), Pt(20, 0.3)})}, inf},
		"one line twice":             {[]Item{edge(level), edge(level)}, inf},
		"lines that cross":           {[]Item{edge(level), edge(Line{Pt(5, -1), Pt(5, 1)})}, inf},
		"an edge and a narrow line":  {[]Item{thin(Line{Pt(0, 0.4), Pt(10, 0.4)}), edge(level)}, 0.8},
		"two narrow lines":           {[]Item{thin(Line{Pt(0, 0.4), Pt(10, 0.4)}), thin(level)}, inf},
		"a centre line":              {[]Item{{Role: RoleCentre, Shape: Line{Pt(0, 0.4), Pt(10, 0.4)}}, edge(level)}, inf},
		"circles about one centre":   {[]Item{edge(Circle{Pt(1, 1), 5}), edge(Circle{Pt(1, 1), 5.25})}, 0.5},
		"arcs in other directions":   {[]Item{edge(Arc{Pt(0, 0), 5, 0, 80}), edge(Arc{Pt(0, 0), 5.25, 90, 180})}, inf},
		"a circle and its tangent":   {[]Item{edge(Circle{Pt(0, 0), 5}), edge(Line{Pt(-9, 5.1), Pt(9, 5.1)})}, inf},
		"a flat arc and a line":      {[]Item{edge(Arc{Pt(5, -1000), 1000, 89.9, 90.1}), edge(Line{Pt(0, 0.5), Pt(10, 0.5)})}, 1},
		"a line of no length":        {[]Item{edge(Circle{Pt(0, 0), 5}), edge(Line{Pt(1, 1), Pt(1, 1)}), edge(level), edge(Line{Pt(0, 0.3), Pt(10, 0.3)})}, 0.6},
	} {
		got := View{Items: c.items}.Closest(Style{Scale: 2})
		if math.IsInf(c.want, 1) {
			assert.Equal(t, c.want, got, name)
		} else {
			assert.InDelta(t, c.want, got, 0.01, name)
		}
	}
}
