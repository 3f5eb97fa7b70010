// Package dxfin reads DXF files of other programs: ASCII DXF from R12 (AC1009)
// to R2018 (AC1032), and binary DXF.
//
//	file, err := dxfin.Decode(r)
//	if err != nil {
//		return err // a *dxfin.SyntaxError names the line and what was expected
//	}
//	scene, err := file.Flatten()
//
// A File holds header variables, layers, line types, text and dimension
// styles, blocks, and entities as they stand in the file. Flatten makes of its
// model space a Scene: lines, arcs, ellipses and splines in the drawing plane,
// texts, dimensions, areas, with every INSERT carried out and every "by layer"
// and "by block" settled.
//
// # What is read
//
// LINE, ARC, CIRCLE, ELLIPSE, LWPOLYLINE, POLYLINE with its VERTEX, SPLINE
// (rational B-splines; one that is given by fit points alone is noted), TEXT,
// MTEXT, ATTRIB, ATTDEF, DIMENSION, LEADER, MULTILEADER, HATCH, SOLID, TRACE,
// POINT and INSERT, with extended data. Any other entity is counted in
// File.Skipped. Extrusion directions and unequal or negative scales are carried
// out in space, and the result is projected on the xy plane.
//
// # How strict it is
//
// Groups must be a number and a value, numbers must be numbers, sections,
// blocks and tables must end: what is out of step is an error, because reading
// on would make up a drawing that nobody drew. What many programs leave out or
// write in their own way is read, and File.Notes says so where it may matter:
// sections that are missing, a layer that no table has, handles or owners that
// are missing, line ends of any kind, blanks about group codes, small letters,
// a byte order mark, a decimal comma, a missing EOF, UTF-8 where a code page is
// declared.
//
// No count in the file is believed: what is made is bounded by what is there,
// and by Decoder. A file of 64 MB with 1,000,000 entities is read, and 1,000,000
// pieces of a scene are made, unless other limits are given; INSERTs may be 32
// deep. Memory is about ten times the size of the file.
package dxfin
