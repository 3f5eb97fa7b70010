package joint

import (
	"errors"
	"math"
	"strings"
	"testing"

	"boltplate/fastener"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// sizes returns the quantities of a fastener by their letters.
func sizes(t *rapid.T, s fastener.Spec) map[string]float64 {
	f, err := fastener.New(s)
	require.NoError(t, err)
	qs, err := f.Quantities()
	require.NoError(t, err)
	out := map[string]float64{}
	for _, q := range qs {
		out[q.Letter] = q.Value
	}
	return out
}

// impossible looks at a complete joint with a bolt along an axis as anybody
// would with a ruler, apart from the rules of the package, and returns what
// cannot be: bodies that overlap, a nut or a hole without thread, what should
// bear and does not touch. Scenes: through-bolt, tapped, stud.
func impossible(t *rapid.T, j Joint) (out []string) {
	wrong := func(is bool, what string) {
		if is {
			out = append(out, what)
		}
	}
	d, part := j.Bolt.Thread.D, func(kind string) fastener.Spec {
		return fastener.Spec{Kind: kind, Thread: j.Bolt.Thread, Basis: j.Basis}
	}
	b := j.Bolt
	spec := fastener.Spec{Kind: b.Kind, Thread: b.Thread, Length: b.Length, ThreadLength: b.ThreadLength,
		Form: b.Form, Neck: b.Neck, Material: b.Material, Basis: j.Basis}
	k, err := fastener.KindNamed(b.Kind)
	require.NoError(t, err)
	own := false
	for _, o := range k.Options {
		own = own || o.Name == "basis"
	}
	if !own {
		spec.Basis = fastener.Proportion
	}
	bolt := sizes(t, spec)
	const eps = 1e-6
	clamped := j.Parts
	if j.Scene != ThroughBolt {
		clamped = j.Parts[:len(j.Parts)-1]
	}
	under, sum := 0.0, 0.0
	if j.HeadWasher == "plain" {
		w := sizes(t, part("washer"))
		under = w["t"]
		wrong(w["d1"] < d-eps, "the washer under the head does not go over the bolt")
	}
	sum -= j.Parts[0].CounterboreDepth // the head is so far in
	if p := j.Parts[0]; p.Counterbore > 0 {
		wrong(p.Counterbore < max(bolt["d2"], bolt["A"])-eps, "the head is in the metal of its counterbore")
		wrong(p.CounterboreDepth >= p.Thickness, "nothing is left under the head")
	}
	if j.Spacing > 0 {
		wrong(j.Spacing < max(bolt["A"], bolt["d2"])-eps, "neighbouring heads overlap")
	}
	for i, p := range clamped {
		wrong(p.Seat > 0 && i == 0 && j.Scene != Stud && p.Seat < max(bolt["A"], bolt["d2"])-eps, "the head stands on the rim of its seat")
		wrong(p.Slope > 2 && p.Seat == 0, "what bears bears on a corner")
		sum += p.Thickness
		wrong(p.Hole < d-eps, "the bolt is in the metal of its hole")
		wrong(p.Edge > 0 && p.Edge <= p.Hole/2, "the hole breaks through the edge")
	}
	from := bolt["L"] - bolt["b"] // where full thread begins, from the head or the joint face
	if j.Scene == Stud {
		from = bolt["L"] - bolt["n"]
		wrong(from < 0, "the stud's threads overlap")
	}
	last := clamped[len(clamped)-1] // under the nut
	if j.Scene == Stud {
		last = clamped[0]
	}
	if j.Scene != Tapped { // a nut
		at := under + sum
		if j.Washer != "none" {
			name := "washer"
			s := part(name)
			switch j.Washer {
			case "plain":
			case "large":
				s.Form = "large"
			default:
				s.Kind = j.Washer + "-washer"
			}
			w := sizes(t, s)
			at += w["t"] + w["s"]
			wrong(w["d2"] > 0 && w["d2"] <= last.Hole, "the washer falls into the hole")
			wrong(last.StandsAt > 0 && last.StandsAt-last.Fillet < w["d2"]/2-eps, "the washer is in the fillet")
		}
		nut := sizes(t, part(strings.TrimSuffix(j.Nut, "-nut")+"-nut"))
		wrong(from >= at-eps, "the nut ends up on plain shank")
		if deep := nut["th"]; deep > 0 {
			wrong(bolt["L"] > at+deep+eps, "the bolt goes through the cap nut")
			wrong(bolt["L"] < at+d/2, "the cap nut has next to no thread")
		} else {
			wrong(bolt["L"] < at+nut["H"]-eps, "the nut is not wholly on the bolt")
		}
		wrong(nut["W"] > 0 && j.Washer == "none" && nut["W"] <= last.Hole,
			"the nut falls into the hole")
		if pin := nut["dp"]; pin > 0 {
			wrong(j.PinHole < at+nut["H1"]+pin/2-eps || j.PinHole > at+nut["H"]-pin/2+eps, "the pin is not in the slots")
			wrong(j.PinHole > bolt["L"], "the pin is beside the bolt")
		}
		wrong(last.StandsAt > 0 && last.StandsAt < nut["A"]/2-eps, "the nut is in the wall")
		wrong(j.Spacing > 0 && j.Spacing < nut["A"]-eps, "neighbouring nuts overlap")
		if j.Room > 0 {
			wrong(j.Room < nut["A"]/2-eps, "the nut cannot turn")
		}
	}
	if j.Scene == ThroughBolt {
		return out
	}
	p := j.Parts[len(j.Parts)-1]
	start, end := under+sum, bolt["L"]
	if j.Scene == Stud {
		start, end = 0, bolt["m"]
	}
	in, room, drilled := end-start, p.FullDepth, p.DrillDepth
	if p.Insert > 0 {
		wrong(p.Insert > p.Thickness, "the insert stands out")
		wrong(p.Insert < 0.9*d, "next to no insert")
	}
	if p.Through {
		room, drilled = p.Thickness, p.Thickness
	}
	wrong(in < 0.5*d, "next to no thread is in the hole")
	wrong(math.Min(in, room) < 0.9*d, "too little thread for any metal") // DIN 938: 1D, rounded
	wrong(!p.Through && (in > room+eps || in > drilled+eps), "the bolt is in the bottom of its hole")
	wrong(!p.Through && room > drilled+eps, "the thread is deeper than its hole")
	wrong(!p.Through && drilled+j.Bolt.Thread.MinorDiameter()/2/math.Sqrt(3) >= p.Thickness,
		"the drill comes through")
	wrong(j.Scene == Tapped && from >= start, "plain shank in the tapped hole")
	wrong(p.Edge > 0 && p.Edge <= d/2, "the tapped hole breaks through the edge")
	return out
}

// TestNoFalsePass: where nothing is found, nothing is impossible; neither where
// the remedies were made.
func TestNoFalsePass(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := anyJoint(t)
		if j.Scene != ThroughBolt && j.Scene != Tapped && j.Scene != Stud {
			j.Scene = ThroughBolt
		}
		m, _, err := j.model()
		var field *FieldError
		if errors.As(err, &field) {
			return
		}
		require.NoError(t, err)
		// A fault is what must not be passed over; a warning may go with it.
		for _, f := range m.check() {
			if f.Severity == Fault {
				fixed, _, err := j.Fixed()
				require.NoError(t, err)
				require.Empty(t, impossible(t, fixed), "after its remedies: %+v", fixed)
				return
			}
		}
		require.Empty(t, impossible(t, m.given), "%+v", m.given)
	})
}
