package fastener

import (
	"math"

	"boltplate/drawing"
	"boltplate/internal/solid"
)

// hatchSpacing is the distance of hatch lines, mm on paper, and hatchAngle
// their angle, degrees (common practice: 45, and not under 0.7 mm apart).
const (
	hatchSpacing = 2.5
	hatchAngle   = 45.0
)

// A cutaway is a local section in the front view: what lies before the plane of
// the axis is taken away from the end of the head at x = from as far as a break
// line at x = to, or from a break line at x = from as far as the end of the part.
// The rest of the part is seen from outside, since fasteners are not cut
// lengthwise.
type cutaway struct {
	from, to float64
	high     float64 // half height of the part at the break line
	room     float64 // how far the break line may wave to either side
	// face is the outline of the cut metal between the upper end of the break
	// line and its lower end.
	face []drawing.Vertex
	// half says that it is a half section: the lower half is cut, up to the
	// centre line, and face is all of the cut metal.
	half bool
	// end says that the end of the part is cut, beyond a break line at from.
	end bool
	// thin are narrow lines on the cut: the root of a thread.
	thin [][2]drawing.Point
}

// open takes away of the solids what is cut away. The cut itself is no edge,
// and no edge on the outside runs across it, where one solid goes over into the
// next.
func (c *cutaway) open(solids []solid.Solid) {
	const far = 1e3
	if c.half {
		front := solid.Box(solid.V(c.from-1, -far, 0), solid.V(c.to+1, 0, far)).Bare()
		for i := range solids {
			solids[i] = solids[i].Less(front)
		}
		return
	}
	from, to := c.from-1, c.to
	if c.end {
		from, to = c.from, c.to+1
	}
	front := solid.Box(solid.V(from, -far, 0), solid.V(to, far, far)).Bare()
	for i := range solids {
		solids[i] = solids[i].Without(solid.RoundBetween(c.from, c.to)).Less(front)
	}
}

// draw hatches the cut face and draws the line where the section breaks off,
// as if by hand: waves of unequal length. A section that ends with an edge,
// since there is no room beyond it, needs no such line.
func (c *cutaway) draw(b *builder) {
	if c.half {
		b.add(drawing.RoleHatching, drawing.Hatch{Loops: [][]drawing.Vertex{c.face}, Angle: hatchAngle,
			Spacing: hatchSpacing})
		for _, l := range c.thin {
			b.line(drawing.RoleThin, l[0].X, l[0].Y, l[1].X, l[1].Y)
		}
		return
	}
	parts := [...]float64{0, 0.3, 0.52, 0.77, 1}
	const bend = 0.2 // the bulge of a wave
	bulge := math.Min(bend, c.room/(0.3*c.high))
	var line []drawing.Vertex
	at := c.to
	if c.end {
		at = c.from
	}
	for _, p := range parts {
		line = append(line, drawing.Vertex{Point: drawing.Pt(at, c.high*(2*p-1)), Bulge: bulge})
		bulge = -bulge
	}
	line[len(line)-1].Bulge = 0
	if c.room > 0 {
		b.add(drawing.RoleThin, drawing.Polyline{Vertices: line})
	}
	loop := append(line[:len(line):len(line)], c.face...)
	b.add(drawing.RoleHatching, drawing.Hatch{Loops: [][]drawing.Vertex{loop}, Angle: hatchAngle,
		Spacing: hatchSpacing})
}

// corners returns points as the corners of an outline.
func corners(xy ...[2]float64) []drawing.Vertex {
	out := make([]drawing.Vertex, len(xy))
	for i, p := range xy {
		out[i].Point = drawing.Pt(p[0], p[1])
	}
	return out
}
