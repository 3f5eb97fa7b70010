package thread

import (
	"cmp"
	"slices"
)

type runOut struct {
	p     float64
	x, xs float64 // run-out, normal and short
	a, as float64 // last full thread to head, normal and short
}

// runOuts is ISO 3508:1976. The rows of 0.75, 1.75 and 4.5 up are from memory,
// unverified; the others are partly so.
var runOuts = [...]runOut{
	{0.5, 1.25, 0.7, 1.5, 1},
	{0.6, 1.5, 0.75, 1.8, 1.2},
	{0.7, 1.75, 0.9, 2.1, 1.4},
	{0.75, 1.9, 1, 2.25, 1.5},
	{0.8, 2, 1, 2.4, 1.6},
	{1, 2.5, 1.25, 3, 2},
	{1.25, 3.2, 1.6, 4, 2.5},
	{1.5, 3.8, 1.9, 4.5, 3},
	{1.75, 4.3, 2.2, 5.3, 3.5},
	{2, 5, 2.5, 6, 4},
	{2.5, 6.3, 3.2, 7.5, 5},
	{3, 7.5, 3.8, 9, 6},
	{3.5, 9, 4.5, 10.5, 7},
	{4, 10, 5, 12, 8},
	{4.5, 11, 5.5, 13.5, 9},
	{5, 12.5, 6.3, 15, 10},
	{5.5, 14, 7, 16.5, 11},
	{6, 15, 7.5, 18, 12},
}

// runOut returns the row for the pitch of t, made by rule when there is none.
func (t Thread) runOut() runOut {
	i, ok := slices.BinarySearchFunc(runOuts[:], t.P, func(r runOut, p float64) int { return cmp.Compare(r.p, p) })
	if !ok {
		return runOut{t.P, 2.5 * t.P, 1.25 * t.P, 3 * t.P, 2 * t.P}
	}
	return runOuts[i]
}

// RunOut returns the greatest normal run-out x of an external thread, mm,
// after ISO 3508:1976: about 2.5 P, and exactly that for a pitch that is not in
// the table. The rows of the pitches 0.75, 1.75 and 4.5 up are from memory,
// unverified; the others are partly so.
func (t Thread) RunOut() float64 { return t.runOut().x }

// RunOutShort returns the greatest short run-out x, mm, after ISO 3508:1976:
// about 1.25 P. It holds only where it is stated. Status as for
// [Thread.RunOut].
func (t Thread) RunOutShort() float64 { return t.runOut().xs }

// HeadDistance returns the greatest distance a, mm, from the last full thread
// to the head of a screw threaded up to the head, after ISO 3508:1976, normal
// series: about 3 P. Status as for [Thread.RunOut].
func (t Thread) HeadDistance() float64 { return t.runOut().a }

// HeadDistanceShort returns the distance a, mm, of the short series of
// ISO 3508:1976: 2 P. Status as for [Thread.RunOut].
func (t Thread) HeadDistanceShort() float64 { return t.runOut().as }
