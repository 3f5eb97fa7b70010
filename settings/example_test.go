package settings_test

import (
	"context"
	"fmt"

	"boltplate/drawing/sheet"
	"boltplate/settings"
)

func ExampleReadJoint() {
	j, err := settings.ReadJoint(settings.Files, "../testdata/joints/long-stud.toml")
	if err != nil {
		fmt.Println(err)
		return
	}
	s, err := j.Settle()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(s.Joint.Title, s.Works())
	fmt.Println(s.Findings[0].Code)
	// Output:
	// Bracket of the gate stem, Ostlemere Lock false
	// length-long
}

func ExampleReadPlate() {
	p, err := settings.ReadPlate("plate.toml", `
size = "A4"
[[figure]]
kind = "hex-bolt"
size = "M16"
length = 80
`, settings.PlateOptions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	pages, err := p.Sheet.Sheets(context.Background())
	if err != nil {
		fmt.Println(p.Locate(err))
		return
	}
	fmt.Println(len(pages), p.Sheet.Format.Size == sheet.A4)
	_, err = settings.ReadPlate("plate.toml", "siez = \"A4\"\n", settings.PlateOptions{})
	fmt.Println(err)
	// Output:
	// 1 true
	// plate.toml:1:9: siez: no such key; did you mean size?
}

func ExampleReadRules() {
	own, err := settings.ReadRules("ours.toml", "name = \"course\"\n[hex-nut]\nH = \"0.9D\"\n")
	fmt.Println(own.Name(), err)
	// Output:
	// course <nil>
}
