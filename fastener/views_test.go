package fastener_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/thread"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var all = []drawing.Direction{drawing.Front, drawing.SideView, drawing.HeadEnd, drawing.PointEnd}

// extent returns the extent of the visible edges.
func extent(v drawing.View) drawing.Rect {
	var kept drawing.View
	for _, it := range v.Items {
		if it.Role == drawing.RoleOutline {
			kept.Items = append(kept.Items, it)
		}
	}
	return kept.Outline()
}

// TestViewsAgree: both elevations are of one length, and each is as high as the
// end views are in its direction; the side view of a square is turned by 45
// degrees and cannot agree.
func TestViewsAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom([]float64{3, 5, 8, 10, 12, 16, 20, 24, 30, 36, 42, 64}).Draw(t, "d")
		basis := fastener.Basis(rapid.IntRange(0, 1).Draw(t, "basis"))
		fs := specimensOf(d, d*rapid.Float64Range(1.6, 12).Draw(t, "l/d"), basis)
		f := rapid.SampledFrom(fs).Draw(t, "fastener")
		box := map[drawing.Direction]drawing.Rect{}
		for _, dir := range all {
			v, err := f.View(dir, fastener.Options{})
			require.NoError(t, err)
			box[dir] = extent(v)
		}
		front, side := box[drawing.Front], box[drawing.SideView]
		assert.InDelta(t, front.Min.X, side.Min.X, 1e-6)
		assert.InDelta(t, front.Max.X, side.Max.X, 1e-6)
		for _, end := range []drawing.Direction{drawing.HeadEnd, drawing.PointEnd} {
			assert.InDelta(t, front.Dy(), box[end].Dy(), 1e-6, "%s %s", f.Designation(), end)
			across := side.Dy()
			if turned(f) {
				across = front.Dy() // a square on its corner is as wide as it is high
			}
			assert.InDelta(t, across, box[end].Dx(), 1e-6, "%s %s", f.Designation(), end)
		}
	})
}

// turned reports whether the side view of f is turned: that of a square, unless
// a nut is on it whose side view shows it from above.
func turned(f fastener.Fastener) bool {
	if b, ok := f.(fastener.Bolted); ok {
		switch b.Nut.(type) {
		case fastener.HexNut, fastener.SquareNut:
		default:
			return false
		}
		if _, spring := b.Washer.(fastener.SpringWasher); spring {
			return false
		}
	}
	return strings.HasPrefix(f.Designation(), "Square")
}

func specimensOf(d, length float64, basis fastener.Basis) []fastener.Fastener {
	th, err := thread.Coarse(d)
	if err != nil {
		panic(err)
	}
	return specimensWith(th, length, basis)
}

// TestOrigin: the bearing face of a head is at x = 0 and the end at x = L, of a
// nut and a washer the seat at 0.
func TestOrigin(t *testing.T) {
	m20 := thread.MustParse("M20")
	for f, want := range map[fastener.Fastener][2]float64{
		fastener.HexBolt{Thread: m20, Length: 90}:                           {-16, 90},
		fastener.HexBolt{Thread: m20, Length: 90, Basis: fastener.Standard}: {-12.5, 90}, // ISO 4014: k = 12.5
		fastener.SquareBolt{Thread: m20, Length: 75}:                        {-16, 75},
		fastener.HexNut{Thread: m20}:                                        {0, 20},
		fastener.Washer{Thread: m20, Basis: fastener.Standard}:              {0, 3}, // ISO 7089: h = 3
	} {
		v, err := f.View(drawing.Front, fastener.Options{})
		require.NoError(t, err)
		assert.InDelta(t, want[0], extent(v).Min.X, 1e-9, f.Designation())
		assert.InDelta(t, want[1], extent(v).Max.X, 1e-9, f.Designation())
	}
}

// has reports whether the view has a line of the role between two points.
func has(v drawing.View, role drawing.Role, x1, y1, x2, y2 float64) bool {
	same := func(p drawing.Point, x, y float64) bool { return math.Hypot(p.X-x, p.Y-y) < 1e-6 }
	for _, it := range v.Items {
		if l, ok := it.Shape.(drawing.Line); ok && it.Role == role {
			if same(l.From, x1, y1) && same(l.To, x2, y2) || same(l.To, x1, y1) && same(l.From, x2, y2) {
				return true
			}
		}
	}
	return false
}

// TestThreadConvention works the lines of ISO 6410-1 for M20 x 90 by hand:
// root at d3/2 = 8.4664 (ISO 724), limit at 90 - 46, run-out at 30 degrees,
// chamfer at 45 degrees down to the root.
func TestThreadConvention(t *testing.T) {
	v, err := fastener.HexBolt{Thread: thread.MustParse("M20"), Length: 90}.View(drawing.Front,
		fastener.Options{})
	require.NoError(t, err)
	const root = 8.46638 // (20 - 17/12 x 2.5 x sqrt(3)/2) / 2
	depth := 10 - root
	require.InDelta(t, 16.933/2, root, 0.0005) // as ISO 724 prints it
	assert.True(t, hasNear(v, drawing.RoleOutline, 44, -10, 44, 10), "limit: wide, across the major diameter")
	assert.True(t, hasNear(v, drawing.RoleThin, 44, root, 90, root), "root: narrow")
	assert.True(t, hasNear(v, drawing.RoleThin, 44, root, 44-depth*math.Sqrt(3), 10), "run-out at 30 degrees")
	assert.True(t, hasNear(v, drawing.RoleOutline, 90-depth, 10, 90, root), "point chamfer at 45 degrees")
	assert.True(t, hasNear(v, drawing.RoleCentre, -19, 0, 93, 0), "centre line 3 mm past the outline")
}

func hasNear(v drawing.View, role drawing.Role, x1, y1, x2, y2 float64) bool {
	for _, it := range v.Items {
		if l, ok := it.Shape.(drawing.Line); ok && it.Role == role {
			a, b := drawing.Pt(x1, y1), drawing.Pt(x2, y2)
			if l.From.Sub(a).Len() < 1e-3 && l.To.Sub(b).Len() < 1e-3 || l.From.Sub(b).Len() < 1e-3 &&
				l.To.Sub(a).Len() < 1e-3 {
				return true
			}
		}
	}
	return false
}

// TestThreadGap: on paper, crest and root keep twice the wide line and 0.7 mm
// apart at every scale (ISO 6410-1), as long as the thread is large enough on
// paper to show it.
func TestThreadGap(t *testing.T) {
	for _, d := range []float64{3, 5, 8, 20, 64} {
		for _, scale := range []float64{0.2, 0.5, 1, 2, 5} {
			if d*scale < 3 {
				continue
			}
			for _, group := range []float64{0.25, 0.5, 0.7} {
				opt := fastener.Options{Style: drawing.Style{Scale: scale, Group: group}}
				v, err := fastener.HexBolt{Thread: coarse(t, d), Length: 5 * d}.View(drawing.PointEnd, opt)
				require.NoError(t, err)
				for _, it := range v.Items {
					if a, ok := it.Shape.(drawing.Arc); ok && it.Role == drawing.RoleThin {
						gap := (d/2 - a.Radius) * scale
						if d*scale >= 6*math.Max(2*group, 0.7) {
							assert.GreaterOrEqual(t, gap, math.Max(2*group, 0.7)-1e-9, "M%g at %g, group %g", d, scale, group)
						}
						assert.Equal(t, []float64{100, 350}, []float64{a.Start, a.End},
							"open at the upper right, off the centre lines")
					}
				}
			}
		}
	}
}

// TestNutCoversThread: between the washer's face and the nut's end nothing of
// the bolt is drawn; the thread shows on both sides.
func TestNutCoversThread(t *testing.T) {
	m20 := thread.MustParse("M20")
	b := fastener.Bolted{Bolt: fastener.HexBolt{Thread: m20, Length: 100}, Nut: fastener.HexNut{Thread: m20},
		Washer: fastener.Washer{Thread: m20}, Grip: 60}
	v, err := b.View(drawing.Front, fastener.Options{Hidden: true})
	require.NoError(t, err)
	from, to := 60.0, 60+2.5+20 // grip; washer D/8, nut D
	left, right := false, false
	for _, it := range v.Items {
		l, ok := it.Shape.(drawing.Line)
		if !ok || it.Role != drawing.RoleThin {
			continue
		}
		for _, p := range []drawing.Point{l.From, l.To, l.From.Mid(l.To)} {
			assert.False(t, p.X > from+1e-9 && p.X < to-1e-9, "thread inside the nut at %v", p)
			left, right = left || p.X < from, right || p.X > to
		}
	}
	assert.True(t, left && right, "thread on both sides of the nut")

	end, err := b.View(drawing.PointEnd, fastener.Options{})
	require.NoError(t, err)
	washer := false
	for _, it := range end.Items {
		c, ok := it.Shape.(drawing.Circle)
		washer = washer || ok && math.Abs(c.Radius-21.5) < 1e-9 // (2D + 3) / 2
	}
	assert.True(t, washer, "the washer shows behind the nut")
}

// TestSquareNeck: crossed diagonals where the flat is seen, an edge where the
// corner is.
func TestSquareNeck(t *testing.T) {
	b := fastener.SquareBolt{Thread: thread.MustParse("M20"), Length: 90, SquareNeck: true}
	side, err := b.View(drawing.SideView, fastener.Options{})
	require.NoError(t, err)
	front, err := b.View(drawing.Front, fastener.Options{})
	require.NoError(t, err)
	for _, y := range []float64{10, -10} { // S = D = 20, N = 0.8D = 16
		assert.True(t, has(side, drawing.RoleThin, 0, y, 16, -y))
		assert.False(t, has(front, drawing.RoleThin, 0, y, 16, -y))
	}
	// from the chamfer of the head, W = 1.5D + 3 = 33
	assert.True(t, has(front, drawing.RoleOutline, -16+math.Tan(math.Pi/6)*(33*math.Sqrt2-33)/2, 0, 16, 0),
		"the edge to the front")
}

// TestHiddenThreadFromTheHead: seen from the head the thread is dashed or left
// out, never drawn as visible.
func TestHiddenThreadFromTheHead(t *testing.T) {
	for _, hidden := range []bool{false, true} {
		for _, f := range specimens(t, 20, 100, fastener.Proportion) {
			// which has a thread at both ends
			if fk, _ := fastener.KindNamed(f.Kind()); !fk.Length || fk.Name == "stud" {
				continue
			}
			v, err := f.View(drawing.HeadEnd, fastener.Options{Hidden: hidden})
			require.NoError(t, err)
			dashed := 0
			for _, it := range v.Items {
				assert.NotEqual(t, drawing.RoleThin, it.Role)
				if it.Role == drawing.RoleHidden {
					dashed++
				}
			}
			assert.Equal(t, hidden, dashed > 0, f.Designation())
		}
	}
}

// TestEachSizeOnce: in a drawing of several views no quantity is dimensioned
// twice, and none that a single view gives is lost.
func TestEachSizeOnce(t *testing.T) {
	for _, basis := range []fastener.Basis{fastener.Proportion, fastener.Standard} {
		for _, f := range specimens(t, 20, 100, basis) {
			d, err := fastener.Draw(f, fastener.DrawOptions{Views: all})
			require.NoError(t, err)
			seen := map[string]int{}
			for _, p := range d.Views {
				for _, it := range p.View.Items {
					if l, ok := labelOf(it.Shape); ok {
						seen[l.Quantity.Letter]++
					}
				}
			}
			for letter, n := range seen {
				assert.Equal(t, 1, n, "%s: %s", f.Designation(), letter)
			}
			_, a := seen["A"]
			_, w := seen["W"]
			qs, err := f.Quantities()
			require.NoError(t, err)
			i := slices.IndexFunc(qs, func(q drawing.Quantity) bool { return q.Letter == "A" })
			if i < 0 {
				continue
			}
			// A spanner needs the width across flats of a hexagon.
			assert.True(t, w || a, f.Designation())
			if hexagonal := qs[i].Rule != nil && qs[i].Rule.String() == "2D"; hexagonal {
				assert.True(t, w && a, f.Designation())
			} else {
				assert.True(t, a != w, "%s: one width, the one that governs", f.Designation())
			}
		}
	}
}

func labelOf(s drawing.Shape) (drawing.Label, bool) {
	switch d := s.(type) {
	case drawing.Linear:
		return d.Label, true
	case drawing.Aligned:
		return d.Label, true
	case drawing.Diameter:
		return d.Label, true
	case drawing.Leader:
		return d.Label, true
	}
	return drawing.Label{}, false
}

// TestEndViewIsPlain: the hexagon behind its chamfer circle is six lines.
func TestEndViewIsPlain(t *testing.T) {
	v, err := fastener.HexBolt{Thread: thread.MustParse("M16"), Length: 80}.View(drawing.HeadEnd,
		fastener.Options{})
	require.NoError(t, err)
	lines := 0
	for _, it := range v.Items {
		if _, ok := it.Shape.(drawing.Line); ok && it.Role == drawing.RoleOutline {
			lines++
		}
	}
	assert.Equal(t, 6, lines)
}

// TestProjection: the view on the head stands right of the elevation in first
// angle and left of it in third, on the same axis; the origin of the elevation
// is that of the drawing.
func TestProjection(t *testing.T) {
	f := fastener.HexBolt{Thread: thread.MustParse("M20"), Length: 90}
	for _, p := range []fastener.Projection{fastener.FirstAngle, fastener.ThirdAngle} {
		d, err := fastener.Draw(f, fastener.DrawOptions{Views: all, Projection: p})
		require.NoError(t, err)
		sign := map[fastener.Projection]float64{fastener.FirstAngle: 1, fastener.ThirdAngle: -1}[p]
		at := map[drawing.Direction]drawing.Point{}
		for _, v := range d.Views {
			at[v.View.Direction] = v.At
		}
		assert.Equal(t, drawing.Pt(0, 0), at[drawing.Front])
		assert.Greater(t, sign*at[drawing.HeadEnd].X, 0.0)
		assert.Less(t, sign*at[drawing.PointEnd].X, 0.0)
		assert.Less(t, sign*at[drawing.SideView].Y, 0.0)
		assert.Zero(t, at[drawing.HeadEnd].Y, "on the axis")
		assert.Zero(t, at[drawing.SideView].X, "in projection")
	}
}

// TestDrawIsPure: the same input gives the same drawing, from many goroutines.
func TestDrawIsPure(t *testing.T) {
	f := fastener.SquareBolt{Thread: thread.MustParse("M20"), Length: 90, SquareNeck: true}
	want, err := fastener.Draw(f, fastener.DrawOptions{Views: all})
	require.NoError(t, err)
	done := make(chan string)
	for range 16 {
		go func() {
			got, err := fastener.Draw(f, fastener.DrawOptions{Views: all})
			done <- fmt.Sprintf("%+v %v", got, err)
		}()
	}
	for range 16 {
		assert.Equal(t, fmt.Sprintf("%+v %v", want, nil), <-done)
	}
}

// TestNothingIsShared: what a caller does with the lists that it is given
// changes nothing for the next one.
func TestNothingIsShared(t *testing.T) {
	want := fmt.Sprintf("%+v", fastener.Kinds())
	spoil := func(k fastener.KindInfo) {
		for i := range k.Options {
			for j := range k.Options[i].Choices {
				k.Options[i].Choices[j] = "spoilt"
			}
			k.Options[i].Name = "spoilt"
		}
		for i := range k.Views {
			k.Views[i] = drawing.Isometric
		}
		for i := range k.Default {
			k.Default[i] = drawing.Isometric
		}
	}
	for _, k := range fastener.Kinds() {
		spoil(k)
		named, err := fastener.KindNamed(k.Name)
		require.NoError(t, err)
		spoil(named)
		views := fastener.DefaultViews(k.Name)
		views[0] = drawing.Isometric
	}
	// The functions in it have addresses of their own.
	assert.Equal(t, want, fmt.Sprintf("%+v", fastener.Kinds()))
}
