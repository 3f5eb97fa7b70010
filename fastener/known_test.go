package fastener_test

import (
	"slices"
	"testing"
)

// settleKnown fails for what is wrong and not known to be, and for what is
// known to be wrong and is right.
func settleKnown(t *testing.T, wrong map[string]string, known []string) {
	t.Helper()
	for _, key := range sortedKeys(wrong) {
		if !slices.Contains(known, key) {
			t.Errorf("%s: %s", key, wrong[key])
		}
	}
	for _, key := range known {
		if wrong[key] == "" && !testing.Short() { // which looks at less
			t.Errorf("%q is right now: take it off the list of what is known to be wrong", key)
		}
	}
}

func sortedKeys[V any](m map[string]V) []string {
	var keys []string
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}
