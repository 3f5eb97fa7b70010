package thread

import (
	"slices"
	"strings"
	"testing"

	"boltplate/rule"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every rule gives the value that is printed beside it, to its last digit, for
// every listed thread.
func TestRulesGiveTheValues(t *testing.T) {
	n := 0
	eachThread(func(th Thread) {
		for _, f := range th.Figures() {
			if f.Rule == nil {
				continue
			}
			// What stands on the drawing is read back, not what made it.
			e, err := rule.Parse(f.Rule.String())
			require.NoError(t, err, f.Name)
			x, err := e.Eval(th.Letters().Get)
			require.NoError(t, err, "%s of %v", f.Name, th)
			want := Round3(x)
			if f.Item == ItemStressArea {
				want = RoundArea(x)
			}
			assert.Equal(t, want, f.Value, "%s of %v: %v", f.Name, th, f.Rule)
			n++
		}
	})
	assert.Greater(t, n, 1000)
}

// Nothing is without a name, a source and a status, and what is described is
// given only where no table lists it.
func TestFiguresAreComplete(t *testing.T) {
	eachThread(func(th Thread) {
		fs := th.Figures()
		keys := map[string]bool{}
		for _, f := range fs {
			assert.False(t, keys[f.Key], "%s twice", f.Key)
			keys[f.Key] = true
			assert.NotEmpty(t, f.Name)
			assert.NotEmpty(t, f.Source, f.Name)
			assert.Positive(t, f.Value, "%s of %v", f.Name, th)
			assert.NotEqual(t, rule.Given, f.Status, "%s of %v", f.Name, th)
			assert.Equal(t, f.Name, f.Item.String())
		}
		// A table's figure without a rule is published; what follows has one.
		for _, f := range fs {
			if f.Status == rule.Derived || f.Status == rule.CommonPractice {
				assert.NotNil(t, f.Rule, "%s of %v", f.Name, th)
			}
		}
	})
	own, err := Unlisted(13, 1.1)
	require.NoError(t, err)
	f, err := own.Figure(ItemDiameter)
	require.NoError(t, err)
	assert.Equal(t, rule.Given, f.Status)
	assert.Equal(t, "as described", f.Source)
	f, err = own.Figure(ItemPitchDiameter)
	require.NoError(t, err)
	assert.Equal(t, rule.Derived, f.Status)
}

func TestFiguresAreTheFunctions(t *testing.T) {
	th := MustParse("M20")
	for i, want := range map[Item]float64{
		ItemDiameter: 20, ItemPitch: 2.5, ItemRunOut: th.RunOut(), ItemRunOutShort: th.RunOutShort(), ItemHeadDistance: th.HeadDistance(),
		ItemHeadDistanceShort: th.HeadDistanceShort(), ItemClearanceFine: 21, ItemClearanceMedium: 22, ItemClearanceCoarse: 24, ItemTapDrill: 17.5,
		ItemDrillRule: th.DrillRule(), ItemRootDiameter: Round3(th.RootDiameter()), ItemDepth: Round3(th.Depth()), ItemInternalDepth: Round3(th.InternalDepth()),
	} {
		f, err := th.Figure(i)
		require.NoError(t, err)
		assert.Equal(t, want, f.Value, i)
	}
	assert.Len(t, th.Figures(), len(Items()))
}

func TestFigureErrors(t *testing.T) {
	_, err := Thread{}.Figure(ItemRunOut)
	var ve *ValueError
	require.ErrorAs(t, err, &ve)
	_, err = MustParse("M20").Figure(itemCount)
	assert.EqualError(t, err, "item 18: want one of Items")
	_, err = MustParse("M24x1.5").Figure(ItemTapDrill)
	var te *TableError
	require.ErrorAs(t, err, &te)
	_, err = Thread{D: 13, P: 1}.Figure(ItemClearanceFine)
	var se *SizeError
	require.ErrorAs(t, err, &se)
	assert.Empty(t, Thread{}.Figures())
	assert.Equal(t, "Item(200)", Item(200).String())
}

// Each Source names a standard with an edition that the list of editions has.
func TestEditions(t *testing.T) {
	of := map[string]string{}
	for _, e := range Editions() {
		of[e.Standard] = e.Edition
		assert.NotEmpty(t, e.Seen)
		assert.Less(t, e.Edition, "2027")
		assert.True(t, e.Newer == "" || e.Newer > e.Edition, e.Standard)
	}
	sources := []string{SourceProfile, SourceSizes, SourceSelection, SourceDiameters, SourceRoot, SourceLimits, SourceDrills, SourceHoles, SourceRunOut, SourceLengths, SourceProductPitch, SourceUndercuts}
	for _, s := range sources {
		standard, year, ok := strings.Cut(s, ":")
		require.True(t, ok, s)
		assert.Equal(t, year, of[standard], s)
	}
	assert.Len(t, of, len(sources))
}

// Fine pitches of ISO 8765 and its like; status of each row in the file.
func TestProductPitches(t *testing.T) {
	rows := readTable(t, "iso8765-fine-pitches.csv")
	require.Len(t, productPitches, len(rows))
	for _, r := range rows {
		th, err := New(r.num(t, "d"), r.num(t, "p"))
		require.NoError(t, err, "ISO 261 has it")
		assert.False(t, th.IsCoarse())
		preferred, ok := th.ProductPitch()
		assert.True(t, ok, "%v", th)
		assert.Equal(t, r["preference"] == "preferred", preferred, "%v", th)
		assert.Equal(t, ProductPitchStatus, statusOf(t, r["status"]))
		assert.True(t, slices.Contains(ProductPitches(th.D), th.P))
	}
	for _, name := range []string{"M16", "M24x1.5", "M6x0.75", "M8x0.75"} {
		_, ok := MustParse(name).ProductPitch()
		assert.False(t, ok, name)
	}
	assert.Equal(t, []float64{1.5, 2}, ProductPitches(20))
	clear(ProductPitches(20))
	assert.Equal(t, []float64{1.5, 2}, ProductPitches(20))
}
