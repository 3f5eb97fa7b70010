package command

import (
	"testing"

	"github.com/stretchr/testify/require"

	"boltplate/drawing/sheet"
	"boltplate/fastener"
	"boltplate/thread"
)

// TestStepsTitle: the title of every kind in every form, with every nut and
// washer, has its place.
func TestStepsTitle(t *testing.T) {
	n := 0
	try := func(s fastener.Spec) {
		f, err := fastener.New(s)
		if err != nil {
			return // what a kind does not have
		}
		n++
		p := sheet.Plate{Title: stepsTitle(f)}
		_, err = p.Sheets(t.Context())
		require.NoError(t, err, f.Designation())
	}
	for _, k := range fastener.Kinds() {
		base := fastener.Spec{Kind: k.Name, Thread: thread.MustParse("M42"), Basis: fastener.Standard}
		if k.Length {
			base.Length = 300
		}
		for _, basis := range []fastener.Basis{fastener.Proportion, fastener.Standard} {
			base.Basis = basis
			try(base)
			for _, o := range k.Options {
				for _, w := range o.Choices {
					s := base
					switch o.Name {
					case "neck":
						s.Neck = w
					case "form":
						s.Form = w
					case "nut":
						s.Nut, s.Grip = w, 200
						try(s)
						for _, washer := range []string{"plain", "spring", "chamfered", "grade-c", "large"} {
							s.Washer = washer
							try(s)
						}
						continue
					default:
						continue
					}
					try(s)
					s.Nut, s.Washer, s.Grip = "castle", "grade-c", 200
					try(s)
				}
			}
		}
	}
	require.Greater(t, n, 200)
}
