package fastener_test

import (
	"fmt"
	"slices"
	"sync"
	"testing"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/internal/clash"

	"github.com/stretchr/testify/require"
)

// What is not yet right in drawings, by what it is, kind and view. The lists
// are to become empty. An entry that is no longer needed fails the test.
var drawingsWrong = []string{}

// TestDrawings draws every kind over a grid of sizes, lengths, views, labels
// and scales, and looks at each drawing:
//
//   - No label touches anything.
//   - No line is there twice, and no hidden or centre line lies on a visible
//     edge.
//   - Every visible edge ends on another one.
//   - A view is as even as the part is.
func TestDrawings(t *testing.T) {
	sizes := []float64{3, 5, 8, 12, 16, 20, 30, 42, 48, 64}
	if testing.Short() {
		sizes = []float64{12}
	}
	wrong := newFaults()
	t.Run("sizes", func(t *testing.T) {
		for _, d := range sizes {
			t.Run(fmt.Sprintf("M%g", d), func(t *testing.T) {
				t.Parallel()
				drawn := 0
				for _, k := range []float64{1.6, 2.5, 4, 7, 12} {
					for _, basis := range []fastener.Basis{fastener.Proportion, fastener.Standard} {
						for fi, f := range specimens(t, d, d*k, basis) {
							for i := range viewSets() {
								// View sets, labels and scales take turns, so that
								// every view of every kind meets every combination
								// at some size.
								if (fi+i+int(d))%3 != 0 {
									continue
								}
								lookAt(t, f, drawOptions(f, drawn, i), drawn, wrong)
								drawn++
							}
						}
					}
				}
				t.Log(drawn, "drawings")
			})
		}
	})
	settleKnown(t, wrong.list, drawingsWrong)
}

// viewSets are the sets of views that are drawn.
func viewSets() [][]drawing.Direction {
	one := func(d ...drawing.Direction) []drawing.Direction { return d }
	return [][]drawing.Direction{
		nil, one(drawing.Front), one(drawing.SideView), one(drawing.HeadEnd), one(drawing.PointEnd),
		one(drawing.Front, drawing.SideView, drawing.HeadEnd, drawing.PointEnd, drawing.Isometric),
		one(drawing.SideView, drawing.HeadEnd), one(drawing.Isometric),
	}
}

// drawOptions returns the options of the nth drawing of a size, with the set of
// views i.
func drawOptions(f fastener.Fastener, n, i int) fastener.DrawOptions {
	opt := fastener.DrawOptions{Views: viewSets()[i], Projection: fastener.Projection(i % 2)}
	turn := n/2 + i
	opt.Style = drawing.Style{Labels: [...]drawing.Labels{drawing.Numbers, drawing.Rules, drawing.Letters, drawing.Blank}[turn%4], Scale: []float64{1, 0.5, 2}[turn/3%3]}
	opt.Hidden, opt.Section, opt.Exact, opt.Outside = n%2 == 0, n%3 == 0, n%5 == 0, n%7 < 4
	opt.Caption = []fastener.CaptionLine{{Tag: "MARK", Text: "SG-01  " + f.Designation()},
		{Tag: "QUANTITY", Text: "4 off"}}
	return opt
}

// faults collects what is wrong from several goroutines, the first of each
// sort.
type faults struct {
	sync.Mutex
	list map[string]string
}

func newFaults() *faults { return &faults{list: map[string]string{}} }

func (w *faults) add(key string, text func() string) {
	w.Lock()
	defer w.Unlock()
	if w.list[key] == "" {
		w.list[key] = text()
	}
}

// lookAt makes the nth drawing and looks at it.
func lookAt(t *testing.T, f fastener.Fastener, opt fastener.DrawOptions, n int, wrong *faults) {
	dr, err := fastener.Draw(f, opt)
	require.NoError(t, err, f.Designation())
	about := func(msg string) func() string {
		return func() string {
			return fmt.Sprintf("%s, views %v, hidden %t, section %t, exact %t, labels %s, scale %g: %s",
				f.Designation(), opt.Views, opt.Hidden, opt.Section, opt.Exact, opt.Style.Labels, opt.Style.Scale, msg)
		}
	}
	for _, msg := range clash.Find(dr) {
		t.Error(about(msg)())
	}
	turned := slices.Contains(opt.Views, drawing.SideView) && !slices.Contains(opt.Views, drawing.Front)
	for _, p := range dr.Views {
		v := p.View
		note := func(what, msg string) {
			wrong.add(fmt.Sprintf("%s: %s, %s", what, family(f), v.Direction), about(msg))
		}
		for _, msg := range clash.Doubles(v) {
			note("double line", msg)
		}
		if msg := looseEnd(v); msg != "" {
			note("loose end", msg)
		}
		if n%4 == 0 || n%4 == 3 {
			if what, msg := doubled(v); what != "" {
				wrong.add(fmt.Sprintf("double line: %s, %s", what, v.Direction), about(msg))
			}
		}
		cut := opt.Section || !opt.Hidden && !opt.Outside
		k, _ := fastener.KindNamed(f.Kind())
		spec, _ := fastener.SpecOf(f)
		if (k.Section || spec.End == "cup") && cut && v.Direction == drawing.Front {
			continue // half of it is cut open
		}
		if n%4 == 1 || n%4 == 2 {
			if msg := uneven(f, v, opt.Style, turned); msg != "" {
				note("uneven", msg)
			}
		}
	}
}
