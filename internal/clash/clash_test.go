package clash

import (
	"testing"

	"boltplate/drawing"
	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func text(x, y float64, s string) drawing.Item {
	return drawing.Item{Role: drawing.RoleText, Shape: drawing.Text{At: drawing.Pt(x, y), Height: 5, Value: s}}
}

func line(x1, y1, x2, y2 float64) drawing.Item {
	return drawing.Item{Shape: drawing.Line{From: drawing.Pt(x1, y1), To: drawing.Pt(x2, y2)}}
}

func find(items ...drawing.Item) []string { return Find(&drawing.Drawing{Items: items}) }

func TestFindsWhatTouches(t *testing.T) {
	assert.Len(t, find(text(0, 0, "M20"), text(2, 2, "M24")), 1, "two texts")
	assert.Len(t, find(text(0, 0, "M20"), line(5, -10, 5, 10)), 1, "a line through a text")
	assert.Len(t, find(text(0, 0, "M20"), line(2, 1, 3, 2)), 1, "a line inside a text")
	assert.NotEmpty(t, find(text(0, 0, "M20"), drawing.Item{Shape: drawing.Circle{Radius: 3}}), "a circle")
	bulged := drawing.Polyline{Vertices: []drawing.Vertex{{Point: drawing.Pt(-5, 2), Bulge: -1}, {Point: drawing.Pt(5, 2)}}}
	assert.NotEmpty(t, find(text(0, 4, "M20"), drawing.Item{Shape: bulged}), "a bulge")
}

func TestPassesWhatDoesNot(t *testing.T) {
	assert.Empty(t, find(text(0, 0, "M20"), text(0, 6, "M24")), "texts above each other")
	assert.Empty(t, find(text(0, 0, "M20"), line(-5, -1, 50, -1)), "a line under a text")
	assert.Empty(t, find(text(0, 0, "M20"), drawing.Item{Shape: drawing.Circle{Radius: 100}}), "a circle around")
}

func leader(tip, knee drawing.Point, symbol drawing.Symbol, says string) drawing.Item {
	return drawing.Item{Role: drawing.RoleDimension, Shape: drawing.Leader{Tip: tip,
		Label: drawing.Label{Text: says, Symbol: symbol}, Shelf: drawing.Shelf{Placed: true, Knee: knee}}}
}

// TestLeadersAreBodies: a leader that comes back over its own symbol strikes
// it, and two that cross are found.
func TestLeadersAreBodies(t *testing.T) {
	assert.Empty(t, find(leader(drawing.Pt(0, 0), drawing.Pt(10, -10), drawing.SquareSymbol, "12")))
	assert.NotEmpty(t, find(leader(drawing.Pt(20, 10), drawing.Pt(10, -10), drawing.SquareSymbol, "12")), "it runs back over its symbol")
	assert.NotEmpty(t, find(leader(drawing.Pt(0, 0), drawing.Pt(10, 10), 0, "12"), line(11.5, 10, 11.5, 12)), "another line does")
	assert.Len(t, find(leader(drawing.Pt(0, 0), drawing.Pt(10, 30), 0, "12"), leader(drawing.Pt(20, 0), drawing.Pt(-10, 22), 0, "8")), 1, "two cross")
}

func TestCrowded(t *testing.T) {
	for gap, want := range map[float64]int{1: 1, 3: 1, 4: 0} {
		d := &drawing.Drawing{Items: []drawing.Item{leader(drawing.Pt(0, 0), drawing.Pt(10, 10), 0, "12"), leader(drawing.Pt(30, 0), drawing.Pt(10, 14.5+gap-1), 0, "8")}}
		assert.Len(t, Crowded(d), want, "%g mm", gap)
	}
	assert.Empty(t, Crowded(&drawing.Drawing{Items: []drawing.Item{text(0, 0, "M20"), text(0, 6, "M24")}}), "texts without leaders may be lines of one")
}

func below(lo, hi, at float64) drawing.Item {
	return drawing.Item{Role: drawing.RoleDimension, Shape: drawing.Linear{From: drawing.Pt(lo, 0), To: drawing.Pt(hi, 0), Placed: true, At: at}}
}

func TestRowsAndLinesBeside(t *testing.T) {
	v := drawing.View{Items: []drawing.Item{line(0, 0, 60, 0), below(0, 20, -10), below(0, 60, -18)}}
	assert.Empty(t, Rows(v, drawing.Style{}))
	v.Items[2] = below(0, 60, -26)
	assert.Len(t, Rows(v, drawing.Style{}), 1)
	v.Items = []drawing.Item{line(0, 0, 60, 0), below(0, 20, -10), below(20.5, 60, -18)}
	assert.Len(t, Beside(v, drawing.Style{}), 1, "0.5 mm apart")
	assert.Empty(t, Beside(v, drawing.Style{Scale: 2}), "1 mm on paper")
}

// TestPassesOverNothing: that curves far from a text are passed over changes
// nothing: each is compared with its chords as straight lines.
func TestPassesOverNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		pt := func(name string) drawing.Point { return drawing.Pt(num(name+"x", -30, 30), num(name+"y", -30, 30)) }
		c, r := pt("centre"), num("radius", 0.5, 30)
		from, sweep := num("from", 0, 360), num("sweep", 1, 359)
		var s drawing.Shape
		switch rapid.IntRange(0, 3).Draw(t, "shape") {
		case 0:
			s = drawing.Arc{Center: c, Radius: r, Start: from, End: from + sweep}
		case 1:
			s = drawing.Circle{Center: c, Radius: r}
		case 2:
			s = drawing.Ellipse{Center: c, Major: drawing.Polar(r, num("turn", 0, 360)),
				Ratio: num("ratio", 0.1, 1), Start: from, End: from + sweep}
		default:
			s = drawing.Conic{From: pt("from"), Control: pt("control"), To: pt("to"), Weight: num("weight", 0.2, 3)}
		}
		txt := drawing.Item{Role: drawing.RoleText, Shape: drawing.Text{At: pt("text"), Height: 5,
			Angle: num("angle", 0, 360), Value: "M20 × 90"}}
		curves := collector{}
		curves.item(drawing.Item{Shape: s}, drawing.Transform{})
		items := []drawing.Item{txt}
		for _, v := range curves.curves {
			prev := v.at(0)
			for i := 1; i <= 48; i++ {
				p := v.at(float64(i) / 48)
				items = append(items, drawing.Item{Shape: drawing.Line{From: prev, To: p}})
				prev = p
			}
		}
		assert.Equal(t, len(find(items...)), len(find(txt, drawing.Item{Shape: s})), "%+v", s)
	})
}
