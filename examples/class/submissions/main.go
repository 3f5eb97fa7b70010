// Command submissions stands in for a class: from the answers that boltplate
// handout wrote it makes what forty students might hand in, some of it with a
// fault in it, and lists which.
//
//	go run ./examples/class/submissions HANDOUT DIR
package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// A tag is a group of a DXF file: its code and its value, a line each.
type tag struct{ code, value string }

// An entity is its tags, the first of which says what it is.
type entity []tag

func (e entity) get(code string) string {
	for _, t := range e {
		if t.code == code {
			return t.value
		}
	}
	return ""
}

func (e entity) set(code, value string) {
	for i := range e {
		if e[i].code == code {
			e[i].value = value
			return
		}
	}
}

// A fault is a way to go wrong.
type fault struct {
	name string
	make func(all []entity) []entity
}

// of returns the indices of the entities of a kind on a layer.
func of(all []entity, kind, layer string) (out []int) {
	for i, e := range all {
		if e[0].value == kind && e.get("8") == layer {
			out = append(out, i)
		}
	}
	return out
}

func without(all []entity, i int) []entity { return append(all[:i:i], all[i+1:]...) }

// longest returns the wide line that is the longest of the drawing, and where a
// fault shows most.
func longest(all []entity) int {
	best, most := -1, 0.0
	for _, i := range of(all, "LINE", "OUTLINE") {
		var x1, y1, x2, y2 float64
		fmt.Sscan(all[i].get("10")+" "+all[i].get("20")+" "+all[i].get("11")+" "+all[i].get("21"), &x1, &y1, &x2, &y2)
		if l := (x2-x1)*(x2-x1) + (y2-y1)*(y2-y1); l > most {
			best, most = i, l
		}
	}
	return best
}

// faults returns what goes wrong in this class, in turn; every second student
// is right.
func faults() []fault {
	return []fault{
		{"a visible edge is missing", func(all []entity) []entity { return without(all, longest(all)) }},
		{"a centre line is missing", func(all []entity) []entity { return without(all, of(all, "LINE", "CENTRE")[0]) }},
		{"an edge is drawn narrow", func(all []entity) []entity {
			all[longest(all)].set("8", "THIN")
			return all
		}},
		{"a dimension is missing", func(all []entity) []entity { return without(all, of(all, "DIMENSION", "DIMENSION")[1]) }},
		{"a thread is drawn wide", func(all []entity) []entity {
			all[of(all, "LINE", "THIN")[2]].set("8", "OUTLINE")
			return all
		}},
		{"a line too many", func(all []entity) []entity {
			e := append(entity{}, all[longest(all)]...)
			e.set("5", "FFFF0")
			var y1, y2 float64
			fmt.Sscan(e.get("20")+" "+e.get("21"), &y1, &y2)
			e.set("20", fmt.Sprint(y1+4))
			e.set("21", fmt.Sprint(y2+4))
			return append(all, e)
		}},
	}
}

func main() {
	if len(os.Args) != 3 {
		fmt.Fprintln(os.Stderr, "submissions: give the folder of the handout and one for the submissions")
		os.Exit(2)
	}
	if err := run(os.Args[1], os.Args[2]); err != nil {
		fmt.Fprintln(os.Stderr, "submissions:", err)
		os.Exit(1)
	}
}

func run(handout, dir string) error {
	answers, err := filepath.Glob(filepath.Join(handout, "*-answer.dxf"))
	if err != nil || len(answers) == 0 {
		return fmt.Errorf("%s has no answers in DXF: %v", handout, err)
	}
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return err
	}
	all := faults()
	list := [][]string{{"roll", "fault"}}
	for i, name := range answers {
		data, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		roll := strings.TrimSuffix(filepath.Base(name), "-answer.dxf")
		what := ""
		if i%2 == 1 {
			f := all[i/2%len(all)]
			what = f.name
			data = spoil(data, f)
		}
		if err := os.WriteFile(filepath.Join(dir, roll+".dxf"), data, 0o666); err != nil {
			return err
		}
		list = append(list, []string{roll, what})
	}
	var out bytes.Buffer
	if err := csv.NewWriter(&out).WriteAll(list); err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(dir, "faults.csv"), out.Bytes(), 0o666)
}

// spoil puts a fault into the entities of a file.
func spoil(data []byte, f fault) []byte {
	lines := strings.Split(strings.TrimRight(string(data), "\r\n"), "\r\n")
	var before, after []tag
	var all []entity
	where := 0 // before, in or after the entities of model space
	for i := 0; i+1 < len(lines); i += 2 {
		t := tag{strings.TrimSpace(lines[i]), lines[i+1]}
		if where == 1 && t.code == "0" && t.value == "ENDSEC" {
			where = 2
		}
		switch {
		case where == 0:
			before = append(before, t)
			if n := len(before); t.code == "2" && t.value == "ENTITIES" && before[n-2].value == "SECTION" {
				where = 1
			}
		case where == 2:
			after = append(after, t)
		case t.code == "0":
			all = append(all, entity{t})
		default:
			all[len(all)-1] = append(all[len(all)-1], t)
		}
	}
	var out strings.Builder
	write := func(ts []tag) {
		for _, t := range ts {
			out.WriteString(t.code + "\r\n" + t.value + "\r\n")
		}
	}
	write(before)
	for _, e := range f.make(all) {
		write(e)
	}
	write(after)
	return []byte(out.String())
}
