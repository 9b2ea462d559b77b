package cli

import (
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/language/visible"
)

// What watches over words hides no terminal.
func TestATerminalIsFoundBelowWhatWatches(t *testing.T) {
	assert.Equal(t, os.Stderr, bare(redacted{&visible.Writer{To: os.Stderr}}))
}

// The time left goes by what was done since the first call, and a shorter line leaves
// nothing of a longer one.
func TestProgressTellsTheTimeLeft(t *testing.T) {
	var b strings.Builder
	now := time.Time{}.Add(time.Hour)
	p := &progress{to: &b, begun: now, now: func() time.Time { return now }}
	after := func(d time.Duration, done int) string {
		b.Reset()
		now = p.begun.Add(d)
		p.show(done, 1000)
		return strings.ReplaceAll(b.String(), "\r", "|")
	}
	for _, c := range []struct {
		after time.Duration
		done  int
		want  string
	}{
		{100 * time.Millisecond, 10, ""}, // nobody waits for it
		{600 * time.Millisecond, 11, "|  1 %"},
		{650 * time.Millisecond, 12, ""},
		{5 * time.Second, 20, "|  2 %"},                            // 4.9 s since the first call
		{5100 * time.Millisecond, 12, "|  1 %, about 42 min left"}, // two fields in 5 s
		{5300 * time.Millisecond, 11, "|  1 %, about 1.4 h left "}, // one
		{10100 * time.Millisecond, 910, "| 91 %, less than a minute left"},
		{10300 * time.Millisecond, 1000, "|100 %" + strings.Repeat(" ", 25)},
	} {
		assert.Equal(t, c.want, after(c.after, c.done), "%v", c.after)
	}
	b.Reset()
	p.clear()
	assert.Equal(t, "\r     \r", b.String())
}
