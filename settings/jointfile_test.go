package settings

import (
	"reflect"
	"testing"

	"github.com/stretchr/testify/require"

	"boltplate/fastener"
	"boltplate/fastener/joint"
	"boltplate/thread"
)

// TestJointFileHasAll: a joint with something in every field is written and
// read back as it was: no field is forgotten on either way.
func TestJointFileHasAll(t *testing.T) {
	n := 0
	fill := func(v reflect.Value) {
		for i := range v.NumField() {
			n++
			switch f := v.Field(i); f.Kind() {
			case reflect.String:
				f.SetString("text \"" + string(rune('a'+n%26)) + "\"")
			case reflect.Float64:
				f.SetFloat(float64(n) + 0.25)
			case reflect.Bool:
				f.SetBool(true)
			}
		}
	}
	var j joint.Joint
	fill(reflect.ValueOf(&j).Elem())
	fill(reflect.ValueOf(&j.Bolt).Elem())
	fill(reflect.ValueOf(&j.Bolt.Extra).Elem())
	j.Bolt.Nut, j.Bolt.Washer, j.Bolt.Grip = "", "", 0 // the joint has them
	j.Scene, j.Basis, j.Bolt.Thread = joint.Hook, fastener.Standard, thread.MustParse("M16x1.5")
	j.Parts = make([]joint.Part, 3)
	for i := range j.Parts {
		fill(reflect.ValueOf(&j.Parts[i]).Elem())
	}
	got, err := ReadJoint(just(string(WriteJoint(j, ""))), "joint.toml")
	require.NoError(t, err)
	require.Equal(t, j, got)
}
