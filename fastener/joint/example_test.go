package joint_test

import (
	"errors"
	"fmt"
	"os"

	"boltplate/drawing"
	"boltplate/dxfout"
	"boltplate/fastener"
	"boltplate/fastener/joint"
	"boltplate/thread"
)

// A stud through a bracket into cast iron: what is left out is chosen.
func ExampleJoint_Settle() {
	s, err := joint.Joint{
		Scene: joint.Stud,
		Basis: fastener.Standard,
		Bolt:  fastener.Spec{Thread: thread.MustParse("M20")},
		Parts: []joint.Part{{Name: "Bracket", Thickness: 25}, {Name: "Pedestal", Material: "cast iron", Thickness: 75}},
	}.Settle()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range s.Components {
		fmt.Println(c.Count, c.Name)
	}
	fmt.Println("works:", s.Works())
	// Output:
	// 1 Stud DIN 939 - M20 × 50
	// 1 Plain washer ISO 7089 - 20
	// 1 Hexagon nut ISO 4032 - M20
	// 1 Bracket
	// 1 Pedestal
	// works: true
}

// A bolt that is too short, what the check says of it, and the cure.
func ExampleJoint_Fixed() {
	j := joint.Joint{
		Scene: joint.ThroughBolt,
		Bolt:  fastener.Spec{Thread: thread.MustParse("M16"), Length: 50},
		Parts: []joint.Part{{Thickness: 20}, {Thickness: 20}},
	}
	found, err := j.Check()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range found {
		fmt.Println(f.Code, f.Severity)
	}
	fixed, changes, err := j.Fixed()
	fmt.Println(changes, err)
	found, err = fixed.Check()
	fmt.Println(found, err)
	// Output:
	// length-short fault
	// [length of the bolt 60 mm] <nil>
	// [] <nil>
}

// A joint is drawn by itself, or stands as a figure on a sheet: Settled is a
// source of drawing/sheet.
func ExampleDraw() {
	d, err := joint.Draw(joint.Joint{
		Scene: joint.Tapped,
		Bolt:  fastener.Spec{Thread: thread.MustParse("M12")},
		Parts: []joint.Part{{Thickness: 15}, {Material: "cast iron", Thickness: 50}},
	}, drawing.Style{})
	if err != nil {
		fmt.Println(err)
		return
	}
	file, err := dxfout.Encoder{}.Append(nil, d)
	if err == nil {
		err = os.WriteFile(os.DevNull, file, 0o644)
	}
	fmt.Println(err)
	// Output: <nil>
}

// Errors say which field is wrong, and unwrap to those of the fastener and the
// thread.
func ExampleFieldError() {
	_, err := joint.Joint{
		Scene: joint.ThroughBolt,
		Bolt:  fastener.Spec{Kind: "hexbolt", Thread: thread.MustParse("M12")},
		Parts: []joint.Part{{Thickness: 15}, {Thickness: 15}},
	}.Settle()
	var kind *fastener.KindError
	fmt.Println(err)
	fmt.Println(errors.As(err, &kind))
	// Output:
	// bolt.kind: hexbolt: no such kind; did you mean hex-bolt?
	// true
}
