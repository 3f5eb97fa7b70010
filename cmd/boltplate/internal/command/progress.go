package command

import (
	"fmt"
	"io"
	"time"

	"github.com/schollz/progressbar/v3"
)

// A progress shows how much of the input is done: on a terminal as a bar, on a
// pipe or in a file as a line now and then. The nil progress shows nothing.
type progress struct {
	bar *progressbar.ProgressBar // nil: lines

	w           io.Writer
	size        int64
	every       time.Duration
	begun, said time.Time
}

// lineEvery is how often a line says how far the work is: short work says
// nothing.
const lineEvery = 10 * time.Second

// newProgress returns a progress over size units of the input, nil where none is
// wanted.
func (e *env) newProgress(size int64) *progress {
	switch {
	case e.quiet:
		return nil
	case e.progress:
		return newProgress(e.stderr, size)
	}
	return newLines(e.stderr, size, lineEvery)
}

func newLines(w io.Writer, size int64, every time.Duration) *progress {
	now := time.Now()
	return &progress{w: w, size: size, every: every, begun: now, said: now}
}

// newProgress starts one over size bytes, or of unknown length where size is
// not above 0.
func newProgress(w io.Writer, size int64) *progress {
	if size <= 0 {
		size = -1
	}
	return &progress{bar: progressbar.NewOptions64(size,
		progressbar.OptionSetWriter(w),
		progressbar.OptionSetDescription("drawing"),
		progressbar.OptionThrottle(100*time.Millisecond),
		progressbar.OptionSetPredictTime(size > 0),
		progressbar.OptionClearOnFinish(),
	)}
}

func (p *progress) set(n int64) {
	switch now := time.Now(); {
	case p == nil:
	case p.bar != nil:
		// A progress that cannot be shown is no reason to stop.
		_ = p.bar.Set64(n)
	case now.Sub(p.said) >= p.every:
		p.said = now
		took := now.Sub(p.begun).Round(time.Second)
		if p.size > 0 {
			fmt.Fprintf(p.w, "drawing: %d %% after %v\n", 100*n/p.size, took)
		} else {
			fmt.Fprintf(p.w, "drawing: %d bytes read after %v\n", n, took)
		}
	}
}

// clear makes room for a line of text.
func (p *progress) clear() {
	if p != nil && p.bar != nil {
		_ = p.bar.Clear()
	}
}

func (p *progress) finish() {
	if p != nil && p.bar != nil {
		_ = p.bar.Exit()
		_ = p.bar.Clear()
	}
}
