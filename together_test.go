package boltplate_test

import (
	"bytes"
	"context"
	"fmt"
	"sync"
	"testing"

	"boltplate/drawing"
	"boltplate/drawing/pdf"
	"boltplate/drawing/sheet"
	"boltplate/drawing/svg"
	"boltplate/dxfin"
	"boltplate/dxfout"
	"boltplate/fastener"
	"boltplate/fastener/joint"
	"boltplate/marking"
	"boltplate/settings"
	"boltplate/thread"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestTogether: many goroutines draw, settle, compose, encode, read and mark at once,
// from the same values, and every one gets the bytes that one alone gets. It is worth
// most under the race detector.
func TestTogether(t *testing.T) {
	rules := func() *fastener.Rules {
		text, _ := settings.Ruleset("textbook")
		r, err := settings.ReadRules("textbook", text)
		require.NoError(t, err)
		return r
	}()
	bolt := fastener.HexBolt{Thread: thread.MustParse("M16"), Length: 80, Extra: fastener.Extra{Rules: rules}}
	nut := fastener.CastleNut{Thread: thread.MustParse("M16")}
	stud, err := settings.ReadJoint(settings.Files, "examples/joints/stud.toml")
	require.NoError(t, err)
	settled, err := stud.Settle()
	require.NoError(t, err)
	plate := sheet.Plate{Format: sheet.Format{Size: sheet.A3}, Style: drawing.Style{Labels: drawing.Letters}, Figures: []sheet.Figure{
		{Caption: "Bolt", Source: fastener.Figure{Fastener: bolt}}, {Caption: "Nut", Source: fastener.Figure{Fastener: nut}},
		{Caption: "Joint", Source: settled}}}
	layers, err := settings.ReadLayers("office.toml", "", dxfout.R2000)
	require.NoError(t, err)
	answer, err := fastener.Draw(bolt, fastener.DrawOptions{})
	require.NoError(t, err)
	var file bytes.Buffer
	require.NoError(t, dxfout.Encode(&file, answer))
	marker, err := marking.New(marking.Model{Figures: []marking.Figure{{Drawing: answer}}}, marking.Options{})
	require.NoError(t, err)

	work := []func(w *bytes.Buffer) error{
		func(w *bytes.Buffer) error { return dxfout.Encoder{Layers: layers}.Encode(w, answer) },
		func(w *bytes.Buffer) error { return dxfout.Encoder{Version: dxfout.R12}.Encode(w, answer) },
		func(w *bytes.Buffer) error { return svg.Encode(w, answer) },
		func(w *bytes.Buffer) error { return pdf.Encode(w, answer) },
		func(w *bytes.Buffer) error {
			d, err := fastener.Draw(nut, fastener.DrawOptions{Options: fastener.Options{Hidden: true}, Details: true,
				Views: []drawing.Direction{drawing.Front, drawing.SideView, drawing.HeadEnd, drawing.PointEnd, drawing.Isometric}})
			if err != nil {
				return err
			}
			return dxfout.Encode(w, d)
		},
		func(w *bytes.Buffer) error {
			s, err := stud.Settle()
			if err != nil {
				return err
			}
			fmt.Fprintln(w, s.Findings)
			d, err := joint.Draw(stud, drawing.Style{})
			if err != nil {
				return err
			}
			return svg.Encode(w, d)
		},
		func(w *bytes.Buffer) error {
			pages, err := plate.Compose(context.Background())
			if err != nil {
				return err
			}
			return pdf.EncodePages(w, pages...)
		},
		func(w *bytes.Buffer) error {
			f, err := dxfin.Decode(bytes.NewReader(file.Bytes()))
			if err != nil {
				return err
			}
			r, err := marker.Mark(f)
			if err != nil {
				return err
			}
			_, err = fmt.Fprintln(w, r.Points, r.Of, len(r.Findings))
			return err
		},
	}
	want := make([]string, len(work))
	for i, f := range work {
		var b bytes.Buffer
		require.NoError(t, f(&b), i)
		want[i] = b.String()
		require.NotEmpty(t, want[i])
	}
	var wg sync.WaitGroup
	for g := range 8 {
		wg.Go(func() {
			for i := range work {
				n := (i + g) % len(work) // each begins with another
				var b bytes.Buffer
				if assert.NoError(t, work[n](&b), n) {
					assert.Equal(t, want[n], b.String(), n)
				}
			}
		})
	}
	wg.Wait()
}
