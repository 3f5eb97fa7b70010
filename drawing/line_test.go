package drawing

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Widths of line group 0.7 and patterns in widths of the line (ISO 128-2):
// dash 12, long dash 24, gap 3, dot 0.5.
func TestLines(t *testing.T) {
	st := Style{Group: 0.7, TextHeight: 5}
	for r, want := range map[Role]struct {
		width  float64
		dashes []float64
	}{
		RoleOutline: {0.7, nil}, RoleThin: {0.35, nil}, RoleHidden: {0.35, []float64{12, 3}},
		RoleCentre: {0.35, []float64{24, 3, 0.5, 3}}, RoleCutting: {0.7, []float64{24, 3, 0.5, 3}},
		RoleAdjacent: {0.35, []float64{24, 3, 0.5, 3, 0.5, 3}}, RoleHatching: {0.35, nil}, RoleDimension: {0.35, nil},
		RoleText: {0.5, nil}, RoleFrame: {0.7, nil},
	} {
		assert.Equal(t, want.width, st.Width(r), "%v", r)
		assert.Equal(t, want.dashes, r.Dashes(), "%v", r)
	}
}

func TestValueError(t *testing.T) {
	for want, e := range map[string]ValueError{
		`view 1 ("side"), item 2, Arc.Radius = -1: is negative`: {View: "side", Index: 1, Item: 2, Object: "Arc", Field: "Radius", Value: "-1", Reason: "is negative"},
		`view 0 (""), Placed.Scale = -1: is negative`:           {Item: -1, Object: "Placed", Field: "Scale", Value: "-1", Reason: "is negative"},
		"Part 3.At.X = NaN: is not finite":                      {Index: 3, Item: -1, Object: "Part", Field: "At.X", Value: "NaN", Reason: "is not finite"},
		"item 0, Item: is wrong":                                {Index: -1, Object: "Item", Reason: "is wrong"},
	} {
		assert.EqualError(t, &e, want)
	}
}
