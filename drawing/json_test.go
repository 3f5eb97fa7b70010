package drawing

import (
	"encoding"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// TestJSONThereAndBack: whatever JSON can hold comes back as it was; what it
// cannot hold is an error.
func TestJSONThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		it := Item{Role(rapid.Uint8Range(0, 10).Draw(t, "role")), wildShape(t)}
		d := Drawing{
			Style: Style{Scale: wild(t), Labels: Labels(rapid.Uint8Range(0, 5).Draw(t, "labels"))},
			Views: []Placed{{View: View{Name: "v", Direction: Direction(rapid.Uint8Range(0, 5).Draw(t, "from")), Items: []Item{it, it}}, Mirror: true, Turn: wild(t)}},
			Items: []Item{it}, Parts: []Part{{Name: "P", Properties: []Property{{"kind", "stud"}}}},
		}
		b, err := json.Marshal(d)
		if err != nil {
			assert.Nil(t, b)
			return
		}
		var back Drawing
		require.NoError(t, json.Unmarshal(b, &back), string(b))
		require.Equal(t, d, back)
	})
}

// TestJSONOfPictures: a view that was arranged is the same after it, and says
// the same.
func TestJSONOfPictures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := Arrange(RandomView(t), Style{})
		b, err := json.Marshal(v)
		require.NoError(t, err)
		var back View
		require.NoError(t, json.Unmarshal(b, &back))
		require.Len(t, back.Items, len(v.Items))
		for i := range v.Items {
			x, _ := Expand(v.Items[i].Shape, Style{})
			y, ok := Expand(back.Items[i].Shape, Style{})
			if !ok {
				require.Equal(t, v.Items[i], back.Items[i])
				continue
			}
			require.Equal(t, x.Items(), y.Items())
		}
	})
}

var fence = regexp.MustCompile("(?s)```json\n(.*?)```")

// TestJSONIsAsDocumented: the examples of docs/formats.md are read, and written
// as they stand there.
func TestJSONIsAsDocumented(t *testing.T) {
	page, err := os.ReadFile("../docs/formats.md")
	require.NoError(t, err)
	seen := map[string]bool{}
	for _, m := range fence.FindAllStringSubmatch(string(page), -1) {
		if !strings.Contains(m[1], `"views"`) && !strings.Contains(m[1], `"shape"`) {
			continue
		}
		var want strings.Builder
		var got []byte
		if strings.Contains(m[1], `"version"`) {
			var d Drawing
			require.NoError(t, json.Unmarshal([]byte(m[1]), &d), m[1])
			require.NoError(t, d.Validate())
			got, err = json.Marshal(d)
		} else {
			var items []Item
			require.NoError(t, json.Unmarshal([]byte(m[1]), &items), m[1])
			for _, it := range items {
				seen[ShapeName(it.Shape)] = true
			}
			require.NoError(t, (&Drawing{Items: items}).Validate())
			got, err = json.Marshal(items)
		}
		require.NoError(t, err)
		enc := json.NewEncoder(&want)
		require.NoError(t, enc.Encode(json.RawMessage(m[1])))
		require.JSONEq(t, want.String(), string(got))
	}
	require.Len(t, seen, len(shapeReaders), "every shape has its example")
}

// FuzzJSON: whatever is read, it is an error or a drawing, which is written and
// read again as it was, and which Validate judges.
func FuzzJSON(f *testing.F) {
	page, err := os.ReadFile("../docs/formats.md")
	require.NoError(f, err)
	for _, m := range fence.FindAllStringSubmatch(string(page), -1) {
		if !strings.Contains(m[1], `"version"`) {
			m[1] = `{"version":1,"items":` + m[1] + `}`
		}
		f.Add([]byte(m[1]))
	}
	f.Add([]byte(`{"version":1,"items":[{"shape":"hatch","loops":[[[0,0]]],"spacing":1e-9},null,{}]}`))
	f.Fuzz(func(t *testing.T, b []byte) {
		var d Drawing
		if json.Unmarshal(b, &d) != nil {
			return
		}
		_ = d.Validate()
		once, err := json.Marshal(d)
		if err != nil {
			return // an item that is null
		}
		var again Drawing
		require.NoError(t, json.Unmarshal(once, &again))
		twice, err := json.Marshal(again)
		require.NoError(t, err)
		require.Equal(t, string(once), string(twice))
	})
}

func TestJSONErrors(t *testing.T) {
	for in, want := range map[string]string{
		`{"version":2}`:           `version 2 of a drawing cannot be read; this program reads version 1`,
		`{}`:                      `version 0`,
		`{"version":1,"view":[]}`: `unknown field "view"`,
		`{"version":1,"items":[{"role":"outline"}]}`:                                   `"" is no shape; the shapes are aligned, angular, arc, circle`,
		`{"version":1,"items":[{"role":"edge","shape":"line"}]}`:                       `"edge" is not a role; the roles are outline, thin`,
		`{"version":1,"items":[{"shape":"line","centre":[0,0]}]}`:                      `line: json: unknown field "centre"`,
		`{"version":1,"items":[{"shape":"line","from":[0]}]}`:                          `line: [0] is no point; write [x,y]`,
		`{"version":1,"items":[{"shape":"line","from":null}]}`:                         `line: null is no point; write [x,y]`,
		`{"version":1,"items":[{"shape":"polyline","vertices":[[1,2,3,4]]}]}`:          `polyline: [1,2,3,4] is no vertex; write [x,y] or [x,y,bulge]`,
		`{"version":1,"items":[{"shape":"linear","side":"top","label":{}}]}`:           `linear: "top" is not a side; the sides are below, above, left, right`,
		`{"version":1,"views":[{"view":{"direction":"rear","items":[]}}]}`:             `"rear" is not a view; the views are front, side`,
		`{"version":1,"views":[{"view":{"items":[],"colour":3}}]}`:                     `unknown field "colour"`,
		`{"version":1,"style":{"labels":"figures"}}`:                                   `"figures" is not a way to label; the ways to label are numbers, rules, letters, none, blank`,
		`{"version":1,"items":[{"shape":"text","value":"x","height":"3.5","at":[0]}]}`: `text: `,
		`[`: `unexpected end`,
	} {
		var d Drawing
		assert.ErrorContains(t, json.Unmarshal([]byte(in), &d), want, in)
	}
	_, err := json.Marshal(Drawing{Items: []Item{{RoleOutline, nil}}})
	assert.ErrorContains(t, err, "an item without a shape")
	_, err = json.Marshal(Drawing{Items: []Item{{RoleOutline, Circle{Radius: math.NaN()}}}})
	assert.ErrorContains(t, err, "circle: json: unsupported value: NaN")
	_, err = json.Marshal(Drawing{Items: []Item{{RoleCount, Circle{}}}})
	assert.ErrorContains(t, err, fmt.Sprintf("%d is not a role; the roles are outline", RoleCount))
}

// TestWords: each value has a word that is read back, and nothing else does.
func TestWords(t *testing.T) {
	check := func(n int, make func(uint8) interface {
		encoding.TextMarshaler
		encoding.TextUnmarshaler
		String() string
	}) {
		seen := map[string]bool{}
		for i := range n {
			v := make(uint8(i))
			b, err := v.MarshalText()
			require.NoError(t, err)
			assert.Equal(t, v.String(), string(b))
			assert.False(t, seen[string(b)])
			seen[string(b)] = true
			w := make(0)
			require.NoError(t, w.UnmarshalText([]byte(" "+strings.ToUpper(string(b)))))
			assert.Equal(t, v, w)
		}
		v := make(uint8(n))
		_, err := v.MarshalText()
		assert.ErrorContains(t, err, "is not a", v.String())
		assert.Contains(t, v.String(), "unknown ")
		assert.ErrorContains(t, v.UnmarshalText([]byte("?")), `"?" is not a`)
		assert.Equal(t, make(uint8(n)), v, "what cannot be read changes nothing")
	}
	type word = interface {
		encoding.TextMarshaler
		encoding.TextUnmarshaler
		String() string
	}
	check(int(directionCount), func(v uint8) word { return new(Direction(v)) })
	check(int(labelsCount), func(v uint8) word { return new(Labels(v)) })
	check(int(RoleCount), func(v uint8) word { return new(Role(v)) })
	check(int(One)+1, func(v uint8) word { return new(Unit(v)) })
	check(int(TaperLeftSymbol)+1, func(v uint8) word { return new(Symbol(v)) })
	check(int(Right)+1, func(v uint8) word { return new(Side(v)) })
	check(int(AlignRight)+1, func(v uint8) word { return new(Align(v)) })
	for l := range labelsCount {
		got, err := ParseLabels(l.String())
		assert.NoError(t, err)
		assert.Equal(t, l, got)
	}
	r, err := ParseRole("Centre ")
	assert.NoError(t, err)
	assert.Equal(t, RoleCentre, r)
}

// TestChangedLabelSaysWhatItSays: a label that is changed after it was placed
// shows the change.
func TestChangedLabelSaysWhatItSays(t *testing.T) {
	for _, l := range []Label{{}, {Symbol: DiameterSymbol}, {Symbol: RadiusSymbol, Reference: true}, {Symbol: DiameterSymbol, Reference: true}} {
		l.Number = "20"
		l = l.resolved(Style{})
		before := l.full()
		assert.Contains(t, before, "20")
		l.Text = "3D"
		assert.Equal(t, strings.Replace(before, "20", "3D", 1), l.full())
		l.Symbol, l.Reference = NoSymbol, false
		assert.Equal(t, "3D", l.full())
	}
}
