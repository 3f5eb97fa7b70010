package joint

import (
	"os"
	"regexp"
	"slices"
	"testing"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/internal/clash"
	"boltplate/rule"
	"boltplate/thread"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// through is two plates on an M16 bolt by the standards, everything else left
// to be chosen.
func through() Joint {
	return Joint{Scene: ThroughBolt, Basis: fastener.Standard, Bolt: fastener.Spec{Thread: thread.MustParse("M16")},
		Parts: []Part{{Thickness: 20}, {Thickness: 25}}}
}

// capped is through with a cap nut.
func capped() Joint {
	j := through()
	j.Nut = "cap"
	return j
}

// castled is through with a castle nut.
func castled() Joint {
	j := through()
	j.Nut = "castle"
	return j
}

// bored is a cap screw in a counterbore and a thread insert.
func bored() Joint {
	return Joint{Scene: Tapped, Basis: fastener.Standard,
		Bolt:  fastener.Spec{Kind: "cap-screw", Thread: thread.MustParse("M12")},
		Parts: []Part{{Thickness: 32, CounterboreDepth: 13}, {Thickness: 60, Material: "aluminium", Insert: 18}}}
}

// threefold is through three plates.
func threefold() Joint {
	j := through()
	j.Parts = append(j.Parts, Part{Thickness: 18})
	return j
}

// TestEveryCodeHasARow: a joint is made worse for each code of a finding.
func TestEveryCodeHasARow(t *testing.T) {
	source, err := os.ReadFile("finding.go")
	require.NoError(t, err)
	codes := regexp.MustCompile(`Code = "([a-z-]+)"`).FindAllSubmatch(source, -1)
	require.NotEmpty(t, codes)
	for _, c := range codes {
		assert.True(t, slices.ContainsFunc(worse, func(w struct {
			name   string
			joint  func() Joint
			change func(*Joint)
			code   Code
		}) bool {
			return string(w.code) == string(c[1])
		}), "%s", c[1])
	}
}

// cover is a cast-iron body with a cover on an M16 screw.
func cover() Joint {
	return Joint{Scene: Tapped, Basis: fastener.Standard,
		Bolt:  fastener.Spec{Thread: thread.MustParse("M16"), Kind: "hex-screw"},
		Parts: []Part{{Name: "Cover", Thickness: 18}, {Name: "Body", Material: "cast iron", Thickness: 60}}}
}

// complete returns the joint with its choices made.
func complete(t testing.TB, j Joint) Joint {
	t.Helper()
	full, _, err := j.Complete()
	require.NoError(t, err)
	return full
}

// codes returns what Check finds.
func codes(t testing.TB, j Joint) []Code {
	t.Helper()
	found, err := j.Check()
	require.NoError(t, err)
	var out []Code
	for _, f := range found {
		out = append(out, f.Code)
		assert.NotEmpty(t, f.What)
		assert.NotEmpty(t, f.Remedy)
		assert.NotEmpty(t, f.Rule)
		assert.NotEmpty(t, f.Source)
	}
	return out
}

// TestThroughBoltByHand works the joint by hand: ISO 4032 M16 m = 14.8, ISO
// 7089 h = 3, pitch 2: 20 + 25 + 3 + 14.8 + 2 = 64.8, so ISO 888 gives 65; its
// thread 2D + 6 = 38 begins at 27, and the nut seats at 48, which is more than
// a tenth of D beyond it; the hole is 17.5 (ISO 273, medium).
func TestThroughBoltByHand(t *testing.T) {
	j := complete(t, through())
	assert.Equal(t, 65.0, j.Bolt.Length)
	assert.Zero(t, j.Bolt.ThreadLength, "that of the standard does")
	assert.Equal(t, 17.5, j.Parts[0].Hole)
	assert.Equal(t, 17.5, j.Parts[1].Hole)
	assert.Empty(t, codes(t, j))

	short := j
	short.Bolt.Length = 60
	found, err := short.Check()
	require.NoError(t, err)
	require.Len(t, found, 1)
	f := found[0]
	assert.Equal(t, LengthShort, f.Code)
	assert.Equal(t, Fault, f.Severity)
	assert.Equal(t, 60.0, f.Measured)
	assert.InDelta(t, 64.8, f.Required, 1e-9)
	assert.Equal(t, []Change{{"bolt.length", "65"}}, f.Fix)
}

// TestTappedByHand: cast iron wants 1.25 x 16 = 20 in the thread; 18 + 20 = 38,
// so ISO 888 gives 40, which reaches 22 in; full thread 22 + 8 = 30, drilled
// 38. Below it 60 - 38 - 13.835 / 2 / tan 60 = 18.006 of metal are left (minor
// diameter by ISO 724).
func TestTappedByHand(t *testing.T) {
	j := complete(t, cover())
	assert.Equal(t, 40.0, j.Bolt.Length)
	assert.Equal(t, 30.0, j.Parts[1].FullDepth)
	assert.Equal(t, 38.0, j.Parts[1].DrillDepth)
	assert.Empty(t, codes(t, j))
	m, err := newModel(j)
	require.NoError(t, err)
	assert.InDelta(t, 18.006, 60-38-m.point(), 0.001)
}

// worse are changes that make one value of a joint worse, each with the one
// finding that names it.
var worse = []struct {
	name   string
	joint  func() Joint
	change func(*Joint)
	code   Code
}{
	{"short", through, func(j *Joint) { j.Bolt.Length = 60 }, LengthShort},
	{"long", through, func(j *Joint) { j.Bolt.Length = 80; j.Bolt.ThreadLength = 60 }, LengthLong},
	{"thread", through, func(j *Joint) { j.Bolt.ThreadLength = 18 }, ThreadEnds},
	{"next bolt", through, func(j *Joint) { j.Spacing = 36 }, Spacing},
	{"next hole", through, func(j *Joint) { j.Spacing = 38 }, Spacing},
	{"next head", through, func(j *Joint) { j.Spacing = 20 }, Spacing},
	{"pin below the slots", castled, func(j *Joint) { j.PinHole -= 4 }, PinHole},
	{"pin above the nut", castled, func(j *Joint) { j.PinHole += 5 }, PinHole},
	{"sloping flange", through, func(j *Joint) { j.Parts[1].Slope = 5 }, Slope},
	{"fillet under the washer", through, func(j *Joint) { j.Parts[1].StandsAt, j.Parts[1].Fillet = 24, 10 }, Fillet},
	{"wall in the way", through, func(j *Joint) { j.Parts[0].StandsAt = 17 }, SpannerRoom},
	{"narrow spot face", through, func(j *Joint) { j.Parts[1].Seat = 25 }, SeatNarrow},
	{"slotted too long", through, func(j *Joint) { j.Parts[1].Slotted = 29 }, WasherCover},
	{"narrow counterbore", bored, func(j *Joint) { j.Parts[0].Counterbore = 18 }, Counterbore},
	{"shallow counterbore", bored, func(j *Joint) { j.Parts[0].CounterboreDepth = 11 }, HeadProud},
	{"little under the head", bored, func(j *Joint) { j.Parts[0].Thickness = 17; j.Bolt.Length = 25 }, PlateThin},
	{"long insert", bored, func(j *Joint) { j.Parts[1].Insert = 40 }, Insert},
	{"short insert", bored, func(j *Joint) { j.Parts[1].Insert = 15 }, Engagement},
	{"no hole for it", through, func(j *Joint) { j.Parts[1].Hole = 15.5 }, HoleInterferes},
	{"tight hole", through, func(j *Joint) { j.Parts[0].Hole = 16.5 }, HoleSmall},
	{"wide hole", through, func(j *Joint) { j.Parts[1].Hole = 19 }, HoleLarge},
	{"washer", through, func(j *Joint) { j.Parts[1].Hole = 27 }, WasherCover},
	{"bearing", through, func(j *Joint) { j.Parts[0].Hole = 21.5 }, Bearing},
	{"edge", through, func(j *Joint) { j.Parts[0].Edge = 20 }, Edge},
	{"room", through, func(j *Joint) { j.Room = 18 }, SpannerRoom},
	{"engagement", cover, func(j *Joint) { j.Bolt.Length = 35 }, Engagement},
	{"bottoming", cover, func(j *Joint) { j.Parts[1].FullDepth = 21 }, Bottoming},
	{"full thread", cover, func(j *Joint) { j.Parts[1].FullDepth = 25 }, FullThread},
	{"drill", cover, func(j *Joint) { j.Parts[1].DrillDepth = 33 }, DrillDepth},
	{"wall", cover, func(j *Joint) { j.Parts[1].Thickness = 44 }, Wall},
	{"run-out", cover, func(j *Joint) { j.Bolt.Kind = "hex-bolt"; j.Bolt.Length = 40; j.Bolt.ThreadLength = 20 },
		RunOut},
	{"the dome of a cap nut is full", capped, func(j *Joint) { j.Bolt.Length += 10 }, CapFull},
	{"the end is not in a cap nut", capped, func(j *Joint) { j.Bolt.Length -= 15 }, LengthShort},
	{"edge of the middle one of three", threefold, func(j *Joint) { j.Parts[1].Edge = 20 }, Edge},
	{"a material that is not held", cover, func(j *Joint) { j.Parts[1].Material = "oak" }, MaterialUnknown},
	{"short head room", slotted, func(j *Joint) { j.Parts[0].SlotHead = 28.5 }, SlotHead},
	{"tight head room", slotted, func(j *Joint) { j.Parts[0].SlotHead = 29 }, SlotHead},
	{"low head room", slotted, func(j *Joint) { j.Parts[0].SlotDepth = 12.5 }, SlotDepth},
	{"narrow throat", slotted, func(j *Joint) { j.Parts[0].SlotWidth = 15 }, SlotThroat},
	{"wide throat", slotted, func(j *Joint) { j.Parts[0].SlotWidth = 22 }, NeckLoose},
	{"head bears on little", plainNeck, func(j *Joint) { j.Parts[0].SlotWidth = 24 }, Bearing},
	{"turns", plainNeck, func(j *Joint) { j.Parts[0].SlotHead = 33 }, Turns},
	{"neck stands out", slotted,
		func(j *Joint) { j.Parts[0].SlotWhole = 26; j.Bolt.Length = 55; j.Bolt.ThreadLength = 38 }, NeckLong},
	{"little metal above", plainNeck, func(j *Joint) { j.Parts[0].SlotWhole = 29; j.Bolt.ThreadLength = 40 },
		Lips},
	{"little metal below", slotted, func(j *Joint) { j.Parts[0].Thickness = 37 }, Wall},
	{"slot near an edge", slotted, func(j *Joint) { j.Parts[0].Edge = 30 }, Edge},
	{"clamp with a tight hole", slotted, func(j *Joint) { j.Parts[1].Hole = 15 }, HoleInterferes},
	{"clamp near an edge", slotted, func(j *Joint) { j.Parts[1].Edge = 20 }, Edge},
	{"washer on the clamp", slotted, func(j *Joint) { j.Parts[1].Hole = 32 }, WasherCover},
	{"short in a slot", slotted, func(j *Joint) { j.Bolt.Length = 50; j.Bolt.ThreadLength = 30 }, LengthShort},
	{"thread in a slot", slotted, func(j *Joint) { j.Bolt.ThreadLength = 20 }, ThreadEnds},
	{"room over a slot", slotted, func(j *Joint) { j.Room = 18 }, SpannerRoom},
	{"little cover", window, func(j *Joint) { j.Parts[0].Overlap = 4 }, HookCover},
	{"edge at steel", window, func(j *Joint) { j.Parts[0].Overlap = 9 }, EdgeGap},
	{"edge in the square", barHeld, func(j *Joint) { j.Parts[0].Overlap = 11 }, EdgeGap},
	{"edge far from the square", barHeld, func(j *Joint) { j.Parts[0].Overlap = 8 }, Turns},
	{"thin packing", window, func(j *Joint) { j.Parts[0].Packing = 0.5 }, PackingThin},
	{"drilled glass", window, func(j *Joint) { j.Parts[0].Hole = 11 }, BrittleHole},
	{"brittle frame", window, func(j *Joint) { j.Parts[1].Brittle = true }, BrittleHole},
	{"round hole for a square", thinBar, func(j *Joint) { j.Parts[1].SlotWidth = 0; j.Parts[1].Hole = 22 },
		SquareHole},
	{"small square hole", thinBar, func(j *Joint) { j.Parts[1].SlotWidth = 19 }, SquareHole},
	{"wide square hole", thinBar, func(j *Joint) { j.Parts[1].SlotWidth = 26.8 }, NeckLoose},
	{"hole of the frame", window, func(j *Joint) { j.Parts[1].Hole = 9 }, HoleInterferes},
	{"edge of the frame", window, func(j *Joint) { j.Parts[1].Edge = 12 }, Edge},
	{"short hook", window, func(j *Joint) { j.Bolt.Length = 40; j.Bolt.ThreadLength = 22 }, LengthShort},
	{"thread of a hook", window, func(j *Joint) { j.Bolt.ThreadLength = 12 }, ThreadEnds},
	{"wrong sink", slidePlate, func(j *Joint) { j.Parts[0].SinkAngle = 82 }, SinkAngle},
	{"proud", slidePlate, func(j *Joint) { j.Parts[0].SinkDiameter = 33 }, HeadProud},
	{"sunk", slidePlate, func(j *Joint) { j.Parts[0].SinkDiameter = 38 }, HeadSunk},
	{"thin plate", slideThin, func(j *Joint) { j.Parts[0].Thickness = 8.9 }, PlateThin},
	{"turns with the nut", slidePlate, func(j *Joint) { j.Bolt.Neck = "plain" }, Turns},
	{"cannot turn", slideTapped, func(j *Joint) { j.Bolt.Neck = "snug" }, Turns},
	{"flush and short", slidePlate, func(j *Joint) { j.Bolt.Length = 60 }, LengthShort},
	{"flush and long", slidePlate, func(j *Joint) { j.Bolt.Length = 80; j.Bolt.ThreadLength = 50 }, LengthLong},
	{"thread of a flush bolt", slidePlate, func(j *Joint) { j.Bolt.ThreadLength = 20 }, ThreadEnds},
	{"no hole below the sink", slidePlate, func(j *Joint) { j.Parts[0].Hole = 15.5 }, HoleInterferes},
	{"tight hole below the sink", slidePlate, func(j *Joint) { j.Parts[0].Hole = 16.5 }, HoleSmall},
	{"wide hole behind", slidePlate, func(j *Joint) { j.Parts[1].Hole = 19 }, HoleLarge},
	{"cone bears on little", slidePlate, func(j *Joint) { j.Parts[0].Hole = 30 }, Bearing},
	{"washer behind", slideStandard, func(j *Joint) { j.Parts[1].Hole = 27 }, WasherCover},
	{"sink near an edge", slidePlate, func(j *Joint) { j.Parts[0].Edge = 20 }, Edge},
	{"nut near an edge", slidePlate, func(j *Joint) { j.Parts[1].Edge = 20 }, Edge},
	{"room behind", slidePlate, func(j *Joint) { j.Room = 18 }, SpannerRoom},
	{"flush, little engaged", slideTapped, func(j *Joint) { j.Bolt.Length = 35 }, Engagement},
	{"flush, bottoming", slideTapped, func(j *Joint) { j.Parts[1].FullDepth = 21 }, Bottoming},
	{"flush, full thread", slideTapped, func(j *Joint) { j.Parts[1].FullDepth = 25 }, FullThread},
	{"flush, drill", slideTapped, func(j *Joint) { j.Parts[1].DrillDepth = 33 }, DrillDepth},
	{"flush, wall", slideTapped, func(j *Joint) { j.Parts[1].Thickness = 44 }, Wall},
	{"flush, run-out", slideTapped, func(j *Joint) { j.Bolt.ThreadLength = 20 }, RunOut},
	{"taper bolt short", coupling, func(j *Joint) { j.Bolt.Length = 85; j.Bolt.ThreadLength = 23 }, LengthShort},
	{"taper bolt long", coupling, func(j *Joint) { j.Bolt.Length = 110; j.Bolt.ThreadLength = 48 }, LengthLong},
	{"taper bolt, short thread", coupling, func(j *Joint) { j.Bolt.ThreadLength = 24 }, ThreadEnds},
	{"taper through", coupling, func(j *Joint) { j.Bolt.ThreadLength = 20 }, TaperThrough},
	{"taper too short", coupling, func(j *Joint) { j.Bolt.ThreadLength = 55 }, TaperShort},
	{"taper too steep", coupling, func(j *Joint) { j.Bolt.Taper = "1:15" }, TaperLong},
	{"nothing to draw", coupling, func(j *Joint) { j.Parts[0].DrawUp = 0.2 }, DrawUp},
	{"much to draw", coupling, func(j *Joint) { j.Parts[0].DrawUp = 2.4 }, DrawUp},
	{"taper near an edge", coupling, func(j *Joint) { j.Parts[0].Edge = 30 }, Edge},
	{"taper and nut near an edge", coupling, func(j *Joint) { j.Parts[1].Edge = 22 }, Edge},
	{"room at a taper bolt", coupling, func(j *Joint) { j.Room = 20 }, SpannerRoom},
	{"short stud", studded, func(j *Joint) { j.Bolt.Length = 55 }, LengthShort},
	{"long stud", studded, func(j *Joint) { j.Bolt.Length = 75 }, LengthLong},
	{"stud's thread above the plate", studded, func(j *Joint) { j.Bolt.ThreadLength = 25 }, ThreadEnds},
	{"stud's thread near the face", studded, func(j *Joint) { j.Bolt.ThreadLength = 25.5 }, ThreadEnds},
	{"stud made for steel", studded, func(j *Joint) { j.Bolt.Material = "steel" }, Engagement},
	{"thin body, hole through", studded, func(j *Joint) {
		j.Parts[1] = Part{Material: j.Parts[1].Material, Through: true}
		j.Parts[1].Thickness = 15
	}, Engagement},
	{"stud not home", studded, func(j *Joint) { j.Parts[1].FullDepth = 18 }, Bottoming},
	{"little thread below the stud", studded, func(j *Joint) { j.Parts[1].FullDepth = 24 }, FullThread},
	{"stud's hole drilled short", studded, func(j *Joint) { j.Parts[1].DrillDepth = 30 }, DrillDepth},
	{"thin body", studded, func(j *Joint) { j.Parts[1].Thickness = 42 }, Wall},
	{"stud near the edge", studded, func(j *Joint) { j.Parts[1].Edge = 20 }, Edge},
	{"stud's plate near the edge", studded, func(j *Joint) { j.Parts[0].Edge = 20 }, Edge},
	{"stud's tight hole", studded, func(j *Joint) { j.Parts[0].Hole = 16.5 }, HoleSmall},
	{"no hole for the stud", studded, func(j *Joint) { j.Parts[0].Hole = 15 }, HoleInterferes},
	{"stud's wide hole", studded, func(j *Joint) { j.Parts[0].Hole = 19 }, HoleLarge},
	{"stud's washer", studded, func(j *Joint) { j.Parts[0].Hole = 27 }, WasherCover},
	{"stud's nut without washer", studded,
		func(j *Joint) { j.Washer = "none"; j.Bolt.Length = 55; j.Parts[0].Hole = 21.5 }, Bearing},
	{"room for the stud's nut", studded, func(j *Joint) { j.Room = 18 }, SpannerRoom},
	{"narrow seat", lifted, func(j *Joint) { j.Parts[0].Seat = 38 }, SeatNarrow},
	{"eye near the edge", lifted, func(j *Joint) { j.Parts[0].Edge = 28 }, Edge},
	{"no relief", lifted, func(j *Joint) { j.Parts[0].Relief = 20 }, Relief},
	{"shallow relief", lifted, func(j *Joint) { j.Parts[0].ReliefDepth = 5 }, Relief},
	{"wide relief", lifted, func(j *Joint) { j.Parts[0].Relief = 37 }, Bearing},
	{"deep relief", lifted, func(j *Joint) { j.Parts[0].ReliefDepth = 12 }, Engagement},
	{"eye in aluminium", lifted, func(j *Joint) { j.Parts[0].Material = "aluminium" }, Engagement},
	{"eye through a thin body", lifted, func(j *Joint) {
		j.Parts[0].Through = true
		j.Parts[0].FullDepth, j.Parts[0].DrillDepth = 0, 0
		j.Parts[0].Thickness = 29
	}, Engagement},
	{"eye meets the end of the thread", lifted, func(j *Joint) { j.Parts[0].FullDepth = 29 }, Bottoming},
	{"little thread below the eye bolt", lifted, func(j *Joint) { j.Parts[0].FullDepth = 36 }, FullThread},
	{"eye's hole drilled short", lifted, func(j *Joint) { j.Parts[0].DrillDepth = 45 }, DrillDepth},
	{"thin body of the eye", lifted, func(j *Joint) { j.Parts[0].Thickness = 58 }, Wall},
	{"flat pull", lifted, func(j *Joint) { j.Pull = 60 }, PullFlat},
	{"pull across", lifted, func(j *Joint) { j.PullAcross = true }, PullAcross},
}

// alsoFound are findings that one change cannot but bring with it: a hole so
// wide that the washer or the head does not cover it is larger than the coarse
// series.
var alsoFound = map[Code]Code{
	WasherCover: HoleLarge, Bearing: HoleLarge,
	NeckLong: Lips, // a throat too short for the neck is so for the metal, but with a long neck
}

func TestOneValueWorse(t *testing.T) {
	for _, w := range worse {
		j := complete(t, w.joint())
		require.Empty(t, codes(t, j), "silent before: %s", w.name)
		j.Parts = slices.Clone(j.Parts)
		w.change(&j)
		got := codes(t, j)
		assert.Contains(t, got, w.code, w.name)
		for _, c := range got {
			assert.True(t, c == w.code || c == alsoFound[w.code], "%s: also %s", w.name, c)
		}
	}
}

// TestChooserIsSound: a joint that the chooser makes has no finding.
func TestChooserIsSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom([]float64{5, 6, 8, 10, 12, 16, 20, 24, 30, 36}).Draw(t, "d")
		th, err := thread.Coarse(d)
		require.NoError(t, err)
		j := Joint{Scene: rapid.SampledFrom([]Scene{ThroughBolt, Tapped}).Draw(t, "scene"),
			Basis: fastener.Basis(rapid.IntRange(0, 1).Draw(t, "basis")), Bolt: fastener.Spec{Thread: th}}
		for range rapid.IntRange(1, 2).Draw(t, "parts") {
			j.Parts = append(j.Parts, Part{Thickness: d * rapid.Float64Range(0.8, 3).Draw(t, "t")})
		}
		last := Part{Thickness: d * 1.5}
		if j.Scene == Tapped {
			j.Bolt.Kind = "hex-screw"
			last.Thickness = 6 * d
			last.Material = rapid.SampledFrom([]string{"steel", "cast iron", "aluminium", "soft alloy"}).Draw(t,
				"material")
		}
		j.Parts = append(j.Parts, last)
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
	})
}

// TestNothingTouches: no label, number or text of a joint touches another, and
// no line runs through one, but the hatching under a size, which stops at it in
// no program.
func TestNothingTouches(t *testing.T) {
	for _, w := range worse {
		j := complete(t, w.joint())
		for range 2 {
			for _, scale := range []float64{1, 0.5} {
				d, err := Draw(j, drawing.Style{Scale: scale})
				require.NoError(t, err)
				for _, msg := range clash.Find(d) {
					t.Errorf("%s, scale %g: %s", w.name, scale, msg)
				}
			}
			j.Parts = slices.Clone(j.Parts)
			w.change(&j)
		}
		if t.Failed() {
			return
		}
	}
}

func TestErrorsSayWhatIsWrong(t *testing.T) {
	for want, j := range map[string]Joint{
		"scene: bolt: no such scene": {Scene: "bolt"},
		"bolt.size: missing":         {Scene: ThroughBolt},
		"part: a joint of the scene through-bolt has 2 to 6 parts": {Scene: ThroughBolt,
			Bolt: fastener.Spec{Thread: thread.MustParse("M16")}},
		"part 2: thickness: missing": {Scene: ThroughBolt,
			Bolt: fastener.Spec{Thread: thread.MustParse("M16")}, Parts: []Part{{Thickness: 3}, {}}},
		"part 1: hole: -1 is not a length": {Scene: ThroughBolt,
			Bolt: fastener.Spec{Thread: thread.MustParse("M16")}, Parts: []Part{{Thickness: 3, Hole: -1}, {Thickness: 3}}},
	} {
		_, err := j.Check()
		assert.ErrorContains(t, err, want)
		_, err = Draw(j, drawing.Style{})
		assert.ErrorContains(t, err, want)
	}
}

// TestOwnRules: rules of one's own hold for the fasteners of a joint, and what
// the check says follows them: a nut of 2D is not reached by the bolt that
// suits one of D.
func TestOwnRules(t *testing.T) {
	j := Joint{Scene: ThroughBolt, Bolt: fastener.Spec{Thread: thread.MustParse("M16")},
		Parts: []Part{{Thickness: 20}, {Thickness: 25}}}
	plain, _, err := j.Complete()
	require.NoError(t, err)
	found, err := plain.Check()
	require.NoError(t, err)
	require.Empty(t, found)
	plain.Rules, err = fastener.NewRules(rule.Set{Name: "high nuts", Source: "course notes",
		Entries: []rule.Entry{{Of: "hex-nut", Letter: "H", Rule: "2D"}}})
	require.NoError(t, err)
	found, err = plain.Check()
	require.NoError(t, err)
	require.NotEmpty(t, found)
	require.Equal(t, LengthShort, found[0].Code)
}

// texts returns what a drawing says: what stands in none of its views and in
// that of the texts beside them.
func texts(d *drawing.Drawing) []drawing.Item {
	out := slices.Clone(d.Items)
	for _, v := range d.Views {
		if v.View.Name == "text" {
			out = append(out, v.View.Items...)
		}
	}
	return out
}

// TestNothingIsGiven: a size that is given as nothing is not chosen, and found
// where something is wanted; below nothing too.
func TestNothingIsGiven(t *testing.T) {
	for name, c := range map[string]struct {
		j    Joint
		size float64
		want Code
	}{
		"overlap":      {window(), None(), HookCover},
		"packing":      {window(), None(), PackingThin},
		"draw_up":      {coupling(), None(), DrawUp},
		"relief":       {lifted(), None(), Relief},
		"relief_depth": {lifted(), None(), Relief},
	} {
		for _, v := range []float64{c.size, -3} {
			if v < 0 && name != "overlap" {
				continue
			}
			j := c.j
			j.Parts = slices.Clone(j.Parts)
			*j.Parts[0].Number(name) = v
			s, err := j.Settle()
			require.NoError(t, err, name)
			assert.Contains(t, codes(t, s.Joint), c.want, "%s = %g", name, v)
			for _, choice := range s.Choices {
				assert.NotEqual(t, "part 1: "+name, choice.Field)
			}
		}
	}
	for _, name := range PartNumbers() {
		j := complete(t, window())
		*j.Parts[0].Number(name) = None()
		if _, err := j.Check(); !mayBeNone(name) {
			assert.ErrorContains(t, err, "part 1: "+name+": 0 is no size", name)
		}
	}
}

// TestDocs: docs/joints.md has every code of a finding and every size of a part.
func TestDocs(t *testing.T) {
	text, err := os.ReadFile("../../docs/joints.md")
	require.NoError(t, err)
	source, err := os.ReadFile("finding.go")
	require.NoError(t, err)
	words := slices.Clone(PartNumbers())
	for _, m := range regexp.MustCompile(`Code = "([a-z-]+)"`).FindAllSubmatch(source, -1) {
		words = append(words, string(m[1]))
	}
	for _, s := range Scenes() {
		words = append(words, string(s))
	}
	for _, w := range words {
		assert.Contains(t, string(text), "`"+w+"`", w)
	}
}
