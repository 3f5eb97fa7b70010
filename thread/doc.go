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
//	t.Figures()       // all figures, with rule, source and status
//
// # Units
//
// Lengths are in millimetres, areas in square millimetres. Calculated figures
// have full precision; [Round3] and [RoundArea] give the rounding in which the
// standards print them.
//
// # Sources
//
// The tables hold the first and second choices of ISO 261 from M3 to M64. The
// standards were not at hand: the figures were compared with tables published
// elsewhere and, where none was found, written from memory. [Thread.Figure] and
// [Limit] say of every single figure what it is: published, published in part,
// derived by calculation, common practice, or from memory and not verified.
//
//	profile             ISO 68-1, ISO 724
//	sizes and pitches   ISO 261, ISO 262
//	root, stress area   ISO 898-1
//	limits of size      ISO 965-1
//	tapping drills      ISO 2306
//	clearance holes     ISO 273
//	run-out             ISO 3508
//	lengths             ISO 888
//	fine pitches of bolts and nuts   ISO 8765 and its like
//	engagement          DIN 835, 938, 939, 940
//
// The constants named Source hold the editions that the figures are of, and
// [Editions] says which have newer ones. What a refusal says of a standard is
// what is held here of it; the standard itself may have more.
//
// # Rules
//
// What follows from diameter and pitch has its rule with it, an expression of
// package rule in the letters of [Thread.Letters]: d3 is D - 1.22687P, the
// run-out of M20 is 2.5P ≈ 6.3.
//
// # Errors
//
// A size or pitch that is not listed is a [*SizeError] or [*PitchError], text
// that is not a designation a [*SyntaxError], a number without sense a
// [*ValueError], a tolerance class that is not one a [*ClassError], and a
// figure that is not held a [*TableError]. Each carries the offending
// value and says what would be right.
//
// Everything in this package may be used by many goroutines at once.
package thread
