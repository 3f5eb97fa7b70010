package settings

import (
	"fmt"
	"strconv"
	"strings"
)

// A Position is a line and a column of a file.
type Position struct{ Line, Column int }

// tomlPlaces are where the values of a file stand, by their way from the top:
// "title.date", "figure[1].size", "figure[1].text[0]". A table stands at its
// header, or at its brace. The decoder of TOML knows the place of the last of
// several tables of one name only.
type tomlPlaces map[string]Position

// placesOf finds the values of a file that the decoder has read without an error.
func placesOf(text string) tomlPlaces {
	s := placeScanner{text: text, places: tomlPlaces{}, tables: map[string]int{}}
	table := ""
	for s.space(); s.i < len(s.text); s.space() {
		start := s.i
		if s.text[s.i] == '[' {
			table = s.header()
		} else {
			s.pair(table)
		}
		if s.i == start {
			s.i++ // not TOML
		}
	}
	return s.places
}

type placeScanner struct {
	text   string
	i      int
	line   int // lines before from
	from   int // where the line begins
	places tomlPlaces
	tables map[string]int // of each array of tables
}

func (s *placeScanner) note(path string) {
	s.line += strings.Count(s.text[s.from:s.i], "\n")
	if n := strings.LastIndexByte(s.text[s.from:s.i], '\n'); n >= 0 {
		s.from += n + 1
	}
	if _, again := s.places[path]; !again {
		s.places[path] = Position{s.line + 1, s.i - s.from + 1}
	}
}

// space skips blanks, line ends and comments.
func (s *placeScanner) space() {
	for s.i < len(s.text) {
		switch s.text[s.i] {
		case ' ', '\t', '\r', '\n':
			s.i++
		case '#':
			n := strings.IndexByte(s.text[s.i:], '\n')
			if n < 0 {
				n = len(s.text) - s.i
			}
			s.i += n
		default:
			return
		}
	}
}

// take skips c after blanks and reports whether it was there.
func (s *placeScanner) take(c byte) bool {
	s.space()
	if s.i < len(s.text) && s.text[s.i] == c {
		s.i++
		return true
	}
	return false
}

// header reads [a.b] or [[a.b]] and returns the way to its table.
func (s *placeScanner) header() string {
	at := s.i
	s.i++
	array := s.i < len(s.text) && s.text[s.i] == '['
	if array {
		s.i++
	}
	path := ""
	for i, part := range s.key() {
		if i > 0 {
			path = s.last(path)
		}
		path = join(path, part)
	}
	for s.take(']') {
	}
	if array {
		s.tables[path]++
	}
	path = s.last(path)
	end := s.i
	s.i = at
	s.note(path)
	s.i = end
	return path
}

// last returns the way to the last of the tables that stand at path, or path.
func (s *placeScanner) last(path string) string {
	if n := s.tables[path]; n > 0 {
		return element(path, n-1)
	}
	return path
}

func join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}

func element(path string, i int) string { return path + "[" + strconv.Itoa(i) + "]" }

// key reads the parts of a key.
func (s *placeScanner) key() (parts []string) {
	for {
		s.space()
		start := s.i
		if s.i < len(s.text) && (s.text[s.i] == '"' || s.text[s.i] == '\'') {
			s.i = min(endOfString(s.text, s.i)+1, len(s.text))
			parts = append(parts, strings.Trim(s.text[start:s.i], `"'`))
		} else {
			for s.i < len(s.text) && !strings.ContainsRune(" \t\r\n.=[]{},#\"'", rune(s.text[s.i])) {
				s.i++
			}
			parts = append(parts, s.text[start:s.i])
		}
		if !s.take('.') {
			return parts
		}
	}
}

// pair reads key = value.
func (s *placeScanner) pair(table string) {
	path := table
	for _, part := range s.key() {
		path = join(path, part)
	}
	if s.take('=') {
		s.value(path)
	}
}

func (s *placeScanner) value(path string) {
	s.space()
	if s.i >= len(s.text) {
		return
	}
	s.note(path)
	switch s.text[s.i] {
	case '"', '\'':
		s.i = min(endOfString(s.text, s.i)+1, len(s.text))
	case '[':
		s.i++
		for n := 0; !s.take(']') && s.i < len(s.text); n++ {
			start := s.i
			s.value(element(path, n))
			if !s.take(',') && s.i == start {
				return // not TOML
			}
		}
	case '{':
		s.i++
		for !s.take('}') && s.i < len(s.text) {
			start := s.i
			s.pair(path)
			if !s.take(',') && s.i == start {
				return
			}
		}
	default:
		for s.i < len(s.text) && !strings.ContainsRune(",]}#\n", rune(s.text[s.i])) {
			s.i++
		}
	}
}

// failAt reports what is wrong with a key of a figure, or with all of it.
func (r *Plate) failAt(t *figureTable, key, format string, a ...any) {
	if other, ok := t.stand[key]; ok {
		key = other
	}
	figure := element("figure", t.index)
	at, ok := r.places[join(figure, key)]
	if !ok {
		at = r.FigurePlace(t.index)
	}
	r.add(at.Line, at.Column, fmt.Errorf(format, a...))
}

// FigurePlace returns where a figure stands.
func (r *Plate) FigurePlace(index int) Position {
	at, ok := r.places[element("figure", index)]
	if !ok {
		return Position{1, 1}
	}
	return at
}
