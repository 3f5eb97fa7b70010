// Package yofudxf puts our views into a drawing of github.com/yofu/dxf, for
// programs that already draw with that library.
//
// Everything stands on the layers of roles that package dxfout has, in the
// kinds of entity that the library knows: LINE, ARC, CIRCLE, LWPOLYLINE and
// TEXT. Programs that have the choice should write with package dxfout.
//
// Limits, which are those of the library:
//
//   - Dimensions and leaders are their lines, arcs, arrowheads and text.
//     Arrowheads and filled areas are closed polylines, for want of a filled
//     entity. Hatches are their lines.
//   - Ellipses and conics are polylines; they keep dxfout.PlainTolerance.
//   - A view with a block name is drawn wherever it is placed: the library's
//     blocks have no contents. Of a part the attributes that can be seen become
//     text; its other attributes and its properties are left out.
//   - The header is the caller's. The library has no units until
//     Header().InsUnit is set (insunit.Millimeters), and its SetExt takes the
//     origin for a point of every polyline and gives texts no width:
//     drawing.Drawing.Bounds has the right extents.
//
// Faults of the library that are worked around:
//
//   - It writes the second point of an aligned text only with a vertical
//     alignment, and then the wrong one. Text, which embeds its own type,
//     writes it.
//   - Its line types HIDDEN and DASHDOT are in inches. Ours have names of their
//     own, such as HIDDEN_0.25, with the lengths of ISO 128-2 in millimetres on
//     paper; each entity carries the scale of its drawing.
//   - Its Text function changes a text style that all drawings share, and adds
//     to the current layer. Add has a text style of its own, BOLTPLATE, and
//     leaves the current layer and the current style as they are.
//   - Layer 0, the built-in line types and the style Standard are package
//     variables of the library that belong to the drawing that was made last.
//     WriteTo gives them back to the drawing that is written, so that several
//     drawings of one goroutine can be filled by turns.
//   - It writes text as it is. Text is escaped, so that it can never become
//     group codes, and is ASCII, as the library declares no code page.
//
// Faults that cannot be worked around:
//
//   - For the sake of those package variables the library must not be used by
//     several goroutines at once, not even for different drawings: New, reading
//     and writing change them.
//   - It writes the entries of dictionaries in the order of a map, so that two
//     files of one drawing may differ in it.
//   - It has no colour of entities; Text has one, which the labels of
//     dimensions use.
//   - Every file of it holds a dictionary without its right owner and a block
//     record of a layout that is not there. Readers repair both.
//   - Its reader knows neither POLYLINE nor SEQEND and fails on files that hold
//     them.
package yofudxf
