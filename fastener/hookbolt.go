package fastener

import (
	"fmt"

	"boltplate/drawing"
	"boltplate/internal/solid"
	"boltplate/thread"
)

// HookBolt is a bolt whose head reaches to one side only, over the edge of a
// part that has no room for a hole. A square under the hook, as wide as the
// hook is across, keeps it from turning. The side away from the hook is flush
// from head to square, and the back of the head is rounded there: a quarter of
// a circle by default, or half a circle over the whole width of the hook. The
// zero ThreadLength means that of ISO 888.
//
// The proportions are those of Low, Machine Drawing and Design (1887). No
// standard has the part, so its Basis can only be Proportion.
type HookBolt struct {
	Thread       thread.Thread
	Length       float64 // under the hook, mm
	ThreadLength float64 // mm; 0 means by the rule
	HalfRound    bool    // the back of the hook is half a circle
	Basis        Basis
	Extra
}

func hookBoltKind() KindInfo {
	return KindInfo{Name: "hook-bolt", Title: "hook bolt", Length: true, Views: allViews(),
		Default: []drawing.Direction{drawing.Front, drawing.SideView, drawing.Isometric},
		Options: append([]Option{optThread(), choice("form", "quarter", "half")}, optNuts()...),
		variants: []variant{
			{word: "quarter", families: []string{familyBolts}, groups: []*group{hookRules, hookSquare},
				thread: byISO888},
			{word: "half", families: []string{familyBolts}, groups: []*group{halfHookRules, hookSquare},
				thread: byISO888},
		},
		how: map[stage]string{
			stageHead:       "Draw the straight lines of the hook: up from the square, along the top, down the back, and the square under it with its diagonals",
			stageHeadCurves: "Mark the centre of the back, as far from both lines that it touches as its radius, and swing the quarter or half circle from one to the other"},
		make: func(s Spec) Fastener {
			return HookBolt{Thread: s.Thread, Length: s.Length, ThreadLength: s.ThreadLength,
				HalfRound: is(s.Form, "half"), Basis: s.Basis, Extra: s.Extra}
		}}
}

const (
	nameHookWidth = "overall width of hook"
	nameHookDepth = "depth of hook"
	nameHookBack  = "radius of back of hook"
)

// The hook, with a back of a quarter or half a circle; what is published for a
// quarter fits half a circle as well.
var (
	hookRules = groupOf(
		published("L1", nameHookWidth, "2D", low),
		published("T", nameHookDepth, "D", low),
		published("R", nameHookBack, "D", low))
	halfHookRules = groupOf(
		follows("L1", nameHookWidth, "2R", "the radius: half a circle over all of it"),
		follows("T", nameHookDepth, "R", "the radius: half a circle"),
		published("R", nameHookBack, "D", low))
	hookSquare = groupOf(
		squareNeck.sizes[0].named("S", "side of square, and hook across"),
		squareNeck.sizes[1])
)

// Kind returns "hook-bolt".
func (HookBolt) Kind() string { return "hook-bolt" }

// Designation returns for instance "Hook bolt M20 × 90".
func (h HookBolt) Designation() string {
	s := "Hook bolt "
	if h.HalfRound {
		s = "Hook bolt, half-round back, "
	}
	return s + h.Thread.String() + times(h.Length) + h.supplied()
}

// Validate reports what is wrong with the description, as a *FieldError.
func (h HookBolt) Validate() error {
	_, err := h.resolve()
	return err
}

// A hook is the head of a hook bolt with the square under it.
type hook struct {
	width, depth, back drawing.Quantity
	neck               neck
	halfRound          bool
}

func (h HookBolt) resolve() (*bolt, error) {
	kind := h.Kind()
	if err := checkCommon(kind, h.Thread, h.Basis, ByBasis, false); err != nil {
		return nil, err
	}
	if err := proportionOnly(kind, h.Basis); err != nil {
		return nil, err
	}
	word, rules := "quarter", hookRules
	if h.HalfRound {
		word, rules = "half", halfHookRules
	}
	b := newBolt(kind, word, h.Extra, h.Thread)
	if err := b.begin(h.Length, h.Basis, underHead); err != nil {
		return nil, err
	}
	z := &b.z
	z.use(rules)
	if err := b.squareNeck(hookSquare); err != nil {
		return nil, err
	}
	k := hook{width: z.size("L1"), depth: z.size("T"), back: z.size("R"), neck: b.neck, halfRound: h.HalfRound}
	b.neck = neck{} // it is a part of the hook
	b.form = k.form()
	b.fits.Head = HeadFit{Height: k.depth.Value, Length: k.width.Value}
	if err := k.check(z); err != nil {
		return nil, err
	}
	return b, b.settle(wish{given: h.ThreadLength, basis: h.Basis})
}

// check refuses sizes that cannot be drawn.
func (h hook) check(z *sizer) error {
	s, reach := h.neck.side.Value, h.width.Value-h.neck.side.Value
	switch {
	case reach <= 0:
		return z.refuse(z.at("L1"), fmt.Sprintf("must be more than the side of the square, S = %s", mm(s)))
	case !h.halfRound && (h.back.Value > h.depth.Value || h.back.Value > h.width.Value):
		return z.refuse(z.at("R"), fmt.Sprintf("must be at most %s, what the hook leaves it",
			mm(min(h.depth.Value, h.width.Value))))
	}
	return nil
}

// form returns the hook, which reaches up in the front view.
func (h hook) form() *form {
	s, n := h.neck.side.Value/2, h.neck.length.Value
	t, r, top := h.depth.Value, h.back.Value, h.width.Value-h.neck.side.Value/2
	// From the end of the square round the hook; the back goes over into the
	// square without an edge.
	profile := []solid.Vertex{{X: 0, Y: -s}, {X: n, Y: -s}, {X: n, Y: s}, {X: 0, Y: s}}
	if h.halfRound {
		profile = append(profile, solid.Vertex{X: 0, Y: top, Bulge: 1})
	} else {
		profile = append(profile, solid.Vertex{X: 0, Y: top}, solid.Vertex{X: -t, Y: top},
			solid.Vertex{X: -t, Y: r - s, Bulge: quarterTurn})
		if t > r {
			profile = append(profile, solid.Vertex{X: r - t, Y: -s})
		}
	}
	f := &form{end: -t, start: n, least: n, above: true}
	f.build = func(l look, m *model) {
		m.add(solid.Extrude(solid.V(0, 0, 0), solid.V(1, 0, 0), solid.V(0, 1, 0), -s, s, profile))
		m.squareFlats(l, 2*s, 0, n, false)
	}
	f.originOf = func(dir drawing.Direction, _ drawing.Style) drawing.Point {
		if dir == drawing.Front {
			return drawing.Pt(0, -top)
		}
		return drawing.Pt(0, -s)
	}
	f.annotate = h.annotate
	return f
}

func (h hook) annotate(b *builder, dir drawing.Direction, _ drawing.Rank) {
	s, n := h.neck.side.Value/2, h.neck.length.Value
	t, r, top := h.depth.Value, h.back.Value, h.width.Value-h.neck.side.Value/2
	width, depth, back, side := label(h.width), label(h.depth), label(h.back), label(h.neck.side)
	side.Symbol, back.Symbol = drawing.SquareSymbol, drawing.RadiusSymbol
	width.Reference, depth.Reference = h.halfRound, h.halfRound // follow from the radius
	across := label(h.neck.side)
	switch dir {
	case drawing.Front:
		// The extension line at the back leaves where the arc is clear of it.
		corner := -t
		if h.halfRound {
			corner = 0
		}
		b.linear(drawing.Left, 1, width, -t/2, -s, corner, top)
		b.linear(drawing.Above, 0, label(h.neck.length), 0, top, n, s)
		first, last := 180.0, 270.0
		if h.halfRound {
			b.linear(drawing.Above, 0, depth, -t, r-s+t/2, 0, top)
			first = 90
		} else {
			b.linear(drawing.Above, 0, depth, -t, top, 0, top)
		}
		b.add(drawing.RoleDimension, drawing.Radius{Label: back, Center: drawing.Pt(r-t, r-s), Radius: r,
			Angle: 225, Start: first, End: last})
		b.centreMark(drawing.Pt(r-t, r-s))
		b.add(drawing.RoleDimension, drawing.Leader{Label: side, Tip: drawing.Pt(n/2, -s), Angle: -65, Rank: 1})
	case drawing.SideView:
		b.linear(drawing.Left, 0, side, -t, -s, -t, s)
		b.linear(drawing.Below, 1, depth, -t, -s, 0, -s)
		b.linear(drawing.Below, 1, label(h.neck.length), 0, -s, n, -s)
	case drawing.HeadEnd: // the square itself is not seen
		b.linear(drawing.Left, 2, width, -s, -s, -s, top)
		b.linear(drawing.Above, 2, across, -s, top, s, top)
	case drawing.PointEnd:
		b.linear(drawing.Right, 2, width, s, -s, s, top)
		b.linear(drawing.Above, 2, side, -s, top, s, top)
	}
}

// Quantities returns the dimensions of the bolt with their rules and sources.
func (h HookBolt) Quantities() ([]drawing.Quantity, error) { return boltQuantities(h) }

// View returns one view of the bolt: front, side (the plan), head, point or
// isometric. The hook reaches up in the front view.
func (h HookBolt) View(dir drawing.Direction, opt Options) (drawing.View, error) {
	return boltView(h, dir, opt)
}
