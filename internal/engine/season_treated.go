//go:build !small

package engine

import (
	"fmt"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/internal/followup/season"
)

// TreatedNotes are treatments of a season that a visit's answer does not know, by their days:
// the last one of its fields before it, and all from its days on.
func TreatedNotes(file SeasonReader, v season.Visit) (notes []string, err error) {
	records, err := file.Records()
	if err != nil || v.Date == "" {
		return nil, err
	}
	records = slices.Clone(records)
	slices.SortStableFunc(records, func(a, b season.Record) int { return strings.Compare(a.Date, b.Date) })
	first, last := visitEnds(v.Date)
	before := ""
	for _, r := range records {
		on := r.On(v.Fields)
		if len(on) == 0 || r.Date == "" {
			continue
		}
		what := listed(on)
		if r.Note != "" {
			what += " (" + r.Note + ")"
		}
		switch {
		case r.Date < first:
			before = fmt.Sprintf("ground of %s was treated on %s, before this visit: compare tells whether it worked", what, r.Date)
		case r.Date > last:
			notes = append(notes, fmt.Sprintf("ground of %s was treated on %s, after this visit, which does not know of it", what, r.Date))
		case first != last:
			notes = append(notes, fmt.Sprintf("ground of %s was treated on %s, while this visit was made", what, r.Date))
		default:
			notes = append(notes, fmt.Sprintf("ground of %s was treated on %s, the day of this visit", what, r.Date))
		}
	}
	if before != "" {
		notes = append([]string{before}, notes...)
	}
	return notes, nil
}

// visitEnds are the first and the last day of a visit.
func visitEnds(date string) (first, last string) {
	first, last, several := strings.Cut(date, "/")
	if !several {
		last = first
	}
	return first, last
}
