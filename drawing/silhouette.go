package drawing

import (
	"cmp"
	"math"
	"slices"

	"boltplate/internal/plane"
)

// Silhouette returns the closed outline of what the view shows: the outer
// boundaries of its visible edges, counter-clockwise, one for each piece that
// stands by itself. Arcs stay arcs, other curves are chords within tolerance,
// which is also how far apart the ends of two edges may be that meet; a
// tolerance that is not above 0 means 0.001. What encloses nothing, such as a
// line by itself, has no outline.
func (v View) Silhouette(tolerance float64) []Polyline {
	if !(tolerance > 0) {
		tolerance = 0.001
	}
	n := network{tolerance: tolerance}
	for i := range v.Items {
		if v.Items[i].Role == RoleOutline {
			n.add(v.Items[i].Shape)
		}
	}
	n.split()
	n.join()
	return n.outlines()
}

// Covering returns the view with a cover of its silhouette before its items, so
// that it hides what stands behind it.
func (v View) Covering() View {
	var c Cover
	for _, p := range v.Silhouette(0) {
		c.Loops = append(c.Loops, p.Vertices)
	}
	if len(c.Loops) > 0 {
		v.Items = append([]Item{{RoleOutline, c}}, v.Items...)
	}
	return v
}

// A network is the edges of a view cut where they meet.
type network struct {
	tolerance float64
	arcs      []Arc  // that edges are pieces of
	edges     []edge // straight pieces
	nodes     []node
	cells     map[[2]int][]int // of nodes, to find the one at a place
}

// An edge is a straight piece of a line or a curve.
type edge struct {
	a, b Point
	arc  int // which of the arcs it is a piece of, -1 for none
	from int // nodes, once joined
	to   int
}

// A node is where edges end.
type node struct {
	at   Point
	ends []int // edges by their index; those that arrive have it inverted (^)
}

func (n *network) add(s Shape) {
	chain := func(ps []Point, arc int) {
		for i := 1; i < len(ps); i++ {
			n.edges = append(n.edges, edge{a: ps[i-1], b: ps[i], arc: arc})
		}
	}
	f := flattener{n.tolerance / 4}
	arc := func(a Arc) {
		n.arcs = append(n.arcs, a)
		chain(f.arc(nil, a), len(n.arcs)-1)
	}
	loop := func(vs []Vertex, closed bool) {
		for i, v := range vs {
			if i+1 == len(vs) && !closed {
				return
			}
			next := vs[(i+1)%len(vs)].Point
			if a, ok := BulgeArc(v, next); ok {
				arc(a)
			} else {
				chain([]Point{v.Point, next}, -1)
			}
		}
	}
	switch s := s.(type) {
	case Arc:
		arc(s)
	case Circle:
		arc(Arc{s.Center, s.Radius, 0, 360})
	case Polyline:
		loop(s.Vertices, s.Closed)
	case Line, Ellipse, Conic:
		chain(f.curve(nil, s), -1)
	}
}

// split cuts edges where they cross or where one ends on another.
func (n *network) split() {
	order := make([]int, len(n.edges))
	boxes := make([]Rect, len(n.edges))
	for i := range n.edges {
		order[i] = i
		boxes[i] = Line{n.edges[i].a, n.edges[i].b}.Bounds().Grown(n.tolerance)
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(boxes[i].Min.X, boxes[j].Min.X) })
	cuts := make([][]float64, len(n.edges))
	for k, i := range order {
		for _, j := range order[k+1:] {
			if boxes[j].Min.X > boxes[i].Max.X {
				break
			}
			if boxes[i].Overlaps(boxes[j]) {
				n.cross(i, j, cuts)
			}
		}
	}
	var out []edge
	for i, e := range n.edges {
		slices.Sort(cuts[i])
		d := e.b.Sub(e.a)
		last := e.a
		for _, t := range cuts[i] {
			p := e.a.Add(d.Mul(t))
			if p.Sub(last).Len() > n.tolerance && p.Sub(e.b).Len() > n.tolerance {
				out = append(out, edge{a: last, b: p, arc: e.arc})
				last = p
			}
		}
		out = append(out, edge{a: last, b: e.b, arc: e.arc})
	}
	n.edges = out
}

// cross notes where edges i and j meet, as parts of their lengths.
func (n *network) cross(i, j int, cuts [][]float64) {
	e, o := &n.edges[i], &n.edges[j]
	d, f := e.b.Sub(e.a), o.b.Sub(o.a)
	near := func(k int, g *edge, dir, p Point) {
		if l := dot(dir, dir); l > 0 {
			t := dot(p.Sub(g.a), dir) / l
			if t > 0 && t < 1 && p.Sub(g.a.Add(dir.Mul(t))).Len() <= n.tolerance {
				cuts[k] = append(cuts[k], t)
			}
		}
	}
	near(i, e, d, o.a)
	near(i, e, d, o.b)
	near(j, o, f, e.a)
	near(j, o, f, e.b)
	det := d.X*f.Y - d.Y*f.X
	if math.Abs(det) < 1e-12*d.Len()*f.Len() {
		return
	}
	g := o.a.Sub(e.a)
	t, u := (g.X*f.Y-g.Y*f.X)/det, (g.X*d.Y-g.Y*d.X)/det
	if t > 0 && t < 1 && u > 0 && u < 1 {
		cuts[i], cuts[j] = append(cuts[i], t), append(cuts[j], u)
	}
}

// join makes one node of the ends that lie at one place, and one edge of those
// between the same two.
func (n *network) join() {
	n.cells = map[[2]int][]int{}
	seen := map[[2]int]bool{}
	out := n.edges[:0]
	for _, e := range n.edges {
		e.from, e.to = n.node(e.a), n.node(e.b)
		key := [2]int{min(e.from, e.to), max(e.from, e.to)}
		if e.from == e.to || seen[key] {
			continue
		}
		seen[key] = true
		i := len(out)
		out = append(out, e)
		n.nodes[e.from].ends = append(n.nodes[e.from].ends, i)
		n.nodes[e.to].ends = append(n.nodes[e.to].ends, ^i)
	}
	n.edges = out
}

// node returns the node at a place, a new one where there is none.
func (n *network) node(p Point) int {
	size := 2 * n.tolerance
	cell := [2]int{int(math.Floor(p.X / size)), int(math.Floor(p.Y / size))}
	for dx := -1; dx <= 1; dx++ {
		for dy := -1; dy <= 1; dy++ {
			for _, i := range n.cells[[2]int{cell[0] + dx, cell[1] + dy}] {
				if n.nodes[i].at.Sub(p).Len() <= 2*n.tolerance {
					return i
				}
			}
		}
	}
	n.nodes = append(n.nodes, node{at: p})
	n.cells[cell] = append(n.cells[cell], len(n.nodes)-1)
	return len(n.nodes) - 1
}

// outlines goes round the pieces of the network.
func (n *network) outlines() (out []Polyline) {
	piece := make([]int, len(n.nodes)) // which piece a node is in, from 1
	var loops [][]Point
	for i := range n.nodes {
		if piece[i] > 0 {
			continue
		}
		steps := n.round(n.lowest(i, i+1, piece))
		p := n.polyline(steps)
		if len(p.Vertices) < 2 || len(p.Vertices) == 2 && p.Vertices[0].Bulge == 0 && p.Vertices[1].Bulge == 0 {
			continue
		}
		out = append(out, p)
		loops = append(loops, Flatten(p, n.tolerance)[0])
	}
	// What stands inside another outline is no outline.
	kept := out[:0]
	for i := range out {
		inside := false
		for j := range loops {
			inside = inside || i != j && within(loops[j], loops[i][0])
		}
		if !inside {
			kept = append(kept, out[i])
		}
	}
	return kept
}

// lowest marks the piece that node i is in and returns the lowest of its nodes.
func (n *network) lowest(i, mark int, piece []int) int {
	stack, low := []int{i}, i
	piece[i] = mark
	for len(stack) > 0 {
		i, stack = stack[len(stack)-1], stack[:len(stack)-1]
		if p, q := n.nodes[i].at, n.nodes[low].at; p.Y < q.Y || p.Y == q.Y && p.X < q.X {
			low = i
		}
		for _, e := range n.nodes[i].ends {
			if o := n.far(e); piece[o] == 0 {
				piece[o] = mark
				stack = append(stack, o)
			}
		}
	}
	return low
}

// far returns the node to which an edge leads that leaves from a node.
func (n *network) far(end int) int {
	if end < 0 {
		return n.edges[^end].from
	}
	return n.edges[end].to
}

// round returns the edges on the way round a piece from its lowest node, with
// the outside on the right: at every node the next one counter-clockwise from
// the one that led there.
func (n *network) round(start int) (steps []int) {
	at, back := start, 270.0 // from below, where nothing is
	for range 2*len(n.edges) + 1 {
		next, least := 0, math.Inf(1)
		for _, e := range n.nodes[at].ends {
			turn := plane.Norm(n.direction(e) - back)
			if turn < 1e-9 && len(steps) > 0 { // the edge that led here comes last
				turn = 360
			}
			if turn < least {
				next, least = e, turn
			}
		}
		if math.IsInf(least, 1) || len(steps) > 0 && at == start && next == steps[0] {
			return steps
		}
		steps = append(steps, next)
		at, back = n.far(next), n.direction(next)+180
	}
	return nil
}

// direction returns in which direction an edge leaves a node, degrees.
func (n *network) direction(end int) float64 {
	if end < 0 {
		e := n.edges[^end]
		return e.a.Sub(e.b).Angle()
	}
	e := n.edges[end]
	return e.b.Sub(e.a).Angle()
}

// polyline makes a closed outline of edges: ways that lead out and back are
// left out, and the pieces of an arc are one.
func (n *network) polyline(steps []int) Polyline {
	var kept []int
	for _, e := range steps {
		if len(kept) > 0 && kept[len(kept)-1] == ^e {
			kept = kept[:len(kept)-1]
		} else {
			kept = append(kept, e)
		}
	}
	for len(kept) > 1 && kept[0] == ^kept[len(kept)-1] {
		kept = kept[1 : len(kept)-1]
	}
	if len(kept) == 0 {
		return Polyline{}
	}
	// Begin where one curve ends and another begins.
	for i := range kept {
		if !n.sameArc(kept[(i+len(kept)-1)%len(kept)], kept[i]) {
			kept = slices.Concat(kept[i:], kept[:i])
			break
		}
	}
	p := Polyline{Closed: true}
	for i := 0; i < len(kept); {
		j := i + 1
		for j < len(kept) && n.sameArc(kept[j-1], kept[j]) {
			j++
		}
		p.Vertices = append(p.Vertices, n.run(kept[i:j])...)
		i = j
	}
	return straightened(p, n.tolerance)
}

func (n *network) edge(end int) (e *edge, forward bool) {
	if end < 0 {
		return &n.edges[^end], false
	}
	return &n.edges[end], true
}

// sameArc reports whether two edges that follow each other are pieces of one
// arc in one sense.
func (n *network) sameArc(end, next int) bool {
	e, f := n.edge(end)
	o, g := n.edge(next)
	return e.arc >= 0 && e.arc == o.arc && f == g
}

// run returns the vertices of edges that are pieces of one arc, or of one
// edge, without the end.
func (n *network) run(ends []int) []Vertex {
	first, forward := n.edge(ends[0])
	start := n.startOf(ends[0])
	if first.arc < 0 {
		return []Vertex{{Point: start}}
	}
	c := n.arcs[first.arc].Center
	end := n.nodes[n.far(ends[len(ends)-1])].at
	from, to := start.Sub(c).Angle(), end.Sub(c).Angle()
	if !forward {
		from, to = to, from
	}
	sweep := plane.Sweep(from, to)
	if sweep == 360 && start != end { // less than rounding
		return []Vertex{{Point: start}}
	}
	if sweep <= 180 {
		return []Vertex{{start, bulgeOf(sweep, forward)}}
	}
	// More than half a turn: in two halves, so that no bulge is extreme.
	half := sweep / 2
	mid := from + half
	if !forward {
		mid = to - half
	}
	return []Vertex{{start, bulgeOf(half, forward)}, {c.Add(Polar(start.Sub(c).Len(), mid)), bulgeOf(half, forward)}}
}

func (n *network) startOf(end int) Point {
	e, forward := n.edge(end)
	if forward {
		return n.nodes[e.from].at
	}
	return n.nodes[e.to].at
}

// bulgeOf returns the bulge of an arc of some degrees.
func bulgeOf(sweep float64, forward bool) float64 {
	b := math.Tan(sweep / 4 * math.Pi / 180)
	if !forward {
		return -b
	}
	return b
}

// straightened returns p without corners that lie on the line between their
// neighbours.
func straightened(p Polyline, tolerance float64) Polyline {
	vs := p.Vertices
	out := make([]Vertex, 0, len(vs))
	for i, v := range vs {
		before, after := vs[(i+len(vs)-1)%len(vs)], vs[(i+1)%len(vs)]
		if before.Bulge == 0 && v.Bulge == 0 {
			if off, over := fromSegment(before.Point, after.Point, v.Point); over && off < tolerance/100 {
				continue
			}
		}
		out = append(out, v)
	}
	return Polyline{out, true}
}

// within reports whether p is inside a closed chain of points.
func within(chain []Point, p Point) bool {
	in := false
	for i := 1; i < len(chain); i++ {
		a, b := chain[i-1], chain[i]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	return in
}
