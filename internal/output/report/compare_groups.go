package report

import (
	"strings"

	"github.com/geocoris/geocoris/internal/followup/compare"
)

// A Group is lines under a heading.
type Group struct {
	Heading string
	Lines   []string
}

// CompareGroups is what the screen says of a comparison behind its tables, but for the
// files written.
func CompareGroups(s CompareScreen, f *compare.Field) (groups []Group) {
	add := func(heading string, write func(*strings.Builder, *compare.Field)) {
		var b strings.Builder
		write(&b, f)
		var lines []string
		for _, line := range strings.Split(b.String(), "\n") {
			if line = strings.TrimSpace(line); line != "" {
				lines = append(lines, line)
			}
		}
		if heading == "" && len(lines) > 0 { // the first line is one
			heading, lines = Sentence(lines[0]), lines[1:]
		}
		if len(lines) > 0 {
			groups = append(groups, Group{heading, lines})
		}
	}
	add("When to go back", s.next)
	for i := range f.Treatments {
		one := *f
		one.Treatments = f.Treatments[i : i+1]
		add("", func(b *strings.Builder, _ *compare.Field) { s.treatments(b, &one) })
	}
	add("", s.hotspots)
	add("", s.patterns)
	if notes := NoteTexts(f); len(notes) > 0 {
		groups = append(groups, Group{"Notes", notes})
	}
	return groups
}
