package joint

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// A washer that is none is answered with those that are.
func TestNoSuchWasher(t *testing.T) {
	for word, want := range map[string]string{"plane": "did you mean plain?", "Sprung": "did you mean spring?", "bevel": "use plain, large, spring or none"} {
		j := through()
		j.Washer = word
		_, err := j.Settle()
		assert.ErrorContains(t, err, "washer: ")
		assert.ErrorContains(t, err, want)
	}
}
