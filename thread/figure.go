package thread

import (
	"fmt"
	"math"

	"boltplate/rule"
)

// Statuses, short enough for a row of a table.
const (
	published  = rule.Published
	inPart     = rule.PublishedInPart
	fromMemory = rule.FromMemory
)

// An Item names one of the figures that go with a thread.
type Item uint8

// The items.
const (
	ItemDiameter          Item = iota // nominal diameter D
	ItemPitch                         // pitch P
	ItemHeight                        // height of the fundamental triangle H
	ItemPitchDiameter                 // basic pitch diameter d2
	ItemMinorDiameter                 // basic minor diameter d1, the bore of an internal thread
	ItemRootDiameter                  // root diameter d3 of the external thread
	ItemDepth                         // depth h3 of the external thread
	ItemInternalDepth                 // depth H1 of the internal thread
	ItemStressArea                    // nominal stress area As
	ItemTapDrill                      // tapping drill
	ItemDrillRule                     // tapping drill by the rule of thumb
	ItemClearanceFine                 // clearance hole, fine series
	ItemClearanceMedium               // clearance hole, medium series
	ItemClearanceCoarse               // clearance hole, coarse series
	ItemRunOut                        // run-out x, at most
	ItemRunOutShort                   // short run-out x, at most
	ItemHeadDistance                  // last full thread to head a, at most
	ItemHeadDistanceShort             // the same, short
	itemCount
)

// items has what is the same for every thread: the name for programs, the
// letter on a drawing, the trade's name, and the rule, if there is one.
var items = [itemCount]struct {
	key, letter, name, unit string
	rule                    *rule.Expr
}{
	ItemDiameter:          {"d", "D", "nominal diameter", "mm", nil},
	ItemPitch:             {"p", "P", "pitch", "mm", nil},
	ItemHeight:            {"h", "H", "height of the fundamental triangle", "mm", rule.MustParse("0.86603P")},
	ItemPitchDiameter:     {"d2", "d2", "pitch diameter", "mm", rule.MustParse("D - 0.64952P")},
	ItemMinorDiameter:     {"d1", "d1", "minor diameter", "mm", rule.MustParse("D - 1.08253P")},
	ItemRootDiameter:      {"d3", "d3", "root diameter of the external thread", "mm", rule.MustParse("D - 1.22687P")},
	ItemDepth:             {"depth", "h3", "depth of the external thread", "mm", rule.MustParse("0.61343P")},
	ItemInternalDepth:     {"internal_depth", "H1", "depth of the internal thread", "mm", rule.MustParse("0.54127P")},
	ItemStressArea:        {"stress_area", "As", "stress area", "mm²", rule.MustParse("π/4 ((d2 + d3)/2)²")},
	ItemTapDrill:          {"tap_drill", "", "tapping drill", "mm", nil},
	ItemDrillRule:         {"tap_drill_rule", "", "tapping drill by the rule", "mm", ruleDrill},
	ItemClearanceFine:     {"clearance_fine", "", "clearance hole, fine", "mm", nil},
	ItemClearanceMedium:   {"clearance_medium", "", "clearance hole, medium", "mm", nil},
	ItemClearanceCoarse:   {"clearance_coarse", "", "clearance hole, coarse", "mm", nil},
	ItemRunOut:            {"run_out", "x", "run-out, at most", "mm", rule.MustParse("2.5P")},
	ItemRunOutShort:       {"run_out_short", "x", "short run-out, at most", "mm", rule.MustParse("1.25P")},
	ItemHeadDistance:      {"head_distance", "a", "last full thread to head, at most", "mm", rule.MustParse("3P")},
	ItemHeadDistanceShort: {"head_distance_short", "a", "last full thread to head, short, at most", "mm", rule.MustParse("2P")},
}

var ruleDrill = rule.MustParse("D - P")

// String returns the trade's name of the item, as "pitch diameter".
func (i Item) String() string {
	if i < itemCount {
		return items[i].name
	}
	return fmt.Sprintf("Item(%d)", uint8(i))
}

// A Figure is a number of a thread with where it comes from.
type Figure struct {
	Item   Item
	Key    string     // a name for programs, as "d2"
	Letter string     // as in rules and on a drawing, as "d2"; may be ""
	Name   string     // in full, as "pitch diameter"
	Value  float64    // rounded as the source prints it
	Unit   string     // "mm" or "mm²"
	Rule   *rule.Expr // in the letters of [Thread.Letters]; nil for a table's figure and for a given one
	Source string
	Status rule.Status // of this very row of the source's table
}

// Items returns all items in the order in which tables list them.
func Items() []Item {
	out := make([]Item, itemCount)
	for i := range out {
		out[i] = Item(i)
	}
	return out
}

// Letters returns the values of the letters that rules of a thread use: D, P,
// H, d2, d1 and d3, of full precision, mm.
func (t Thread) Letters() rule.Values {
	return rule.Values{{Letter: "D", Value: t.D}, {Letter: "P", Value: t.P}, {Letter: "H", Value: t.H()},
		{Letter: "d2", Value: t.PitchDiameter()}, {Letter: "d1", Value: t.MinorDiameter()}, {Letter: "d3", Value: t.RootDiameter()}}
}

// Figures returns all figures that are held for t, in the order of [Items]. It
// returns none for a thread that is not valid.
func (t Thread) Figures() []Figure {
	var out []Figure
	for _, i := range Items() {
		if f, err := t.Figure(i); err == nil {
			out = append(out, f)
		}
	}
	return out
}

// Figure returns one of the figures of t with its rule, source and status.
//
// A rule gives the value that is printed, to its last digit, for every thread
// that ISO 261 lists. What the trade rounds says so: the run-out of M20 is
// 2.5P ≈ 6.3. A run-out for a pitch that is not in the table is the rule, and
// its source says that.
//
// The error is a [*ValueError] for a thread that is not valid or an item that
// is none, and for a hole or a drill a [*SizeError] or [*TableError] where none
// is held.
func (t Thread) Figure(i Item) (Figure, error) {
	if i >= itemCount {
		return Figure{}, &ValueError{Name: "item", Value: float64(i), Want: "one of Items"}
	}
	if err := t.Validate(); err != nil {
		return Figure{}, err
	}
	row := &items[i]
	f := Figure{Item: i, Key: row.key, Letter: row.letter, Name: row.name, Unit: row.unit, Rule: row.rule}
	var err error
	switch i {
	case ItemTapDrill:
		var d *drill
		if d, err = t.drill(); err == nil {
			f.Value, f.Source, f.Status = d.drill, SourceDrills, d.status
		}
	case ItemClearanceFine, ItemClearanceMedium, ItemClearanceCoarse:
		f, err = ClearanceFigure(t.D, Fit(i-ItemClearanceFine))
	case ItemRunOut, ItemRunOutShort, ItemHeadDistance, ItemHeadDistanceShort:
		t.fillRunOut(&f)
	default:
		t.fillProfile(&f)
	}
	if err != nil {
		return Figure{}, err
	}
	return f, nil
}

// fillProfile fills in what follows from diameter and pitch.
func (t Thread) fillProfile(f *Figure) {
	f.Source, f.Status = SourceProfile, rule.Derived
	switch f.Item {
	case ItemDiameter, ItemPitch:
		f.Value = t.D
		if f.Item == ItemPitch {
			f.Value = t.P
		}
		f.Source, f.Status = "as described", rule.Given
		if t.Listed() {
			f.Source, f.Status = SourceSizes, published
		}
		return
	case ItemHeight:
		f.Value = t.H()
	case ItemPitchDiameter:
		f.Value, f.Source, f.Status = t.PitchDiameter(), SourceDiameters, t.diameterStatus()
	case ItemMinorDiameter:
		f.Value, f.Source, f.Status = t.MinorDiameter(), SourceDiameters, t.diameterStatus()
	case ItemRootDiameter:
		f.Value, f.Source, f.Status = t.RootDiameter(), SourceRoot, t.rootStatus()
	case ItemDepth: // goes down to d3
		f.Value, f.Source = t.Depth(), SourceRoot
	case ItemInternalDepth:
		f.Value = t.InternalDepth()
	case ItemStressArea:
		f.Value, f.Source = RoundArea(t.StressArea()), SourceRoot
		return
	case ItemDrillRule:
		f.Value, f.Source, f.Status = t.DrillRule(), SourcePractice, rule.CommonPractice
	}
	f.Value = Round3(f.Value)
}

// fillRunOut fills in the figures of ISO 3508, with the rule as it came out.
func (t Thread) fillRunOut(f *Figure) {
	row, listed := t.runOut()
	f.Value = [...]float64{row.x, row.xs, row.a, row.as}[f.Item-ItemRunOut]
	f.Source, f.Status = SourceRunOut, row.status
	if !listed {
		f.Value = Round3(f.Value)
		f.Source = fmt.Sprintf("%s, the rule of %s; the pitch %s is not in the table held here", f.Rule, SourceRunOut, number(t.P))
		return
	}
	exact, err := f.Rule.Eval(t.Letters().Get)
	if err != nil || math.Abs(exact-f.Value) < 1e-9 {
		return
	}
	if rounded, err := f.Rule.About(f.Value); err == nil {
		f.Rule = rounded
	}
}

// printedDiameters are the threads of fine pitch whose diameters were found
// in a published table. Those of coarse pitch all were: d2 and d1 in JIS B
// 0205:1997, and d3 for those that rootsPrinted names.
var printedDiameters = [...]Thread{
	{D: 8, P: 1}, {D: 10, P: 1.25}, {D: 10, P: 1}, {D: 12, P: 1.5}, {D: 12, P: 1.25}, {D: 14, P: 1.5}, {D: 16, P: 1.5},
	{D: 18, P: 2}, {D: 18, P: 1.5}, {D: 20, P: 2}, {D: 20, P: 1.5}, {D: 22, P: 2}, {D: 22, P: 1.5},
}

var rootsPrinted = [...]float64{3, 4, 5, 6, 8, 10, 12, 14, 16, 18, 20, 22, 24, 30}

func (t Thread) diameterStatus() rule.Status {
	if t.IsCoarse() {
		return published
	}
	return t.finePrinted()
}

func (t Thread) rootStatus() rule.Status {
	if !t.IsCoarse() {
		return t.finePrinted()
	}
	for _, d := range rootsPrinted {
		if d == t.D {
			return published
		}
	}
	return rule.Derived
}

func (t Thread) finePrinted() rule.Status {
	for _, p := range printedDiameters {
		if p.D == t.D && p.P == t.P {
			return published
		}
	}
	return rule.Derived
}
