package thread

import (
	"cmp"
	"fmt"
	"slices"

	"boltplate/rule"
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
	status               rule.Status
}

// clearances is ISO 273:1979. All rows agree with the classes 1 to 3 of JIS B
// 1001:1985, which follows it; most of them with a second published table as
// well.
var clearances = [...]clearance{
	{3, 3.2, 3.4, 3.6, published},
	{3.5, 3.7, 3.9, 4.2, published},
	{4, 4.3, 4.5, 4.8, published},
	{4.5, 4.8, 5, 5.3, published},
	{5, 5.3, 5.5, 5.8, published},
	{6, 6.4, 6.6, 7, published},
	{7, 7.4, 7.6, 8, published},
	{8, 8.4, 9, 10, published},
	{10, 10.5, 11, 12, published},
	{12, 13, 13.5, 14.5, published},
	{14, 15, 15.5, 16.5, published},
	{16, 17, 17.5, 18.5, published},
	{18, 19, 20, 21, published},
	{20, 21, 22, 24, published},
	{22, 23, 24, 26, published},
	{24, 25, 26, 28, published},
	{27, 28, 30, 32, published},
	{30, 31, 33, 35, published},
	{33, 34, 36, 38, published},
	{36, 37, 39, 42, published},
	{39, 40, 42, 45, published},
	{42, 43, 45, 48, published},
	{45, 46, 48, 52, published},
	{48, 50, 52, 56, published},
	{52, 54, 56, 62, published},
	{56, 58, 62, 66, published},
	{60, 62, 66, 70, published},
	{64, 66, 70, 74, published},
}

// ClearanceHole returns the diameter, mm, of the hole through which a bolt of
// nominal diameter d, mm, passes, after ISO 273:1979. [ClearanceFigure] has its
// source and status.
//
// The error is a [*ValueError] for a diameter or fit without sense, a
// [*SizeError] for a diameter without a row.
func ClearanceHole(d float64, f Fit) (float64, error) {
	r, err := clearanceOf(d, f)
	if err != nil {
		return 0, err
	}
	return r.hole(f), nil
}

func clearanceOf(d float64, f Fit) (*clearance, error) {
	if f < FitFine || f > FitCoarse {
		return nil, &ValueError{Name: "fit", Value: float64(f), Want: "FitFine, FitMedium or FitCoarse"}
	}
	i, ok := slices.BinarySearchFunc(clearances[:], d, func(r clearance, d float64) int { return cmp.Compare(r.d, d) })
	if !ok {
		if err := checkDiameter(d); err != nil {
			return nil, err
		}
		ds := make([]float64, len(clearances))
		for i, r := range clearances {
			ds[i] = r.d
		}
		return nil, &SizeError{D: d, Standard: "ISO 273", Nearest: around(ds, d)}
	}
	return &clearances[i], nil
}

func (r *clearance) hole(f Fit) float64 {
	return [...]float64{r.fine, r.medium, r.coarse}[f]
}

// ClearanceFigure returns [ClearanceHole] with its source and status. Errors
// are the same.
func ClearanceFigure(d float64, f Fit) (Figure, error) {
	r, err := clearanceOf(d, f)
	if err != nil {
		return Figure{}, err
	}
	row := items[ItemClearanceFine+Item(f)]
	return Figure{Item: ItemClearanceFine + Item(f), Key: row.key, Name: row.name, Value: r.hole(f), Unit: row.unit,
		Source: SourceHoles, Status: r.status}, nil
}

type drill struct {
	d, p, drill float64
	status      rule.Status
}

// drills is ISO 2306:1972. The rows of M24 × 2, M27, M33, M39, M45, M52, M60
// and of the fine pitches above M24 were found in one published table, the
// others agree in two.
var drills = [...]drill{
	{3, 0.5, 2.5, published},
	{4, 0.7, 3.3, published},
	{5, 0.8, 4.2, published},
	{6, 1, 5, published},
	{8, 1.25, 6.8, published}, {8, 1, 7, published},
	{10, 1.5, 8.5, published}, {10, 1.25, 8.8, published}, {10, 1, 9, published},
	{12, 1.75, 10.2, published}, {12, 1.5, 10.5, published}, {12, 1.25, 10.8, published},
	{14, 2, 12, published}, {14, 1.5, 12.5, published},
	{16, 2, 14, published}, {16, 1.5, 14.5, published},
	{18, 2.5, 15.5, published}, {18, 2, 16, published}, {18, 1.5, 16.5, published},
	{20, 2.5, 17.5, published}, {20, 2, 18, published}, {20, 1.5, 18.5, published},
	{22, 2.5, 19.5, published}, {22, 2, 20, published}, {22, 1.5, 20.5, published},
	{24, 3, 21, published}, {24, 2, 22, published},
	{27, 3, 24, published}, {27, 2, 25, published},
	{30, 3.5, 26.5, published}, {30, 2, 28, published},
	{33, 3.5, 29.5, published}, {33, 2, 31, published},
	{36, 4, 32, published}, {36, 3, 33, published},
	{39, 4, 35, published}, {39, 3, 36, published},
	{42, 4.5, 37.5, published}, {42, 3, 39, published},
	{45, 4.5, 40.5, published}, {45, 3, 42, published},
	{48, 5, 43, published}, {48, 3, 45, published},
	{52, 5, 47, published}, {52, 4, 48, published},
	{56, 5.5, 50.5, published}, {56, 4, 52, published},
	{60, 5.5, 54.5, published}, {60, 4, 56, published},
	{64, 6, 58, published}, {64, 4, 60, published},
}

// TapDrill returns the diameter of the drill, mm, for the hole to be tapped,
// after ISO 2306:1972.
//
// The error is a [*ValueError] for a thread that is not valid, a [*TableError]
// for one without a row; its text gives the figure of [Thread.DrillRule].
func (t Thread) TapDrill() (float64, error) {
	r, err := t.drill()
	if err != nil {
		return 0, err
	}
	return r.drill, nil
}

func (t Thread) drill() (*drill, error) {
	if err := t.Validate(); err != nil {
		return nil, err
	}
	var have []Thread
	for i, r := range drills {
		if r.d != t.D {
			continue
		}
		if r.p == t.P {
			return &drills[i], nil
		}
		have = append(have, Thread{D: r.d, P: r.p})
	}
	return nil, &TableError{
		Standard: "ISO 2306",
		Item:     "tapping drill",
		Thread:   Thread{D: t.D, P: t.P},
		Have:     have,
		Rule:     "by the rule " + ruleDrill.String() + " (common practice) " + number(t.DrillRule()) + " mm",
	}
}

// DrillRule returns the tapping drill by the rule of thumb D - P (common
// practice), mm, to three decimals. Drills as sold may differ from it by a
// tenth or two.
func (t Thread) DrillRule() float64 { return Round3(t.D - t.P) }
