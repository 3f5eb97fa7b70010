// Practice-plate composes two A3 sheets with every kind of bolt: an exercise in
// drawing fasteners, and its model answer.
//
//	practice-plate DIR
//
// writes them into the folder as DXF, SVG and PDF, once labelled with the rules
// in D, for students to work out, and once with numbers. Without a folder the
// first sheet with numbers goes to standard output as DXF.
package main

import (
	"bytes"
	"context"
	"fmt"
	"log"
	"os"
	"path/filepath"

	"boltplate/drawing"
	"boltplate/drawing/pdf"
	"boltplate/drawing/sheet"
	"boltplate/drawing/svg"
	"boltplate/dxfout"
	"boltplate/fastener"
	"boltplate/thread"
)

// bolts returns what the plate shows, in the order of its figures.
func bolts() []fastener.Fastener {
	m16 := thread.MustParse("M16")
	return []fastener.Fastener{
		fastener.HexBolt{Thread: m16, Length: 80},
		fastener.SquareBolt{Thread: m16, Length: 80, SquareNeck: true},
		fastener.CupBolt{Thread: m16, Length: 80},
		fastener.CheeseBolt{Thread: m16, Length: 80},
		fastener.TeeBolt{Thread: m16, Length: 80},
		fastener.CountersunkBolt{Thread: m16, Length: 80},
		fastener.TapBolt{Thread: m16, Length: 50},
		fastener.Stud{Thread: m16, Length: 70},
		fastener.TaperBolt{Thread: m16, Length: 110},
		fastener.HookBolt{Thread: m16, Length: 80},
		fastener.EyeBolt{Thread: m16, Length: 80},
	}
}

// plate describes the sheets.
func plate(labels drawing.Labels) sheet.Plate {
	p := sheet.Plate{
		Pages: 2,
		Style: drawing.Style{Labels: labels},
		Title: sheet.Title{
			Owner:    "Ostlemere Lock, gate refit",
			Title:    "Bolts by proportion",
			Number:   "OL-PP-01",
			Type:     "Practice plate",
			Creator:  "Drawing office",
			Language: "en",
		},
		Notes: []string{
			"Sizes by the drawing office's rules in D, the nominal diameter.",
			"Threads to the convention of ISO 6410-1.",
		},
	}
	if labels == drawing.Rules {
		p.Title.Supplement = "Work out every size, then draw full size"
	} else {
		p.Title.Supplement = "Model answer"
	}
	for _, b := range bolts() {
		p.Figures = append(p.Figures, sheet.Figure{Caption: b.Designation(), Source: fastener.Figure{Fastener: b}})
	}
	return p
}

func main() {
	log.SetFlags(0)
	var err error
	switch len(os.Args) {
	case 1:
		err = first()
	case 2:
		err = all(os.Args[1])
	default:
		log.Fatal("usage: practice-plate [DIR]")
	}
	if err != nil {
		log.Fatal(err)
	}
}

// first writes the first sheet to standard output.
func first() error {
	pages, err := plate(drawing.Numbers).Compose(context.Background())
	if err != nil {
		return err
	}
	return dxfout.Encode(os.Stdout, pages[0])
}

// all writes the sheets into a folder.
func all(dir string) error {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return err
	}
	for _, labels := range []drawing.Labels{drawing.Rules, drawing.Numbers} {
		p := plate(labels)
		pages, err := p.Compose(context.Background())
		if err != nil {
			return err
		}
		base := filepath.Join(dir, "practice-plate-"+labels.String())
		size := p.Format.Trimmed()
		var b bytes.Buffer
		if err := (pdf.Encoder{Width: size.Dx(), Height: size.Dy(), Title: p.Title.Title}).EncodePages(&b, pages...); err != nil {
			return err
		}
		if err := os.WriteFile(base+".pdf", b.Bytes(), 0o666); err != nil {
			return err
		}
		for i, d := range pages {
			name := fmt.Sprintf("%s-%d", base, i+1)
			dxf, err := dxfout.Encoder{}.Append(nil, d)
			if err != nil {
				return err
			}
			if err := os.WriteFile(name+".dxf", dxf, 0o666); err != nil {
				return err
			}
			picture, err := svg.Encoder{Width: size.Dx(), Height: size.Dy(), Title: p.Title.Title}.Append(nil, d)
			if err != nil {
				return err
			}
			if err := os.WriteFile(name+".svg", picture, 0o666); err != nil {
				return err
			}
		}
	}
	return nil
}
