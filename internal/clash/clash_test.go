package clash

import (
	"testing"

	"boltplate/drawing"
	"github.com/stretchr/testify/assert"
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
