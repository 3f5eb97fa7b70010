package marking

import (
	"fmt"

	"boltplate/drawing"
)

// A Kind says what is wrong.
type Kind uint8

// The kinds of findings.
const (
	MissingView Kind = iota
	WrongSide
	OutOfLine
	TurnedView
	MirroredView
	ScaledView
	MissingLine
	MissingCentreLine
	ExtraLine
	LineOff
	WrongSize
	LineShort
	LineLong
	LineGap
	WrongLine
	Exchanged
	ClosedThread
	ReversedArc
	MissingDimension
	WrongText
	DimensionTwice
	DimensionOff
	MissingHatch
	ExtraHatch
	SameHatch
	TextTouches
	kindCount
)

// A kindInfo is what is told of a kind.
type kindInfo struct {
	name   string // in files: of the scheme, in JSON
	title  string
	advice string // what to learn from it; "" where it depends on the line
	part   PartName
	each   float64 // points of a hundred, by default
}

// kinds lists the kinds with their usual points.
func kinds() [kindCount]kindInfo {
	return [kindCount]kindInfo{
		MissingView:       {"missing-view", "view missing", "Every view that is asked for belongs on the sheet; what is in none of the others can be seen in it.", PartViews, 0},
		WrongSide:         {"wrong-side", "view on the wrong side", "In first-angle projection a view stands on the side away from where one looks (the view from the left on the right, the view from above below), in third-angle projection on the side from which one looks (ISO 5456-2).", PartViews, 6},
		OutOfLine:         {"out-of-line", "view out of line", "Views in projection share their axes: project from one to the next in place of measuring again.", PartViews, 3},
		TurnedView:        {"turned-view", "view turned", "All views are turned with the part as it stands in the main view.", PartViews, 4},
		MirroredView:      {"mirrored-view", "view mirrored", "A mirror image shows the part from the other side. Project line by line from the main view.", PartViews, 4},
		ScaledView:        {"scaled-view", "view at another scale", "All views of a figure have one scale, or a note says otherwise.", PartViews, 4},
		MissingLine:       {"missing-line", "line missing", "", PartLines, 4},
		MissingCentreLine: {"missing-centre-line", "centre line missing", "Every round feature has its centre line in every view: narrow, long-dashed dotted, about 3 mm past the outline (ISO 128-2, 04.1).", PartLines, 3},
		ExtraLine:         {"extra-line", "line too many", "Only edges that are there are drawn, and construction lines are cleaned away. An edge that goes over smoothly into a face is none.", PartLines, 2},
		LineOff:           {"line-off", "line in the wrong place", "Work the size out again, and project it from the view that shows it best.", PartLines, 3},
		WrongSize:         {"wrong-size", "size drawn wrong", "Work the size out again, from the rule or the table, and set it off once; what belongs to it follows.", PartLines, 6},
		LineShort:         {"line-short", "line too short", "A line ends where the edge that it stands for ends.", PartLines, 2},
		LineLong:          {"line-long", "line too long", "A line ends where the edge that it stands for ends.", PartLines, 2},
		LineGap:           {"line-gap", "gap in a line", "An edge is drawn through from end to end; where something hides it, it goes on as a hidden line.", PartLines, 2},
		WrongLine:         {"wrong-line", "wrong kind of line", "", PartKinds, 2},
		Exchanged:         {"exchanged-lines", "wide and narrow lines exchanged", "Of a thread the crests are wide and the roots narrow (ISO 6410-1): what the finger touches is drawn wide.", PartKinds, 4},
		ClosedThread:      {"closed-thread-circle", "thread circle closed", "Seen along the axis the root of a thread is a narrow arc of about three quarters of a circle, open in one quadrant, its ends off the centre lines (ISO 6410-1).", PartKinds, 3},
		ReversedArc:       {"reversed-arc", "arc the wrong way round", "The chamfer cuts a face in a curve that bulges towards the end face and comes down to the corners.", PartLines, 3},
		MissingDimension:  {"missing-dimension", "dimension missing", "Every size that is needed to make the part is there once (ISO 129-1).", PartDimensions, 3},
		WrongText:         {"wrong-text", "wrong text of a dimension", "", PartDimensions, 2},
		DimensionTwice:    {"dimension-twice", "size given twice", "A size is given once, in the view that shows it best: two could come to differ (ISO 129-1).", PartDimensions, 1},
		DimensionOff:      {"dimension-off", "dimension not to the feature", "Extension lines start at the edges whose distance is given.", PartDimensions, 2},
		MissingHatch:      {"missing-hatch", "hatching missing", "Where the cutting plane goes through material it is hatched, narrow, at 45 degrees.", PartNeatness, 2},
		ExtraHatch:        {"extra-hatch", "hatching where nothing is cut", "Only what the plane cuts is hatched; bolts, nuts, washers, studs and pins are not, where they are cut lengthwise.", PartNeatness, 2},
		SameHatch:         {"same-hatch", "neighbours hatched alike", "Parts that touch are hatched in opposite directions, or with another spacing.", PartNeatness, 1},
		TextTouches:       {"text-touches", "text touches a line", "No line goes through a text, and two texts keep a height apart (ISO 129-1).", PartNeatness, 1},
	}
}

// String returns the name of the kind, such as "missing-line".
func (k Kind) String() string {
	if k < kindCount {
		return kinds()[k].name
	}
	return "unknown kind"
}

// Title returns the kind in words, such as "line missing".
func (k Kind) Title() string {
	if k < kindCount {
		return kinds()[k].title
	}
	return "unknown kind"
}

// Kinds returns all kinds.
func Kinds() []Kind {
	all := make([]Kind, kindCount)
	for i := range all {
		all[i] = Kind(i)
	}
	return all
}

// ParseKind returns the kind of a name. The error lists the names.
func ParseKind(s string) (Kind, error) {
	for i, k := range kinds() {
		if k.name == s {
			return Kind(i), nil
		}
	}
	names := ""
	for i, k := range kinds() {
		if i > 0 {
			names += ", "
		}
		names += k.name
	}
	return 0, fmt.Errorf("%q is no kind of finding; the kinds are %s", s, names)
}

// A Finding is one thing that is wrong.
type Finding struct {
	Number int // from 1, as it is ringed
	Kind   Kind
	Figure string
	View   string // "" where it belongs to none
	// Text says what is wrong, Advice what to learn from it.
	Text, Advice string
	Amount       float64 // how far off, too short or too long, mm on paper
	Points       float64 // that it costs, after the limits of the scheme
	Lines        []int   // of the file, where what is wrong begins; empty for what is missing

	At     drawing.Point // where it is, in units of the submission
	Radius float64       // of a ring about it
	// Expected is what should be there, in units of the submission.
	Expected [][]drawing.Point

	part   PartName
	losses []loss // of a missing view
}
