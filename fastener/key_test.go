package fastener_test

import (
	"strings"
	"testing"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/rule"
	"boltplate/thread"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// labels returns the labels of the dimensions of a drawing.
func labels(d *drawing.Drawing) []drawing.Label {
	var out []drawing.Label
	for _, p := range d.Views {
		for _, it := range p.View.Items {
			switch s := it.Shape.(type) {
			case drawing.Linear:
				out = append(out, s.Label)
			case drawing.Aligned:
				out = append(out, s.Label)
			case drawing.Diameter:
				out = append(out, s.Label)
			case drawing.Radius:
				out = append(out, s.Label)
			case drawing.Angular:
				out = append(out, s.Label)
			case drawing.Leader:
				out = append(out, s.Label)
			}
		}
	}
	return out
}

// keyOf returns the key that stands on a drawing: what is said of each letter.
// Its texts come in threes, letter, name and rule, before all notes.
func keyOf(t *testing.T, d *drawing.Drawing, f fastener.Fastener) map[string]string {
	t.Helper()
	qs, err := f.Quantities()
	require.NoError(t, err)
	names := map[string]string{}
	for _, q := range qs {
		names[q.Letter] = q.Name
	}
	var texts []string
	for _, it := range d.Items {
		if s, ok := it.Shape.(drawing.Text); ok {
			texts = append(texts, s.Value)
		}
	}
	out := map[string]string{}
	for len(texts) >= 3 && names[texts[0]] == texts[1] {
		assert.NotContains(t, out, texts[0], "%s is explained twice", texts[0])
		out[texts[0]], texts = texts[2], texts[3:]
	}
	return out
}

// TestLabelsAreExplained draws every kind with rules and with letters: what a
// dimension says can be worked out from the drawing. Each letter is D or L, or
// stands in the key, and so do the letters of the key's own rules; what a rule
// comes to is the size; no label has brackets in brackets.
func TestLabelsAreExplained(t *testing.T) {
	drawn := 0
	for _, d := range []float64{5, 8, 20, 42} {
		for _, basis := range []fastener.Basis{fastener.Proportion, fastener.Standard} {
			for _, f := range append(specimens(t, d, 4*d, basis), specimens(t, d, 12*d, basis)...) {
				for _, says := range []drawing.Labels{drawing.Rules, drawing.Letters} {
					opt := fastener.DrawOptions{Views: all, Options: fastener.Options{Hidden: true, Section: true,
						Style: drawing.Style{Labels: says}}}
					dr, err := fastener.Draw(f, opt)
					require.NoError(t, err)
					explained(t, f, dr, says)
					drawn++
					opt.Details = true
					dr, err = fastener.Draw(f, opt)
					require.NoError(t, err)
					explained(t, f, dr, says)
				}
			}
		}
	}
	t.Log(drawn, "drawings")
}

func explained(t *testing.T, f fastener.Fastener, d *drawing.Drawing, says drawing.Labels) {
	t.Helper()
	key := keyOf(t, d, f)
	qs, err := f.Quantities()
	require.NoError(t, err)
	value := func(letter string) (float64, bool) {
		for _, q := range qs {
			if q.Letter == letter {
				return q.Value, true
			}
		}
		return 0, false
	}
	known := func(where string, letters ...string) {
		for _, l := range letters {
			_, ok := key[l]
			if l == "D" || l == "L" {
				ok = ok || says == drawing.Rules
			}
			assert.True(t, ok, "%s, %s: %s: %s is not explained", f.Designation(), says, where, l)
		}
	}
	for _, l := range labels(d) {
		text := l.Text
		if l.Reference {
			text = "(" + text + ")"
		}
		assert.False(t, strings.HasPrefix(text, "((") || strings.HasPrefix(text, "RR"), "%s: %s",
			f.Designation(), text)
		if says == drawing.Letters || l.Quantity.Rule == nil {
			known(text, l.Quantity.Letter)
			continue
		}
		known(text, l.Quantity.Rule.Letters()...)
		v, err := l.Quantity.Rule.Eval(value)
		require.NoError(t, err, "%s: %s", f.Designation(), text)
		assert.InDelta(t, l.Quantity.Value, v, 1e-9, "%s: %s", f.Designation(), text)
		assert.LessOrEqual(t, l.Quantity.Rule.Len(), 16, text)
	}
	for letter, text := range key {
		if e, err := rule.Parse(text); err == nil && !strings.Contains(text, " mm") { // else a value with its unit
			known("key to "+letter, e.Letters()...)
		}
	}
}

// TestWhatStudentsCouldNotWorkOut: the labels in letters that stood nowhere else
// on the drawing, and what they say now.
func TestWhatStudentsCouldNotWorkOut(t *testing.T) {
	m20 := thread.MustParse("M20")
	for _, c := range []struct {
		f     fastener.Fastener
		says  string
		key   map[string]string
		views []drawing.Direction
	}{
		{f: fastener.TaperBolt{Thread: m20, Length: 120}, says: "L - 2D - x - 6",
			key: map[string]string{"x": "2.5P ≈ 6.3", "P": "2.5 mm"}},
		{f: fastener.CountersunkBolt{Thread: m20, Length: 90, Neck: fastener.NeckSquare}, says: "0.6D"},
		{f: fastener.CountersunkBolt{Thread: m20, Length: 60, Neck: fastener.NeckSquare}, says: "L - 1.4D - 3P",
			key: map[string]string{"P": "2.5 mm"}},
		{f: fastener.PanScrew{Thread: m20, Length: 60, Cross: true}, says: "0.25D"},
		{f: fastener.PanScrew{Thread: m20, Length: 60, Cross: true}, says: "1.6D"}, // the crown
		{f: fastener.EyeBolt{Thread: m20, Collar: true}, says: "3.6D", key: map[string]string{"P": "2.5 mm"}},
		{f: fastener.HookBolt{Thread: m20, Length: 90, HalfRound: true}, says: "2D"},
		{f: fastener.CheeseBolt{Thread: m20, Length: 90, Neck: fastener.NeckPinAlong}, says: "0.6D"},
		{f: fastener.TapBolt{Thread: thread.MustParse("M8"), Length: 60}, says: "L - a1",
			key: map[string]string{"a1": "3P ≈ 4", "P": "1.25 mm"}},
	} {
		d, err := fastener.Draw(c.f, fastener.DrawOptions{Views: all,
			Options: fastener.Options{Style: drawing.Style{Labels: drawing.Rules}}})
		require.NoError(t, err)
		var texts []string
		for _, l := range labels(d) {
			texts = append(texts, l.Text)
		}
		assert.Contains(t, texts, c.says, c.f.Designation())
		if c.key != nil {
			assert.Equal(t, c.key, keyOf(t, d, c.f), c.f.Designation())
		}
	}
}

// TestNoKey: the key can be left out, and numbers have none.
func TestNoKey(t *testing.T) {
	bolt := fastener.HexBolt{Thread: thread.MustParse("M20"), Length: 90}
	for _, st := range []drawing.Style{{Labels: drawing.Letters, NoKey: true}, {Labels: drawing.Numbers},
		{Labels: drawing.NoLabels}} {
		d, err := fastener.Draw(bolt, fastener.DrawOptions{Options: fastener.Options{Style: st}})
		require.NoError(t, err)
		assert.Empty(t, d.Items)
	}
	d, err := fastener.Draw(bolt,
		fastener.DrawOptions{Options: fastener.Options{Style: drawing.Style{Labels: drawing.Letters,
			DecimalComma: true}}})
	require.NoError(t, err)
	assert.Equal(t, map[string]string{"D": "20 mm", "L": "90 mm", "b": "2D + 6", "A": "2D", "a": "30°",
		"T": "0,8D", "W": "A cos 30°"}, keyOf(t, d, bolt))
}
