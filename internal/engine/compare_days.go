//go:build !small

package engine

import (
	"fmt"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// part parts the only counts into visits by their days. What map takes as one visit is nothing to
// compare, as a walk that was finished later would seem to have grown or died; a season and a
// folder of map tell what is one visit.
func (q CompareRequest) part(v *visits) error {
	counts, week := v.surveys[0], q.Weeks[0]
	hint := "add the counts of another visit"
	name := week.Counts.Base()
	switch {
	case week.Season != nil:
		name = week.File.Base()
	case week.Folder != nil:
		name = week.Folder.Name
	default:
		parts, without, err := visitsOf(v.ground.Fields, counts)
		if err != nil {
			return err
		}
		if err := q.whichVisit(v, name, parts, without); err != nil {
			return err
		}
		v.surveys, v.parted = parts, len(parts) > 1
		for _, s := range without {
			v.notes = append(v.notes, fmt.Sprintf("stop %s does not give its day and was left out", s.Name))
		}
		if len(counts.Dates) > 1 {
			hint += "; if its days are visits of their own, " + bothVisits
		}
	}
	if len(v.surveys) > 1 {
		return nil
	}
	return hinted(fmt.Errorf("%s holds one visit%s, which is nothing to compare: want two or more", name, onDays(counts.Dates)), hint)
}

// onDays are the days of a visit behind it; "" for none.
func onDays(days []string) string {
	if len(days) == 0 {
		return ""
	}
	said := ", of " + figures.Both.Day(days[0])
	if last := days[len(days)-1]; last != days[0] {
		said += " to " + figures.Both.Day(last)
	}
	return said
}

// visitsOf are the counts of each visit by their days. Those of a field that is one visit, though
// of several days, go with its first; without are those of no day.
func visitsOf(fields []geo.Field, counts *survey.Survey) (parts []*survey.Survey, without []survey.Stop, err error) {
	if len(counts.Dates) < 2 {
		return []*survey.Survey{counts}, nil, nil
	}
	where, err := assess.NewLocator(fields)
	if err != nil {
		return nil, nil, err
	}
	placed, away, err := assess.Place(fields, counts.Stops)
	if err != nil {
		return nil, nil, err
	}
	first, several := make([]string, len(fields)), false // day of a field that is one visit; "" for several
	for i, p := range placed {
		if oneByDays(p) {
			first[i] = firstDay(p.Stops)
		} else {
			several = true
		}
	}
	if !several && len(away) < len(counts.Stops) {
		return []*survey.Survey{counts}, nil, nil
	}
	parts, without = compare.ByVisit(counts, where.FieldAt, func(field int, date string) string {
		if field >= 0 && first[field] != "" {
			return first[field]
		}
		return date
	})
	return parts, without, nil
}

// oneByDays reports whether the stops of a field are of one visit by their days: as [assess.TwoVisits]
// tells, and where too few stops for it were walked to, less than half of the places again.
func oneByDays(p assess.Placed) bool {
	again := 0
	for _, later := range p.CountedAgain() {
		if later != "" {
			again++
		}
	}
	return len(p.Stops) == 0 || !assess.TwoVisits(p).Two() && 2*again < len(p.Stops)-again
}

func firstDay(stops []survey.Stop) (first string) {
	for _, s := range stops {
		if s.Date != "" && (first == "" || s.Date < first) {
			first = s.Date
		}
	}
	return first
}
