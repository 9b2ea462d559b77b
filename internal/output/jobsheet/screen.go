package jobsheet

import (
	"fmt"
	"io"
	"strings"

	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

// WriteScreen writes the jobs as text. Files are the names of what was written
// into the folder.
func (s Sheet) WriteScreen(w io.Writer, folder string, files []string) error {
	var b strings.Builder
	for _, p := range s.pages() {
		if p.warning != "" {
			fmt.Fprintln(&b, p.warning)
		}
		fmt.Fprintf(&b, "%s\n  %s\n", p.title, p.subtitle)
		for _, line := range p.banner {
			fmt.Fprintf(&b, "  %s\n", line)
		}
		for _, rows := range [][]row{p.ground, p.work, p.mix} {
			for _, r := range rows {
				fmt.Fprintf(&b, "  %s %s\n", pad(r.label+":", 27), r.value)
			}
		}
		s.cutOut(&b, p.job)
		s.leftOut(&b, p.job)
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

// cutOut says what each keep-off took.
func (s Sheet) cutOut(b *strings.Builder, j *handoff.Job) {
	for _, k := range j.Ground.KeptOff {
		fmt.Fprintf(b, "  kept off %s by %s: %s cut out\n", k.Name, s.Units.Length(k.SetBack), s.Units.Area(k.Area))
	}
}

// leftOut lists every place that stays unsprayed, largest first.
func (s Sheet) leftOut(b *strings.Builder, j *handoff.Job) {
	for _, r := range j.Plan.Cover.Untreatable {
		at := j.Frame.Inverse(r.Point)
		fmt.Fprintf(b, "  left: %s at %.6f, %.6f: %s\n", s.Units.Patch(r.Area), at[1], at[0], handoff.Reason(r))
	}
}

func pad(text string, width int) string {
	return text + strings.Repeat(" ", max(0, width-len([]rune(text))))
}
