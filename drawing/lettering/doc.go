// Package lettering has the fonts that pictures of drawings are lettered in:
// the one that drawings have by themselves, and those from a file.
//
// The font of a drawing is in its style, drawing.Style.Font. Dimensions and
// tables are arranged with its widths, and the packages svg and pdf draw its
// letters; where there is none that is Default, Liberation Sans, an open font
// with the widths of the commonest sans serif, whose zero is open: a zero with
// a stroke reads as a diameter beside Ø. An office that letters by ISO 3098
// brings its own:
//
//	font, err := lettering.ReadFile("office.ttf")
//	...
//	style := drawing.Style{Font: font}
//
// Letters stand one after the other, from left to right, without kerning and
// ligatures, as on a drawing board. What the font lacks, and scripts that
// cannot be set so (from right to left, or with letters that change with
// their neighbours), is named by Missing; the exporters refuse a drawing that
// holds such text rather than print boxes.
//
// Liberation Sans is under the SIL Open Font License, which stands beside this
// package as OFL.txt and goes with every program that uses it.
package lettering
