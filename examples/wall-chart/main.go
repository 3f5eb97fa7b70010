// Wall-chart composes two A1 sheets to hang up in a drawing office: all bolts of
// the trade, lettered to be read from two metres, and the proportions of the
// hexagon-head bolt with a key to its rules.
//
//	wall-chart DIR
//
// writes them into the folder as DXF and PDF: the bolts once with numbers and
// once with the rules in D, and the proportions. Without a folder the bolts with
// numbers go to standard output as DXF.
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
	"boltplate/dxfout"
	"boltplate/fastener"
	"boltplate/thread"
)

// Letters that are read from two metres are 7 mm high, 3.5 mm for each metre
// (common practice for notices), with the line group that belongs to them.
const (
	letters   = 7.0
	lineGroup = 1.0
	heading   = 20.0
)

// bolts returns what the chart shows, in the order of its figures.
func bolts() []fastener.Fastener {
	m30 := thread.MustParse("M30")
	return []fastener.Fastener{
		fastener.HexBolt{Thread: m30, Length: 110},
		fastener.SquareBolt{Thread: m30, Length: 110, SquareNeck: true},
		fastener.TapBolt{Thread: m30, Length: 80},
		fastener.CheeseBolt{Thread: m30, Length: 110},
		fastener.CupBolt{Thread: m30, Length: 110},
		fastener.CountersunkBolt{Thread: m30, Length: 110},
		fastener.TeeBolt{Thread: m30, Length: 110},
		fastener.HookBolt{Thread: m30, Length: 110},
		fastener.EyeBolt{Thread: m30, Length: 120},
		fastener.Stud{Thread: m30, Length: 110},
		fastener.TaperBolt{Thread: m30, Length: 150},
	}
}

// views are those of a figure of the chart: the elevation, and the head where
// it says more.
func views(f fastener.Fastener) []drawing.Direction {
	switch f.(type) {
	case fastener.Stud, fastener.TaperBolt, fastener.EyeBolt, fastener.HookBolt, fastener.CupBolt, fastener.CheeseBolt, fastener.CountersunkBolt:
		return []drawing.Direction{drawing.Front}
	}
	return []drawing.Direction{drawing.Front, drawing.HeadEnd}
}

// title returns a heading across the sheet as a figure.
func title(text string) sheet.Figure {
	return sheet.Figure{Row: 1, Source: sheet.SourceFunc(func(st drawing.Style) (*drawing.Drawing, error) {
		at := drawing.Pt(0, -st.Part(heading/2))
		line := drawing.Item{Role: drawing.RoleText, Shape: drawing.Text{At: at, Height: heading, Align: drawing.AlignCentre, Value: text}}
		return &drawing.Drawing{Style: st, Items: []drawing.Item{line}}, nil
	})}
}

func plate(labels drawing.Labels, name, number string) sheet.Plate {
	return sheet.Plate{
		Format: sheet.Format{Size: sheet.A1},
		Style:  drawing.Style{TextHeight: letters, Group: lineGroup, Labels: labels},
		Title:  sheet.Title{Owner: "Ostlemere Lock, gate refit", Title: name, Number: number, Type: "Wall chart", Creator: "Drawing office", Language: "en"},
	}
}

// chart describes the sheet of all bolts: four columns.
func chart(labels drawing.Labels) sheet.Plate {
	p := plate(labels, "Bolts of the trade", "OL-WC-01")
	p.Figures = append(p.Figures, title("Bolts of the trade"))
	for i, b := range bolts() {
		f := sheet.Figure{Caption: b.Designation(), Source: fastener.Figure{Fastener: b, Options: fastener.DrawOptions{Views: views(b)}}}
		f.Row, f.Column = 2+i/4, 1+i%4
		p.Figures = append(p.Figures, f)
	}
	if labels == drawing.Rules {
		// One line for all figures, in place of a key under some of them.
		p.Style.NoKey = true
		p.Notes = []string{"D is the diameter, L the length, P the pitch, b the length of the thread and x its run-out, 2.5P."}
	}
	return p
}

// proportions describes the sheet of one bolt: its figure, labelled with the
// rules, and a key that says what each letter is.
func proportions() (sheet.Plate, error) {
	p := plate(drawing.Rules, "Proportions of the hexagon-head bolt", "OL-WC-02")
	p.Style.NoKey = true // the table is one
	bolt := fastener.HexBolt{Thread: thread.MustParse("M20"), Length: 80}
	qs, err := bolt.Quantities()
	if err != nil {
		return p, err
	}
	key := sheet.Table{Headings: []string{"", "Size", "Rule"}}
	for _, q := range qs {
		if q.Rule != nil {
			key.Rows = append(key.Rows, []string{q.Letter, q.Name, q.RuleText()})
		}
	}
	all := []drawing.Direction{drawing.Front, drawing.SideView, drawing.HeadEnd}
	p.Figures = []sheet.Figure{
		{Caption: "Hexagon-head bolt", Source: fastener.Figure{Fastener: bolt, Options: fastener.DrawOptions{Views: all}}},
		{Caption: "Key to the rules; D is the nominal diameter", Source: key},
	}
	return p, nil
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
		log.Fatal("usage: wall-chart [DIR]")
	}
	if err != nil {
		log.Fatal(err)
	}
}

// first writes the chart with numbers to standard output.
func first() error {
	pages, err := chart(drawing.Numbers).Compose(context.Background())
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
	family, err := proportions()
	if err != nil {
		return err
	}
	for name, p := range map[string]sheet.Plate{
		"wall-chart-numbers": chart(drawing.Numbers),
		"wall-chart-rules":   chart(drawing.Rules),
		"proportions":        family,
	} {
		if err := write(filepath.Join(dir, name), p); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
	}
	return nil
}

// write writes a sheet as DXF and PDF.
func write(base string, p sheet.Plate) error {
	pages, err := p.Compose(context.Background())
	if err != nil {
		return err
	}
	dxf, err := dxfout.Encoder{}.Append(nil, pages[0])
	if err != nil {
		return err
	}
	size := p.Format.Trimmed()
	var b bytes.Buffer
	if err := (pdf.Encoder{Width: size.Dx(), Height: size.Dy(), Title: p.Title.Title}).EncodePages(&b, pages...); err != nil {
		return err
	}
	if err := os.WriteFile(base+".pdf", b.Bytes(), 0o666); err != nil {
		return err
	}
	return os.WriteFile(base+".dxf", dxf, 0o666)
}
