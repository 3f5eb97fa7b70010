package command

import (
	"context"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The joint files of the examples are drawn without a finding.
func TestJointExamples(t *testing.T) {
	files, err := filepath.Glob("../../../../examples/joints/*.toml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, f := range files {
		var out, complaints strings.Builder
		drawing := filepath.Join(t.TempDir(), "joint.dxf")
		assert.Zero(t, Run(context.Background(), []string{"joint", f, "-o", drawing}, strings.NewReader(""), &out, &complaints), f)
		assert.Contains(t, out.String(), "checked: no findings", f)
		assert.Empty(t, complaints.String(), f)
		assert.FileExists(t, drawing)
	}
}
