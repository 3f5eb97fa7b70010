package joint

import (
	"fmt"
	"slices"
	"strings"

	"boltplate/drawing"
	"boltplate/thread"
)

// names are the words that materials go by, each for one that rules of
// engagement tell apart. Bronze, brass and the like count as cast iron (common
// practice, from memory).
func names() map[thread.Material][]string {
	return map[thread.Material][]string{
		thread.Steel: {"", "steel", "mild steel", "carbon steel", "structural steel", "stainless steel",
			"alloy steel", "tool steel", "cast steel",
			"forged steel"},
		thread.CastIron: {"cast iron", "grey cast iron", "gray cast iron", "grey iron", "gray iron",
			"nodular cast iron", "ductile iron",
			"ductile cast iron", "spheroidal graphite iron", "malleable iron", "malleable cast iron", "bronze",
			"phosphor bronze", "gunmetal", "brass"},
		thread.Aluminium: {"aluminium", "aluminum", "aluminium alloy", "aluminum alloy", "cast aluminium",
			"cast aluminum", "duralumin"},
		thread.SoftLightAlloy: {"soft alloy", "soft light alloy", "soft aluminium", "soft aluminum",
			"pure aluminium", "pure aluminum",
			"magnesium", "magnesium alloy"},
	}
}

func plainWord(s string) string {
	return strings.Join(strings.Fields(strings.ToLower(strings.NewReplacer("-", " ", "_", " ").Replace(s))), " ")
}

// material returns the material as engagement rules tell them apart, and
// whether it is one of those; steel where it is not.
func (p Part) material() (thread.Material, bool) {
	word := plainWord(p.Material)
	for m, list := range names() {
		if slices.Contains(list, word) {
			return m, true
		}
	}
	return thread.Steel, false
}

// brittle reports whether a part must not be drilled: it is said to be brittle,
// or made of what is.
func (p Part) brittle() bool {
	words := strings.Fields(plainWord(p.Material))
	return p.Brittle || slices.ContainsFunc(words, func(w string) bool {
		return slices.Contains([]string{"glass", "ceramic", "ceramics", "porcelain", "stoneware", "tile"}, w)
	})
}

// materials checks that the tapped part is of a material for which an
// engagement is held, and that nothing brittle is drilled.
func (c *checker) materials() {
	last := len(c.Parts) - 1
	if p := c.Parts[last]; c.scene().tapped && !p.brittle() {
		if _, known := p.material(); !known {
			c.add(Finding{Code: MaterialUnknown, Severity: Warning,
				What: fmt.Sprintf("no engagement is held for %s, of which %s is made; it was reckoned as steel",
					p.Material, c.partName(last)),
				Remedy: "name the material as steel, cast iron, aluminium or soft alloy, whichever is next below it in strength",
				Rule:   "engagement by material", Source: "DIN 938, 939, 835, 940 (metal ends of studs)",
				At: drawing.Pt(c.middle(last), -c.t.D/2)})
		}
	}
	if c.Scene == Hook {
		return // looks itself: what it reaches over has no hole
	}
	for i, p := range c.Parts {
		if p.brittle() {
			c.add(Finding{Code: BrittleHole, What: fmt.Sprintf("%s is brittle and is drilled", c.partName(i)),
				Measured: c.t.D, Required: 0, Unit: "mm",
				Remedy: "no hole; let a hook bolt reach over its edge", Rule: "a brittle part is not drilled",
				Source: practice, At: drawing.Pt(c.middle(i), c.t.D/2)})
		}
	}
}
