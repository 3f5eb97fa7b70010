package command

import (
	"path/filepath"

	"boltplate/drawing"
	"boltplate/drawing/sheet"
	"boltplate/fastener/joint"
)

// A jointSource draws a joint for a sheet.
type jointSource struct{ joint.Joint }

func (s jointSource) Draw(st drawing.Style) (*drawing.Drawing, error) {
	return joint.Draw(s.Joint, joint.Options{Style: st})
}

// jointFigure reads joint = "FILE.toml", a joint file, whose name counts from
// the plate file.
func (r *plateReader) jointFigure(t *figureTable) (sheet.Figure, bool) {
	name, ok := t.keys["joint"].(string)
	if !ok || name == "" {
		r.failAt(t, "joint", "joint: must be the name of a joint file in quotes")
		return sheet.Figure{}, false
	}
	if !filepath.IsAbs(name) {
		name = filepath.Join(filepath.Dir(r.file), name)
	}
	j, err := readJoint(name)
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
