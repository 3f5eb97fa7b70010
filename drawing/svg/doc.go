// Package svg writes a drawing as an SVG file: a picture to look at, to print
// or to put on a page.
//
// The picture has true size: the user unit is a millimetre of paper, and width
// and height say so. A page that is not given a size is the drawing with 10 mm
// about it. There is one group a role, of that class ("outline", "hidden",
// "dimension" and so on), with the line width of its role; a style sheet can
// colour it.
//
// Lines are black and as wide and dashed as ISO 128-2 has them; the pattern of
// a dashed line is stretched so that the line starts and ends with a dash.
// Curves are cubic, within a thousandth of a millimetre.
//
// Text is outlines in the font of the drawing's style, Liberation Sans where
// it names none, and each carries its words as an aria-label. A character that
// the font cannot letter is an error; package lettering says which those are,
// and Encoder.Boxes draws boxes in place of them. Outlines look the same
// everywhere: with another font in its place a label would be wider than the
// room that was kept for it, and a font that travels in the file would add
// 200 kB to each and is passed over by many programs that are not browsers.
//
// The same drawing makes the same bytes: there is no date, no random number
// and no state between calls.
package svg
