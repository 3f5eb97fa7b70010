package fastener_test

import (
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boltplate/fastener"
)

// numbers returns the sizes of a fit by their names.
func numbers(v reflect.Value, name string, to map[string]float64) {
	switch v.Kind() {
	case reflect.Float64:
		to[name] = v.Float()
	case reflect.Struct:
		for i := range v.NumField() {
			numbers(v.Field(i), name+"."+v.Type().Field(i).Name, to)
		}
	}
}

// TestFit: each size of a fit is one of the quantities, and what every bolt,
// nut and washer has is there.
func TestFit(t *testing.T) {
	for _, m := range models(t) {
		fit, err := fastener.FitOf(m.f)
		require.NoError(t, err)
		qs, err := m.f.Quantities()
		require.NoError(t, err)
		sizes := map[float64]bool{0: true}
		for _, q := range qs {
			sizes[q.Value] = true
		}
		has := map[string]float64{}
		numbers(reflect.ValueOf(fit), "", has)
		for name, v := range has {
			assert.True(t, sizes[v], "%s: %s = %v is no quantity", m.name, name, v)
		}
		switch {
		case fit.Bolted:
			assert.Positive(t, fit.Length*fit.Thread, m.name)
			assert.Positive(t, fit.Head.Height+fit.Eye.Collar+fit.Eye.Outside+fit.Taper.Large+fit.Metal, m.name)
		case fit.Nut.Height > 0:
			assert.Positive(t, fit.Nut.Bears, m.name)
		default:
			assert.Positive(t, fit.Washer.Hole*fit.Washer.Outside*fit.Washer.Thickness, m.name)
		}
	}
}
