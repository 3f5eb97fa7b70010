package fastener

import (
	"errors"
	"strings"

	"boltplate/drawing"
	"boltplate/thread"
)

// checkCommon checks what every kind has.
func checkCommon(kind string, t thread.Thread, b Basis, g Governs, square bool) error {
	if err := checkThread(kind, t); err != nil {
		return err
	}
	if err := checkBasis(kind, b); err != nil {
		return err
	}
	return checkGoverns(kind, g, square)
}

// An edition is the standard that has a size: one for coarse threads, and for
// fine ones another with the same heads.
type edition struct {
	name   string
	source string
	status drawing.Status
	from   float64 // smallest nominal diameter
}

// smallestFine is the smallest diameter of the product standards for fine
// threads (ISO 8765, 8676, 8673, 8675; from memory, unverified).
const smallestFine = 8

// editionFor returns the standard for a thread: coarse, or fine where there is
// one. The sizes of the standards for fine threads are those of the ones for
// coarse threads from M8 up, which is from memory, unverified.
func editionFor(kind string, t thread.Thread, coarse, fine string) (edition, error) {
	switch {
	case t.IsCoarse():
		return edition{coarse, coarse, drawing.Published, 0}, nil
	case fine == "":
		name, _, _ := strings.Cut(coarse, ":")
		return edition{}, &FieldError{kind, "size", t.String(), name + " has coarse threads only; use one, or basis proportion"}
	case !t.Listed():
		return edition{}, &FieldError{kind, "size", t.String(), "a standard part has a thread that ISO 261 lists; use basis proportion"}
	}
	name, _, _ := strings.Cut(coarse, ":")
	return edition{fine, fine + " (fine pitch; sizes as " + name + ", from memory, unverified)", drawing.FromMemory, smallestFine}, nil
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

// forKind returns the error of a part as one of the kind that is made of it.
func forKind(kind string, err error) error {
	var fe *FieldError
	if errors.As(err, &fe) {
		e := *fe
		e.Kind = kind
		return &e
	}
	return err
}

// find returns the row of a table whose nominal diameter is d, or the error
// that says which diameters the standard has.
func find[R any](kind string, e edition, table []R, d float64, diameter func(R) float64) (R, error) {
	var has []float64
	for _, r := range table {
		if diameter(r) < e.from {
			continue
		}
		if diameter(r) == d {
			return r, nil
		}
		has = append(has, diameter(r))
	}
	var none R
	return none, noSize(kind, e.name, d, has)
}

// times writes a length into a designation: " × 90".
func times(v float64) string { return " × " + mm(v) }

// proportionOnly refuses basis Standard for a kind that no standard has.
func proportionOnly(kind string, b Basis) error {
	if b == Standard {
		return &FieldError{kind, "basis", b.String(), "there is no table of a standard for this kind; use proportion"}
	}
	return nil
}
