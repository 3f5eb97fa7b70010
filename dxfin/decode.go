package dxfin

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"
)

// Limits of a Decoder that says nothing else.
const (
	DefaultBytes    = 64 << 20
	DefaultEntities = 1_000_000
)

// A Decoder reads DXF files. The zero value is ready to use, and one Decoder
// may be used by many goroutines at once.
type Decoder struct {
	MaxBytes    int // of a file; 0 means DefaultBytes
	MaxEntities int // of a file, blocks and attributes included; 0 means DefaultEntities
}

// Decode reads a file with the zero Decoder.
func Decode(r io.Reader) (*File, error) { return Decoder{}.Decode(r) }

// Decode reads a file. The error is a *SyntaxError, a *LimitError, or that of
// r.
func (d Decoder) Decode(r io.Reader) (*File, error) {
	most := orDefault(d.MaxBytes, DefaultBytes)
	data, err := io.ReadAll(io.LimitReader(r, int64(most)+1))
	if err != nil {
		return nil, err
	}
	return d.Bytes(data)
}

// Bytes reads a file that is in memory.
func (d Decoder) Bytes(data []byte) (*File, error) {
	if most := orDefault(d.MaxBytes, DefaultBytes); len(data) > most {
		return nil, &LimitError{"bytes", most}
	}
	p := parser{scanner: newScanner(data), file: &File{header: map[string][]headerValue{}}, left: orDefault(d.MaxEntities, DefaultEntities)}
	p.most = p.left
	p.file.Binary = p.binary
	p.chooseEncoding()
	if err := p.read(); err != nil {
		return nil, err
	}
	return p.file, nil
}

func orDefault(v, def int) int {
	if v == 0 {
		return def
	}
	return v
}

// A parser turns groups into a File.
type parser struct {
	*scanner
	file *File
	enc  encoding
	g    group // the one that is looked at
	more bool  // there is one

	groups     []group // of the record that is being read
	left, most int     // entities that may follow, and may be in all
	skipped    map[string]int
}

// maxNotes bounds how many oddities are told.
const maxNotes = 100

func (p *parser) note(line int, format string, args ...any) {
	switch n := len(p.file.Notes); {
	case n < maxNotes:
		p.file.Notes = append(p.file.Notes, Note{line, fmt.Sprintf(format, args...)})
	case n == maxNotes:
		p.file.Notes = append(p.file.Notes, Note{0, "more oddities are not listed"})
	}
}

func (p *parser) advance() (err error) {
	p.g, p.more, err = p.next()
	return err
}

// expected is the error for a file that goes on otherwise.
func (p *parser) expected(want string) error {
	if !p.more {
		line := 0
		if !p.binary {
			line = p.line
		}
		return &SyntaxError{Line: line, Offset: p.pos, Got: "end of file", Want: want}
	}
	got := fmt.Sprintf("group code %d", p.g.code)
	if p.g.text != nil {
		got += " with " + quoted(bytes.TrimSpace(p.g.text))
	}
	return &SyntaxError{Line: p.g.line, Offset: p.g.offset, Got: got, Want: want}
}

// chooseEncoding settles how texts are read, by what the header has said so
// far.
func (p *parser) chooseEncoding() {
	f := p.file
	f.CodePage, _ = f.Variable("$DWGCODEPAGE")
	f.Version, _ = f.Variable("$ACADVER")
	page := codePage(f.CodePage)
	high := !p.binary && slices.ContainsFunc(p.data, func(c byte) bool { return c >= utf8.RuneSelf })
	valid := high && utf8.Valid(p.data)
	p.enc = encoding{utf8: valid || p.binary && f.unicode()}
	if page == "" {
		page = windows1252
		if high && !valid {
			p.note(0, "the code page %s is not known; letters beyond ASCII may be wrong", f.CodePage)
		}
	}
	p.enc.page = []rune(page)
	f.UTF8 = p.enc.utf8
}

// unicode reports whether texts of the version are UTF-8.
func (f *File) unicode() bool { return f.Version >= "AC1021" && strings.HasPrefix(f.Version, "AC") }

// noteEncoding says where the texts are not what the header says.
func (p *parser) noteEncoding() {
	f := p.file
	high := !p.binary && slices.ContainsFunc(p.data, func(c byte) bool { return c >= utf8.RuneSelf })
	switch {
	case !high:
	case f.unicode() && !f.UTF8:
		p.note(0, "the version %s has texts in UTF-8, and these are not; they were read in the code page", f.Version)
	case !f.unicode() && f.UTF8 && f.Version != "":
		p.note(0, "texts are UTF-8, which the version %q does not have", f.Version)
	}
}

// read reads all sections.
func (p *parser) read() error {
	if bytes.HasPrefix(p.data, []byte("AC10")) {
		return &SyntaxError{Line: 1, Got: "a drawing in the binary format DWG", Want: "a DXF file; save the drawing as DXF"}
	}
	if err := p.advance(); err != nil {
		return err
	}
	if !p.more {
		return p.expected("a DXF file, which begins with 0 SECTION")
	}
	for p.more && !p.g.is(0, "EOF") {
		if !p.g.is(0, "SECTION") {
			return p.expected("0 SECTION or 0 EOF")
		}
		if err := p.section(); err != nil {
			return err
		}
	}
	if !p.more {
		p.note(0, "the file does not end with 0 EOF")
	}
	p.finish()
	return nil
}

func (p *parser) section() error {
	if err := p.advance(); err != nil {
		return err
	}
	if p.g.code != 2 {
		return p.expected("2 and the name of the section")
	}
	name := fold(p.enc.name(p.g.text))
	if err := p.advance(); err != nil {
		return err
	}
	read := map[string]func() error{"HEADER": p.headerSection, "TABLES": p.tablesSection, "BLOCKS": p.blocksSection, "ENTITIES": p.entitiesSection}[name]
	if read == nil {
		read = p.skipSection
	}
	if err := read(); err != nil {
		return err
	}
	switch {
	case p.g.is(0, "ENDSEC") && p.more:
		return p.advance()
	case p.more && (p.g.is(0, "SECTION") || p.g.is(0, "EOF")):
		p.note(p.g.line, "the section %s does not end with 0 ENDSEC", name)
		return nil
	}
	return p.expected("0 ENDSEC at the end of the section " + name)
}

// ends reports whether a section ends here.
func (p *parser) ends() bool {
	return !p.more || p.g.code == 0 && (p.g.is(0, "ENDSEC") || p.g.is(0, "SECTION") || p.g.is(0, "EOF"))
}

func (p *parser) skipSection() error {
	for !p.ends() {
		if err := p.advance(); err != nil {
			return err
		}
	}
	return nil
}

func (p *parser) headerSection() error {
	name := ""
	for !p.ends() {
		if p.g.code == 9 {
			name = fold(strings.TrimSpace(string(p.g.text)))
		} else if name == "" {
			return p.expected("9 and the name of a header variable")
		} else {
			text := strings.TrimSpace(string(p.g.text))
			if p.g.numeric {
				text = fmt.Sprint(p.g.number)
			}
			p.file.header[name] = append(p.file.header[name], headerValue{p.g.code, text})
		}
		if err := p.advance(); err != nil {
			return err
		}
	}
	p.chooseEncoding()
	return nil
}

// record reads the groups up to the next code 0 into p.groups.
func (p *parser) record() error {
	p.groups = p.groups[:0]
	for {
		if err := p.advance(); err != nil {
			return err
		}
		if !p.more || p.g.code == 0 {
			return nil
		}
		p.groups = append(p.groups, p.g)
	}
}

// finish makes what depends on the whole file.
func (p *parser) finish() {
	f := p.file
	p.noteEncoding()
	if p.commas > 0 {
		p.note(p.commas, "numbers with a decimal comma were read as with a point")
	}
	f.index()
	p.checkLayers()
}

func (f *File) index() {
	t := &f.tables
	t.layers, t.lineTypes, t.dimStyles, t.blocks = map[string]int{}, map[string]int{}, map[string]int{}, map[string]int{}
	for i := range f.Layers {
		t.layers[fold(f.Layers[i].Name)] = i
	}
	for i := range f.LineTypes {
		t.lineTypes[fold(f.LineTypes[i].Name)] = i
	}
	for i := range f.DimStyles {
		t.dimStyles[fold(f.DimStyles[i].Name)] = i
	}
	for i := range f.Blocks {
		t.blocks[fold(f.Blocks[i].Name)] = i
	}
}

// checkLayers notes the layers and line types that are used and not defined.
func (p *parser) checkLayers() {
	told := map[string]bool{}
	miss := func(line int, what, name string) {
		if !told[what+fold(name)] {
			told[what+fold(name)] = true
			p.note(line, "the %s %q is used and not defined", what, name)
		}
	}
	check := func(es []Entity) {
		for i := range es {
			e := &es[i]
			if _, ok := p.file.tables.layers[fold(e.Layer)]; !ok && e.Layer != "0" && !neverPlotted(e.Layer) {
				miss(e.Line, "layer", e.Layer)
			}
			if _, ok := p.file.tables.lineTypes[fold(e.LineType)]; !ok && !builtIn(e.LineType) {
				miss(e.Line, "line type", e.LineType)
			}
		}
	}
	check(p.file.Entities)
	for i := range p.file.Blocks {
		check(p.file.Blocks[i].Entities)
	}
}

func builtIn(lineType string) bool {
	switch fold(lineType) {
	case "BYLAYER", "BYBLOCK", "CONTINUOUS":
		return true
	}
	return false
}
