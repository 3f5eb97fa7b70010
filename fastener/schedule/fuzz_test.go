package schedule

import (
	"errors"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"boltplate/fastener"
)

func trim(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// checkErrors fails unless err is a list of errors that all have a place in the
// file and something to say, in the order of the file.
func checkErrors(t interface{ Fatalf(string, ...any) }, err error) {
	var all Errors
	if !errors.As(err, &all) || len(all) == 0 {
		t.Fatalf("%T: %v", err, err)
	}
	last := position{}
	for _, e := range all {
		at := position{e.Line, e.Column}
		if e.File != "f.csv" || e.Line < 1 || e.Column < 1 || e.Err == nil || e.Err.Error() == "" {
			t.Fatalf("%#v", e)
		}
		if at.line < last.line || at.line == last.line && at.column < last.column {
			t.Fatalf("%v after %v", at, last)
		}
		last = at
		if strings.ContainsFunc(e.Error(), func(r rune) bool { return r < ' ' }) {
			t.Fatalf("control characters in %q", e.Error())
		}
	}
}

func FuzzRead(f *testing.F) {
	for _, text := range []string{
		"mark,kind,size\nA,washer,M16\n",
		"\ufeffmark;kind;size;length\r\nA;hex-bolt;M16;62,5\r\n",
		"mark,kind,size,note\nA,hexbolt,M16x1.5x80-LH,\"a\nb\"\n\"",
		"mark,knd,size\nA,\"x\"y,M13\n",
		"mark,quantity,kind,size,length,thread,neck,nut,washer,grip,basis,governs,views,labels,projection,hidden,exact,scale,note\n" +
			"A,2,square-bolt,M20,90,46,square,hex,plain,60,proportion,,front side,rules,third,yes,no,1:2,x\n",
		"\xff\xfe", "\x00", "mark\tkind", "",
	} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		r, err := NewReader(strings.NewReader(text), "f.csv")
		if err != nil {
			checkErrors(t, err)
			return
		}
		names := make(map[string]bool)
		for row, err := range r.Rows() {
			if err != nil {
				checkErrors(t, err)
				if row.Fastener != nil {
					t.Fatalf("a row with an error has a fastener")
				}
				continue
			}
			if row.Fastener == nil || row.File == "" || row.Line < 2 || names[strings.ToLower(row.File)] {
				t.Fatalf("%#v", row)
			}
			names[strings.ToLower(row.File)] = true
			if _, err := row.Draw(); err != nil {
				checkErrors(t, err.(*Error).only())
			}
		}
	})
}

func (e *Error) only() Errors { return Errors{e} }

// A row of good cells in any order of columns is read, and one bad cell is
// found where it stands.
func TestReadProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kind := rapid.SampledFrom(fastener.Kinds()).Draw(t, "kind")
		cells := map[string]string{
			"mark": rapid.StringMatching(`[A-Z][0-9]{1,4}`).Draw(t, "mark"),
			"kind": kind.Name,
			"size": rapid.SampledFrom([]string{"M8", "M16", "M24", "M20x1.5"}).Draw(t, "size"),
		}
		if kind.Length {
			longest := 300
			if kind.Name == "taper-bolt" { // a longer taper would end thinner than the thread
				cells["taper"], longest = "1:100", 150
			}
			cells["length"] = strconv.Itoa(rapid.IntRange(100, longest).Draw(t, "length"))
		}
		choices := map[string]string{"labels": "rules", "projection": "third", "hidden": "yes", "exact": "no", "scale": "1:2", "quantity": "7", "note": "n"}
		for _, name := range Columns() {
			if v, ok := choices[name]; ok && rapid.Bool().Draw(t, name) {
				cells[name] = v
			}
		}
		order := rapid.Permutation(sortedKeys(cells)).Draw(t, "order")
		bad := rapid.SampledFrom(append(order, "")).Draw(t, "bad")
		if bad == "mark" || bad == "note" {
			bad = ""
		}
		if bad != "" {
			cells[bad] = "qqqqqqqqq"
		}
		sep := rapid.SampledFrom([]string{",", ";"}).Draw(t, "separator")
		end := rapid.SampledFrom([]string{"\n", "\r\n"}).Draw(t, "end")
		blank := rapid.IntRange(0, 3).Draw(t, "blank lines")
		var line []string
		column := 1
		for _, name := range order {
			if name == bad {
				column += len(strings.Join(append(line, ""), sep))
			}
			line = append(line, cells[name])
		}
		text := strings.Join(order, sep) + end + strings.Repeat(end, blank) + strings.Join(line, sep) + end
		r, err := NewReader(strings.NewReader(text), "f.csv")
		if err != nil {
			t.Fatalf("%v", err)
		}
		row, err := r.Next()
		if bad == "" {
			if err != nil {
				t.Fatalf("%q: %v", text, err)
			}
			if row.Mark != cells["mark"] || row.Spec.Kind != kind.Name || row.Line != 2+blank {
				t.Fatalf("%#v", row)
			}
			return
		}
		checkErrors(t, err)
		var all Errors
		errors.As(err, &all)
		if e := all[0]; len(all) != 1 || e.Line != 2+blank || e.Column != column || e.Field != bad {
			t.Fatalf("%q: %v, want column %d", text, err, column)
		}
	})
}

// Rows that are wrong in any way do not keep good ones from coming.
func TestGoodRowsStillCome(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var text strings.Builder
		text.WriteString("mark,kind,size\n")
		want := 0
		for i, good := range rapid.SliceOfN(rapid.Bool(), 0, 30).Draw(t, "good") {
			if good {
				want++
				text.WriteString("G" + strconv.Itoa(i) + ",washer,M16\n")
			} else {
				text.WriteString(rapid.SampledFrom([]string{"x,x,x\n", ",,M16\n", "a\"b,washer,M16\n", "\"a\"b,washer,M16\n", "a,washer,M16,x\n", "\x00,\xff,\x1b\n"}).Draw(t, "bad"))
			}
		}
		rows, _ := read(text.String())
		if len(rows) != want {
			t.Fatalf("%d rows, want %d", len(rows), want)
		}
	})
}

func TestNoGrowthOfMessages(t *testing.T) {
	_, wrong := read("mark,kind,size,nut,views,labels\n" + strings.Join([]string{"A", strings.Repeat("k", 230), strings.Repeat("1", 230),
		strings.Repeat("n", 230), strings.Repeat("v", 230), strings.Repeat("l", 230)}, ",") + "\n")
	assert.NotEmpty(t, wrong)
	for _, w := range wrong {
		assert.Less(t, len(w), 600, w)
	}
}

// FuzzLayout: whatever a layout holds, it is read, with a line for each place, or
// every error has a place.
func FuzzLayout(f *testing.F) {
	for _, text := range []string{
		"mark,view,x,y\nA,front,0,0\n",
		"mark,view,x,y,angle,circle,start,count,rows,dy,cover,note\nGB-14,point,0,0,0,195,0,8,,,yes,n\nGB-14,front,-300,-97.5,0,,,,2,195,yes,s\n",
		"mark;view;x;y\r\nA;point;1,5;-2\r\n", "\ufeffmark,view\nA,rear\n", "mark,view,x,y,columns,dx\nA,front,0,0,1e9,1\n",
		"mark,view,x,y\nA,front,nan,inf\n", "\xff\xfe", "", "mark,view,x,y\n\"A",
	} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		l, lines, err := ReadLayout(strings.NewReader(text), "f.csv")
		if err != nil {
			checkErrors(t, err)
			return
		}
		if len(lines) != len(l.Places) {
			t.Fatalf("%d lines, %d places", len(lines), len(l.Places))
		}
		for _, n := range lines {
			if n < 2 {
				t.Fatalf("line %d", n)
			}
		}
	})
}
