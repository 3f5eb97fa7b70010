package command

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"boltplate/drawing"
	"boltplate/drawing/pdf"
	"boltplate/drawing/svg"
	"boltplate/dxfout"
	"boltplate/fastener"
)

// A format is a form of file that a drawing is written in: the ending of the
// file's name, without its dot.
type format string

// The formats.
const (
	formatDXF format = "dxf"
	formatSVG format = "svg"
	formatPDF format = "pdf"
)

func formatNames() []string { return []string{string(formatDXF), string(formatSVG), string(formatPDF)} }

// parseFormat returns the format of that name.
func parseFormat(s string) (format, error) {
	name := strings.ToLower(strings.TrimSpace(s))
	if slices.Contains(formatNames(), name) {
		return format(name), nil
	}
	if near := fastener.Nearest(name, formatNames()); near != "" {
		return "", fmt.Errorf("--format %s: no such form of file; did you mean %s?", s, near)
	}
	return "", fmt.Errorf("--format %s: no such form of file; use dxf, svg or pdf", s)
}

// parseFormats returns the formats of a list.
func parseFormats(list string) ([]format, error) {
	var all []format
	for one := range strings.SplitSeq(list, ",") {
		if strings.TrimSpace(one) == "" {
			return nil, fmt.Errorf("--format %s: a name is missing between commas; use dxf, svg or pdf", list)
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
		return "", fmt.Errorf("%s: only DXF, SVG and PDF can be written; end the name in .dxf, .svg or .pdf, or use - for standard output", path)
	case want != "" && want != ending:
		return "", fmt.Errorf("%s: ends in .%s, and --format says %s; leave --format out or change the ending", path, ending, want)
	}
	return ending, nil
}

// append appends the drawing to dst, DXF as e writes it. title says in words what it shows.
func (f format) append(e dxfout.Encoder, dst []byte, d *drawing.Drawing, title string) ([]byte, error) {
	switch f {
	case formatDXF:
		return e.Append(dst, d)
	case formatSVG:
		return svg.Encoder{Title: title}.Append(dst, d)
	case formatPDF:
		return pdf.Encoder{Title: title}.Append(dst, d)
	}
	return dst, errors.New("no such format: " + string(f))
}
