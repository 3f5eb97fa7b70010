package dxfout

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestAppendNumber(t *testing.T) {
	for _, c := range []struct {
		v    float64
		want string
	}{
		{0, "0.0"}, {math.Copysign(0, -1), "0.0"}, {-1e-12, "0.0"}, {4e-9, "0.0"}, {-4e-9, "0.0"},
		{1, "1.0"}, {-1, "-1.0"}, {10, "10.0"}, {0.1, "0.1"}, {-0.1, "-0.1"}, {0.05, "0.05"},
		{1.5, "1.5"}, {17.320508075688775, "17.32050808"}, {0.41421356237309503, "0.41421356"},
		{0.00000001, "0.00000001"}, {1.0000001, "1.0000001"}, {100.001, "100.001"}, {0.0001, "0.0001"},
		{0.999999999, "1.0"}, {9999999.5, "9999999.5"}, {12345678.25, "12345678.25"}, {1e12, "1000000000000.0"},
		{-2.5e7, "-25000000.0"}, {1e-300, "0.0"},
	} {
		require.Equal(t, c.want, string(appendNumber(nil, c.v)), "%g", c.v)
	}
}

func TestAppendNumberProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(-maxNumber, maxNumber).Draw(t, "v")
		if rapid.Bool().Draw(t, "small") {
			v = rapid.Float64Range(-1000, 1000).Draw(t, "w")
		}
		s := string(appendNumber([]byte("x"), v))[1:]
		got, err := strconv.ParseFloat(s, 64)
		require.NoError(t, err)
		require.InDelta(t, v, got, 1e-7)
		require.NotContains(t, s, "e")
		require.NotEqual(t, "-0.0", s)
		whole, part, found := strings.Cut(s, ".")
		require.True(t, found, s)
		require.NotEmpty(t, whole)
		require.True(t, len(part) >= 1 && len(part) <= decimals, s)
		require.True(t, part == "0" || part[len(part)-1] != '0', "no trailing zeros: %s", s)
		// Writing again what was read changes nothing.
		require.Equal(t, s, string(appendNumber(nil, got)))
	})
}

func TestAppendHandle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := rapid.Uint64().Draw(t, "h")
		require.Equal(t, strings.ToUpper(strconv.FormatUint(h, 16)), string(appendHandle(nil, h)))
	})
	require.Equal(t, "0", string(appendHandle(nil, 0)))
}

func TestTurn(t *testing.T) {
	for _, c := range [][4]float64{ // start, end, from, sweep
		{0, 90, 0, 90}, {90, 0, 90, 270}, {-30, 30, 330, 60}, {350, 370, 350, 20}, {0, 360, 0, 360},
		{45, 45, 45, 360}, {720, 730, 0, 10}, {-400, -390, 320, 10}, {10, 800, 10, 70},
	} {
		from, sweep := turn(c[0], c[1])
		require.InDelta(t, c[2], from, 1e-9, "%v", c)
		require.InDelta(t, c[3], sweep, 1e-9, "%v", c)
	}
}

// TestLineWeight has widths of ISO 128-2, which the format knows or nearly
// knows, in hundredths of a millimetre.
func TestLineWeight(t *testing.T) {
	for mm, want := range map[float64]int{0.13: 13, 0.18: 18, 0.25: 25, 0.35: 35, 0.5: 50, 0.7: 70, 1: 100, 1.4: 140, 2: 200, 0.175: 18, 5: 211, 0: 0} {
		require.Equal(t, want, lineWeight(mm), "%g", mm)
	}
}
