package fastener

import (
	"slices"
	"strings"

	"boltplate/drawing"
	"boltplate/thread"
)

// A Spec describes a fastener in the words of a schedule or a command line,
// before the kind has read it. Zero fields were not given.
type Spec struct {
	Kind         string
	Thread       thread.Thread
	Length       float64 // mm
	ThreadLength float64 // mm
	Neck         string  // "square"
	Nut          string  // a kind of nut, such as "hex-nut" or short "hex"
	Washer       string  // "plain"
	Grip         float64 // mm
	Basis        Basis
	Governs      Governs
}

// A KindInfo says what a kind is and how it is described.
type KindInfo struct {
	Name    string // such as "hex-bolt"
	Title   string // such as "hexagonal-head bolt"
	Length  bool   // a length belongs to it
	Options []Option
	Views   []drawing.Direction // which it has; the first ones given are drawn by default
	Default []drawing.Direction

	make func(Spec) Fastener
}

// An Option is a field that a kind reads, with what it accepts.
type Option struct{ Name, Values string }

func allViews() []drawing.Direction {
	return []drawing.Direction{drawing.Front, drawing.SideView, drawing.HeadEnd, drawing.PointEnd, drawing.Isometric}
}

// Kinds returns the kinds, in the order in which they are listed.
func Kinds() []KindInfo { return slices.Clone(kinds) }

// kinds is never changed. A new kind is one line in listKinds and one file.
var kinds = listKinds()

func listKinds() []KindInfo {
	var (
		optThread  = Option{"thread", "thread length, mm"}
		optGoverns = Option{"governs", "corners | flats"}
		optBasis   = Option{"basis", "proportion | standard"}
		optNut     = Option{"nut", "hex | thin | square"}
		optWasher  = Option{"washer", "plain"}
		optGrip    = Option{"grip", "mm, with a nut"}
	)
	bolt := []drawing.Direction{drawing.Front, drawing.HeadEnd}
	nut := []drawing.Direction{drawing.Front, drawing.PointEnd}
	return []KindInfo{
		{"hex-bolt", "hexagonal-head bolt", true, []Option{optThread, optNut, optWasher, optGrip, optBasis, optGoverns}, allViews(), bolt, func(s Spec) Fastener {
			return HexBolt{Thread: s.Thread, Length: s.Length, ThreadLength: s.ThreadLength, Basis: s.Basis, Governs: s.Governs}
		}},
		{"hex-screw", "hexagonal-head screw, threaded to the head", true, []Option{optNut, optWasher, optGrip, optBasis, optGoverns}, allViews(), bolt, func(s Spec) Fastener {
			return HexBolt{Thread: s.Thread, Length: s.Length, ToHead: true, Basis: s.Basis, Governs: s.Governs}
		}},
		{"square-bolt", "square-head bolt", true, []Option{optThread, {"neck", "square"}, optNut, optWasher, optGrip, optBasis}, allViews(), bolt, func(s Spec) Fastener {
			return SquareBolt{Thread: s.Thread, Length: s.Length, ThreadLength: s.ThreadLength, SquareNeck: s.Neck != "", Basis: s.Basis}
		}},
		{"hex-nut", "hexagonal nut", false, []Option{optBasis, optGoverns}, allViews(), nut, func(s Spec) Fastener {
			return HexNut{Thread: s.Thread, Basis: s.Basis, Governs: s.Governs}
		}},
		{"thin-nut", "hexagonal thin nut", false, []Option{optBasis, optGoverns}, allViews(), nut, func(s Spec) Fastener {
			return HexNut{Thread: s.Thread, Thin: true, Basis: s.Basis, Governs: s.Governs}
		}},
		{"square-nut", "square nut", false, []Option{optBasis}, allViews(), nut, func(s Spec) Fastener {
			return SquareNut{Thread: s.Thread, Basis: s.Basis}
		}},
		{"washer", "plain washer", false, []Option{optBasis}, allViews(), nut, func(s Spec) Fastener {
			return Washer{Thread: s.Thread, Basis: s.Basis}
		}},
	}
}

// KindNamed returns the kind with the given name. The error suggests the
// nearest name.
func KindNamed(name string) (KindInfo, error) {
	want := strings.ToLower(strings.TrimSpace(name))
	for _, k := range kinds {
		if k.Name == want {
			return k, nil
		}
	}
	names := make([]string, len(kinds))
	for i, k := range kinds {
		names[i] = k.Name
	}
	return KindInfo{}, &KindError{Name: name, Suggestion: Nearest(want, names), Known: names}
}

// A KindError reports a name that is not one of a kind.
type KindError struct {
	Name       string
	Suggestion string // the nearest known name, or ""
	Known      []string
}

func (e *KindError) Error() string {
	s := e.Name + ": no such kind"
	if e.Suggestion != "" {
		return s + "; did you mean " + e.Suggestion + "?"
	}
	return s + "; the kinds are " + strings.Join(e.Known, ", ")
}

// DefaultViews returns the views that are drawn of a kind where none are asked
// for.
func DefaultViews(kind string) []drawing.Direction {
	for _, k := range kinds {
		if k.Name == kind {
			return k.Default
		}
	}
	return []drawing.Direction{drawing.Front, drawing.HeadEnd}
}

// reads reports whether the kind has the option.
func (k KindInfo) reads(option string) bool {
	return slices.ContainsFunc(k.Options, func(o Option) bool { return o.Name == option })
}

// New makes the fastener that s describes and validates it. The error is a
// *KindError or a *FieldError.
func New(s Spec) (Fastener, error) {
	k, err := KindNamed(s.Kind)
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
		{"neck", s.Neck, s.Neck != "", k.reads("neck")},
		{"nut", s.Nut, s.Nut != "", k.reads("nut")},
		{"washer", s.Washer, s.Washer != "", k.reads("washer")},
		{"grip", mm(s.Grip), s.Grip != 0, k.reads("grip")},
		{"governs", s.Governs.String(), s.Governs != ByBasis, k.reads("governs")},
	}
	for _, g := range given {
		if g.given && !g.known {
			return &FieldError{k.Name, g.name, g.value, "does not belong to a " + k.Title + "; leave it out"}
		}
	}
	if s.Neck != "" && !strings.EqualFold(s.Neck, "square") {
		return &FieldError{k.Name, "neck", s.Neck, "no such neck; use square, or leave it out"}
	}
	if s.Washer != "" && !strings.EqualFold(s.Washer, "plain") {
		return &FieldError{k.Name, "washer", s.Washer, "no such washer; use plain, or leave it out"}
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

func withNut(bolt Fastener, s Spec) (Fastener, error) {
	a := Bolted{Bolt: bolt, Grip: s.Grip}
	switch strings.TrimSuffix(strings.ToLower(s.Nut), "-nut") {
	case "hex":
		a.Nut = HexNut{Thread: s.Thread, Basis: s.Basis, Governs: s.Governs}
	case "thin":
		a.Nut = HexNut{Thread: s.Thread, Thin: true, Basis: s.Basis, Governs: s.Governs}
	case "square":
		a.Nut = SquareNut{Thread: s.Thread, Basis: s.Basis}
	default:
		return nil, &FieldError{s.Kind, "nut", s.Nut, "no such nut; use hex, thin or square"}
	}
	if s.Washer != "" {
		a.Washer = &Washer{Thread: s.Thread, Basis: s.Basis}
	}
	return a, nil
}

// Nearest returns the known word that is nearest to the given one, or "" where
// none is near.
func Nearest(word string, known []string) string {
	best, distance := "", 1+max(2, len(word)/3)
	for _, k := range known {
		if d := editDistance(word, k); d < distance {
			best, distance = k, d
		}
	}
	return best
}

// editDistance counts the letters to insert, delete or replace.
func editDistance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		diagonal := row[0]
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := diagonal
			if a[i-1] != b[j-1] {
				cost++
			}
			diagonal = row[j]
			row[j] = min(cost, row[j]+1, row[j-1]+1)
		}
	}
	return row[len(b)]
}
