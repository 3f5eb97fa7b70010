package dxfin

import "fmt"

// entitiesSection reads the entities of model and paper space.
func (p *parser) entitiesSection() error {
	for !p.ends() {
		e, ok, err := p.entity()
		if err != nil {
			return err
		}
		switch {
		case !ok:
		case e.paper:
			p.file.Paper = append(p.file.Paper, e.Entity)
		default:
			p.file.Entities = append(p.file.Entities, e.Entity)
		}
	}
	return nil
}

// blocksSection reads the block definitions.
func (p *parser) blocksSection() error {
	for !p.ends() {
		if !p.g.is(0, "BLOCK") {
			return p.expected("0 BLOCK or 0 ENDSEC")
		}
		if err := p.block(); err != nil {
			return err
		}
	}
	return nil
}

func (p *parser) block() error {
	b := Block{Line: p.g.place()}
	if err := p.record(); err != nil {
		return err
	}
	f := fields{p: p, groups: p.groups}
	second := ""
	for i := range f.groups {
		switch g := &f.groups[i]; g.code {
		case 2:
			b.Name = f.name(g)
		case 3:
			second = f.name(g)
		case 70:
			b.External = f.int(g)&(4|8) != 0
		default:
			f.point(g, 10, &b.Base)
		}
	}
	if f.err != nil {
		return f.err
	}
	if b.Name == "" {
		b.Name = second
	}
	for !p.g.is(0, "ENDBLK") || !p.more {
		if p.ends() || p.g.is(0, "BLOCK") {
			return p.expected(fmt.Sprintf("0 ENDBLK at the end of the block %q", b.Name))
		}
		e, ok, err := p.entity()
		if err != nil {
			return err
		}
		if ok {
			b.Entities = append(b.Entities, e.Entity)
		}
	}
	p.file.Blocks = append(p.file.Blocks, b)
	return p.record()
}

// A placed entity is one with the space that it belongs to.
type placed struct {
	Entity
	paper bool
}

// entity reads an entity with what belongs to it; ok is false where it is
// skipped.
func (p *parser) entity() (e placed, ok bool, err error) {
	if p.g.code != 0 {
		return e, false, p.expected("0 and the name of an entity")
	}
	e.Kind, e.Line = fold(p.enc.name(p.g.text)), p.g.place()
	if p.left--; p.left < 0 {
		return e, false, &LimitError{"entities", p.most}
	}
	if err := p.record(); err != nil {
		return e, false, err
	}
	f := fields{p: p, groups: p.groups}
	f.common(&e)
	build := builders[e.Kind]
	if build == nil {
		p.skip(e.Kind, e.Line)
		return e, false, f.err
	}
	why := build(&f, &e.Entity)
	if f.err != nil {
		return e, false, f.err
	}
	// What belongs to it follows even where it is not kept.
	switch d := e.Data.(type) {
	case *Insert:
		err = p.attributes(d, f.flags)
	case *Polyline:
		if e.Kind == "POLYLINE" {
			err = p.vertices(&e.Entity, d, f.flags)
			if why == "" && err == nil && len(d.Vertices) < 2 {
				why = "has fewer than two corners"
			}
		}
	}
	if err != nil {
		return e, false, err
	}
	if why != "" {
		p.note(e.Line, "%s %s; it is left out", e.Kind, why)
		p.skip(e.Kind, e.Line)
		return e, false, nil
	}
	return e, e.Data != nil, nil
}

// skip counts an entity that is not read.
func (p *parser) skip(kind string, line int) {
	switch kind {
	case "SEQEND", "VERTEX", "ENDBLK", "VIEWPORT":
		return // they have nothing to show by themselves
	}
	i, known := p.skipped[kind]
	if !known {
		if p.skipped == nil {
			p.skipped = map[string]int{}
		}
		i = len(p.file.Skipped)
		p.skipped[kind] = i
		p.file.Skipped = append(p.file.Skipped, Count{Kind: kind, Line: line})
	}
	p.file.Skipped[i].N++
}

// attributes reads the ATTRIBs after an INSERT.
func (p *parser) attributes(d *Insert, follow int) error {
	any := false
	for p.more && p.g.is(0, "ATTRIB") {
		e, ok, err := p.entity()
		if err != nil {
			return err
		}
		if ok {
			d.Attributes = append(d.Attributes, e.Entity)
		}
		any = true
	}
	if (any || follow != 0) && p.more && p.g.is(0, "SEQEND") {
		return p.record()
	}
	return nil
}

// Flags of a POLYLINE and of a VERTEX.
const (
	polylineClosed = 1
	polylineSpace  = 8
	polylineMesh   = 16 | 64
	vertexFrame    = 16 // guides a spline and is not drawn
)

// vertices reads the VERTEX entities after a POLYLINE.
func (p *parser) vertices(e *Entity, d *Polyline, flags int) error {
	for p.more && p.g.is(0, "VERTEX") {
		if p.left--; p.left < 0 {
			return &LimitError{"entities", p.most}
		}
		if err := p.record(); err != nil {
			return err
		}
		f := fields{p: p, groups: p.groups}
		var v Vertex
		kind := 0
		for i := range f.groups {
			switch g := &f.groups[i]; g.code {
			case 42:
				v.Bulge = f.real(g)
			case 70:
				kind = f.int(g)
			default:
				f.point(g, 10, &v.At)
			}
		}
		if f.err != nil {
			return f.err
		}
		if kind&vertexFrame == 0 {
			if !d.Space {
				v.At.Z = 0
			}
			d.Vertices = append(d.Vertices, v)
		}
	}
	if p.more && p.g.is(0, "SEQEND") {
		return p.record()
	}
	p.note(e.Line, "POLYLINE without SEQEND")
	return nil
}
