package dxfin

import (
	"math"

	"boltplate/drawing"
)

// A PlaneSpline is a B-spline in the drawing plane, rational where it has
// weights.
type PlaneSpline struct {
	Degree  int
	Knots   []float64
	Weights []float64 // nil: all are 1
	Control []drawing.Point
}

// Domain returns the parameters at which the curve starts and ends.
func (s *PlaneSpline) Domain() (from, to float64) {
	return s.Knots[s.Degree], s.Knots[len(s.Control)]
}

// At returns the point at a parameter of the domain, by de Boor's algorithm.
func (s *PlaneSpline) At(t float64) drawing.Point {
	p, n := s.Degree, len(s.Control)
	k := p
	for k < n-1 && t >= s.Knots[k+1] {
		k++
	}
	var x, y, w [maxDegree + 1]float64
	for j := 0; j <= p; j++ {
		c, weight := s.Control[k-p+j], 1.0
		if s.Weights != nil {
			weight = s.Weights[k-p+j]
		}
		x[j], y[j], w[j] = weight*c.X, weight*c.Y, weight
	}
	for r := 1; r <= p; r++ {
		for j := p; j >= r; j-- {
			low, high := s.Knots[j+k-p], s.Knots[j+1+k-r]
			a := 0.0
			if high > low {
				a = (t - low) / (high - low)
			}
			x[j], y[j], w[j] = (1-a)*x[j-1]+a*x[j], (1-a)*y[j-1]+a*y[j], (1-a)*w[j-1]+a*w[j]
		}
	}
	return drawing.Pt(x[p]/w[p], y[p]/w[p])
}

// Chords returns points on the curve, both ends included, n in each span
// between different knots.
func (s *PlaneSpline) Chords(n int) []drawing.Point {
	from, _ := s.Domain()
	points := []drawing.Point{s.At(from)}
	for i := s.Degree; i < len(s.Control); i++ {
		a, b := s.Knots[i], s.Knots[i+1]
		if !(b > a) {
			continue
		}
		for j := 1; j <= n; j++ {
			points = append(points, s.At(a+(b-a)*float64(j)/float64(n)))
		}
	}
	return points
}

// Bounds returns the extent of the control points, in which the curve lies.
func (s *PlaneSpline) Bounds() drawing.Rect {
	r := drawing.EmptyRect()
	for _, p := range s.Control {
		r = r.Including(p)
	}
	return r
}

// bulged returns the segment from a vertex: a line or an arc, in coordinates
// in which it lies; ok is false where it has no length.
func bulged(a, b Vec3, bulge float64) (c Vec3, r, start, end float64, arc, ok bool) {
	dx, dy := b.X-a.X, b.Y-a.Y
	chord := math.Hypot(dx, dy)
	if chord == 0 {
		return c, 0, 0, 0, false, false
	}
	if math.Abs(bulge) < 1e-9 {
		return c, 0, 0, 0, false, true
	}
	// The centre is on the left of the chord where the bulge is below a half
	// circle and positive.
	h := (1 - bulge*bulge) / (4 * bulge)
	c = Vec3{(a.X+b.X)/2 - dy*h, (a.Y+b.Y)/2 + dx*h, a.Z}
	r = chord * (1 + bulge*bulge) / (4 * math.Abs(bulge))
	start, end = math.Atan2(a.Y-c.Y, a.X-c.X), math.Atan2(b.Y-c.Y, b.X-c.X)
	if bulge < 0 {
		start, end = end, start
	}
	return c, r, start, end, true, true
}

// Chords returns points on the curve, both ends included (of a closed curve
// the first and the last are the same), so that no chord is further off than
// tolerance, about; a spline has at least 8 chords in each span.
func (c *Curve) Chords(tolerance float64) []drawing.Point {
	switch s := c.Shape.(type) {
	case drawing.Line:
		return []drawing.Point{s.From, s.To}
	case drawing.Circle:
		return arcChords(s.Center, drawing.Pt(s.Radius, 0), drawing.Pt(0, s.Radius), 0, 360, tolerance)
	case drawing.Arc:
		return arcChords(s.Center, drawing.Pt(s.Radius, 0), drawing.Pt(0, s.Radius), s.Start, s.Start+fullSweep(s.Start, s.End), tolerance)
	case drawing.Ellipse:
		minor := drawing.Pt(-s.Major.Y, s.Major.X).Mul(s.Ratio)
		if s.Start == s.End {
			return arcChords(s.Center, s.Major, minor, 0, 360, tolerance)
		}
		return arcChords(s.Center, s.Major, minor, s.Start, s.Start+fullSweep(s.Start, s.End), tolerance)
	}
	if c.Spline == nil {
		return nil
	}
	length := 0.0 // of the control polygon
	for i := 1; i < len(c.Spline.Control); i++ {
		length += c.Spline.Control[i].Sub(c.Spline.Control[i-1]).Len()
	}
	spans := float64(len(c.Spline.Control) - c.Spline.Degree)
	n := math.Ceil(math.Sqrt(length / spans / max(tolerance, 1e-9)))
	return c.Spline.Chords(int(min(max(8, n), 64)))
}

func fullSweep(start, end float64) float64 {
	s := turned(end - start)
	if s == 0 {
		s = 360
	}
	return s
}

// maxChords bounds the chords of an arc.
const maxChords = 720

func arcChords(c, u, v drawing.Point, start, end, tolerance float64) []drawing.Point {
	size := max(u.Len(), v.Len())
	step := 2 * math.Acos(max(1-tolerance/size, -1)) * 180 / math.Pi
	n := 1 + int(min((end-start)/min(step, 30), maxChords))
	points := make([]drawing.Point, 0, n+1)
	for i := range n + 1 {
		sin, cos := math.Sincos(radians(start + (end-start)*float64(i)/float64(n)))
		points = append(points, c.Add(u.Mul(cos)).Add(v.Mul(sin)))
	}
	return points
}
