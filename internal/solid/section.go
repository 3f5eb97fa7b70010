package solid

import "math"

// Section returns the curve from a to b in which the plane through them across
// normal cuts the side of s, a cone or cylinder; both points are on it. The
// curve is a conic section, or straight. It is the shorter one of those between
// the points, less than half an ellipse.
func (s Solid) Section(a, b, normal Vec) Curve {
	u, v := across(s.ax.Dir)
	k := (s.r1 - s.r0) / (s.s1 - s.s0)
	q := roundAbout(s.ax.at(s.s0), u, v, s.ax.Dir, s.r0, k)
	qa, qb := q.at(a), q.at(b)
	// The tangents of the curve at its ends.
	ta, tb := q.gradient(&qa).Cross(normal), q.gradient(&qb).Cross(normal)
	chord := b.Sub(a)
	if ta.Cross(chord).Len() < 1e-9*ta.Len()*chord.Len() {
		return Segment(a, b)
	}
	// They meet at the control point: a + t ta, on the tangent at b.
	side := tb.Cross(normal)
	c := a.Add(ta.Mul(side.Dot(chord) / side.Dot(ta)))
	qc := q.at(c)
	return Curve{Shape: Rational, A: a, C: c, B: b, W: math.Sqrt(-qa.times(&qb) / (2 * qc.times(&qc)))}
}

// gradient returns half the gradient of the quad where its linear functions
// have the values v.
func (q *quad) gradient(v *val) Vec {
	return q.l[0].n.Mul(v[0]).Add(q.l[1].n.Mul(v[1])).Add(q.l[2].n.Mul(v[2])).Sub(q.l[3].n.Mul(v[3]))
}
