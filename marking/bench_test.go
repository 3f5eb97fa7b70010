package marking_test

import (
	"bytes"
	"math/rand/v2"
	"testing"

	"boltplate/dxfin"
	"boltplate/dxfout"
	"boltplate/marking"

	"github.com/stretchr/testify/require"
)

// BenchmarkForty marks a class: forty submissions of three views with random
// faults, read from their files, on one core.
func BenchmarkForty(b *testing.B) {
	plate := plates(b)[0]
	m := marker(b, plate.d, marking.Options{})
	var files [][]byte
	for i := range 40 {
		k := &maker{Rand: rand.New(rand.NewPCG(uint64(i), 1)), d: clone(plate.d), paper: 1, took: map[[2]int]bool{}, lines: map[int]bool{}, kinds: map[int]bool{}, want: map[marking.Kind]int{}}
		for range 4 {
			k.families()[k.IntN(10)](k.views()[k.IntN(3)])
		}
		files = append(files, encode(b, k.d, dxfout.Version(i%2)))
	}
	for b.Loop() {
		for _, file := range files {
			f, err := dxfin.Decode(bytes.NewReader(file))
			require.NoError(b, err)
			_, err = m.Mark(f)
			require.NoError(b, err)
		}
	}
}
