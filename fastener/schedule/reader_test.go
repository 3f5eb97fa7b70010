package schedule

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/thread"
)

// read returns the good rows of a schedule and what is wrong, a line an error.
func read(text string) (rows []Row, wrong []string) {
	r, err := NewReader(strings.NewReader(text), "s.csv")
	if err != nil {
		return nil, strings.Split(err.Error(), "\n")
	}
	for row, err := range r.Rows() {
		if err != nil {
			wrong = append(wrong, strings.Split(err.Error(), "\n")...)
			continue
		}
		rows = append(rows, row)
	}
	return rows, wrong
}

func TestEveryColumn(t *testing.T) {
	rows, wrong := read("NOTE,scale,exact,hidden,projection,labels,views,governs,basis,grip,washer,nut,neck,thread,length,size,kind,quantity,Mark\n" +
		`"a, note",1:2,yes,x,third,rules,front side;head,flats,standard,55,plain,thin,,44,80,M16x1.5-LH,Hex-Bolt,12,B 1` + "\n")
	require.Empty(t, wrong)
	require.Len(t, rows, 1)
	row := rows[0]
	assert.Equal(t, "B 1", row.Mark)
	assert.Equal(t, "B_1", row.File)
	assert.Equal(t, 12, row.Quantity)
	assert.Equal(t, "a, note", row.Note)
	assert.Equal(t, 2, row.Line)
	assert.Equal(t, fastener.Spec{Kind: "hex-bolt", Thread: thread.Thread{D: 16, P: 1.5, LeftHand: true}, Length: 80, ThreadLength: 44,
		Nut: "thin", Washer: "plain", Grip: 55, Basis: fastener.Standard, Governs: fastener.Flats}, row.Spec)
	o := row.Options
	assert.Equal(t, 0.5, o.Style.Scale)
	assert.Equal(t, drawing.Rules, o.Style.Labels)
	assert.True(t, o.Exact && o.Hidden)
	assert.Equal(t, fastener.ThirdAngle, o.Projection)
	assert.Equal(t, []drawing.Direction{drawing.Front, drawing.SideView, drawing.HeadEnd}, o.Views)
	assert.Equal(t, fastener.CaptionLine{Tag: "MARK", Prompt: "Mark", Text: "B 1"}, o.Caption[0])
	assert.Equal(t, "12 off", o.Caption[2].Text)
	assert.Contains(t, o.Properties, drawing.Property{Key: "note", Value: "a, note"})
}

// The same two rows in all the forms that spreadsheets write.
func TestForms(t *testing.T) {
	plain := "mark,kind,size,length,grip,nut\nA,hex-bolt,M16,90,62.5,hex\nB,hex-nut,M12x1.25,,,\n"
	want, wrong := read(plain)
	require.Empty(t, wrong)
	require.Len(t, want, 2)
	forms := map[string]string{
		"byte order mark": "\ufeff" + plain,
		"CRLF":            strings.ReplaceAll(plain, "\n", "\r\n"),
		"no last newline": strings.TrimSuffix(plain, "\n"),
		"semicolons":      strings.ReplaceAll(plain, ",", ";"),
		"decimal comma":   strings.NewReplacer(",", ";", ".", ",").Replace(plain),
		"quoted":          "\"mark\",\"kind\",\"size\",\"length\",\"grip\",\"nut\"\n\"A\",\"hex-bolt\",\"M16\",\"90\",\"62.5\",\"hex\"\n\"B\",\"hex-nut\",\"M12x1,25\"\n",
		"blank lines":     strings.ReplaceAll(plain, "\n", "\n\n ,,\n\n"),
		"blanks":          strings.ReplaceAll(plain, ",", " , "),
		"upper case":      strings.Replace(plain, "mark,kind,size", "MARK,Kind,SiZe", 1),
		"hyphens":         strings.ReplaceAll(plain, ",,,", ",-,–,none"),
		"rows end early":  strings.ReplaceAll(plain, ",,,", ""),
		"other order":     "nut,grip,length,size,kind,mark\nhex,62.5,90,M16,hex-bolt,A\n,,,M12x1.25,hex-nut,B\n",
		"length in size":  "mark,kind,size,grip,nut\nA,hex-bolt,M16x90,62.5,hex\nB,hex-nut,M12 × 1.25\n",
		"unnamed column":  strings.ReplaceAll(plain, "\n", ",\n"),
	}
	for name, text := range forms {
		got, wrong := read(text)
		require.Empty(t, wrong, name)
		require.Len(t, got, 2, name)
		for i := range got {
			assert.Equal(t, want[i].Spec, got[i].Spec, name)
			assert.Equal(t, want[i].Fastener, got[i].Fastener, name)
			assert.Equal(t, want[i].Mark, got[i].Mark, name)
		}
	}
}

func TestErrors(t *testing.T) {
	const head = "mark,quantity,kind,size,length,thread,neck,nut,washer,grip,basis,governs,views,labels,projection,hidden,exact,scale,note\n"
	cases := []struct{ row, want string }{
		{"A,,hexbolt,M16,80", "s.csv:2:4: hexbolt: no such kind; did you mean hex-bolt?"},
		{"A,,gasket,M16,80", "s.csv:2:4: gasket: no such kind; the kinds are hex-bolt"},
		{"A,,,M16,80", "s.csv:2:4: kind: missing; the kinds are hex-bolt"},
		{"A,,hex-nut", "s.csv:2:1: size: missing; give a thread such as M20"},
		{",,hex-nut,M16", "s.csv:2:1: mark: missing; give every row a mark"},
		{"A,,hex-bolt,M16", "s.csv:2:1: hex-bolt: length: missing; "},
		{"A,,hex-bolt,M16,", "s.csv:2:17: hex-bolt: length: missing; "},
		{"A,0,hex-nut,M16", "s.csv:2:3: quantity 0: not a quantity; give a whole number from 1"},
		{"A,1.5,hex-nut,M16", "s.csv:2:3: quantity 1.5: not a quantity"},
		{"A,+2,hex-nut,M16", "s.csv:2:3: quantity +2: not a quantity"},
		{"A,99999999999999999999,hex-nut,M16", "s.csv:2:3: quantity 99999999999999999999: not a quantity"},
		{"A,,hex-nut,M13", "s.csv:2:12: M13 is not a size of ISO 261; nearest: M12, M14"},
		{"A,,hex-nut,16", `s.csv:2:12: thread "16": column 1: found "1", want M`},
		{"A,,hex-nut,M16x1.4", "s.csv:2:12: 1.4 is not a pitch of M16 in ISO 261; nearest: 1, 1.5"},
		{"A,,hex-bolt,M16x80,90", "s.csv:2:20: length 90: the size says 80; give the length once"},
		{"A,,hex-bolt,M16,-80", "s.csv:2:17: length -80: must not be negative"},
		{"A,,hex-bolt,M16,0", "s.csv:2:17: length 0: must be more than 0"},
		{"A,,hex-bolt,M16,80 mm", "s.csv:2:17: length 80 mm: the unit is understood; write 80"},
		{`A,,hex-bolt,M16,"80,5"`, "s.csv:2:17: length 80,5: write a decimal point, 80.5"},
		{"A,,hex-bolt,M16,long", "s.csv:2:17: length long: not a number; give millimetres"},
		{"A,,hex-bolt,M16,1e3", "s.csv:2:17: length 1e3: not a number"},
		{"A,,hex-bolt,M16,NaN", "s.csv:2:17: length NaN: not a number"},
		{"A,,hex-bolt,M16,99999", "s.csv:2:17: hex-bolt: length 99999: more than 6000 mm; is the unit millimetres?"},
		{"A,,hex-bolt,M16x80,,,,hex", "s.csv:2:1: hex-bolt: grip: missing"},
		{"A,,hex-bolt,M16x80,,,,,plain", "s.csv:2:24: hex-bolt: washer plain: goes under a nut"},
		{"A,,hex-bolt,M16x80,,,,dome,,60", "s.csv:2:23: hex-bolt: nut dome: no such nut; use hex, thin, square, castle, cap, wing or lock"},
		{"A,,square-bolt,M16x80,,,round", "s.csv:2:25: square-bolt: neck round: no such neck"},
		{"A,,hex-bolt,M16x80,,,square", "s.csv:2:22: hex-bolt: neck square: does not belong to a hexagonal-head bolt; leave it out"},
		{"A,,washer,M16,,,,,,,,flats", "s.csv:2:22: washer: governs flats: does not belong to a plain washer"},
		{"A,,washer,M16,,,,,,,standart", "s.csv:2:21: basis standart: no such choice; did you mean standard?"},
		{"A,,hex-nut,M16,,,,,,,,sides", "s.csv:2:23: governs sides: no such choice"},
		{"A,,washer,M16,,,,,,,,,fronts", "s.csv:2:23: views fronts: no such view; did you mean front? A washer has front, side"},
		{"A,,washer,M16,,,,,,,,,front front", "s.csv:2:23: views front: given twice; name each view once"},
		{"A,,washer,M16,,,,,,,,,;", "s.csv:2:23: views ;: names no view"},
		{"A,,washer,M16,,,,,,,,,,letter", "s.csv:2:24: labels letter: no such choice; did you mean letters?"},
		{"A,,washer,M16,,,,,,,,,,,3rd", "s.csv:2:25: projection 3rd: no such choice"},
		{"A,,washer,M16,,,,,,,,,,,,maybe", "s.csv:2:26: hidden maybe: no such choice; use yes or no"},
		{"A,,washer,M16,,,,,,,,,,,,,2", "s.csv:2:27: exact 2: no such choice"},
		{"A,,washer,M16,,,,,,,,,,,,,,1/2", "s.csv:2:28: scale 1/2: not a scale; write 1:2, 2:1 or 0.5"},
		{"A,,washer,M16,,,,,,,,,,,,,,0", "s.csv:2:28: scale 0: not a scale"},
		{"A,,washer,M16,,,,,,,,,,,,,,1:0", "s.csv:2:28: scale 1:0: not a scale"},
		{"A,,washer,M16,,,,,,,,,,,,,,,n,more", `s.csv:2:31: "more" stands under no column; the header names 19`},
		{"A\x00,,washer,M16", "s.csv:2:1: mark A?: holds a control character"},
		{"A,,washer,M16,,,,,,,,,,,,,,,\xff", "s.csv:2:29: note ?: not UTF-8; save the file with the encoding UTF-8"},
		{strings.Repeat("A", 241) + ",,washer,M16", "s.csv:2:1: mark " + strings.Repeat("A", 60) + "…: 241 characters are too many; use at most 240"},
		{`A"B,,washer,M16`, "s.csv:2:2: a quotation mark inside a cell; quote the whole cell"},
		{"A,,washer,M16,\"90\nB,,washer,M16\n\"C", "s.csv:2:1: a quoted cell of this row is not closed by line 4, or something"},
		{`A,,"washer"x,M16`, "s.csv:2:11: a quoted cell is not closed, or something follows"},
	}
	for _, c := range cases {
		rows, wrong := read(head + c.row + "\nZ,,washer,M16\n")
		if assert.Len(t, wrong, 1, c.row) {
			assert.True(t, strings.HasPrefix(wrong[0], c.want), "%s:\n got %s\nwant %s", c.row, wrong[0], c.want)
		}
		if assert.Len(t, rows, 1, "the row after %s", c.row) {
			assert.Equal(t, "Z", rows[0].Mark)
			assert.Equal(t, 3+strings.Count(c.row, "\n"), rows[0].Line)
		}
	}
}

// All that is wrong with a row is said at once, in the order of its cells.
func TestAllErrorsOfARow(t *testing.T) {
	_, wrong := read("mark,quantity,kind,size,length,basis,labels,scale\n,x,hexbolt,M15,y,std,z,0\n")
	var places []string
	for _, w := range wrong {
		places = append(places, strings.Join(strings.SplitN(w, ":", 4)[:3], ":"))
	}
	assert.Equal(t, []string{"s.csv:2:1", "s.csv:2:2", "s.csv:2:4", "s.csv:2:12", "s.csv:2:16", "s.csv:2:18", "s.csv:2:22", "s.csv:2:24"}, places)
	_, wrong = read("mark,kind,size,thread,neck,nut,grip\nA,washer,M16,30,square,hex,20\n")
	assert.Len(t, wrong, 4)
}

func TestHeaderErrors(t *testing.T) {
	cases := []struct {
		text string
		want []string
	}{
		{"", []string{"s.csv:1:1: the file is empty; the first line names the columns"}},
		{"\ufeff\r\n\n", []string{"s.csv:1:1: the file is empty"}},
		{"\xff\xfem\x00", []string{"s.csv:1:1: the file is UTF-16"}},
		{"mark,kind,size\rA,hex-nut,M20\r", []string{"s.csv:1:1: its lines end in a carriage return alone"}},
		{"sep=|\nmark|kind|size\n", []string{"s.csv:1:1: sep=|: cells are separated by commas or semicolons"}},
		{"sep=;\r\nmark;kind;size\r\nA;hexnut;M20\r\n", []string{"s.csv:3:3: hexnut: no such kind; did you mean hex-nut?"}},
		{"sep=,\nmark,kind,size\nA,hex-nut,M2O\n", []string{"s.csv:3:11: "}},
		{"m\x00a\x00r\x00", []string{"s.csv:1:1: the file is not text"}},
		{"mark\tkind\tsize\n", []string{"s.csv:1:1: the cells are separated by tabs"}},
		{"mark,kind\n", []string{"s.csv:1:1: the column size is missing; a schedule needs mark, kind and size"}},
		{"\n\nkind\n", []string{"s.csv:3:1: the column mark is missing", "s.csv:3:1: the column size is missing"}},
		{"mark,kind,size,lenght\n", []string{"s.csv:1:16: lenght: no such column; did you mean length?"}},
		{"mark,kind,size,a=b\n", []string{"s.csv:1:16: a=b: no such column; the columns are mark, quantity"}},
		{"mark,kind,size,price,Price\n", []string{"s.csv:1:22: price: the column is there twice; leave one out"}},
		{"mark,kind,size,Mark\n", []string{"s.csv:1:16: mark: the column is there twice, also at 1:1; leave one out"}},
		{"mark,kind,size,\xff\n", []string{"s.csv:1:16: a name that is not UTF-8"}},
		{"mark,kind,size,a\x1bb\n", []string{"s.csv:1:16: a?b: no such column"}},
		{"mark,ki\"nd,size\n", []string{"s.csv:1:8: a quotation mark inside a cell"}},
		// A wrong header does not hide what is wrong in the rows, and what
		// follows from it is not said again.
		{"mark,kind,syze\nA,hexnut,M17\n", []string{
			"s.csv:1:1: the column size is missing", "s.csv:1:11: syze: no such column", "s.csv:2:3: hexnut: no such kind", "s.csv:2:10: M17"}[1:]},
		{"mark,kind,colour\nA,hexnut,red\n", []string{
			"s.csv:1:1: the column size is missing", "s.csv:2:3: hexnut: no such kind"}},
	}
	for _, c := range cases {
		_, wrong := read(c.text)
		if assert.Len(t, wrong, len(c.want), "%q: %q", c.text, wrong) {
			for i := range wrong {
				assert.True(t, strings.HasPrefix(wrong[i], c.want[i]), "%q:\n got %s\nwant %s", c.text, wrong[i], c.want[i])
			}
		}
	}
	_, wrong := read("mark,kind,size,a=b\n" + strings.Repeat("A,hexbolt,M16\n", 5000))
	assert.Len(t, wrong, 1+maxRest)
}

func TestPlaces(t *testing.T) {
	// A cell of several lines, and letters of several bytes: columns count
	// bytes, as encoding/csv does.
	_, wrong := read("mark,note,kind,size\n\"A\",\"é\nsecond\",hexbolt,M16\n")
	assert.Equal(t, []string{"s.csv:3:9: hexbolt: no such kind; did you mean hex-bolt?"}, wrong)
	_, wrong = read("mark,note,kind,size\nA,é,hexbolt,M16\n")
	assert.Equal(t, []string{"s.csv:2:6: hexbolt: no such kind; did you mean hex-bolt?"}, wrong)
}

func TestErrorsUnwrap(t *testing.T) {
	r, err := NewReader(strings.NewReader("mark,kind,size,length\nA,hexbolt,M13,80\nB,hex-bolt,M16,\n"), "s.csv")
	require.NoError(t, err)
	_, err = r.Next()
	var kind *fastener.KindError
	require.ErrorAs(t, err, &kind)
	assert.Equal(t, "hex-bolt", kind.Suggestion)
	var size *thread.SizeError
	require.ErrorAs(t, err, &size)
	row, err := r.Next()
	assert.Nil(t, row.Fastener)
	assert.Equal(t, "B", row.Mark)
	var field *fastener.FieldError
	require.ErrorAs(t, err, &field)
	var e *Error
	require.ErrorAs(t, err, &e)
	assert.Equal(t, "length", e.Field)
	assert.Equal(t, [2]int{3, 16}, [2]int{e.Line, e.Column})
	_, err = r.Next()
	require.Equal(t, io.EOF, err)
	_, err = r.Next()
	require.Equal(t, io.EOF, err)
}

// Two marks that make one file are wrong, and both lines are named.
func TestMarksAlike(t *testing.T) {
	_, wrong := read("mark,kind,size\nA/1,washer,M16\n\nB,washer,M16\na_1,washer,M16\nb,hexbolt,M16\n")
	assert.Equal(t, []string{
		"s.csv:5:1: mark a_1: its file a_1 would be that of line 2; give every row a mark of its own",
		"s.csv:6:1: mark b: its file b would be that of line 4; give every row a mark of its own",
		"s.csv:6:3: hexbolt: no such kind; did you mean hex-bolt?",
	}, wrong)
}

// A row that is too long is passed over, whether by a cell of its own or by a
// quotation mark that is not closed.
func TestLongRows(t *testing.T) {
	for name, bad := range map[string]string{
		"cell":        "A,washer,M16," + strings.Repeat("x", 3*maxRecord) + "\n",
		"open quote":  "A,washer,M16,\"" + strings.Repeat("B,washer,M16,x\n", 2*maxRecord/15),
		"bare quotes": "A,washer,M16,x\"" + strings.Repeat("x", 2*maxRecord) + "\n",
	} {
		rows, wrong := read("mark,kind,size,note\n" + bad + "Y,washer,M16\nZ,washer,M16\n")
		require.NotEmpty(t, wrong, name)
		require.True(t, name == "open quote" || len(wrong) == 1, name)
		assert.True(t, strings.HasPrefix(wrong[0], "s.csv:2:"), wrong[0])
		require.NotEmpty(t, rows, name)
		assert.Equal(t, "Z", rows[len(rows)-1].Mark, name)
	}
	// A long cell within the limit is wrong by itself.
	rows, wrong := read("mark,kind,size,note\nA,washer,M16," + strings.Repeat("é", maxRecord/2-100) + "\nZ,washer,M16\n")
	require.Len(t, wrong, 1)
	assert.Less(t, len(wrong[0]), 300)
	assert.Len(t, rows, 1)
}

func TestReadFails(t *testing.T) {
	gone := errors.New("gone")
	_, err := NewReader(iotest.ErrReader(gone), "s.csv")
	require.ErrorIs(t, err, gone)
	r, err := NewReader(io.MultiReader(strings.NewReader("mark,kind,size\nA,washer,M16\nB,was"), iotest.ErrReader(gone)), "s.csv")
	require.NoError(t, err)
	_, err = r.Next()
	require.NoError(t, err)
	_, err = r.Next()
	require.ErrorIs(t, err, gone)
	assert.Equal(t, "s.csv:3:1: gone", err.Error())
	_, err = r.Next()
	require.Equal(t, io.EOF, err)
}

// However small the pieces in which a file comes, it reads the same.
func TestSmallReads(t *testing.T) {
	text := "\ufeffmark;kind;size;grip;nut\r\nA;hex-bolt;M16x90;62,5;hex\r\n\r\nB;hexnut;M16\r\n"
	want, wrong := read(text)
	r, err := NewReader(iotest.OneByteReader(strings.NewReader(text)), "s.csv")
	require.NoError(t, err)
	row, err := r.Next()
	require.NoError(t, err)
	assert.Equal(t, want[0], row)
	_, err = r.Next()
	assert.EqualError(t, err, wrong[0])
}

func TestOffset(t *testing.T) {
	text := "mark,kind,size\nA,washer,M16\nB,washer,M16\n"
	r, err := NewReader(strings.NewReader(text), "s.csv")
	require.NoError(t, err)
	last := int64(0)
	for range r.Rows() {
		assert.Greater(t, r.Offset(), last)
		last = r.Offset()
	}
	assert.EqualValues(t, len(text), last)
}

func TestParserOfUnlisted(t *testing.T) {
	text := "mark,kind,size\nA,hex-nut,M13x1.1\n"
	_, wrong := read(text)
	assert.Len(t, wrong, 1)
	r, err := Parser{AllowUnlisted: true}.NewReader(strings.NewReader(text), "s.csv")
	require.NoError(t, err)
	row, err := r.Next()
	require.NoError(t, err)
	assert.Equal(t, thread.Thread{D: 13, P: 1.1}, row.Spec.Thread)
}

// A row of no file has no place, no caption and may have no mark.
func TestParse(t *testing.T) {
	row, err := Parser{}.Parse(map[string]string{"kind": "hex-bolt", "size": "M16x80"})
	require.NoError(t, err)
	assert.Empty(t, row.Options.Caption)
	_, err = row.Draw()
	require.NoError(t, err)
	_, err = Parser{}.Parse(map[string]string{"kind": "hexbolt", "size": "M16x80", "lenght": "80"})
	assert.EqualError(t, err, "lenght: no such column; did you mean length?\nhexbolt: no such kind; did you mean hex-bolt?")
	_, err = Parser{}.Parse(map[string]string{"kind": "hex-bolt", "size": "M16", "length": "80,5"})
	assert.Error(t, err)
	row, err = Parser{DecimalComma: true}.Parse(map[string]string{"kind": "hex-bolt", "size": "M16", "length": "80,5"})
	require.NoError(t, err)
	assert.Equal(t, 80.5, row.Spec.Length)
}

// The error of drawing has the place of the cell to blame.
func TestLocate(t *testing.T) {
	rows, wrong := read("mark,kind,size,views\nA,washer,M16,front\n")
	require.Empty(t, wrong)
	e := rows[0].Locate(fmt.Errorf("drawing: %w", &fastener.FieldError{Kind: "washer", Field: "views", Want: "no"}))
	assert.Equal(t, [2]int{2, 14}, [2]int{e.Line, e.Column})
	assert.Same(t, e, rows[0].Locate(e))
	assert.Equal(t, "s.csv:2:1: other", rows[0].Locate(errors.New("other")).Error())
	assert.Equal(t, 3, rows[0].Locate(&fastener.KindError{Name: "x"}).Column)
}

func TestNotesAreBroken(t *testing.T) {
	rows, wrong := read("mark,kind,size,note\nA,washer,M16," + strings.Repeat("words ", 20) + strings.Repeat("x", 70) + "\n")
	require.Empty(t, wrong)
	var lines []string
	for _, c := range rows[0].Options.Caption[3:] {
		lines = append(lines, c.Tag+" "+c.Text)
	}
	// Ten words of five letters and nine blanks are 59 characters.
	ten := strings.TrimSpace(strings.Repeat("words ", 10))
	assert.Equal(t, []string{"NOTE " + ten, "NOTE2 " + ten, "NOTE3 " + strings.Repeat("x", 70)}, lines)
}

func TestColumnsAreOurs(t *testing.T) {
	Columns()[0] = "spoilt"
	assert.Equal(t, "mark", Columns()[0])
	assert.Equal(t, "", noColumn.String())
}

// TestCarriedColumns: columns of other names travel with the part, in strict
// reading they are refused, and none takes the place of what the part says.
func TestCarriedColumns(t *testing.T) {
	const text = "mark,kind,size,Price,supplier\nA,hex-nut,M20,1.20,\"Lock  & Sons\"\nB,hex-nut,M16,,\n"
	r, err := NewReader(strings.NewReader(text), "s.csv")
	require.NoError(t, err)
	var got [][]drawing.Property
	for row, err := range r.Rows() {
		require.NoError(t, err)
		d, err := row.Draw()
		require.NoError(t, err)
		got = append(got, slices.DeleteFunc(d.Parts[0].Properties, func(p drawing.Property) bool { return p.Key != "price" && p.Key != "supplier" }))
	}
	assert.Equal(t, [][]drawing.Property{{{Key: "price", Value: "1.20"}, {Key: "supplier", Value: "Lock & Sons"}}, {}}, got)
	_, err = Parser{Strict: true}.NewReader(strings.NewReader(text), "s.csv")
	assert.ErrorContains(t, err, "s.csv:1:16: Price: no such column")
	r, err = NewReader(strings.NewReader("mark,kind,size,designation\nA,hex-nut,M20,x\n"), "s.csv")
	require.NoError(t, err)
	_, err = r.Next()
	assert.EqualError(t, err, "s.csv:2:15: the part says its designation itself; give the column another name")
}

// A cell that never ends is one fault, however long it is.
func TestEndlessCell(t *testing.T) {
	text := "mark,kind,size\nA,washer,M16\nB,\"" + strings.Repeat("\n", 5*maxRecord) + "\",M16\nC,washer,M16\n"
	r, err := NewReader(strings.NewReader(text), "s.csv")
	require.NoError(t, err)
	var said []string
	for _, err := range r.Rows() {
		if err != nil {
			said = append(said, err.Error())
		}
	}
	require.NotEmpty(t, said)
	assert.Contains(t, said[0], "s.csv:3:1: a row of more than")
	assert.LessOrEqual(t, len(said), 2)
}
