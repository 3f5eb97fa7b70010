package joint

import (
	"fmt"
	"strings"

	"boltplate/fastener"
)

// A Scene is one of the joints that can be drawn.
type Scene string

// The scenes.
const (
	ThroughBolt Scene = "through-bolt" // plates with clearance holes, bolt, washers, nut
	Tapped      Scene = "tapped"       // a tap bolt or cap screw in a tapped hole
	Stud        Scene = "stud"         // a stud, its metal end home in a tapped hole, and a nut
	TSlot       Scene = "t-slot"       // a T-head bolt in a T-slot, and a nut
	Countersunk Scene = "countersunk"  // a countersunk head flush with the face
	Hook        Scene = "hook"         // a hook bolt that clamps a plate by its edge
	Lifting     Scene = "lifting"      // a lifting eye bolt in a body
	Taper       Scene = "taper"        // a taper bolt in a taper hole through two flanges
)

// Scenes returns the scenes in the order in which they are listed.
func Scenes() []Scene {
	var out []Scene
	for _, s := range scenes() {
		out = append(out, s.name)
	}
	return out
}

// ParseScene returns the scene with the given name. The error suggests the
// nearest name.
func ParseScene(s string) (Scene, error) {
	var names []string
	for _, c := range Scenes() {
		if strings.EqualFold(s, string(c)) {
			return c, nil
		}
		names = append(names, string(c))
	}
	if near := fastener.Nearest(strings.ToLower(s), names); near != "" {
		return "", fmt.Errorf("%s: no such scene; did you mean %s?", s, near)
	}
	return "", fmt.Errorf("%s: no such scene; the scenes are %s", s, strings.Join(names, ", "))
}

// A Joint is a fastener with the parts that it holds. Zero values are left out,
// and chosen by Complete.
type Joint struct {
	Scene Scene
	Title string
	Basis fastener.Basis // of the bolt, the nut and the washers
	// Rules are rules of one's own for bolt, nut and washers; nil is ours.
	Rules *fastener.Rules
	// Bolt describes the fastener; its zero values are chosen. Its kind is one of
	// fastener.Kinds, "" the usual one of the scene. Basis and Rules are those of
	// the joint, nut and washer stand below, and the parts say what is gripped.
	Bolt fastener.Spec
	// Nut is hex, thin, square or another; "" means hex where the scene has a
	// nut. A countersunk joint has none, and its last part is tapped, where Nut is
	// "none", or "" and the bolt is a screw or the last part has a tapped hole.
	Nut        string
	Washer     string // under the nut: plain, or none; "" means plain where there is a nut
	HeadWasher string // under the head: plain; "" means none
	// Parts are what is held, in the order in which the bolt meets them from
	// its head (a stud from its nut, so that the part it is screwed into is the
	// last one, as for a tap bolt).
	Parts []Part
	// Count is how many such bolts the joint has; 0 means one. Spacing is from the
	// axis of one to that of the next; 0 where they are far apart.
	Count   int
	Spacing float64
	// PinHole is, of a bolt with a castle nut, how far the hole of the split pin
	// is from where lengths are measured (x = 0).
	PinHole float64
	// Room is the radius about the axis that is free for a spanner at head and
	// nut; 0 where nothing stands near.
	Room float64
	// Pull is, for a lifting eye, the angle of the pull to the axis, degrees,
	// and PullAcross that it leaves the plane of the ring.
	Pull       float64
	PullAcross bool
}

// A Part is one of the parts that are held. Zero values are chosen, but for
// the thickness.
type Part struct {
	Name string
	// Material is steel (also for ""), cast iron, aluminium, soft alloy or
	// another name of the trade for one of these; what a tapped part may be made
	// of without a finding.
	Material  string
	Thickness float64 // along the axis, mm
	Hole      float64 // diameter of a clearance hole
	Edge      float64 // from the axis to the nearest edge; 0 where it is far
	// Of a tapped part.
	Through    bool    // the tapped hole goes through
	FullDepth  float64 // depth of full thread
	DrillDepth float64 // depth of the drilled hole without its point
	Insert     float64 // length of the thread insert in it; 0 for none
	// Of the face that head or nut bear on.
	// diameter of the spot face, flat and square to the axis; 0 where all of the face is
	Seat  float64
	Slope float64 // of the face about it to the plane square to the axis, degrees
	// from the axis to a wall that stands on the face, and the fillet at its foot; 0 for none
	StandsAt, Fillet float64
	// diameter and depth of the counterbore that lets the head in; 0 for none
	Counterbore, CounterboreDepth float64
	Slotted                       float64 // length of a slotted hole, as wide as Hole; 0 where it is round
	// Of a body that is lifted.
	Relief      float64 // diameter of the relief at the mouth of the tapped hole
	ReliefDepth float64 // its depth
	// Of a countersunk part.
	SinkAngle    float64 // included angle, degrees
	SinkDiameter float64 // on the face; chosen so that the head ends flush
	// Of a part with a T-slot (ISO 299).
	SlotWidth float64 // a, the throat; behind a hook, the side of a square hole
	SlotHead  float64 // b, the width for the head
	SlotDepth float64 // c, the height for the head
	SlotWhole float64 // h, the depth of the slot
	// Of a part that a hook reaches over.
	Overlap float64 // how far the hook reaches over its edge
	Brittle bool    // such as glass: must not be drilled, wants soft packing
	Packing float64 // thickness of soft packing on each side
	// Of a part with a taper hole.
	// how far the large end stands proud when pushed in by hand, to be drawn in; of the first part
	DrawUp float64
}

// A FieldError says which field of a joint is wrong and what would be right.
// Fields are named as in a joint file: "bolt.size", "part 2: thickness". It
// unwraps to what a fastener or a thread said of it, where one did: a
// *fastener.FieldError, a *fastener.KindError, a *thread.ValueError.
type FieldError struct {
	Field string
	Want  string
	Err   error // may be nil
}

// Unwrap returns Err.
func (e *FieldError) Unwrap() error { return e.Err }

// wrapped returns an error of a fastener or a thread as that of a field.
func wrapped(field string, err error) error {
	return &FieldError{Field: field, Want: err.Error(), Err: err}
}

func (e *FieldError) Error() string { return e.Field + ": " + e.Want }

// A Choice is a value that was left out, and what was chosen for it.
type Choice struct {
	Field string
	Value string
	Why   string
}

// Severity says how bad a finding is.
type Severity uint8

// The severities.
const (
	Fault   Severity = iota // the joint does not work
	Warning                 // it works, but is not good practice
)

// String returns "fault" or "warning".
func (s Severity) String() string {
	if s == Warning {
		return "warning"
	}
	return "fault"
}
