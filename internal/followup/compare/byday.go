package compare

import (
	"maps"
	"slices"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// ByDay parts a survey of several days into one for each day, in their order. A
// survey of one day, or of none that is given, is returned as it is. What was said
// of the files goes with the first day; stops without a day go with none and are
// returned apart.
func ByDay(s *survey.Survey) (days []*survey.Survey, without []survey.Stop) {
	return ByVisit(s, func(stop survey.Stop) string { return stop.Date })
}

// ByVisit is [ByDay] where a visit may have taken several days: day is one day for all stops of
// a visit, one of theirs.
func ByVisit(s *survey.Survey, day func(survey.Stop) string) (visits []*survey.Survey, without []survey.Stop) {
	if len(s.Dates) < 2 {
		return []*survey.Survey{s}, nil
	}
	of := map[string]*survey.Survey{}
	for _, stop := range s.Stops {
		if stop.Date == "" {
			without = append(without, stop)
			continue
		}
		on := day(stop)
		if of[on] == nil {
			of[on] = &survey.Survey{Files: s.Files, Pest: s.Pest}
		}
		d := of[on]
		d.Stops = append(d.Stops, stop)
		d.Dates = append(d.Dates, stop.Date)
		d.Tally.Used += len(stop.Records)
	}
	for i, on := range slices.Sorted(maps.Keys(of)) {
		d := of[on]
		slices.Sort(d.Dates)
		d.Dates = slices.Compact(d.Dates)
		if i == 0 {
			d.Problems, d.Notes = s.Problems, s.Notes
			d.Tally.SetAside, d.Tally.OtherPest = s.Tally.SetAside, s.Tally.OtherPest
		}
		d.Tally.Read = d.Tally.Used + d.Tally.SetAside + d.Tally.OtherPest
		visits = append(visits, d)
	}
	return visits, without
}

// WithDate gives a day, ISO 8601, to every stop of a survey that tells none. A
// survey that tells its days is returned as it is.
func WithDate(s *survey.Survey, date string) (*survey.Survey, error) {
	if _, err := dayNumber(date); err != nil {
		return nil, err
	}
	if len(s.Dates) > 0 {
		return s, nil
	}
	dated := *s
	dated.Dates = []string{date}
	dated.Stops = append([]survey.Stop(nil), s.Stops...)
	for i := range dated.Stops {
		dated.Stops[i].Date = date
	}
	return &dated, nil
}
