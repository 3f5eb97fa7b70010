package schedule_test

import (
	"fmt"
	"strings"

	"boltplate/fastener/schedule"
	"boltplate/thread"
)

func Example() {
	const text = `mark;quantity;kind;size;length;note
B1;4;hex-bolt;M20;90;Hinge
B2;4;hexbolt;M20;90;
N1;8;hex-nut;M20;;
`
	r, err := schedule.NewReader(strings.NewReader(text), "hinges.csv")
	if err != nil {
		fmt.Println(err)
		return
	}
	for row, err := range r.Rows() {
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Printf("%s: %d × %s\n", row.Mark, row.Quantity, row.Fastener.Designation())
	}
	// Output:
	// B1: 4 × Hexagon-head bolt M20 × 90
	// hinges.csv:3:6: hexbolt: no such kind; did you mean hex-bolt?
	// N1: 8 × Hexagon nut M20
}

func ExampleParser_Parse() {
	row, err := schedule.Parser{}.Parse(map[string]string{"kind": "hex-bolt", "size": "M20x90", "labels": "rules"})
	if err != nil {
		fmt.Println(err)
		return
	}
	d, err := row.Draw()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(row.Fastener.Designation(), "in", len(d.Views), "views")

	_, err = schedule.Parser{}.Parse(map[string]string{"kind": "hexbolt", "size": "M15"})
	fmt.Println(err)
	// Output:
	// Hexagon-head bolt M20 × 90 in 2 views
	// hexbolt: no such kind; did you mean hex-bolt?
	// M15 is a third choice of ISO 261, and only first and second choices are held; nearest: M14, M16
}

func ExampleParseDesignation() {
	for _, s := range []string{"M16", "M16x80", "M16x1.5", "M16 × 1.5 × 80"} {
		t, length, err := schedule.ParseDesignation(s, thread.Parser{})
		fmt.Println(t.D, t.P, length, err)
	}
	// Output:
	// 16 2 0 <nil>
	// 16 2 80 <nil>
	// 16 1.5 0 <nil>
	// 16 1.5 80 <nil>
}

func ExampleFileName() {
	for _, mark := range []string{"B1", "HS/02 left", "aux", "../x"} {
		fmt.Println(schedule.FileName(mark))
	}
	// Output:
	// B1
	// HS_02_left
	// _aux
	// _._x
}
