// Package joint draws fasteners in the joints that they are made for, and
// checks that the joints work.
//
// A [Joint] describes one of eight scenes, each a section through the axis of
// the fastener. Values that are left out (zero) are chosen by [Joint.Complete],
// which says what it chose and why. [Joint.Check] returns what is wrong, by how
// much, and what would put it right, with the rule and its source. [Draw] makes
// the drawing: the section with its dimensions, item numbers and a parts list,
// further views where a scene needs them, cautions, and the findings marked
// where they are.
//
// Lengths are millimetres. Rules without a published source are marked as
// common practice. No load rating is given anywhere: where a joint can hurt
// somebody, the maker's rating, local codes and licensed practice decide.
package joint
