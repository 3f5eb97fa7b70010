package joint

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boltplate/drawing"
	"boltplate/fastener"
)

// TestSteps: the last step of a joint is its figure, line by line; each step has
// what the one before had, and parts, holes, fastener and hatching come in this
// order.
func TestSteps(t *testing.T) {
	for name, j := range goldenJoints() {
		s, err := j.Settle()
		require.NoError(t, err, name)
		steps, err := s.Steps(drawing.Style{})
		require.NoError(t, err, name)
		c, err := s.Content(drawing.Style{})
		require.NoError(t, err)
		last := steps[len(steps)-1].Drawing
		assert.Equal(t, c.Drawing.Views, last.Views, name)
		assert.Equal(t, c.Drawing.Items, last.Items, name)
		var titles []string
		before := map[drawing.Role]int{}
		for i, one := range steps {
			titles = append(titles, one.Title)
			assert.NotEmpty(t, one.Text)
			assert.Positive(t, one.New, "%s, %s", name, one.Title)
			n, now := 0, itemsOf(one)
			for _, k := range now {
				n += k
			}
			m := 0
			for _, k := range before {
				m += k
			}
			if i > 0 {
				assert.Equal(t, one.New, n-m, "%s, %s: what is new", name, one.Title)
			}
			before = now
		}
		want := []string{"Axes", "Parts", "Holes", "Fastener", "Hatching", "Dimensions"}
		if name == "hook-square" || name == "taper" { // the bolt fills its hole
			want = slices.Delete(want, 2, 3)
		}
		assert.Equal(t, want, titles, name)
	}
}

func itemsOf(s fastener.Step) map[drawing.Role]int {
	out := map[drawing.Role]int{}
	for _, v := range s.Drawing.Views {
		for _, it := range v.View.Items {
			out[it.Role]++
		}
	}
	return out
}
