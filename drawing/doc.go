// Package drawing is the vocabulary of a technical drawing: points, a closed
// set of shapes, the role of each shape, dimensions that know the quantity
// they show, and views.
//
// Coordinates are millimetres of the part, x to the right and y up; angles are
// degrees counter-clockwise. Whatever belongs to the paper and not to the part
// (heights of text, arrowheads, gaps, line widths) is in millimetres on paper
// and is turned into millimetres of the part by the Style.
//
// A view is made without knowing how it will be labelled. Arrange places its
// dimensions for a Style and writes their labels; Expand turns a placed
// dimension into the lines, arrowheads and text it is drawn with. Exporters
// are a type switch over Shape; they give each Role its line.
//
// A Drawing is placed views and what stands beside them. A view may be placed
// many times, mirrored, scaled and turned; its dimensions stay true.
// Drawing.Include puts one drawing into another. View.Silhouette is the outline
// of a view, with which a Cover hides what is behind it, or Trim cuts it away.
//
// Nothing here panics whatever a drawing holds. Drawing.Validate says what in it
// cannot be drawn, and exporters ask it before they write.
//
// A drawing, a view and an item are read and written by encoding/json; the
// shape is described in docs/formats.md.
package drawing
