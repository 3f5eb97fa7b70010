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
// On basis Standard the width across flats governs: standards state it, and across
// corners a least size for inspection alone, which is listed as one. Rules are
// expressions of package rule: the value of a size is that of its rule, to the
// last digit. Rules puts rules of one's own in the place of those here; what
// follows from others, what a standard states, and the figures of the thread stay
// as they are.
//
// Lengths that ISO 888 does not list are drawn, and the source of the length says
// so. A size, a pitch or a form that is not held here of a standard is refused with
// those that are held; nothing here says that a standard lacks it.
//
// Some kinds have one basis only; KindInfo.Options says so. Of many kinds a
// part of the sizes is common practice or from memory: each Quantity says it of
// itself, in its Status and its Source. Editions says which editions the figures
// are of, and Superseded which of them have successors.
//
// # Coordinates
//
// In elevations the axis is horizontal and the head to the left; the origin is
// on the axis at the bearing face of the head (of a nut or a washer: its own
// bearing face; of a countersunk head: the face that ends flush; of a flat eye:
// the centre of the eye; of a stud: the outer face of the metal end; of a taper
// bolt: the large end), x runs along the axis towards the point and y up. In
// end views the origin is the axis. The side view is the plan, from above, but
// for a square (see below). The isometric view (ISO 5456-3) has the
// axis to the right at 30 degrees and lengths along the axes in true size.
//
// # Conventions
//
// Threads follow ISO 6410-1: crests and the limit of the usable thread are wide
// lines, roots and run-out narrow ones; the root is never drawn nearer to the
// crest than twice the wide line or 0.7 mm on paper, even where the thread is
// finer than that; the edge of a cup at its end and the floor of an undercut go in
// with it. Seen along the axis a thread is three quarters of a circle, and the
// chamfer at a thread's end and the floor of an undercut are left out. A bolt
// covers the thread of the nut on it. In the isometric view a thread is shown by rings. Flat faces on a
// round part carry crossed diagonals where they are seen true (ISO 128-3). A
// square looks the same after a quarter of a turn: the side view of a square
// head or nut is an eighth of a turn from the front view, unless what is on the
// bolt is not square.
//
// # Hidden edges
//
// With Options.Hidden every edge and silhouette that is behind something is
// there once, dashed, of every part of the figure: of a bolt in its nut and
// washer too, and its thread there. Left out are only what a visible line
// covers, the chamfer of a thread's end seen along the axis, diagonals of flats
// (both by the conventions above), and in the isometric view all hidden edges.
//
// # Simplifications
//
// A drawing office simplifies small curves. These are all that the views have;
// Options.Exact undoes each of them:
//
//   - The curve where a chamfer cone meets a flat is drawn as one arc through
//     three points of the hyperbola, on a square that stands on its corner as
//     three arcs. The isometric view has the hyperbola itself.
//   - In elevations the line where a snug, a nib or a pin across the axis meets
//     the shank is straight, on the outline of the shank.
//   - The plan of a spring washer leaves out the cut, which would only thicken
//     its outline.
//   - Seen along the axis, the edge of the cone at the bottom of a socket is left
//     out, and the small end of a taper where it would stand nearer on paper to
//     the large end or to the thread than the lines of a thread may.
//   - A split pin that would stand nearer on paper to the walls of its slots than
//     lines may is drawn as wide as they are, its eye smaller or as wide.
//   - In elevations the edge of a countersunk head's land is left out where it
//     would stand as near to the face.
//   - In elevations a cross recess is left out, and where hidden edges are shown
//     drawn as its extent.
//
// Curves that are no conic sections (the outline of a ring in the isometric
// view, where two cylinders meet) are drawn in arcs that are nowhere farther
// than 0.0005 mm from the true curve. Not part of the model, and in no view: the
// washer face and the fillet under a head, and countersinks of nuts, which
// drawings of fasteners leave out.
//
// Fasteners carry loads, and a wrong one can hurt people. The figures here are
// for drawing; strength, material, tightening and approval for a use are the
// maker's and a competent engineer's to state.
package fastener
