// Package fastener holds the threaded fasteners: typed descriptions that know
// their proportions and standard sizes and draw their own views.
//
// A kind is a struct whose zero fields mean the usual choice. Quantities
// returns every dimension of it with the rule and the source it was made from;
// View returns one view as lines and arcs by role, with dimensions that are not
// placed yet; Draw puts views in projection into a drawing that an exporter can
// write:
//
//	bolt := fastener.HexBolt{Thread: thread.MustParse("M16"), Length: 80}
//	d, err := fastener.Draw(bolt, fastener.DrawOptions{})
//
// # Two bases of size
//
// Basis Proportion uses the drawing office's rules in terms of the nominal
// diameter D. Basis Standard uses the tables of the product standards. Where
// two rules of the trade cannot both hold (2D across corners and 1.5D + 3
// across flats agree only at D = 12.9 mm), Governs says which one is kept, and
// the other size follows from it.
//
// Some kinds have one basis only; KindInfo.Options says so. Of many kinds a
// part of the sizes is common practice or from memory: each Quantity says it of
// itself, in its Status and its Source.
//
// # Coordinates
//
// In elevations the axis is horizontal and the head to the left; the origin is
// on the axis at the bearing face of the head (of a nut or a washer: its own
// bearing face; of a countersunk head: the face that ends flush; of a flat eye:
// the centre of the eye; of a stud: the outer face of the metal end; of a taper
// bolt: the large end), x runs along the axis towards the point and y up. In
// end views the origin is the axis. The side view of what is neither hexagonal
// nor square is the plan, from above. The isometric view (ISO 5456-3) has the
// axis to the right at 30 degrees and lengths along the axes in true size.
//
// # Conventions
//
// Threads follow ISO 6410-1: crests and the limit of the usable thread are wide
// lines, roots and run-out narrow ones; the root is never drawn nearer to the
// crest than twice the wide line or 0.7 mm on paper, even where the thread is
// finer than that. The curves where a chamfer cone meets the flats are arcs
// through three points of the true hyperbola, or with Options.Exact the
// hyperbola itself. In the isometric view a thread is shown by rings. Not drawn: the washer face and the fillet under a head, and
// countersinks of nuts, which drawings of fasteners leave out.
//
// Fasteners carry loads, and a wrong one can hurt people. The figures here are
// for drawing; strength, material, tightening and approval for a use are the
// maker's and a competent engineer's to state.
package fastener
