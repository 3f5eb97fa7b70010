package joint

import (
	"errors"
	"math"
	"testing"

	"boltplate/drawing"
	"boltplate/dxfout"
	"boltplate/fastener"
	"boltplate/internal/clash"
	"boltplate/thread"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// someSize returns sizes that are given half of the time, about k times d.
func someSize(t *rapid.T, d float64) func(name string, k float64) float64 {
	return func(name string, k float64) float64 {
		if rapid.Bool().Draw(t, name+" given") {
			return d * k * rapid.Float64Range(0.5, 1.6).Draw(t, name)
		}
		return 0
	}
}

// drawnOrRefused draws a joint, right or wrong, and requires that nothing
// touches, or that the error names the field that is wrong.
func drawnOrRefused(t *rapid.T, j Joint) {
	dr, err := Draw(j, drawing.Style{Scale: rapid.SampledFrom([]float64{1, 2}).Draw(t, "scale")})
	var field *FieldError
	if errors.As(err, &field) {
		return
	}
	require.NoError(t, err)
	require.Empty(t, clash.Find(dr))
	_, err = dxfout.Encoder{}.Append(nil, dr)
	require.NoError(t, err)
}

// TestWrongSunkIsDrawn: a countersunk joint with any sizes is drawn, right or
// wrong, or refused.
func TestWrongSunkIsDrawn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom([]float64{5, 8, 12, 16, 24, 36}).Draw(t, "d")
		th, err := thread.Coarse(d)
		require.NoError(t, err)
		size := someSize(t, d)
		word := func(name string, words ...string) string { return rapid.SampledFrom(words).Draw(t, name) }
		j := Joint{Scene: Countersunk, Room: size("room", 1.2), Nut: word("nut", "", "none"),
			Bolt: fastener.Spec{Kind: "countersunk-bolt", Thread: th, Length: size("length", 5),
				ThreadLength: size("thread", 2),
				Neck:         word("neck", "", "plain", "snug", "square"), Angle: word("angle", "", "60", "90")},
			Parts: []Part{
				{Thickness: d * rapid.Float64Range(0.2, 3).Draw(t, "t1"), Hole: size("hole", 1.2),
					Edge:         size("edge", 1.5),
					SinkDiameter: size("sink", 2), SinkAngle: rapid.SampledFrom([]float64{0, 45, 60, 82, 90, 120}).Draw(t,
						"sink angle")},
				{Thickness: d * rapid.Float64Range(0.3, 4).Draw(t, "t2"), Hole: size("hole 2", 1.2),
					Edge:      size("edge 2", 1.5),
					FullDepth: size("full", 1.5), DrillDepth: size("drill", 2), Through: rapid.Bool().Draw(t, "through")},
			}}
		drawnOrRefused(t, j)
	})
}

// TestWrongTaperIsDrawn: a taper bolt with any sizes is drawn, right or wrong,
// or refused.
func TestWrongTaperIsDrawn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom([]float64{5, 8, 12, 16, 24, 36}).Draw(t, "d")
		th, err := thread.Coarse(d)
		require.NoError(t, err)
		size := someSize(t, d)
		j := Joint{Scene: Taper, Room: size("room", 1.2),
			Washer: rapid.SampledFrom([]string{"", "none"}).Draw(t, "washer"),
			Bolt: fastener.Spec{Thread: th, Length: size("length", 5), ThreadLength: size("thread", 2),
				Taper: rapid.SampledFrom([]string{"", "1:10", "1:30", "1:100"}).Draw(t, "taper")}}
		for _, name := range [2]string{"1", "2"} {
			j.Parts = append(j.Parts, Part{Thickness: d * rapid.Float64Range(0.5, 4).Draw(t, "t"+name),
				Edge: size("edge "+name, 1.5)})
		}
		j.Parts[0].DrawUp = size("draw", 0.05)
		drawnOrRefused(t, j)
	})
}

// TestHeadTouches: in a part that is thick enough, the head lies in its sink so
// that it touches it and is nowhere inside the metal: shown by going down the
// head in small steps.
func TestHeadTouches(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := 16.0
		j := Joint{Scene: Countersunk, Bolt: fastener.Spec{Kind: "countersunk-bolt", Thread: thread.MustParse("M16"),
			Angle: rapid.SampledFrom([]string{"60", "90"}).Draw(t, "angle")},
			Parts: []Part{{Thickness: 90, Hole: rapid.Float64Range(16, 20).Draw(t, "hole"),
				SinkDiameter: rapid.Float64Range(21, 50).Draw(t, "sink"),
				SinkAngle:    rapid.Float64Range(40, 140).Draw(t, "sink angle")}, {Thickness: 20}}}
		full, _, err := j.Complete()
		require.NoError(t, err)
		m, err := newModel(full)
		require.NoError(t, err)
		p := m.Parts[0]
		// The radius that the part leaves free at a depth below its face.
		free := func(y float64) float64 {
			if y < 0 {
				return math.Inf(1)
			}
			return math.Max(p.SinkDiameter/2-y*half(p.SinkAngle), p.Hole/2)
		}
		// The head: land, cone, shank.
		head := func(x float64) float64 {
			switch k := m.fit.Head.Height; {
			case x <= m.land():
				return m.fit.Head.Diameter / 2
			case x < k:
				return d/2 + (k-x)*half(m.fit.Head.Angle)
			}
			return d / 2
		}
		nearest := math.Inf(1)
		for i := range 20001 {
			x := 30 * float64(i) / 20000
			if gap := free(x+m.sunk) - head(x); gap < nearest {
				nearest = gap
			}
		}
		assert.InDelta(t, 0, nearest, 0.006, "a step is 0.0015 mm long")
	})
}
