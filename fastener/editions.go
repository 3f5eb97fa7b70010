package fastener

import (
	"slices"
	"strings"

	"boltplate/thread"
)

const fromTheHead = "from memory, unverified"

// editions of the standards whose figures the kinds have. Of older German ones no
// year is held.
var editions = [...]thread.Edition{
	{Standard: "ISO 1119", Edition: "1998", Newer: "2011", Seen: "text of EN ISO 1119:2011, which is the same"},
	{Standard: "ISO 1207", Edition: "2011", Seen: fromTheHead},
	{Standard: "ISO 1234", Edition: "1997", Seen: fromTheHead},
	{Standard: "ISO 1580", Edition: "2011", Seen: fromTheHead},
	{Standard: "ISO 2009", Edition: "2011", Seen: fromTheHead},
	{Standard: "ISO 4014", Edition: "2011", Newer: "2022", Seen: fromTheHead},
	{Standard: "ISO 4017", Edition: "2014", Newer: "2022", Seen: "a published article on ISO 4017:2022"},
	{Standard: "ISO 4032", Edition: "2012", Newer: "2023", Seen: fromTheHead},
	{Standard: "ISO 4035", Edition: "2012", Newer: "2023", Seen: fromTheHead},
	{Standard: "ISO 4762", Edition: "2004", Seen: fromTheHead},
	{Standard: "ISO 7045", Edition: "2011", Seen: fromTheHead},
	{Standard: "ISO 7089", Edition: "2000", Seen: fromTheHead},
	{Standard: "ISO 7090", Edition: "2000", Seen: fromTheHead},
	{Standard: "ISO 7091", Edition: "2000", Seen: fromTheHead},
	{Standard: "ISO 7093-1", Edition: "2000", Seen: fromTheHead},
	{Standard: "ISO 8673", Edition: "2012", Newer: "2023", Seen: "a published summary of ISO 8673:2023"},
	{Standard: "ISO 8675", Edition: "2012", Newer: "2023", Seen: fromTheHead},
	{Standard: "ISO 8676", Edition: "2011", Newer: "2022", Seen: fromTheHead},
	{Standard: "ISO 10642", Edition: "2004", Newer: "2019", Seen: fromTheHead},
	{Standard: "IS 2585", Edition: "2006", Seen: fromTheHead},
}

// Editions returns the editions of the standards whose figures the kinds have;
// those of the standards of threads are in thread.Editions. The slice is the
// caller's own.
func Editions() []thread.Edition { return slices.Clone(editions[:]) }

// Superseded returns the editions that sources name and that have newer ones, in
// the order in which they are named.
func Superseded(sources ...string) []thread.Edition {
	all := append(Editions(), thread.Editions()...)
	var out []thread.Edition
	for _, s := range sources {
		for _, e := range all {
			if e.Newer != "" && strings.Contains(s, e.Standard+":"+e.Edition) && !slices.Contains(out, e) {
				out = append(out, e)
			}
		}
	}
	return out
}
