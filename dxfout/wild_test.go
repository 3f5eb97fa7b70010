package dxfout

import (
	"errors"
	"math"
	"reflect"
	"testing"

	d "boltplate/drawing"
	"boltplate/internal/wild"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A strangeFont has widths that no font has.
type strangeFont struct {
	Of   float64
	Name string
}

func (f strangeFont) Width(s string) float64 { return f.Of * float64(len(s)) }
func (f strangeFont) File() string           { return f.Name }

// kinds are what the interfaces of a drawing can hold.
func kinds() []any {
	return []any{
		d.Line{}, d.Arc{}, d.Circle{}, d.Ellipse{}, d.Conic{}, d.Polyline{}, d.Text{}, d.Hatch{}, d.Cover{},
		d.Linear{}, d.Aligned{}, d.Diameter{}, d.Radius{}, d.Angular{}, d.Leader{}, strangeFont{},
	}
}

// TestAnyValue: whatever the fields of an encoder and a drawing hold, there is
// a file that is whole, or an error and nothing.
func TestAnyValue(t *testing.T) {
	files := 0
	rapid.Check(t, func(t *rapid.T) {
		m := wild.Maker{T: t, Kinds: kinds(), Make: map[reflect.Type]func(*wild.Maker, reflect.Value) bool{
			reflect.TypeFor[Layer]():    (*wild.Maker).Zero,
			reflect.TypeFor[*Layout]():  (*wild.Maker).Zero,
			reflect.TypeFor[d.Font]():   (*wild.Maker).Zero,
			reflect.TypeFor[Viewport](): (*wild.Maker).Zero,
		}}
		var in struct {
			Encoder Encoder
			Drawing *d.Drawing
			Arrange bool
			Role    d.Role
			Line    string
		}
		m.Fill(&in)
		if in.Arrange && in.Drawing != nil {
			for i := range in.Drawing.Views {
				v := &in.Drawing.Views[i].View
				*v = d.Arrange(*v, in.Drawing.Style)
			}
			in.Drawing.Items = d.Arrange(d.View{Items: in.Drawing.Items}, in.Drawing.Style).Items
		}
		file, err := in.Encoder.Append(nil, in.Drawing)
		require.Equal(t, err, in.Encoder.Check(in.Drawing))
		if err != nil {
			var ve *ValueError
			require.True(t, errors.As(err, &ve) || in.Drawing == nil, "%v", err)
			require.NotEmpty(t, err.Error())
			require.Empty(t, file)
			return
		}
		files++
		if in.Encoder.Version == R12 {
			checkPlain(t, file)
		} else {
			checkStructure(t, file)
		}
		st := in.Drawing.Style
		l := in.Encoder.Layers.Layer(in.Role, st)
		for _, v := range LinePattern(l.LineType, st) {
			require.False(t, math.IsNaN(v))
		}
		LineTypeName(in.Line, st)
		_ = in.Encoder.Version.String()
	})
	if !testing.Short() { // of a few random drawings all may be refused
		require.NotZero(t, files)
	}
}
