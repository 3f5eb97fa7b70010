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

// slidePlate is a plate on a frame, its bolt flush with the face and held by a
// snug, everything else left to be chosen.
func slidePlate() Joint {
	return Joint{Scene: Countersunk, Bolt: fastener.Spec{Thread: thread.MustParse("M16"), Kind: "countersunk-bolt"},
		Parts: []Part{{Name: "Slide plate", Thickness: 20}, {Name: "Frame", Thickness: 23}}}
}

// slideStandard is the same with the parts of the standards.
func slideStandard() Joint {
	j := slidePlate()
	j.Basis = fastener.Standard
	return j
}

// slideThin is a plate only just thick enough for the head of DIN 604.
func slideThin() Joint {
	j := slideStandard()
	j.Parts[0].Thickness = 9.5
	return j
}

// slideTapped is a plate on a cast-iron body, its bolt in a tapped hole.
func slideTapped() Joint {
	return Joint{Scene: Countersunk, Nut: "none", Bolt: fastener.Spec{Thread: thread.MustParse("M16"),
		Kind: "countersunk-bolt"},
		Parts: []Part{{Thickness: 18}, {Material: "cast iron", Thickness: 60}}}
}

// modelOf returns the sizes of a complete joint.
func modelOf(t testing.TB, j Joint) *model {
	t.Helper()
	m, err := newModel(complete(t, j))
	require.NoError(t, err)
	return m
}

// TestCountersunkByHand works the joint by hand. Head of M16 by proportion:
// d2 = 2D = 32 (DIN 604, rounded), 90 degrees, land c = 0.1D = 1.6 (Low 1887),
// so that the cone is (32 - 16) / 2 / tan 45 = 8 long and the head 9.6 high.
// The sink in which it ends flush is 32 + 2 x 1.6 x tan 45 = 35.2 on the face.
// Washer D/8 = 2, nut D = 16 (textbooks), pitch 2: 20 + 23 + 2 + 16 + 2 = 63,
// so ISO 888 gives 65. Its thread 2D + 6 = 38 begins at 27, 18 before the seat
// at 45.
func TestCountersunkByHand(t *testing.T) {
	j := complete(t, slidePlate())
	assert.Equal(t, "snug", j.Bolt.Neck, "holds the head while the nut is turned")
	assert.Equal(t, 90.0, j.Parts[0].SinkAngle)
	assert.InDelta(t, 35.2, j.Parts[0].SinkDiameter, 1e-9)
	assert.Equal(t, 17.5, j.Parts[0].Hole, "ISO 273, medium")
	assert.Equal(t, 65.0, j.Bolt.Length)
	assert.Zero(t, j.Bolt.ThreadLength)
	m := modelOf(t, j)
	assert.InDelta(t, 1.6, m.land(), 1e-9)
	assert.InDelta(t, 9.6, m.fit.Head.Height, 1e-9)
	assert.InDelta(t, 0, m.sunk, 1e-9)
	assert.InDelta(t, 45, m.seat(), 1e-9)
	assert.Empty(t, codes(t, j))
}

// TestCountersunkDINByHand: DIN 604 M16 has dk = 32.8, k = 9 and 90 degrees:
// the cone is (32.8 - 16) / 2 = 8.4, the land 9 - 8.4 = 0.6, the sink
// 32.8 + 1.2 = 34. DIN 604 M20 has dk = 32.8, k = 11.5 and 60 degrees: the cone
// is 6.4 / tan 30 = 11.085, the land 0.415, the sink
// 32.8 + 2 x 0.415 x tan 30 = 33.279, rounded up to 33.3.
func TestCountersunkDINByHand(t *testing.T) {
	j := slideStandard()
	assert.InDelta(t, 34, complete(t, j).Parts[0].SinkDiameter, 1e-9)
	j.Bolt.Thread = thread.MustParse("M20")
	full := complete(t, j)
	assert.Equal(t, 60.0, full.Parts[0].SinkAngle)
	assert.InDelta(t, 33.3, full.Parts[0].SinkDiameter, 1e-9)
	assert.InDelta(t, 0.415, modelOf(t, full).land(), 0.001)
}

// TestHeadDepthByHand: how far the head of M16 (d2 = 32, c = 1.6, 90 degrees)
// or M20 at 60 degrees (d2 = 1.5D = 30, c = 2) lies below the face.
func TestHeadDepthByHand(t *testing.T) {
	m16 := func(change func(*Part)) Joint {
		j := complete(t, slidePlate())
		change(&j.Parts[0])
		return j
	}
	m20 := func(angle string, sink float64) Joint {
		j := slidePlate()
		j.Bolt.Thread, j.Bolt.Angle = thread.MustParse("M20"), angle
		j.Parts[0].Hole, j.Parts[0].SinkAngle, j.Parts[0].SinkDiameter = 22, 150-num0(angle), sink
		return j
	}
	thin := func(neck string) Joint {
		j := slidePlate()
		j.Bolt.Thread, j.Bolt.Neck = thread.MustParse("M12"), neck
		j.Parts[0].Thickness = 5
		return j
	}
	for _, c := range []struct {
		name string
		j    Joint
		want float64
	}{
		// Same angle: the cones touch all over; (Ds - d2) / 2 / tan 45 - c.
		{"small sink", m16(func(p *Part) { p.SinkDiameter = 33 }), (33.0-32)/2 - 1.6},
		{"large sink", m16(func(p *Part) { p.SinkDiameter = 38 }), (38.0-32)/2 - 1.6},
		// A sink smaller than the head: its rim meets the cone of the head
		// c + (32 - 31) / 2 = 2.1 below the head's face.
		{"sink in the cone", m16(func(p *Part) { p.SinkDiameter = 31 }), -2.1},
		// A wider hole takes nothing from it.
		{"wide hole", m16(func(p *Part) { p.Hole = 20 }), 0},
		// 90 degree head in 60 degree sink: d2 = 40, c = 2; its rim touches
		// where the sink is 40 wide: (44 - 40) / 2 / 0.57735 = 3.4641 deep.
		{"rim", m20("90", 44), 3.4641 - 2},
		// 60 degree head in 90 degree sink: the edge of the hole is
		// (32.4 - 22) / 2 = 5.2 deep and touches the head
		// 2 + (30 - 22) / 2 / 0.57735 = 8.9282 below its face.
		{"edge of the hole", m20("60", 32.4), 5.2 - 8.9282},
		// M12 in 5 mm: d2 = 24, c = 1.2; the edge of the next hole, 13.5,
		// touches the head 1.2 + (24 - 13.5) / 2 = 6.45 below its face.
		{"thin", thin("plain"), 5 - 6.45},
		// The snug ends with the head, 1.2 + 6 = 7.2 below its face.
		{"thin with a snug", thin("snug"), 5 - 7.2},
	} {
		assert.InDelta(t, c.want, modelOf(t, c.j).sunk, 0.0001, c.name)
	}
}

func num0(angle string) float64 {
	if angle == "60" {
		return 60
	}
	return 90
}

// TestCountersunkTappedByHand: cast iron wants 1.25 x 16 = 20 in the thread; 18
// + 20 = 38, so ISO 888 gives 40, which reaches 22 in; full thread 22 + 8 = 30,
// drilled 38. The thread 2D + 6 = 38 and its run-out of 5 do not fit on 40 - 9.6
// of shank, so that the bolt is threaded up to 3P = 6 below the head.
func TestCountersunkTappedByHand(t *testing.T) {
	j := complete(t, slideTapped())
	assert.Equal(t, "plain", j.Bolt.Neck)
	assert.Equal(t, 40.0, j.Bolt.Length)
	assert.Equal(t, 30.0, j.Parts[1].FullDepth)
	assert.Equal(t, 38.0, j.Parts[1].DrillDepth)
	assert.Zero(t, j.Parts[1].Hole)
	assert.InDelta(t, 15.6, modelOf(t, j).limit(), 1e-9)
	assert.Empty(t, codes(t, j))
}

// TestCountersunkWhichEnd: with no nut named, the last part is tapped where the
// bolt is a screw or where it has a tapped hole.
func TestCountersunkWhichEnd(t *testing.T) {
	j := slidePlate()
	assert.Equal(t, "hex", complete(t, j).Nut)
	for name, change := range map[string]func(*Joint){
		"none":    func(j *Joint) { j.Nut = "None" },
		"through": func(j *Joint) { j.Parts[1].Through = true },
		"full":    func(j *Joint) { j.Parts[1].FullDepth = 24 },
	} {
		j := slidePlate()
		change(&j)
		full := complete(t, j)
		assert.True(t, full.screwedIn(), name)
		assert.Empty(t, full.Washer, name)
		j.Nut = "hex"
		assert.False(t, j.screwedIn(), name)
	}
	j = slidePlate()
	j.Bolt.Kind = "countersunk-screw"
	assert.True(t, j.screwedIn())
}

func TestCountersunkErrors(t *testing.T) {
	for want, change := range map[string]func(*Joint){
		"bolt.kind: hex-bolt does not belong in the scene countersunk": func(j *Joint) { j.Bolt.Kind = "hex-bolt" },
		"head_washer: a countersunk head lies in the part itself":      func(j *Joint) { j.HeadWasher = "plain" },
		"nut: a countersunk-screw is screwed into a tapped part": func(j *Joint) {
			j.Nut, j.Bolt.Kind = "hex",
				"countersunk-screw"
		},
		"washer: goes under a nut": func(j *Joint) {
			j.Nut,
				j.Washer = "none", "plain"
		},
		"part 1: sink_angle: 5 is no angle of a countersink":        func(j *Joint) { j.Parts[0].SinkAngle = 5 },
		"part: a joint of the scene countersunk has 2 to 4 parts":   func(j *Joint) { j.Parts = j.Parts[:1] },
		"bolt.length: missing, and no preferred length of ISO 888 ": func(j *Joint) { j.Parts[0].Thickness = 900 },
	} {
		j := slidePlate()
		change(&j)
		_, err := Draw(j, drawing.Style{})
		assert.ErrorContains(t, err, want)
	}
}

// TestCountersunkThinSaysHowProud: what follows from a thin part is said with
// it, once.
func TestCountersunkThinSaysHowProud(t *testing.T) {
	j := slidePlate()
	j.Bolt.Neck = "plain"
	j.Parts[0].Thickness = 5
	j = complete(t, j)
	found, err := j.Check()
	require.NoError(t, err)
	var thin []Finding
	for _, f := range found {
		assert.NotEqual(t, HeadProud, f.Code)
		if f.Code == PlateThin {
			thin = append(thin, f)
		}
	}
	require.Len(t, thin, 1)
	// d2 = 32, c = 1.6, hole 17.5: 1.6 + 7.25 = 8.85 of head, 3.85 of it proud.
	assert.Contains(t, thin[0].What, "stands proud by 3.85 mm")
	assert.InDelta(t, 9.6, thin[0].Required, 1e-9)
}

// TestCountersunkChooserIsSound: whatever the size, what is chosen has no
// finding and nothing touches on the drawing.
func TestCountersunkChooserIsSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		basis := fastener.Basis(rapid.IntRange(0, 1).Draw(t, "basis"))
		sizes := []float64{5, 6, 8, 10, 12, 16, 20, 24, 30, 36}
		if basis == fastener.Standard {
			sizes = []float64{6, 8, 10, 12, 16, 20, 24} // DIN 604
		}
		d := rapid.SampledFrom(sizes).Draw(t, "d")
		th, err := thread.Coarse(d)
		require.NoError(t, err)
		j := Joint{Scene: Countersunk, Basis: basis, Bolt: fastener.Spec{Thread: th, Kind: "countersunk-bolt"}}
		least, last := 0.8, Part{Thickness: d * 1.5}
		if basis == fastener.Proportion {
			j.Bolt.Angle = rapid.SampledFrom([]string{"", "60", "90"}).Draw(t, "angle")
			j.Bolt.Neck = rapid.SampledFrom([]string{"", "snug", "square"}).Draw(t, "neck")
			if rapid.Bool().Draw(t, "tapped") {
				j.Bolt.Neck, j.Nut = "", "none"
				least = 1.3 // for the head, 3P to the full thread, and 1 to 3 mm of that
				last = Part{Thickness: 6 * d, Material: rapid.SampledFrom([]string{"steel", "cast iron", "aluminium",
					"soft alloy"}).Draw(t, "material")}
			}
		}
		for i := range rapid.IntRange(1, 2).Draw(t, "parts") {
			if i == 0 && j.Bolt.Neck == "square" {
				least = 1.5
			}
			j.Parts = append(j.Parts, Part{Thickness: d * rapid.Float64Range(least, 3).Draw(t, "t")})
		}
		j.Parts = append(j.Parts, last)
		soundAndClear(t, j)
	})
}
