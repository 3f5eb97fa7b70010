package thread

import (
	"math"
	"slices"

	"boltplate/rule"
)

// um is a figure of a tolerance table, µm, with its status.
type um struct {
	v      int
	status rule.Status
}

// mem marks a figure that is from memory.
func mem(v int) um { return um{v, fromMemory} }

// pub marks one that was found in a published table.
func pub(v int) um { return um{v, published} }

// pitchTol holds what ISO 965-1:1998 gives by pitch.
type pitchTol struct {
	p       float64
	e, f, g um // size of the fundamental deviation es, negative for bolts; g is also EI of G; 0: none held
	td, td1 um // tolerance grade 6 of the major diameter of bolts, of the minor diameter of nuts
}

// pitchTols is ISO 965-1:1998, tables of fundamental deviations and of crest
// diameter tolerances. Td and TD1 of the pitches from 1.5 up agree with
// ISO 965-4:1998 and ISO 965-5:1998, Td of the others and g with published
// limits of 6g.
var pitchTols = [...]pitchTol{
	{0.35, mem(0), mem(34), pub(19), pub(85), mem(100)},
	{0.5, mem(50), mem(36), pub(20), pub(106), mem(140)},
	{0.6, mem(53), mem(36), pub(21), pub(125), mem(160)},
	{0.7, mem(56), mem(38), pub(22), pub(140), mem(180)},
	{0.75, mem(56), mem(38), pub(22), pub(140), mem(190)},
	{0.8, mem(60), mem(38), pub(24), pub(150), mem(200)},
	{1, mem(60), mem(40), pub(26), pub(180), mem(236)},
	{1.25, mem(63), mem(42), pub(28), pub(212), mem(265)},
	{1.5, mem(67), mem(45), pub(32), pub(236), pub(300)},
	{1.75, mem(71), mem(48), mem(34), pub(265), pub(335)},
	{2, mem(71), mem(52), pub(38), pub(280), pub(375)},
	{2.5, mem(80), mem(58), pub(42), pub(335), pub(450)},
	{3, mem(85), mem(63), pub(48), pub(375), pub(500)},
	{3.5, mem(90), mem(70), pub(53), pub(425), pub(560)},
	{4, mem(95), mem(75), pub(60), pub(475), pub(600)},
	{4.5, mem(100), mem(80), pub(63), pub(500), pub(670)},
	{5, mem(106), mem(85), pub(71), pub(530), pub(710)},
	{5.5, mem(112), mem(90), pub(75), pub(560), pub(750)},
	{6, mem(118), mem(95), pub(80), pub(600), pub(800)},
}

// diameterTol holds the pitch diameter tolerances of grade 6 for diameters over
// one limit up to and including another.
type diameterTol struct {
	over, upto float64
	p          float64
	bolt, nut  um // Td2, TD2
}

// diameterTols is ISO 965-1:1998, tables of pitch diameter tolerances. Those
// of the coarse threads agree with published limits, and so do Td2 of the fine
// pitches up to 22.4 mm.
var diameterTols = [...]diameterTol{
	{2.8, 5.6, 0.35, pub(67), mem(90)},
	{2.8, 5.6, 0.5, pub(75), pub(100)},
	{2.8, 5.6, 0.6, pub(85), pub(112)},
	{2.8, 5.6, 0.7, pub(90), pub(118)},
	{2.8, 5.6, 0.75, mem(90), pub(118)},
	{2.8, 5.6, 0.8, pub(95), pub(125)},
	{5.6, 11.2, 0.75, pub(100), mem(132)},
	{5.6, 11.2, 1, pub(112), pub(150)},
	{5.6, 11.2, 1.25, pub(118), pub(160)},
	{5.6, 11.2, 1.5, pub(132), pub(180)},
	{11.2, 22.4, 1, mem(118), mem(160)},
	{11.2, 22.4, 1.25, pub(132), mem(180)},
	{11.2, 22.4, 1.5, pub(140), mem(190)},
	{11.2, 22.4, 1.75, pub(150), pub(200)},
	{11.2, 22.4, 2, pub(160), pub(212)},
	{11.2, 22.4, 2.5, pub(170), pub(224)},
	{22.4, 45, 1, mem(125), mem(170)},
	{22.4, 45, 1.5, mem(150), mem(200)},
	{22.4, 45, 2, mem(170), mem(224)},
	{22.4, 45, 3, pub(200), pub(265)},
	{22.4, 45, 3.5, pub(212), pub(280)},
	{22.4, 45, 4, pub(224), pub(300)},
	{22.4, 45, 4.5, pub(236), pub(315)},
	{45, 90, 1.5, mem(160), mem(212)},
	{45, 90, 2, mem(180), mem(236)},
	{45, 90, 3, mem(212), mem(280)},
	{45, 90, 4, mem(236), mem(315)},
	{45, 90, 5, pub(250), pub(335)},
	{45, 90, 5.5, pub(265), pub(355)},
	{45, 90, 6, pub(280), pub(375)},
}

// r40 is a decade of the series of preferred numbers R 40 of ISO 3.
var r40 = [...]int{
	100, 106, 112, 118, 125, 132, 140, 150, 160, 170, 180, 190, 200, 212, 224, 236, 250, 265, 280, 300,
	315, 335, 355, 375, 400, 425, 450, 475, 500, 530, 560, 600, 630, 670, 710, 750, 800, 850, 900, 950,
}

// A quantity is what a tolerance is of.
type quantity uint8

const (
	majorOfBolt quantity = iota // Td
	pitchOfBolt                 // Td2
	minorOfNut                  // TD1
	pitchOfNut                  // TD2
)

// gradeStatus says how far the step from grade 6 to another can be trusted:
// grade 4 of Td2 agrees with limits of ASME B1.13M for 4g6g, grades 4 and 5 of
// TD2 with a published table; the others are from memory.
var gradeStatus = map[quantity]map[int]rule.Status{
	majorOfBolt: {4: fromMemory, 6: published, 8: fromMemory},
	pitchOfBolt: {3: fromMemory, 4: rule.Derived, 5: fromMemory, 6: published, 7: fromMemory, 8: fromMemory, 9: fromMemory},
	minorOfNut:  {4: fromMemory, 5: fromMemory, 6: published, 7: fromMemory, 8: fromMemory},
	pitchOfNut:  {4: rule.Derived, 5: rule.Derived, 6: published, 7: fromMemory, 8: fromMemory},
}

// leastPitch returns the pitch from which on a grade is held, mm. From memory.
func leastPitch(q quantity, grade int) float64 {
	switch {
	case grade >= 8:
		return 0.8
	case grade == 7 && (q == minorOfNut || q == pitchOfNut):
		return 0.5
	}
	return 0
}

// ofGrade returns the tolerance of another grade: one grade is a factor of
// 1.25, which is four steps of R 40, to which the tolerances are rounded. (ISO
// 965-1:1998 gives the factors 0.5, 0.63, 0.8, 1, 1.25, 1.6 and 2 for the
// grades 3 to 9; from memory.) It reports false for a grade that is not held
// for the quantity.
func (t um) ofGrade(q quantity, grade int) (um, bool) {
	status, ok := gradeStatus[q][grade]
	if !ok {
		return um{}, false
	}
	if grade == 6 {
		return t, true
	}
	decade, v := 0, t.v
	for ; v < 100; v *= 10 {
		decade--
	}
	i, _ := slices.BinarySearch(r40[:], v)
	i += 4*(grade-6) + 40*(decade+3)
	x := float64(r40[i%40]) * math.Pow10(i/40-3)
	return um{int(math.RoundToEven(x)), rule.Weakest(t.status, status)}, true
}
