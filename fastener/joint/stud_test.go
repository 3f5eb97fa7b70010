package joint

import (
	"math"
	"testing"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/internal/clash"
	"boltplate/thread"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// studded is a plate on a cast-iron body, held by an M16 stud by the standards.
func studded() Joint {
	return Joint{Scene: Stud, Basis: fastener.Standard, Bolt: fastener.Spec{Thread: thread.MustParse("M16")},
		Parts: []Part{{Name: "Bracket", Thickness: 36}, {Name: "Pedestal", Material: "cast iron", Thickness: 60}}}
}

// TestStudByHand works the joint by hand. Grip 36, ISO 7089 h = 3, ISO 4032
// m = 14.8, pitch 2: 55.8, so ISO 888 gives 60 from the joint face. Its thread
// 2D + 6 = 38 begins at 22; the latest place is 36 less a tenth of
// D, 34.4. DIN 939 has b1 = 20 for cast iron: full thread 20 + 8 = 28 deep,
// drilled 36. Below the point of 13.835 / 2 / tan 60 = 3.994 there are 60 - 36
// - 3.994 = 20.006 of metal.
func TestStudByHand(t *testing.T) {
	j := complete(t, studded())
	assert.Equal(t, "cast-iron", j.Bolt.Material)
	assert.Equal(t, 60.0, j.Bolt.Length)
	assert.Zero(t, j.Bolt.ThreadLength, "that of the standard does")
	assert.Equal(t, 17.5, j.Parts[0].Hole, "ISO 273, medium")
	assert.Zero(t, j.Parts[1].Hole)
	assert.Equal(t, 28.0, j.Parts[1].FullDepth)
	assert.Equal(t, 36.0, j.Parts[1].DrillDepth)
	assert.Empty(t, codes(t, j))

	m, err := newModel(j)
	require.NoError(t, err)
	assert.InDelta(t, 22, m.limit(), 1e-9)
	assert.InDelta(t, 39, m.seat(), 1e-9)
	assert.InDelta(t, 18, m.middle(0), 1e-9)
	assert.InDelta(t, -30, m.middle(1), 1e-9)
}

// TestStudThreadAboveThePlate: with 20 of thread on a length of 60 it begins at
// 40, which is above the seat at 39: the nut never clamps. With 23 it begins
// at 37, above the face at 36. With 25.5 it begins at 34.5, below it, but
// not by a tenth of D.
func TestStudThreadAboveThePlate(t *testing.T) {
	for _, c := range []struct {
		thread, at float64
		severity   Severity
		says       string
	}{
		{20, 40, Fault, "never clamps"},
		{23, 37, Fault, "only the washer"},
		{25.5, 34.5, Warning, "too near to the outer face"},
	} {
		j := complete(t, studded())
		j.Bolt.ThreadLength = c.thread
		found, err := j.Check()
		require.NoError(t, err)
		require.Len(t, found, 1)
		f := found[0]
		assert.Equal(t, ThreadEnds, f.Code)
		assert.Equal(t, c.severity, f.Severity)
		assert.Contains(t, f.What, c.says)
		assert.InDelta(t, c.at, f.Measured, 1e-9)
		assert.InDelta(t, 34.4, f.Required, 1e-9) // 36 less a tenth of D
		assert.Equal(t, []Change{{"bolt.thread", ""}}, f.Fix, "that of the standard, 38, does")
		assert.Equal(t, drawing.Pt(c.at, 8), f.At)
	}
}

// TestStudByMaterial: the metal ends of DIN 938, 939, 835 and 940 for M16, and
// the depths of full thread 0.5D = 8 beyond them.
func TestStudByMaterial(t *testing.T) {
	for material, end := range map[string]float64{"steel": 16, "": 16, "bronze": 20, "cast iron": 20,
		"aluminium": 32, "soft alloy": 40} {
		j := studded()
		j.Parts[1] = Part{Material: material, Thickness: 80}
		full := complete(t, j)
		assert.Equal(t, end+8, full.Parts[1].FullDepth, material)
		assert.Empty(t, codes(t, full))
	}
	// DIN 938 rounds: M36 has 35, not 36, and that is enough.
	j := studded()
	j.Bolt.Thread = thread.MustParse("M36")
	j.Parts = []Part{{Thickness: 60}, {Thickness: 120}}
	full := complete(t, j)
	assert.Equal(t, 53.0, full.Parts[1].FullDepth)
	assert.Empty(t, codes(t, full))
}

// TestStudTooThin: both run-outs of an M16 take 2.5 + 5, so that the thread
// cannot begin a tenth of D below the face of a plate of 8.
func TestStudTooThin(t *testing.T) {
	j := studded()
	j.Parts[0].Thickness = 8
	found, err := complete(t, j).Check()
	require.NoError(t, err)
	require.Len(t, found, 1)
	assert.Equal(t, ThreadEnds, found[0].Code)
	assert.Equal(t, Change{"part 1: thickness", "10"}, found[0].Fix[0]) // at least 7.5 + 1.6, rounded up
}

// TestStudHatching: parts that touch are hatched opposite ways, the tapped one
// too, which is drawn as a mirror image.
func TestStudHatching(t *testing.T) {
	for n := 1; n <= 3; n++ {
		j := studded()
		j.Parts = append(make([]Part, n), j.Parts[1])
		for i := range n {
			j.Parts[i].Thickness = 20
		}
		d, err := Draw(j, drawing.Style{})
		require.NoError(t, err)
		var angles []float64
		for _, it := range d.Views[0].View.Items {
			if h, ok := it.Shape.(drawing.Hatch); ok && !h.Solid {
				angles = append(angles, math.Mod(h.Angle+360, 180))
			}
		}
		require.Len(t, angles, n+1)
		for i := range n {
			assert.InDelta(t, 90, math.Abs(angles[i]-angles[i+1]), 1e-9, "%v", angles)
		}
	}
}

// TestStudRefuses: what does not belong in the scene.
func TestStudRefuses(t *testing.T) {
	for want, change := range map[string]func(*Joint){
		"bolt.kind: hex-bolt":    func(j *Joint) { j.Bolt.Kind = "hex-bolt" },
		"bolt.neck: square":      func(j *Joint) { j.Bolt.Neck = "square" },
		"head_washer":            func(j *Joint) { j.HeadWasher = "plain" },
		"has 2 to 4 parts":       func(j *Joint) { j.Parts = j.Parts[:1] },
		"DIN 940":                func(j *Joint) { j.Bolt.Thread = thread.MustParse("M30"); j.Parts[1].Material = "soft alloy" },
		"too short: the nut end": func(j *Joint) { j.Bolt.Length = 7 },
	} {
		j := studded()
		change(&j)
		_, err := j.Check()
		assert.ErrorContains(t, err, want)
	}
}

// TestStudChooserIsSound: a stud that the chooser makes has no finding, and
// nothing on its drawing touches.
func TestStudChooserIsSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom([]float64{5, 6, 8, 10, 12, 16, 20, 24, 30, 36}).Draw(t, "d")
		th, err := thread.Coarse(d)
		require.NoError(t, err)
		j := Joint{Scene: Stud, Basis: fastener.Basis(rapid.IntRange(0, 1).Draw(t, "basis")),
			Bolt: fastener.Spec{Thread: th}}
		materials := []string{"steel", "cast iron", "aluminium", "soft alloy"}
		if d > 24 && j.Basis == fastener.Standard { // DIN 940 ends at M24
			materials = materials[:3]
		}
		// Both run-outs, and the run-out below the face.
		least := max(0.8*d, th.RunOutShort()+th.RunOut()+seatMargin(th))
		for range rapid.IntRange(1, 2).Draw(t, "parts") {
			j.Parts = append(j.Parts, Part{Thickness: least * rapid.Float64Range(1, 3).Draw(t, "t")})
		}
		j.Parts = append(j.Parts, Part{Thickness: 6 * d,
			Material: rapid.SampledFrom(materials).Draw(t, "material")})
		full, choices, err := j.Complete()
		require.NoError(t, err)
		require.NotEmpty(t, choices)
		found, err := full.Check()
		require.NoError(t, err)
		assert.Empty(t, found)
		again, none, err := full.Complete()
		require.NoError(t, err)
		assert.Equal(t, full, again)
		assert.Empty(t, none, "nothing is left to choose")
		untouched(t, full)
	})
}

// untouched draws a joint at a scale that suits it and looks for clashes.
func untouched(t require.TestingT, j Joint) {
	scale := 1.0
	switch d := j.Bolt.Thread.D; {
	case d > 24:
		scale = 0.5
	case d < 10:
		scale = 2
	}
	d, err := Draw(j, drawing.Style{Scale: scale})
	require.NoError(t, err)
	assert.Empty(t, clash.Find(d))
}
