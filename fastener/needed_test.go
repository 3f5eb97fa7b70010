package fastener_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"boltplate/drawing"
	"boltplate/fastener"
)

// derived are sizes that a drawing need not give, by the start of their name,
// with what they follow from.
func derived() map[string]string {
	return map[string]string{
		"land under the crown":     "height, radius and diameter of the head",
		"pitch":                    "the designation of the thread (ISO 6410-1)",
		"root diameter":            "the thread",
		"minor diameter":           "the thread",
		"thread run-out":           "the thread (ISO 3508)",
		"run-out of":               "the thread (ISO 3508)",
		"point chamfer":            "the thread: down to its root (ISO 4753)",
		"last full thread":         "the thread runs out there (ISO 3508)",
		"chamfer circle diameter":  "the width across flats",
		"chamfer arc radius":       "width and chamfer, by construction",
		"width across corners":     "the width across flats, of a square",
		"depth of the slots":       "H - H1",
		"number of slots":          "stands before their width",
		"thread beyond the nut":    "length, grip and nut",
		"thickness of the pair":    "both nuts",
		"nominal diameter":         "a washer is for it",
		"small end diameter":       "large end, taper and length",
		"cone angle":               "the taper",
		"centre of the eye to":     "radius and fillet",
		"angle of the cone at the": "left by the drill",
		"inset of the centre":      "radius and height of the head",
		"split pin diameter":       "stands with the pin (ISO 1234); without it the slots are for it",
	}
}

// notYet are sizes that the usual views do not show.
func notYet() []string {
	return nil
}

// TestNeededSizes: every size that a part is made by is dimensioned in its usual
// views, or follows from those that are.
func TestNeededSizes(t *testing.T) {
	for _, m := range models(t) {
		if strings.Contains(m.name, "+") {
			continue // the nut's own drawing gives the sizes of a nut
		}
		d, err := fastener.Draw(m.f, fastener.DrawOptions{})
		require.NoError(t, err)
		var has []string
		for _, v := range d.Views {
			for _, it := range v.View.Items {
				drawing.Relabel(it.Shape, func(l drawing.Label) drawing.Label {
					has = append(has, l.Quantity.Letter)
					return l
				})
			}
		}
		qs, err := m.f.Quantities()
		require.NoError(t, err)
		for _, q := range qs {
			needed := !slices.ContainsFunc(notYet(), func(s string) bool { return strings.HasPrefix(q.Name, s) })
			for name := range derived() {
				needed = needed && !strings.HasPrefix(q.Name, name)
			}
			if needed && !slices.Contains(has, q.Letter) {
				t.Errorf("%s: %s, %s, has no dimension", m.name, q.Letter, q.Name)
			}
		}
	}
}
