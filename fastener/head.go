package fastener

import (
	"fmt"
	"math"

	"boltplate/drawing"
)

// widths are the width across flats and across corners of a prism with n
// faces, one of which governs, and its chamfer.
type widths struct {
	n              int
	flats, corners drawing.Quantity
	flatsGovern    bool
	angle          drawing.Quantity // of the chamfer
	arc            drawing.Quantity // of the chamfer in the three-face view, where that is given; else zero
}

func cosHalf(n int) float64 { return math.Cos(math.Pi / float64(n)) }

const (
	nameCorners = "width across corners"
	nameFlats   = "width across flats"
	bookFlats   = narayana + "; " + low + ", in inches"
	byFlats     = "the width across flats, which governs"
	byCorners   = "the width across corners, which governs"
)

// The widths of a hexagonal head or nut, and of a square one. 2D across corners
// is the width that a hexagon is constructed from.
var (
	hexByCorners = groupOf(
		published("A", nameCorners, "2D", low).governing(),
		follows("W", nameFlats, "A cos 30°", byCorners))
	hexByFlats = groupOf(
		follows("A", nameCorners, "W/cos 30°", byFlats),
		published("W", nameFlats, "1.5D + 3", bookFlats).governing())
	squareByFlats = groupOf(
		follows("A", nameCorners, "W/cos 45°", byFlats),
		published("W", nameFlats, "1.5D + 3", bookFlats).governing())
)

const (
	nameChamfer = "chamfer angle"
	nameCircle  = "chamfer circle diameter"
	nameMiddle  = "chamfer arc radius, middle face of the three-face view"
	nameSide    = "chamfer arc radius, side faces of the three-face view"
	nameTwo     = "chamfer arc radius, two-face view"
	nameDepth   = "depth of the chamfer at the corners"
	touching    = "the flats, which it touches"
)

// The chamfer of a hexagon: by its angle of 30 degrees, for which the arcs are
// so many times W; by another angle; and by the arc of the middle face, from
// which the angle follows. The arcs are drawn through three points of the true
// curves; how far they are off those, square to the curve, is measured in the
// tests. The factors are rounded to four decimals.
var (
	hexChamfer = groupOf(
		follows("Dc", nameCircle, "W", touching),
		practice("a", nameChamfer, "30°").angle(),
		follows("R", nameMiddle, "0.9553W", threePoints+", off which it is by 0.00104W at most"),
		follows("R1", nameSide, "0.2556W", threePoints+", off which it is by 0.00171W at most"),
		follows("R2", nameTwo, "0.7221W", threePoints+", off which it is by 0.00112W at most"))
	hexChamferByAngle = groupOf(append([]size{
		follows("Dc", nameCircle, "W", touching),
		practice("a", nameChamfer, "30°").angle(),
		follows("hc", nameDepth, "(A - W)/2 × tan a", "the widths and the angle of the chamfer"),
		follows("R", nameMiddle, "(A²/16 + hc²)/(2hc)", threePoints)}, otherArcs()...)...)
	hexChamferByArc = groupOf(append([]size{
		follows("Dc", nameCircle, "W", touching),
		practice("R", nameMiddle, "1.5D").governing(),
		follows("hc", nameDepth, "R - √(R² - A²/16)", "the arc in the middle face"),
		follows("a", nameChamfer, "arctan(2hc/(A - W))", "the arc in the middle face").angle()}, otherArcs()...)...)
)

const (
	threePoints = "three points of the chamfer curve"
	inThree     = "the chamfer curve, in three arcs"
)

func otherArcs() []size {
	return []size{
		follows("R1", nameSide, "(A²/64 + hc²)/(2hc)", threePoints),
		follows("R2", nameTwo, "(W²/16 + hc²)/(2hc)", threePoints),
	}
}

// squareChamfer is the chamfer of a square, of 30 degrees and no other: the
// curve of a square on its corner is drawn in three arcs, because one would
// stand out beside the outline of the cone.
var squareChamfer = groupOf(
	follows("Dc", nameCircle, "W", touching),
	practice("a", nameChamfer, "30°").angle().fix(),
	follows("R", "chamfer arc radius, two-face view, at the middle of a face", "0.4838W",
		inThree+", off which it is by 0.00107W at most"),
	follows("R1", "chamfer arc radius, two-face view, beside that at both ends", "1.4034W",
		inThree+", off which it is by 0.00048W at most"),
	follows("R2", "chamfer arc radius, one-face view", "1.1052W",
		threePoints+", off which it is by 0.00649W at most"))

// headThickness is the height of a hexagonal or square head.
var headThickness = groupOf(practice("T", "head thickness", "0.8D"))

// hexagonVariants are the ways to set out a hexagon by rules, with what else a
// part of the kind has.
func hexagonVariants(v variant, more ...*group) []variant {
	var out []variant
	for _, w := range []*group{hexByCorners, hexByFlats} {
		for _, c := range []*group{hexChamfer, hexChamferByAngle, hexChamferByArc} {
			o := v
			o.groups, o.other = append([]*group{w, c}, more...), c != hexChamfer
			out = append(out, o)
		}
	}
	return out
}

// hexagon sets a hexagon out by rules.
func (z *sizer) hexagon(g Governs) {
	gives := func(letter string) bool { return z.rules.gives(z.kind, z.word, letter) }
	switch {
	case g == Flats:
		z.use(hexByFlats)
	case g == ByBasis && gives("W") && !gives("A"):
		z.use(hexByFlats)
		z.at("W").set = z.rules.Name()
	default:
		z.use(hexByCorners)
	}
	z.hexagonChamfer()
}

func (z *sizer) hexagonChamfer() {
	switch {
	case z.rules.gives(z.kind, z.word, "R"):
		z.use(hexChamferByArc)
		z.at("R").set = z.rules.Name()
		r, _ := z.value("R")
		if a, ok := z.value("A"); ok && r < a/4 {
			z.fail(z.refuse(z.at("R"), "must be at least A/4, to reach over a face: "+mm(a/4)))
		}
	case z.rules.changes(z.kind, z.word, "a"):
		z.use(hexChamferByAngle)
	default:
		z.use(hexChamfer)
	}
}

// square sets a square out by rules.
func (z *sizer) square() {
	z.use(squareByFlats)
	z.use(squareChamfer)
}

// prismColumns are the columns of a standard of hexagonal or square heads or
// nuts, and what they are drawn with.
type prismColumns struct {
	corners, flats, height, bearing *size
}

// columnsOf returns the columns of a standard of prisms with n faces; note says
// what its sizes are taken from.
func columnsOf(n int, standard, note string, height *size) prismColumns {
	corners := hexByFlats.sizes[0]
	if n == 4 {
		corners = squareByFlats.sizes[0]
	} else {
		corners.source += "; at least, for inspection: " + standard + ", e min"
	}
	flats := column("W", nameFlats, standard+", s nominal"+note).governing()
	return prismColumns{corners: &corners, flats: &flats, height: height,
		bearing: column("dw", "washer face diameter, at least; not drawn", standard+", dw min"+note)}
}

// flatsLabel and cornersLabel label the widths; the one that follows is a
// reference dimension that stands in for the other, but for the flats of a
// hexagon, which a spanner needs.
func (w widths) flatsLabel() drawing.Label {
	l := label(w.flats)
	if !w.flatsGovern {
		l.Reference = true
	}
	if w.n == 4 {
		l.Symbol, l.StandsFor = drawing.SquareSymbol, w.corners.Letter
		if w.flatsGovern {
			l.StandsFor = ""
		}
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
	if b.opt.Simplified {
		return // no chamfer is drawn
	}
	if w.arc.Value == 0 { // between the face and the chamfer, both drawn out
		start, end := 90-w.angle.Value, 90.0
		to := 0.0
		from := math.Hypot(s, h-p.flats/2)
		if p.x1 > p.x0 {
			start, end = 90, 90+w.angle.Value
			from, to = to, from
		}
		b.add(drawing.RoleDimension, drawing.Angular{Label: label(w.angle), Vertex: drawing.Pt(p.x1, p.flats/2),
			Start: start, End: end, From: from, To: to})
		return
	}
	// The arc of the middle face is given, and the angle follows.
	half := math.Asin(p.corners()/4/w.arc.Value) * 180 / math.Pi * 0.9
	mid := 180.0
	if p.x1 > p.x0 {
		mid = 0
	}
	b.add(drawing.RoleDimension,
		drawing.Radius{Label: drawing.Label{Quantity: w.arc, Symbol: drawing.RadiusSymbol},
			Center: drawing.Pt(p.x1-math.Copysign(w.arc.Value, p.x1-p.x0), 0), Radius: w.arc.Value, Angle: mid + half/2,
			Start: mid - half, End: mid + half})
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
		b.linear(drawing.Below, rank, w.flatsLabel(), -flats, -corners/2, flats, -corners/2)
		b.linear(drawing.Right, rank+1, w.cornersLabel(), 0, -corners, 0, corners)
	default:
		b.linear(drawing.Right, rank, w.flatsLabel(), corners/2, -flats, corners/2, flats)
		b.linear(drawing.Below, rank+1, w.cornersLabel(), -corners, 0, corners, 0)
	}
}

// prism returns the prism between two faces; the end face at x1 is chamfered.
func (w widths) prism(x0, x1 float64) prism {
	return prism{n: w.n, flats: w.flats.Value, angle: w.angle.Value, x0: x0, x1: x1}
}

// prism returns the widths of a prism with n faces that has been worked out.
func (z *sizer) prism(n int) (widths, error) {
	if err := z.solve(); err != nil {
		return widths{}, err
	}
	w := widths{n: n, flats: z.size("W"), corners: z.size("A"), angle: z.size("a"),
		flatsGovern: z.at("W").governs}
	if z.at("R").governs {
		w.arc = z.size("R")
	}
	if a := z.at("a"); a.value < leastChamfer || a.value > mostChamfer {
		return w, z.refuse(a, fmt.Sprintf("must be from %g to %g degrees", leastChamfer, mostChamfer))
	}
	return w, z.needs("W", "D")
}

// Angles of a chamfer that are drawn, degrees.
const leastChamfer, mostChamfer = 10.0, 45.0

// A prismRow is a row of a standard of hexagonal or square heads or nuts: across
// flats s, nominal and least, least across corners e, height m, nominal, least
// and greatest, and least diameter dw of the washer face; mm. What a table does
// not have is 0.
type prismRow struct {
	d, s, sMin, e, m, mMin, mMax, dw float64
	status                           drawing.Status
}

func (r prismRow) diameter() float64 { return r.d }

// widthsByTable sets the widths of a prism with n faces out by a row of a
// standard: the flats govern, and the least width across corners is a limit for
// inspection.
func (z *sizer) widthsByTable(n int, c *prismColumns, r *prismRow, status drawing.Status) {
	corners := c.corners.unsettled()
	corners.min = r.e
	z.list = append(z.list, corners)
	flats := z.tabled(c.flats, r.s, status)
	if r.sMin > 0 {
		flats.min, flats.max = r.sMin, r.s
	}
	if n == 6 {
		z.hexagonChamfer()
	} else {
		z.use(squareChamfer)
	}
}

// heightByTable adds the height of such a prism, and the width of its washer
// face, which is not drawn.
func (z *sizer) heightByTable(c *prismColumns, r *prismRow, status drawing.Status) {
	m := z.tabled(c.height, r.m, status)
	m.min, m.max = r.mMin, r.mMax
	if r.dw > 0 {
		z.tabled(c.bearing, r.dw, status).min = r.dw
	}
}
