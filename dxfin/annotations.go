package dxfin

import "strconv"

func (f *fields) buildLeader(e *Entity) string {
	d := &Leader{Arrow: true}
	var chain []Vec3
	for i := range f.groups {
		switch g := &f.groups[i]; g.code {
		case 10:
			chain = append(chain, Vec3{X: f.real(g)})
		case 20, 30:
			f.last(g, 10, chain)
		case 71:
			d.Arrow = f.int(g) != 0
		}
	}
	d.Points = [][]Vec3{chain}
	e.Data = d
	if len(chain) < 2 {
		return "has fewer than two points"
	}
	return ""
}

// buildMultiLeader reads the nested data of a MULTILEADER: within
// CONTEXT_DATA{ the text and, for each LEADER{, its end and its LEADER_LINE{s.
func (f *fields) buildMultiLeader(e *Entity) string {
	d := &Leader{Arrow: true}
	var end Vec3
	depth := 0 // 1 within the context, 2 a leader, 3 a line
	for i := range f.groups {
		g := &f.groups[i]
		word := ""
		if g.code >= 300 && g.code <= 305 && !g.numeric {
			word = f.name(g)
		}
		switch {
		case word == "CONTEXT_DATA{":
			depth = 1
		case word == "LEADER{":
			depth, end = 2, Vec3{}
		case word == "LEADER_LINE{":
			depth = 3
			d.Points = append(d.Points, nil)
		case word == "}":
			if depth == 3 {
				n := len(d.Points) - 1
				d.Points[n] = append(d.Points[n], end)
			}
			depth--
		case g.code == 304 && depth == 1:
			d.Text = f.p.enc.paragraphs(g.text)
		case depth == 1:
			if g.code == 41 {
				d.Height = f.real(g)
			}
			f.point(g, 12, &d.TextAt)
		case depth == 2:
			f.point(g, 10, &end)
		case depth == 3:
			n := len(d.Points) - 1
			if g.code == 10 {
				d.Points[n] = append(d.Points[n], Vec3{})
			}
			if m := len(d.Points[n]); m > 0 {
				f.point(g, 10, &d.Points[n][m-1])
			}
		}
	}
	e.Data = d
	return ""
}

func (f *fields) buildDimension(e *Entity) string {
	d := &Dimension{}
	for i := range f.groups {
		switch g := &f.groups[i]; g.code {
		case 1:
			d.Text = f.p.enc.decode(g.text)
		case 2:
			d.Block = f.name(g)
		case 3:
			d.Style = f.name(g)
		case 42:
			d.Measured, d.HasValue = f.real(g), true
		case 50:
			d.Rotation = f.real(g)
		case 70:
			d.Kind = DimensionKind(clamp(f.int(g)&7, int(DimOrdinate)))
		default:
			_ = f.point(g, 10, &d.At) || f.point(g, 11, &d.Middle) || f.point(g, 13, &d.First) ||
				f.point(g, 14, &d.Second) || f.point(g, 15, &d.Center) || f.point(g, 16, &d.Arc)
		}
	}
	d.overrides = f.overrides(e)
	e.Data = d
	return ""
}

// overrides reads the variables that a dimension has of its own: pairs of a
// code and a value between braces after DSTYLE.
func (f *fields) overrides(e *Entity) (all []override) {
	for _, x := range e.XData {
		if fold(x.App) != "ACAD" {
			continue
		}
		style := false
		for i := 0; i+1 < len(x.Values); i++ {
			v := x.Values[i]
			style = style || v.Code == 1000 && fold(v.Value) == "DSTYLE"
			if !style || v.Code != 1070 {
				continue
			}
			code, err := strconv.Atoi(v.Value)
			if err != nil {
				continue
			}
			i++
			number, _ := strconv.ParseFloat(x.Values[i].Value, 64)
			all = append(all, override{code, number, x.Values[i].Value})
		}
	}
	return all
}
