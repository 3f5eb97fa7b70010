package joint

import (
	"slices"
	"testing"

	"boltplate/fastener"
	"boltplate/thread"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestWorkedByHand: joints that were worked with pencil and tables. Nuts: ISO
// 4032 (M8 6.8, M10 8.4, M12 10.8, M16 14.8, M20 18, M24 21.5); washers: ISO 7089
// (1.6, 2, 2.5, 3, 3, 4); threads: 2D + 6 to 125 mm (ISO 888); holes: ISO 273,
// medium; metal ends: DIN 938, 939, 835, 940; a nut is passed by one pitch, the
// full thread goes on for D/2, the drilled depth for another D/2.
func TestWorkedByHand(t *testing.T) {
	of := func(s Scene, size string, parts ...Part) Joint {
		return Joint{Scene: s, Basis: fastener.Standard, Bolt: fastener.Spec{Thread: thread.MustParse(size)}, Parts: parts}
	}
	with := func(j Joint, change func(*Joint)) Joint { change(&j); return j }
	for name, c := range map[string]struct {
		j                   Joint
		length, hole        float64
		kind                string
		full, drill, thread float64 // 0: not looked at
	}{
		"45 + 3 + 14.8 + 2 = 64.8":      {j: of(ThroughBolt, "M16", Part{Thickness: 20}, Part{Thickness: 25}), length: 65, hole: 17.5},
		"22 + 2 + 8.4 + 1.5 = 33.9":     {j: of(ThroughBolt, "M10", Part{Thickness: 12}, Part{Thickness: 10}), length: 35, hole: 11},
		"60 + 3 + 18 + 2.5 = 83.5":      {j: of(ThroughBolt, "M20", Part{Thickness: 30}, Part{Thickness: 30}), length: 90, hole: 22},
		"75 + 4 + 21.5 + 3 = 103.5":     {j: of(ThroughBolt, "M24", Part{Thickness: 40}, Part{Thickness: 35}), length: 110, hole: 26},
		"30 + 1.6 + 6.8 + 1.25 = 39.65": {j: of(ThroughBolt, "M8", Part{Thickness: 20}, Part{Thickness: 10}), length: 40, hole: 9},
		"25 + 2 × 2.5 + 10.8 + 1.75 = 42.55": {j: with(of(ThroughBolt, "M12", Part{Thickness: 15}, Part{Thickness: 10}),
			func(j *Joint) { j.HeadWasher = "plain" }), length: 45, hole: 13.5},
		// 8 + 1.6 + 6.8 + 1.25 = 17.65; a thread of 22 leaves nothing of 20: ISO 4017
		"thin plates": {j: of(ThroughBolt, "M8", Part{Thickness: 4}, Part{Thickness: 4}), length: 20, hole: 9, kind: "hex-screw"},
		// 14 + 1D = 26; reaches in 16; 16 + 6 = 22, + 6 = 28
		"tapped, steel": {j: of(Tapped, "M12", Part{Thickness: 14}, Part{Thickness: 50}), length: 30, hole: 13.5, full: 22, drill: 28},
		// 14 + 2D = 38; in 26; 32, 38
		"tapped, aluminium": {j: of(Tapped, "M12", Part{Thickness: 14}, Part{Thickness: 60, Material: "aluminium"}),
			length: 40, hole: 13.5, full: 32, drill: 38},
		// 18 + 1.25D = 30.5; in 17; 22, 27
		"tapped, cast iron": {j: of(Tapped, "M10", Part{Thickness: 18}, Part{Thickness: 40, Material: "cast iron"}),
			length: 35, hole: 11, full: 22, drill: 27},
		// 25 + 2.5D = 75; in 55; 65, 75
		"tapped, soft alloy": {j: of(Tapped, "M20", Part{Thickness: 25}, Part{Thickness: 90, Material: "soft alloy"}),
			length: 80, hole: 22, full: 65, drill: 75},
		// 20 + 2.5 + 10.8 + 1.75 = 35.05; metal end 15: 21, 27
		"stud, cast iron": {j: of(Stud, "M12", Part{Thickness: 20}, Part{Thickness: 45, Material: "cast iron"}),
			length: 40, hole: 13.5, full: 21, drill: 27},
		// 25 + 3 + 14.8 + 2 = 44.8; metal end 16: 24, 32
		"stud, steel": {j: of(Stud, "M16", Part{Thickness: 25}, Part{Thickness: 50}), length: 45, hole: 17.5, full: 24, drill: 32},
		// 32 - 13 + 1.5D = 37; in 21; 27, 33
		"counterbore and insert": {j: bored(), length: 40, hole: 13.5, full: 27, drill: 33},
	} {
		if c.kind == "" && c.j.Scene == Tapped && c.j.Bolt.Kind == "" {
			c.j.Bolt.Kind = "hex-screw"
		}
		s, err := c.j.Settle()
		require.NoError(t, err, name)
		assert.Empty(t, s.Findings, name)
		got, last := s.Joint, s.Joint.Parts[len(s.Joint.Parts)-1]
		assert.Equal(t, c.length, got.Bolt.Length, name)
		assert.Equal(t, c.hole, got.Parts[0].Hole, name)
		if c.kind != "" {
			assert.Equal(t, c.kind, got.Bolt.Kind, name)
			assert.Zero(t, got.Bolt.ThreadLength, name)
		}
		if c.full != 0 {
			assert.Equal(t, []float64{c.full, c.drill}, []float64{last.FullDepth, last.DrillDepth}, name)
		}
	}
	through := of(ThroughBolt, "M16", Part{Thickness: 20}, Part{Thickness: 25})
	for name, c := range map[string]struct {
		j                  Joint
		code               Code
		measured, required float64
	}{
		"short":       {with(through, func(j *Joint) { j.Bolt.Length = 60 }), LengthShort, 60, 64.8},
		"edge, 1.5D":  {with(through, func(j *Joint) { j.Parts = []Part{{Thickness: 20, Edge: 20}, {Thickness: 25}} }), Edge, 20, 24},
		"hole, fine":  {with(through, func(j *Joint) { j.Parts = []Part{{Thickness: 20, Hole: 15.5}, {Thickness: 25}} }), HoleInterferes, 15.5, 17},
		"next, 2.2d0": {with(through, func(j *Joint) { j.Spacing = 36 }), Spacing, 36, 38.5},
		// half of 24 / cos 30, and 0.4D
		"spanner":      {with(through, func(j *Joint) { j.Room = 18 }), SpannerRoom, 18, 13.8564 + 6.4},
		"slope":        {with(through, func(j *Joint) { j.Parts = []Part{{Thickness: 20}, {Thickness: 25, Slope: 4}} }), Slope, 4, 1},
		"fillet":       {with(through, func(j *Joint) { j.Parts = []Part{{Thickness: 20}, {Thickness: 25, StandsAt: 25, Fillet: 12}} }), Fillet, 13, 15},
		"engagement":   {with(of(Tapped, "M16", Part{Thickness: 20}, Part{Thickness: 60}), func(j *Joint) { j.Bolt.Kind, j.Bolt.Length = "hex-screw", 35 }), Engagement, 15, 16},
		"short insert": {with(bored(), func(j *Joint) { j.Parts[1].Insert = 15; j.Bolt.Length = 40 }), Engagement, 15, 18},
		// minor diameter 8.376 (ISO 724): point 4.188 / tan 60 = 2.418; 30 - 27 - 2.418
		"wall": {with(of(Tapped, "M10", Part{Thickness: 18}, Part{Thickness: 30, Material: "cast iron"}),
			func(j *Joint) { j.Bolt.Kind = "hex-screw" }), Wall, 0.582, 2},
	} {
		s, err := c.j.Settle()
		require.NoError(t, err, name)
		i := slices.IndexFunc(s.Findings, func(f Finding) bool { return f.Code == c.code })
		if assert.GreaterOrEqual(t, i, 0, "%s: %v", name, s.Findings) {
			assert.InDelta(t, c.measured, s.Findings[i].Measured, 0.001, name)
			assert.InDelta(t, c.required, s.Findings[i].Required, 0.001, name)
		}
	}
}
