// Package sheet composes drawings into plates: a framed sheet with a title
// block, on which figures stand in reading order, numbered and captioned, with
// general notes, a parts list and tables.
//
// A sheet is a drawing in millimetres of paper, its lower left corner at 0, 0,
// and its Style has the scale 1. What stands on it at a scale k was arranged
// with that scale and is placed with Placed.Scale = k: text, arrows and line
// widths are those of the paper, and dimensions say true sizes.
//
// The layout is our own. Sizes of sheets, frame and grid are those of ISO 5457,
// the fields of the title block those of ISO 7200, the symbol of the projection
// method that of ISO 5456-2, scales those of ISO 5455, the columns of the parts
// list of ISO 7573, item references of ISO 6433. The standards themselves were
// not at hand: the sizes were read in textbooks or are from memory, unverified,
// where a comment says so.
package sheet
