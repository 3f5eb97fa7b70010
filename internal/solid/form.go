package solid

import "math"

// A lin is a linear function of a point: n.p + d. A plane is where it is zero.
type lin struct {
	n Vec
	d float64
}

func (l *lin) at(p Vec) float64  { return l.n.Dot(p) + l.d }
func (l *lin) dir(v Vec) float64 { return l.n.Dot(v) }

// plane returns the plane through o with the normal n: below it, the function
// is negative.
func planeThrough(o, n Vec) lin { return lin{n, -n.Dot(o)} }

// A quad is a surface or curve of the second degree, as squares of linear
// functions: l[0]² + l[1]² + l[2]² = l[3]². A cone or cylinder has l[2] zero and
// in l[3] its radius, which grows along the axis; a sphere has a constant in
// l[3]; a conic in the picture does not depend on z. Inside, the left side is
// smaller and l[3] is positive.
type quad struct {
	l      [4]lin
	ball   bool    // l[2] counts
	secant float64 // how much a margin takes from l[3]
	zz     float64 // half the second derivative along z
}

func roundAbout(o, u, v, a Vec, r, k float64) quad {
	q := quad{secant: math.Sqrt(1 + k*k)}
	q.l[0], q.l[1] = planeThrough(o, u), planeThrough(o, v)
	q.l[3] = lin{a.Mul(k), r - k*a.Dot(o)}
	q.settle()
	return q
}

func sphereAt(o Vec, r float64) quad {
	q := quad{ball: true, secant: 1}
	q.l[0], q.l[1], q.l[2] = planeThrough(o, xAxis), planeThrough(o, yAxis), planeThrough(o, zAxis)
	q.l[3].d = r
	q.settle()
	return q
}

func (q *quad) settle() {
	q.zz = q.l[0].n.Z*q.l[0].n.Z + q.l[1].n.Z*q.l[1].n.Z + q.l[2].n.Z*q.l[2].n.Z - q.l[3].n.Z*q.l[3].n.Z
}

// over returns the middle of what l is in a box, and how much it differs from
// that.
func (l *lin) over(lo, hi *Vec) (mid, half float64) {
	mid = (l.n.X*(lo.X+hi.X)+l.n.Y*(lo.Y+hi.Y)+l.n.Z*(lo.Z+hi.Z))/2 + l.d
	half = (math.Abs(l.n.X)*(hi.X-lo.X) + math.Abs(l.n.Y)*(hi.Y-lo.Y) + math.Abs(l.n.Z)*(hi.Z-lo.Z)) / 2
	return mid, half
}

// sure reports whether l is not zero in the box of a curve.
func (l *lin) sure(c *pcurve) bool {
	mid, half := l.over(&c.lo, &c.hi)
	return math.Abs(mid) > half+near
}

// sure reports whether q is not zero in the box of a curve.
func (q *quad) sure(c *pcurve) bool {
	lo, hi := 0.0, 0.0
	for i := range q.l {
		if i == 2 && !q.ball {
			continue
		}
		mid, half := q.l[i].over(&c.lo, &c.hi)
		mid = math.Abs(mid)
		least, most := max(0, mid-half), mid+half
		if least, most = least*least, most*most; i == 3 {
			lo, hi = lo-most, hi-least
		} else {
			lo, hi = lo+least, hi+most
		}
	}
	return lo > near || hi < -near
}

// A val holds the four linear functions at a point, or along a vector.
type val [4]float64

func (q *quad) at(p Vec) (v val) {
	v[0], v[1], v[3] = q.l[0].at(p), q.l[1].at(p), q.l[3].at(p)
	if q.ball {
		v[2] = q.l[2].at(p)
	}
	return v
}

func (q *quad) dir(d Vec) (v val) {
	v[0], v[1], v[3] = q.l[0].dir(d), q.l[1].dir(d), q.l[3].dir(d)
	if q.ball {
		v[2] = q.l[2].dir(d)
	}
	return v
}

// times is the bilinear form of the quad.
func (v *val) times(w *val) float64 { return v[0]*w[0] + v[1]*w[1] + v[2]*w[2] - v[3]*w[3] }

// size is what rounding in times is small against.
func (v *val) size() float64 { return v[0]*v[0] + v[1]*v[1] + v[2]*v[2] + v[3]*v[3] }

// contains reports whether p is inside by the margin.
func (q *quad) contains(p Vec, margin float64) bool {
	v := q.at(p)
	v[3] -= margin * q.secant
	return v[3] >= 0 && v.times(&v) <= 0
}

// span returns where the line through p along z is inside by the margin, as
// distances from p; lo > hi for nowhere.
func (q *quad) span(p Vec, margin float64) (lo, hi float64) {
	v := q.at(p)
	v[3] -= margin * q.secant
	z := val{q.l[0].n.Z, q.l[1].n.Z, q.l[2].n.Z, q.l[3].n.Z}
	a, b, c := q.zz, v.times(&z), v.times(&v)
	inf := math.Inf(1)
	switch {
	case math.Abs(a) < 1e-13:
		switch {
		case math.Abs(b) < 1e-13:
			if c > 0 || v[3] < 0 {
				return inf, -inf
			}
			return -inf, inf
		case b > 0:
			lo, hi = -inf, -c/(2*b)
		default:
			lo, hi = -c/(2*b), inf
		}
	case a > 0:
		disc := b*b - a*c
		if disc <= 0 {
			return inf, -inf
		}
		root := math.Sqrt(disc)
		lo, hi = (-b-root)/a, (-b+root)/a
	default: // inside both nappes of the cone: keep the one with a radius
		root := math.Sqrt(math.Max(0, b*b-a*c))
		if z[3] > 0 {
			lo, hi = (-b-root)/a, inf
		} else {
			lo, hi = -inf, (-b+root)/a
		}
	}
	switch { // radius at least 0
	case z[3] > 1e-13:
		lo = math.Max(lo, -v[3]/z[3])
	case z[3] < -1e-13:
		hi = math.Min(hi, -v[3]/z[3])
	case v[3] < 0:
		return inf, -inf
	}
	return lo, hi
}

// polar is half the derivative along z: it is zero where the surface turns
// away from the sight.
func (q *quad) polar() lin {
	var p lin
	for i := range 4 {
		l := &q.l[i]
		k := l.n.Z
		if i == 3 {
			k = -k
		}
		p.n, p.d = p.n.Add(l.n.Mul(k)), p.d+l.d*k
	}
	return p
}

// facing says which way the surface looks, for a cone or cylinder about the
// unit vector a whose radius grows by k along it.
func facingRound(a Vec, k float64) facing {
	mid, half := -k*a.Z, math.Sqrt(math.Max(0, 1-a.Z*a.Z))
	switch {
	case mid-half > level:
		return front
	case mid+half < -level:
		return back
	case half < level: // a cylinder seen along its axis
		return edgeOn
	}
	return mixed
}

// A facing says whether a face looks towards the viewer.
type facing uint8

const (
	mixed facing = iota
	front
	back
	edgeOn
)

const level = 1e-12

func facingOf(z float64) facing {
	switch {
	case z > level:
		return front
	case z < -level:
		return back
	}
	return edgeOn
}
