package dxfin

import (
	"bytes"
	"encoding/binary"
	"math"
	"strconv"
)

// A group is one pair of the file: a code, and a value that is text in an
// ASCII file and a number or text in a binary one.
type group struct {
	code   int
	text   []byte
	number float64 // of a binary file, where numeric
	// numeric says that number holds the value.
	numeric bool
	line    int // of the value; 0 in a binary file
	offset  int // of the value
}

// A scanner reads groups one after the other.
type scanner struct {
	data   []byte
	pos    int
	line   int // lines read
	binary bool
	short  bool // codes of one byte: binary files before R13
	commas int  // line of the first decimal comma, or 0
}

// binaryMark is how the first 22 bytes of a binary file end; before it stands
// the name of the program that the format comes from.
var binaryMark = []byte(" Binary DXF\r\n\x1a\x00")

const binaryStart = 22

func newScanner(data []byte) *scanner {
	s := &scanner{data: data}
	if len(data) >= binaryStart && bytes.HasSuffix(data[:binaryStart], binaryMark) {
		s.binary, s.pos = true, binaryStart
		// The first group is 0 SECTION: the code's second byte is 0, or is an S.
		s.short = len(data) > binaryStart+1 && data[binaryStart+1] != 0
		return s
	}
	if bytes.HasPrefix(data, []byte("\xef\xbb\xbf")) {
		s.pos = 3
	}
	return s
}

// next returns the next group that is no comment; ok is false at the end of
// the file.
func (s *scanner) next() (g group, ok bool, err error) {
	for {
		if s.binary {
			g, ok, err = s.nextBinary()
		} else {
			g, ok, err = s.nextText()
		}
		if !ok || err != nil || g.code != 999 {
			return g, ok, err
		}
	}
}

// textLine returns the next line without its end.
func (s *scanner) textLine() (line []byte, ok bool) {
	if s.pos >= len(s.data) {
		return nil, false
	}
	rest := s.data[s.pos:]
	i := 0
	for i < len(rest) && rest[i] != '\n' && rest[i] != '\r' {
		i++
	}
	end := i + 1 // a lone CR ends a line too
	if i+1 < len(rest) && rest[i] == '\r' && rest[i+1] == '\n' {
		end++
	}
	s.pos += min(end, len(rest))
	s.line++
	return rest[:i], true
}

func (s *scanner) nextText() (g group, ok bool, err error) {
	start := s.pos
	line, ok := s.textLine()
	if !ok {
		return g, false, nil
	}
	code := bytes.TrimSpace(line)
	n, good := wholeNumber(code)
	if !good || n < 0 || n > 1071 {
		if s.atEnd(start) {
			return g, false, nil
		}
		return g, false, &SyntaxError{Line: s.line, Offset: start, Got: quoted(code), Want: "a group code, a whole number from 0 to 1071"}
	}
	at := s.pos
	value, ok := s.textLine()
	if !ok {
		return g, false, &SyntaxError{Line: s.line + 1, Offset: at, Got: "end of file", Want: "the value of group code " + strconv.Itoa(n)}
	}
	return group{code: n, text: value, line: s.line, offset: at}, true, nil
}

// atEnd reports whether nothing but blanks, zeros and an end-of-file mark
// follows.
func (s *scanner) atEnd(from int) bool {
	return len(bytes.Trim(s.data[from:], " \t\r\n\x00\x1a")) == 0
}

// wholeNumber parses a whole number with an optional sign, or one that is
// written with a point and zeros.
func wholeNumber(b []byte) (int, bool) {
	i, neg := 0, false
	if len(b) > 0 && (b[0] == '-' || b[0] == '+') {
		neg, i = b[0] == '-', 1
	}
	start, n := i, 0
	for ; i < len(b) && b[i] >= '0' && b[i] <= '9'; i++ {
		if n > math.MaxInt32 {
			return 0, false
		}
		n = 10*n + int(b[i]-'0')
	}
	if i == start {
		return 0, false
	}
	if i < len(b) && b[i] == '.' {
		for i++; i < len(b) && b[i] == '0'; i++ {
		}
	}
	if neg {
		n = -n
	}
	return n, i == len(b)
}

func (s *scanner) nextBinary() (g group, ok bool, err error) {
	if s.atEnd(s.pos) && len(s.data)-s.pos < 4 {
		return g, false, nil
	}
	g.offset = s.pos
	if g.code, err = s.binaryCode(); err != nil {
		return g, false, err
	}
	g.offset = s.pos
	switch kindOf(g.code) {
	case aText:
		end := bytes.IndexByte(s.data[s.pos:], 0)
		if end < 0 {
			return g, false, s.cut("a text that ends with a zero byte")
		}
		g.text = s.data[s.pos : s.pos+end]
		s.pos += end + 1
	case aChunk:
		b, err := s.take(1)
		if err != nil {
			return g, false, err
		}
		if g.text, err = s.take(int(b[0])); err != nil {
			return g, false, err
		}
	default:
		err = s.binaryNumber(&g)
	}
	return g, err == nil, err
}

func (s *scanner) binaryCode() (int, error) {
	if s.short {
		b, err := s.take(1)
		if err != nil {
			return 0, err
		}
		if b[0] != 255 {
			return int(b[0]), nil
		}
	}
	b, err := s.take(2)
	if err != nil {
		return 0, err
	}
	code := int(binary.LittleEndian.Uint16(b))
	if code > 1071 {
		return 0, &SyntaxError{Offset: s.pos - 2, Got: strconv.Itoa(code), Want: "a group code, a whole number from 0 to 1071"}
	}
	return code, nil
}

func (s *scanner) binaryNumber(g *group) error {
	kind := kindOf(g.code)
	b, err := s.take(binarySize[kind])
	if err != nil {
		return err
	}
	g.numeric = true
	switch kind {
	case aBool:
		g.number = float64(b[0])
	case anInt16:
		g.number = float64(int16(binary.LittleEndian.Uint16(b)))
	case anInt32:
		g.number = float64(int32(binary.LittleEndian.Uint32(b)))
	case anInt64:
		g.number = float64(int64(binary.LittleEndian.Uint64(b)))
	default:
		g.number = math.Float64frombits(binary.LittleEndian.Uint64(b))
	}
	return nil
}

func (s *scanner) take(n int) ([]byte, error) {
	if n > len(s.data)-s.pos {
		return nil, s.cut(strconv.Itoa(n) + " more bytes")
	}
	s.pos += n
	return s.data[s.pos-n : s.pos], nil
}

func (s *scanner) cut(want string) error {
	return &SyntaxError{Offset: s.pos, Got: "end of file", Want: want}
}

// A valueKind is the type that the value of a code has.
type valueKind uint8

const (
	aText valueKind = iota
	aReal
	anInt16
	anInt32
	anInt64
	aBool
	aChunk
)

var binarySize = [...]int{aReal: 8, anInt16: 2, anInt32: 4, anInt64: 8, aBool: 1}

// kindOf returns the type of the value of a code.
func kindOf(code int) valueKind {
	switch {
	case code >= 10 && code <= 59, code >= 110 && code <= 149, code >= 210 && code <= 239,
		code >= 460 && code <= 469, code >= 1010 && code <= 1059:
		return aReal
	case code >= 60 && code <= 79, code >= 170 && code <= 179, code >= 270 && code <= 289,
		code >= 370 && code <= 389, code >= 400 && code <= 409, code >= 1060 && code <= 1070:
		return anInt16
	case code >= 90 && code <= 99, code >= 420 && code <= 429, code >= 440 && code <= 459, code == 1071:
		return anInt32
	case code >= 160 && code <= 169:
		return anInt64
	case code >= 290 && code <= 299:
		return aBool
	case code >= 310 && code <= 319, code == 1004:
		return aChunk
	}
	return aText
}

// is reports whether the group is a text of the given code, whatever the case
// of its letters.
func (g *group) is(code int, word string) bool {
	return g.code == code && bytes.EqualFold(bytes.TrimSpace(g.text), []byte(word))
}

// line or offset of a group, as an entity keeps it.
func (g *group) place() int {
	if g.line > 0 {
		return g.line
	}
	return g.offset
}

func (g *group) bad(want string) error {
	got := quoted(bytes.TrimSpace(g.text))
	if g.numeric {
		got = strconv.FormatFloat(g.number, 'g', -1, 64)
	}
	return &SyntaxError{Line: g.line, Offset: g.offset, Got: got, Want: want + " for group code " + strconv.Itoa(g.code)}
}

// real returns the value as a finite number. A decimal comma is taken for a
// point, and noted.
func (s *scanner) real(g *group) (float64, error) {
	v := g.number
	if !g.numeric {
		b := bytes.TrimSpace(g.text)
		var err error
		if v, err = strconv.ParseFloat(string(b), 64); err != nil {
			i := bytes.IndexByte(b, ',')
			if i < 0 {
				return 0, g.bad("a number")
			}
			b = bytes.Clone(b)
			b[i] = '.'
			if v, err = strconv.ParseFloat(string(b), 64); err != nil {
				return 0, g.bad("a number")
			}
			if s.commas == 0 {
				s.commas = g.line
			}
		}
	}
	if math.IsNaN(v) || math.IsInf(v, 0) || math.Abs(v) > largest {
		return 0, g.bad("a finite number of a drawing")
	}
	return v, nil
}

// largest bounds numbers, so that no product of two of them overflows.
const largest = 1e100

// integer returns the value as a whole number.
func (g *group) integer() (int, error) {
	if g.numeric {
		if g.number != math.Trunc(g.number) || math.Abs(g.number) > math.MaxInt32*4 {
			return 0, g.bad("a whole number")
		}
		return int(g.number), nil
	}
	n, ok := wholeNumber(bytes.TrimSpace(g.text))
	if !ok {
		return 0, g.bad("a whole number")
	}
	return n, nil
}
