package joint

import (
	"testing"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/thread"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// coupling is a pair of flanges on a taper bolt M20, nut and washer by the
// standards, everything else left to be chosen.
func coupling() Joint {
	return Joint{Scene: Taper, Basis: fastener.Standard, Bolt: fastener.Spec{Thread: thread.MustParse("M20")},
		Parts: []Part{{Thickness: 32}, {Thickness: 32}}}
}

// TestTaperByHand works the joint by hand. The large end is 1.2D = 24 (common
// practice), the taper 1:30. An interference of 0.001 x 24 = 0.024 mm wants a
// draw of 0.024 x 30 = 0.72, in halves 1 mm, which is 1/30 = 0.033 on the
// diameter. The hole is 24 - 1/30 = 23.967 at the face of the first part and
// 24 - 65/30 = 21.833 at that of the second. Pushed in by hand the nut seats at
// 1 + 64 + 3 = 68 (ISO 7089 h = 3); with ISO 4032 m = 18 and the pitch of 2.5
// that makes 88.5, so ISO 888 gives 90. Drawn in, the outer face is at 64; the
// thread begins a tenth of D = 2 inside it, at 62, and so is 28 long. Its
// run-out is 6.3 (ISO 3508): the taper is 62 - 6.3 = 55.7 long, and
// 24 - 55.7/30 = 22.143 at its small end.
func TestTaperByHand(t *testing.T) {
	j := complete(t, coupling())
	assert.Equal(t, "1:30", j.Bolt.Taper)
	assert.Equal(t, 1.0, j.Parts[0].DrawUp)
	assert.Equal(t, 90.0, j.Bolt.Length)
	assert.Equal(t, 28.0, j.Bolt.ThreadLength)
	m := modelOf(t, j)
	assert.InDelta(t, 23.967, m.Parts[0].Hole, 0.001)
	assert.InDelta(t, 21.833, m.Parts[1].Hole, 0.001)
	assert.InDelta(t, 68, m.seat(), 1e-9)
	assert.InDelta(t, 55.7, m.fit.Taper.Length, 1e-9)
	assert.InDelta(t, 22.143, m.fit.Taper.Small, 0.001)
	assert.Zero(t, j.Parts[0].Hole, "follows, and is not part of the description")
	assert.Empty(t, codes(t, j))
}

// TestTaperChoiceByHand: (1.2 - 1) x 20 x 30 = 120 mm is the longest usable
// taper 1:30 of M20: with 1 mm of draw-up 119 mm of flanges, but not 120. 1:50
// then has 200; its draw-up is 0.024 x 50 = 1.2, in halves 1.5.
func TestTaperChoiceByHand(t *testing.T) {
	j := coupling()
	j.Parts[0].Thickness = 87
	assert.Equal(t, "1:30", complete(t, j).Bolt.Taper)
	j.Parts[0].Thickness = 88
	full := complete(t, j)
	assert.Equal(t, "1:50", full.Bolt.Taper)
	assert.Equal(t, 1.5, full.Parts[0].DrawUp)
	assert.Empty(t, codes(t, full))

	j.Bolt.Taper = "1:30"
	found, err := j.Check()
	require.NoError(t, err)
	require.Len(t, found, 1)
	assert.Equal(t, TaperLong, found[0].Code)
	assert.InDelta(t, 121, found[0].Measured, 1e-9)
	assert.InDelta(t, 120, found[0].Required, 1e-9)
	assert.Contains(t, found[0].Remedy, "taper 1:50")
	assert.Contains(t, found[0].Remedy, "1:50")
}

// TestTaperTooLongIsDrawn: M12 x 140 with 30 mm of thread would have a taper of
// 140 - 30 - 4.3 = 105.7 (run-out by ISO 3508), but 1:30 can be 0.2 x 12 x 30 = 72
// long. It is drawn with 72, and the finding says so.
func TestTaperTooLongIsDrawn(t *testing.T) {
	j := coupling()
	j.Bolt = fastener.Spec{Thread: thread.MustParse("M12"), Length: 140, ThreadLength: 30, Taper: "1:30"}
	found, err := j.Check()
	require.NoError(t, err)
	require.NotEmpty(t, found)
	f := found[0]
	assert.Equal(t, TaperLong, f.Code)
	assert.InDelta(t, 105.7, f.Measured, 1e-9)
	assert.InDelta(t, 72, f.Required, 1e-9)
	d, err := Draw(j, drawing.Style{})
	require.NoError(t, err)
	assert.NotEmpty(t, d.Views)
}

// TestTaperSymbol: the taper is named by its symbol.
func TestTaperSymbol(t *testing.T) {
	d, err := Draw(coupling(), drawing.Style{})
	require.NoError(t, err)
	n := 0
	for _, it := range d.Views[0].View.Items {
		if l, ok := it.Shape.(drawing.Leader); ok && l.Label.Symbol == drawing.TaperSymbol {
			assert.Equal(t, "1:30", l.Label.Text)
			n++
		}
	}
	assert.Equal(t, 1, n)
}

func TestTaperErrors(t *testing.T) {
	for want, change := range map[string]func(*Joint){
		"bolt.kind: hex-bolt does not belong in the scene taper; use taper-bolt":   func(j *Joint) { j.Bolt.Kind = "hex-bolt" },
		"head_washer: a taper bolt has no head":                                    func(j *Joint) { j.HeadWasher = "plain" },
		"part 2: hole: a taper hole follows from the bolt and its draw-up":         func(j *Joint) { j.Parts[1].Hole = 22 },
		"part 2: draw_up: belongs to part 1":                                       func(j *Joint) { j.Parts[1].DrawUp = 1 },
		"taper 1:40: no such taper":                                                func(j *Joint) { j.Bolt.Taper = "1:40" },
		"part: a joint of the scene taper has 2 to 2 parts, this one":              func(j *Joint) { j.Parts = j.Parts[:1] },
		"bolt: taper-bolt: thread 20: leaves no taper as long as the nominal diam": func(j *Joint) { j.Bolt.Length = 40; j.Bolt.ThreadLength = 20 },
	} {
		j := coupling()
		change(&j)
		_, err := Draw(j, drawing.Style{})
		assert.ErrorContains(t, err, want)
	}
}

// TestTaperChooserIsSound: whatever the size, what is chosen has no finding and
// nothing touches on the drawing. Flanges are no thinner than 1.2D.
func TestTaperChooserIsSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom([]float64{5, 6, 8, 10, 12, 16, 20, 24, 30, 36}).Draw(t, "d")
		th, err := thread.Coarse(d)
		require.NoError(t, err)
		j := Joint{Scene: Taper, Basis: fastener.Basis(rapid.IntRange(0, 1).Draw(t, "basis")),
			Bolt:   fastener.Spec{Thread: th},
			Washer: rapid.SampledFrom([]string{"", "none"}).Draw(t, "washer")}
		most := 3.0 // of the shortest kept, 1:30: 6D for both flanges, less the draw-up
		if j.Bolt.Taper = rapid.SampledFrom([]string{"", "1:30", "1:50", "1:100"}).Draw(t,
			"taper"); j.Bolt.Taper == "1:30" {
			most = 2.9
		}
		for range 2 {
			j.Parts = append(j.Parts, Part{Thickness: d * rapid.Float64Range(1.2, most).Draw(t, "t")})
		}
		soundAndClear(t, j)
	})
}
