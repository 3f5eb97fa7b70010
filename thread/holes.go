package thread

import (
	"cmp"
	"fmt"
	"slices"
)

// Fit is a series of clearance holes of ISO 273.
type Fit int

const (
	FitFine   Fit = iota // fine series, hole tolerance H12
	FitMedium            // medium series, H13, the usual one
	FitCoarse            // coarse series, H14
)

// String returns "fine", "medium" or "coarse".
func (f Fit) String() string {
	switch f {
	case FitFine:
		return "fine"
	case FitMedium:
		return "medium"
	case FitCoarse:
		return "coarse"
	}
	return fmt.Sprintf("Fit(%d)", int(f))
}

type clearance struct {
	d                    float64
	fine, medium, coarse float64
}

// clearances is ISO 273:1979. M3.5 was found in one published table,
// and M12 to M18, M22, M27 and M45 to M64 are partly from memory, unverified;
// the other rows agree in two published tables.
var clearances = [...]clearance{
	{3, 3.2, 3.4, 3.6},
	{3.5, 3.7, 3.9, 4.2},
	{4, 4.3, 4.5, 4.8},
	{5, 5.3, 5.5, 5.8},
	{6, 6.4, 6.6, 7},
	{7, 7.4, 7.6, 8},
	{8, 8.4, 9, 10},
	{10, 10.5, 11, 12},
	{12, 13, 13.5, 14.5},
	{14, 15, 15.5, 16.5},
	{16, 17, 17.5, 18.5},
	{18, 19, 20, 21},
	{20, 21, 22, 24},
	{22, 23, 24, 26},
	{24, 25, 26, 28},
	{27, 28, 30, 32},
	{30, 31, 33, 35},
	{33, 34, 36, 38},
	{36, 37, 39, 42},
	{39, 40, 42, 45},
	{42, 43, 45, 48},
	{45, 46, 48, 52},
	{48, 50, 52, 56},
	{52, 54, 56, 62},
	{56, 58, 62, 66},
	{60, 62, 66, 70},
	{64, 66, 70, 74},
}

// ClearanceHole returns the diameter, mm, of the hole through which a bolt of
// nominal diameter d, mm, passes, after ISO 273:1979. The rows of M12 to M18,
// M22, M27 and M45 to M64 are partly from memory, unverified; M3.5 rests on
// one published table.
//
// The error is a [*ValueError] for a diameter or fit without sense, a
// [*SizeError] for a diameter without a row.
func ClearanceHole(d float64, f Fit) (float64, error) {
	if f < FitFine || f > FitCoarse {
		return 0, &ValueError{Name: "fit", Value: float64(f), Want: "FitFine, FitMedium or FitCoarse"}
	}
	i, ok := slices.BinarySearchFunc(clearances[:], d, func(r clearance, d float64) int { return cmp.Compare(r.d, d) })
	if !ok {
		if err := checkDiameter(d); err != nil {
			return 0, err
		}
		ds := make([]float64, len(clearances))
		for i, r := range clearances {
			ds[i] = r.d
		}
		return 0, &SizeError{D: d, Standard: "ISO 273", Nearest: around(ds, d)}
	}
	r := &clearances[i]
	return [...]float64{r.fine, r.medium, r.coarse}[f], nil
}

type drill struct{ d, p, drill float64 }

// drills is ISO 2306:1972. The rows of M24 × 2, M27, M33, M39, M45, M52, M60
// and of the fine pitches above M24 were found in one published table, the
// others agree in two.
var drills = [...]drill{
	{3, 0.5, 2.5},
	{4, 0.7, 3.3},
	{5, 0.8, 4.2},
	{6, 1, 5},
	{8, 1.25, 6.8}, {8, 1, 7},
	{10, 1.5, 8.5}, {10, 1.25, 8.8}, {10, 1, 9},
	{12, 1.75, 10.2}, {12, 1.5, 10.5}, {12, 1.25, 10.8},
	{14, 2, 12}, {14, 1.5, 12.5},
	{16, 2, 14}, {16, 1.5, 14.5},
	{18, 2.5, 15.5}, {18, 2, 16}, {18, 1.5, 16.5},
	{20, 2.5, 17.5}, {20, 2, 18}, {20, 1.5, 18.5},
	{22, 2.5, 19.5}, {22, 2, 20}, {22, 1.5, 20.5},
	{24, 3, 21}, {24, 2, 22},
	{27, 3, 24}, {27, 2, 25},
	{30, 3.5, 26.5}, {30, 2, 28},
	{33, 3.5, 29.5}, {33, 2, 31},
	{36, 4, 32}, {36, 3, 33},
	{39, 4, 35}, {39, 3, 36},
	{42, 4.5, 37.5}, {42, 3, 39},
	{45, 4.5, 40.5}, {45, 3, 42},
	{48, 5, 43}, {48, 3, 45},
	{52, 5, 47}, {52, 4, 48},
	{56, 5.5, 50.5}, {56, 4, 52},
	{60, 5.5, 54.5}, {60, 4, 56},
	{64, 6, 58}, {64, 4, 60},
}

// TapDrill returns the diameter of the drill, mm, for the hole to be tapped,
// after ISO 2306:1972.
//
// The error is a [*ValueError] for a thread that is not valid, a [*TableError]
// for one without a row; its text gives the figure of [Thread.DrillRule].
func (t Thread) TapDrill() (float64, error) {
	if err := t.Validate(); err != nil {
		return 0, err
	}
	var have []Thread
	for _, r := range drills {
		if r.d != t.D {
			continue
		}
		if r.p == t.P {
			return r.drill, nil
		}
		have = append(have, Thread{D: r.d, P: r.p})
	}
	return 0, &TableError{
		Standard: "ISO 2306",
		Item:     "tapping drill",
		Thread:   Thread{D: t.D, P: t.P},
		Have:     have,
		Rule:     "by the rule d - P (common practice) " + number(t.DrillRule()) + " mm",
	}
}

// DrillRule returns the tapping drill by the rule of thumb d - P (common
// practice), mm, to three decimals. Drills as sold may differ from it by a
// tenth or two.
func (t Thread) DrillRule() float64 { return Round3(t.D - t.P) }
