package marking_test

import (
	"bytes"
	"fmt"
	"strings"

	"boltplate/drawing"
	"boltplate/dxfout"
	"boltplate/fastener"
	"boltplate/marking"
	"boltplate/thread"
)

// A student has drawn the bolt ten millimetres too short, and says so in the
// dimension: one mistake.
func Example() {
	views := []drawing.Direction{drawing.Front, drawing.HeadEnd}
	answer, _ := fastener.Draw(fastener.HexBolt{Thread: thread.MustParse("M16"), Length: 80}, fastener.DrawOptions{Views: views})
	drawn, _ := fastener.Draw(fastener.HexBolt{Thread: thread.MustParse("M16"), Length: 70}, fastener.DrawOptions{Views: views})
	var file bytes.Buffer
	_ = dxfout.Encode(&file, drawn)

	marker, err := marking.New(marking.Model{Figures: []marking.Figure{{Drawing: answer}}}, marking.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	result, err := marker.MarkReader(&file)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%g of %g points\n", result.Points, result.Of)
	for _, f := range result.Findings {
		fmt.Printf("%d %v, %g mm, costs %g\n", f.Number, f.Kind, f.Amount, f.Points)
		_, says, _ := strings.Cut(f.Text, "It counts once. ")
		fmt.Println(says)
	}
	// Output:
	// 94 of 100 points
	// 1 wrong-size, 10 mm, costs 6
	// The dimension of the length says ‘70’, as it is drawn, where ‘80’ is right.
}
