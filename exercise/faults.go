package exercise

import (
	"slices"

	"boltplate/fastener/joint"
	"boltplate/thread"
)

// A Fault is a joint with exactly one thing wrong.
type Fault struct {
	Joint   joint.Joint
	Finding joint.Finding
}

// mostOfACode is how many variants of a joint have the same fault, so that no
// fault is asked for more often than others.
const mostOfACode = 3

// Faults returns variants of a sound joint in each of which one size, or the
// washer, is changed so that exactly one thing is wrong, as joint.Check says:
// another length of the bolt, holes that are too small or too large, tapped too
// shallow, an edge too near. They come in a fixed order. A joint that has a
// finding already has no variants. The error is that of Complete.
func Faults(j joint.Joint) ([]Fault, error) {
	sound, _, err := j.Complete()
	if err != nil {
		return nil, err
	}
	if found, err := sound.Check(); err != nil || len(found) > 0 {
		return nil, err
	}
	var out []Fault
	codes := map[joint.Code]int{}
	for _, v := range variants(sound) {
		found, err := v.Check()
		if err != nil || len(found) != 1 || found[0].Severity != joint.Fault || codes[found[0].Code] == mostOfACode {
			continue
		}
		codes[found[0].Code]++
		out = append(out, Fault{v, found[0]})
	}
	return out, nil
}

// variants returns joints that differ from a complete one in one value.
func variants(j joint.Joint) (out []joint.Joint) {
	with := func(change func(j *joint.Joint)) {
		v := j
		v.Parts = slices.Clone(j.Parts)
		change(&v)
		out = append(out, v)
	}
	d := j.Bolt.Thread.D
	if j.Bolt.Length > 0 {
		all := thread.Lengths()
		at, _ := slices.BinarySearch(all, j.Bolt.Length)
		for _, step := range [...]int{-1, -2, -3, -4, 1, 2, 3, 4, 6} {
			if i := at + step; i >= 0 && i < len(all) {
				with(func(v *joint.Joint) { v.Bolt.Length = all[i] })
			}
		}
	}
	for i, p := range j.Parts {
		part := func(change func(p *joint.Part)) { with(func(v *joint.Joint) { change(&v.Parts[i]) }) }
		if p.Hole > 0 {
			for _, k := range [...]float64{0.95, 1, 1.4, 1.6} {
				part(func(p *joint.Part) { p.Hole = round(k * d) })
			}
		}
		if p.FullDepth > 0 {
			for _, k := range [...]float64{0.5, 0.7, 0.85} {
				part(func(p *joint.Part) { p.FullDepth = round(k * p.FullDepth) })
			}
		}
		if p.DrillDepth > 0 {
			for _, k := range [...]float64{0.7, 0.85, 1.3, 1.6} {
				part(func(p *joint.Part) { p.DrillDepth = round(k * p.DrillDepth) })
			}
		}
		if p.SinkAngle > 0 {
			for _, a := range [...]float64{60, 75, 90, 120} {
				if a != p.SinkAngle {
					part(func(p *joint.Part) { p.SinkAngle = a })
				}
			}
		}
		if p.SlotDepth > 0 {
			part(func(p *joint.Part) { p.SlotDepth = round(0.8 * p.SlotDepth) })
		}
		if p.Overlap > 0 {
			part(func(p *joint.Part) { p.Overlap = round(0.4 * p.Overlap) })
		}
		for _, k := range [...]float64{0.8, 1} {
			part(func(p *joint.Part) { p.Edge = round(k * d) })
		}
	}
	return out
}

// round returns a size in half millimetres, as one would be drawn.
func round(v float64) float64 { return float64(int(2*v+0.5)) / 2 }
