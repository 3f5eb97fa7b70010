// Package exercise gives each student of a class other data: it deals cards,
// such as the sizes that a figure may have, by a seed and the student's place in
// the list, and it hides faults in joints, one in each.
//
// Nothing but a seed and a place goes in: no names, and nothing of the others in
// the list. The same seed and place give the same card in every version of the
// program, so that a sheet that was handed out can be marked a year later.
package exercise

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
)

// Deal returns which of several cards, from 0, the student at a place of the
// list has, places counted from 0. A deck is what is dealt, such as "figure 1":
// every deck of a seed is shuffled in its own way.
//
// Cards are dealt in turn until all are dealt, and then again in the same order:
// as long as there are two cards neighbours have different ones, and each card
// is dealt about equally often. Where there is no card, or no such place, it is -1.
func Deal(seed, deck string, cards, place int) int {
	if cards < 1 || place < 0 {
		return -1
	}
	return Shuffle(seed, deck, cards)[place%cards]
}

// Shuffle returns the numbers below cards in the order in which they are dealt.
func Shuffle(seed, deck string, cards int) []int {
	order := make([]int, max(0, cards))
	for i := range order {
		order[i] = i
	}
	// The draws come from a hash, not from a generator of the library, whose
	// numbers may change.
	draw := func(i int) int {
		sum := sha256.Sum256(fmt.Appendf(nil, "%q %q %d %d", seed, deck, cards, i))
		return int(binary.BigEndian.Uint64(sum[:8]) % uint64(i+1))
	}
	for i := cards - 1; i > 0; i-- {
		j := draw(i)
		order[i], order[j] = order[j], order[i]
	}
	return order
}
