package drawing_test

import (
	"fmt"
	"math"
	"testing"

	"boltplate/drawing"
	"boltplate/internal/clash"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// TestArrangedViewsHaveNoClash: no label touches another, and no line runs
// through one, whatever is dimensioned.
func TestArrangedViewsHaveNoClash(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := drawing.RandomView(t)
		k := rapid.SampledFrom([]float64{1, 0.5, 2}).Draw(t, "scale")
		st := drawing.Style{Labels: rapid.SampledFrom([]drawing.Labels{drawing.Numbers, drawing.Rules, drawing.Letters, drawing.Blank}).Draw(t, "labels")}
		in := st
		in.Scale = k
		v = drawing.Arrange(v, in)
		d := &drawing.Drawing{Style: st, Views: []drawing.Placed{{View: v, Scale: k}}}
		assert.Empty(t, clash.Find(d))
		assert.Empty(t, clash.Crowded(d))
	})
}

func TestPlateHasNoClash(t *testing.T) {
	for _, notation := range []string{
		drawing.Plate,
		drawing.Plate + "; angle 80 50 10 70 2; radius 60 35 8 -45",
		"line 0 0 40 0; line 0 0 0 30; line 40 0 0 30; aligned 0 30 40 0; below 0 0 40 0; left 0 0 0 30",
	} {
		d := &drawing.Drawing{Views: []drawing.Placed{{View: drawing.Arrange(drawing.ParseView(notation), drawing.Style{})}}}
		assert.Empty(t, clash.Find(d), notation)
		assert.Empty(t, clash.Crowded(d), notation)
		assert.Empty(t, clash.Rows(d.Views[0].View, d.Style), notation)
	}
}

// TestNothingBetweenLinesThatAreAllButOne: a dimension of less than 0.7 mm on
// paper has one extension line, not two that run together.
func TestNothingBetweenLinesThatAreAllButOne(t *testing.T) {
	for _, k := range []float64{1, 0.5, 2} {
		for length, lines := range map[float64]int{0.4: 1, 0.69: 1, 0.71: 2, 3: 2} {
			st := drawing.Style{Scale: k}
			v := drawing.Arrange(drawing.ParseView(fmt.Sprintf("box 0 0 60 40; below 0 0 %g 0; left 0 0 0 %[1]g", length/k)), st)
			assert.Empty(t, clash.Beside(v, st), "%g mm at %g", length, k)
			x, _ := drawing.Expand(v.Items[1].Shape, st)
			assert.Len(t, x.Lines(), lines+1)
		}
	}
}

// TestLeadersKeepClear: a leader never runs through its own symbol, and the
// texts of leaders stand a text height apart, wherever they point from.
func TestLeadersKeepClear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := drawing.ParseView("box 0 0 60 40; axis -3 20 63 20")
		n := rapid.IntRange(1, 4).Draw(t, "leaders")
		for i := range n {
			along := rapid.Float64Range(5, 55).Draw(t, "x")
			v.Items = append(v.Items, drawing.Item{Role: drawing.RoleDimension, Shape: drawing.Leader{
				Tip: drawing.Pt(along, 40), Angle: rapid.SampledFrom([]float64{90, 60, 120, 45, 0, 270}).Draw(t, "angle"),
				Label: drawing.Label{Symbol: drawing.Symbol(i) + drawing.SquareSymbol - 2, Quantity: drawing.Quantity{Value: math.Round(along)}},
			}})
		}
		d := &drawing.Drawing{Views: []drawing.Placed{{View: drawing.Arrange(v, drawing.Style{})}}}
		assert.Empty(t, clash.Find(d))
		assert.Empty(t, clash.Crowded(d))
	})
}

// TestRowsWithoutGaps: where the lines of an angle, or a neighbour, are in the
// way of a label, no row is left empty for it.
func TestRowsWithoutGaps(t *testing.T) {
	for _, notation := range []string{
		// A countersunk head of 90 degrees: the angle's lines run out under it.
		"line 0 -20 0 20; line 2 -20 2 20; line 2 20 12 10; line 2 -20 12 -10; line 12 10 60 10; line 12 -10 60 -10; line 60 -10 60 10;" +
			"angle 22 0 135 225 31.1; left 0 -20 0 20; below 0 -20 12 -20 =c + 0.5D; below 20 -10 60 -10 =(L - k - 3P); below 0 -20 60 -20; right 60 -10 60 10; above 0 20 2 20 =0.1D",
		"box 0 0 60 20; below 0 0 8 0 =1.25D + 3; below 8 0 20 0 =2D + 6; below 20 0 60 0; below 0 0 60 0",
	} {
		v := drawing.Arrange(drawing.ParseView(notation), drawing.Style{})
		assert.Empty(t, clash.Rows(v, drawing.Style{}), notation)
		assert.Empty(t, clash.Find(&drawing.Drawing{Views: []drawing.Placed{{View: v}}}))
	}
}
