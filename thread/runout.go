package thread

import (
	"cmp"
	"slices"

	"boltplate/rule"
)

type runOut struct {
	p     float64
	x, xs float64 // run-out, normal and short
	a, as float64 // last full thread to head, normal and short

	status rule.Status
}

// runOuts is ISO 3508:1976. Of the rows that are published in part, x was found
// in tables of products that follow it.
var runOuts = [...]runOut{
	{0.5, 1.25, 0.7, 1.5, 1, inPart},
	{0.6, 1.5, 0.75, 1.8, 1.2, inPart},
	{0.7, 1.75, 0.9, 2.1, 1.4, inPart},
	{0.75, 1.9, 1, 2.25, 1.5, fromMemory},
	{0.8, 2, 1, 2.4, 1.6, inPart},
	{1, 2.5, 1.25, 3, 2, inPart},
	{1.25, 3.2, 1.6, 4, 2.5, inPart},
	{1.5, 3.8, 1.9, 4.5, 3, inPart},
	{1.75, 4.3, 2.2, 5.3, 3.5, fromMemory},
	{2, 5, 2.5, 6, 4, inPart},
	{2.5, 6.3, 3.2, 7.5, 5, inPart},
	{3, 7.5, 3.8, 9, 6, inPart},
	{3.5, 9, 4.5, 10.5, 7, inPart},
	{4, 10, 5, 12, 8, inPart},
	{4.5, 11, 5.5, 13.5, 9, fromMemory},
	{5, 12.5, 6.3, 15, 10, fromMemory},
	{5.5, 14, 7, 16.5, 11, fromMemory},
	{6, 15, 7.5, 18, 12, fromMemory},
}

// runOut returns the row for the pitch of t, and whether it is in the table;
// one that is not is made by rule, which is common practice.
func (t Thread) runOut() (runOut, bool) {
	i, ok := slices.BinarySearchFunc(runOuts[:], t.P, func(r runOut, p float64) int { return cmp.Compare(r.p, p) })
	if !ok {
		return runOut{t.P, 2.5 * t.P, 1.25 * t.P, 3 * t.P, 2 * t.P, rule.CommonPractice}, false
	}
	return runOuts[i], true
}

// RunOut returns the greatest normal run-out x of an external thread, mm,
// after ISO 3508:1976: about 2.5 P, and exactly that for a pitch that is not in
// the table. [Thread.Figure] has the rule, source and status of each row.
func (t Thread) RunOut() float64 {
	r, _ := t.runOut()
	return r.x
}

// RunOutShort returns the greatest short run-out x, mm, after ISO 3508:1976:
// about 1.25 P. It holds only where it is stated.
func (t Thread) RunOutShort() float64 {
	r, _ := t.runOut()
	return r.xs
}

// HeadDistance returns the greatest distance a, mm, from the last full thread
// to the head of a screw threaded up to the head, after ISO 3508:1976, normal
// series: about 3 P.
func (t Thread) HeadDistance() float64 {
	r, _ := t.runOut()
	return r.a
}

// HeadDistanceShort returns the distance a, mm, of the short series of
// ISO 3508:1976: 2 P.
func (t Thread) HeadDistanceShort() float64 {
	r, _ := t.runOut()
	return r.as
}
