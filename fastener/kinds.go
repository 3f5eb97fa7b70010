package fastener

import (
	"slices"
	"strings"

	"boltplate/drawing"
	"boltplate/rule"
	"boltplate/thread"
)

// A Spec describes a fastener in the words of a schedule or a command line,
// before the kind has read it. Zero fields were not given. Words are matched
// without regard to case.
type Spec struct {
	Kind         string
	Thread       thread.Thread
	Length       float64 // mm
	ThreadLength float64 // mm
	Form         string  // which of several forms of a kind, such as "collar"
	Neck         string  // what is under the head, such as "square" or "snug"
	Angle        string  // of a countersunk head, degrees: "60" or "90"
	Material     string  // that a stud is screwed into, such as "cast-iron"
	Taper        string  // of a taper bolt, such as "1:30"
	Widths       string  // of a hexagon by a standard: "iso", or "din" for those of older DIN standards
	Nut          string  // a kind of nut, such as "hex-nut" or short "hex"
	Washer       string  // a kind or form of washer, short: "plain", "spring" or "large"
	Grip         float64 // mm
	Basis        Basis
	Governs      Governs
	// Class, Made and Finish are those of the part itself; of a nut and a washer
	// on it they say nothing. The Rules hold for all of them.
	Extra
}

// A KindInfo says what a kind is and how it is described.
type KindInfo struct {
	Name    string // such as "hex-bolt"
	Title   string // such as "hexagonal-head bolt"
	Note    string // a remark on the use of the name, or ""
	Length  bool   // a length belongs to it
	Options []Option
	Views   []drawing.Direction // which it has
	Default []drawing.Direction // which are drawn where none are asked for
	Section bool                // it has a view in section

	make     func(Spec) Fastener
	variants []variant // their rules
	// how says in the imperative how a stage of the kind is drawn by hand, where
	// the words that all kinds have say too little (common practice).
	how map[stage]string
}

// An Option is a field that a kind reads, with what it accepts.
type Option struct {
	Name   string
	Values string // what it accepts, to read
	// Choices are the words that it accepts, the usual one first; nil where it
	// is no choice between words.
	Choices []string
}

// choice returns an option that is one of a few words, the usual one first.
func choice(name string, words ...string) Option {
	return Option{name, strings.Join(words, " | "), words}
}

// The options that many kinds read.
func optThread() Option  { return Option{"thread", "thread length, mm", nil} }
func optGoverns() Option { return Option{"governs", "corners | flats", nil} }
func optBasis() Option   { return Option{"basis", "proportion | standard", nil} }

// optNuts are the options of a bolt that can carry a nut.
func optNuts() []Option {
	return []Option{choice("nut", "hex", "thin", "square", "castle", "cap", "wing", "lock"),
		choice("washer", "plain", "spring", "chamfered", "grade-c", "large"), {"grip", "mm, with a nut", nil}}
}

func allViews() []drawing.Direction {
	return []drawing.Direction{drawing.Front, drawing.SideView, drawing.HeadEnd, drawing.PointEnd,
		drawing.Isometric}
}

// boltViews and nutViews are the views that are drawn by default.
func boltViews() []drawing.Direction { return []drawing.Direction{drawing.Front, drawing.HeadEnd} }
func nutViews() []drawing.Direction  { return []drawing.Direction{drawing.Front, drawing.PointEnd} }

// Kinds returns the kinds, in the order in which they are listed. The slice and
// all it holds are the caller's.
func Kinds() []KindInfo {
	out := make([]KindInfo, len(kinds))
	for i := range kinds {
		out[i] = kinds[i].clone()
	}
	return out
}

func (k KindInfo) clone() KindInfo {
	k.Options, k.Views, k.Default = slices.Clone(k.Options), slices.Clone(k.Views), slices.Clone(k.Default)
	for i := range k.Options {
		k.Options[i].Choices = slices.Clone(k.Options[i].Choices)
	}
	return k
}

// kinds is never changed. A new kind is one line in listKinds and one file.
var kinds = listKinds()

func listKinds() []KindInfo {
	list := []KindInfo{
		hexBoltKind(),
		hexScrewKind(),
		squareBoltKind(),
		cupBoltKind(),
		cheeseBoltKind(),
		teeBoltKind(),
		studKind(),
		taperBoltKind(),
		countersunkBoltKind(),
		hookBoltKind(),
		eyeBoltKind(),
		tapBoltKind(),
		capScrewKind(),
		cheeseScrewKind(),
		panScrewKind(),
		countersunkScrewKind(),
		hexNutKind(),
		thinNutKind(),
		squareNutKind(),
		castleNutKind(),
		capNutKind(),
		wingNutKind(),
		lockNutKind(),
		washerKind(),
		springWasherKind(),
	}
	for _, k := range list {
		if slices.ContainsFunc(k.Options, func(o Option) bool { return o.Name == "end" }) {
			for i := range k.variants {
				k.variants[i].groups = append(slices.Clip(k.variants[i].groups), endGroups()...)
			}
		}
	}
	return list
}

// KindNamed returns the kind with the given name; what it holds is the
// caller's. The error suggests the nearest name.
func KindNamed(name string) (KindInfo, error) {
	k, err := kindNamed(name)
	if err != nil {
		return KindInfo{}, err
	}
	return k.clone(), nil
}

func kindNamed(name string) (*KindInfo, error) {
	want := strings.ToLower(strings.TrimSpace(name))
	for i := range kinds {
		if kinds[i].Name == want {
			return &kinds[i], nil
		}
	}
	names := make([]string, len(kinds))
	for i, k := range kinds {
		names[i] = k.Name
	}
	return nil, &KindError{Name: name, Suggestion: Nearest(want, names), Known: names}
}

// A KindError reports a name that is not one of a kind.
type KindError struct {
	Name       string
	Suggestion string // the nearest known name, or ""
	Known      []string
}

func (e *KindError) Error() string {
	s := e.Name + ": no such kind"
	if e.Name == "" {
		s = "no fastener is given"
	}
	if e.Suggestion != "" {
		return s + "; did you mean " + e.Suggestion + "?"
	}
	return s + "; the kinds are " + strings.Join(e.Known, ", ")
}

// DefaultViews returns the views that are drawn of a kind where none are asked
// for. The slice is the caller's.
func DefaultViews(kind string) []drawing.Direction {
	if k, err := kindNamed(kind); err == nil {
		return slices.Clone(k.Default)
	}
	return []drawing.Direction{drawing.Front, drawing.HeadEnd}
}

// UsualViews returns the views that are drawn of a fastener where none are asked
// for: those of its kind, but from the point in place of the head where the head
// hides what stands under it, a snug, nibs or a pin. The slice is the caller's.
func UsualViews(f Fastener) []drawing.Direction {
	if n, ok := f.(interface{ neck() Neck }); ok {
		switch n.neck() {
		case NeckSnug, NeckNibs, NeckPin, NeckPinAlong:
			return []drawing.Direction{drawing.Front, drawing.PointEnd}
		}
	}
	return DefaultViews(f.Kind())
}

// reads reports whether the kind has the option.
func (k KindInfo) reads(option string) bool {
	return slices.ContainsFunc(k.Options, func(o Option) bool { return o.Name == option })
}

// New makes the fastener that s describes and validates it. The error is a
// *KindError or a *FieldError.
func New(s Spec) (Fastener, error) {
	k, err := kindNamed(s.Kind)
	if err != nil {
		return nil, err
	}
	if err := k.check(s); err != nil {
		return nil, err
	}
	f := k.make(s)
	if s.Nut != "" {
		if f, err = withNut(f, s); err != nil {
			return nil, err
		}
	}
	return f, f.Validate()
}

// check refuses fields that the kind does not read, so that no wish is passed
// over in silence.
func (k KindInfo) check(s Spec) error {
	given := [...]struct {
		name  string
		value string
		given bool
		known bool
	}{
		{"length", mm(s.Length), s.Length != 0, k.Length},
		{"thread", mm(s.ThreadLength), s.ThreadLength != 0, k.reads("thread")},
		{"grip", mm(s.Grip), s.Grip != 0, k.reads("grip")},
		{"governs", s.Governs.String(), s.Governs != ByBasis, k.reads("governs")},
	}
	for _, g := range given {
		if g.given && !g.known {
			return &FieldError{k.Name, g.name, g.value, "does not belong to a " + k.Title + "; leave it out"}
		}
	}
	for _, w := range s.words() {
		if err := k.checkWord(w[0], w[1]); err != nil {
			return err
		}
	}
	if !k.reads("basis") {
		if err := proportionOnly(k.Name, s.Basis); err != nil {
			return err
		}
	}
	switch {
	case s.Nut == "" && s.Washer != "":
		return &FieldError{k.Name, "washer", s.Washer, "goes under a nut; give the nut and the grip as well"}
	case s.Nut == "" && s.Grip != 0:
		return &FieldError{k.Name, "grip", mm(s.Grip), "is the distance to a nut; give the nut as well"}
	case s.Nut != "" && s.Grip == 0:
		return &FieldError{k.Name, "grip", "", "missing; a nut needs the thickness that is clamped, in mm"}
	}
	return nil
}

// words returns the fields that hold a word, with their names.
func (s Spec) words() [10][2]string {
	return [...][2]string{{"end", s.End}, {"undercut", s.Undercut}, {"form", s.Form}, {"neck", s.Neck}, {"angle", s.Angle}, {"material", s.Material},
		{"taper", s.Taper},
		{"widths", s.Widths}, {"nut", s.Nut}, {"washer", s.Washer}}
}

// checkWord refuses a word that the kind does not know.
func (k KindInfo) checkWord(field, value string) error {
	if value == "" {
		return nil
	}
	i := slices.IndexFunc(k.Options, func(o Option) bool { return o.Name == field })
	if i < 0 {
		return &FieldError{k.Name, field, value, "does not belong to a " + k.Title + "; leave it out"}
	}
	words := k.Options[i].Choices
	word := strings.ToLower(value)
	if field == "nut" || field == "washer" {
		word = strings.TrimSuffix(word, "-"+field)
	}
	if slices.Contains(words, word) {
		return nil
	}
	want := "no such " + field + "; "
	if near := Nearest(word, words); near != "" && field != "angle" { // a number is not misspelt
		want += "did you mean " + near + "?"
	} else if len(words) > 1 {
		want += "use " + strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
	} else {
		want += "use " + words[0] + ", or leave it out"
	}
	return &FieldError{k.Name, field, value, want}
}

// is reports whether a word of a Spec is the given one.
func is(value, word string) bool { return strings.EqualFold(value, word) }

// withNut puts the nut and the washer of s on a bolt.
func withNut(bolt Fastener, s Spec) (Fastener, error) {
	part := Spec{Thread: s.Thread, Basis: s.Basis, Governs: s.Governs, Widths: s.Widths,
		Extra: Extra{Rules: s.Rules}}
	nut, err := kindNamed(strings.TrimSuffix(strings.ToLower(s.Nut), "-nut") + "-nut")
	if err != nil {
		return nil, &FieldError{s.Kind, "nut", s.Nut, "no such nut"}
	}
	a := Bolted{Bolt: bolt, Nut: nut.make(part), Grip: s.Grip}
	if s.Washer != "" {
		a.Washer = washerNamed(s.Washer, part)
	}
	return a, nil
}

// washerNamed returns the washer with the given name, which KindInfo has
// checked: a spring washer, or a form of a plain one.
func washerNamed(name string, part Spec) Fastener {
	word := strings.TrimSuffix(strings.ToLower(name), "-washer")
	if is(word, "spring") {
		return SpringWasher{Thread: part.Thread, Extra: part.Extra}
	}
	return Washer{Thread: part.Thread, Form: washerFormNamed(word), Basis: part.Basis, Extra: part.Extra}
}

// Nearest returns the known word that is nearest to the given one, or "" where
// none is near.
func Nearest(word string, known []string) string {
	if near := rule.Near(word, known); near != nil {
		return near[0]
	}
	return ""
}
