package drawing

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestNames(t *testing.T) {
	for d, want := range []string{"front", "side", "head", "point", "isometric", "unknown view"} {
		assert.Equal(t, want, Direction(d).String())
	}
	for l, want := range []string{"numbers", "rules", "letters", "none", "blank", "unknown way to label"} {
		assert.Equal(t, want, Labels(l).String())
	}
	for r, want := range []string{"outline", "thin", "hidden", "centre", "cutting", "adjacent", "hatching", "dimension", "text", "frame", "finding", "construction", "unknown role"} {
		assert.Equal(t, want, Role(r).String())
	}
	for u, want := range []string{"mm", "deg", "1"} {
		assert.Equal(t, want, Unit(u).String())
	}
	for s, want := range []string{"given", "published", "common practice", "from memory, unverified", "derived", "published in part", "unknown status"} {
		assert.Equal(t, want, Status(s).String())
	}
	assert.Equal(t, Role(12), RoleCount)
}

func TestParseDirection(t *testing.T) {
	for d := range directionCount {
		for _, s := range []string{d.String(), " " + d.String() + "\t"} {
			got, err := ParseDirection(s)
			assert.NoError(t, err)
			assert.Equal(t, d, got)
		}
	}
	got, err := ParseDirection("ISOmetric")
	assert.NoError(t, err)
	assert.Equal(t, Isometric, got)
	for _, s := range []string{"", "top", "front side"} {
		_, err := ParseDirection(s)
		assert.ErrorContains(t, err, `"`+s+`"`, "the error says what was wrong")
		assert.ErrorContains(t, err, "front, side, head, point, isometric", "and what would be right")
	}
}

// TestWideRoles: wide are the lines of ISO 128-2 whose number ends in .2, as
// the roles name them: 01.2 and 04.2.
func TestWideRoles(t *testing.T) {
	for r := range RoleCount {
		assert.Equal(t, r == RoleOutline || r == RoleCutting || r == RoleFrame, r.Wide(), r.String())
	}
}

func TestStyleDefaults(t *testing.T) {
	var st Style
	for _, c := range []struct {
		what      string
		want, got float64
	}{
		{"scale", 1, st.PaperScale()},
		{"wide line", 0.5, st.Wide()},
		{"narrow line, half of it", 0.25, st.Narrow()},
		{"text", 3.5, st.Height()},
		{"gap of 8 narrow lines", 2, st.ExtensionGap()},
		{"arrow as long as text is high", 3.5, st.ArrowLength()},
		{"text 1 mm above its line", 1, st.TextGap()},
		{"first row", 10, st.FirstRow()},
		{"rows", 8, st.RowStep()},
		{"crest to root, twice the wide line", 1, st.ThreadGap()},
		{"crest to root, never under 0.7", 0.7, Style{Group: 0.25}.ThreadGap()},
		{"10 mm on paper at 1:2", 20, Style{Scale: 0.5}.Part(10)},
		{"10 mm on paper at 5:1", 2, Style{Scale: 5}.Part(10)},
		{"gap in line group 0.7", 2.8, Style{Group: 0.7}.ExtensionGap()},
	} {
		assert.InDelta(t, c.want, c.got, 1e-12, c.what)
	}
	for _, h := range []float64{1.8, 2.5, 3.5, 5, 7, 10, 14, 20} { // the heights of ISO 3098
		st := Style{TextHeight: h}
		assert.GreaterOrEqual(t, st.RowStep(), 2*h, "ISO 129-1 practice: rows at least twice the height apart")
		assert.GreaterOrEqual(t, st.FirstRow(), 2*h)
		assert.Greater(t, st.RowStep(), h+st.TextGap(), "room for the text of a row")
	}
}
