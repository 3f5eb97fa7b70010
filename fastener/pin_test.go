package fastener_test

import (
	"bytes"
	"fmt"
	"math"
	"testing"

	"boltplate/drawing"
	"boltplate/dxfout"
	"boltplate/fastener"
	"boltplate/rule"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// TestPinsByAnyRule: whatever rules of one's own the nut does not refuse, at whatever
// scale, the split pin can be drawn, from every side, and its views hold no number that
// is none. An eye is never less than its pin.
func TestPinsByAnyRule(tt *testing.T) {
	rapid.Check(tt, func(t *rapid.T) {
		factor := func(name string, from, to float64) rule.Entry {
			k := math.Round(rapid.Float64Range(from, to).Draw(t, name)*1000) / 1000
			return rule.Entry{Of: "castle-nut", Letter: name, Rule: fmt.Sprintf("%gD", k)}
		}
		r, err := fastener.NewRules(rule.Set{Name: "any", Entries: []rule.Entry{factor("ws", 0.1, 0.4), factor("dp", 0.05, 0.39),
			factor("H", 0.9, 1.6), factor("H1", 0.4, 0.9)}})
		require.NoError(t, err)
		d := rapid.SampledFrom([]float64{3, 5, 12, 20, 42, 64}).Draw(t, "D")
		nut := fastener.CastleNut{Thread: coarse(tt, d), Extra: fastener.Extra{Rules: r}}
		if nut.Validate() != nil {
			return
		}
		opt := fastener.DrawOptions{Views: []drawing.Direction{drawing.Front, drawing.SideView, drawing.HeadEnd, drawing.PointEnd, drawing.Isometric}}
		opt.Style.Scale = rapid.SampledFrom([]float64{0.2, 0.5, 1, 2, 5}).Draw(t, "scale")
		opt.Hidden, opt.Exact = rapid.Bool().Draw(t, "hidden"), rapid.Bool().Draw(t, "exact")
		dr, err := fastener.Draw(nut, opt)
		require.NoError(t, err)
		require.NoError(t, dr.Validate())
		require.NoError(t, dxfout.Encode(&bytes.Buffer{}, dr))
	})
}

// TestEndsByAnyRule: the same of the ends of threads and of undercuts.
func TestEndsByAnyRule(tt *testing.T) {
	rapid.Check(tt, func(t *rapid.T) {
		kind := rapid.SampledFrom([]string{"hex-bolt", "hex-screw", "tap-bolt", "cap-screw", "cheese-screw", "square-bolt", "stud"}).Draw(t, "kind")
		var entries []rule.Entry
		for _, e := range []struct {
			letter   string
			from, to float64
		}{{"re", 0.4, 4}, {"dp", 0.05, 0.95}, {"zp", 0.1, 1}, {"dt", 0.02, 0.95}, {"dz", 0.05, 0.95}} {
			k := math.Round(rapid.Float64Range(e.from, e.to).Draw(t, e.letter)*1000) / 1000
			entries = append(entries, rule.Entry{Of: kind, Letter: e.letter, Rule: fmt.Sprintf("%gD", k)})
		}
		r, err := fastener.NewRules(rule.Set{Name: "any", Entries: entries})
		require.NoError(t, err)
		d := rapid.SampledFrom([]float64{3, 5, 12, 20, 42, 64}).Draw(t, "D")
		s := fastener.Spec{Kind: kind, Thread: coarse(tt, d), Length: math.Round(d * rapid.Float64Range(1.5, 8).Draw(t, "length"))}
		s.Rules, s.End = r, rapid.SampledFrom([]string{"", "round", "dog", "cone", "cup"}).Draw(t, "end")
		if kind == "hex-screw" || kind == "tap-bolt" {
			s.Undercut = rapid.SampledFrom([]string{"", "regular", "short"}).Draw(t, "undercut")
		}
		f, err := fastener.New(s)
		if err != nil {
			return
		}
		opt := fastener.DrawOptions{Details: true, Views: []drawing.Direction{drawing.Front, drawing.SideView, drawing.HeadEnd, drawing.PointEnd, drawing.Isometric}}
		opt.Style.Scale = rapid.SampledFrom([]float64{0.2, 0.5, 1, 2, 5}).Draw(t, "scale")
		opt.Hidden, opt.Exact = rapid.Bool().Draw(t, "hidden"), rapid.Bool().Draw(t, "exact")
		dr, err := fastener.Draw(f, opt)
		require.NoError(t, err, f.Designation())
		require.NoError(t, dr.Validate(), f.Designation())
		require.NoError(t, dxfout.Encode(&bytes.Buffer{}, dr), f.Designation())
		for _, p := range dr.Views[:2] {
			if msg := looseEnd(p.View); msg != "" {
				t.Errorf("%s at %g, %s: %s", f.Designation(), opt.Style.Scale, p.View.Direction, msg)
			}
		}
	})
}
