package cli

import (
	"fmt"
	"io"
	"os"
	"time"

	"golang.org/x/term"

	"github.com/geocoris/geocoris/internal/language/visible"
)

const (
	progressAfter = 500 * time.Millisecond // short work stays silent
	progressEvery = 100 * time.Millisecond
)

// progress shows how far long work is, on a terminal only.
type progress struct {
	to          io.Writer // nil where there is nobody to see it
	begun, last time.Time
	shown       bool
}

func newProgress(w io.Writer, quiet bool) *progress {
	p := &progress{begun: time.Now()}
	if v, ok := w.(*visible.Writer); ok {
		w = v.To
	}
	if f, ok := w.(*os.File); ok && !quiet && term.IsTerminal(int(f.Fd())) {
		p.to = f
	}
	return p
}

func (p *progress) show(done, total int) {
	now := time.Now()
	if p.to == nil || now.Sub(p.begun) < progressAfter || now.Sub(p.last) < progressEvery {
		return
	}
	p.last, p.shown = now, true
	fmt.Fprintf(p.to, "\r%3d %%", 100*done/total)
}

func (p *progress) clear() {
	if p.shown {
		fmt.Fprint(p.to, "\r     \r")
	}
}
