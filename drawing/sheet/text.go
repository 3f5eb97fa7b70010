package sheet

import (
	"strings"

	"boltplate/drawing"
)

// Spacing of lines of text in heights of capitals (ISO 3098, type B: 15/10 for
// lines with small letters), and how far small letters reach below the line.
const (
	lineSpacing = 1.6
	descent     = 0.32
)

// noBreak is a blank at which wrap does not break a line.
const noBreak = "\u00a0"

// slack is what rounding may add to a width, mm.
const slack = 1e-6

// wrap breaks text into lines that are at most width wide, at blanks where it
// can, and in the middle of a word that is wider than that.
func wrap(text string, height, width float64) []string {
	var lines []string
	line := ""
	// M16 × 70 and ISO 4014 are each one word, and no line starts with a dash.
	text = strings.NewReplacer(" × ", noBreak+"×"+noBreak, "ISO ", "ISO"+noBreak, " - ", noBreak+"- ", " – ", noBreak+"– ").Replace(text)
	push := func() {
		if line != "" {
			lines = append(lines, strings.ReplaceAll(line, noBreak, " "))
			line = ""
		}
	}
	for word := range strings.FieldsFuncSeq(text, func(r rune) bool { return r == ' ' || r == '\t' || r == '\n' || r == '\r' }) {
		if line != "" && drawing.TextWidth(line+" "+word, height) <= width+slack {
			line += " " + word
			continue
		}
		push()
		for _, r := range word {
			if line != "" && drawing.TextWidth(line+string(r), height) > width+slack {
				push()
			}
			line += string(r)
		}
	}
	push()
	return lines
}

// balanced breaks text into as few lines as wrap does, of about one length.
func balanced(text string, height, width float64) []string {
	lines := wrap(text, height, width)
	for narrower := width; ; {
		narrower -= height
		next := wrap(text, height, narrower)
		if len(lines) < 2 || narrower < 2*height || len(next) > len(lines) {
			return lines
		}
		lines = next
	}
}

// block returns the height of n lines of text from the top of the first line's
// capitals to below the last line's small letters.
func block(n int, height float64) float64 {
	if n == 0 {
		return 0
	}
	return height * (1 + lineSpacing*float64(n-1) + descent)
}

// widest returns the width of the widest line.
func widest(lines []string, height float64) float64 {
	w := 0.0
	for _, l := range lines {
		w = max(w, drawing.TextWidth(l, height))
	}
	return w
}
