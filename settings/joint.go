package settings

import (
	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/fastener/joint"
	"boltplate/fastener/schedule"
	"boltplate/thread"
	"errors"
	"fmt"
	"math"
)

// ReadJoint reads a joint file. The error names every line and column where
// something is wrong.
func ReadJoint(e Opener, name string) (joint.Joint, error) {
	j, _, err := ReadJointFile(e, name)
	return j, err
}

// given reads a size of a joint, of which a given 0 is not one left out.
func given(t *tomlTable, key string, to *float64) {
	*to = math.NaN()
	t.number(key, to)
	switch {
	case math.IsNaN(*to):
		*to = 0
	case *to == 0:
		*to = joint.None()
	}
}

// ReadJointFile returns the file as well, which knows where its values stand.
func ReadJointFile(e Opener, name string) (joint.Joint, *File, error) {
	var j joint.Joint
	f, top, err := openTOML(e, name)
	if err != nil {
		return j, nil, err
	}
	if top == nil {
		return j, nil, f.failed()
	}
	var scene, basis string
	if top.text("rules", &f.Rules); f.Rules != "" {
		if j.Rules, err = NewRulesLoader(e).From(f.Name)(f.Rules); err != nil {
			top.wrong("rules", err)
		}
	}
	top.text("scene", &scene)
	top.text("title", &j.Title)
	top.text("basis", &basis)
	top.text("nut", &j.Nut)
	top.text("washer", &j.Washer)
	top.text("head_washer", &j.HeadWasher)
	top.whole("count", &j.Count)
	given(top, "spacing", &j.Spacing)
	given(top, "pin_hole", &j.PinHole)
	given(top, "room", &j.Room)
	top.number("pull", &j.Pull)
	top.truth("pull_across", &j.PullAcross)
	if j.Scene, err = joint.ParseScene(scene); err != nil {
		if scene == "" {
			err = errors.New("missing; " + err.Error()[len(": no such scene; "):])
		}
		top.wrong("scene", err)
	}
	if basis != "" {
		if j.Basis, err = fastener.ParseBasis(basis); err != nil {
			top.wrong("basis", err)
		}
	}
	top.one("bolt", func(t *tomlTable) {
		var size string
		t.text("size", &size)
		given(t, "length", &j.Bolt.Length)
		given(t, "thread", &j.Bolt.ThreadLength)
		for _, w := range boltWords() {
			t.text(w.key, w.of(&j.Bolt))
		}
		if size == "" {
			return // said by the joint itself
		}
		th, length, err := schedule.ParseDesignation(size, thread.Parser{})
		if err != nil {
			t.wrong("size", err)
			return
		}
		j.Bolt.Thread = th
		switch {
		case length != 0 && j.Bolt.Length != 0 && length != j.Bolt.Length:
			t.wrong("length", fmt.Errorf("%s, and %s says another; give one of them", drawing.FormatValue(j.Bolt.Length, false), size))
		case length != 0:
			j.Bolt.Length = length
		}
	})
	top.tables("part", "part", func(t *tomlTable) {
		var p joint.Part
		t.text("name", &p.Name)
		t.text("material", &p.Material)
		for _, key := range joint.PartNumbers() {
			given(t, key, p.Number(key))
		}
		t.truth("through", &p.Through)
		t.truth("brittle", &p.Brittle)
		j.Parts = append(j.Parts, p)
	})
	top.done()
	return j, f, f.failed()
}
