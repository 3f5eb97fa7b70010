package paint

import (
	"testing"

	d "boltplate/drawing"
	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

var (
	dashed  = []float64{3, 0.75}                           // no. 02 of a line of 0.25 mm: 12 and 3 widths
	chained = []float64{6, 0.75, 0.125, 0.75}              // no. 04: 24, 3, 0.5 and 3
	double  = []float64{6, 0.75, 0.125, 0.75, 0.125, 0.75} // no. 05
)

// TestPatterns are those of ISO 128-2 in widths of the line.
func TestPatterns(t *testing.T) {
	item := func(r d.Role) d.Item { return d.Item{Role: r, Shape: d.Line{To: d.Pt(1000, 0)}} }
	p, err := Paint(&d.Drawing{Style: d.Style{Group: 0.5}, Items: []d.Item{
		item(d.RoleHidden), item(d.RoleCentre), item(d.RoleCutting), item(d.RoleAdjacent), item(d.RoleOutline), item(d.RoleThin), item(d.RoleDimension)}}, false)
	assert.NoError(t, err)
	for r, want := range map[d.Role][]float64{
		d.RoleHidden: dashed, d.RoleCentre: chained, d.RoleCutting: {12, 1.5, 0.25, 1.5}, d.RoleAdjacent: double,
		d.RoleOutline: nil, d.RoleThin: nil, d.RoleDimension: nil,
	} {
		got := p.Sheets[0].Roles[r].Strokes[0].Dashes
		assert.Len(t, got, len(want), "%v", r)
		for i := range want {
			assert.InEpsilon(t, want[i], got[i], 0.02, "%v: the long dash is stretched a little, and nothing else", r)
			if i > 0 {
				assert.Equal(t, want[i], got[i], "%v", r)
			}
		}
	}
}

// Dashes that are nothing make no line of a file that readers choke on.
func TestPatternOfNothing(t *testing.T) {
	dr := &d.Drawing{Style: d.Style{Group: 1e-5}, Items: []d.Item{{Role: d.RoleHidden, Shape: d.Line{To: d.Pt(10, 0)}}}}
	p, err := Paint(dr, false)
	assert.NoError(t, err)
	assert.Nil(t, p.Sheets[0].Roles[d.RoleHidden].Strokes[0].Dashes)
}

func TestDashesFit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pattern := rapid.SampledFrom([][]float64{dashed, chained, double}).Draw(t, "pattern")
		length := rapid.Float64Range(0.01, 400).Draw(t, "length")
		closed := rapid.Bool().Draw(t, "closed")
		got := fit(pattern, length, closed)
		if got == nil {
			assert.Less(t, length, 4*pattern[0], "only short lines are continuous")
			return
		}
		period := 0.0
		for _, e := range got {
			period += e
		}
		repeats := length / period
		if !closed {
			repeats = (length - got[0]) / period // and a last dash
		}
		n := float64(int(repeats + 0.5))
		assert.InDelta(t, n, repeats, 1e-9, "whole repeats")
		assert.GreaterOrEqual(t, n, 1.0)
		if !closed && len(pattern) > 2 {
			assert.Zero(t, int(n)%2, "the middle is on a dash")
		}
		assert.Equal(t, pattern[1:], got[1:])
		if length > 60 {
			assert.InEpsilon(t, pattern[0], got[0], 0.35)
		}
	})
}

func TestShortLines(t *testing.T) {
	assert.Nil(t, fit(dashed, 1, false))
	assert.Equal(t, []float64{1, 0.75}, fit(dashed, 2.75, false), "a hidden line of less than a dash still has a gap")
	assert.Nil(t, fit(chained, 6, false), "short centre lines are continuous")
	assert.Equal(t, []float64{3, 0.75, 0.125, 0.75}, fit(chained, 3*3+2*1.625, false))
	assert.Equal(t, []float64{1.25, 0.75}, fit(dashed, 4, true), "a small circle has two gaps")
	assert.Equal(t, []float64{6, 0.75, 0.125, 0.75}, fit(chained, 3*6+2*1.625, false), "as the standard has it")
	assert.Equal(t, []float64{3, 0.75}, fit(dashed, 5*3+4*0.75, false))
}
