package fastener

import (
	"boltplate/drawing"
	"boltplate/thread"
)

// A shank is the cylinder of a bolt from x = start to x = end, threaded from
// limit to the end.
type shank struct {
	t                 thread.Thread
	start, limit, end float64
	kept              float64 // how much of it from start on the run-out must leave free
}

// A span is a stretch of the axis.
type span struct{ from, to float64 }

// A threading is the thread of a bolt as it was decided.
type threading struct {
	limit  float64 // where the usable thread begins
	length drawing.Quantity
	toHead bool
}

const (
	sourceISO888  = "ISO 888:1976"
	sourceISO3508 = "ISO 3508:1976"
	sourceISO261  = "ISO 261:1998"
	sourceISO724  = "ISO 68-1, ISO 724:1993"
	textbooks     = "several drawing textbooks"
)

// A threadRule says how far screws of a standard are threaded that does not go
// by ISO 888: up to a nominal length as far as the head, and longer ones by
// their own length. Those too short for it are threaded to the head on either
// basis.
type threadRule struct {
	toHead float64          // nominal length up to which they are threaded to the head, mm; 0 for none
	short  bool             // the thread ends 2P under the head in place of 3P
	length drawing.Quantity // of longer ones; the zero Quantity means by ISO 888
}

// threadOf decides how far a bolt with the given under-head length is
// threaded. given is the thread length asked for, 0 for the rule; toHead asks
// for a thread up to the head; free is the stretch that may carry a thread, and
// letter that of the quantity that keeps its start from the head; by may be nil.
func threadOf(kind string, t thread.Thread, length, given float64, free span, letter string, toHead bool, basis Basis, standard string, by *threadRule) (threading, error) {
	start := free.from
	room := free.to - start
	q := drawing.Quantity{Letter: "b", Name: "thread length"}
	a, pitches := t.HeadDistance(), "3P"
	if by != nil && by.short {
		a, pitches = t.HeadDistanceShort(), "2P"
	}
	if given != 0 {
		if err := checkLength(kind, "thread", given, "the thread length"); err != nil {
			return threading{}, err
		}
		if toHead {
			return threading{}, fieldErr(kind, "thread", given, "this kind is threaded to the head; leave it out, or use hex-bolt")
		}
		if given > room {
			return threading{}, fieldErr(kind, "thread", given, "longer than the shank, which has %s mm; at most that", mm(room))
		}
		q.Value, q.Rule, q.Source, q.Status = given, "", "as described", drawing.Given
		return threading{limit: length - given, length: q}, nil
	}
	want := lengthOfISO888(t.D, length)
	if by != nil {
		toHead = toHead || length <= by.toHead
		if by.length.Value > 0 {
			want = by.length
		}
	}
	b := want.Value
	if !toHead && b+t.RunOut() <= room {
		q.Value, q.Rule, q.Source, q.Status = b, want.Rule, want.Source, want.Status
		return threading{limit: length - b, length: q}, nil
	}
	if !toHead && basis == Standard && by == nil {
		instead := ""
		if kind == "hex-bolt" {
			instead = "hex-screw, threaded to the head, or "
		}
		return threading{}, fieldErr(kind, "length", length,
			"too short for %s: the thread of %s mm and its run-out leave no plain shank; use %sat least %s mm, or give the thread length",
			standard, mm(b), instead, mm(shortest(t, start)))
	}
	if room < a+2*t.P {
		least := start + a + 2*t.P
		if l, ok := thread.NextLength(least); ok {
			least = l
		}
		return threading{}, fieldErr(kind, "length", length, "too short to carry a thread; at least %s mm", mm(least))
	}
	q.Value, q.Rule, q.Source, q.Status = room-a, "L - "+pitches, sourceISO3508+": at most "+pitches+" to the last full thread under the head", drawing.Published
	if start > 0 {
		q.Rule = "L - " + letter + " - " + pitches
	}
	return threading{limit: start + a, length: q, toHead: true}, nil
}

// lengthOfISO888 returns the thread length of a bolt.
func lengthOfISO888(d, length float64) drawing.Quantity {
	return drawing.Quantity{Rule: threadLengthRule(length), Value: thread.ThreadLength(d, length), Source: sourceISO888, Status: drawing.Published}
}

// threadLengthRule returns the rule of ISO 888 for a length.
func threadLengthRule(length float64) string {
	switch {
	case length <= 125:
		return "2D + 6"
	case length <= 200:
		return "2D + 12"
	}
	return "2D + 25"
}

// shortest returns the shortest preferred length that holds the standard
// thread and its run-out.
func shortest(t thread.Thread, start float64) float64 {
	for _, l := range thread.Lengths() {
		if thread.ThreadLength(t.D, l)+t.RunOut() <= l-start {
			return l
		}
	}
	return 0
}

func nominalDiameter(t thread.Thread) drawing.Quantity {
	return drawing.Quantity{Letter: "D", Name: "nominal diameter", Value: t.D, Source: "as described", Status: drawing.Given}
}

func pitch(t thread.Thread) drawing.Quantity {
	q := drawing.Quantity{Letter: "P", Name: "pitch", Rule: drawing.RuleTable, Value: t.P, Source: sourceISO261, Status: drawing.Published}
	if !t.Listed() {
		q.Rule, q.Source, q.Status = "", "as described; not listed in ISO 261", drawing.Given
	}
	return q
}

func lengthQuantity(v float64) drawing.Quantity {
	return drawing.Quantity{Letter: "L", Name: "length", Value: v, Source: "as described", Status: drawing.Given}
}

// threadQuantities are the figures of the thread that a drawing needs.
func (s shank) threadQuantities() []drawing.Quantity {
	t := s.t
	return []drawing.Quantity{
		{Letter: "d3", Name: "root diameter", Rule: "D - 1.2269P", Value: t.RootDiameter(), Source: sourceISO724, Status: drawing.Published},
		{Letter: "z", Name: "point chamfer", Rule: "depth of thread × 45°: 0.6134P", Value: t.Depth(), Source: textbooks, Status: drawing.Published},
		{Letter: "x", Name: "thread run-out", Rule: "2.5P", Value: t.RunOut(), Source: sourceISO3508, Status: drawing.Published},
	}
}
