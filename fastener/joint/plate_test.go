package joint

import (
	"context"
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boltplate/drawing"
	"boltplate/drawing/sheet"
	"boltplate/internal/clash"
)

// TestPlatesOfJoints: random joints, right and wrong, stand on sheets of any size
// with one list: nothing touches, none is lost, every finding and the number of
// every part is there; a question says nothing of what was found.
func TestPlatesOfJoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := sheet.Plate{Pages: sheet.AsNeeded,
			Format: sheet.Format{Size: rapid.SampledFrom(sheet.Sizes()).Draw(t, "size"),
				Orientation: sheet.Orientation(rapid.IntRange(0, 2).Draw(t, "orientation"))},
			Exercise: sheet.Exercise(rapid.IntRange(0, 2).Draw(t, "exercise"))}
		var all []*Settled
		for range rapid.IntRange(1, 4).Draw(t, "joints") {
			s, err := anyJoint(t).Settle()
			var field *FieldError
			if errors.As(err, &field) {
				continue
			}
			require.NoError(t, err)
			all = append(all, s)
			p.Figures = append(p.Figures, sheet.Figure{Source: s, Caption: string(s.Joint.Scene)})
		}
		if len(all) == 0 {
			t.Skip()
		}
		pages, err := p.Sheets(context.Background())
		var fit *sheet.FitError
		if errors.As(err, &fit) {
			require.Contains(t, err.Error(), "does not fit") // and which, and where it would
			t.Skip()
		}
		require.NoError(t, err)
		var texts []string
		shown := 0
		for _, page := range pages {
			for _, msg := range clash.Find(page.Drawing) {
				if strings.Contains(msg, `runs through text "\u00a0`) {
					continue // the room for an answer at a small hook: still room to write
				}
				t.Errorf("%s", msg)
			}
			for _, v := range page.Drawing.Views {
				if v.View.Name == "section" {
					shown++
				}
				for _, it := range v.View.Items {
					if s, ok := it.Shape.(drawing.Text); ok {
						texts = append(texts, s.Value)
					}
				}
			}
			for _, it := range page.Drawing.Items {
				if s, ok := it.Shape.(drawing.Text); ok {
					texts = append(texts, s.Value)
				}
			}
		}
		require.Equal(t, len(all), shown)
		text := strings.Join(texts, "\n")
		for _, s := range all {
			for _, f := range s.Findings {
				said := strings.Contains(text, string(f.Code)+":")
				require.Equal(t, p.Exercise != sheet.Question, said, "%s\n%s", f, text)
			}
		}
	})
}
