package fastener

import (
	"fmt"
	"strings"

	"boltplate/drawing"
	"boltplate/thread"
)

// Extra is what any fastener may be given besides its sizes. The text in it is
// carried into designations and lists, and never judged.
type Extra struct {
	Rules  *Rules // rules of one's own in the place of ours; nil for none
	Class  string // property class, such as "8.8"
	Made   string // what it is made of, such as "brass"
	Finish string // such as "zinc plated"
	// End is that of a bolt's thread: "chamfer" (also ""), "round", "dog", "cone" or
	// "cup" (ISO 4753).
	End string
	// Undercut is that of a thread which reaches to the head: "" for none, "regular"
	// (form A) or "short" (form B) of DIN 76-1.
	Undercut string
}

func (e Extra) extra() Extra { return e }

// supplied returns the part of a designation that names class, material and
// finish.
func (e Extra) supplied() string {
	s := ""
	if title := endTitles[strings.ToLower(e.End)]; title != "" {
		s += " - " + title
	}
	switch {
	case is(e.Undercut, undercutRegular):
		s += " - undercut DIN 76-A"
	case is(e.Undercut, undercutShort):
		s += " - undercut DIN 76-B"
	}
	for _, text := range [3]string{e.Class, e.Made, e.Finish} {
		if text != "" {
			s += " - " + text
		}
	}
	return s
}

// checkCommon checks what every kind has.
func checkCommon(kind string, t thread.Thread, b Basis, g Governs, square bool) error {
	if err := checkThread(kind, t); err != nil {
		return err
	}
	if err := checkBasis(kind, b); err != nil {
		return err
	}
	return checkGoverns(kind, b, g, square)
}

// An edition is the standard that has a size: one for coarse threads, and for
// fine ones another with the same heads.
type edition struct {
	name string
	fine bool
	from float64 // smallest nominal diameter
}

// smallestFine is the smallest diameter of the product standards for fine
// threads (ISO 8765, 8676, 8673, 8675; from memory, unverified).
const smallestFine = 8

// editionFor returns the standard for a thread: coarse, or fine where there is
// one. The product standards for fine threads fix their pitches; their sizes are
// those of the ones for coarse threads from M8 up, which is from memory,
// unverified.
func editionFor(kind string, t thread.Thread, coarse, fine string) (edition, error) {
	switch {
	case t.IsCoarse():
		return edition{name: coarse}, nil
	case fine == "":
		return edition{}, &FieldError{kind, "size", t.String(),
			standardName(coarse) + " is held here for coarse threads only; use one, or basis proportion"}
	}
	if _, ok := t.ProductPitch(); ok {
		return edition{name: fine, fine: true, from: smallestFine}, nil
	}
	return edition{}, noPitch(kind, standardName(fine), t, thread.ProductPitches(t.D))
}

// noPitch is the error for a fine pitch of a standard that is not held here.
func noPitch(kind, standard string, t thread.Thread, held []float64) error {
	has := "none of M" + mm(t.D)
	if len(held) > 0 {
		has = "M" + mm(t.D) + " × " + joined(held, " and ")
	}
	return &FieldError{kind, "size", t.String(),
		fmt.Sprintf("as a pitch of %s it is not held here; held: %s; or use basis proportion", standard, has)}
}

func joined(values []float64, between string) string {
	words := make([]string, len(values))
	for i, v := range values {
		words[i] = mm(v)
	}
	return strings.Join(words, between)
}

// rowStatus returns the status of a figure that an edition takes from a row:
// that fine threads have the sizes of coarse ones is from memory.
func (e edition) rowStatus(row drawing.Status) drawing.Status {
	if e.fine {
		return drawing.FromMemory
	}
	return row
}

// standardPrefix returns the part of a designation that names the standard,
// without its year.
func standardPrefix(b Basis, t thread.Thread, coarse, fine string) string {
	if b != Standard {
		return ""
	}
	standard := coarse
	if !t.IsCoarse() && fine != "" {
		standard = fine
	}
	return standardName(standard) + " - "
}

// standardName returns the name of a standard without its year.
func standardName(edition string) string {
	name, _, _ := strings.Cut(edition, ":")
	return name
}

// A tableRow is a row of a standard's table.
type tableRow interface{ diameter() float64 }

// find returns the row of a table whose nominal diameter is d, or the error
// that says which diameters are held.
func find[R tableRow](kind string, e edition, table []R, d float64) (*R, error) {
	for i := range table {
		if table[i].diameter() == d && d >= e.from {
			return &table[i], nil
		}
	}
	var held []float64
	for _, r := range table {
		if r.diameter() >= e.from {
			held = append(held, r.diameter())
		}
	}
	return nil, noSize(kind, e.name, d, held)
}

// times writes a length into a designation: " × 90".
func times(v float64) string { return " × " + mm(v) }

// proportionOnly refuses basis Standard for a kind that no standard is held
// for.
func proportionOnly(kind string, b Basis) error {
	if b == Standard {
		return &FieldError{kind, "basis", b.String(),
			"no table of a standard is held here for this kind; use proportion"}
	}
	return nil
}
