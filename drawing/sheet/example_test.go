package sheet_test

import (
	"context"
	"fmt"

	"boltplate/drawing"
	"boltplate/drawing/sheet"
	"boltplate/fastener"
	"boltplate/thread"
)

// A plate of two figures. The scale is the largest at which both fit.
func ExamplePlate_Compose() {
	m20 := thread.MustParse("M20")
	bolt := fastener.HexBolt{Thread: m20, Length: 90}
	nut := fastener.HexNut{Thread: m20}
	plate := sheet.Plate{
		Format: sheet.Format{Size: sheet.A3},
		Title:  sheet.Title{Title: "Hinge bolt", Number: "OL-SG-0108", Date: "2026-03-02"},
		Figures: []sheet.Figure{
			{Caption: bolt.Designation(), Source: fastener.Figure{Fastener: bolt}},
			{Caption: nut.Designation(), Source: fastener.Figure{Fastener: nut}},
		},
	}
	pages, err := plate.Compose(context.Background())
	if err != nil {
		fmt.Println(err)
		return
	}
	size := pages[0].Bounds()
	fmt.Printf("%d sheet of %g x %g mm, views at %s\n", len(pages), size.Dx(), size.Dy(), sheet.ScaleName(pages[0].Views[0].Scale))
	// Output: 1 sheet of 420 x 297 mm, views at 2:1
}

// What has no room is named, with what would do.
func ExampleFitError() {
	bolt := fastener.HexBolt{Thread: thread.MustParse("M36"), Length: 300}
	plate := sheet.Plate{Scale: 1, Figures: []sheet.Figure{{Caption: bolt.Designation(), Source: fastener.Figure{Fastener: bolt}}}}
	_, err := plate.Compose(context.Background())
	fmt.Println(err)
	// Output: Fig. 1 does not fit on A3 at 1:1; use scale 1:2, or size A2
}

// A bracket is a source of several blocks: its drawing, its parts and a note.
type bracket struct{}

func (b bracket) Draw(st drawing.Style) (*drawing.Drawing, error) { return sheet.Compact(b, st) }

func (bracket) Content(st drawing.Style) (*sheet.Content, error) {
	bolt := fastener.HexBolt{Thread: thread.MustParse("M16"), Length: 60}
	d, err := fastener.Figure{Fastener: bolt}.Draw(st)
	if err != nil {
		return nil, err
	}
	return &sheet.Content{
		Drawing: d,
		Components: []sheet.Component{
			{Designation: bolt.Designation(), Material: "steel", At: []drawing.Point{{X: -6, Y: 5}}},
			{Designation: "Bracket", Material: "cast iron", At: []drawing.Point{{X: 30, Y: 4}}},
		},
		Blocks: []sheet.Block{sheet.Notes{Entries: []sheet.Entry{{Label: "1", Text: "Tighten evenly."}}}},
	}, nil
}

// The components of all figures make one parts list, equal ones one item.
func ExampleContentSource() {
	plate := sheet.Plate{Format: sheet.Format{Size: sheet.A3}, Figures: []sheet.Figure{
		{Caption: "Upper bracket", Source: bracket{}},
		{Caption: "Lower bracket", Source: bracket{}},
	}}
	sheets, err := plate.Sheets(context.Background())
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range sheets[0].Figures {
		fmt.Printf("Fig. %d at %s\n", f.Number, sheet.ScaleName(f.Scale))
	}
	// Output:
	// Fig. 1 at 1:1
	// Fig. 2 at 1:1
}
