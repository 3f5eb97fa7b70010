package dxfout

import "boltplate/drawing"

// A layer holds the items of one role.
type layer struct {
	name     string
	lineType string
}

// Colours of the AutoCAD colour index: black or white by the background for
// wide lines and text, grey for narrow lines.
const (
	colourWide   = 7
	colourNarrow = 8
)

const (
	layerDimension = "DIMENSION"
	layerText      = "TEXT"
)

// roleLayers lists the layer of each role. The wide chain line has the
// pattern of the narrow one at double length, which is what the trade calls
// CENTERX2.
var roleLayers = [drawing.RoleCount]layer{
	drawing.RoleOutline:   {"OUTLINE", "Continuous"},
	drawing.RoleThin:      {"THIN", "Continuous"},
	drawing.RoleHidden:    {"HIDDEN", "HIDDEN"},
	drawing.RoleCentre:    {"CENTRE", "CENTER"},
	drawing.RoleCutting:   {"CUTTING", "CENTERX2"},
	drawing.RoleAdjacent:  {"ADJACENT", "PHANTOM"},
	drawing.RoleHatching:  {"HATCHING", "Continuous"},
	drawing.RoleDimension: {layerDimension, "Continuous"},
	drawing.RoleText:      {layerText, "Continuous"},
	drawing.RoleFrame:     {"FRAME", "Continuous"},
}

// look returns colour and line weight of a layer, the weight in hundredths of
// a millimetre.
func look(r drawing.Role, st drawing.Style) (colour, weight int) {
	colour = colourNarrow
	if r == drawing.RoleText || r.Wide() {
		colour = colourWide
	}
	return colour, lineWeight(st.Width(r))
}

// lineWeight returns the line weight of the format that is nearest to a width
// in millimetres. Readers refuse weights that are not in the list.
func lineWeight(mm float64) int {
	best := 0
	for _, w := range [...]int{0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120, 140, 158, 200, 211} {
		if abs(float64(w)-100*mm) < abs(float64(best)-100*mm) {
			best = w
		}
	}
	return best
}

func abs(v float64) float64 {
	if v < 0 {
		return -v
	}
	return v
}

// A lineType is the pattern of a role's line under the name that readers know.
type lineType struct {
	name, picture string
	role          drawing.Role
}

// isoLineTypes lists the lines of ISO 128-2 that are not continuous.
func isoLineTypes() [4]lineType {
	return [4]lineType{
		{"HIDDEN", "ISO 128-2 no. 02 dashed __ __ __", drawing.RoleHidden},
		{"CENTER", "ISO 128-2 no. 04 long-dashed dotted ____ . ____", drawing.RoleCentre},
		{"CENTERX2", "ISO 128-2 no. 04 wide ________ . ________", drawing.RoleCutting},
		{"PHANTOM", "ISO 128-2 no. 05 long-dashed double-dotted ____ . . ____", drawing.RoleAdjacent},
	}
}
