package jobsheet

import (
	"fmt"
	"io"
	"strings"

	"github.com/geocoris/geocoris/internal/language/vocabulary"
)

// WriteScreen writes the jobs as text. Files are the names of what was written
// into the folder. All figures are told in English.
func (s Sheet) WriteScreen(w io.Writer, folder string, files []string) error {
	s.Units = s.Units.In(vocabulary.English)
	var b strings.Builder
	for _, p := range s.pages() {
		if p.warning != "" {
			fmt.Fprintln(&b, s.warningOnScreen(p.job))
		}
		fmt.Fprintf(&b, "%s\n  %s\n", p.title, p.subtitle)
		for _, line := range p.says {
			fmt.Fprintf(&b, "  %s\n", line)
		}
		for _, line := range p.banner {
			fmt.Fprintf(&b, "  %s\n", line)
		}
		for _, rows := range [][]row{p.ground, p.work, p.places, p.mix} {
			writeRows(&b, rows)
		}
		fmt.Fprintf(&b, "  %s:\n", howWorked)
		writeRows(&b, p.worked)
		b.WriteString("\n")
	}
	if len(s.Result.Jobs) > 1 {
		b.WriteString("All fields together\n")
		writeRows(&b, s.totalRows())
		b.WriteString("\n")
	}
	for _, line := range s.Result.Idle {
		fmt.Fprintf(&b, "no job for %s\n", line)
	}
	for _, line := range s.Result.KeepOffNotes[min(len(s.Result.KeepOffNotes), mostKeepOffNotes):] {
		fmt.Fprintf(&b, "note: keep-offs: %s\n", line)
	}
	for _, line := range s.Result.Notes {
		fmt.Fprintf(&b, "note: %s\n", line)
	}
	for _, c := range cautions {
		fmt.Fprintf(&b, "  %s\n", c)
	}
	if len(files) > 0 {
		fmt.Fprintf(&b, "%s: %s\n", folder, strings.Join(files, ", "))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

func writeRows(b *strings.Builder, rows []row) {
	for _, r := range rows {
		fmt.Fprintf(b, "  %s %s\n", pad(r.label+":", 27), r.value)
	}
}

func pad(text string, width int) string {
	return text + strings.Repeat(" ", max(0, width-len([]rune(text))))
}
