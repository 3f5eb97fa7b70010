package thread

import "slices"

// The sources of the figures of this package, with the edition they are of, as
// they are printed beside a figure. [Editions] tells which have newer ones.
const (
	SourceProfile      = "ISO 68-1:1998"   // profile: H, h3, H1
	SourceSizes        = "ISO 261:1998"    // sizes and pitches
	SourceSelection    = "ISO 262:1998"    // pitches selected for bolts and nuts
	SourceDiameters    = "ISO 724:1993"    // d2, d1
	SourceRoot         = "ISO 898-1:2013"  // d3 = d1 - H/6 and with it the stress area; ISO 68-1 and ISO 724 end at d1
	SourceLimits       = "ISO 965-1:1998"  // tolerances and deviations
	SourceDrills       = "ISO 2306:1972"   // tapping drills
	SourceHoles        = "ISO 273:1979"    // clearance holes
	SourceRunOut       = "ISO 3508:1976"   // run-out
	SourceUndercuts    = "DIN 76-1:2004"   // undercuts
	SourceLengths      = "ISO 888:1976"    // nominal lengths and thread lengths
	SourceProductPitch = "ISO 8765:2011"   // fine pitches of bolts and nuts
	SourcePractice     = "common practice" // rules of the trade
)

// An Edition says which edition of a standard the figures here are of, and
// what came after it.
type Edition struct {
	Standard string // "ISO 724"
	Edition  string // the year of the edition used here
	Newer    string // the year of the newest edition known here; "" for none
	Seen     string // where the newer one, or that there is none, is known from
}

// editions: the metric threads themselves have not changed between them. What
// a newer edition adds, such as the positions a to d of ISO 965-1, is not here.
var editions = [...]Edition{
	{"ISO 68-1", "1998", "2023", "from memory, unverified"},
	{"ISO 261", "1998", "", "catalogue of ISO: confirmed 2024"},
	{"ISO 262", "1998", "2023", "from memory, unverified"},
	{"ISO 724", "1993", "2023", "from memory, unverified"},
	{"ISO 898-1", "2013", "", "from memory, unverified"},
	{"ISO 965-1", "1998", "2013", "title page of the fourth edition"},
	{"ISO 2306", "1972", "", "from memory, unverified"},
	{"ISO 273", "1979", "", "from memory, unverified"},
	{"ISO 3508", "1976", "", "from memory, unverified"},
	{"DIN 76-1", "2004", "", "from memory, unverified"},
	{"ISO 888", "1976", "2012", "title page of JIS B 1009:2014, which is the same"},
	{"ISO 8765", "2011", "", "title page of the third edition"},
}

// Editions returns the editions of the standards whose figures this package
// has. The slice is the caller's own.
func Editions() []Edition { return slices.Clone(editions[:]) }
