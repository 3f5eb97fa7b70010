package fastener_test

import (
	"bytes"
	"fmt"
	"maps"
	"slices"
	"sync"
	"testing"

	"boltplate/drawing"
	"boltplate/dxfout"
	"boltplate/fastener"
	"boltplate/rule"
	"boltplate/thread"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// ours returns our own rules of all kinds as a set.
func ours(change func(e *rule.Entry)) rule.Set {
	set := rule.Set{Name: "Ostlemere drawing office"}
	for _, k := range fastener.Kinds() {
		for _, table := range k.Table() {
			for _, r := range table.Rules {
				e := rule.Entry{Of: table.Of, Letter: r.Letter, Rule: r.Rule.String(), Source: r.Source, Status: r.Status}
				if change != nil {
					change(&e)
				}
				set.Entries = append(set.Entries, e)
			}
		}
	}
	return set
}

func rules(t testing.TB, set rule.Set) *fastener.Rules {
	t.Helper()
	r, err := fastener.NewRules(set)
	require.NoError(t, err)
	return r
}

// specsWith returns the descriptions of the specimens.
func withRules(t testing.TB, th thread.Thread, length float64, basis fastener.Basis,
	r *fastener.Rules) (plain, ruled []fastener.Fastener) {
	t.Helper()
	for _, s := range specsWith(th, length, basis) {
		f, err := fastener.New(s)
		if err != nil {
			continue
		}
		s.Rules = r
		g, err := fastener.New(s)
		require.NoError(t, err, f.Designation())
		plain, ruled = append(plain, f), append(ruled, g)
	}
	return plain, ruled
}

// TestOwnRulesThatAreOurs: our own rules, given as a set, change no byte of a
// drawing.
func TestOwnRulesThatAreOurs(t *testing.T) {
	r := rules(t, ours(nil))
	for _, basis := range []fastener.Basis{fastener.Proportion, fastener.Standard} {
		plain, ruled := withRules(t, thread.MustParse("M20"), 90, basis, r)
		assert.Greater(t, len(plain), 60)
		for i, f := range plain {
			for _, says := range []drawing.Labels{drawing.Numbers, drawing.Rules} {
				assert.Equal(t, bytesOf(t, f, says), bytesOf(t, ruled[i], says), "%s, %s", f.Designation(), says)
			}
		}
	}
}

func bytesOf(t *testing.T, f fastener.Fastener, says drawing.Labels) string {
	t.Helper()
	d, err := fastener.Draw(f,
		fastener.DrawOptions{Options: fastener.Options{Style: drawing.Style{Labels: says}}})
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, dxfout.Encoder{}.Encode(&b, d))
	return b.String()
}

// TestEveryRuleCanBeReplaced: each rule of a kind that is listed, made a little
// larger or smaller by a set, makes its size so in some part of the kind.
func TestEveryRuleCanBeReplaced(t *testing.T) {
	th := thread.MustParse("M20")
	specs := map[string][]fastener.Spec{}
	for _, s := range specsWith(th, 120, fastener.Proportion) {
		specs[s.Kind] = append(specs[s.Kind], s)
	}
	for _, k := range fastener.Kinds() {
		for _, table := range k.Table() {
			for _, changed := range table.Rules {
				made := 0
				for _, factor := range []float64{1.01, 0.99} {
					text := fmt.Sprintf("(%s) × %g", changed.Rule, factor)
					r := rules(t, rule.Set{Name: "other",
						Entries: []rule.Entry{{Of: table.Of, Letter: changed.Letter, Rule: text}}})
					for _, s := range specs[k.Name] {
						made += replaced(t, s, r, changed.Letter, factor)
					}
				}
				assert.Positive(t, made, "%s %s", table.Of, changed.Letter)
			}
		}
	}
}

// replaced returns 1 where the size of the letter is by so much another one with
// the rules.
func replaced(t *testing.T, s fastener.Spec, r *fastener.Rules, letter string, factor float64) int {
	t.Helper()
	f, err := fastener.New(s)
	if err != nil {
		return 0
	}
	s.Rules = r
	g, err := fastener.New(s)
	if err != nil { // it cannot be drawn so
		assert.ErrorContains(t, err, s.Kind+": ", letter)
		return 0
	}
	before, after := valuesOf(t, f)[letter], valuesOf(t, g)[letter]
	if after.Set != "other" {
		return 0
	}
	// or the set says which width governs, or reaches where a table did
	if before.Rule != nil && before.Status != drawing.Derived {
		assert.InDelta(t, before.Value*factor, after.Value, 1e-9, "%s %s", f.Designation(), letter)
	}
	return 1
}

func valuesOf(t *testing.T, f fastener.Fastener) map[string]drawing.Quantity {
	t.Helper()
	qs, err := f.Quantities()
	require.NoError(t, err)
	out := map[string]drawing.Quantity{}
	for _, q := range qs {
		out[q.Letter] = q
	}
	return out
}

// TestEveryRuleIsListed: a size by a rule of ours is in the table of its kind,
// is the same for all sizes, follows from others, or is a figure of the thread.
func TestEveryRuleIsListed(t *testing.T) {
	listed := map[string]map[string]bool{}
	for _, k := range fastener.Kinds() {
		listed[k.Name] = map[string]bool{}
		for _, table := range k.Table() {
			for _, r := range table.Rules {
				listed[k.Name][r.Letter] = true
			}
		}
	}
	figures := []string{"d3", "D1", "z", "x", "a1", "x1", "x2"}
	for _, f := range specimensWith(thread.MustParse("M20"), 120, fastener.Proportion) {
		if _, several := f.(fastener.Bolted); several {
			continue
		}
		for _, q := range valuesOf(t, f) {
			ok := q.Rule == nil || len(q.Rule.Letters()) == 0 || q.Status == drawing.Derived ||
				listed[f.Kind()][q.Letter] || slices.Contains(figures, q.Letter)
			assert.True(t, ok, "%s: %s = %s, %s", f.Designation(), q.Letter, q.RuleText(), q.Source)
		}
	}
}

// TestThreeChangedRules: a set with three rules changes exactly those sizes and
// what follows from them, and the drawing says which set it follows.
func TestThreeChangedRules(t *testing.T) {
	r := rules(t, rule.Set{Name: "Ostlemere technical school", Source: "course notes", Entries: []rule.Entry{
		{Of: "hex-bolt", Letter: "head thickness", Rule: "0.75D"},
		{Of: "hexagon nuts", Letter: "H", Rule: "0.9D"},
		{Of: "washers", Letter: "d2", Rule: "2D + 4"},
	}})
	m20 := thread.MustParse("M20")
	with := func(r *fastener.Rules) fastener.Fastener {
		e := fastener.Extra{Rules: r}
		return fastener.Bolted{Bolt: fastener.HexBolt{Thread: m20, Length: 120, Extra: e},
			Nut:    fastener.HexNut{Thread: m20, Extra: e},
			Washer: fastener.Washer{Thread: m20, Extra: e}, Grip: 80}
	}
	before, after := valuesOf(t, with(nil)), valuesOf(t, with(r))
	changed := map[string]float64{}
	for l, q := range after {
		if q.Value != before[l].Value {
			changed[l] = q.Value
		}
		assert.Equal(t, map[string]bool{"T": true, "H": true, "d2w": true}[l], q.Set != "", l)
	}
	// 0.75 × 20, 0.9 × 20, 2 × 20 + 4, and 120 - 80 - 2.5 - 18.
	assert.Equal(t, map[string]float64{"T": 15, "H": 18, "d2w": 44, "E": 19.5}, changed)
	assert.Equal(t, "course notes", after["T"].Source)
	assert.Equal(t, drawing.CommonPractice, after["T"].Status)

	d, err := fastener.Draw(with(r),
		fastener.DrawOptions{Options: fastener.Options{Style: drawing.Style{Labels: drawing.Letters}}})
	require.NoError(t, err)
	key := keyOf(t, d, with(r))
	assert.Equal(t, []string{"0.75D", "0.9D", "2D + 4"}, []string{key["T"], key["H"], key["d2w"]})
	assert.Contains(t, texts(d), "Rules: Ostlemere technical school")
	assert.Contains(t, d.Parts[0].Properties, drawing.Property{Key: "rules",
		Value: "Ostlemere technical school"})
	// What does not follow the set does not say so.
	d, err = fastener.Draw(fastener.SquareBolt{Thread: m20, Length: 120, Extra: fastener.Extra{Rules: r}},
		fastener.DrawOptions{})
	require.NoError(t, err)
	assert.NotContains(t, texts(d), "Rules: Ostlemere technical school")
}

func texts(d *drawing.Drawing) (out []string) {
	for _, it := range d.Items {
		if s, ok := it.Shape.(drawing.Text); ok {
			out = append(out, s.Value)
		}
	}
	return out
}

// TestGovernsDecides: of two widths that a set gives, one is kept.
func TestGovernsDecides(t *testing.T) {
	both := rules(t, rule.Set{Name: "both", Entries: []rule.Entry{{Of: "hexagons", Letter: "A", Rule: "1.8D"},
		{Of: "hexagons", Letter: "W", Rule: "1.5D"}}})
	flats := rules(t, rule.Set{Name: "flats",
		Entries: []rule.Entry{{Of: "hexagons", Letter: "W", Rule: "1.5D"}}})
	corners := rules(t, rule.Set{Name: "corners",
		Entries: []rule.Entry{{Of: "hexagons", Letter: "A", Rule: "1.8D"}}})
	const cos30 = 0.8660254037844386
	for _, c := range []struct {
		r    *fastener.Rules
		g    fastener.Governs
		a, w float64
	}{
		{both, fastener.ByBasis, 36, 36 * cos30}, {both, fastener.Corners, 36, 36 * cos30},
		{both, fastener.Flats, 30 / cos30, 30},
		{flats, fastener.ByBasis, 30 / cos30, 30}, {flats, fastener.Corners, 40, 40 * cos30},
		{corners, fastener.ByBasis, 36, 36 * cos30},
		{corners, fastener.Flats, 33 / cos30, 33}, {nil, fastener.ByBasis, 40, 40 * cos30},
	} {
		for _, f := range []fastener.Fastener{
			fastener.HexBolt{Thread: thread.MustParse("M20"), Length: 90, Governs: c.g,
				Extra: fastener.Extra{Rules: c.r}},
			fastener.HexNut{Thread: thread.MustParse("M20"), Governs: c.g, Extra: fastener.Extra{Rules: c.r}},
		} {
			qs := valuesOf(t, f)
			assert.InDelta(t, c.a, qs["A"].Value, 1e-9, "%s %s", c.r.Name(), c.g)
			assert.InDelta(t, c.w, qs["W"].Value, 1e-9, "%s %s", c.r.Name(), c.g)
			kept, follows := "A", "W"
			if c.w == 30 || c.w == 33 {
				kept, follows = follows, kept
			}
			assert.Contains(t, qs[kept].Source, "; governs")
			assert.Equal(t, drawing.Derived, qs[follows].Status)
		}
	}
}

// TestWrongRules: what is wrong with a set, and where.
func TestWrongRules(t *testing.T) {
	at, ruleAt := rule.Place{Line: 3, Column: 1}, rule.Place{Line: 3, Column: 6}
	for _, c := range []struct {
		entry rule.Entry
		field string
		says  string
		place rule.Place
	}{
		{rule.Entry{Of: "hex-blot", Letter: "T", Rule: "D"}, "of", "hex-bolt", at},
		{rule.Entry{Of: "hexagon head", Letter: "T", Rule: "D"}, "of", "hexagon heads", at},
		{rule.Entry{Of: "hex-bolt", Letter: "head thicknes", Rule: "D"}, "letter", "head thickness", at},
		{rule.Entry{Of: "hex-bolt", Letter: "Q", Rule: "D"}, "letter", "Q", at},
		{rule.Entry{Of: "hex-bolt", Letter: "T", Rule: "0.8E"}, "rule", "E", rule.Place{Line: 3, Column: 9}},
		{rule.Entry{Of: "hex-bolt", Letter: "T", Rule: "0.8D +"}, "rule", "", rule.Place{Line: 3, Column: 12}},
		{rule.Entry{Of: "hex-bolt", Letter: "T", Rule: "T/2"}, "rule", "T", at},
		{rule.Entry{Of: "hex-bolt", Letter: "hc", Rule: "D"}, "letter", "hc", at},
		{rule.Entry{Of: "square-bolt", Letter: "a", Rule: "20"}, "letter", "follows", at},
		{rule.Entry{Of: "hex-nut", Letter: "H", Rule: "0.1L"}, "rule", "L", rule.Place{Line: 3, Column: 9}},
	} {
		c.entry.At, c.entry.RuleAt = at, ruleAt
		_, err := fastener.NewRules(rule.Set{Name: "wrong", Entries: []rule.Entry{c.entry}})
		var ee *rule.EntryError
		require.ErrorAs(t, err, &ee, "%v", c.entry)
		assert.Equal(t, c.field, ee.Field, "%v", err)
		assert.ErrorContains(t, err, c.says)
		assert.Equal(t, c.place, ee.Place(), "%v", err)
	}
}

// TestRulesThatCannotBeDrawn are refused by the part, with the letter.
func TestRulesThatCannotBeDrawn(t *testing.T) {
	for _, c := range []struct{ of, letter, rule, kind string }{
		{"hexagons", "A", "D", "hex-bolt"}, {"hexagons", "W", "D", "hex-nut"},
		{"hexagons", "R", "0.2D", "hex-bolt"}, {"hexagons", "R", "9D", "hex-bolt"},
		{"hexagons", "a", "60°", "hex-bolt"}, {"hex-bolt", "T", "0D", "hex-bolt"},
		{"hex-bolt", "T", "D - 100", "hex-bolt"},
		{"washers", "d1", "D", "washer"}, {"washers", "d2", "D + 1", "washer"},
		{"cup-bolt", "R", "0.5D", "cup-bolt"},
		{"castle-nut", "H1", "2D", "castle-nut"}, {"cap-nut", "Rd", "3D", "cap-nut"},
		{"pan-screw", "t", "2D", "pan-screw"},
		{"countersunk-bolt", "d2", "0.5D", "countersunk-bolt"}, {"cap-screw", "s", "2D", "cap-screw"},
		{"wing-nut", "d5", "D", "wing-nut"},
	} {
		r := rules(t, rule.Set{Name: "odd", Entries: []rule.Entry{{Of: c.of, Letter: c.letter, Rule: c.rule}}})
		s := fastener.Spec{Kind: c.kind, Thread: thread.MustParse("M20"), Extra: fastener.Extra{Rules: r}}
		if k, _ := fastener.KindNamed(c.kind); k.Length {
			s.Length = 90
		}
		_, err := fastener.New(s)
		var fe *fastener.FieldError
		require.ErrorAs(t, err, &fe, "%s %s = %s", c.of, c.letter, c.rule)
		assert.Equal(t, "rules", fe.Field, "%v", err)
		t.Log(err)
	}
}

// TestRulesFromManyGoroutines: rules do not change and may be shared.
func TestRulesFromManyGoroutines(t *testing.T) {
	r := rules(t, rule.Set{Name: "Ostlemere",
		Entries: []rule.Entry{{Of: "hexagons", Letter: "R", Rule: "1.5D"}}})
	var wg sync.WaitGroup
	out := make([]string, 8)
	for i := range out {
		wg.Add(1)
		go func() {
			defer wg.Done()
			f := fastener.HexBolt{Thread: thread.MustParse("M20"), Length: 90, Extra: fastener.Extra{Rules: r}}
			d, err := fastener.Draw(f,
				fastener.DrawOptions{Options: fastener.Options{Style: drawing.Style{Labels: drawing.Rules}}})
			if assert.NoError(t, err) {
				var b bytes.Buffer
				assert.NoError(t, dxfout.Encoder{}.Encode(&b, d))
				out[i] = b.String()
			}
		}()
	}
	wg.Wait()
	assert.Len(t, slices.Collect(maps.Keys(map[string]bool{out[0]: true, out[3]: true, out[7]: true})), 1)
}
