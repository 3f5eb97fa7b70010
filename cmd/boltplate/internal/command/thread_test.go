package command

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestThreadJSON(t *testing.T) {
	// ISO 724: d2, d1; ISO 898-1: d3, As; ISO 68-1: H = (√3/2) P;
	// ISO 2306: tapping drill; ISO 273: clearance holes.
	basic := map[string]any{
		"d": 12.0, "p": 1.75, "h": 1.516, "d2": 10.863, "d1": 10.106, "d3": 9.853, "stress_area": 84.3, "tap_drill": 10.2,
		"clearance_fine": 13.0, "clearance_medium": 13.5, "clearance_coarse": 14.5,
	}
	limits := []string{"major_max", "major_min", "pitch_max", "pitch_min", "minor_max", "minor_min"}
	cases := []struct {
		args   []string
		name   string
		limits map[string]any // what is not there is absent
	}{
		{[]string{"M12"}, "M12", nil},
		// ISO 965-2:1998, M12-6g. Minor: basic less the deviation of g,
		// 10.106 - 0.034, as ISO 965-1 gives it.
		{[]string{"M12", "--class", "6g"}, "M12-6g", map[string]any{
			"major_max": 11.966, "major_min": 11.701, "pitch_max": 10.829, "pitch_min": 10.679, "minor_max": 10.072}},
		// ISO 965-2:1998, M12-6H.
		{[]string{"M12-6H"}, "M12-6H", map[string]any{
			"major_min": 12.0, "pitch_max": 11.063, "pitch_min": 10.863, "minor_max": 10.441, "minor_min": 10.106}},
	}
	for _, c := range cases {
		status, stdout, stderr := runCommand(append([]string{"thread", "--format", "json"}, c.args...)...)
		require.Zero(t, status, stderr)
		var got map[string]any
		require.NoError(t, json.Unmarshal([]byte(stdout), &got))
		assert.Equal(t, c.name, got["designation"])
		for k, v := range basic {
			assert.Equal(t, v, got[k], "%s: %s", c.name, k)
		}
		for _, k := range limits {
			v, there := got[k]
			want, given := c.limits[k]
			assert.Equal(t, given, there, "%s: %s", c.name, k)
			assert.Equal(t, want, v, "%s: %s", c.name, k)
		}
	}
}

// The JSON has the rule, source and status of every value under its key.
func TestThreadOrigins(t *testing.T) {
	for _, designation := range []string{"M12", "M20-6H/6g", "M3x0.35", "M27-8g", "M16x1.5-LH"} {
		status, stdout, stderr := runCommand("thread", designation, "--format", "json")
		require.Zero(t, status, stderr)
		var got map[string]any
		require.NoError(t, json.Unmarshal([]byte(stdout), &got))
		origins, ok := got["origin"].(map[string]any)
		require.True(t, ok)
		for key, value := range got {
			if _, number := value.(float64); !number {
				continue
			}
			origin, ok := origins[key].(map[string]any)
			if assert.True(t, ok, "%s of %s", key, designation) {
				assert.NotEmpty(t, origin["source"], "%s of %s", key, designation)
				assert.NotEmpty(t, origin["status"], "%s of %s", key, designation)
			}
		}
		for key := range origins {
			assert.Contains(t, got, key)
		}
	}
}

func TestThreadWithoutFigures(t *testing.T) {
	// ISO 2306 and ISO 273 do not have a thread of one's own making.
	status, stdout, _ := runCommand("thread", "M13x1.1", "--unlisted", "--format", "json")
	require.Zero(t, status)
	var got map[string]any
	require.NoError(t, json.Unmarshal([]byte(stdout), &got))
	assert.NotContains(t, got, "tap_drill")
	assert.NotContains(t, got, "clearance_medium")
	assert.InDelta(t, 13-0.649519*1.1, got["d2"], 0.0006) // ISO 724: d - 0.64952 P
}
