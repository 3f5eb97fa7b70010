package command

import (
	"fmt"
	"regexp"
	"strings"
)

// A figureBlock is where a [[figure]] stands in the file: the line of its
// header, and where the values of its keys are.
type figureBlock struct {
	line   int
	values map[string]position
}

type position struct{ line, column int }

// figureBlocks finds the figures of a file. The decoder knows the place of the
// last of several tables of one name only.
func figureBlocks(text string) []figureBlock {
	header := regexp.MustCompile(`^\s*\[\[\s*figure\s*\]\]`)
	other := regexp.MustCompile(`^\s*\[`)
	assign := regexp.MustCompile(`^\s*"?([A-Za-z0-9_-]+)"?\s*=\s*`)
	var blocks []figureBlock
	inside := false
	n := 0
	for line := range strings.Lines(text) {
		n++
		switch {
		case header.MatchString(line):
			blocks = append(blocks, figureBlock{n, map[string]position{}})
			inside = true
		case other.MatchString(line):
			inside = false
		case inside:
			if m := assign.FindStringSubmatch(line); m != nil {
				b := &blocks[len(blocks)-1]
				if _, again := b.values[m[1]]; !again {
					b.values[m[1]] = position{n, len(m[0]) + 1}
				}
			}
		}
	}
	return blocks
}

// failAt reports what is wrong with a key of a figure, or with all of it.
func (r *plateReader) failAt(t *figureTable, key, format string, a ...any) {
	if other, ok := t.stand[key]; ok {
		key = other
	}
	at := position{1, 1}
	if t.index < len(r.blocks) {
		b := r.blocks[t.index]
		at = position{b.line, 1}
		if p, ok := b.values[key]; ok {
			at = p
		}
	}
	r.add(at.line, at.column, fmt.Errorf(format, a...))
}
