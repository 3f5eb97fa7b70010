package dxfin

import (
	"fmt"
	"math"
	"strconv"
)

// builders make the data of an entity of its groups. What they return says why
// an entity cannot be drawn; "" is well.
var builders = map[string]func(*fields, *Entity) string{
	"LINE":        (*fields).buildLine,
	"POINT":       (*fields).buildPoint,
	"CIRCLE":      (*fields).buildCircle,
	"ARC":         (*fields).buildArc,
	"ELLIPSE":     (*fields).buildEllipse,
	"LWPOLYLINE":  (*fields).buildLightPolyline,
	"POLYLINE":    (*fields).buildPolyline,
	"SPLINE":      (*fields).buildSpline,
	"TEXT":        (*fields).buildText,
	"ATTRIB":      (*fields).buildText,
	"ATTDEF":      (*fields).buildText,
	"MTEXT":       (*fields).buildMText,
	"SOLID":       (*fields).buildSolid,
	"TRACE":       (*fields).buildSolid,
	"INSERT":      (*fields).buildInsert,
	"DIMENSION":   (*fields).buildDimension,
	"LEADER":      (*fields).buildLeader,
	"MULTILEADER": (*fields).buildMultiLeader,
	"MLEADER":     (*fields).buildMultiLeader,
	"HATCH":       (*fields).buildHatch,
}

func formatNumber(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

func (f *fields) buildLine(e *Entity) string {
	d := &Line{}
	for i := range f.groups {
		g := &f.groups[i]
		_ = f.point(g, 10, &d.From) || f.point(g, 11, &d.To)
	}
	e.Data = d
	return ""
}

func (f *fields) buildPoint(e *Entity) string {
	d := &Point{}
	for i := range f.groups {
		f.point(&f.groups[i], 10, &d.At)
	}
	e.Data = d
	return ""
}

func (f *fields) buildCircle(e *Entity) string {
	d := &Circle{}
	for i := range f.groups {
		if g := &f.groups[i]; g.code == 40 {
			d.Radius = f.real(g)
		} else {
			f.point(g, 10, &d.Center)
		}
	}
	e.Data = d
	return noRadius(d.Radius)
}

func noRadius(r float64) string {
	if !(r > 0) {
		return "has the radius " + formatNumber(r)
	}
	return ""
}

func (f *fields) buildArc(e *Entity) string {
	d := &Arc{}
	for i := range f.groups {
		switch g := &f.groups[i]; g.code {
		case 40:
			d.Radius = f.real(g)
		case 50:
			d.Start = f.real(g)
		case 51:
			d.End = f.real(g)
		default:
			f.point(g, 10, &d.Center)
		}
	}
	e.Data = d
	return noRadius(d.Radius)
}

func (f *fields) buildEllipse(e *Entity) string {
	d := &Ellipse{Ratio: 1, End: 2 * math.Pi}
	for i := range f.groups {
		switch g := &f.groups[i]; g.code {
		case 40:
			d.Ratio = f.real(g)
		case 41:
			d.Start = f.real(g)
		case 42:
			d.End = f.real(g)
		default:
			_ = f.point(g, 10, &d.Center) || f.point(g, 11, &d.Major)
		}
	}
	e.Data = d
	if d.Major == (Vec3{}) || d.Ratio == 0 {
		return "has an axis of no length"
	}
	return ""
}

func (f *fields) buildLightPolyline(e *Entity) string {
	d := &Polyline{}
	elevation := 0.0
	for i := range f.groups {
		g := &f.groups[i]
		last := len(d.Vertices) - 1
		switch {
		case g.code == 10:
			d.Vertices = append(d.Vertices, Vertex{At: Vec3{X: f.real(g)}})
		case g.code == 20 && last >= 0:
			d.Vertices[last].At.Y = f.real(g)
		case g.code == 42 && last >= 0:
			d.Vertices[last].Bulge = f.real(g)
		case g.code == 43, g.code == 40 && last == 0:
			d.Width = f.real(g)
		case g.code == 38:
			elevation = f.real(g)
		case g.code == 70:
			d.Closed = f.int(g)&polylineClosed != 0
		}
	}
	for i := range d.Vertices {
		d.Vertices[i].At.Z = elevation
	}
	e.Data = d
	if len(d.Vertices) < 2 {
		return "has fewer than two corners"
	}
	return ""
}

// buildPolyline makes a POLYLINE, whose vertices are read after it.
func (f *fields) buildPolyline(e *Entity) string {
	d := &Polyline{}
	for i := range f.groups {
		switch g := &f.groups[i]; g.code {
		case 40:
			d.Width = f.real(g)
		case 70:
			f.flags = f.int(g)
		}
	}
	d.Closed, d.Space = f.flags&polylineClosed != 0, f.flags&polylineSpace != 0
	e.Data = d
	if f.flags&polylineMesh != 0 {
		return "is a mesh"
	}
	return ""
}

// maxDegree bounds the degree of a spline; programs go up to 11.
const maxDegree = 25

func (f *fields) buildSpline(e *Entity) string {
	d := &Spline{}
	for i := range f.groups {
		g := &f.groups[i]
		switch g.code {
		case 10:
			d.Control = append(d.Control, Vec3{X: f.real(g)})
		case 11:
			d.Fit = append(d.Fit, Vec3{X: f.real(g)})
		case 20, 30:
			f.last(g, 10, d.Control)
		case 21, 31:
			f.last(g, 11, d.Fit)
		case 40:
			d.Knots = append(d.Knots, f.real(g))
		case 41:
			d.Weights = append(d.Weights, f.real(g))
		case 70:
			d.Closed = f.int(g)&1 != 0
		case 71:
			d.Degree = f.int(g)
		}
	}
	e.Data = d
	return d.wrong()
}

// last sets a coordinate of the last of some points, which a group with the
// given code has begun.
func (f *fields) last(g *group, code int, points []Vec3) {
	if n := len(points); n > 0 {
		f.point(g, code, &points[n-1])
	}
}

// wrong says why a spline cannot be drawn.
func (d *Spline) wrong() string {
	n := len(d.Control)
	switch {
	case n == 0 && len(d.Fit) > 0:
		return fmt.Sprintf("is given by %d fit points alone", len(d.Fit))
	case d.Degree < 1 || d.Degree > maxDegree:
		return fmt.Sprintf("has the degree %d", d.Degree)
	case n <= d.Degree:
		return fmt.Sprintf("of degree %d has %d control points", d.Degree, n)
	case len(d.Knots) != n+d.Degree+1:
		return fmt.Sprintf("has %d knots where %d control points of degree %d need %d", len(d.Knots), n, d.Degree, n+d.Degree+1)
	case len(d.Weights) != 0 && len(d.Weights) != n:
		return fmt.Sprintf("has %d weights for %d control points", len(d.Weights), n)
	}
	for i := 1; i < len(d.Knots); i++ {
		if d.Knots[i] < d.Knots[i-1] {
			return "has knots that fall"
		}
	}
	if !(d.Knots[n] > d.Knots[d.Degree]) {
		return "has knots that are all the same"
	}
	for _, w := range d.Weights {
		if !(w > 0) {
			return "has a weight that is not positive"
		}
	}
	return ""
}

func (f *fields) buildText(e *Entity) string {
	d := &Text{Width: 1, Style: "STANDARD"}
	flags := 0
	for i := range f.groups {
		switch g := &f.groups[i]; g.code {
		case 1:
			d.Value = f.line(g)
		case 2:
			d.Tag = f.name(g)
		case 7:
			d.Style = f.name(g)
		case 40:
			d.Height = f.real(g)
		case 41:
			d.Width = f.real(g)
		case 50:
			d.Rotation = f.real(g)
		case 70:
			flags = f.int(g)
		case 72:
			d.Align = HAlign(clamp(f.int(g), int(Fit)))
		case 73, 74: // of TEXT, of attributes
			if g.code == 74 == (e.Kind != "TEXT") {
				d.VAlign = VAlign(clamp(f.int(g), int(Top)))
			}
		case 11, 21, 31:
			d.HasEnd = true
			f.point(g, 11, &d.End)
		default:
			f.point(g, 10, &d.At)
		}
	}
	d.Hidden = e.Kind != "TEXT" && flags&1 != 0
	e.Data = d
	return ""
}

// clamp returns v where it is from 0 to most, else 0.
func clamp(v, most int) int {
	if v < 0 || v > most {
		return 0
	}
	return v
}

func (f *fields) buildMText(e *Entity) string {
	d := &MText{Attachment: 1}
	var raw []byte
	for i := range f.groups {
		switch g := &f.groups[i]; g.code {
		case 1, 3:
			raw = append(raw, g.text...)
		case 40:
			d.Height = f.real(g)
		case 41:
			d.Width = f.real(g)
		case 50: // the later one of angle and direction counts
			d.Rotation, d.HasDir = f.real(g), false
		case 71:
			if n := f.int(g); n >= 1 && n <= 9 {
				d.Attachment = n
			}
		case 11, 21, 31:
			d.HasDir = true
			f.point(g, 11, &d.Direction)
		default:
			f.point(g, 10, &d.At)
		}
	}
	d.Raw = f.p.enc.decode(raw)
	d.Value = PlainText(d.Raw)
	e.Data = d
	return ""
}

func (f *fields) buildSolid(e *Entity) string {
	d := &Solid{}
	var p [4]Vec3
	fourth := false
	for i := range f.groups {
		g := &f.groups[i]
		fourth = fourth || g.code == 13
		_ = f.point(g, 10, &p[0]) || f.point(g, 11, &p[1]) || f.point(g, 12, &p[2]) || f.point(g, 13, &p[3])
	}
	if !fourth {
		p[3] = p[2]
	}
	d.Corners = [4]Vec3{p[0], p[1], p[3], p[2]} // the format has them crosswise
	e.Data = d
	return ""
}

func (f *fields) buildInsert(e *Entity) string {
	d := &Insert{Scale: Vec3{1, 1, 1}, Columns: 1, Rows: 1}
	for i := range f.groups {
		switch g := &f.groups[i]; g.code {
		case 2:
			d.Block = f.name(g)
		case 41:
			d.Scale.X = f.real(g)
		case 42:
			d.Scale.Y = f.real(g)
		case 43:
			d.Scale.Z = f.real(g)
		case 44:
			d.ColumnSpacing = f.real(g)
		case 45:
			d.RowSpacing = f.real(g)
		case 50:
			d.Rotation = f.real(g)
		case 66:
			f.flags = f.int(g)
		case 70:
			d.Columns = max(1, f.int(g))
		case 71:
			d.Rows = max(1, f.int(g))
		default:
			f.point(g, 10, &d.At)
		}
	}
	e.Data = d
	if d.Scale.X == 0 || d.Scale.Y == 0 {
		return "has the scale 0"
	}
	return ""
}
