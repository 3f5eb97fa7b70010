package fastener_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/internal/plane"
	"boltplate/thread"

	"github.com/stretchr/testify/require"
)

// What is narrow: places where a line is hidden or seen for a short stretch
// only, or breaks off at a slot. Each is worked out from the sizes of the parts.

// narrowWrong are the places that are not yet right. It is to become empty. An
// entry that is no longer needed fails the test.
var narrowWrong = []string{}

// part makes a fastener of a Spec; th is its designation.
func part(t testing.TB, th string, s fastener.Spec) fastener.Fastener {
	s.Thread = thread.MustParse(th)
	f, err := fastener.New(s)
	require.NoError(t, err)
	return f
}

// drawnOn returns which stretches of a circle about the axis, or of a line, the
// view has in a role.
func drawnOn(v drawing.View, role drawing.Role, s drawing.Shape) []stretch {
	want := &picture{}
	want.add(drawing.RoleOutline, s, "")
	c := want.carriers[0]
	o := pictureOf(v).like(c)
	if o == nil {
		return nil
	}
	var out []stretch
	for _, x := range o.used[slices.Index(drawnRoles[:], role)] {
		out = append(out, o.on(c, x)...)
	}
	return out
}

// expect returns a message where the visible stretches of a circle or line are
// not the ones that are wanted.
func expect(v drawing.View, s drawing.Shape, want ...stretch) string {
	return expectRole(v, drawing.RoleOutline, s, want...)
}

func expectRole(v drawing.View, role drawing.Role, s drawing.Shape, want ...stretch) string {
	got := drawnOn(v, role, s)
	c := &picture{}
	c.add(drawing.RoleOutline, s, "")
	slack := 10 * c.carriers[0].slack()
	if over := without(got, want, slack); len(over) > 0 {
		return fmt.Sprintf("%s is too much of %+v", c.carriers[0].text(over[0]), s)
	}
	if lost := without(want, got, slack); len(lost) > 0 {
		return fmt.Sprintf("%s is missing of %+v", c.carriers[0].text(lost[0]), s)
	}
	return ""
}

// aroundCorners returns the stretches of a circle of radius r that stand out
// from a regular n-gon in front of it, half across flats w, a corner at the
// top: all but acos(w/r) to half a side from the middle of each side.
func aroundCorners(n int, w, r float64) []stretch {
	half := math.Acos(w/r) * 180 / math.Pi
	var out []stretch
	for i := range n {
		mid := 90 + 360/float64(n)*(float64(i)+0.5)
		from, to := plane.Norm(mid-half), plane.Norm(mid+half)
		if from > to {
			out = append(out, stretch{from: 0, to: to})
			to = 360
		}
		out = append(out, stretch{from: from, to: to})
	}
	return out
}

func TestNarrowPlaces(t *testing.T) {
	wrong := map[string]string{}
	note := func(name, msg string) {
		if msg != "" && wrong[name] == "" {
			wrong[name] = msg
		}
	}
	view := func(f fastener.Fastener, dir drawing.Direction) drawing.View {
		v, err := f.View(dir, fastener.Options{Exact: true})
		require.NoError(t, err)
		return v
	}

	// ISO 4014: s = 24, the spring washer 1.7D across: the corners of the head
	// hide 2 degrees of it on either side.
	bolted := part(t, "M16", fastener.Spec{Kind: "hex-bolt", Length: 80, Basis: fastener.Standard,
		Nut: "hex", Washer: "spring", Grip: 46})
	note("spring washer behind the corners of a hexagonal head",
		expect(view(bolted, drawing.HeadEnd), drawing.Circle{Radius: 1.7 * 16 / 2},
			aroundCorners(6, 12, 1.7*16/2)...))

	// IS 2585: s = 18; ISO 7089: 24 across.
	bolted = part(t, "M12", fastener.Spec{Kind: "square-bolt", Length: 36, Basis: fastener.Standard,
		Nut: "cap", Washer: "plain", Grip: 19.8})
	note("plain washer behind the corners of a square head",
		expect(view(bolted, drawing.HeadEnd), drawing.Circle{Radius: 12}, aroundCorners(4, 9, 12)...))

	// The same for every size, both ways.
	for _, d := range witnessSizes {
		th := coarse(t, d)
		for _, kind := range []string{"hex-bolt", "square-bolt"} {
			for _, basis := range []fastener.Basis{fastener.Proportion, fastener.Standard} {
				for _, washer := range []string{"plain", "spring"} {
					s := fastener.Spec{Kind: kind, Thread: th, Length: 6 * d, Basis: basis, Nut: "hex",
						Washer: washer, Grip: 4 * d}
					f, err := fastener.New(s)
					if err != nil {
						continue
					}
					n := 6
					if kind == "square-bolt" {
						n = 4
					}
					w := quantity(t, f, "width across flats").Value / 2
					r := quantity(t, f, "washer outside diameter").Value / 2
					want := []stretch{}
					switch corner := w / math.Cos(math.Pi/float64(n)); {
					case r > corner:
						want = append(want, stretch{from: 0, to: 360})
					case r > w:
						want = aroundCorners(n, w, r)
					}
					name := fmt.Sprintf("%s washer behind the head of a %s", washer, kind)
					if msg := expect(view(f, drawing.HeadEnd), drawing.Circle{Radius: r}, want...); msg != "" {
						note(name, f.Designation()+": "+msg)
					}
					// Hidden edges: what the head covers is dashed.
					v, err := f.View(drawing.HeadEnd, fastener.Options{Hidden: true})
					require.NoError(t, err)
					rest := without([]stretch{{from: 0, to: 360}}, want, 1e-9)
					if msg := expectRole(v, drawing.RoleHidden, drawing.Circle{Radius: r}, rest...); msg != "" {
						note("hidden: "+name, f.Designation()+": "+msg)
					}
				}
			}
		}
	}

	// Square head, 1.5D + 3 across flats, its corner at the left; before it the
	// eye of the split pin, itself 0.25D: 0.3D high, from 0.7D on 0.4D wide. It hides the
	// edges of the head from where they come out above it to its far end; nearer
	// to the axis than D cos 30 the nut does.
	d := 16.0
	bolted = part(t, "M16", fastener.Spec{Kind: "square-bolt", Length: 80, Nut: "castle", Grip: 46})
	corner := (1.5*d + 3) / 2 * math.Sqrt2
	along := func(left float64) float64 { return (corner - left) * math.Sqrt2 } // of the edge, from the corner
	above, beside, nut := corner-0.15*d, 1.1*d, d*math.Sqrt(3)/2                // how far left
	for _, up := range [2]float64{1, -1} {
		edge := drawing.Line{From: drawing.Pt(-corner, 0), To: drawing.Pt(0, up*corner)}
		got := drawnOn(view(bolted, drawing.PointEnd), drawing.RoleOutline, edge)
		got = without(got, []stretch{{from: along(nut), to: math.Inf(1)}}, 1e-6)
		want := []stretch{{from: 0, to: along(beside)}, {from: along(above), to: along(nut)}}
		if !sameStretches(got, want, 1e-5) {
			note("head behind the eye of a split pin", fmt.Sprintf("seen at %v mm from the corner, should be at %v",
				got, want))
		}
	}

	// The slots of a castle nut are open at its end; in the front view one is in
	// the middle, 0.25D wide. Beside it the end of the crown is seen.
	d = 20
	bolted = part(t, "M20", fastener.Spec{Kind: "hex-bolt", Length: 110, Nut: "castle", Grip: 75})
	crown := drawing.Line{From: drawing.Pt(75+1.25*d, -0.7*d), To: drawing.Pt(75+1.25*d, 0.7*d)}
	for _, s := range drawnOn(view(bolted, drawing.Front), drawing.RoleOutline, crown) {
		if lo, hi := s.from-0.7*d, s.to-0.7*d; math.Min(hi, 0.125*d)-math.Max(lo, -0.125*d) > 1e-6 {
			note("line across the slot of a castle nut",
				fmt.Sprintf("seen from y = %.4f to %.4f, open for %.4f on either side", lo, hi, 0.125*d))
		}
	}

	// The cut of a spring washer: 0.07D wide across the axis, at 20 degrees to
	// it; at the first face it is lower by tan 20 of half the thickness, 0.2D.
	d = 16
	for _, hand := range []float64{1, -1} {
		th := "M16"
		if hand < 0 {
			th = "M16-LH"
		}
		bolted = part(t, th, fastener.Spec{Kind: "hex-bolt", Length: 100, Nut: "lock", Washer: "spring", Grip: 66})
		face := drawing.Line{From: drawing.Pt(66, -0.85*d), To: drawing.Pt(66, 0.85*d)}
		mid := -hand * math.Tan(20*math.Pi/180) * 0.1 * d
		note("line across the cut of a spring washer", expect(view(bolted, drawing.Front), face,
			stretch{from: 0, to: 0.85*d + mid - 0.035*d}, stretch{from: 0.85*d + mid + 0.035*d, to: 1.7 * d}))
	}

	// The pin of a castle nut is seen from above in both slots of the crown
	// alike.
	for _, d := range witnessSizes {
		for _, basis := range []fastener.Basis{fastener.Proportion, fastener.Standard} {
			f := fastener.CastleNut{Thread: coarse(t, d), Basis: basis}
			if f.Validate() != nil {
				continue
			}
			v := view(f, drawing.SideView)
			is := pictureOf(below(v, 0.69*d))
			if diff := differences(pictureOf(mirrored(below(v, 0.69*d))), is, 0); len(diff) > 0 {
				note("pin in the slots of a castle nut", f.Designation()+": one side "+diff[0].String())
			}
		}
	}

	// The rings of a thread beside a hexagonal head, in the isometric view.
	for _, d := range witnessSizes {
		for _, k := range []float64{3, 4.2, 8} {
			for _, kind := range []string{"hex-screw", "tap-bolt", "hex-bolt"} {
				for _, basis := range []fastener.Basis{fastener.Proportion, fastener.Standard} {
					f, err := fastener.New(fastener.Spec{Kind: kind, Thread: coarse(t, d),
						Length: math.Round(k * d), Basis: basis})
					if err == nil {
						if msg := ringsInSight(t, f, d, math.Round(k*d)); msg != "" {
							note("rings of the thread of a "+kind+", isometric", f.Designation()+": "+msg)
						}
					}
				}
			}
		}
	}
	settleKnown(t, wrong, narrowWrong)
}

// below cuts the lines of an elevation off where they are more than h from the
// axis, and leaves out what is not straight.
func below(v drawing.View, h float64) drawing.View {
	out := v
	out.Items = nil
	for _, it := range v.Items {
		l, ok := it.Shape.(drawing.Line)
		if !ok || it.Role != drawing.RoleOutline {
			continue
		}
		lo, hi := 0.0, 1.0
		dy := l.To.Y - l.From.Y
		if math.Abs(dy) < 1e-9 {
			if math.Abs(l.From.Y) > h {
				continue
			}
		} else {
			a, b := (-h-l.From.Y)/dy, (h-l.From.Y)/dy
			lo, hi = math.Max(lo, math.Min(a, b)), math.Min(hi, math.Max(a, b))
		}
		if lo < hi {
			dir := l.To.Sub(l.From)
			out.Items = append(out.Items, drawing.Item{Role: it.Role,
				Shape: drawing.Line{From: l.From.Add(dir.Mul(lo)), To: l.From.Add(dir.Mul(hi))}})
		}
	}
	return out
}

// ringsInSight compares the rings about the shank in the isometric view, those
// of the thread and its limit, with what a viewer from the head sees of them:
// sights run along (-1, 1, 1), so that a point of a ring is hidden where it,
// moved by its distance from the bearing face, is inside the hexagon; and on
// the far side of the shank. The head has its corner up, the picture plane is
// that of ISO 5456-3: a point (x, y, z) is at (x + z) cos 30, y + (x - z) / 2.
func ringsInSight(t *testing.T, f fastener.Fastener, d, length float64) string {
	w, r := quantity(t, f, "width across flats").Value/2, d/2
	v, err := f.View(drawing.Isometric, fastener.Options{})
	require.NoError(t, err)
	c30 := math.Cos(math.Pi / 6)
	got := map[float64]*picture{length - quantity(t, f, "thread length").Value: {}} // by place on the axis
	for _, it := range v.Items {
		e, ok := it.Shape.(drawing.Ellipse)
		x := e.Center.X / c30
		if !ok || math.Abs(e.Center.Y-x/2) > 1e-6 || math.Abs(e.Major.Len()-r*math.Sqrt(1.5)) > 1e-6 || x < 1e-6 {
			continue
		}
		for k := range got {
			if math.Abs(k-x) < 1e-6 {
				x = k
			}
		}
		if got[x] == nil {
			got[x] = &picture{}
		}
		sweep := 360.0
		if !e.Whole() {
			sweep = plane.Sweep(e.Start, e.End)
		}
		angle := func(at float64) float64 { // about the axis, of a point of the picture
			p := e.At(at).Sub(e.Center)
			z := p.X / c30
			return math.Atan2(z, p.Y+z/2) * 180 / math.Pi
		}
		from, to := angle(e.Start), angle(e.Start+sweep)
		if plane.Norm(angle(e.Start+sweep/1000)-from) > 180 {
			from, to = to, from
		}
		got[x].addRound(0, unitRing, from, plane.Sweep(from, to), "")
	}
	for x, g := range got {
		want := &picture{}
		for _, s := range ringInSight(x, r, w) {
			want.addRound(0, unitRing, s.from, s.to-s.from, "")
		}
		const blur = 1e-3 // degrees
		over := without(g.first(), want.first(), blur)
		lost := without(want.first(), g.first(), blur)
		switch {
		case len(over) > 0:
			return fmt.Sprintf("the ring at %.4f is seen from %.3f to %.3f degrees about the axis, where the head hides it", x, over[0].from, over[0].to)
		case len(lost) > 0:
			return fmt.Sprintf("the ring at %.4f is not seen from %.3f to %.3f degrees about the axis", x,
				lost[0].from, lost[0].to)
		}
	}
	return ""
}

// unitRing carries stretches by their direction from an axis.
var unitRing = carrier{shape: 'o', d: drawing.Pt(1, 0), ratio: 1}

// first returns the outline on the first carrier of the picture.
func (p *picture) first() []stretch {
	if len(p.carriers) == 0 {
		return nil
	}
	return p.joined(p.carriers[0], 0)
}

// ringInSight returns what is seen of a ring of radius r at x, degrees about
// the axis, beside a hexagon of half the width w across flats.
func ringInSight(x, r, w float64) []stretch {
	cuts := []float64{-math.Pi / 4, 3 * math.Pi / 4, 7 * math.Pi / 4} // where the shank turns away
	inside := func(a float64) bool {
		for i := range 6 {
			sin, cos := math.Sincos(math.Pi/6 + float64(i)*math.Pi/3)
			if (r*math.Cos(a)+x)*cos+(r*math.Sin(a)+x)*sin > w {
				return false
			}
		}
		return true
	}
	for i := range 6 { // r cos(a - n) + x (cos n + sin n) = w
		n := math.Pi/6 + float64(i)*math.Pi/3
		if k := (w - x*(math.Cos(n)+math.Sin(n))) / r; math.Abs(k) < 1 {
			for _, a := range [2]float64{n + math.Acos(k), n - math.Acos(k)} {
				cuts = append(cuts, math.Mod(a+math.Pi/4+4*math.Pi, 2*math.Pi)-math.Pi/4)
			}
		}
	}
	slices.Sort(cuts)
	var out []stretch
	for i, a := range cuts[1:] {
		mid := (a + cuts[i]) / 2
		if a-cuts[i] > 1e-9 && math.Cos(mid)+math.Sin(mid) > 0 && !inside(mid) {
			out = append(out, stretch{from: cuts[i] * 180 / math.Pi, to: a * 180 / math.Pi})
		}
	}
	return out
}
