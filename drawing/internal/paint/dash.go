package paint

import "math"

// fit returns the pattern, stretched in its long dashes, with which a line of
// the given length starts and ends with a whole dash; a closed line has whole
// repeats. It is nil, continuous, for a line that is too short for the
// pattern, as short centre lines are (ISO 128-2).
func fit(pattern []float64, length float64, closed bool) []float64 {
	rest := 0.0
	for _, e := range pattern[1:] {
		rest += e
	}
	dash := pattern[0]
	period := dash + rest
	var n float64 // repeats; an open line has one dash more
	if closed {
		n = max(2, math.Round(length/period))
		dash = length/n - rest
	} else {
		n = repeats(len(pattern), dash, rest, length)
		dash = (length - n*rest) / (n + 1)
	}
	if n == 0 || dash < pattern[0]/4 {
		return nil
	}
	fitted := append([]float64{dash}, pattern[1:]...)
	return fitted
}

// repeats returns how often the pattern is repeated on an open line, before
// its last dash. A chain line has an even number, so that its middle, where
// another will often cross it, is on a dash.
func repeats(elements int, dash, rest, length float64) float64 {
	if elements == 2 {
		return max(1, math.Round((length-dash)/(dash+rest)))
	}
	return max(2, 2*math.Round((length-dash)/(dash+rest)/2))
}
