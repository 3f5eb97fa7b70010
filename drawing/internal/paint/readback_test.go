package paint_test

import (
	"bytes"
	"compress/zlib"
	"encoding/xml"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf16"

	d "boltplate/drawing"

	"github.com/stretchr/testify/require"
)

// A read is what a picture shows, read back from its file: millimetres from
// the lower left corner of the page.
type read struct {
	width, height float64
	strokes       []stroke
	fills         [][]d.Point
	covers        [][]d.Point // in white
	texts         []lettering
	title         string
}

// A stroke is a line with the ends of its segments; curves give their ends
// and their control points.
type stroke struct {
	points []d.Point
	curved bool
	width  float64
	dashes []float64
}

// A lettering is a text at the left end of its base line.
type lettering struct {
	value string
	at    d.Point
	angle float64
	em    float64
}

var (
	aNumber     = regexp.MustCompile(`-?[0-9.]+`)
	aStep       = regexp.MustCompile(`[MLQCZ][^MLQCZ]*`)
	pathGrammar = regexp.MustCompile(`^(?:[MLQCZ][-0-9. ]*)*$`)
)

func numbers(t require.TestingT, s string) []float64 {
	var out []float64
	for _, f := range aNumber.FindAllString(s, -1) {
		v, err := strconv.ParseFloat(f, 64)
		require.NoError(t, err, s)
		out = append(out, v)
	}
	return out
}

// pathData reads the data of a path as chains of points. The letters are M, L,
// Q, C and Z.
func pathData(t require.TestingT, s string) (chains [][]d.Point, curved bool) {
	require.Regexp(t, pathGrammar, s)
	for _, step := range aStep.FindAllString(s, -1) {
		ns := numbers(t, step[1:])
		want := map[byte]int{'M': 2, 'L': 2, 'Q': 4, 'C': 6, 'Z': 0}[step[0]]
		require.Len(t, ns, want, step)
		curved = curved || want > 2
		if step[0] == 'M' {
			chains = append(chains, nil)
		}
		last := &chains[len(chains)-1]
		if step[0] == 'Z' {
			*last = append(*last, (*last)[0])
		}
		for i := 0; i < len(ns); i += 2 {
			*last = append(*last, d.Pt(ns[i], ns[i+1]))
		}
	}
	return chains, curved
}

// readSVG reads a picture by encoding/xml.
func readSVG(t require.TestingT, file []byte) read {
	type style struct {
		width float64
		fill  string
	}
	var r read
	styles := []style{{}}
	dec := xml.NewDecoder(bytes.NewReader(file))
	title := false
	for {
		tok, err := dec.Token()
		if err == io.EOF {
			return r
		}
		require.NoError(t, err)
		switch tok := tok.(type) {
		case xml.CharData:
			if title {
				r.title += string(tok)
			}
		case xml.EndElement:
			title = false
			styles = styles[:len(styles)-1]
		case xml.StartElement:
			a := map[string]string{}
			for _, at := range tok.Attr {
				a[at.Name.Local] = at.Value
			}
			st := styles[len(styles)-1]
			if w := a["stroke-width"]; w != "" {
				st.width = numbers(t, w)[0]
			}
			if a["fill"] != "" {
				st.fill = a["fill"]
			}
			styles = append(styles, st)
			switch tok.Name.Local {
			case "svg":
				require.True(t, strings.HasSuffix(a["width"], "mm") && strings.HasSuffix(a["height"], "mm"))
				r.width, r.height = numbers(t, a["width"])[0], numbers(t, a["height"])[0]
				require.Equal(t, []float64{0, 0, r.width, r.height}, numbers(t, a["viewBox"]), "the user unit is a millimetre")
			case "title":
				title = true
			case "path":
				r.svgPath(t, a, st.fill, st.width)
			}
		}
	}
}

func (r *read) svgPath(t require.TestingT, a map[string]string, fill string, width float64) {
	chains, curved := pathData(t, a["d"])
	up := func(p d.Point) d.Point { return d.Pt(p.X, r.height-p.Y) }
	if m := a["transform"]; m != "" {
		n := numbers(t, m)
		require.Len(t, n, 6)
		em := 2048 * math.Hypot(n[0], n[1])
		// The height of the letters, square to the base line, is that of the em: they
		// may lean along the line.
		require.InDelta(t, n[0]*n[0]+n[1]*n[1], n[1]*n[2]-n[0]*n[3], 1e-7*math.Max(1, n[0]*n[0]+n[1]*n[1]))
		r.texts = append(r.texts, lettering{a["aria-label"], up(d.Pt(n[4], n[5])), d.Pt(n[0], -n[1]).Angle(), em})
		return
	}
	for _, c := range chains {
		for i := range c {
			c[i] = up(c[i])
		}
		switch fill {
		case "#fff":
			r.covers = append(r.covers, c)
		case "#000", "#c00000":
			r.fills = append(r.fills, c)
		default:
			require.Contains(t, []string{"", "none"}, fill)
			r.strokes = append(r.strokes, stroke{c, curved, width, numbers(t, a["stroke-dasharray"])})
		}
	}
}

var (
	streams   = regexp.MustCompile(`(?s)<</Filter /FlateDecode /Length (\d+)>>\nstream\n`)
	mediaBox  = regexp.MustCompile(`/MediaBox \[0 0 ([0-9.]+) ([0-9.]+)\]`)
	pageStart = regexp.MustCompile(`<</Type /Page\n`)
)

const point = 25.4 / 72 // mm

// readPDF reads the pages of a file: it unpacks their contents and follows the
// operators.
func readPDF(t require.TestingT, file []byte) []read {
	starts := pageStart.FindAllIndex(file, -1)
	var pages []read
	for _, s := range starts {
		rest := file[s[0]:]
		box := mediaBox.FindSubmatch(rest)
		n := numbers(t, string(box[1])+" "+string(box[2]))
		p := read{width: n[0] * point, height: n[1] * point}
		at := streams.FindSubmatchIndex(rest)
		length, err := strconv.Atoi(string(rest[at[2]:at[3]]))
		require.NoError(t, err)
		z, err := zlib.NewReader(bytes.NewReader(rest[at[1] : at[1]+length]))
		require.NoError(t, err)
		content, err := io.ReadAll(z)
		require.NoError(t, err)
		p.pdfContent(t, content)
		pages = append(pages, p)
	}
	return pages
}

// pdfTokens splits a content stream into operands and operators.
func pdfTokens(t require.TestingT, b []byte) []string {
	var out []string
	for i := 0; i < len(b); {
		switch c := b[i]; {
		case c == ' ' || c == '\n' || c == '\r':
			i++
		case c == '[' || c == ']':
			out = append(out, string(c))
			i++
		case c == '(':
			s := []byte{'('}
			for i++; b[i] != ')'; i++ {
				if b[i] == '\\' {
					i++
					if b[i] == 'r' {
						s = append(s, '\r')
						continue
					}
				}
				s = append(s, b[i])
			}
			out = append(out, string(s))
			i++
		default:
			j := i
			for j < len(b) && !bytes.ContainsRune([]byte(" \n[]("), rune(b[j])) {
				j++
			}
			out = append(out, string(b[i:j]))
			i = j
		}
	}
	require.NotEmpty(t, out)
	return out
}

// A graphics is the state that q saves.
type graphics struct {
	m      [6]float64 // only moves and turns occur
	width  float64
	dashes []float64
	em     float64
	white  bool // areas
}

func (r *read) pdfContent(t require.TestingT, content []byte) {
	var args []string
	var saved []graphics
	g := graphics{m: [6]float64{1, 0, 0, 1, 0, 0}}
	var chains [][]d.Point
	curved := false
	num := func(i int) float64 { return numbers(t, args[i])[0] }
	add := func() {
		for i := 0; i < len(args); i += 2 {
			last := &chains[len(chains)-1]
			*last = append(*last, d.Pt(num(i), num(i+1)).Mul(point))
		}
	}
	for _, tok := range pdfTokens(t, content) {
		if strings.ContainsAny(tok[:1], "-.0123456789[](/") {
			args = append(args, tok)
			continue
		}
		switch tok {
		case "q":
			saved = append(saved, g)
		case "Q":
			g, saved = saved[len(saved)-1], saved[:len(saved)-1]
		case "cm":
			for i := range g.m {
				g.m[i] = num(i)
			}
		case "w":
			g.width = num(0) * point
		case "d":
			g.dashes = nil
			for _, a := range args[1 : len(args)-2] {
				g.dashes = append(g.dashes, numbers(t, a)[0]*point)
			}
		case "m":
			chains = append(chains, nil)
			add()
		case "l":
			add()
		case "c":
			curved = true
			add()
		case "h":
			last := &chains[len(chains)-1]
			*last = append(*last, (*last)[0])
		case "S":
			for _, c := range chains {
				r.strokes = append(r.strokes, stroke{c, curved, g.width, g.dashes})
			}
			chains, curved = nil, false
		case "f*":
			if g.white {
				r.covers = append(r.covers, chains...)
			} else {
				r.fills = append(r.fills, chains...)
			}
			chains, curved = nil, false
		case "Tf":
			g.em = num(1) * point
		case "Td":
			require.Equal(t, []string{"0.00", "0.00"}, args)
		case "Tj":
			r.texts = append(r.texts, lettering{utf16BE(args[0][1:]), d.Pt(g.m[4], g.m[5]).Mul(point), d.Pt(g.m[0], g.m[1]).Angle(), g.em})
		case "G":
			require.Zero(t, num(0), "black")
		case "g":
			g.white = num(0) == 1
			require.True(t, g.white || num(0) == 0, "black or white")
		case "RG":
			isInk(t, args)
		case "rg":
			g.white = false
			isInk(t, args)
		case "J", "j", "BT", "ET":
		default:
			require.Fail(t, "an operator that no picture needs", tok)
		}
		args = args[:0]
	}
	require.Empty(t, saved)
	require.Empty(t, chains)
}

// isInk checks the colours of a picture: black, and red for what is marked as
// wrong.
func isInk(t require.TestingT, args []string) {
	c := numbers(t, strings.Join(args, " "))
	require.True(t, len(c) == 3 && (c[0] == 0 || c[0] > 0.5) && c[1] == 0 && c[2] == 0, args)
}

func utf16BE(s string) string {
	var u []uint16
	for i := 0; i+1 < len(s); i += 2 {
		u = append(u, uint16(s[i])<<8|uint16(s[i+1]))
	}
	return string(utf16.Decode(u))
}

// An entity is one of a DXF file: its name, its layer and its groups.
type entity struct {
	kind, layer string
	groups      map[string][]string
}

func (e entity) num(t require.TestingT, code string) float64 {
	if len(e.groups[code]) == 0 {
		return 0
	}
	return numbers(t, e.groups[code][0])[0]
}

func (e entity) point(t require.TestingT, digit string) d.Point {
	return d.Pt(e.num(t, "1"+digit), e.num(t, "2"+digit))
}

// readDXF returns the entities of blocks and of model space. Drawings here
// have no block but those of dimensions, which stand where they are drawn, and
// of attributes.
func readDXF(t require.TestingT, file []byte) []entity {
	lines := strings.Split(strings.ReplaceAll(string(file), "\r\n", "\n"), "\n")
	var out []entity
	for i := 0; i+1 < len(lines); i += 2 {
		code, value := strings.TrimSpace(lines[i]), lines[i+1]
		if code == "0" {
			out = append(out, entity{kind: value, groups: map[string][]string{}})
			continue
		}
		e := &out[len(out)-1]
		if code == "8" {
			e.layer = value
		}
		e.groups[code] = append(e.groups[code], value)
	}
	require.Equal(t, "EOF", out[len(out)-1].kind)
	return out
}
