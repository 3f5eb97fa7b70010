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

// noBreak is a blank at which Wrap does not break a line.
const noBreak = "\u00a0"

// slack is what rounding may add to a width, mm.
const slack = 1e-6

// Wrap breaks text into lines that are at most width wide at the given height of
// capitals (both in one unit), at blanks where it can, and in the middle of a
// word that is wider than that. A line break in the text begins a new line; a
// no-break blank (U+00A0) holds two words together, and so do a multiplication
// sign, a dash and the "ISO" before a number.
func Wrap(text string, height, width float64) []string {
	var lines []string
	for paragraph := range strings.SplitSeq(text, "\n") {
		if one := wrapLine(paragraph, height, width); len(one) > 0 || text != "" {
			lines = append(lines, one...)
		}
	}
	return lines
}

func wrapLine(text string, height, width float64) []string {
	var lines []string
	line, wide := "", 0.0
	blank := drawing.TextWidth(" ", height)
	push := func() {
		if line != "" {
			lines = append(lines, strings.ReplaceAll(line, noBreak, " "))
			line, wide = "", 0
		}
	}
	for word := range strings.FieldsFuncSeq(held(text), breakable) {
		w := drawing.TextWidth(word, height)
		if line != "" && wide+blank+w <= width+slack {
			line, wide = line+" "+word, wide+blank+w
			continue
		}
		push()
		if w <= width+slack {
			line, wide = word, w
			continue
		}
		for _, r := range word {
			one := drawing.TextWidth(string(r), height)
			if line != "" && wide+one > width+slack {
				push()
			}
			line, wide = line+string(r), wide+one
		}
	}
	push()
	return lines
}

// balanced breaks text into as few lines as Wrap does, of about one length.
func balanced(text string, height, width float64) []string {
	lines := Wrap(text, height, width)
	lo, hi := 2*height, width
	for len(lines) > 1 && hi-lo > height/4 {
		mid := (lo + hi) / 2
		if narrower := Wrap(text, height, mid); len(narrower) <= len(lines) {
			lines, hi = narrower, mid
		} else {
			lo = mid
		}
	}
	return lines
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

// wordsOf returns the words of a text, which are what Wrap does not break.
func wordsOf(text string) []string {
	words := strings.FieldsFunc(held(text), breakable)
	for i, w := range words {
		words[i] = strings.ReplaceAll(w, noBreak, " ")
	}
	return words
}

// held returns a text with no-break blanks where a line must not end.
func held(text string) string {
	for _, r := range [...][2]string{{" × ", noBreak + "×" + noBreak}, {"ISO ", "ISO" + noBreak}, {"DIN ", "DIN" + noBreak}, {" - ", noBreak + "- "}, {" – ", noBreak + "– "}} {
		text = strings.ReplaceAll(text, r[0], r[1])
	}
	return text
}

func breakable(r rune) bool { return r == ' ' || r == '\t' || r == '\r' || r == '\n' }
