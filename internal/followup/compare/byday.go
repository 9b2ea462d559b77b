package compare

import (
	"maps"
	"slices"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// ByDay parts a survey of several days into one for each day, in their order. A
// survey of one day, or of none that is given, is returned as it is. What was said
// of the files goes with each; stops without a day go with none and are returned
// apart. Rows that could not be read go with their day ([ByVisit]).
func ByDay(s *survey.Survey) (days []*survey.Survey, without []survey.Stop) {
	return ByVisit(s, func(_, _ float64) int { return 0 }, func(_ int, date string) string { return date })
}

// ByVisit is [ByDay] where a visit may have taken several days: at is the field at a longitude
// and latitude, below 0 for none, and day is one day for all stops of a visit to a field, one of
// theirs. A stop without a day that lies in no field may be of each visit, and goes with all.
//
// A row that could not be read goes with the visits to its field, or to any where its place is
// not known, that took its day. One of a day on which nothing was read goes with the visits next
// to it, before and after, and one without a day that can be gone by with all: left out, or with
// another visit, it would make the answer of its own milder.
func ByVisit(s *survey.Survey, at func(longitude, latitude float64) int, day func(field int, date string) string) (visits []*survey.Survey, without []survey.Stop) {
	if len(s.Dates) < 2 {
		return []*survey.Survey{s}, nil
	}
	of, anywhere := map[string]*visitPart{}, []survey.Stop{}
	for _, stop := range s.Stops {
		field := at(stop.Longitude, stop.Latitude)
		switch {
		case stop.Date != "":
			on := day(field, stop.Date)
			if of[on] == nil {
				of[on] = &visitPart{fields: map[int]span{}}
			}
			of[on].add(stop, field)
		case field < 0:
			anywhere = append(anywhere, stop)
		default:
			without = append(without, stop)
		}
	}
	var parts []*visitPart
	for _, on := range slices.Sorted(maps.Keys(of)) {
		of[on].stops = append(of[on].stops, anywhere...)
		parts = append(parts, of[on])
	}
	for _, row := range s.Unread {
		for _, p := range visitsOfRow(parts, row, at) {
			p.rows = append(p.rows, row)
		}
	}
	for i, p := range parts {
		visits = append(visits, p.survey(s, i == 0))
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
