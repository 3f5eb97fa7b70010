package fastener

import (
	"strings"

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

// standardPrefix returns the part of a designation that names the standard,
// without its year.
func standardPrefix(b Basis, standard string) string {
	if b != Standard {
		return ""
	}
	name, _, _ := strings.Cut(standard, ":")
	return name + " - "
}

// find returns the row of a table whose nominal diameter is d.
func find[R any](table []R, d float64, diameter func(R) float64) (R, bool) {
	for _, r := range table {
		if diameter(r) == d {
			return r, true
		}
	}
	var none R
	return none, false
}

func column[R any](table []R, value func(R) float64) []float64 {
	out := make([]float64, len(table))
	for i, r := range table {
		out[i] = value(r)
	}
	return out
}

// times writes a length into a designation: " × 90".
func times(v float64) string { return " × " + mm(v) }
