// Package boltplate is the root of a library that draws threaded fasteners:
// from a description ("square-head bolt, square neck, M20 × 90") to correct
// drawing geometry and layered DXF, with the rule and the source of every
// number.
//
// # Map of the packages
//
//	rule                proportions as expressions: value, label and working of one rule
//	thread              ISO metric threads: sizes, profile, limits, drills, holes, lengths
//	fastener            the kinds of fastener: proportions, standard sizes, views
//	fastener/joint      fasteners in the joints they are made for, drawn and checked
//	fastener/schedule   a hardware schedule: rows in, fasteners out
//	drawing             the vocabulary of a drawing: shapes, roles, dimensions, views
//	drawing/sheet       framed sheets of figures, with title block and parts list
//	drawing/svg         a drawing as an SVG picture
//	drawing/pdf         drawings as the pages of a PDF file
//	dxfout              layered DXF from a drawing, or plain DXF for weak readers
//	dxfin               DXF files of other programs, read
//	marking             a student's drawing compared with a model answer
//	dxfout/yofudxf      the same views in a drawing of github.com/yofu/dxf
//	cmd/boltplate       the command
//
// Imports go one way: rule knows nothing of ours, thread and drawing know rule,
// fastener knows all three, sheet, dxfin, dxfout, svg and pdf know drawing and
// nothing of fasteners, marking knows drawing and dxfin, and the command knows
// all of them.
//
// # Quick start
//
//	bolt := fastener.HexBolt{Thread: thread.MustParse("M16"), Length: 80}
//	d, err := fastener.Draw(bolt, fastener.DrawOptions{})
//	if err != nil {
//		return err
//	}
//	return dxfout.Encode(w, d)
//
// All lengths are millimetres, all angles degrees counter-clockwise. Values
// are plain, functions are pure and safe to call from many goroutines, and the
// same input gives the same bytes.
package boltplate
