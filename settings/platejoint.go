package settings

import (
	"path/filepath"

	"boltplate/drawing/sheet"
	"boltplate/fastener/joint"
)

// jointFigure reads joint = "FILE.toml", a joint file, whose name counts from
// the plate file.
func (r *Plate) jointFigure(t *figureTable) (sheet.Figure, bool) {
	name, ok := t.keys["joint"].(string)
	if !ok || name == "" {
		r.failAt(t, "joint", "joint: must be the name of a joint file in quotes")
		return sheet.Figure{}, false
	}
	j, err := ReadJoint(r.Loader.Open, r.besidePlate(name))
	if t.joint != nil {
		j = *t.joint
	}
	if j.Rules == nil {
		j.Rules = r.parser.Own
	}
	caption := j.Title
	j.Title = "" // it stands in the caption
	var settled *joint.Settled
	if err == nil {
		settled, err = j.Settle()
	}
	if err != nil {
		r.failAt(t, "joint", "joint: %v", err)
		return sheet.Figure{}, false
	}
	return sheet.Figure{Source: settled, Caption: caption}, r.known(t, "joint", "steps")
}

// besidePlate returns the name of a file that is named in the plate file, from
// whose folder it counts.
func (r *Plate) besidePlate(v any) string {
	name, _ := v.(string)
	if filepath.IsAbs(name) {
		return name
	}
	return filepath.Join(filepath.Dir(r.Name), name)
}
