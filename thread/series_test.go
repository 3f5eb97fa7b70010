package thread

import (
	"errors"
	"math"
	"slices"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// ISO 261:1998 and ISO 262:1998; status of each row in the files. The second
// file holds what the first leaves out.
func TestSizes(t *testing.T) {
	rows := map[float64]row{}
	for _, name := range []string{"iso261-262-pitches.csv", "iso261-additions.csv"} {
		for _, r := range readTable(t, name) {
			rows[r.num(t, "d")] = r
		}
	}
	require.Len(t, Sizes(), len(rows))
	for _, d := range Sizes() {
		r, ok := rows[d]
		require.True(t, ok, "M%v", d)
		want := []Pitch{{r.num(t, "p_coarse"), CoarseSeries}}
		for _, p := range r.nums(t, "p_fine_iso262") {
			want = append(want, Pitch{p, FineSeries})
		}
		for _, p := range r.nums(t, "p_other_fine_iso261") {
			want = append(want, Pitch{p, OtherFineSeries})
		}
		assert.Equal(t, want, Pitches(d), "M%v", d)

		th, err := Coarse(d)
		require.NoError(t, err)
		assert.Equal(t, Thread{D: d, P: want[0].P}, th)
		assert.Equal(t, int(r.num(t, "choice")), th.Choice(), "M%v", d)

		th, err = Fine(d)
		if fine := r.nums(t, "p_fine_iso262"); len(fine) > 0 {
			require.NoError(t, err)
			assert.Equal(t, Thread{D: d, P: fine[0]}, th)
		} else {
			var pe *PitchError
			require.ErrorAs(t, err, &pe)
			assert.Equal(t, "ISO 262", pe.Standard)
		}
	}
}

// A published list of all sizes up to M24, by choice: what is said to be no
// size of ISO 261 is none.
func TestChoices(t *testing.T) {
	choices := map[float64]int{}
	for _, r := range readTable(t, "iso261-choices.csv") {
		d := r.num(t, "d")
		choices[d] = int(r.num(t, "choice"))
		if r["status"] == "misprint" {
			choices[d] = 1
		}
	}
	for d := 3.0; d <= verifiedTo; d += 0.5 {
		_, err := Coarse(d)
		switch choice, listed := choices[d]; {
		case !listed:
			assert.ErrorContains(t, err, "is not a size of ISO 261", "M%v", d)
		case choice == 3:
			assert.ErrorContains(t, err, "is a third choice of ISO 261", "M%v", d)
		default:
			require.NoError(t, err)
			assert.Equal(t, choice, lookup(d).choice, "M%v", d)
		}
	}
}

// What any table of sizes must satisfy.
func TestSizesOrder(t *testing.T) {
	assert.True(t, slices.IsSorted(Sizes()))
	assert.True(t, slices.IsSorted(thirdChoices[:]))
	last := 0.0
	for _, s := range isoSizes {
		assert.GreaterOrEqual(t, s.coarse, last, "the coarse pitch grows with the size, M%v", s.d)
		last = s.coarse
		assert.NotContains(t, thirdChoices, s.d)
		for _, ps := range [][]float64{s.fine, s.other} {
			for i, p := range ps {
				assert.Less(t, p, s.coarse, "M%v", s.d)
				assert.True(t, i == 0 || p < ps[i-1], "M%v: %v", s.d, ps)
			}
		}
		for _, p := range s.fine {
			assert.NotContains(t, s.other, p, "M%v", s.d)
		}
	}
}

func TestEveryListedThreadIsValid(t *testing.T) {
	eachThread(func(th Thread) {
		assert.NoError(t, th.Validate())
		assert.True(t, th.Listed(), "%v", th)
		got, err := New(th.D, th.P)
		assert.NoError(t, err)
		assert.Equal(t, th, got)
	})
}

func TestNotListed(t *testing.T) {
	th, err := Unlisted(13, 1.5)
	require.NoError(t, err)
	assert.False(t, th.Listed())
	assert.False(t, th.IsCoarse())
	assert.Zero(t, th.Choice())
	assert.Nil(t, Pitches(13))

	// A size that is listed with a pitch that is not.
	th = Thread{D: 12, P: 1.3}
	assert.False(t, th.Listed())
	assert.Zero(t, th.Choice())
}

func TestSizeErrors(t *testing.T) {
	for _, c := range []struct {
		name string
		err  error
		want string
	}{
		{"between", second(Coarse(13)), "M13 is not a size of ISO 261; nearest: M12, M14"},
		{"between, where the list of sizes is from memory", second(Coarse(31)), "M31 is not among the sizes held of ISO 261; nearest: M30, M33"},
		{"third choice", second(Fine(11)), "M11 is a third choice of ISO 261, and only first and second choices are held; nearest: M10, M12"},
		{"small", second(New(2, 0.4)), "M2 is outside the sizes held of ISO 261, M3 to M64; nearest: M3"},
		{"large", second(Coarse(68)), "M68 is outside the sizes held of ISO 261, M3 to M64; nearest: M64"},
		{"pitch", second(New(12, 1.3)), "1.3 is not a pitch of M12 in ISO 261; nearest: 1.25, 1.5"},
		{"pitch above", second(New(12, 80)), "80 is not a pitch of M12 in ISO 261; nearest: 1.75"},
		{"no fine", second(Fine(6)), "ISO 262 has no fine pitch for M6; ISO 261 has: 0.75"},
	} {
		assert.EqualError(t, c.err, c.want, c.name)
	}
	var se *SizeError
	require.ErrorAs(t, second(Coarse(13)), &se)
	assert.Equal(t, 13.0, se.D)
	assert.Equal(t, []float64{12, 14}, se.Nearest)
	var pe *PitchError
	require.ErrorAs(t, second(New(12, 1.3)), &pe)
	assert.Equal(t, 1.3, pe.P)
	assert.Equal(t, []float64{1.25, 1.5}, pe.Nearest)
}

func second[T any](_ T, err error) error { return err }

func TestValueErrors(t *testing.T) {
	for _, x := range []float64{0, -1, math.Copysign(0, -1), math.NaN(), math.Inf(1), math.Inf(-1), 1e-9, 1e300, math.MaxFloat64, math.SmallestNonzeroFloat64} {
		for name, err := range map[string]error{
			"Coarse":           second(Coarse(x)),
			"Fine":             second(Fine(x)),
			"New d":            second(New(x, 1)),
			"New p":            second(New(12, x)),
			"Unlisted d":       second(Unlisted(x, 1)),
			"Unlisted p":       second(Unlisted(12, x)),
			"Validate d":       Thread{D: x, P: 1}.Validate(),
			"Validate p":       Thread{D: 12, P: x}.Validate(),
			"Limits d":         second(Thread{D: x, P: 1}.Limits("6g")),
			"TapDrill d":       second(Thread{D: x, P: 1}.TapDrill()),
			"ClearanceHole d":  second(ClearanceHole(x, FitMedium)),
			"Parser unlisted ": second(Unlisted(x, x)),
		} {
			var ve *ValueError
			if assert.True(t, errors.As(err, &ve), "%s(%v): %v", name, x, err) {
				assert.NotEmpty(t, ve.Error())
				assert.NotEmpty(t, ve.Want)
			}
		}
	}
	assert.EqualError(t, Thread{D: 12, P: 6.5}.Validate(), "thread pitch of 6.5 mm: want no more than half the diameter, 6 mm")
	assert.EqualError(t, Thread{}.Validate(), "thread diameter of 0 mm: want from 0.1 mm to 1000 mm")
	assert.NoError(t, Thread{D: 12, P: 6}.Validate())
}

func TestSlicesAreCopies(t *testing.T) {
	for name, f := range map[string]func() []float64{
		"Sizes": Sizes, "Lengths": Lengths, "SecondLengths": SecondLengths,
	} {
		want := f()
		clear(f())
		assert.Equal(t, want, f(), name)
	}
	want := Pitches(12)
	clear(Pitches(12))
	assert.Equal(t, want, Pitches(12))
	classes := LimitClasses()
	clear(LimitClasses())
	assert.Equal(t, classes, LimitClasses())

	var pe *PitchError
	require.ErrorAs(t, second(Fine(6)), &pe)
	clear(pe.Nearest)
	assert.Equal(t, 0.75, Pitches(6)[1].P)
}

// For the race detector.
func TestManyGoroutines(t *testing.T) {
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			eachThread(func(th Thread) {
				_, err := Parse(th.String())
				assert.NoError(t, err)
				_, _ = th.Limits("6g")
				_, _ = th.TapDrill()
				_, _ = ClearanceHole(th.D, FitMedium)
				th.RunOut()
			})
		})
	}
	wg.Wait()
}

func TestNames(t *testing.T) {
	assert.Equal(t, "coarse", CoarseSeries.String())
	assert.Equal(t, "fine", FineSeries.String())
	assert.Equal(t, "other fine", OtherFineSeries.String())
	assert.Equal(t, "Series(9)", Series(9).String())
	assert.Equal(t, "fine", FitFine.String())
	assert.Equal(t, "medium", FitMedium.String())
	assert.Equal(t, "coarse", FitCoarse.String())
	assert.Equal(t, "Fit(-1)", Fit(-1).String())
	assert.Equal(t, "steel", Steel.String())
	assert.Equal(t, "cast iron", CastIron.String())
	assert.Equal(t, "aluminium alloy", Aluminium.String())
	assert.Equal(t, "soft light alloy", SoftLightAlloy.String())
	assert.Equal(t, "Material(4)", Material(4).String())
}
