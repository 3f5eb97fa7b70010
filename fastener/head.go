package fastener

import (
	"math"

	"boltplate/drawing"
)

// Sources of the rules for heads and nuts.
const (
	sourceCorners = "Maguire, Engineering Drawing from First Principles; Low, Machine Drawing and Design (1887)"
	sourceFlats   = "Narayana, Kannaiah and Reddy, Machine Drawing; Low, Machine Drawing and Design (1887)"
)

// widths are the width across flats and across corners of a prism with n
// faces, one of which governs.
type widths struct {
	n              int
	flats, corners drawing.Quantity
	flatsGovern    bool
}

func cosHalf(n int) float64 { return math.Cos(math.Pi / float64(n)) }

// byFlats sets the widths out from the width across flats.
func byFlats(n int, flats drawing.Quantity) widths {
	flats.Letter, flats.Name = "W", "width across flats"
	flats.Source += "; governs"
	rule := "W / cos 30°"
	if n == 4 {
		rule = "W / cos 45°"
	}
	return widths{n: n, flatsGovern: true, flats: flats, corners: drawing.Quantity{
		Letter: "A", Name: "width across corners", Rule: rule, Value: flats.Value / cosHalf(n),
		Source: "follows from the width across flats, which governs", Status: drawing.Derived,
	}}
}

// byCorners sets the widths of a hexagon out from the width across corners.
func byCorners(corners drawing.Quantity) widths {
	corners.Letter, corners.Name = "A", "width across corners"
	corners.Source += "; governs"
	return widths{n: 6, corners: corners, flats: drawing.Quantity{
		Letter: "W", Name: "width across flats", Rule: "A cos 30°", Value: corners.Value * cosHalf(6),
		Source: "follows from the width across corners, which governs", Status: drawing.Derived,
	}}
}

// hexagonByRule returns the widths of a hexagonal head or nut by proportion.
func hexagonByRule(d float64, g Governs) widths {
	if g == Flats {
		return byFlats(6, drawing.Quantity{Rule: "1.5D + 3", Value: 1.5*d + 3, Source: sourceFlats, Status: drawing.Published})
	}
	return byCorners(drawing.Quantity{Rule: "2D", Value: 2 * d, Source: sourceCorners, Status: drawing.Published})
}

// hexagonByTable returns the widths of a hexagonal head or nut by a standard
// that tabulates the nominal width across flats s and the least width across
// corners e.
func hexagonByTable(standard string, s, e float64, g Governs, status drawing.Status) widths {
	if g == Corners {
		return byCorners(drawing.Quantity{Rule: drawing.RuleTable, Value: e, Source: standard + ", e min", Status: status})
	}
	return byFlats(6, drawing.Quantity{Rule: drawing.RuleTable, Value: s, Source: standard + ", s nominal", Status: status})
}

// squareByRule returns the widths of a square head or nut by proportion.
func squareByRule(d float64) widths {
	return byFlats(4, drawing.Quantity{Rule: "1.5D + 3", Value: 1.5*d + 3, Source: sourceFlats, Status: drawing.Published})
}

// flatsLabel and cornersLabel label the widths; the one that follows is a
// reference dimension that stands in for the other.
func (w widths) flatsLabel() drawing.Label {
	l := label(w.flats)
	if !w.flatsGovern {
		l.Reference, l.StandsFor = true, w.corners.Letter
	}
	if w.n == 4 {
		l.Symbol = drawing.SquareSymbol
	}
	return l
}

func (w widths) cornersLabel() drawing.Label {
	l := label(w.corners)
	if w.flatsGovern {
		l.Reference, l.StandsFor = true, w.flats.Letter
	}
	return l
}

// quantities returns both widths and the figures of the chamfer.
func (w widths) quantities() []drawing.Quantity {
	qs := []drawing.Quantity{w.corners, w.flats,
		{Letter: "Dc", Name: "chamfer circle diameter", Rule: "W", Value: w.flats.Value, Source: textbooks, Status: drawing.Published},
		chamferQuantity(),
	}
	arc := func(letter, name, rule string, k float64) {
		qs = append(qs, drawing.Quantity{Letter: letter, Name: name, Rule: rule, Value: k * w.flats.Value,
			Source: "arc through three points of the chamfer curve", Status: drawing.Derived})
	}
	if w.n == 6 {
		arc("R", "chamfer arc radius, middle face of the three-face view", "0.9553W", chamferArc(6, 1))
		arc("R1", "chamfer arc radius, side face of the three-face view", "0.2556W", chamferArc(6, 0.5))
		arc("R2", "chamfer arc radius, two-face view", "0.7221W", chamferArc(6, cosHalf(6)))
	} else {
		arc("R", "chamfer arc radius, two-face view", "0.5825W", chamferArc(4, cosHalf(4)))
		arc("R1", "chamfer arc radius, one-face view", "1.1052W", chamferArc(4, 1))
	}
	return qs
}

// chamferArc returns the radius of the arc through the vertex and the corners
// of a chamfer curve, for W = 1, on a face foreshortened by k:
// (h^2 + s^2) / 2s with half chord h and depth s.
func chamferArc(n int, k float64) float64 {
	h := k * math.Tan(math.Pi/float64(n)) / 2
	s := tanChamfer * (1/cosHalf(n) - 1) / 2
	return (h*h + s*s) / (2 * s)
}

func chamferQuantity() drawing.Quantity {
	return drawing.Quantity{Letter: "a", Name: "chamfer angle", Rule: "30°", Value: chamferAngle, Unit: drawing.Degree, Source: textbooks, Status: drawing.Published}
}

// dimensionsAlong gives the widths of p in an elevation, on the given side of
// it at x, and the angle of its chamfer where that is seen.
func (w widths) dimensionsAlong(b *builder, p prism, acrossCorners bool, side drawing.Side) {
	if !acrossCorners {
		b.linear(side, 1, w.flatsLabel(), p.x1, -p.flats/2, p.x1, p.flats/2)
		return
	}
	s := math.Copysign(p.drop(), p.x1-p.x0)
	h := p.corners() / 2
	b.linear(side, 0, w.cornersLabel(), p.x1-s, -h, p.x1-s, h)
	angle := 125.0
	if p.x1 > p.x0 {
		angle = 55
	}
	b.add(drawing.RoleDimension, drawing.Leader{Label: label(chamferQuantity()),
		Tip: drawing.Pt(p.x1-s/2, (h+p.flats/2)/2), Angle: angle})
}

// dimensionsAcross gives the width that governs in an end view, whose corners
// are at the top and bottom or at the sides.
func (w widths) dimensionsAcross(b *builder, p prism, cornerUp bool, rank drawing.Rank) {
	flats, corners := p.flats/2, p.corners()/2
	switch {
	case p.n == 4 && cornerUp: // the side of a square that stands on its corner
		b.add(drawing.RoleDimension, drawing.Aligned{Label: w.flatsLabel(), Rank: rank, Side: drawing.Above,
			From: drawing.Pt(corners, 0), To: drawing.Pt(0, -corners)})
	case p.n == 4:
		b.linear(drawing.Below, rank, w.flatsLabel(), -flats, -flats, flats, -flats)
	case w.flatsGovern && cornerUp:
		b.linear(drawing.Below, rank, w.flatsLabel(), -flats, -corners/2, flats, -corners/2)
	case w.flatsGovern:
		b.linear(drawing.Right, rank, w.flatsLabel(), corners/2, -flats, corners/2, flats)
	case cornerUp:
		b.linear(drawing.Right, rank+1, w.cornersLabel(), 0, -corners, 0, corners)
	default:
		b.linear(drawing.Below, rank+1, w.cornersLabel(), -corners, 0, corners, 0)
	}
}
