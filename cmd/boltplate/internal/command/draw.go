package command

import (
	"boltplate/drawing"
	"boltplate/drawing/sheet"
	"fmt"
	"math"
	"slices"
)

type drawCommand struct {
	partArguments

	Views        string `placeholder:"LIST" help:"Views, of front,side,head,point,isometric; by default an elevation and an end view."`
	Projection   string `placeholder:"NAME" help:"Projection method: first (the default) or third."`
	Labels       string `placeholder:"NAME" help:"What dimensions say: numbers (the default), rules, letters, none, or blank for dimension lines without figures."`
	Key          bool   `negatable:"" default:"true" help:"Explain the letters of rules and letters under the views."`
	Hidden       bool   `help:"Draw hidden edges."`
	Section      bool   `help:"Show what is inside in section, where the kind has it."`
	Legend       bool   `negatable:"" default:"true" help:"Put designation, scale and the symbol of the projection method under the views."`
	Outside      bool   `help:"Show it from outside, where a section is usual."`
	Exact        bool   `help:"Draw the true curves of chamfers, not arcs."`
	Construction bool   `help:"Leave what the drawing is set out by: centres, radii, projection lines, on a layer of their own."`
	Pictorial    bool   `name:"dimension-isometric" help:"Give the isometric view its main sizes, along its axes."`
	Details      bool   `negatable:"" default:"true" help:"Draw again, larger and in a ring with a letter, what would be under a millimetre on paper."`
	Detail       string `placeholder:"NAME" help:"How much is drawn: full (the default), or simplified for assembly drawings: no chamfers, run-outs and thread ends."`
	Break        bool   `help:"Shorten long bolts between break lines; dimensions keep the true figures."`
	Scale        string `placeholder:"RATIO" help:"Scale at which the drawing will be plotted, 1:2, 2:1 or 0.5; geometry stays full size."`

	dxfArguments

	Output string `short:"o" required:"" placeholder:"FILE" help:"File to write, ending in .dxf, .svg or .pdf; - for standard output."`
	Format string `placeholder:"NAME" help:"Form of what standard output gets: ${formats}; dxf by default."`
	Force  bool   `short:"f" help:"Replace a file that exists."`
}

const stdStream = "-" // standard input or output in place of a file

func (c *drawCommand) Run(e *env) error {
	form, err := formatOf(c.Output, c.Format)
	if err != nil {
		return err
	}
	encoder, err := c.encoder(e)
	if err != nil {
		return err
	}
	row, err := c.row(e, map[string]string{
		"views": c.Views, "projection": c.Projection, "labels": c.Labels, "key": yesOrNo(c.Key), "scale": c.Scale,
		"hidden": yes(c.Hidden), "section": sectionWord(c.Section, c.Outside), "exact": yes(c.Exact), "construction": yes(c.Construction),
		"detail": c.Detail, "break": yes(c.Break),
	})
	if err != nil {
		return err
	}
	row.Options.Legend, row.Options.Details = c.Legend, c.Details
	row.Options.DimensionPictorial = c.Pictorial
	d, err := row.Draw()
	if err != nil {
		return err
	}
	c.advise(e, d)
	data, err := form.append(encoder, nil, d, row.Fastener.Designation())
	if err != nil {
		return err
	}
	return e.put(c.Output, c.Force, data)
}

// advise says at which scale lines that run into one on paper stand apart.
func (c *drawCommand) advise(e *env, d *drawing.Drawing) {
	scale, least := d.Style.PaperScale(), math.Inf(1)
	for _, v := range d.Views {
		if v.View.Direction != drawing.Isometric {
			least = min(least, v.View.Closest(d.Style))
		}
	}
	if e.quiet || least >= drawing.LeastApart-1e-9 {
		return
	}
	all := sheet.Scales()
	slices.Reverse(all)
	for _, k := range all {
		if k > 10 {
			return // no sheet is drawn so large for a hair's breadth
		}
		if least/scale*k >= drawing.LeastApart {
			fmt.Fprintf(e.stderr, "note: at %s lines stand %s mm apart on paper; --scale %s keeps %s mm\n",
				sheet.ScaleName(scale), drawing.FormatValue(least, false), sheet.ScaleName(k),
				drawing.FormatValue(drawing.LeastApart, false))
			return
		}
	}
}

func yesOrNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

func yes(b bool) string {
	if b {
		return "yes"
	}
	return ""
}

// sectionWord returns what the column section of a schedule would say.
func sectionWord(section, outside bool) string {
	switch {
	case section:
		return "yes"
	case outside:
		return "no"
	}
	return ""
}
