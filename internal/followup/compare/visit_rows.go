package compare

import (
	"slices"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// visitPart is what a survey has of one visit.
type visitPart struct {
	stops  []survey.Stop
	dates  []string // of its stops, with repeats
	rows   []survey.Unread
	whole  span
	fields map[int]span // by the numbers of those with stops
}

// A span is the first and the last day of some stops, ISO 8601; "" for none.
type span struct{ first, last string }

func (s span) with(date string) span {
	if s.first == "" || date < s.first {
		s.first = date
	}
	s.last = max(s.last, date)
	return s
}

func (s span) holds(date string) bool { return s.first <= date && date <= s.last }

func (p *visitPart) add(stop survey.Stop, field int) {
	p.stops, p.dates = append(p.stops, stop), append(p.dates, stop.Date)
	p.whole, p.fields[field] = p.whole.with(stop.Date), p.fields[field].with(stop.Date)
}

// visitsOfRow are the visits that a row that could not be read may be of.
func visitsOfRow(parts []*visitPart, row survey.Unread, at func(longitude, latitude float64) int) []*visitPart {
	those := func(may func(*visitPart) bool) (some []*visitPart) {
		for _, p := range parts {
			if may(p) {
				some = append(some, p)
			}
		}
		return some
	}
	spanOf := func(p *visitPart) span { return p.whole }
	all := parts
	if row.Placed || row.Offered {
		field := at(row.Row.Longitude, row.Row.Latitude)
		if there := those(func(p *visitPart) bool { return field >= 0 && p.fields[field].first != "" }); there != nil {
			all, spanOf = there, func(p *visitPart) span { return p.fields[field] }
		}
	}
	date := row.Row.Date
	if date == "" || row.Shifted { // the cell under the date may not be meant as one
		return all
	}
	if took := those(func(p *visitPart) bool { return slices.Contains(all, p) && spanOf(p).holds(date) }); took != nil {
		return took
	}
	if others := those(func(p *visitPart) bool { return slices.Contains(p.dates, date) }); others != nil {
		return others // of the field nothing was read that day
	}
	return nextTo(all, spanOf, date)
}

// nextTo are the visits next to a day that none of them took, before and after.
func nextTo(all []*visitPart, spanOf func(*visitPart) span, date string) (next []*visitPart) {
	var before, after *visitPart
	for _, p := range all {
		switch s := spanOf(p); {
		case s.last < date && (before == nil || s.last > spanOf(before).last):
			before = p
		case s.first > date && (after == nil || s.first < spanOf(after).first):
			after = p
		}
	}
	for _, p := range [...]*visitPart{before, after} {
		if p != nil {
			next = append(next, p)
		}
	}
	return next
}

// survey is the visit as a survey by itself. Rows of which nobody knows the visit, such as those
// that stand there twice, are counted with the first.
func (p *visitPart) survey(s *survey.Survey, first bool) *survey.Survey {
	one := *s
	one.Stops, one.Unread = p.stops, p.rows
	slices.Sort(p.dates)
	one.Dates = slices.Compact(p.dates)
	one.Tally = survey.Tally{SetAside: len(p.rows)}
	for _, stop := range p.stops {
		one.Tally.Used += len(stop.Records)
	}
	if first {
		one.Tally.SetAside += max(0, s.Tally.SetAside-len(s.Unread))
		one.Tally.OtherPest = s.Tally.OtherPest
	}
	one.Tally.Read = one.Tally.Used + one.Tally.SetAside + one.Tally.OtherPest
	return &one
}
