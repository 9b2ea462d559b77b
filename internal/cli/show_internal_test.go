package cli

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/language/visible"
	"github.com/geocoris/geocoris/internal/output/report"
)

// Answers have colours on a terminal only, and not where nobody wants them.
func TestColoursAreForTerminals(t *testing.T) {
	terminal := func() (int, bool) { return 72, true }
	for name, c := range map[string]struct {
		tty  func() (int, bool)
		env  map[string]string
		want bool
	}{
		"a terminal":          {terminal, nil, true},
		"NO_COLOR":            {terminal, map[string]string{"NO_COLOR": "1"}, false},
		"NO_COLOR, but empty": {terminal, map[string]string{"NO_COLOR": ""}, true},
		"a dumb terminal":     {terminal, map[string]string{"TERM": "dumb"}, false},
		"another terminal":    {terminal, map[string]string{"TERM": "xterm"}, true},
		"a pipe":              {nil, map[string]string{"TERM": "xterm"}, false},
	} {
		t.Run(name, func(t *testing.T) {
			var out strings.Builder
			s := Streams{Out: &printed{to: &visible.Writer{To: &out}}, tty: c.tty, Env: func(name string) string { return c.env[name] }}
			require.NoError(t, s.show([]report.Line{{Text: "x\x1b[2J"}, {Text: "Spray y\x1b[2J", Tone: report.Spray}, {Text: "z", Tone: report.Leave}}))
			want := "x\\u001b[2J\nSpray y\\u001b[2J\nz\n"
			if c.want {
				want = "x\\u001b[2J\n\x1b[1;31mSpray y\\u001b[2J\x1b[0m\n\x1b[1;32mz\x1b[0m\n"
			}
			assert.Equal(t, want, out.String(), "orders of a file stay visible")
		})
	}
}

// The environment goes before the terminal; what is no width is none.
func TestColumns(t *testing.T) {
	for _, c := range []struct {
		env  string
		tty  int
		want int
	}{{"100", 72, 100}, {"", 72, 72}, {"x", 72, 72}, {"19", 72, 72}, {"20", 72, 20}, {"", 0, 0}, {"-5", 0, 0}} {
		s := Streams{Env: func(string) string { return c.env }, tty: func() (int, bool) { return c.tty, true }}
		assert.Equal(t, c.want, s.columns(), c)
	}
	assert.Zero(t, Streams{Out: &strings.Builder{}}.columns(), "no terminal")
}
