// Package paint turns a drawing into what is put on paper: lines with their
// widths and dashes, filled areas and texts, in millimetres of paper. The
// packages that make pictures are thin writers over it, so that a picture is
// the same whatever its format.
//
// Everything is black. The colours of a DXF file tell the width of the pen on
// a screen; on paper the width tells it.
package paint
