// Package pdf writes drawings as a PDF file, a page each, to print or to hand
// on.
//
// A page has true size: printed without fitting to the paper, a millimetre of
// paper measures a millimetre. A page that is not given a size is the drawing
// with 10 mm about it. Lines are black and as wide and dashed as ISO 128-2 has
// them; the pattern of a dashed line is stretched so that the line starts and
// ends with a dash. Curves are cubic, within a thousandth of a millimetre.
//
// Text is text, which can be searched and copied, in the font of the drawing's
// style, Liberation Sans where it names none; the glyphs that are used travel
// in the file, where the font's maker lets them. A character that the font
// cannot letter is an error; package lettering says which those are, and
// Encoder.Boxes draws boxes in place of them. Characters beyond U+FFFF show,
// but cannot be searched for.
//
// The same drawings make the same bytes: there is no random number and no
// state between calls, and the date that the format asks for is always the
// first of January 2000.
package pdf
