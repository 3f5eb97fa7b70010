package joint

import (
	"fmt"
	"strconv"

	"boltplate/drawing"
)

// A Code tells findings apart.
type Code string

// A Finding is something that is wrong with a joint.
type Finding struct {
	Code     Code
	Severity Severity
	What     string // what is wrong, in words
	Measured float64
	Required float64
	Unit     string // "mm" or "degrees"
	Remedy   string // what puts it right, in words
	// Fix is the same as changes to the joint: with all of them made, this is
	// found no more and nothing else in its place. It is empty where no change
	// of one joint helps.
	Fix    []Change
	Rule   string
	Source string // a standard or book, or "common practice"
	// At is where it is, on the axis and across it, in the bolt's coordinates:
	// x from the bearing face of the head towards the point; of a stud from the
	// joint face towards the nut.
	At drawing.Point
}

// The codes of findings.
const (
	LengthShort     Code = "length-short"     // the bolt does not reach through the nut
	LengthLong      Code = "length-long"      // it reaches further than a shorter preferred length would
	ThreadEnds      Code = "thread-ends"      // the nut meets the end of the thread before it clamps
	Engagement      Code = "engagement"       // too little thread in the material
	Bottoming       Code = "bottoming"        // the bolt meets the end of the thread or of the hole
	FullThread      Code = "full-thread"      // too little full thread beyond the bolt
	DrillDepth      Code = "drill-depth"      // too little drilled depth beyond the full thread
	Wall            Code = "wall"             // too little metal below the drill point
	HoleInterferes  Code = "hole-interferes"  // the hole is smaller than the bolt
	HoleSmall       Code = "hole-small"       // smaller than the fine series
	HoleLarge       Code = "hole-large"       // larger than the coarse series
	WasherCover     Code = "washer-cover"     // the washer does not cover the hole
	Bearing         Code = "bearing"          // head, nut or washer bears on too little metal
	Edge            Code = "edge"             // too near to an edge
	RunOut          Code = "run-out"          // the run-out of the thread enters the tapped hole
	SinkAngle       Code = "sink-angle"       // the countersink has another angle than the head
	HeadProud       Code = "head-proud"       // the head stands out of the face
	HeadSunk        Code = "head-sunk"        // the head lies too far below the face
	PlateThin       Code = "plate-thin"       // the part is thinner than the head in it
	TaperLong       Code = "taper-long"       // so long that its small end is thinner than the thread
	TaperShort      Code = "taper-short"      // it does not hold in the second part
	TaperThrough    Code = "taper-through"    // it comes out of the hole before the bolt is tight
	DrawUp          Code = "draw-up"          // too little or too much left to draw in
	SpannerRoom     Code = "spanner-room"     // no room to turn head or nut
	SeatNarrow      Code = "seat-narrow"      // the flat face is narrower than the collar of an eye bolt
	Relief          Code = "relief"           // the thread under a collar does not go into the mouth of its hole
	PullFlat        Code = "pull-flat"        // a lifting eye bolt is pulled too far from its axis
	PullAcross      Code = "pull-across"      // a lifting eye bolt is pulled across its ring
	SlotHead        Code = "slot-head"        // the head is too long for the T-slot
	SlotDepth       Code = "slot-depth"       // the head is too thick for the T-slot
	SlotThroat      Code = "slot-throat"      // the neck is too wide for the throat of the T-slot
	Lips            Code = "lips"             // too little metal above the head in a T-slot
	NeckLoose       Code = "neck-loose"       // the neck is much narrower than the throat
	NeckLong        Code = "neck-long"        // the neck reaches beyond what it stands in
	MaterialUnknown Code = "material-unknown" // a tapped part of a material for which no engagement is held
	CapFull         Code = "cap-full"         // the bolt fills the dome of a cap nut
	Turns           Code = "turns"            // nothing keeps the bolt from turning, or what does is in the way
	HookCover       Code = "hook-cover"       // the hook reaches too little over the part
	EdgeGap         Code = "edge-gap"         // the edge of the part is too near to the square under the hook
	PackingThin     Code = "packing-thin"     // too little soft packing on a brittle part
	BrittleHole     Code = "brittle-hole"     // a hole in a part that must not be drilled
	Counterbore     Code = "counterbore"      // the head, or the spanner on it, does not go in
	Slope           Code = "slope"            // head or nut bear on a sloping face
	Fillet          Code = "fillet"           // what bears stands on the fillet of a wall
	Spacing         Code = "spacing"          // the next bolt is too near
	PinHole         Code = "pin-hole"         // the slots of the castle nut do not reach the hole of the pin
	Insert          Code = "insert"           // the thread insert is too long for its hole
	SquareHole      Code = "square-hole"      // the square under the hook does not go into its hole
)

// String returns the finding on one line.
func (f Finding) String() string {
	s := fmt.Sprintf("%s: %s: %s", f.Severity, f.Code, f.What)
	if f.Unit != "" {
		s += " (" + f.limit() + ")"
	}
	return s + "; " + f.Remedy + ". Rule: " + f.Rule + " (" + f.Source + ")"
}

func num(v float64) string { return drawing.FormatValue(v, false) }

const practice = "common practice"

// limit says what was measured and on which side of it the limit lies, with as
// many decimals as tell the two apart.
func (f Finding) limit() string {
	side, unit := "at least", " "+f.Unit
	if f.Measured > f.Required {
		side = "at most"
	}
	if f.Unit == "degrees" {
		unit = "°"
	}
	measured, required := num(f.Measured), num(f.Required)
	for n := 3; measured == required && f.Measured != f.Required && n <= 6; n++ {
		measured, required = strconv.FormatFloat(f.Measured, 'f', n, 64),
			strconv.FormatFloat(f.Required, 'f', n, 64)
	}
	return measured + unit + ", " + side + " " + required
}
