package paint_test

import (
	"errors"
	"reflect"
	"testing"

	"boltplate/drawing/pdf"
	"boltplate/drawing/svg"
	"boltplate/internal/wild"

	d "boltplate/drawing"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A strangeFont has widths that no font has.
type strangeFont struct{ Of float64 }

func (f strangeFont) Width(s string) float64 { return f.Of * float64(len(s)) }

// TestAnyValue: whatever the fields of the encoders and of drawings hold, there
// are files that can be read, or errors and nothing.
func TestAnyValue(t *testing.T) {
	files := 0
	kinds := []any{
		d.Line{}, d.Arc{}, d.Circle{}, d.Ellipse{}, d.Conic{}, d.Polyline{}, d.Text{}, d.Hatch{}, d.Cover{},
		d.Linear{}, d.Aligned{}, d.Diameter{}, d.Radius{}, d.Angular{}, d.Leader{}, strangeFont{},
	}
	rapid.Check(t, func(t *rapid.T) {
		m := wild.Maker{T: t, Kinds: kinds, Make: map[reflect.Type]func(*wild.Maker, reflect.Value) bool{
			reflect.TypeFor[d.Font](): (*wild.Maker).Zero,
		}}
		var in struct {
			SVG      svg.Encoder
			PDF      pdf.Encoder
			Drawings []*d.Drawing
		}
		m.Fill(&in)
		in.SVG.Width, in.SVG.Height, in.SVG.Origin, in.SVG.Boxes = in.PDF.Width, in.PDF.Height, in.PDF.Origin, in.PDF.Boxes
		for _, dr := range in.Drawings {
			if dr == nil {
				continue
			}
			for i := range dr.Views {
				dr.Views[i].View = d.Arrange(dr.Views[i].View, dr.Style)
			}
			dr.Items = d.Arrange(d.View{Items: dr.Items}, dr.Style).Items
		}
		var all error
		for _, dr := range in.Drawings {
			s, err := in.SVG.Append(nil, dr)
			if err != nil {
				require.Empty(t, s)
				require.NotEmpty(t, err.Error())
				all = err
				continue
			}
			files++
			readSVG(t, s)
		}
		p, err := in.PDF.AppendPages(nil, in.Drawings...)
		if err != nil {
			var ve *d.ValueError
			require.True(t, errors.As(err, &ve) || len(in.Drawings) == 0, "%v", err)
			require.Empty(t, p)
			return
		}
		require.NoError(t, all, "what PDF holds SVG holds")
		require.Len(t, readPDF(t, p), len(in.Drawings))
	})
	if !testing.Short() { // of a few random drawings all may be refused
		require.NotZero(t, files)
	}
}
