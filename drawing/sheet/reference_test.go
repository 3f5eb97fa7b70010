package sheet

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boltplate/drawing"
)

// TestReferencesInLine: wherever components are, their references stand in one
// line beside the figure, apart from each other; their leaders end where they
// should and cross neither each other nor another number.
func TestReferencesInLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		box := drawing.Rect{Min: drawing.Pt(-60, -40), Max: drawing.Pt(60, 40)}
		around := &surroundings{}
		for range rapid.IntRange(0, 6).Draw(t, "labels") {
			x, y := rapid.Float64Range(-60, 45).Draw(t, "x"), rapid.Float64Range(-40, 30).Draw(t, "y")
			around.labels = append(around.labels, drawing.Rect{Min: drawing.Pt(x, y), Max: drawing.Pt(x+12, y+3.5)})
		}
		var all []pointer
		for i := range rapid.IntRange(1, 16).Draw(t, "components") {
			at := drawing.Pt(rapid.Float64Range(-55, 55).Draw(t, "at x"), rapid.Float64Range(-35, 35).Draw(t, "at y"))
			all = append(all, pointer{component: i, height: 7, at: []drawing.Point{at}, ring: rapid.IntRange(0, 5).Draw(t, "ring") == 0})
		}
		marks := point(all, box, around)
		require.Len(t, marks, len(all))
		level, upright := true, true
		for i := range marks {
			m := &marks[i]
			require.False(t, m.box.Grown(1).Overlaps(box), "beside the figure")
			level = level && math.Abs(m.box.Mid().Y-marks[0].box.Mid().Y) < 1e-9
			upright = upright && math.Abs(m.box.Mid().X-marks[0].box.Mid().X) < 1e-9
			want := 0.0
			if m.ring {
				want = ringRadius
			}
			require.InDelta(t, want, m.line.To.Sub(m.at[0]).Len(), 1e-9, "the leader ends at its place")
			for j := range marks[:i] {
				require.False(t, m.box.Overlaps(marks[j].box))
			}
		}
		require.True(t, level || upright, "in one line")
		if marks.crossings() > 0 {
			// Only where no line beside the figure does better.
			for _, r := range ranks(box, 14, 7, 0, 2) {
				if other, cost := r.set(all, box, around, math.Inf(1)); other != nil && cost < costOther {
					t.Fatalf("leaders cross, and on %+v they do not", r)
				}
			}
		}
	})
}

// Numbers are given in the order in which they stand.
func TestNumbersInOrder(t *testing.T) {
	c, err := assembly{}.Content(drawing.Style{})
	require.NoError(t, err)
	slices.Reverse(c.Components)
	d := &drawn{content: c, scale: 1}
	one := composer{Plate: &Plate{}, st: drawing.Style{}}
	one.aim(d, drawing.Style{})
	r := register{}
	refs := r.name(d)
	var order []string
	for _, m := range d.marks {
		order = append(order, refs[m.component])
	}
	assert.Equal(t, []string{"1", "2", "3"}, order)
	assert.Len(t, r.items, 3)
	// Of another figure the same parts keep their numbers.
	assert.Equal(t, refs, r.name(d))
	for i, it := range r.items {
		assert.Equal(t, fmt.Sprint(i+1), it.reference)
		assert.Equal(t, 2, it.quantity)
	}
}
