package marking

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"boltplate/drawing"
)

// textWidthOf is how wide a report is, characters.
const textWidthOf = 96

// WriteText writes the report in words: the points by parts with what they were
// lost for, the findings with what to learn from each, and what the instructor
// has to look at.
func (r *Result) WriteText(w io.Writer) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s of %s points\n\n", points(r.Points), points(r.Of))
	for _, p := range r.Parts {
		fmt.Fprintf(&b, "  %-15s %5s of %-5s", p.Name, points(p.Points), points(p.Of))
		for i, l := range p.Lost {
			if i > 0 {
				fmt.Fprintf(&b, "\n%32s", "")
			}
			b.WriteString("  " + l.String())
		}
		b.WriteString("\n")
	}
	r.views(&b)
	if len(r.Findings) > 0 {
		b.WriteString("\nFindings, by their numbers on the drawing\n")
	}
	for i := range r.Findings {
		f := &r.Findings[i]
		fmt.Fprintf(&b, "\n%s\n", f.heading())
		wrap(&b, f.Text+f.inFile(), 4)
		if f.Advice != "" {
			wrap(&b, f.Advice, 4)
		}
	}
	list(&b, "For the instructor to decide (costs nothing)", r.Unsure)
	list(&b, "How it was read", r.Notes)
	_, err := io.WriteString(w, b.String())
	return err
}

// heading returns the number of a finding, what it is and what it costs.
func (f *Finding) heading() string {
	s := fmt.Sprintf("%2d  %s", f.Number, f.Kind.Title())
	if f.Points > 0 {
		return s + fmt.Sprintf(" (−%s)", points(f.Points))
	}
	return s + " (no points left to lose, or none asked)"
}

// inFile says where in the file a finding begins.
func (f *Finding) inFile() string {
	if len(f.Lines) == 0 {
		return ""
	}
	var all []string
	for i, l := range f.Lines {
		if i == 6 {
			all = append(all, "...")
			break
		}
		all = append(all, fmt.Sprint(l))
	}
	word := "line"
	if len(all) > 1 {
		word = "lines"
	}
	return fmt.Sprintf(" (%s %s of the file)", word, strings.Join(all, ", "))
}

// String returns what was lost and how it comes about, such as "−6: 2 × 3 for
// line missing (1, 4)".
func (l Loss) String() string {
	var numbers []string
	for _, n := range l.Findings {
		numbers = append(numbers, fmt.Sprint(n))
	}
	s := fmt.Sprintf("−%s: %d × %s for %s (%s)", points(l.Points), l.N, points(l.Each), l.Kind.Title(), strings.Join(numbers, ", "))
	if l.Points < l.Asked {
		s += ", as far as there are points"
	}
	return s
}

func points(v float64) string { return drawing.FormatValue(v, false) }

// views says where the views were found.
func (r *Result) views(b *strings.Builder) {
	b.WriteString("\nViews\n\n")
	for _, v := range r.Views {
		name := v.Name
		if v.Figure != "" {
			name = v.Figure + ", " + name
		}
		if !v.Found {
			fmt.Fprintf(b, "  %-28s not found\n", name)
			continue
		}
		how := fmt.Sprintf("at %s, %s, scale %s", points(v.At.X), points(v.At.Y), drawing.FormatValue(v.Scale, false))
		if v.Turn != 0 {
			how += fmt.Sprintf(", turned by %s°", points(v.Turn))
		}
		if v.Mirrored {
			how += ", mirrored"
		}
		fmt.Fprintf(b, "  %-28s %s; %s %% of its lines in place\n", name, how, points(float64(int(100*v.Covered+0.5))))
	}
}

func list(b *strings.Builder, title string, lines []string) {
	if len(lines) == 0 {
		return
	}
	fmt.Fprintf(b, "\n%s\n\n", title)
	for _, l := range lines {
		var one strings.Builder
		wrap(&one, l, 4)
		b.WriteString("  - " + strings.TrimPrefix(one.String(), "    "))
	}
}

// wrap writes a text in lines, indented.
func wrap(b *strings.Builder, s string, indent int) {
	blank := strings.Repeat(" ", indent)
	line := blank
	for _, word := range strings.Fields(s) {
		if len([]rune(line))+1+len([]rune(word)) > textWidthOf && line != blank {
			b.WriteString(line + "\n")
			line = blank
		}
		if line != blank {
			line += " "
		}
		line += word
	}
	b.WriteString(line + "\n")
}

// The form of a result in JSON.
type (
	jsonResult struct {
		Points   float64       `json:"points"`
		Of       float64       `json:"of"`
		Parts    []jsonPart    `json:"parts"`
		Views    []jsonView    `json:"views"`
		Findings []jsonFinding `json:"findings"`
		Unsure   []string      `json:"unsure"`
		Notes    []string      `json:"notes"`
	}
	jsonPart struct {
		Name   string     `json:"name"`
		Points float64    `json:"points"`
		Of     float64    `json:"of"`
		Lost   []jsonLoss `json:"lost"`
	}
	jsonLoss struct {
		Kind     string  `json:"kind"`
		Count    int     `json:"count"`
		Each     float64 `json:"each"`
		Points   float64 `json:"points"`
		Findings []int   `json:"findings"`
	}
	jsonView struct {
		Figure   string     `json:"figure,omitempty"`
		View     string     `json:"view"`
		Found    bool       `json:"found"`
		At       [2]float64 `json:"at"`
		Scale    float64    `json:"scale"`
		Turn     float64    `json:"turn"`
		Mirrored bool       `json:"mirrored"`
		Covered  float64    `json:"covered"`
	}
	jsonFinding struct {
		Number int        `json:"number"`
		Kind   string     `json:"kind"`
		Figure string     `json:"figure,omitempty"`
		View   string     `json:"view"`
		Text   string     `json:"text"`
		Advice string     `json:"advice"`
		Amount float64    `json:"amount,omitempty"`
		Points float64    `json:"points"`
		Lines  []int      `json:"lines"`
		At     [2]float64 `json:"at"`
		Radius float64    `json:"radius"`
	}
)

// MarshalJSON returns the result as an object: points, parts, views, findings,
// unsure, notes. Places are [x, y] in units of the submission, amounts
// millimetres on paper, lines those of the file.
func (r *Result) MarshalJSON() ([]byte, error) {
	j := jsonResult{Points: r.Points, Of: r.Of, Parts: []jsonPart{}, Views: []jsonView{}, Findings: []jsonFinding{}, Unsure: orEmpty(r.Unsure), Notes: orEmpty(r.Notes)}
	for _, p := range r.Parts {
		q := jsonPart{p.Name, p.Points, p.Of, []jsonLoss{}}
		for _, l := range p.Lost {
			q.Lost = append(q.Lost, jsonLoss{l.Kind.String(), l.N, l.Each, l.Points, l.Findings})
		}
		j.Parts = append(j.Parts, q)
	}
	for _, v := range r.Views {
		j.Views = append(j.Views, jsonView{v.Figure, v.Name, v.Found, at(v.At), round6(v.Scale), v.Turn, v.Mirrored, round6(v.Covered)})
	}
	for i := range r.Findings {
		f := &r.Findings[i]
		j.Findings = append(j.Findings, jsonFinding{f.Number, f.Kind.String(), f.Figure, f.View, f.Text, f.Advice, round6(f.Amount), f.Points, append([]int{}, f.Lines...), at(f.At), round6(f.Radius)})
	}
	return json.Marshal(j)
}

func at(p drawing.Point) [2]float64 { return [2]float64{round6(p.X), round6(p.Y)} }

func round6(v float64) float64 { return tidy(v) + 0 }

func orEmpty(s []string) []string {
	if s == nil {
		return []string{}
	}
	return s
}
