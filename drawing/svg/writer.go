package svg

import (
	"fmt"
	"strconv"
	"unicode/utf8"

	"boltplate/drawing"
	"boltplate/drawing/internal/paint"
	"boltplate/drawing/lettering"
)

// decimals of a millimetre.
const decimals = 3

// A writer appends a file to a buffer.
type writer struct {
	buf  []byte
	page paint.Page
	font *lettering.Font
}

func (w *writer) lit(s string)  { w.buf = append(w.buf, s...) }
func (w *writer) num(v float64) { w.buf = paint.AppendNumber(w.buf, v, decimals) }

// next appends a number that follows another: a sign divides them too.
func (w *writer) next(v float64) {
	n := len(w.buf)
	w.lit(" ")
	w.num(v)
	if w.buf[n+1] == '-' {
		w.buf = append(w.buf[:n], w.buf[n+1:]...)
	}
}

func (w *writer) file(e Encoder, p *paint.Picture) {
	w.lit(`<?xml version="1.0" encoding="UTF-8"?>` + "\n" + `<svg xmlns="http://www.w3.org/2000/svg" width="`)
	w.num(w.page.Width)
	w.lit(`mm" height="`)
	w.num(w.page.Height)
	w.lit(`mm" viewBox="0 0`)
	w.next(w.page.Width)
	w.next(w.page.Height)
	w.lit("\" fill=\"none\" stroke=\"#000\" stroke-linecap=\"round\" stroke-linejoin=\"round\">\n")
	if e.Title != "" {
		w.lit("<title>")
		w.escaped(e.Title)
		w.lit("</title>\n")
	}
	if !e.Transparent {
		w.lit("<rect width=\"100%\" height=\"100%\" fill=\"#fff\" stroke=\"none\"/>\n")
	}
	for i := range p.Sheets {
		for r := range p.Sheets[i].Roles {
			if l := &p.Sheets[i].Roles[r]; !l.Empty() {
				w.layer(drawing.Role(r), p.Widths[r], l)
			}
		}
		w.covers(p.Sheets[i].Covers)
	}
	w.lit("</svg>\n")
}

// covers hides what has been drawn inside them.
func (w *writer) covers(paths []paint.Path) {
	if len(paths) == 0 {
		return
	}
	w.lit("<g class=\"cover\" fill=\"#fff\" stroke=\"none\">\n")
	for _, p := range paths {
		w.path(p)
		w.lit("\"/>\n")
	}
	w.lit("</g>\n")
}

func (w *writer) layer(r drawing.Role, width float64, l *paint.Layer) {
	w.lit(`<g class="` + r.String() + `" stroke-width="`)
	w.num(width)
	colour := "#000"
	if red, green, blue := r.RGB(); red|green|blue != 0 {
		colour = fmt.Sprintf("#%02x%02x%02x", red, green, blue)
		w.lit(`" stroke="` + colour)
	}
	w.lit("\">\n")
	for i := range l.Strokes {
		w.stroke(&l.Strokes[i])
	}
	if len(l.Fills)+len(l.Texts) > 0 {
		w.lit("<g fill=\"" + colour + "\" fill-rule=\"evenodd\" stroke=\"none\">\n")
		for _, p := range l.Fills {
			w.path(p)
			w.lit("\"/>\n")
		}
		for i := range l.Texts {
			w.text(&l.Texts[i])
		}
		w.lit("</g>\n")
	}
	w.lit("</g>\n")
}

func (w *writer) stroke(s *paint.Stroke) {
	w.path(s.Path)
	if s.Dashes != nil {
		w.lit(`" stroke-linecap="butt" stroke-dasharray="`)
		for i, d := range s.Dashes {
			if i == 0 {
				w.num(d)
			} else {
				w.next(d)
			}
		}
	}
	w.lit("\"/>\n")
}

// path appends a path element up to the end of its data.
func (w *writer) path(p paint.Path) {
	w.lit(`<path d="`)
	for i := range p {
		s := &p[i]
		switch s.Op {
		case paint.MoveTo:
			w.points('M', s.P[:1])
		case paint.LineTo:
			w.points('L', s.P[:1])
		case paint.CurveTo:
			w.points('C', s.P[:])
		case paint.Close:
			w.lit("Z")
		}
	}
}

func (w *writer) points(letter byte, ps []drawing.Point) {
	w.buf = append(w.buf, letter)
	for i, p := range ps {
		x, y := w.page.Origin.X+p.X, w.page.Height-w.page.Origin.Y-p.Y
		if i == 0 {
			w.num(x)
		} else {
			w.next(x)
		}
		w.next(y)
	}
}

// text appends the outlines of a line of text in units of the font, which the
// matrix takes to its place.
func (w *writer) text(t *paint.Text) {
	w.lit(`<path aria-label="`)
	w.escaped(t.Value)
	w.lit(`" transform="matrix(`)
	k := t.Size / float64(w.font.Em())
	u, up := t.Axes()
	u, up = u.Mul(k), up.Mul(k)
	// The font has y up and the page y down.
	for i, v := range [...]float64{u.X, -u.Y, up.X, -up.Y} {
		if i > 0 {
			w.lit(" ")
		}
		w.buf = paint.AppendNumber(w.buf, v, 8)
	}
	w.next(w.page.Origin.X + t.At.X)
	w.next(w.page.Height - w.page.Origin.Y - t.At.Y)
	w.lit(`)" d="`)
	open := false
	w.font.Outline(t.Value, func(op lettering.Op, p [3][2]int) {
		switch op {
		case lettering.MoveTo:
			if open {
				w.lit("Z")
			}
			open = true
			w.units('M', p[:1])
		case lettering.LineTo:
			w.units('L', p[:1])
		case lettering.QuadTo:
			w.units('Q', p[:2])
		case lettering.CubeTo:
			w.units('C', p[:3])
		}
	})
	if open {
		w.lit("Z")
	}
	w.lit("\"/>\n")
}

func (w *writer) units(letter byte, ps [][2]int) {
	w.buf = append(w.buf, letter)
	for i, p := range ps {
		if i > 0 && p[0] >= 0 {
			w.lit(" ")
		}
		w.buf = strconv.AppendInt(w.buf, int64(p[0]), 10)
		if p[1] >= 0 {
			w.lit(" ")
		}
		w.buf = strconv.AppendInt(w.buf, int64(p[1]), 10)
	}
}

// escaped appends text so that it is text whatever it holds: characters that
// XML does not allow are blanks.
func (w *writer) escaped(s string) {
	for _, r := range s {
		switch {
		case r == '<':
			w.lit("&lt;")
		case r == '>':
			w.lit("&gt;")
		case r == '&':
			w.lit("&amp;")
		case r == '"':
			w.lit("&#34;")
		case r < ' ', r == 0x7f, r == 0xfffe, r == 0xffff:
			w.lit(" ")
		default:
			w.buf = utf8.AppendRune(w.buf, r)
		}
	}
}
