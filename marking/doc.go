// Package marking compares a student's drawing, read by package dxfin from
// whatever program it was drawn in, with a model answer, and says what is
// wrong, by how much, what it costs and what to learn from it.
//
//	d, err := fastener.Draw(bolt, fastener.DrawOptions{Views: views})
//	...
//	marker, err := marking.New(marking.Model{Figures: []marking.Figure{{Drawing: d}}}, marking.Options{})
//	...
//	result, err := marker.MarkReader(file)
//	...
//	result.WriteText(os.Stdout)                  // in words
//	json.NewEncoder(w).Encode(result)            // for a program
//	svg.Encode(w, result.Drawing())              // ringed and numbered
//
// # How it compares
//
// First the views are found: lengths of lines and radii vote for a scale, then
// for quarter turns and a mirror image, then for a place; what covers the most
// of a view's lines wins, and no two views take one place. So a drawing may be
// shifted, turned, at any scale, in inches, in blocks within blocks. Views that
// are turned, mirrored or scaled unlike the others are findings, and so are
// views on the wrong side for the projection method, or out of line.
//
// Then every piece that is drawn, 0.7 mm on paper at most, is given the line of
// the model that it lies on, within the tolerance and in its direction. Lines
// are thereby compared by where they are, not by how they are cut: as one line
// or ten, as an arc, a spline or a polyline of chords. What is left over on
// either side is paired: a line missing and one too many that are alike are a
// line in the wrong place; many that are displaced by one vector are one size
// drawn wrong; an arc with its ends right bulges the wrong way.
//
// Kinds of line are told by line type, width, colour and layer, by what tells
// them in this drawing: the lines that lie where the model has wide lines say
// which width, colour or layer is the wide one. Lines of an instructor's own
// layers may be given in Options.Lines.
//
// Dimensions are DIMENSION and LEADER entities, or lines with arrowheads and a
// text. They are compared by what they go to and what they say: a number may be
// rounded to the decimals that are written, and a size may stand in another
// view that shows it.
//
// # What it does not do
//
// What cannot be read or told is listed in Result.Unsure, for the instructor to
// decide, and costs nothing: entities that the reader passes over, lines on
// layers that are off, lines of a look that no line of the views has,
// dimensions that the model does not have, views that agree only in part. Notes,
// captions, tables and frames are not compared. Two lines that the model has
// nearer to each other than the tolerance are not told apart.
//
// All measures of findings are millimetres on paper, at the scale of the model
// answer. A roll number, or any name of a student, is not needed and not kept.
package marking
