package command

import (
	"fmt"

	"boltplate/dxfout"
	"boltplate/settings"
)

// dxfArguments say how DXF files are written.
type dxfArguments struct {
	DXF    string `name:"dxf" placeholder:"FORM" help:"Form of DXF files: layered (the default) or plain, AC1009 with lines, arcs, circles, polylines and text only, for programs that read little else."`
	Layers string `placeholder:"FILE.toml" help:"File that gives each role of line a layer of your office, with its colour, line type and width."`
}

// encoder returns the encoder that the arguments ask for.
func (a *dxfArguments) encoder(in *env) (dxfout.Encoder, error) {
	var e dxfout.Encoder
	forms := []string{"layered", "plain"}
	switch a.DXF {
	case "", forms[0]:
	case forms[1]:
		e.Version = dxfout.R12
	default:
		return e, fmt.Errorf("--dxf %s: no such form; %s", a.DXF, settings.DidYouMean(a.DXF, forms))
	}
	if a.Layers == "" {
		return e, nil
	}
	name, text, err := in.readSettings(a.Layers)
	if err != nil {
		return e, err
	}
	e.Layers, err = settings.ReadLayers(name, text, e.Version)
	return e, err
}
