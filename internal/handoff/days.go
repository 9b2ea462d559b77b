package handoff

import (
	"fmt"
	"strings"
	"time"
)

// Days are the dates that the hand-off hangs on, YYYY-MM-DD; "" where the zones
// tell no day.
type Days struct {
	Counted   string `json:"counted"` // the first day of the count: the map is as old as that
	SprayOn   string `json:"spray_on"`
	GoodUntil string `json:"good_until"`
	Between   int    `json:"days_between"` // days from the count to the spraying
	Late      bool   `json:"late"`         // sprayed after GoodUntil
}

const day = "2006-01-02"

func days(fields []*field, s Settings) (Days, error) {
	var d Days
	for _, f := range fields {
		date := strings.Split(word(f.first, "date"), "/")[0]
		if _, err := time.Parse(day, date); err == nil && (d.Counted == "" || date < d.Counted) {
			d.Counted = date
		}
	}
	d.SprayOn = s.SprayOn
	if s.SprayOn != "" {
		if _, err := time.Parse(day, s.SprayOn); err != nil {
			return d, fmt.Errorf("%q is not a day: want YYYY-MM-DD", s.SprayOn)
		}
	}
	if d.Counted == "" {
		if s.Margin.Growth > 0 {
			return d, fmt.Errorf("the zones have no date, so growth until the spraying cannot be worked out: give the margin outright")
		}
		return d, nil
	}
	counted, _ := time.Parse(day, d.Counted)
	if s.GoodFor > 0 {
		d.GoodUntil = counted.AddDate(0, 0, s.GoodFor).Format(day)
	}
	if d.SprayOn == "" {
		return d, nil
	}
	on, _ := time.Parse(day, d.SprayOn)
	d.Between = int(on.Sub(counted).Hours() / 24)
	if d.Between < 0 {
		return d, fmt.Errorf("spraying on %s would be before the count of %s", d.SprayOn, d.Counted)
	}
	d.Late = d.GoodUntil != "" && d.SprayOn > d.GoodUntil
	return d, nil
}
