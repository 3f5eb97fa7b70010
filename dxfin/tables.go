package dxfin

// tablesSection reads the tables that matter here and passes over the others.
func (p *parser) tablesSection() error {
	for !p.ends() {
		if !p.g.is(0, "TABLE") {
			return p.expected("0 TABLE or 0 ENDSEC")
		}
		if err := p.record(); err != nil {
			return err
		}
		name := ""
		for i := range p.groups {
			if p.groups[i].code == 2 {
				name = fold(p.enc.name(p.groups[i].text))
			}
		}
		if err := p.table(name); err != nil {
			return err
		}
	}
	return nil
}

func (p *parser) table(name string) error {
	for !p.ends() && !p.g.is(0, "ENDTAB") {
		if p.g.is(0, "TABLE") {
			p.note(p.g.line, "the table %s does not end with 0 ENDTAB", name)
			return nil
		}
		line := p.g.place()
		if err := p.record(); err != nil {
			return err
		}
		f := fields{p: p, groups: p.groups}
		switch name {
		case "LAYER":
			f.layer(line)
		case "LTYPE":
			f.lineType()
		case "STYLE":
			f.textStyle()
		case "DIMSTYLE":
			f.dimStyle()
		}
		if f.err != nil {
			return f.err
		}
	}
	if !p.g.is(0, "ENDTAB") || !p.more {
		return p.expected("0 ENDTAB at the end of the table " + name)
	}
	return p.record()
}

func (f *fields) layer(line int) {
	l := Layer{Colour: Colour{7, -1}, LineType: "CONTINUOUS", Weight: WeightDefault, Line: line}
	for i := range f.groups {
		switch g := &f.groups[i]; g.code {
		case 2:
			l.Name = f.name(g)
		case 6:
			l.LineType = f.name(g)
		case 62:
			if l.Colour.Index = f.int(g); l.Colour.Index < 0 {
				l.Off, l.Colour.Index = true, -l.Colour.Index
			}
		case 420:
			l.Colour.RGB = f.int(g) & 0xffffff
		case 70:
			l.Frozen = f.int(g)&1 != 0
		case 290:
			l.Unplotted = f.int(g) == 0
		case 370:
			l.Weight = Weight(f.int(g))
		}
	}
	l.Unplotted = l.Unplotted || neverPlotted(l.Name)
	f.p.file.Layers = append(f.p.file.Layers, l)
}

func (f *fields) lineType() {
	var t LineType
	for i := range f.groups {
		switch g := &f.groups[i]; g.code {
		case 2:
			t.Name = f.name(g)
		case 3:
			t.Description = f.name(g)
		case 49:
			t.Pattern = append(t.Pattern, f.real(g))
		}
	}
	f.p.file.LineTypes = append(f.p.file.LineTypes, t)
}

func (f *fields) textStyle() {
	s := TextStyle{Width: 1}
	for i := range f.groups {
		switch g := &f.groups[i]; g.code {
		case 2:
			s.Name = f.name(g)
		case 3:
			s.Font = f.name(g)
		case 40:
			s.Height = f.real(g)
		case 41:
			s.Width = f.real(g)
		}
	}
	f.p.file.TextStyles = append(f.p.file.TextStyles, s)
}

func (f *fields) dimStyle() {
	s := newDimStyle()
	for i := range f.groups {
		g := &f.groups[i]
		switch g.code {
		case 2:
			s.Name = f.name(g)
		case 3:
			s.Post = f.name(g)
		case 45, 78, 144, 179, 271, 278:
			s.set(g.code, f.real(g))
		}
	}
	f.p.file.DimStyles = append(f.p.file.DimStyles, s)
}

// set sets a variable by its group code.
func (s *DimStyle) set(code int, v float64) {
	switch code {
	case 45:
		s.Round = v
	case 78:
		s.Zeros = int(v)
	case 144:
		if v != 0 {
			s.Factor = v
		}
	case 179:
		s.AngleDecs = int(v)
	case 271:
		s.Decimals = int(v)
	case 278:
		if v > ' ' && v < 0x10000 {
			s.Separator = rune(v)
		}
	}
}
