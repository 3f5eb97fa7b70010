package command

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strconv"

	"boltplate/thread"
)

type threadCommand struct {
	Designation string `arg:"" help:"Thread, such as M12, M12x1.25 or M12-6g."`
	Class       string `placeholder:"CLASS" help:"Tolerance class whose limits are listed as well, such as 6g or 6H."`
	Unlisted    bool   `help:"Take sizes and pitches that ISO 261 does not list."`
	formatArgument
}

// A figure is one line of the output: a number with its unit, or a word.
type figure struct {
	key, name string
	value     any // string, int, bool or float64
	unit      string
	source    string
}

func (c *threadCommand) Run(e *env) error {
	if err := c.check(); err != nil {
		return err
	}
	t, err := thread.Parser{AllowUnlisted: c.Unlisted}.Parse(c.Designation)
	if err != nil {
		return err
	}
	if c.Class != "" {
		if t.Class != "" && t.Class != c.Class {
			return fmt.Errorf("--class %s: the designation says %s; give the class once", c.Class, t.Class)
		}
		t.Class = c.Class
		if err := t.Validate(); err != nil {
			return err
		}
	}
	figures := threadFigures(t)
	if t.Class != "" {
		limits, err := t.Limits("")
		if err != nil {
			return err
		}
		figures = append(figures, limitFigures(limits)...)
	}
	switch c.Format {
	case "json":
		return writeJSON(e.stdout, figureObject(figures))
	case "csv":
		rows := make([][]string, len(figures))
		for i, f := range figures {
			rows[i] = []string{f.key, f.name, f.text(), f.unit, f.source}
		}
		return writeCSV(e.stdout, []string{"key", "name", "value", "unit", "source"}, rows)
	}
	rows := make([][]string, len(figures))
	for i, f := range figures {
		rows[i] = []string{f.name, f.text(), f.unit, f.source}
	}
	return writeText(e.stdout, []string{"name", "value", "unit", "source"}, rows)
}

func (f figure) text() string {
	switch v := f.value.(type) {
	case float64:
		return strconv.FormatFloat(v, 'f', -1, 64)
	case int:
		return strconv.Itoa(v)
	case bool:
		if v {
			return "yes"
		}
		return "no"
	}
	return f.value.(string)
}

// A figureObject is a JSON object whose members keep their order.
type figureObject []figure

// MarshalJSON returns the object.
func (fs figureObject) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, f := range fs {
		if i > 0 {
			b.WriteByte(',')
		}
		b.WriteString(strconv.Quote(f.key) + ":")
		v, err := json.Marshal(f.value)
		if err != nil {
			return nil, err
		}
		b.Write(v)
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

func threadFigures(t thread.Thread) []figure {
	const profile, basic, list = "ISO 68-1:1998", "ISO 724:1993", "ISO 261:1998"
	mm := func(key, name string, v float64, source string) figure {
		return figure{key, name, thread.Round3(v), "mm", source}
	}
	series, listed := t.Series()
	// A size or pitch that is not listed comes from whoever gave it.
	word, origin := "unlisted", "as described"
	if listed {
		word, origin = series.String(), list
	}
	figures := []figure{
		{"designation", "designation", t.String(), "", ""},
		mm("d", "nominal diameter", t.D, origin),
		mm("p", "pitch", t.P, origin),
		{"series", "pitch series", word, "", origin},
	}
	if c := t.Choice(); c > 0 {
		figures = append(figures, figure{"choice", "choice of size", c, "", list})
	}
	if t.Class != "" {
		figures = append(figures, figure{"class", "tolerance class", t.Class, "", "ISO 965-1:1998"})
	}
	figures = append(figures,
		figure{"left_hand", "left-hand", t.LeftHand, "", ""},
		mm("h", "height of the fundamental triangle", t.H(), profile),
		mm("d2", "pitch diameter", t.PitchDiameter(), basic),
		mm("d1", "minor diameter", t.MinorDiameter(), basic),
		mm("d3", "root diameter of the external thread", t.RootDiameter(), "ISO 898-1:2013"),
		mm("depth", "depth of the external thread", t.Depth(), profile),
		mm("internal_depth", "depth of the internal thread", t.InternalDepth(), profile),
		figure{"stress_area", "stress area", thread.RoundArea(t.StressArea()), "mm²", "ISO 898-1:2013"})
	if v, err := t.TapDrill(); err == nil {
		figures = append(figures, mm("tap_drill", "tapping drill", v, "ISO 2306:1972"))
	}
	figures = append(figures, mm("tap_drill_rule", "tapping drill by the rule d - P", t.DrillRule(), "common practice"))
	for _, fit := range [...]thread.Fit{thread.FitFine, thread.FitMedium, thread.FitCoarse} {
		if v, err := thread.ClearanceHole(t.D, fit); err == nil {
			figures = append(figures, mm("clearance_"+fit.String(), "clearance hole, "+fit.String(), v, "ISO 273:1979"))
		}
	}
	return append(figures,
		mm("run_out", "run-out, at most", t.RunOut(), "ISO 3508:1976"),
		mm("run_out_short", "short run-out, at most", t.RunOutShort(), "ISO 3508:1976"),
		mm("head_distance", "last full thread to head, at most", t.HeadDistance(), "ISO 3508:1976"))
}

// limitFigures returns the limits that the standard gives.
func limitFigures(l thread.Limits) []figure {
	all := [...]struct {
		key, name string
		limit     thread.Limit
	}{
		{"major_max", "major diameter, at most", l.MajorMax},
		{"major_min", "major diameter, at least", l.MajorMin},
		{"pitch_max", "pitch diameter, at most", l.PitchMax},
		{"pitch_min", "pitch diameter, at least", l.PitchMin},
		{"minor_max", "minor diameter, at most", l.MinorMax},
		{"minor_min", "minor diameter, at least", l.MinorMin},
	}
	var out []figure
	for _, x := range all {
		if x.limit.Given {
			out = append(out, figure{x.key, x.name, thread.Round3(x.limit.Value), "mm", "ISO 965-1:1998, " + l.Class})
		}
	}
	return out
}
