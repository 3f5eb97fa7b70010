package command

import (
	"encoding/json"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"boltplate/drawing"
	"boltplate/drawing/pdf"
	"boltplate/drawing/sheet"
	"boltplate/drawing/svg"
	"boltplate/dxfout"
	"boltplate/fastener"
)

// A format is a form of file that a drawing is written in: the ending of the
// file's name, without its dot.
type format string

// The formats that are spoken of elsewhere; all are in the table formats.
const (
	formatDXF format = "dxf"
	formatSVG format = "svg"
	formatPDF format = "pdf"
)

// A formatInfo is how drawings are written in a format.
type formatInfo struct {
	name  format
	title string // as the trade writes it
	// one appends a drawing to dst, DXF as e writes it; title says what it shows.
	one func(e dxfout.Encoder, dst []byte, d *drawing.Drawing, title string) ([]byte, error)
	// page makes the file of a page of sheets, and pages one file of all of them;
	// nil where that is a drawing like any other.
	page  func(e dxfout.Encoder, s *sheet.Sheet, size drawing.Rect, title string, frame frameSpace) ([]byte, error)
	pages func(all []*drawing.Drawing, size drawing.Rect, title string) ([]byte, error)
}

// formats are the forms of files, the usual one first.
func formats() []formatInfo {
	return []formatInfo{
		{
			name: formatDXF, title: "DXF",
			one: func(e dxfout.Encoder, dst []byte, d *drawing.Drawing, _ string) ([]byte, error) {
				return e.Append(dst, d)
			},
			page: func(e dxfout.Encoder, s *sheet.Sheet, size drawing.Rect, _ string, frame frameSpace) ([]byte, error) {
				d := s.Drawing
				if e.Version != dxfout.R12 {
					d, e.Layout = onPaper(s, size, frame)
				}
				return e.Append(nil, d)
			},
		},
		{
			name: formatSVG, title: "SVG",
			one: func(_ dxfout.Encoder, dst []byte, d *drawing.Drawing, title string) ([]byte, error) {
				return svg.Encoder{Title: title}.Append(dst, d)
			},
			page: func(_ dxfout.Encoder, s *sheet.Sheet, size drawing.Rect, title string, _ frameSpace) ([]byte, error) {
				return svg.Encoder{Width: size.Dx(), Height: size.Dy(), Title: title}.Append(nil, s.Drawing)
			},
		},
		{
			name: formatPDF, title: "PDF",
			one: func(_ dxfout.Encoder, dst []byte, d *drawing.Drawing, title string) ([]byte, error) {
				return pdf.Encoder{Title: title}.Append(dst, d)
			},
			pages: func(all []*drawing.Drawing, size drawing.Rect, title string) ([]byte, error) {
				return pdf.Encoder{Width: size.Dx(), Height: size.Dy(), Title: title}.AppendPages(nil, all...)
			},
		},
		{
			name: "json", title: "JSON",
			one: func(_ dxfout.Encoder, dst []byte, d *drawing.Drawing, _ string) ([]byte, error) {
				data, err := json.Marshal(d)
				return append(append(dst, data...), '\n'), err
			},
		},
	}
}

func (f format) info() (formatInfo, bool) {
	all := formats()
	i := slices.IndexFunc(all, func(one formatInfo) bool { return one.name == f })
	if i < 0 {
		return formatInfo{}, false
	}
	return all[i], true
}

func formatNames() (names []string) {
	for _, f := range formats() {
		names = append(names, string(f.name))
	}
	return names
}

// formatList names the formats: "dxf, svg, pdf or json".
func formatList() string { return listed(formatNames(), "or") }

func listed(words []string, last string) string {
	n := len(words) - 1
	return strings.Join(words[:n], ", ") + " " + last + " " + words[n]
}

// parseFormat returns the format of that name.
func parseFormat(s string) (format, error) {
	name := strings.ToLower(strings.TrimSpace(s))
	if slices.Contains(formatNames(), name) {
		return format(name), nil
	}
	if near := fastener.Nearest(name, formatNames()); near != "" {
		return "", fmt.Errorf("--format %s: no such form of file; did you mean %s?", s, near)
	}
	return "", fmt.Errorf("--format %s: no such form of file; use %s", s, formatList())
}

// parseFormats returns the formats of a list.
func parseFormats(list string) ([]format, error) {
	var all []format
	for one := range strings.SplitSeq(list, ",") {
		if strings.TrimSpace(one) == "" {
			return nil, fmt.Errorf("--format %s: a name is missing between commas; use %s", list, formatList())
		}
		f, err := parseFormat(one)
		if err != nil {
			return nil, err
		}
		if slices.Contains(all, f) {
			return nil, fmt.Errorf("--format %s: %s is given twice; give it once", list, f)
		}
		all = append(all, f)
	}
	return all, nil
}

// parseIndexes returns the forms of an index of a list, csv among them.
func parseIndexes(list string) ([]string, error) {
	known := []string{"csv", "json", "html"}
	all := []string{"csv"}
	for one := range strings.SplitSeq(list, ",") {
		name := strings.ToLower(strings.TrimSpace(one))
		if !slices.Contains(known, name) {
			return nil, fmt.Errorf("--index %s: no such form of an index; use csv, json or html", strings.TrimSpace(one))
		}
		if !slices.Contains(all, name) {
			all = append(all, name)
		}
	}
	return all, nil
}

// formatOf returns the format of a file by the ending of its name. asked is
// that of --format, or "".
func formatOf(path, asked string) (format, error) {
	var want format
	if asked != "" {
		var err error
		if want, err = parseFormat(asked); err != nil {
			return "", err
		}
	}
	if path == stdStream {
		if want == "" {
			want = formatDXF
		}
		return want, nil
	}
	ending, err := parseFormat(strings.TrimPrefix(filepath.Ext(path), "."))
	switch {
	case err != nil:
		var titles, endings []string
		for _, f := range formats() {
			titles, endings = append(titles, f.title), append(endings, "."+string(f.name))
		}
		return "", fmt.Errorf("%s: only %s can be written; end the name in %s, or use - for standard output", path,
			listed(titles, "and"), listed(endings, "or"))
	case want != "" && want != ending:
		return "", fmt.Errorf("%s: ends in .%s, and --format says %s; leave --format out or change the ending", path, ending, want)
	}
	return ending, nil
}

// append appends the drawing to dst, DXF as e writes it. title says in words what it shows.
func (f format) append(e dxfout.Encoder, dst []byte, d *drawing.Drawing, title string) ([]byte, error) {
	if info, ok := f.info(); ok {
		return info.one(e, dst, d, title)
	}
	return dst, errors.New("no such format: " + string(f))
}
