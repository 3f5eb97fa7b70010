package fastener_test

import (
	"math"
	"regexp"
	"strconv"
	"testing"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/internal/plane"
	"boltplate/rule"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// arcsOf returns the arcs of the chamfer that an elevation of a head shows.
func arcsOf(t *testing.T, f fastener.Fastener, dir drawing.Direction) (arcs []drawing.Arc) {
	t.Helper()
	v, err := f.View(dir, fastener.Options{Style: drawing.Style{Labels: drawing.NoLabels}})
	require.NoError(t, err)
	for _, it := range v.Items {
		if a, ok := it.Shape.(drawing.Arc); ok {
			arcs = append(arcs, a)
		}
	}
	return arcs
}

// offHyperbola returns how far an arc is, at most and square to it, off the true
// curve of the face that it stands on: the hyperbola in which the face cuts the
// cone of the chamfer, whose generators fall by the angle.
func offHyperbola(w, top, angle float64, a drawing.Arc, fs []face, n int) float64 {
	half := w / 2 * math.Tan(math.Pi/float64(n))
	mid := a.Center.Add(drawing.Polar(a.Radius, a.Start+plane.Sweep(a.Start, a.End)/2))
	from, to := a.Center.Add(drawing.Polar(a.Radius, a.Start)).Y, a.Center.Add(drawing.Polar(a.Radius, a.End)).Y
	worst := 0.0
	for _, f := range fs {
		if math.Abs((mid.Y-f.mid*w)/f.cos) > half {
			continue
		}
		const steps = 4000
		for i := 0; i <= steps; i++ {
			y := from + (to-from)*float64(i)/steps
			u := (y - f.mid*w) / f.cos
			p := drawing.Pt(top+math.Tan(angle*math.Pi/180)*(math.Hypot(w/2, u)-w/2), y)
			worst = math.Max(worst, math.Abs(p.Sub(a.Center).Len()-a.Radius))
		}
	}
	return worst
}

var saysOff = regexp.MustCompile(`by (0\.\d+)W at most`)

// TestChamferArcsAreWhatIsListed: each arc of a chamfer that is drawn has one of
// the listed radii, whose factors are rounded to four decimals, and is off the
// true curve by as much as the list says, in fractions of W to five decimals.
func TestChamferArcsAreWhatIsListed(t *testing.T) {
	m20 := coarse(t, 20)
	for _, c := range []struct {
		n    int
		f    fastener.Fastener
		arcs map[drawing.Direction][]string // of each view, with the letters it shows
	}{
		{6, fastener.HexBolt{Thread: m20, Length: 90}, map[drawing.Direction][]string{drawing.Front: {"R", "R1"},
			drawing.SideView: {"R2"}}},
		{6, fastener.HexBolt{Thread: m20, Length: 90, Basis: fastener.Standard},
			map[drawing.Direction][]string{drawing.Front: {"R", "R1"}, drawing.SideView: {"R2"}}},
		{4, fastener.SquareBolt{Thread: m20, Length: 90}, map[drawing.Direction][]string{drawing.Front: {"R", "R1"},
			drawing.SideView: {"R2"}}},
	} {
		w, top := quantity(t, c.f, "width across flats").Value, -quantity(t, c.f, "head thickness").Value
		for dir, letters := range c.arcs {
			seen := map[string]float64{}
			for _, a := range arcsOf(t, c.f, dir) {
				q := radiusNear(t, c.f, a.Radius, letters)
				assert.InDelta(t, q.Value, a.Radius, 0.00005*w, "%s %s %s", c.f.Designation(), dir, q.Letter)
				seen[q.Letter] = math.Max(seen[q.Letter], offHyperbola(w, top, 30, a, faces(c.n, dir), c.n))
			}
			assert.Len(t, seen, len(letters), "%s %s", c.f.Designation(), dir)
			for letter, off := range seen {
				says := saysOff.FindStringSubmatch(byLetter(t, c.f, letter).Source)
				require.NotNil(t, says, "%s %s", c.f.Designation(), letter)
				assert.Equal(t, says[1], strconv.FormatFloat(off/w, 'f', 5, 64), "%s %s", c.f.Designation(), letter)
			}
		}
	}
}

func radiusNear(t *testing.T, f fastener.Fastener, r float64, letters []string) drawing.Quantity {
	t.Helper()
	var best drawing.Quantity
	for _, l := range letters {
		if q := byLetter(t, f, l); math.Abs(q.Value-r) < math.Abs(best.Value-r) {
			best = q
		}
	}
	return best
}

func byLetter(t *testing.T, f fastener.Fastener, letter string) drawing.Quantity {
	t.Helper()
	qs, err := f.Quantities()
	require.NoError(t, err)
	for _, q := range qs {
		if q.Letter == letter {
			return q
		}
	}
	require.Fail(t, "no such letter", "%s: %s", f.Designation(), letter)
	return drawing.Quantity{}
}

// TestArcsByRulesOfOnesOwn: with an arc of 1.5D in the three-face view, or a
// chamfer of another angle, the arcs that are drawn have exactly the listed
// radii, the curve has the listed angle, and its corners the listed depth.
func TestArcsByRulesOfOnesOwn(t *testing.T) {
	for _, e := range []rule.Entry{
		{Of: "hexagons", Letter: "R", Rule: "1.5D"}, {Of: "hex-bolt", Letter: "R", Rule: "2D"},
		{Of: "hexagons", Letter: "a", Rule: "20°"}, {Of: "hexagon heads", Letter: "a", Rule: "15°"},
	} {
		own, err := fastener.NewRules(rule.Set{Name: "Ostlemere", Entries: []rule.Entry{e}})
		require.NoError(t, err)
		for _, d := range []float64{8, 20} {
			for _, g := range []fastener.Governs{fastener.Corners, fastener.Flats} {
				th := coarse(t, d)
				f := fastener.HexBolt{Thread: th, Length: 5 * d, Governs: g, Extra: fastener.Extra{Rules: own}}
				w, top := quantity(t, f, "width across flats").Value, -quantity(t, f, "head thickness").Value
				angle := quantity(t, f, "chamfer angle").Value
				for dir, letters := range map[drawing.Direction][]string{drawing.Front: {"R", "R1"},
					drawing.SideView: {"R2"}} {
					arcs := arcsOf(t, f, dir)
					require.Len(t, arcs, len(faces(6, dir)))
					for _, a := range arcs {
						assert.InDelta(t, radiusNear(t, f, a.Radius, letters).Value, a.Radius, 1e-9, "%s %s", e.Rule, dir)
						assert.Less(t, offHyperbola(w, top, angle, a, faces(6, dir), 6), 0.003*w, "%s %s", e.Rule, dir)
					}
				}
				if e.Letter == "R" {
					asked, _ := rule.MustParse(e.Rule).Eval(rule.Values{{Letter: "D", Value: d}}.Get)
					assert.Equal(t, asked, byLetter(t, f, "R").Value)
				} else {
					assert.Equal(t, e.Rule, mmText(angle)+"°")
				}
				a := quantity(t, f, "width across corners").Value
				assert.InDelta(t, math.Tan(angle*math.Pi/180)*(a-w)/2, byLetter(t, f, "hc").Value, 1e-9)
			}
		}
	}
}

func mmText(v float64) string { return drawing.FormatValue(v, false) }
