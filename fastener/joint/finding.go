package joint

import (
	"fmt"

	"boltplate/drawing"
)

// A Finding is something that is wrong with a joint.
type Finding struct {
	Code     string // such as "length-short"; see the constants
	Severity Severity
	What     string // what is wrong, in words
	Measured float64
	Required float64
	Unit     string // "mm" or "degrees"
	Remedy   string // what puts it right
	Rule     string
	Source   string // a standard or book, or "common practice"
	// At is where it is, on the axis and across it, in the bolt's coordinates:
	// x from the bearing face of the head towards the point; of a stud from the
	// joint face towards the nut.
	At drawing.Point
}

// The codes of findings.
const (
	LengthShort    = "length-short"    // the bolt does not reach through the nut
	LengthLong     = "length-long"     // it reaches further than a shorter preferred length would
	ThreadEnds     = "thread-ends"     // the nut meets the end of the thread before it clamps
	Engagement     = "engagement"      // too little thread in the material
	Bottoming      = "bottoming"       // the bolt meets the end of the thread or of the hole
	FullThread     = "full-thread"     // too little full thread beyond the bolt
	DrillDepth     = "drill-depth"     // too little drilled depth beyond the full thread
	Wall           = "wall"            // too little metal below the drill point
	HoleInterferes = "hole-interferes" // the hole is smaller than the bolt
	HoleSmall      = "hole-small"      // smaller than the fine series
	HoleLarge      = "hole-large"      // larger than the coarse series
	WasherCover    = "washer-cover"    // the washer does not cover the hole
	Bearing        = "bearing"         // head, nut or washer bears on too little metal
	Edge           = "edge"            // too near to an edge
	RunOut         = "run-out"         // the run-out of the thread enters the tapped hole
	SinkAngle      = "sink-angle"      // the countersink has another angle than the head
	HeadProud      = "head-proud"      // the head stands out of the face
	HeadSunk       = "head-sunk"       // the head lies too far below the face
	PlateThin      = "plate-thin"      // the part is thinner than the head in it
	TaperLong      = "taper-long"      // so long that its small end is thinner than the thread
	TaperShort     = "taper-short"     // it does not hold in the second part
	TaperThrough   = "taper-through"   // it comes out of the hole before the bolt is tight
	DrawUp         = "draw-up"         // too little or too much left to draw in
	SpannerRoom    = "spanner-room"    // no room to turn head or nut
	SeatNarrow     = "seat-narrow"     // the flat face is narrower than the collar of an eye bolt
	Relief         = "relief"          // the thread under a collar does not go into the mouth of its hole
	PullFlat       = "pull-flat"       // a lifting eye bolt is pulled too far from its axis
	PullAcross     = "pull-across"     // a lifting eye bolt is pulled across its ring
	SlotHead       = "slot-head"       // the head is too long for the T-slot
	SlotDepth      = "slot-depth"      // the head is too thick for the T-slot
	SlotThroat     = "slot-throat"     // the neck is too wide for the throat of the T-slot
	Lips           = "lips"            // too little metal above the head in a T-slot
	NeckLoose      = "neck-loose"      // the neck is much narrower than the throat
	NeckLong       = "neck-long"       // the neck reaches beyond what it stands in
	Turns          = "turns"           // nothing keeps the bolt from turning, or what does is in the way
	HookCover      = "hook-cover"      // the hook reaches too little over the part
	EdgeGap        = "edge-gap"        // the edge of the part is too near to the square under the hook
	PackingThin    = "packing-thin"    // too little soft packing on a brittle part
	BrittleHole    = "brittle-hole"    // a hole in a part that must not be drilled
	SquareHole     = "square-hole"     // the square under the hook does not go into its hole
)

// String returns the finding on one line.
func (f Finding) String() string {
	s := fmt.Sprintf("%s: %s: %s", f.Severity, f.Code, f.What)
	if f.Unit != "" {
		s += fmt.Sprintf(" (%s %s, needed %s)", num(f.Measured), f.Unit, num(f.Required))
	}
	return s + "; " + f.Remedy + ". Rule: " + f.Rule + " (" + f.Source + ")"
}

func num(v float64) string { return drawing.FormatValue(v, false) }

const practice = "common practice"
