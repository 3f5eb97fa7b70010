package boltplate_test

import (
	"os"
	"regexp"
	"strings"
	"testing"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/thread"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// numbers of standards of one body: "ISO 68-1, 261 and 262".
var standards = regexp.MustCompile(`\b(ISO|DIN|IS) (\d+(?:-\d)?(?:(?:, | and )\d+(?:-\d)?)*)`)

// named returns the standards that a text names.
func named(text string) map[string]bool {
	out := map[string]bool{}
	for _, m := range standards.FindAllStringSubmatch(text, -1) {
		for _, n := range regexp.MustCompile(`\d+(-\d)?`).FindAllString(m[2], -1) {
			out[m[1]+" "+n] = true
		}
	}
	return out
}

// TestReadmeCreditsTheSources: the README names every standard that the source of
// a size of a fastener or a figure of a thread names, and no others where it says
// where numbers come from; and of those that it says are from memory no size is
// published.
func TestReadmeCreditsTheSources(t *testing.T) {
	readme, err := os.ReadFile("README.md")
	require.NoError(t, err)
	_, section, _ := strings.Cut(string(readme), "## Where the numbers come from")
	threads, rest, ok := strings.Cut(section, "Heads, nuts and washers")
	require.True(t, ok)
	parts, _, ok := strings.Cut(rest, "Which editions")
	require.True(t, ok)
	_, memory, ok := strings.Cut(parts, "all from memory:")
	require.True(t, ok)
	memory, _, _ = strings.Cut(memory, "Tapers")

	used := map[string]bool{}
	for _, d := range thread.Sizes() {
		for _, p := range thread.Pitches(d) {
			th, err := thread.New(d, p.P)
			require.NoError(t, err)
			for _, f := range th.Figures() {
				for s := range named(f.Source) {
					used[s] = true
				}
			}
			for _, f := range fasteners(th) {
				qs, err := f.Quantities()
				require.NoError(t, err)
				for _, q := range qs {
					for s := range named(q.Source) {
						used[s] = true
						published := q.Rule == nil && q.Status != drawing.FromMemory && q.Status != drawing.Given
						assert.False(t, published && named(memory)[s], "%s %s: %s is %s", f.Designation(), q.Letter, s, q.Status)
					}
				}
			}
		}
	}
	credited := named(threads + parts)
	for s := range used {
		assert.True(t, credited[s], "%s is not credited", s)
	}
	for s := range named(parts) {
		assert.True(t, used[s], "%s is credited, and no size is of it", s)
	}
	for _, book := range []string{"Low", "Narayana, Kannaiah and Reddy"} {
		assert.Contains(t, section, book)
	}
	for _, book := range []string{"Maguire", "Simmons"} { // no rule is of them
		assert.NotContains(t, section, book)
	}
}

// fasteners returns fasteners of every kind with every word of their options, on
// both bases, as far as they can be.
func fasteners(th thread.Thread) (out []fastener.Fastener) {
	for _, k := range fastener.Kinds() {
		s := fastener.Spec{Kind: k.Name, Thread: th}
		if k.Length {
			s.Length = 6 * th.D
		}
		specs := []fastener.Spec{s}
		for _, o := range k.Options {
			for _, w := range o.Choices {
				one := s
				switch o.Name {
				case "form":
					one.Form, one.Length = w, s.Length
				case "neck":
					one.Neck = w
				case "angle":
					one.Angle = w
				case "material":
					one.Material = w
				case "taper":
					one.Taper = w
				case "widths":
					one.Widths = w
				default:
					continue
				}
				specs = append(specs, one)
				one.Length = 0
				specs = append(specs, one)
			}
		}
		for _, spec := range specs {
			for _, spec.Basis = range []fastener.Basis{fastener.Proportion, fastener.Standard} {
				if f, err := fastener.New(spec); err == nil {
					out = append(out, f)
				}
			}
		}
	}
	return out
}
