package handoff

import (
	"fmt"
	"strings"

	"github.com/geocoris/geocoris/internal/mapping/visit"
)

// Days are the dates that a job depends on, YYYY-MM-DD; "" where the zones give no day.
type Days struct {
	Counted   string `json:"counted"` // the first day of the count: the map is as old as that
	SprayOn   string `json:"spray_on"`
	GoodUntil string `json:"good_until"`
	MapUntil  string `json:"map_good_until"` // what the map itself says of that
	Between   int    `json:"days_between"`   // days from the count to the spraying
	Late      bool   `json:"late"`           // sprayed after GoodUntil
}

const day = "2006-01-02"

// days are those of a field: until when its map is good the map says, unless the
// settings do.
func (f *field) days(s Settings) (Days, error) {
	d := Days{SprayOn: s.SprayOn, MapUntil: dayOf(word(f.first, "good_until"))}
	d.Counted = dayOf(strings.Split(word(f.first, "date"), "/")[0])
	d.GoodUntil = d.MapUntil
	if s.GoodFor > 0 && d.Counted != "" {
		d.GoodUntil = visit.After(d.Counted, float64(s.GoodFor))
	}
	if d.Counted == "" && s.Margin.Growth > 0 {
		return d, fmt.Errorf("the zones have no date, so growth until the spraying cannot be worked out: give the margin outright")
	}
	if d.SprayOn == "" {
		return d, nil
	}
	if d.Counted != "" {
		d.Between = int(visit.Between(d.Counted, d.SprayOn))
	}
	if d.Between < 0 {
		return d, fmt.Errorf("spraying on %s would be before the count of %s", d.SprayOn, d.Counted)
	}
	d.Late = d.GoodUntil != "" && d.SprayOn > d.GoodUntil
	return d, nil
}

// SprayBy is the last day to spray on without another look: the day of the next look, or
// that until which the map is good where it comes first; "" where the zones give neither.
func (j *Job) SprayBy() string { return visit.Earlier(j.Days.GoodUntil, dayOf(j.Advice.LookAgain)) }

// LookFirst tells whether the day that was given comes after that of the next look, though
// the map is still good then.
func (j *Job) LookFirst() bool {
	return !j.Days.Late && j.Days.SprayOn != "" && j.SprayBy() != "" && j.Days.SprayOn > j.SprayBy()
}

// dayOf is a day, or "" where a text is none.
func dayOf(text string) string {
	if _, err := visit.Parse(text); err != nil {
		return ""
	}
	return text
}

// notes are what the person should think over of the days.
func (d Days) notes() (notes []string) {
	switch {
	case d.Late:
		notes = append(notes, fmt.Sprintf("the map was good until %s: scout again before spraying on %s", d.GoodUntil, d.SprayOn))
	case d.GoodUntil == "":
		notes = append(notes, "the zones do not say until when the map is good, and nothing is taken for it: map again, or give --good-for")
	}
	if d.MapUntil != "" && d.GoodUntil != d.MapUntil {
		notes = append(notes, fmt.Sprintf("the map is good until %s by --good-for; it says itself %s", d.GoodUntil, d.MapUntil))
	}
	return notes
}

// together are the days of all jobs: the first count, the first day after which a map
// is no longer good, the longest wait.
func together(jobs []*Job) (all Days) {
	for _, j := range jobs {
		all.SprayOn = j.Days.SprayOn
		all.Counted = visit.Earlier(all.Counted, j.Days.Counted)
		all.GoodUntil = visit.Earlier(all.GoodUntil, j.Days.GoodUntil)
		all.MapUntil = visit.Earlier(all.MapUntil, j.Days.MapUntil)
		all.Between = max(all.Between, j.Days.Between)
		all.Late = all.Late || j.Days.Late
	}
	return all
}
