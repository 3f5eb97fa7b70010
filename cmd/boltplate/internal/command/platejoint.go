package command

import (
	"path/filepath"

	"boltplate/drawing"
	"boltplate/drawing/sheet"
	"boltplate/fastener"
	"boltplate/fastener/joint"
)

// A jointSource draws a joint for a sheet.
type jointSource struct{ joint.Joint }

func (s jointSource) Draw(st drawing.Style) (*drawing.Drawing, error) {
	return joint.Draw(s.Joint, joint.Options{Style: st})
}

// A jointQuestion is a joint as a question: its section without what the check
// found, and what is given in words.
type jointQuestion struct{ jointSource }

// Content returns the section, what is given and what is asked.
func (s jointQuestion) Content(st drawing.Style) (*sheet.Content, error) {
	d, err := s.Draw(st)
	if err != nil {
		return nil, err
	}
	given := "Given: " + s.bolt()
	for _, p := range s.Parts {
		given += "; " + p.Name
		if p.Material != "" {
			given += ", " + p.Material
		}
		given += ", " + drawing.FormatValue(p.Thickness, st.DecimalComma) + " mm thick"
	}
	return &sheet.Content{
		Drawing: &drawing.Drawing{Style: st, Views: d.Views, Parts: d.Parts},
		Given:   []string{given + "."},
		Ask:     "Does this joint work? If not, say what is wrong, why, and what would put it right.",
	}, nil
}

// bolt returns the designation of the bolt of a joint.
func (s jointSource) bolt() string {
	b := s.Bolt
	f, err := fastener.New(fastener.Spec{Kind: b.Kind, Thread: b.Thread, Length: b.Length, ThreadLength: b.ThreadLength,
		Form: b.Form, Neck: b.Neck, Angle: b.Angle, Taper: b.Taper, Material: b.Material, Basis: s.Basis})
	if err != nil {
		return b.Kind + " " + b.Thread.String()
	}
	return f.Designation()
}

// ask makes questions of the joints of a plate.
func (r *plateReader) ask() {
	for i := range r.plate.Figures {
		if j, ok := r.plate.Figures[i].Source.(jointSource); ok {
			r.plate.Figures[i].Source = jointQuestion{j}
		}
	}
}

// jointFigure reads joint = "FILE.toml", a joint file, whose name counts from
// the plate file.
func (r *plateReader) jointFigure(t *figureTable) (sheet.Figure, bool) {
	name, ok := t.keys["joint"].(string)
	if !ok || name == "" {
		r.failAt(t, "joint", "joint: must be the name of a joint file in quotes")
		return sheet.Figure{}, false
	}
	j, err := readJoint(r.loader.env, r.besidePlate(name))
	if t.joint != nil {
		j = *t.joint
	}
	if j.Rules == nil {
		j.Rules = r.parser.Own
	}
	if err == nil {
		j, _, err = j.Complete()
	}
	if err != nil {
		r.failAt(t, "joint", "joint: %v", err)
		return sheet.Figure{}, false
	}
	caption := j.Title
	j.Title = "" // it stands in the caption
	return sheet.Figure{Source: jointSource{j}, Caption: caption}, r.known(t, "joint")
}

// besidePlate returns the name of a file that is named in the plate file, from
// whose folder it counts.
func (r *plateReader) besidePlate(v any) string {
	name, _ := v.(string)
	if filepath.IsAbs(name) {
		return name
	}
	return filepath.Join(filepath.Dir(r.file), name)
}
