//go:build !small

package engine

import (
	"fmt"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/visit"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// oneVisit refuses counts that come in of two visits to a field: a map of both is of neither
// day, and what is to be sprayed by it would be due before the later one.
func oneVisit(fields []geo.Field, counts *survey.Survey) error {
	days := counts.Dates
	if len(days) < 2 || visit.Between(days[0], days[len(days)-1]) < visit.Settled {
		return nil
	}
	placed, _, err := assess.Place(fields, counts.Stops)
	if err != nil {
		return err
	}
	for _, p := range placed {
		if last, next := assess.TwoVisits(p); next != "" {
			u := figures.Both
			return hinted(fmt.Errorf("field %q was counted on %s and again on %s: which visit is to be mapped?", p.Field, u.Day(last), u.Day(next)),
				"keep the rows of one visit alone and map them; compare takes both")
		}
	}
	return nil
}
