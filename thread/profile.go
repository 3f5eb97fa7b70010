package thread

import (
	"math"
	"strconv"
)

// sqrt3 is the square root of 3, the slope of a 60° flank.
const sqrt3 = 1.73205080756887729352744634150587236694280525381038

// H returns the height of the fundamental triangle, (√3/2) P, mm, after
// ISO 68-1. Like all figures of the profile it is of full precision and has
// meaning for a valid thread only.
func (t Thread) H() float64 { return sqrt3 / 2 * t.P }

// PitchDiameter returns the basic pitch diameter d2 = D2 = d - 3H/4, mm, after
// ISO 724.
func (t Thread) PitchDiameter() float64 { return t.D - 3*t.H()/4 }

// MinorDiameter returns the basic minor diameter D1 = d1 = d - 5H/4, mm, after
// ISO 724. It is the bore of an internal thread.
func (t Thread) MinorDiameter() float64 { return t.D - 5*t.H()/4 }

// RootDiameter returns the minor diameter of the external thread at its
// rounded root, d3 = d1 - H/6 = d - 17H/12, mm, as ISO 898-1 has it for the
// stress area. ISO 68-1 and ISO 724 do not go below d1, which is why the source
// of d3 is [SourceRoot] wherever it is shown.
func (t Thread) RootDiameter() float64 { return t.D - 17*t.H()/12 }

// Depth returns the depth of the external thread h3 = 17H/24 = 0.61343 P, mm,
// half the difference of d and d3.
func (t Thread) Depth() float64 { return 17 * t.H() / 24 }

// InternalDepth returns the depth of the internal thread H1 = 5H/8 =
// 0.54127 P, mm, half the difference of D and D1. It is also the depth of
// overlap of bolt and nut.
func (t Thread) InternalDepth() float64 { return 5 * t.H() / 8 }

// StressArea returns the nominal stress area As = π/4 ((d2 + d3)/2)², mm²,
// after ISO 898-1. It is of full precision, from unrounded diameters.
func (t Thread) StressArea() float64 {
	d := (t.PitchDiameter() + t.RootDiameter()) / 2
	return math.Pi / 4 * d * d
}

// Round3 rounds a diameter in mm to three decimals, halves away from zero, as
// ISO 724 prints it.
func Round3(x float64) float64 { return math.Round(x*1000) / 1000 }

// RoundArea rounds an area in mm² to three significant figures, as ISO 898-1
// prints stress areas.
func RoundArea(x float64) float64 {
	// The text form rounds in decimal, which dividing by a power of ten does not.
	r, err := strconv.ParseFloat(strconv.FormatFloat(x, 'e', 2, 64), 64)
	if err != nil {
		return x
	}
	return r
}
