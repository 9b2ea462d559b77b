package cli

import (
	"fmt"
	"io"
	"math"
	"os"
	"time"

	"golang.org/x/term"
)

const (
	progressAfter = 500 * time.Millisecond // short work stays silent
	progressEvery = 100 * time.Millisecond
	leftAfter     = 5 * time.Second // before it nobody knows how long the work takes
)

// progress shows how far long work is, and how long it will take, on a terminal only.
type progress struct {
	to          io.Writer // nil where there is nobody to see it
	begun, last time.Time
	first       time.Time // of the first call of show,
	done        int       // and how far the work was then
	shown       int       // characters on the line
	now         func() time.Time
}

func newProgress(w io.Writer, quiet bool) *progress {
	p := &progress{begun: time.Now(), now: time.Now}
	if f, ok := bare(w).(*os.File); ok && !quiet && term.IsTerminal(int(f.Fd())) {
		p.to = f
	}
	return p
}

func (p *progress) show(done, total int) {
	now := p.now()
	if p.first.IsZero() {
		p.first, p.done = now, done
	}
	if p.to == nil || now.Sub(p.begun) < progressAfter || now.Sub(p.last) < progressEvery {
		return
	}
	text := fmt.Sprintf("%3d %%%s", 100*done/total, p.left(now, done, total))
	fmt.Fprintf(p.to, "\r%-*s", p.shown, text)
	p.last, p.shown = now, len(text)
}

// left is how long the rest will take if it goes on as before; "" where that is not yet
// known, and at the end.
func (p *progress) left(now time.Time, done, total int) string {
	spent := now.Sub(p.first)
	if spent < leftAfter || done <= p.done || done >= total {
		return ""
	}
	left := time.Duration(float64(spent) / float64(done-p.done) * float64(total-done))
	switch {
	case left < time.Minute:
		return ", less than a minute left"
	case left < time.Hour:
		return fmt.Sprintf(", about %d min left", int(math.Ceil(left.Minutes())))
	}
	return fmt.Sprintf(", about %.1f h left", left.Hours())
}

func (p *progress) clear() {
	if p.shown > 0 {
		fmt.Fprintf(p.to, "\r%*s\r", p.shown, "")
	}
}
