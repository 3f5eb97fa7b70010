package marking_test

import (
	"bytes"
	"fmt"
	"testing"

	"boltplate/drawing"
	"boltplate/dxfin"
	"boltplate/dxfout"
	"boltplate/fastener"
	"boltplate/fastener/joint"
	"boltplate/marking"
	"boltplate/thread"

	"github.com/stretchr/testify/require"
)

// A sample is a model answer with a name for messages.
type sample struct {
	name string
	d    *drawing.Drawing
}

// specimens returns every kind with every choice of its options, in all views
// that it has.
func specimens(t testing.TB, size string, length float64, change func(i int, o *fastener.DrawOptions)) (out []sample) {
	th := thread.MustParse(size)
	n := 0
	add := func(k fastener.KindInfo, s fastener.Spec) {
		s.Kind, s.Thread = k.Name, th
		if k.Length {
			s.Length = length
		}
		f, err := fastener.New(s)
		if err != nil {
			return
		}
		o := fastener.DrawOptions{Views: k.Views}
		change(n, &o)
		n++
		d, err := fastener.Draw(f, o)
		require.NoError(t, err)
		out = append(out, sample{fmt.Sprintf("%s %s", k.Name, f.Designation()), d})
	}
	for _, k := range fastener.Kinds() {
		add(k, fastener.Spec{})
		for _, o := range k.Options {
			for i, w := range o.Choices {
				s := fastener.Spec{}
				switch o.Name {
				case "form":
					s.Form = w
				case "neck":
					s.Neck = w
				case "angle":
					s.Angle = w
				case "material":
					s.Material = w
				case "taper":
					s.Taper = w
				case "nut":
					s.Nut, s.Grip = w, length*0.6
					if i%2 == 1 {
						s.Washer = "plain"
					}
				default:
					continue
				}
				add(k, s)
			}
		}
	}
	return out
}

// joints returns scenes in section.
func joints(t testing.TB) (out []sample) {
	m16, m20 := thread.MustParse("M16"), thread.MustParse("M20")
	for _, j := range []joint.Joint{
		{Scene: joint.ThroughBolt, Basis: fastener.Standard, Bolt: fastener.Spec{Thread: m16}, Parts: []joint.Part{{Thickness: 20}, {Thickness: 25}}},
		{Scene: joint.Tapped, Basis: fastener.Standard, Bolt: fastener.Spec{Thread: m16, Kind: "hex-screw"}, Parts: []joint.Part{{Name: "Cover", Thickness: 18}, {Name: "Body", Material: "cast iron", Thickness: 60}}},
		{Scene: joint.ThroughBolt, Bolt: fastener.Spec{Thread: m20}, Parts: []joint.Part{{Thickness: 30}, {Thickness: 15}}},
	} {
		full, _, err := j.Complete()
		require.NoError(t, err)
		d, err := joint.Draw(full, drawing.Style{})
		require.NoError(t, err)
		out = append(out, sample{fmt.Sprintf("joint %v %v", j.Scene, j.Bolt.Thread), d})
	}
	return out
}

func encode(t testing.TB, d *drawing.Drawing, v dxfout.Version) []byte {
	b, err := dxfout.Encoder{Version: v}.Append(nil, d)
	require.NoError(t, err)
	return b
}

func marker(t testing.TB, d *drawing.Drawing, opt marking.Options) *marking.Marker {
	m, err := marking.New(marking.Model{Figures: []marking.Figure{{Drawing: d}}}, opt)
	require.NoError(t, err)
	return m
}

func mark(t testing.TB, m *marking.Marker, file []byte) *marking.Result {
	f, err := dxfin.Decode(bytes.NewReader(file))
	require.NoError(t, err)
	r, err := m.Mark(f)
	require.NoError(t, err)
	return r
}

// full reports what is wrong with a result that should have all points.
func full(t testing.TB, r *marking.Result, what string) {
	t.Helper()
	for _, f := range r.Findings {
		t.Errorf("%s: %v: %s", what, f.Kind, f.Text)
	}
	if r.Points != r.Of {
		t.Errorf("%s: %v of %v points", what, r.Points, r.Of)
	}
	for _, v := range r.Views {
		if !v.Found {
			t.Errorf("%s: %s not found", what, v.Name)
		}
	}
}

// TestModelMarksFull: the model answer has all points, of every kind of
// fastener and of joints, in both forms of file.
func TestModelMarksFull(t *testing.T) {
	sizes := []struct {
		size   string
		length float64
	}{{"M20", 90}, {"M8", 40}, {"M42", 200}}
	if testing.Short() {
		sizes = sizes[:1]
	}
	for i, s := range sizes {
		all := specimens(t, s.size, s.length, func(n int, o *fastener.DrawOptions) {
			o.Hidden = (n+i)%2 == 0
			o.Exact = n%3 == 0
			o.Projection = fastener.Projection(n / 2 % 2)
			o.Style.Labels = drawing.Labels(n % 3)
			if i > 0 {
				o.Style.Scale = []float64{0, 2, 0.5}[i]
			}
		})
		if i == 0 {
			all = append(all, joints(t)...)
		}
		for n, s := range all {
			if i > 0 && n%4 != i || testing.Short() && n%8 != 0 {
				continue // the others take turns
			}
			m := marker(t, s.d, marking.Options{})
			full(t, mark(t, m, encode(t, s.d, dxfout.R2000)), s.name)
			full(t, mark(t, m, encode(t, s.d, dxfout.R12)), s.name+", plain")
		}
	}
}
