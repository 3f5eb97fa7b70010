package joint

import (
	"testing"

	"boltplate/thread"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func through() Joint {
	return Joint{Scene: ThroughBolt, Bolt: Bolt{Thread: thread.MustParse("M16")}, Parts: []Part{{Thickness: 20}, {Thickness: 25}}}
}

func TestTmp(t *testing.T) {
	j, ch, err := through().Complete()
	require.NoError(t, err)
	t.Log(j, ch)
	fs, err := j.Check()
	require.NoError(t, err)
	assert.Empty(t, fs)
}
