package settings

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/BurntSushi/toml"

	"boltplate/drawing"
	"boltplate/drawing/sheet"
	"boltplate/fastener"
	"boltplate/fastener/schedule"
	"boltplate/marking"
)

// A Plate reads a plate file.
type Plate struct {
	File
	parser     schedule.Parser
	Sheet      sheet.Plate
	Projection fastener.Projection
	parts      bool // there is to be a parts list
	places     tomlPlaces
	Marks      marking.Options // how submissions are marked
	Font       string          // that the pictures letter in; "" is their own
	PlateOptions
}

// PlateOptions are what a command line says about a plate.
type PlateOptions struct {
	Unlisted bool
	Labels   *drawing.Labels // of all figures, whatever they ask for
	Own      *fastener.Rules // rules of figures that name none, whatever the file says
	Loader   *RulesLoader
	Deal     *Deal // the data of a student; nil where there is no class
}

// plateKeys returns the keys of a plate file.
func plateKeys() []string {
	return []string{"size", "orientation", "projection", "labels", "scale", "pages", "comma", "notes", "parts",
		"text_height", "line_group", "font", "question", "student", "rules", "key", "marks", "title", "figure"}
}

func titleFields(t *sheet.Title) map[string]*string {
	return map[string]*string{
		"owner": &t.Owner, "number": &t.Number, "revision": &t.Revision, "date": &t.Date, "language": &t.Language,
		"title": &t.Title, "supplement": &t.Supplement, "department": &t.Department, "reference": &t.Reference,
		"approved": &t.Approved, "creator": &t.Creator, "type": &t.Type, "status": &t.Status,
	}
}

// ReadPlate reads a plate file. It reports everything that is wrong, a line
// each, as schedule.Errors.
func ReadPlate(file, text string, a PlateOptions) (*Plate, error) {
	r := &Plate{
		File:         File{Name: file, text: text},
		parser:       schedule.Parser{AllowUnlisted: a.Unlisted, DecimalComma: true, Own: a.Own},
		PlateOptions: a,
	}
	if r.Loader == nil {
		r.Loader = NewRulesLoader(Files)
	}
	r.parser.Rules = r.Loader.From(file)
	top := r.top()
	if top != nil {
		r.places = placesOf(text)
	}
	for key, value := range InOrder(top) {
		r.key(key, value)
	}
	if r.Labels != nil {
		r.Sheet.Style.Labels = *r.Labels
	}
	r.figures(top["figure"])
	return r, r.failed()
}

// str decodes a string and reports whether it is one.
func (r *Plate) str(key string, value toml.Primitive, to *string) bool {
	if r.md.PrimitiveDecode(value, to) != nil {
		r.fail(value, "%s: must be text in quotes", key)
		return false
	}
	return true
}

// word decodes one of a few words.
func word[T any](r *Plate, key string, value toml.Primitive, to *T, parse func(string) (T, error), known ...string) {
	var s string
	if !r.str(key, value, &s) {
		return
	}
	v, err := parse(s)
	if err != nil {
		r.fail(value, "%s: %q: no such choice; %s", key, s, DidYouMean(s, known))
		return
	}
	*to = v
}

func (r *Plate) key(key string, value toml.Primitive) {
	p := &r.Sheet
	switch key {
	case "size":
		var s string
		if r.str(key, value, &s) {
			var err error
			if p.Format.Size, err = sheet.ParseSize(s); err != nil {
				r.fail(value, "size: %v", err)
			}
		}
	case "orientation":
		word(r, key, value, &p.Format.Orientation, sheet.ParseOrientation, "landscape", "portrait")
	case "projection":
		word(r, key, value, &r.Projection, fastener.ParseProjection, "first", "third")
		p.ThirdAngle = r.Projection == fastener.ThirdAngle
	case "labels":
		word(r, key, value, &p.Style.Labels, drawing.ParseLabels, drawing.LabelsWords()...)
	case "comma":
		r.truth(key, value, &p.Style.DecimalComma)
	case "text_height":
		r.size(key, value, &p.Style.TextHeight, 1.8, 10)
	case "line_group":
		r.size(key, value, &p.Style.Group, 0.25, 1.4)
	case "font":
		if r.str(key, value, &r.Font) {
			if err := Printable(r.Font); err != nil {
				r.fail(value, "font: %v", err)
			}
		}
	case "question":
		word(r, key, value, &p.QuestionLabels, parseQuestion, questionWords()...)
	case "rules":
		r.rules(value)
	case "key":
		shown := true
		r.truth(key, value, &shown)
		p.Style.NoKey = !shown
	case "student":
		r.truth(key, value, &p.Student)
	case "scale":
		r.scale(value)
	case "pages":
		r.pages(value)
	case "parts":
		r.truth(key, value, &r.parts)
	case "notes":
		if r.md.PrimitiveDecode(value, &p.Notes) != nil {
			r.fail(value, `notes: must be a list of texts, such as ["All sizes in mm.", "Threads by ISO 6410-1."]`)
			return
		}
		for _, n := range p.Notes {
			if err := Printable(n); err != nil {
				r.fail(value, "notes: %v", err)
			}
		}
	case "title":
		r.title(value)
	case "marks":
		r.readMarks(value)
	case "figure": // when everything else is known
	default:
		r.fail(value, "%s: no such key; %s", key, DidYouMean(key, plateKeys()))
	}
}

// rules reads the name of the rules of figures that name none.
func (r *Plate) rules(value toml.Primitive) {
	var name string
	if !r.str("rules", value, &name) || r.Own != nil {
		return
	}
	own, err := r.parser.Rules(name)
	if err != nil {
		r.fail(value, "rules: %v", err)
		return
	}
	r.parser.Own = own
}

func (r *Plate) truth(key string, value toml.Primitive, to *bool) {
	if r.md.PrimitiveDecode(value, to) != nil {
		r.fail(value, "%s: must be true or false", key)
	}
}

// size decodes a size on paper within limits, mm.
func (r *Plate) size(key string, value toml.Primitive, to *float64, least, most float64) {
	var v any
	_ = r.md.PrimitiveDecode(value, &v)
	n, ok := asNumber(v)
	if !ok || !(n >= least && n <= most) {
		r.fail(value, "%s: must be a number of millimetres from %g to %g", key, least, most)
		return
	}
	*to = n
}

// asNumber returns a value of the file as a number, and whether it is one.
func asNumber(v any) (float64, bool) {
	switch v := v.(type) {
	case int64:
		return float64(v), true
	case float64:
		return v, true
	}
	return 0, false
}

// What dimensions say in a question.
func questionWords() []string { return []string{"blank", "letters", "rules"} }

func parseQuestion(s string) (drawing.Labels, error) {
	switch strings.ToLower(strings.TrimSpace(s)) {
	case "blank":
		return drawing.Numbers, nil
	case "letters":
		return drawing.Letters, nil
	case "rules":
		return drawing.Rules, nil
	}
	return 0, fmt.Errorf("%q is no form of a question; use blank, letters or rules", s)
}

// Printable refuses text that no drawing can show.
func Printable(s string) error {
	const most = 1000
	if len(s) > most {
		return fmt.Errorf("%d characters are too many; use at most %d", len(s), most)
	}
	for _, c := range s {
		if c < ' ' || c == 0x7f {
			return errors.New("holds a control character; leave it out")
		}
	}
	return nil
}

func (r *Plate) scale(value toml.Primitive) {
	var v any
	_ = r.md.PrimitiveDecode(value, &v)
	if k, ok := plateScale(v); ok {
		r.Sheet.Scale = k
		return
	}
	r.fail(value, `scale: %v: not a scale; write "auto", "1:2", "2:1" or 0.5`, inWords(v))
}

func plateScale(v any) (float64, bool) {
	switch v := v.(type) {
	case string:
		if strings.EqualFold(v, "auto") {
			return 0, true
		}
		return sheet.ParseScale(v)
	case int64, float64:
		return sheet.ParseScale(fmt.Sprint(v))
	}
	return 0, false
}

func (r *Plate) pages(value toml.Primitive) {
	var v any
	_ = r.md.PrimitiveDecode(value, &v)
	switch n := v.(type) {
	case int64:
		if n >= 1 && n <= sheet.AsNeeded {
			r.Sheet.Pages = int(n)
			return
		}
	case string:
		if strings.EqualFold(n, "as needed") {
			r.Sheet.Pages = sheet.AsNeeded
			return
		}
	}
	r.fail(value, `pages: %v: write "as needed" or a whole number from 1 to %d`, inWords(v), sheet.AsNeeded)
}

func (r *Plate) title(value toml.Primitive) {
	var keys map[string]toml.Primitive
	if r.md.PrimitiveDecode(value, &keys) != nil || keys == nil {
		r.fail(value, "title: not a table; start it with a line [title]")
		return
	}
	fields := titleFields(&r.Sheet.Title)
	for key, v := range InOrder(keys) {
		to, known := fields[key]
		if !known {
			names := make([]string, 0, len(fields))
			for n := range fields {
				names = append(names, n)
			}
			slices.Sort(names)
			r.fail(v, "title.%s: no such field; %s", key, DidYouMean(key, names))
			continue
		}
		var day time.Time
		if key == "date" && r.md.PrimitiveDecode(v, &day) == nil {
			*to = day.Format(time.DateOnly)
			continue
		}
		if key == "date" && r.md.PrimitiveDecode(v, to) != nil {
			r.fail(v, "title.date: must be a date, such as 2026-03-02, or text in quotes")
			continue
		}
		if !r.str("title."+key, v, to) {
			continue
		}
		if err := Printable(*to); err != nil {
			r.fail(v, "title.%s: %v", key, err)
			*to = ""
		}
	}
}

// ReadPlateFile reads the file of that name.
func ReadPlateFile(e Opener, path string, a PlateOptions) (*Plate, error) {
	name, text, err := e(path)
	if err != nil {
		return nil, err
	}
	return ReadPlate(name, text, a)
}
