package thread

import (
	"math"

	"boltplate/rule"
)

// UndercutAngle is the angle, degrees, at which the bottom of an undercut rises to
// the thread (DIN 76-1: at least 30 degrees).
const UndercutAngle = 30.0

// An Undercut is the groove between an external thread and the shoulder that it runs
// up to, mm.
type Undercut struct {
	Diameter float64     // of its bottom, dg
	Width    float64     // from the shoulder to the full thread, at most; g2
	Radius   float64     // at the shoulder, r
	Source   string      // the standard, or the rule where its table has no such pitch
	Status   rule.Status // of the row of the table, or of the rule
}

// Undercut returns the undercut of an external thread by DIN 76-1: form A, which is
// the usual one, or form B, which is short. The table is from memory, unverified; a
// pitch that it does not have follows the rules that it rounds, which is common
// practice: 3.5P wide, short 2.5P, 1.45P less in diameter, with a radius of 0.5P.
func (t Thread) Undercut(short bool) Undercut {
	for _, r := range undercuts {
		if r.p == t.P {
			width := r.g2
			if short {
				width = r.short
			}
			return Undercut{Diameter: Round3(t.D - r.less), Width: width, Radius: r.r, Source: SourceUndercuts, Status: fromMemory}
		}
	}
	times := 3.5
	if short {
		times = 2.5
	}
	return Undercut{Diameter: Round3(t.D - 1.45*t.P), Width: Round3(times * t.P), Radius: Round3(0.5 * t.P),
		Source: "the rules that " + SourceUndercuts + " rounds", Status: rule.CommonPractice}
}

// Floor returns how wide the bottom of the undercut of a thread is: what its slope
// leaves of the width, radius included.
func (u Undercut) Floor(d float64) float64 {
	return u.Width - (d-u.Diameter)/2/math.Tan(UndercutAngle*math.Pi/180)
}

// undercuts is DIN 76-1:2004, from memory, unverified; the floors of its forms come out
// of it by the slope of 30 degrees.
var undercuts = [...]struct {
	p, less   float64 // pitch, and D - dg
	g2, short float64
	r         float64
}{
	{0.5, 0.8, 1.75, 1.25, 0.2}, {0.7, 1.1, 2.45, 1.75, 0.4}, {0.75, 1.2, 2.6, 1.9, 0.4}, {0.8, 1.3, 2.8, 2, 0.4},
	{1, 1.6, 3.5, 2.5, 0.6}, {1.25, 2, 4.4, 3.2, 0.6}, {1.5, 2.3, 5.2, 3.8, 0.8}, {1.75, 2.6, 6.1, 4.3, 1},
	{2, 3, 7, 5, 1}, {2.5, 3.6, 8.7, 6.3, 1.2}, {3, 4.4, 10.5, 7.5, 1.6}, {3.5, 5, 12, 9, 1.6}, {4, 5.7, 14, 10, 2},
	{4.5, 6.4, 16, 11, 2}, {5, 7, 17.5, 12.5, 2.5}, {5.5, 7.7, 19, 14, 3.2}, {6, 8.3, 21, 15, 3.2},
}
