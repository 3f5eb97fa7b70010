package schedule

import (
	"fmt"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boltplate/drawing"
	"boltplate/dxfout"
	"boltplate/fastener"
)

// The demo has every kind, every choice of every option and every view, and all
// of its rows draw.
func TestDemo(t *testing.T) {
	f, err := os.Open("../../testdata/schedules/sluice-gate.csv")
	require.NoError(t, err)
	defer f.Close()
	r, err := NewReader(f, "sluice-gate.csv")
	require.NoError(t, err)
	seen := make(map[string]bool)
	for row, err := range r.Rows() {
		require.NoError(t, err)
		d, err := row.Draw()
		require.NoError(t, err, row.Mark)
		_, err = dxfout.Encoder{}.Append(nil, d)
		require.NoError(t, err, row.Mark)
		s := row.Spec
		for _, v := range []any{s.Kind, s.Basis, s.Governs, row.Options.Style.Labels, row.Options.Projection} {
			seen[fmt.Sprint(v)] = true
		}
		for option, word := range map[string]string{"form": s.Form, "neck": s.Neck, "angle": s.Angle, "material": s.Material, "taper": s.Taper, "widths": s.Widths, "nut": s.Nut, "washer": s.Washer} {
			seen[option+" "+word], seen[s.Kind+" "+option+" "+word] = true, true
		}
		seen[fmt.Sprint("hidden ", row.Options.Hidden)], seen[fmt.Sprint("exact ", row.Options.Exact)] = true, true
		seen[fmt.Sprint("section ", row.Options.Section)] = true
		for _, v := range row.Options.Views {
			seen["view "+v.String()] = true
		}
	}
	for _, k := range fastener.Kinds() {
		assert.True(t, seen[k.Name], "no %s", k.Name)
		for _, o := range k.Options {
			if o.Name == "form" || o.Name == "neck" { // the usual one need not be named
				for _, w := range o.Choices[1:] {
					assert.True(t, w == "plain" || seen[k.Name+" "+o.Name+" "+w], "no %s with %s %s", k.Name, o.Name, w)
				}
			}
		}
		for _, v := range k.Views {
			assert.True(t, seen["view "+v.String()], "no view %s", v)
		}
	}
	for _, want := range []any{
		fastener.Proportion, fastener.Standard, fastener.Corners, fastener.Flats, fastener.FirstAngle, fastener.ThirdAngle,
		drawing.Numbers, drawing.Rules, drawing.Letters, drawing.NoLabels,
		"nut hex", "nut thin", "nut square", "nut castle", "nut cap", "nut wing", "nut lock", "washer plain", "washer spring", "washer chamfered", "widths din",
		"neck square", "neck snug", "neck pin", "neck pin-along", "neck nibs", "neck collar", "angle 60", "taper 1:30",
		"material steel", "material cast-iron", "material aluminium", "material soft-alloy", "hidden true", "exact true", "section true",
	} {
		assert.True(t, seen[fmt.Sprint(want)], "no %v", want)
	}
}
