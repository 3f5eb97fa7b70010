package command

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"boltplate/drawing"
	"boltplate/thread"
)

type threadCommand struct {
	Designation string `arg:"" help:"Thread, such as M12, M12x1.25, M12-6g or M12-6H/6g."`
	Class       string `placeholder:"CLASS" help:"Tolerance class whose limits are listed as well, such as 6g, 5g6g, 6H or 6H/6g."`
	Unlisted    bool   `help:"Take sizes and pitches that ISO 261 does not list."`
	formatArgument
}

// A figure is one line of the output: a number with its unit, or a word.
type figure struct {
	key, name string
	value     any // string, int, bool or float64
	unit      string
	rule      string
	source    string
	status    string
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
	limits, err := classFigures(t)
	if err != nil {
		return err
	}
	figures := append(threadFigures(t), limits...)
	switch c.Format {
	case "json":
		return writeJSON(e.stdout, figureObject(figures))
	case "csv":
		rows := make([][]string, len(figures))
		for i, f := range figures {
			rows[i] = []string{f.key, f.name, f.text(), f.unit, f.source, f.status, f.rule}
		}
		return writeCSV(e.stdout, []string{"key", "name", "value", "unit", "source", "status", "rule"}, rows)
	}
	rows := make([][]string, len(figures))
	var sources []string
	for i, f := range figures {
		rows[i] = []string{f.name, f.text(), f.unit, f.rule, f.source, f.status}
		sources = append(sources, f.source)
	}
	if err := writeText(e.stdout, []string{"name", "value", "unit", "rule", "source", "status"}, rows); err != nil {
		return err
	}
	return writeNotes(e.stdout, editionNotes(sources))
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

// A figureObject is a JSON object whose members keep their order: the values
// by key, and under "origin" what is known of them, by the same keys.
type figureObject []figure

type originJSON struct {
	Unit   string `json:"unit,omitempty"`
	Rule   string `json:"rule,omitempty"`
	Source string `json:"source"`
	Status string `json:"status"`
}

// MarshalJSON returns the object.
func (fs figureObject) MarshalJSON() ([]byte, error) {
	var values, origins orderedObject
	for _, f := range fs {
		values.add(f.key, f.value)
		if f.source != "" {
			origins.add(f.key, originJSON{f.unit, f.rule, f.source, f.status})
		}
	}
	values.add("origin", &origins)
	return values.MarshalJSON()
}

// An orderedObject is a JSON object whose members keep their order.
type orderedObject struct {
	b   bytes.Buffer
	err error
}

func (o *orderedObject) add(key string, value any) {
	v, err := json.Marshal(value)
	if err != nil && o.err == nil {
		o.err = err
	}
	if o.b.Len() > 0 {
		o.b.WriteByte(',')
	}
	o.b.WriteString(strconv.Quote(key) + ":")
	o.b.Write(v)
}

// MarshalJSON returns the object.
func (o *orderedObject) MarshalJSON() ([]byte, error) {
	return slices.Concat([]byte{'{'}, o.b.Bytes(), []byte{'}'}), o.err
}

func threadFigures(t thread.Thread) []figure {
	var numbers []figure
	for _, f := range t.Figures() {
		line := figure{key: f.Key, name: f.Name, value: f.Value, unit: f.Unit, source: f.Source, status: f.Status.String()}
		if f.Rule != nil {
			line.rule = f.Rule.String()
		}
		numbers = append(numbers, line)
	}
	// Diameter and pitch come first, then the words that go with them.
	figures := append([]figure{{key: "designation", name: "designation", value: t.String()}}, numbers[:2]...)
	figures = append(figures, seriesFigures(t)...)
	if t.Class != "" {
		figures = append(figures, figure{key: "class", name: "tolerance class", value: t.Class, source: thread.SourceLimits, status: drawing.Given.String()})
	}
	figures = append(figures, figure{key: "left_hand", name: "left-hand", value: t.LeftHand})
	return append(figures, numbers[2:]...)
}

// seriesFigures says where ISO 261 and the product standards have the thread.
func seriesFigures(t thread.Thread) []figure {
	series, listed := t.Series()
	if !listed {
		// A size or pitch that is not listed comes from whoever gave it.
		return []figure{{key: "series", name: "pitch series", value: "unlisted", source: "as described", status: drawing.Given.String()}}
	}
	published, source := drawing.Published.String(), thread.SourceSizes
	if series == thread.FineSeries {
		source = thread.SourceSelection
	}
	figures := []figure{
		{key: "series", name: "pitch series", value: series.String(), source: source, status: published},
		{key: "choice", name: "choice of size", value: t.Choice(), source: thread.SourceSizes, status: published},
	}
	if series != thread.CoarseSeries {
		preferred, ok := t.ProductPitch()
		word := "not held"
		switch {
		case preferred:
			word = "preferred"
		case ok:
			word = "non-preferred"
		}
		figures = append(figures, figure{key: "product_pitch", name: "as a pitch of bolts and nuts", value: word,
			source: thread.SourceProductPitch, status: thread.ProductPitchStatus.String()})
	}
	return figures
}

// classFigures returns the limits of the tolerance class of t, or of both
// classes of a pair with the play between them. It returns none for a thread
// without a class.
func classFigures(t thread.Thread) ([]figure, error) {
	switch {
	case t.Class == "":
		return nil, nil
	case !strings.Contains(t.Class, "/"):
		l, err := t.Limits("")
		if err != nil {
			return nil, err
		}
		return limitFigures(l, "", ""), nil
	}
	nut, bolt, err := t.PairLimits("")
	if err != nil {
		return nil, err
	}
	figures := append(limitFigures(nut, "nut_", "nut, "), limitFigures(bolt, "bolt_", "bolt, ")...)
	least, greatest := thread.Play(nut, bolt)
	for _, x := range [...]limitLine{{"play_min", "play on the pitch diameter, at least", least}, {"play_max", "play on the pitch diameter, at most", greatest}} {
		figures = append(figures, x.figure("", "", t.Class))
	}
	return figures, nil
}

type limitLine struct {
	key, name string
	limit     thread.Limit
}

func (x limitLine) figure(key, name, class string) figure {
	return figure{key: key + x.key, name: name + x.name, value: thread.Round3(x.limit.Value), unit: "mm",
		source: thread.SourceLimits + ", " + class, status: x.limit.Status.String()}
}

// limitFigures returns the limits that the standard gives. key and name stand
// before those of each line.
func limitFigures(l thread.Limits, key, name string) []figure {
	var out []figure
	for _, x := range [...]limitLine{
		{"major_max", "major diameter, at most", l.MajorMax},
		{"major_min", "major diameter, at least", l.MajorMin},
		{"pitch_max", "pitch diameter, at most", l.PitchMax},
		{"pitch_min", "pitch diameter, at least", l.PitchMin},
		{"minor_max", "minor diameter, at most", l.MinorMax},
		{"minor_min", "minor diameter, at least", l.MinorMin},
	} {
		if x.limit.Given {
			out = append(out, x.figure(key, name, l.Class))
		}
	}
	return out
}
