package dxfout

import (
	"io"
	"strconv"
	"strings"

	"boltplate/drawing"
)

// bufferSize bounds what Encode holds of a file. A group is at most a few
// hundred bytes, so a buffer that is flushed above flushAt does not grow.
const (
	bufferSize = 16 << 10
	flushAt    = bufferSize - 4<<10
)

// A writer appends groups to a buffer. Where out is not nil the buffer is
// handed on as it fills; the first error stays and the rest is dropped.
type writer struct {
	buf  []byte
	out  io.Writer
	err  error
	next uint64 // next free handle
	plan

	// Where the entities that are being written belong.
	owner uint64  // handle of the BLOCK_RECORD
	k     float64 // a point p of a view becomes k*p + at
	at    drawing.Point
	mm    float64 // drawing units for a millimetre on paper
	paper bool    // in paper space

	viewScale float64 // of the view
	turned    bool    // it is turned or mirrored: its shapes are moved by standing
	standing  drawing.Transform
}

// flush hands the buffer on when it is nearly full.
func (w *writer) flush() {
	if len(w.buf) > flushAt && w.out != nil {
		w.drain()
	}
}

func (w *writer) drain() {
	if w.err == nil && len(w.buf) > 0 {
		var n int
		if n, w.err = w.out.Write(w.buf); w.err == nil && n < len(w.buf) {
			w.err = io.ErrShortWrite
		}
	}
	w.buf = w.buf[:0]
}

// lit appends groups that are ready.
func (w *writer) lit(s string) { w.buf = append(w.buf, s...) }

// The following append one group; code is three characters wide.

func (w *writer) str(code, v string) {
	b := append(w.buf, code...)
	b = append(b, "\r\n"...)
	b = append(b, v...)
	w.buf = append(b, "\r\n"...)
}

func (w *writer) text(code, v string, f field) {
	b := append(w.buf, code...)
	b = append(b, "\r\n"...)
	b = appendText(b, v, f)
	w.buf = append(b, "\r\n"...)
}

func (w *writer) num(code string, v float64) {
	b := append(w.buf, code...)
	b = append(b, "\r\n"...)
	b = appendNumber(b, v)
	w.buf = append(b, "\r\n"...)
}

func (w *writer) int(code string, v int) {
	b := append(w.buf, code...)
	b = append(b, "\r\n"...)
	if v < 0 || v > 9 {
		b = strconv.AppendInt(b, int64(v), 10)
	} else {
		b = append(b, '0'+byte(v))
	}
	w.buf = append(b, "\r\n"...)
}

func (w *writer) handle(code string, h uint64) {
	b := append(w.buf, code...)
	b = append(b, "\r\n"...)
	b = appendHandle(b, h)
	w.buf = append(b, "\r\n"...)
}

// point appends the three coordinates of a point; d is the second digit of
// its group codes.
func (w *writer) point(d byte, p drawing.Point) {
	b := append(w.buf, ' ', '1', d, '\r', '\n')
	b = appendNumber(b, p.X)
	b = append(b, '\r', '\n', ' ', '2', d, '\r', '\n')
	b = appendNumber(b, p.Y)
	w.buf = append(b, '\r', '\n', ' ', '3', d, '\r', '\n', '0', '.', '0', '\r', '\n')
}

// flat appends the two coordinates of a point 10, 20.
func (w *writer) flat(p drawing.Point) {
	b := append(w.buf, " 10\r\n"...)
	b = appendNumber(b, p.X)
	b = append(b, "\r\n 20\r\n"...)
	b = appendNumber(b, p.Y)
	w.buf = append(b, "\r\n"...)
}

// entity appends the head that all entities share, up to the marker of their
// class. kind is the name of the entity with the code of its handle; plain
// files have neither handles nor markers.
func (w *writer) entity(kind, layer, marker string) {
	w.flush()
	if w.plain {
		b := append(w.buf, kind[:len(kind)-len("  5\r\n")]...)
		b = append(b, "  8\r\n"...)
		b = append(b, layer...)
		w.buf = append(b, "\r\n"...)
		return
	}
	b := append(w.buf, kind...)
	b = appendHandle(b, w.next)
	w.next++
	b = append(b, "\r\n330\r\n"...)
	b = appendHandle(b, w.owner)
	b = append(b, "\r\n100\r\nAcDbEntity\r\n"...)
	if w.paper {
		b = append(b, " 67\r\n1\r\n"...)
	}
	b = append(b, "  8\r\n"...)
	b = append(b, layer...)
	b = append(b, "\r\n100\r\n"...)
	b = append(b, marker...)
	w.buf = append(b, "\r\n"...)
}

// move returns the point of the drawing that is p in the view being written.
func (w *writer) move(p drawing.Point) drawing.Point {
	return drawing.Point{X: w.k*p.X + w.at.X, Y: w.k*p.Y + w.at.Y}
}

// tags turns a list of groups into the text of a file: one group a line or
// between bars, each a code and a value. It keeps the constant parts of a file
// readable in the source.
func tags(list string) string {
	var b strings.Builder
	for _, line := range strings.Split(strings.TrimSpace(list), "\n") {
		for _, group := range strings.Split(line, " | ") {
			code, value, _ := strings.Cut(strings.TrimSpace(group), " ")
			if code == "" {
				continue
			}
			b.WriteString("   "[:max(0, 3-len(code))] + code + "\r\n" + value + "\r\n")
		}
	}
	return b.String()
}
