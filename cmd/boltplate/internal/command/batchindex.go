package command

import (
	"bufio"
	"cmp"
	"crypto/sha256"
	"encoding/csv"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"html/template"
	"io"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"

	"boltplate/fastener"
	"boltplate/fastener/schedule"
)

// An indexLine is what the index of a batch says of a row.
type indexLine struct {
	Line        int      `json:"line"` // in the schedule
	Mark        string   `json:"mark"`
	Kind        string   `json:"kind"`
	Size        string   `json:"size"` // as it is written
	Length      float64  `json:"length,omitzero"`
	Quantity    int      `json:"quantity"`
	Designation string   `json:"designation"`
	Files       []string `json:"files"`
	Status      string   `json:"status"` // ok or failed
	Error       string   `json:"error"`
	// Input and Output are what the files were made of and what they hold, as
	// hashes: by them a batch goes on where it stopped.
	Input  string `json:"input"`
	Output string `json:"output"`
}

func indexColumns() []string {
	return []string{"line", "mark", "kind", "size", "length", "quantity", "designation", "files", "status", "error", "input", "output"}
}

// cells returns the line as a record of index.csv. Blanks divide the names of
// files, none of which has one.
func (l *indexLine) cells() []string {
	length := "" // a nut has none
	if l.Length != 0 {
		length = decimal(l.Length, dataDecimals)
	}
	return []string{strconv.Itoa(l.Line), l.Mark, l.Kind, l.Size, length, strconv.Itoa(l.Quantity), l.Designation,
		strings.Join(l.Files, " "), l.Status, l.Error, l.Input, l.Output}
}

// readIndex calls each for every line of an index.csv.
func readIndex(path string, each func(indexLine) error) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	r := csv.NewReader(bufio.NewReader(f))
	head, err := r.Read()
	if err != nil || !slices.Equal(head, indexColumns()) {
		return errNoIndex
	}
	for {
		c, err := r.Read()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return errNoIndex
		}
		l := indexLine{Mark: c[1], Kind: c[2], Size: c[3], Designation: c[6], Files: strings.Fields(c[7]), Status: c[8], Error: c[9], Input: c[10], Output: c[11]}
		l.Line, _ = strconv.Atoi(c[0])
		l.Length, _ = strconv.ParseFloat(c[4], 64)
		l.Quantity, _ = strconv.Atoi(c[5])
		if err := each(l); err != nil {
			return err
		}
	}
}

var errNoIndex = errors.New("it exists already and is no index of a batch; use --force to replace it")

// earlier reads the index of an earlier batch in the folder, by mark; nil where
// there is none.
func (b *batch) earlier(path string) (map[string]indexLine, error) {
	if b.files.force || b.plate != nil {
		return nil, nil
	}
	old := map[string]indexLine{}
	err := readIndex(path, func(l indexLine) error {
		if _, has := old[l.Mark]; !has && l.Output != "" {
			old[l.Mark] = l
		}
		return nil
	})
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil
	case err != nil:
		return nil, cannotWrite(path, err)
	}
	return old, nil
}

// hashOf returns a short hash.
func hashOf(parts ...[]byte) string {
	h := sha256.New()
	for _, p := range parts {
		h.Write(p)
	}
	return hex.EncodeToString(h.Sum(nil)[:12])
}

// input returns the hash of all that the files of a row are made of: what it
// says, the rules that it follows, and how it is written.
func (b *batch) input(row schedule.Row) string {
	spec, opt := row.Spec, row.Options
	spec.Rules = nil
	var text strings.Builder
	fmt.Fprintf(&text, "%s\n%+v\n%+v\n", b.settings, spec, opt)
	return hashOf([]byte(text.String()), []byte(b.sizes.of(row.Fastener)))
}

// sizeTexts are the sizes of fasteners with their rules, as text. A schedule has the same
// part many times.
type sizeTexts struct {
	mu    sync.Mutex
	texts map[fastener.Fastener]string
}

// mostTexts is how many texts are kept, some 2 kB each.
const mostTexts = 1024

// of returns the text of a fastener of a schedule, a value that can be a key.
func (s *sizeTexts) of(f fastener.Fastener) string {
	s.mu.Lock()
	text, ok := s.texts[f]
	s.mu.Unlock()
	if ok {
		return text
	}
	var out strings.Builder
	qs, err := f.Quantities() // with the rules, ours or one's own
	fmt.Fprintf(&out, "%v\n", err)
	for _, q := range qs {
		fmt.Fprintf(&out, "%s %s %v %s %s %s\n", q.Letter, q.Name, q.Value, q.RuleText(), q.Source, q.Set)
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.texts == nil || len(s.texts) >= mostTexts {
		s.texts = map[fastener.Fastener]string{}
	}
	s.texts[f] = out.String()
	return out.String()
}

// unchanged reports whether the files of a row are those that an earlier batch
// made of the same.
func (b *batch) unchanged(row schedule.Row, input string, names []string) (output string, same bool) {
	old, ok := b.old[row.Mark]
	if !ok || old.Input != input || !slices.Equal(old.Files, names) {
		return "", false
	}
	for _, name := range names {
		if info, err := os.Stat(filepath.Join(b.dir, name)); err != nil || !info.Mode().IsRegular() {
			return "", false
		}
	}
	return old.Output, true
}

// mayReplace reports whether files that are there are as an earlier batch left
// them, so that nothing of anybody else is lost.
func (b *batch) mayReplace(row schedule.Row) bool {
	old, ok := b.old[row.Mark]
	if !ok {
		return false
	}
	names := old.Files
	if len(names) == 0 { // it failed since; what was made before is there
		names = fileNames(row, b.formats)
	}
	var all [][]byte
	for _, name := range names {
		var data []byte
		if b.withFile(func() (err error) { data, err = os.ReadFile(filepath.Join(b.dir, filepath.Base(name))); return err }) != nil {
			return false
		}
		all = append(all, data)
	}
	return hashOf(all...) == old.Output
}

// unreached returns the lines of the earlier index of rows that a batch which was
// stopped has not come to, in their order, so that the next one knows their files.
func (b *batch) unreached(done map[string]bool) (lines []indexLine) {
	for mark, l := range b.old {
		if !done[mark] {
			lines = append(lines, l)
		}
	}
	slices.SortFunc(lines, func(a, b indexLine) int { return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Mark, b.Mark)) })
	return lines
}

// otherIndexes writes the index in its other forms.
func (b *batch) otherIndexes(path string) error {
	w := &fileWriter{force: b.files.force || b.old != nil}
	for _, form := range b.indexes {
		var write func(io.Writer, string) error
		switch form {
		case "json":
			write = indexJSON
		case "html":
			write = indexHTML
		default:
			continue
		}
		to := strings.TrimSuffix(path, ".csv") + "." + form
		if _, err := w.check(to); err != nil {
			return err
		}
		f, err := w.temp(to)
		if err != nil {
			return err
		}
		out := bufio.NewWriter(f)
		err = write(out, path)
		if e := out.Flush(); err == nil {
			err = e
		}
		if err := w.commit(f, to, err); err != nil {
			return err
		}
	}
	return nil
}

// indexJSON writes an index as a list of objects, one a line.
func indexJSON(w io.Writer, path string) error {
	sep := "[\n"
	err := readIndex(path, func(l indexLine) error {
		data, err := json.Marshal(l)
		if err == nil {
			_, err = fmt.Fprintf(w, "%s%s", sep, data)
		}
		sep = ",\n"
		return err
	})
	if err != nil {
		return err
	}
	if sep == "[\n" {
		_, err = io.WriteString(w, "[]\n")
		return err
	}
	_, err = io.WriteString(w, "\n]\n")
	return err
}

// indexHTML writes an index as a page with the pictures of the rows.
func indexHTML(w io.Writer, path string) error {
	if _, err := io.WriteString(w, pageHead); err != nil {
		return err
	}
	row := template.Must(template.New("row").Funcs(template.FuncMap{
		"svg": func(name string) bool { return strings.HasSuffix(name, ".svg") },
		"ref": func(name string) string { return (&url.URL{Path: "./" + name}).String() },
	}).Parse(pageRow))
	err := readIndex(path, func(l indexLine) error { return row.Execute(w, l) })
	if err == nil {
		_, err = io.WriteString(w, pageTail)
	}
	return err
}

const pageHead = `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<title>Schedule</title>
<style>
body { font: 16px/1.4 sans-serif; margin: 1.5rem; color: #111; background: #fff }
ul { list-style: none; padding: 0; display: grid; gap: 1rem; grid-template-columns: repeat(auto-fill, minmax(19rem, 1fr)) }
li { border: 1px solid #999; padding: .8rem }
li[hidden] { display: none }
img { width: 100%; height: 11rem; object-fit: contain }
h2 { font-size: 1.1rem; margin: 0 0 .3rem }
p { margin: .3rem 0 }
.failed { border: 2px solid #a00 }
.failed p { overflow-wrap: anywhere }
input { font: inherit; width: 20rem; max-width: 100% }
@media print { form { display: none } li { break-inside: avoid } }
</style>
</head>
<body>
<form hidden><label>Show those with <input type="search" autocomplete="off"></label> <output></output></form>
<ul>
`

const pageRow = `<li{{if ne .Status "ok"}} class="failed"{{end}}>
<h2>{{.Mark}}</h2>
{{range .Files}}{{if svg .}}<img src="{{ref .}}" alt="{{$.Designation}}" loading="lazy">
{{end}}{{end}}<p>{{.Designation}}{{if eq .Status "ok"}}, {{.Quantity}} off{{end}}</p>
{{if .Error}}<p>{{.Error}}</p>
{{end}}<p>{{range .Files}}<a href="{{ref .}}">{{.}}</a> {{end}}</p>
</li>
`

const pageTail = `</ul>
<script>
const form = document.querySelector('form'), all = [...document.querySelectorAll('li')];
form.hidden = false;
form.onsubmit = () => false;
form.oninput = () => {
  const words = form.querySelector('input').value.toLowerCase().split(/\s+/);
  for (const one of all) one.hidden = !words.every(w => one.textContent.toLowerCase().includes(w));
  form.querySelector('output').textContent = all.filter(one => !one.hidden).length + ' of ' + all.length;
};
</script>
</body>
</html>
`
