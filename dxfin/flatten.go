package dxfin

import (
	"fmt"
	"slices"

	"boltplate/drawing"
)

// Limits of a Flattener that says nothing else.
const (
	DefaultDepth  = 32
	DefaultPieces = 1_000_000
)

// A Flattener makes scenes. The zero value is ready to use.
type Flattener struct {
	MaxDepth  int  // of INSERTs within each other; 0 means DefaultDepth
	MaxPieces int  // of a scene; 0 means DefaultPieces
	Paper     bool // flattens paper space in place of model space
}

// Flatten returns the scene of model space, with the zero Flattener.
func (f *File) Flatten() (*Scene, error) { return Flattener{}.Flatten(f) }

// Flatten returns the scene of a file. The error is a *LimitError.
func (l Flattener) Flatten(f *File) (*Scene, error) {
	z := flattener{file: f, scene: &Scene{}, depth: orDefault(l.MaxDepth, DefaultDepth), left: orDefault(l.MaxPieces, DefaultPieces),
		scale: f.Number("$LTSCALE", 1)}
	z.most = z.left
	es := f.Entities
	if l.Paper {
		es = f.Paper
	}
	if err := z.entities(es, top()); err != nil {
		return nil, err
	}
	return z.scene, nil
}

// A flattener walks through entities and blocks.
type flattener struct {
	file       *File
	scene      *Scene
	depth      int
	left, most int
	scale      float64 // of line types
	told       map[string]bool
}

// A place is where the entities of a block are drawn: the map to the drawing
// and what "by block" means there. The layer is "" at the top.
type place struct {
	frame
	blocks   []string
	layer    string
	lineType string
	colour   Colour
	weight   Weight
	shown    bool
}

// top is the place of what is in no block. What is drawn there "by block" is
// white, continuous and of the program's usual weight.
func top() *place {
	return &place{frame: world(), lineType: "CONTINUOUS", colour: Colour{7, -1}, weight: WeightDefault, shown: true}
}

func (z *flattener) note(line int, format string, args ...any) {
	text := fmt.Sprintf(format, args...)
	if z.told[text] || len(z.scene.Notes) >= maxNotes {
		return
	}
	if z.told == nil {
		z.told = map[string]bool{}
	}
	z.told[text] = true
	z.scene.Notes = append(z.scene.Notes, Note{line, text})
}

func (z *flattener) entities(es []Entity, at *place) error {
	for i := range es {
		if err := z.entity(&es[i], at); err != nil {
			return err
		}
	}
	return nil
}

// count takes note of a piece and fails where there are too many.
func (z *flattener) count() error {
	if z.left--; z.left < 0 {
		return &LimitError{"pieces of the drawing", z.most}
	}
	return nil
}

func (z *flattener) entity(e *Entity, at *place) error {
	if err := z.count(); err != nil {
		return err
	}
	t := piece{z: z, e: e, at: at, look: z.look(e, at)}
	o := objectFrame(e.Normal)
	t.object = at.then(&o)
	switch d := e.Data.(type) {
	case *Line:
		t.line(at.point(d.From), at.point(d.To))
	case *Point:
		z.scene.Points++
	case *Circle:
		t.round(&t.object, d.Center, Vec3{X: d.Radius}, Vec3{Y: d.Radius}, 0, 0)
	case *Arc:
		t.round(&t.object, d.Center, Vec3{X: d.Radius}, Vec3{Y: d.Radius}, radians(d.Start), radians(d.End))
	case *Ellipse:
		t.round(&at.frame, d.Center, d.Major, e.Normal.unit().cross(d.Major).mul(d.Ratio), d.Start, d.End)
	case *Polyline:
		return t.polyline(d)
	case *Spline:
		t.spline(d)
	case *Text:
		if e.Kind != "ATTDEF" || len(at.blocks) == 0 {
			t.text(d)
		}
	case *MText:
		t.paragraph(d)
	case *Solid:
		t.solid(d)
	case *Insert:
		return z.insert(e, d, at, &t)
	case *Dimension:
		return t.dimension(d)
	case *Leader:
		t.leader(d)
	case *Hatch:
		return t.hatch(d)
	}
	return nil
}

// insert draws the copies of a block and the attributes.
func (z *flattener) insert(e *Entity, d *Insert, at *place, t *piece) error {
	for i := range d.Attributes {
		if err := z.entity(&d.Attributes[i], at); err != nil { // they stand in the coordinates of the INSERT's surroundings
			return err
		}
	}
	b, ok := z.file.Block(d.Block)
	switch {
	case !ok:
		z.note(e.Line, "the block %q is inserted and not defined", d.Block)
		return nil
	case b.External:
		z.note(e.Line, "the block %q is another file and is not shown", d.Block)
		return nil
	case slices.ContainsFunc(at.blocks, func(s string) bool { return fold(s) == fold(d.Block) }):
		z.note(e.Line, "the block %q holds itself", d.Block)
		return nil
	case len(at.blocks) >= z.depth:
		return &LimitError{"INSERTs within each other", z.depth}
	}
	in := z.inside(t, d.Block)
	for row := range d.Rows {
		for column := range d.Columns {
			if err := z.count(); err != nil {
				return err
			}
			m := insertFrame(d, e.Normal, b.Base, column, row)
			in.frame = at.then(&m)
			if err := z.entities(b.Entities, in); err != nil {
				return err
			}
		}
	}
	return nil
}

// inside returns the place of the contents of a block that t inserts.
func (z *flattener) inside(t *piece, block string) *place {
	return &place{
		blocks: append(slices.Clip(t.at.blocks), block), layer: t.look.Layer, lineType: t.look.LineType.Name,
		colour: t.look.Colour, weight: t.look.Weight, shown: t.look.Shown,
	}
}

// look settles how an entity is drawn.
func (z *flattener) look(e *Entity, at *place) Look {
	name := e.Layer
	if name == "0" && at.layer != "" {
		name = at.layer
	}
	layer := z.file.Layer(name)
	l := Look{Layer: layer.Name, Scale: z.scale * e.LineTypeScale, Colour: e.Colour, Weight: e.Weight}
	lineType := e.LineType
	switch fold(lineType) {
	case "BYLAYER":
		lineType = layer.LineType
	case "BYBLOCK":
		lineType = at.lineType
	}
	l.LineType = z.file.LineType(lineType)
	switch {
	case e.Colour.RGB >= 0:
	case e.Colour.Index == ColourByLayer:
		l.Colour = layer.Colour
	case e.Colour.Index == ColourByBlock:
		l.Colour = at.colour
	}
	switch e.Weight {
	case WeightByLayer:
		l.Weight = layer.Weight
	case WeightByBlock:
		l.Weight = at.weight
	}
	if l.Weight < 0 {
		l.Weight = WeightDefault
	}
	// An entity of a block is hidden with its own layer, and with the INSERT
	// where that is frozen; here both count the same.
	l.Shown = at.shown && !layer.Off && !layer.Frozen && !e.Invisible
	l.Plotted = !layer.Unplotted
	return l
}

// A piece is an entity on its way into the scene.
type piece struct {
	z      *flattener
	e      *Entity
	at     *place
	look   Look
	object frame // of the entity's own coordinate system
}

func (t *piece) origin() Origin { return Origin{t.e, t.at.blocks} }

func (t *piece) curve(c Curve) {
	c.Origin, c.Look = t.origin(), t.look
	t.z.scene.Curves = append(t.z.scene.Curves, c)
}

func (t *piece) line(a, b Vec3) {
	if p, q := a.flat(), b.flat(); p != q {
		t.curve(Curve{Shape: drawing.Line{From: p, To: q}})
	}
}

// round adds c + u cos t + v sin t, in coordinates of m.
func (t *piece) round(m *frame, c, u, v Vec3, start, end float64) {
	a, b, whole := sweepOf(start, end)
	t.curve(Curve{Shape: round(m.point(c).flat(), m.vector(u).flat(), m.vector(v).flat(), a, b, whole)})
}

func (t *piece) polyline(d *Polyline) error {
	m := &t.object
	if d.Space {
		m = &t.at.frame
	}
	curves, err := t.chain(m, d.Vertices, d.Closed)
	for i, c := range curves {
		c.Width, c.Piece = d.Width*m.x.len(), i
		t.curve(c)
	}
	return err
}

// chain returns the segments of a polyline as curves.
func (t *piece) chain(m *frame, vs []Vertex, closed bool) (curves []Curve, err error) {
	n := len(vs)
	for i := range vs {
		if i == n-1 && !closed {
			break
		}
		if err := t.z.count(); err != nil {
			return nil, err
		}
		a, b := vs[i], vs[(i+1)%n]
		c, r, start, end, arc, ok := bulged(a.At, b.At, a.Bulge)
		if !ok {
			continue
		}
		if !arc {
			if p, q := m.point(a.At).flat(), m.point(b.At).flat(); p != q {
				curves = append(curves, Curve{Shape: drawing.Line{From: p, To: q}})
			}
			continue
		}
		from, to, whole := sweepOf(start, end)
		curves = append(curves, Curve{Shape: round(m.point(c).flat(), m.vector(Vec3{X: r}).flat(), m.vector(Vec3{Y: r}).flat(), from, to, whole)})
	}
	return curves, nil
}

func (t *piece) spline(d *Spline) {
	t.curve(Curve{Spline: planeSpline(d, &t.at.frame)})
}

func planeSpline(d *Spline, m *frame) *PlaneSpline {
	s := &PlaneSpline{Degree: d.Degree, Knots: d.Knots, Weights: d.Weights, Control: make([]drawing.Point, len(d.Control))}
	for i, c := range d.Control {
		s.Control[i] = m.point(c).flat()
	}
	return s
}

func (t *piece) solid(d *Solid) {
	s := PlaneSolid{Origin: t.origin(), Look: t.look}
	for i, c := range d.Corners {
		s.Corners[i] = t.object.point(c).flat()
	}
	t.z.scene.Solids = append(t.z.scene.Solids, s)
}

func (t *piece) leader(d *Leader) {
	for _, chain := range d.Points {
		l := PlaneLeader{Origin: t.origin(), Look: t.look, Arrow: d.Arrow, Text: d.Text, TextAt: t.at.point(d.TextAt).flat()}
		for _, p := range chain {
			l.Points = append(l.Points, t.at.point(p).flat())
		}
		if len(l.Points) > 1 {
			t.z.scene.Leaders = append(t.z.scene.Leaders, l)
		}
	}
	if len(d.Points) == 0 && d.Text != "" {
		t.z.scene.Texts = append(t.z.scene.Texts, PlaneText{Origin: t.origin(), Look: t.look, Value: d.Text,
			At: t.at.point(d.TextAt).flat(), Height: d.Height, Width: 1, VAlign: Top})
	}
}
