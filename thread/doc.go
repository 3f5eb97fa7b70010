// Package thread knows ISO metric screw threads: which sizes and pitches there
// are, their profile, their limits of size, and the holes, lengths and
// distances that go with them.
//
// A thread is a plain value, [Thread], made by [Coarse], [Fine], [New] or
// [Parse]:
//
//	t, err := thread.Parse("M12x1.25-6g")
//	t.PitchDiameter() // 11.188..., mm
//	t.Limits("")      // the limits of size of 6g
//
// # Units
//
// Lengths are in millimetres, areas in square millimetres. Calculated figures
// have full precision; [Round3] and [RoundArea] give the rounding in which the
// standards print them.
//
// # Sources
//
// The tables hold the first and second choices of ISO 261 from M3 to M64.
// The standards were not at hand: the figures were checked against tables
// published elsewhere and, where none was found, written from memory. What is
// 'from memory, unverified' says so in the comment of the function that hands
// it out.
//
//	profile             ISO 68-1:1998, ISO 724:1993
//	sizes and pitches   ISO 261:1998, ISO 262:1998
//	limits of size      ISO 965-1:1998
//	stress area         ISO 898-1:2013
//	tapping drills      ISO 2306:1972
//	clearance holes     ISO 273:1979
//	run-out             ISO 3508:1976
//	lengths             ISO 888:1976
//	engagement          DIN 835, 938, 939, 940
//
// # Errors
//
// A size or pitch that is not listed is a [*SizeError] or [*PitchError], text
// that is not a designation a [*SyntaxError], a number without sense a
// [*ValueError], a tolerance class that is not one a [*ClassError], and a
// figure the tables do not hold a [*TableError]. Each carries the offending
// value and says what would be right.
//
// Everything in this package may be used by many goroutines at once.
package thread
