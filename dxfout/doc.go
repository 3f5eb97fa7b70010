// Package dxfout writes a drawing as a DXF file.
//
// The file is ASCII DXF of the R2000 version (AC1015) in millimetres, complete
// enough for readers that refuse what is incomplete: header, classes, tables,
// blocks, entities and objects. It has one layer a role:
//
//	OUTLINE    wide     continuous   visible edges
//	THIN       narrow   continuous   thread roots, run-out
//	HIDDEN     narrow   HIDDEN       hidden edges
//	CENTRE     narrow   CENTER       axes
//	CUTTING    wide     CENTERX2     cutting planes
//	ADJACENT   narrow   PHANTOM      neighbouring parts
//	HATCHING   narrow   continuous   sections
//	DIMENSION  narrow   continuous   dimensions and leaders
//	TEXT       h/10     continuous   notes and attributes
//	FRAME      wide     continuous   frame and title block
//
// Line types carry the trade's names with the lengths of ISO 128-2, in
// millimetres on paper. Colour tells the width of the pen and nothing else:
// 7 (black or white) for wide lines and text, 8 (grey) for narrow lines.
//
// Dimensions are DIMENSION entities that a program can edit, each with its
// picture in an anonymous block; hatches are HATCH entities; a view with a
// block name is a block that is inserted wherever the view is placed, one for
// each scale where it is hatched. The description of a part travels as
// attributes and as extended data under the application name BOLTPLATE.
//
// What would be nothing in the eight decimals of the file is left out: lines
// of no length, arcs of no angle, texts that are blank.
//
// Text is in Windows-1252, which the header declares; the signs for diameter,
// degree and plus-minus are %%c, %%d and %%p in lettering, and characters that
// Windows-1252 lacks are \U+XXXX.
//
// The same drawing makes the same bytes: there is no date, no random number
// and no state between calls. Text from outside can never become group codes.
package dxfout
