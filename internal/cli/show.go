package cli

import (
	"fmt"
	"io"
	"os"
	"strconv"

	"golang.org/x/term"

	"github.com/geocoris/geocoris/internal/language/visible"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/output/report"
)

// leastColumns is below what a number of columns is no width of a screen.
const leastColumns = 20

// columns are those of the screen: what the environment says, else those of the
// terminal; 0 where neither tells.
func (s Streams) columns() int {
	if n, err := strconv.Atoi(s.env("COLUMNS")); err == nil && n >= leastColumns {
		return n
	}
	if width, ok := s.terminal(); ok && width >= leastColumns {
		return width
	}
	return 0
}

// env is a variable of the environment; "" where none is given.
func (s Streams) env(name string) string {
	if s.Env == nil {
		return ""
	}
	return s.Env(name)
}

// terminal tells whether data go to a terminal, and how wide it is; 0 where it does not
// say.
func (s Streams) terminal() (width int, ok bool) {
	if s.tty != nil {
		return s.tty()
	}
	f, isFile := bare(s.Out).(*os.File)
	if !isFile || !term.IsTerminal(int(f.Fd())) {
		return 0, false
	}
	width, _, _ = term.GetSize(int(f.Fd()))
	return width, true
}

// coloured reports whether answers have colours: on a terminal that knows them, where
// nobody asked for none (NO_COLOR, set to anything).
func (s Streams) coloured() bool {
	_, ok := s.terminal()
	return ok && s.env("NO_COLOR") == "" && s.env("TERM") != "dumb"
}

// bare is the writer below what watches over it.
func bare(w io.Writer) io.Writer {
	for {
		switch over := w.(type) {
		case *printed:
			w = over.to
		case *visible.Writer:
			w = over.To
		case redacted:
			w = over.to
		default:
			return w
		}
	}
}

// The colours of answers, and their end.
const (
	plainText = "\x1b[0m"
	boldRed   = "\x1b[1;31m"
	boldAmber = "\x1b[1;33m"
	boldGreen = "\x1b[1;32m"
)

func colourOf(t report.Tone) string {
	switch t {
	case report.Spray:
		return boldRed
	case report.Ask:
		return boldAmber
	case report.Leave:
		return boldGreen
	}
	return ""
}

// notes prints what has to be known besides the answer, a line each.
func (s Streams) notes(lines []string, in vocabulary.Language) {
	for _, line := range lines {
		fmt.Fprintf(s.Err, "%s: %s\n", in.Text("note"), in.Note(line))
	}
}

// show prints the lines of a screen. Colours go past what makes orders to a terminal
// visible; the text, which may hold names from files, does not.
func (s Streams) show(lines []report.Line) error {
	if !s.coloured() {
		return report.WriteLines(s.Out, lines)
	}
	under := bare(s.Out)
	for _, l := range lines {
		colour := colourOf(l.Tone)
		if colour == "" {
			fmt.Fprintln(s.Out, l.Text)
			continue
		}
		io.WriteString(under, colour) // an error shows in the text that follows
		fmt.Fprint(s.Out, l.Text)
		io.WriteString(under, plainText)
		if _, err := fmt.Fprintln(s.Out); err != nil {
			return err
		}
	}
	return nil
}
