package fastener_test

import (
	"fmt"
	"math"
	"sync"
	"testing"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/thread"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestDrawer: a Drawer draws what Draw draws, the first time and when it has the part,
// with whatever caption, from many goroutines, and after it has thrown parts away.
func TestDrawer(t *testing.T) {
	var w fastener.Drawer
	var all []fastener.Fastener
	for _, d := range []float64{5, 12, 20, 42} {
		for _, basis := range []fastener.Basis{fastener.Proportion, fastener.Standard} {
			all = append(all, specimens(t, d, 5*d, basis)...)
		}
	}
	require.Greater(t, len(all), 600, "more than it keeps")
	options := func(i, turn int) fastener.DrawOptions {
		opt := drawOptions(all[i], i, i%len(viewSets()))
		opt.Legend, opt.Construction, opt.Details = i%2 == 0, i%5 == 0, i%3 == 0
		if turn%2 == 1 {
			opt.Caption = nil
		}
		opt.Properties = []drawing.Property{{Key: "turn", Value: fmt.Sprint(turn)}}
		return opt
	}
	var wg sync.WaitGroup
	for g := range 4 {
		wg.Go(func() {
			for n := range len(all) {
				i := (n + g*7) % len(all)
				for turn := range 3 {
					opt := options(i, turn+g)
					want, err := fastener.Draw(all[i], opt)
					got, err2 := w.Draw(all[i], opt)
					if assert.Equal(t, err, err2) && err == nil && !assert.ObjectsAreEqual(want, got) {
						assert.Fail(t, "another drawing", "%s %d", all[i].Designation(), turn)
					}
				}
				if testing.Short() && n > 60 {
					return
				}
			}
		})
	}
	wg.Wait()
}

// What cannot be a key, or is none, is drawn all the same.
func TestDrawerOfAnything(t *testing.T) {
	var w fastener.Drawer
	_, err := w.Draw(nil, fastener.DrawOptions{})
	assert.Error(t, err)
	bolt := fastener.HexBolt{Thread: thread.MustParse("M16"), Length: 80}
	for _, f := range []fastener.Fastener{&bolt, odd{bolt, []int{1}}} {
		want, err := fastener.Draw(f, fastener.DrawOptions{})
		require.NoError(t, err)
		got, err := w.Draw(f, fastener.DrawOptions{})
		require.NoError(t, err)
		assert.Equal(t, want, got)
	}
	// One that is changed in between.
	for _, length := range []float64{80, 100} {
		changed := bolt
		for _, f := range []fastener.Fastener{&changed, fastener.Bolted{Bolt: &changed, Nut: &fastener.HexNut{Thread: bolt.Thread}, Grip: 40}} {
			changed.Length = 60
			_, _ = w.Draw(f, fastener.DrawOptions{})
			changed.Length = length
			want, err := fastener.Draw(f, fastener.DrawOptions{})
			got, err2 := w.Draw(f, fastener.DrawOptions{})
			assert.Equal(t, err, err2)
			assert.Equal(t, want, got)
		}
	}
	got, err := (*fastener.Drawer)(nil).Draw(bolt, fastener.DrawOptions{})
	require.NoError(t, err)
	want, err := fastener.Draw(bolt, fastener.DrawOptions{})
	require.NoError(t, err)
	assert.Equal(t, want, got)
	for range 3 {
		_, err = w.Draw(fastener.HexBolt{Thread: thread.MustParse("M16"), Length: math.NaN()}, fastener.DrawOptions{})
		assert.Error(t, err)
	}
	_, err = w.Draw(bolt, fastener.DrawOptions{Views: []drawing.Direction{77}})
	assert.Error(t, err)
}

// odd is a fastener that cannot be compared.
type odd struct {
	fastener.HexBolt
	more []int
}
