package lines

import (
	"testing"

	"boltplate/drawing"

	"github.com/stretchr/testify/assert"
)

func line(r drawing.Role, x1, y1, x2, y2 float64) drawing.Item {
	return drawing.Item{Role: r, Shape: drawing.Line{From: drawing.Pt(x1, y1), To: drawing.Pt(x2, y2)}}
}

func arc(r drawing.Role, start, end float64) drawing.Item {
	return drawing.Item{Role: r, Shape: drawing.Arc{Radius: 5, Start: start, End: end}}
}

const (
	edge   = drawing.RoleOutline
	hidden = drawing.RoleHidden
	centre = drawing.RoleCentre
)

func TestMerge(t *testing.T) {
	for name, c := range map[string]struct{ in, want []drawing.Item }{
		"twice":                 {[]drawing.Item{line(edge, 0, 0, 4, 0), line(edge, 4, 0, 0, 0)}, []drawing.Item{line(edge, 0, 0, 4, 0)}},
		"end to end":            {[]drawing.Item{line(edge, 0, 0, 4, 0), line(edge, 4, 0, 9, 0)}, []drawing.Item{line(edge, 0, 0, 9, 0)}},
		"edge over hidden":      {[]drawing.Item{line(hidden, 0, 1, 9, 1), line(edge, 2, 1, 5, 1)}, []drawing.Item{line(hidden, 0, 1, 2, 1), line(edge, 2, 1, 5, 1), line(hidden, 5, 1, 9, 1)}},
		"edge over centre line": {[]drawing.Item{line(centre, 0, 0, 0, 9), line(edge, 0, 3, 0, 9)}, []drawing.Item{line(centre, 0, 0, 0, 3), line(edge, 0, 3, 0, 9)}},
		"parallel":              {[]drawing.Item{line(edge, 0, 0, 4, 0), line(hidden, 0, 1, 4, 1)}, []drawing.Item{line(edge, 0, 0, 4, 0), line(hidden, 0, 1, 4, 1)}},
		"arcs make a circle": {[]drawing.Item{arc(edge, 0, 180), arc(edge, 180, 360)},
			[]drawing.Item{{Role: edge, Shape: drawing.Circle{Radius: 5}}}},
		"arcs through 0":       {[]drawing.Item{arc(edge, 300, 360), arc(edge, 0, 60)}, []drawing.Item{arc(edge, 300, 60)}},
		"arc over hidden":      {[]drawing.Item{arc(hidden, 0, 90), arc(edge, 0, 60)}, []drawing.Item{arc(edge, 0, 60), arc(hidden, 60, 90)}},
		"circle over its part": {[]drawing.Item{arc(hidden, 10, 90), {Role: edge, Shape: drawing.Circle{Radius: 5}}}, []drawing.Item{{Role: edge, Shape: drawing.Circle{Radius: 5}}}},
	} {
		assert.Equal(t, c.want, Merge(c.in), name)
	}
}

func TestMergeKeepsWhatItDoesNotKnow(t *testing.T) {
	text := drawing.Item{Role: drawing.RoleText, Shape: drawing.Text{Value: "A"}}
	curve := drawing.Item{Role: edge, Shape: drawing.Conic{From: drawing.Pt(0, 0), Control: drawing.Pt(1, 1), To: drawing.Pt(2, 0), Weight: 2}}
	back := drawing.Item{Role: edge, Shape: drawing.Conic{From: drawing.Pt(2, 0), Control: drawing.Pt(1, 1), To: drawing.Pt(0, 0), Weight: 2}}
	assert.Equal(t, []drawing.Item{curve, text}, Merge([]drawing.Item{text, curve, back}))
}
