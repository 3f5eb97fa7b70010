package pdf

import (
	"encoding/binary"
	"math"
	"slices"
	"unicode/utf16"

	"boltplate/drawing/lettering"
)

// subset returns a TrueType font with the glyphs of a few characters, and
// nothing of the font's file but their outlines and widths: whatever that file
// is like, the library that embeds fonts reads one that is plain and sound.
// codes lists the characters under the numbers that they have in the subset,
// which rise.
func subset(f *lettering.Font, codes []code) []byte {
	s := subsetter{font: f}
	s.glyph(0, 0) // what is shown in place of a character that is missing
	for _, c := range codes {
		s.glyph(c.r, f.Units(string(c.r)))
	}
	return assemble([]table{
		{"OS/2", s.os2()}, {"cmap", cmap(codes)}, {"glyf", s.glyf}, {"head", s.head()}, {"hhea", s.hhea()},
		{"hmtx", s.hmtx}, {"loca", s.loca()}, {"maxp", s.maxp()}, {"name", name(f.Name())}, {"post", post()},
	})
}

// A code is the number of a character in a subset. It is the character itself,
// or a number for private use where that is beyond what the library can write.
type code struct {
	r    rune
	code uint16
}

type subsetter struct {
	font       *lettering.Font
	glyf, hmtx []byte
	offsets    []int
	points     int // of the glyph that has most
	contours   int
	low, high  [2]int // of all outlines
	widest     int
	outline    []outlinePoint
	ends       []int // of the contours
	at         [2]int
}

type outlinePoint struct {
	x, y int16
	on   bool
}

func be16(b []byte, vs ...int) []byte {
	for _, v := range vs {
		b = binary.BigEndian.AppendUint16(b, uint16(v))
	}
	return b
}

func clamp(v int) int16 { return int16(min(max(v, math.MinInt16), math.MaxInt16)) }

// glyph appends a glyph: that of r, or an empty one for 0.
func (s *subsetter) glyph(r rune, width int) {
	s.offsets = append(s.offsets, len(s.glyf))
	s.outline, s.ends = s.outline[:0], s.ends[:0]
	if r != 0 {
		s.font.Outline(string(r), s.segment)
		s.finish()
	}
	s.widest = max(s.widest, width)
	low, high := s.box()
	s.hmtx = be16(s.hmtx, min(width, math.MaxInt16), low[0])
	if len(s.ends) == 0 {
		return
	}
	b := be16(s.glyf, len(s.ends), low[0], low[1], high[0], high[1])
	b = be16(b, s.ends...)
	b = be16(b, 0) // no instructions
	for _, p := range s.outline {
		if p.on {
			b = append(b, 1)
		} else {
			b = append(b, 0)
		}
	}
	var last outlinePoint
	for _, p := range s.outline {
		b = be16(b, int(p.x)-int(last.x))
		last = p
	}
	last = outlinePoint{}
	for _, p := range s.outline {
		b = be16(b, int(p.y)-int(last.y))
		last = p
	}
	for len(b)%4 != 0 {
		b = append(b, 0)
	}
	s.glyf = b
	s.points, s.contours = max(s.points, len(s.outline)), max(s.contours, len(s.ends))
	for i := range 2 {
		s.low[i], s.high[i] = min(s.low[i], low[i]), max(s.high[i], high[i])
	}
}

func (s *subsetter) box() (low, high [2]int) {
	for i, p := range s.outline {
		x, y := int(p.x), int(p.y)
		if i == 0 {
			low, high = [2]int{x, y}, [2]int{x, y}
		}
		low = [2]int{min(low[0], x), min(low[1], y)}
		high = [2]int{max(high[0], x), max(high[1], y)}
	}
	return low, high
}

// segment takes in a segment of an outline.
func (s *subsetter) segment(op lettering.Op, p [3][2]int) {
	switch op {
	case lettering.MoveTo:
		s.finish()
		s.to(p[0], true)
	case lettering.LineTo:
		s.to(p[0], true)
	case lettering.QuadTo:
		s.to(p[0], false)
		s.to(p[1], true)
	case lettering.CubeTo:
		s.cubic(s.at, p)
	}
}

func (s *subsetter) to(p [2]int, on bool) {
	s.outline = append(s.outline, outlinePoint{clamp(p[0]), clamp(p[1]), on})
	s.at = p
}

// finish ends a contour, which closes by itself.
func (s *subsetter) finish() {
	start := 0
	if n := len(s.ends); n > 0 {
		start = s.ends[n-1] + 1
	}
	n := len(s.outline)
	if n-start > 1 && s.outline[n-1] == s.outline[start] {
		n--
	}
	if n-start < 2 { // nothing that could be filled
		s.outline = s.outline[:start]
		return
	}
	s.outline, s.ends = s.outline[:n], append(s.ends, n-1)
}

// cubic follows a cubic curve in quadratic ones, to half a unit: one curve is
// off by the square root of 3 over 36 times the third difference, n of them by
// the cube of n less.
func (s *subsetter) cubic(a [2]int, p [3][2]int) {
	third := [2]float64{}
	for i := range 2 {
		third[i] = float64(p[2][i] - 3*p[1][i] + 3*p[0][i] - a[i])
	}
	off := math.Sqrt(3) / 36 * math.Hypot(third[0], third[1])
	n := min(max(1, int(math.Ceil(math.Cbrt(off/0.5)))), 16)
	at := func(t float64) (point, ahead [2]float64) {
		u := 1 - t
		for i := range 2 {
			q := [4]float64{float64(a[i]), float64(p[0][i]), float64(p[1][i]), float64(p[2][i])}
			point[i] = u*u*u*q[0] + 3*u*u*t*q[1] + 3*u*t*t*q[2] + t*t*t*q[3]
			ahead[i] = 3 * (u*u*(q[1]-q[0]) + 2*u*t*(q[2]-q[1]) + t*t*(q[3]-q[2]))
		}
		return point, ahead
	}
	for i := range n {
		from, out := at(float64(i) / float64(n))
		to, in := at(float64(i+1) / float64(n))
		var control, end [2]int
		for k := range 2 { // the middle of where the two tangents would put it
			control[k] = int(math.Round((from[k] + to[k] + (out[k]-in[k])/float64(2*n)) / 2))
			end[k] = int(math.Round(to[k]))
		}
		s.to(control, false)
		s.to(end, true)
	}
}

func (s *subsetter) loca() (b []byte) {
	for _, o := range s.offsets {
		b = binary.BigEndian.AppendUint32(b, uint32(o))
	}
	return binary.BigEndian.AppendUint32(b, uint32(len(s.glyf)))
}

func (s *subsetter) head() []byte {
	b := be16(nil, 1, 0, 1, 0, 0, 0, 0x5f0f, 0x3cf5, 0, s.font.Em())
	b = append(b, make([]byte, 16)...) // no dates
	b = be16(b, s.low[0], s.low[1], s.high[0], s.high[1])
	return be16(b, 0, 8, 2, 1, 0) // long offsets
}

func (s *subsetter) hhea() []byte {
	b := be16(nil, 1, 0, s.high[1], s.low[1], 0, min(s.widest, math.MaxInt16), 0, 0, s.high[0], 1, 0, 0, 0, 0, 0, 0, 0)
	return be16(b, len(s.offsets))
}

func (s *subsetter) maxp() []byte {
	return be16(nil, 1, 0, len(s.offsets), s.points, s.contours, 0, 0, 1, 0, 0, 0, 0, 0, 0, 0, 0)
}

// os2 returns the table OS/2, version 2: a regular face whose capitals are as
// high as the font's.
func (s *subsetter) os2() []byte {
	b := be16(nil, 2, s.font.Em()/2, 400, 5, 0)
	b = append(b, make([]byte, 48)...) // sub- and superscripts, class, ranges
	b = append(b, "    "...)
	b = be16(b, 0x40, 0, 0xffff, s.high[1], s.low[1], 0, max(0, s.high[1]), max(0, -s.low[1]))
	b = append(b, make([]byte, 8)...)
	return be16(b, s.font.Capital()/2, s.font.Capital(), 0, 0, 0)
}

// cmap returns the table of characters, in the one format that the library
// reads: segments of numbers that follow each other.
func cmap(codes []code) []byte {
	var starts, ends, deltas []int
	for i, c := range codes {
		n := int(c.code)
		if i > 0 && ends[len(ends)-1] == n-1 {
			ends[len(ends)-1] = n
			continue
		}
		starts, ends, deltas = append(starts, n), append(ends, n), append(deltas, i+1-n)
	}
	starts, ends, deltas = append(starts, 0xffff), append(ends, 0xffff), append(deltas, 1)
	n := len(starts)
	b := be16(nil, 0, 1, 3, 1, 0, 12)
	b = be16(b, 4, 16+8*n, 0, 2*n, 0, 0, 0)
	b = be16(b, ends...)
	b = be16(b, 0)
	b = be16(b, starts...)
	b = be16(b, deltas...)
	return append(b, make([]byte, 2*n)...)
}

func name(s string) []byte {
	text := utf16.Encode([]rune(s))
	text = text[:min(len(text), 200)]
	ids := []int{1, 4, 6}
	b := be16(nil, 0, len(ids), 6+12*len(ids))
	for _, id := range ids {
		b = be16(b, 3, 1, 0x409, id, 2*len(text), 0)
	}
	for _, u := range text {
		b = be16(b, int(u))
	}
	return b
}

func post() []byte { return append(be16(nil, 3, 0, 0, 0, -100, 50), make([]byte, 20)...) }

type table struct {
	tag  string
	data []byte
}

// assemble returns the file of the tables, which are in the order of their
// tags.
func assemble(tables []table) []byte {
	b := be16(nil, 1, 0, len(tables), 128, 3, 16*len(tables)-128)
	offset := len(b) + 16*len(tables)
	for _, t := range tables {
		b = append(b, t.tag...)
		b = binary.BigEndian.AppendUint32(b, checksum(t.data))
		b = binary.BigEndian.AppendUint32(b, uint32(offset))
		b = binary.BigEndian.AppendUint32(b, uint32(len(t.data)))
		offset += (len(t.data) + 3) &^ 3
	}
	for _, t := range tables {
		b = append(b, t.data...)
		b = append(b, make([]byte, (4-len(t.data)%4)%4)...)
	}
	return b
}

func checksum(data []byte) (sum uint32) {
	for len(data)%4 != 0 {
		data = append(slices.Clip(data), 0)
	}
	for ; len(data) > 0; data = data[4:] {
		sum += binary.BigEndian.Uint32(data)
	}
	return sum
}
