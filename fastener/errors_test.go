package fastener_test

import (
	"errors"
	"math"
	"testing"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/thread"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestErrorsNameTheFieldAndWhatIsRight(t *testing.T) {
	m20, m16 := thread.MustParse("M20"), thread.MustParse("M16")
	bolt := fastener.HexBolt{Thread: m20, Length: 90}
	nut := fastener.HexNut{Thread: m20}
	for _, c := range []struct {
		f     fastener.Fastener
		field string
		says  string // part of the message
	}{
		{fastener.HexBolt{Thread: m20}, "length", "missing"},
		{fastener.HexBolt{Thread: m20, Length: -5}, "length", "-5: must not be negative"},
		{fastener.HexBolt{Thread: m20, Length: math.NaN()}, "length", "NaN"},
		{fastener.HexBolt{Thread: m20, Length: math.Inf(1)}, "length", "Inf"},
		{fastener.HexBolt{Thread: m20, Length: 90000}, "length", "is the unit millimetres?"},
		{fastener.HexBolt{Thread: m20, Length: 2}, "length", "more than 5 mm"}, // two pitches
		{fastener.HexBolt{Thread: m20, Length: 90, ThreadLength: 95}, "thread",
			"longer than the shank, which has 90 mm"},
		{fastener.HexBolt{Thread: m20, Length: 90, ThreadLength: -1}, "thread", "negative"},
		{fastener.HexBolt{Thread: m20, Length: 90, ThreadLength: 40, ToHead: true}, "thread",
			"threaded to the head"},
		{fastener.HexBolt{Length: 90}, "size", ""},
		{fastener.HexBolt{Thread: thread.Thread{D: -3, P: 1}, Length: 90}, "size", ""},
		{fastener.HexBolt{Thread: m20, Length: 40, Basis: fastener.Standard}, "length", "use hex-screw"},
		// 46 + 6.25 = 52.25
		{fastener.HexBolt{Thread: m20, Length: 40, Basis: fastener.Standard}, "length", "at least 55 mm"},
		{fastener.SquareBolt{Thread: thread.MustParse("M42"), Length: 200, Basis: fastener.Standard}, "size",
			"sizes held: M6, M8, M10, M12, M16, M20, M24, M30, M36"},
		// 90 - 0.8 x 20
		{fastener.SquareBolt{Thread: m20, Length: 90, ThreadLength: 80, SquareNeck: true}, "thread",
			"which has 74 mm"},
		{fastener.SquareNut{Thread: thread.MustParse("M24"), Basis: fastener.Standard}, "size",
			"not held here of DIN 557; sizes held: M5"},
		{fastener.HexNut{Thread: thread.MustParse("M3.5"), Basis: fastener.Standard}, "size", "M3, M4, M5"},
		{fastener.HexNut{Thread: m20, Governs: 9}, "governs", "corners or flats"},
		{fastener.HexNut{Thread: m20, Basis: 9}, "basis", "Proportion or Standard"},
		{fastener.Bolted{}, "nut", "goes on a bolt with a head"},
		{fastener.Bolted{Bolt: bolt}, "nut", "missing"},
		{fastener.Bolted{Bolt: bolt, Nut: nut}, "grip", "missing"},
		{fastener.Bolted{Bolt: bolt, Nut: fastener.HexNut{Thread: m16}, Grip: 50}, "nut",
			"M16: does not go on the thread of the bolt, which is M20"},
		{fastener.Bolted{Bolt: bolt, Nut: nut, Washer: fastener.Washer{Thread: m16}, Grip: 50}, "washer", "M20"},
		// 80 + 20 + 2.5 = 102.5; the next preferred length of ISO 888 is 110.
		{fastener.Bolted{Bolt: bolt, Nut: nut, Grip: 80}, "length",
			"come to 102.5 mm; the next preferred length is 110 mm"},
		// D to 1.3D of thread in the cap nut: 60 + 20 to 60 + 26.
		{fastener.Bolted{Bolt: bolt, Nut: fastener.CapNut{Thread: m20}, Grip: 60}, "length",
			"from 80 to 86 mm; a preferred length is 80 mm"},
		{fastener.Bolted{Bolt: bolt, Nut: fastener.CapNut{Thread: m20}, Grip: 75}, "length",
			"too short for the cap nut, which sits at 75 mm: from 95 to 101 mm"},
		// The thread starts at 90 - 46 = 44, the nut would sit at 30.
		{fastener.Bolted{Bolt: bolt, Nut: nut, Grip: 30}, "grip",
			"14 mm before it clamps; a grip of at least 44 mm, or a thread length of at least 60 mm"},
	} {
		err := c.f.Validate()
		var fe *fastener.FieldError
		require.ErrorAs(t, err, &fe, "%+v", c.f)
		assert.Equal(t, c.field, fe.Field, err.Error())
		assert.Contains(t, err.Error(), c.says)
		_, qerr := c.f.Quantities()
		assert.Equal(t, err.Error(), qerr.Error(), "Quantities has the error of Validate")
		_, verr := c.f.View(drawing.Front, fastener.Options{})
		assert.Equal(t, err.Error(), verr.Error(), "View has the error of Validate")
	}
}

func TestViewsThatAKindDoesNotHave(t *testing.T) {
	for _, f := range specimens(t, 20, 100, fastener.Proportion) {
		_, err := f.View(drawing.Isometric+1, fastener.Options{})
		var fe *fastener.FieldError
		require.ErrorAs(t, err, &fe)
		assert.Contains(t, err.Error(), "front, side, head, point")
	}
	_, err := fastener.Draw(fastener.HexNut{Thread: thread.MustParse("M20")},
		fastener.DrawOptions{Views: []drawing.Direction{drawing.Front, drawing.Front}})
	assert.ErrorContains(t, err, "given twice")
}

func TestSpecsRefuseWhatAKindDoesNotRead(t *testing.T) {
	m20 := thread.MustParse("M20")
	for _, c := range []struct {
		s     fastener.Spec
		field string
		says  string
	}{
		{fastener.Spec{Kind: "hex-nut", Length: 20}, "length", "does not belong to a hexagonal nut"},
		{fastener.Spec{Kind: "hex-bolt", Length: 90, Neck: "square"}, "neck", "does not belong"},
		{fastener.Spec{Kind: "square-bolt", Length: 90, Neck: "round"}, "neck", "use square"},
		{fastener.Spec{Kind: "square-bolt", Length: 90, Governs: fastener.Corners}, "governs", "does not belong"},
		{fastener.Spec{Kind: "washer", Governs: fastener.Flats}, "governs", "does not belong"},
		{fastener.Spec{Kind: "hex-bolt", Length: 90, Nut: "round", Grip: 50}, "nut", "use hex, thin, square"},
		{fastener.Spec{Kind: "hex-bolt", Length: 90, Nut: "hex"}, "grip", "missing"},
		{fastener.Spec{Kind: "hex-bolt", Length: 90, Washer: "plain"}, "washer", "give the nut"},
		{fastener.Spec{Kind: "hex-bolt", Length: 90, Grip: 50}, "grip", "give the nut"},
		{fastener.Spec{Kind: "hex-bolt", Length: 90, Nut: "hex", Grip: 50, Washer: "flat"}, "washer",
			"use plain, spring, chamfered, grade-c or large"},
	} {
		c.s.Thread = m20
		_, err := fastener.New(c.s)
		var fe *fastener.FieldError
		require.ErrorAs(t, err, &fe, "%+v", c.s)
		assert.Equal(t, c.field, fe.Field, err.Error())
		assert.Contains(t, err.Error(), c.says)
	}
}

func TestUnknownKindSuggestsTheNearest(t *testing.T) {
	for name, want := range map[string]string{"hexbolt": "hex-bolt", "hex bolt": "hex-bolt", "hexnut": "hex-nut",
		"wascher": "washer", "sqare-nut": "square-nut"} {
		_, err := fastener.New(fastener.Spec{Kind: name, Thread: thread.MustParse("M20"), Length: 90})
		assert.EqualError(t, err, name+": no such kind; did you mean "+want+"?")
	}
	_, err := fastener.New(fastener.Spec{Kind: "rivet"})
	var ke *fastener.KindError
	require.True(t, errors.As(err, &ke))
	assert.Contains(t, err.Error(), "the kinds are hex-bolt")
}

// TestNoKindIsForgotten: every kind in the list makes the kind that it names.
func TestNoKindIsForgotten(t *testing.T) {
	for _, k := range fastener.Kinds() {
		f := oneM20(t, k)
		assert.Equal(t, k.Name, f.Kind())
		for _, dir := range k.Views {
			_, err := f.View(dir, fastener.Options{})
			assert.NoError(t, err, "%s %s", k.Name, dir)
		}
	}
}

// TestNothingToDraw: what was never filled in is an error, not a panic.
func TestNothingToDraw(t *testing.T) {
	_, err := fastener.Draw(nil, fastener.DrawOptions{})
	var ke *fastener.KindError
	require.ErrorAs(t, err, &ke)
	assert.ErrorContains(t, err, "no fastener is given; the kinds are hex-bolt,")
	_, err = fastener.Draw(fastener.Bolted{}, fastener.DrawOptions{})
	assert.Error(t, err)
}
