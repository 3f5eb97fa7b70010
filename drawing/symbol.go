package drawing

import (
	"math"
	"strconv"
	"strings"
)

// ProjectionSymbol returns the symbol of the projection method (ISO 5456-2)
// about mid: a truncated cone from the side and from its small end, on one
// centre line. The small diameter is h, the height of text beside it, the large
// one and the length are twice that (proportions from memory, unverified). In
// first angle the cone stands on the left, its small end to the left, and what is
// seen from there on the right; in third angle the circles stand on the left,
// beside the small end.
func ProjectionSymbol(mid Point, h float64, third bool) []Item {
	large, gap, over := 2*h, 6*h/7, 12*h/35
	left := mid.X - (2*large+gap)/2
	cone, circles := left, left+large+gap+large/2
	if third {
		circles, cone = left+large/2, left+large+gap
	}
	v := func(x, y float64) Vertex { return Vertex{Point: Pt(x, mid.Y+y)} }
	line := func(x1, y1, x2, y2 float64) Item {
		return Item{Role: RoleCentre, Shape: Line{From: Pt(x1, y1), To: Pt(x2, y2)}}
	}
	out := []Item{{Role: RoleOutline, Shape: Polyline{Closed: true, Vertices: []Vertex{
		v(cone, -h/2), v(cone+large, -large/2), v(cone+large, large/2), v(cone, h/2),
	}}}}
	for _, d := range [...]float64{h, large} {
		out = append(out, Item{Role: RoleOutline, Shape: Circle{Center: Pt(circles, mid.Y), Radius: d / 2}})
	}
	return append(out,
		line(cone-over, mid.Y, cone+large+over, mid.Y),
		line(circles-large/2-over, mid.Y, circles+large/2+over, mid.Y),
		line(circles, mid.Y-large/2-over, circles, mid.Y+large/2+over))
}

// ScaleName returns a scale as drawings have it (ISO 5455): 1:2 for 0.5, 2:1
// for 2.
func ScaleName(k float64) string {
	if k >= 1 {
		return FormatValue(k, false) + ":1"
	}
	return "1:" + FormatValue(1/k, false)
}

// ParseScale reads a scale as 1:2, 2:1 or 0.5, with a point or a comma, and
// reports whether it is one: from 1:1000 to 1000:1, beyond which a number is a
// slip of the pen.
func ParseScale(s string) (float64, bool) {
	number := func(s string) float64 {
		s = strings.Replace(strings.TrimSpace(s), ",", ".", 1)
		if s == "" || strings.Trim(s, "0123456789.") != "" || s[0] == '.' || s[len(s)-1] == '.' {
			return math.NaN() // no signs, no exponents
		}
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			return math.NaN()
		}
		return v
	}
	paper, part, ratio := strings.Cut(s, ":")
	k := number(paper)
	if ratio {
		k /= number(part)
	}
	const most = 1000.0
	if math.IsNaN(k) || k < 1/most || k > most {
		return 0, false
	}
	return k, true
}
