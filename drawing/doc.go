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
package drawing
