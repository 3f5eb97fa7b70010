// Package dxfout writes a drawing as a DXF file.
//
// The file is, unless a plain one is asked for, ASCII DXF of the R2000 version (AC1015) in millimetres, complete
// enough for readers that refuse what is incomplete: header, classes, tables,
// blocks, entities and objects. It has one layer a role:
//
//	OUTLINE    wide     continuous   visible edges
//	THIN       narrow   continuous   thread roots, run-out
//	HIDDEN     narrow   HIDDEN       hidden edges
//	CENTRE     narrow   CENTER       axes
//	CUTTING    wide     CUTTING      cutting planes
//	ADJACENT   narrow   PHANTOM      neighbouring parts
//	HATCHING   narrow   continuous   sections
//	DIMENSION  narrow   continuous   dimensions and leaders
//	TEXT       h/10     continuous   notes and attributes
//	FRAME      wide     continuous   frame and title block
//	FINDINGS   narrow   continuous   what is marked as wrong; where there is any
//	CONSTRUCTION  narrow  continuous  centres, radii, projection lines; where there are any
//
// Line types carry the trade's names with the width of the line that they are
// for, such as HIDDEN_0.25, and have the lengths of ISO 128-2, in millimetres on
// paper; what is drawn with dashes says the scale of the drawing itself. Colour tells the width of the pen and nothing else:
// 7 (black or white) for wide lines and text, 8 (grey) for narrow lines; but for
// findings, which are red (1).
//
// Dimensions are DIMENSION entities that a program can edit, each with its
// picture in an anonymous block; those of a turned view measure along the view.
// Leaders are LEADER entities with the text beside them. Hatches are HATCH
// entities; what covers is a WIPEOUT. A text that is longer than the 250 bytes
// which every reader takes in a string is an MTEXT of one line.
//
// A view with a block name is a block that is inserted wherever the view is
// placed, turned or mirrored as it stands there, one for each scale where it is
// hatched. What reads differently there, dimensions and texts, is no part of
// the block.
//
// Drawings of different scales, heights of letters and line groups can go into
// one file, because whatever looks different has a name of its own: the text
// style BOLTPLATE has its font in its name where that is another one, a
// dimension style has its scale and all that differs from the usual, such as
// BOLTPLATE_1-2_VIEW_1-5_H5, the block of a part has the scale, and line types
// have their width. Layers are an office's, and what it has under their names
// remains.
//
// The description of a part travels as attributes and as extended data under
// the application name BOLTPLATE. An attribute whose value is too long for a
// string has its beginning there, out of sight, and an MTEXT in its place; all
// of it is in the extended data.
//
// Encoder.Layout adds a sheet of paper: a paper-space layout with a frame and
// viewports that show the drawing to scale.
//
// An office that has layers of its own gives them in Encoder.Layers, role by
// role: name, colour, line type and width.
//
// # Plain files
//
// With Version R12 an Encoder writes AC1009 for programs that read little DXF,
// in five kinds of entity: LINE, ARC, CIRCLE, TEXT and POLYLINE with its
// VERTEX and SEQEND. Dimensions, leaders and hatches are their lines;
// arrowheads and filled areas are closed polylines, without a filling;
// ellipses and conics are polylines that lie within PlainTolerance of the true
// curve. There are no blocks and no paper space: a view is drawn
// wherever it is placed, and what is covered is cut away. Of the
// description of a part the attributes that can be seen are TEXT, and the rest
// is left out.
//
// Such a file has no widths of lines, so that colour and layer alone tell them
// apart, and cannot say its unit: where a program asks, it is the millimetre.
// Names of layers are of A-Z, 0-9, _, - and $, at most 31; small letters become
// capitals, other names are refused. Text is in Windows-1252 with %%c, %%d and
// %%p; dashes, quotation marks, blanks and the multiplication sign become what
// ASCII has in their place, and other characters that Windows-1252 lacks are
// refused. So is a hatch of more than 20000 lines.
//
// # Both
//
// What would be nothing in the eight decimals of the file is left out: lines
// of no length, arcs of no angle, texts that are blank.
//
// Text of AC1015 is in Windows-1252, which the header declares; the signs for diameter,
// degree and plus-minus are %%c, %%d and %%p in lettering, and characters that
// Windows-1252 lacks are \U+XXXX.
//
// The same drawing makes the same bytes: there is no date, no random number
// and no state between calls. Text from outside can never become group codes.
package dxfout
