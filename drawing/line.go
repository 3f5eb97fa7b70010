package drawing

// Width returns the width of the lines of a role, millimetres on paper: wide
// or narrow as Role.Wide says, and for lines among notes that of lettering, a
// tenth of its height (ISO 3098).
func (s Style) Width(r Role) float64 {
	switch {
	case r == RoleText:
		return s.Height() / 10
	case r.Wide():
		return s.Wide()
	}
	return s.Narrow()
}

// RGB returns the colour of the role in pictures: red for findings, black for
// what belongs to the drawing.
func (r Role) RGB() (red, green, blue uint8) {
	if r == RoleFinding {
		return 0xc0, 0, 0
	}
	return 0, 0, 0
}

// Dashes returns the pattern of the role's line in widths of the line: dash,
// gap, dash and so on (ISO 128-2, nos. 02, 04 and 05). It is nil for
// continuous lines. The slice is the caller's.
func (r Role) Dashes() []float64 {
	switch r {
	case RoleHidden:
		return []float64{12, 3}
	case RoleCentre, RoleCutting:
		return []float64{24, 3, 0.5, 3}
	case RoleAdjacent:
		return []float64{24, 3, 0.5, 3, 0.5, 3}
	}
	return nil
}
