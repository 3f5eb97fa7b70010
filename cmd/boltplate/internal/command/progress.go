package command

import (
	"io"
	"time"

	"github.com/schollz/progressbar/v3"
)

// A progress shows on a terminal how much of the input is done. The nil
// progress shows nothing.
type progress struct{ bar *progressbar.ProgressBar }

// newProgress starts one over size bytes, or of unknown length where size is
// not above 0.
func newProgress(w io.Writer, size int64) *progress {
	if size <= 0 {
		size = -1
	}
	return &progress{progressbar.NewOptions64(size,
		progressbar.OptionSetWriter(w),
		progressbar.OptionSetDescription("drawing"),
		progressbar.OptionThrottle(100*time.Millisecond),
		progressbar.OptionSetPredictTime(size > 0),
		progressbar.OptionClearOnFinish(),
	)}
}

func (p *progress) set(n int64) {
	if p != nil {
		// A progress that cannot be shown is no reason to stop.
		_ = p.bar.Set64(n)
	}
}

// clear makes room for a line of text.
func (p *progress) clear() {
	if p != nil {
		_ = p.bar.Clear()
	}
}

func (p *progress) finish() {
	if p != nil {
		_ = p.bar.Exit()
		_ = p.bar.Clear()
	}
}
