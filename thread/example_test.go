package thread_test

import (
	"errors"
	"fmt"

	"boltplate/thread"
)

func ExampleParse() {
	t, err := thread.Parse("m12x1,25-6g-LH")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(t)
	fmt.Println(t.D, t.P, t.Class, t.LeftHand)
	// Output:
	// M12 × 1.25-6g-LH
	// 12 1.25 6g true
}

func ExampleParse_error() {
	_, err := thread.Parse("M13")
	fmt.Println(err)

	var se *thread.SizeError
	if errors.As(err, &se) {
		fmt.Println(se.Nearest)
	}

	_, err = thread.Parse("M12y1.25")
	fmt.Println(err)
	// Output:
	// M13 is not a size of ISO 261; nearest: M12, M14
	// [12 14]
	// thread "M12y1.25": column 4: found "y", want ×, a hyphen or the end
}

func ExampleParser() {
	p := thread.Parser{AllowUnlisted: true}
	t, err := p.Parse("M13 × 1.5")
	fmt.Println(t, t.Listed(), err)
	// Output: M13 × 1.5 false <nil>
}

func ExampleThread() {
	t := thread.MustParse("M20")
	fmt.Println("d2", thread.Round3(t.PitchDiameter()))
	fmt.Println("D1", thread.Round3(t.MinorDiameter()))
	fmt.Println("d3", thread.Round3(t.RootDiameter()))
	fmt.Println("As", thread.RoundArea(t.StressArea()))
	// Output:
	// d2 18.376
	// D1 17.294
	// d3 16.933
	// As 245
}

func ExampleThread_Limits() {
	l, err := thread.MustParse("M20").Limits("6g")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("major %.3f / %.3f\n", l.MajorMax.Value, l.MajorMin.Value)
	fmt.Printf("pitch %.3f / %.3f\n", l.PitchMax.Value, l.PitchMin.Value)
	fmt.Printf("minor %.3f, least given: %v\n", l.MinorMax.Value, l.MinorMin.Given)
	// Output:
	// major 19.958 / 19.623
	// pitch 18.334 / 18.164
	// minor 17.252, least given: false
}

func ExampleThread_TapDrill() {
	d, err := thread.MustParse("M12").TapDrill()
	fmt.Println(d, err)
	_, err = thread.MustParse("M24 × 1.5").TapDrill()
	fmt.Println(err)
	// Output:
	// 10.2 <nil>
	// no tapping drill of ISO 2306 is held here for M24 × 1.5; held: M24, M24 × 2; by the rule D - P (common practice) 22.5 mm
}

func ExampleThread_Figure() {
	for _, name := range []string{"M20", "M12", "M3x0.35"} {
		f, err := thread.MustParse(name).Figure(thread.ItemRunOut)
		fmt.Println(name, f.Value, f.Rule, "|", f.Source, "|", f.Status, err)
	}
	// Output:
	// M20 6.3 2.5P ≈ 6.3 | ISO 3508:1976 | published in part <nil>
	// M12 4.3 2.5P ≈ 4.3 | ISO 3508:1976 | from memory, unverified <nil>
	// M3x0.35 0.875 2.5P | 2.5P, the rule of ISO 3508:1976; the pitch 0.35 is not in the table held here | common practice <nil>
}

func ExampleThread_PairLimits() {
	nut, bolt, err := thread.MustParse("M20").PairLimits("6H/6g")
	if err != nil {
		fmt.Println(err)
		return
	}
	least, greatest := thread.Play(nut, bolt)
	fmt.Println(nut.PitchMin.Value, bolt.PitchMax.Value, "play", least.Value, "to", greatest.Value)
	// Output: 18.376 18.334 play 0.042 to 0.436
}

func ExampleProductPitches() {
	fmt.Println(thread.ProductPitches(16), thread.ProductPitches(10), thread.ProductPitches(6))
	// Output: [1.5] [1 1.25] []
}

func ExampleClearanceHole() {
	d, err := thread.ClearanceHole(16, thread.FitMedium)
	fmt.Println(d, err)
	// Output: 17.5 <nil>
}

func ExamplePitches() {
	for _, p := range thread.Pitches(12) {
		fmt.Println(p.P, p.Series)
	}
	// Output:
	// 1.75 coarse
	// 1.5 fine
	// 1.25 fine
	// 1 other fine
}

func ExampleThreadLength() {
	fmt.Println(thread.ThreadLength(20, 90))
	// Output: 46
}

func ExampleNextLength() {
	l, ok := thread.NextLength(83)
	fmt.Println(l, ok)
	// Output: 90 true
}

func ExampleEngagement() {
	fmt.Println(thread.Engagement(thread.CastIron, 16))
	// Output: 20
}
