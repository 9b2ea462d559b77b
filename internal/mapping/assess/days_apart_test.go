package assess_test

import (
	"fmt"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// Stops whose day is a month or more from that of most are named.
func TestDaysThatAreASlipAreTold(t *testing.T) {
	field := geo.Field{Name: "A", Boundary: orb.MultiPolygon{{{{0, 0}, {0.006, 0}, {0.006, 0.006}, {0, 0.006}, {0, 0}}}}}
	on := func(days ...string) (stops []survey.Stop) { // each stop at a place of its own
		for i, day := range days {
			stops = append(stops, survey.Stop{Name: fmt.Sprint(i + 1), Longitude: 0.0005 * float64(1+i), Latitude: 0.003, Date: day})
		}
		return stops
	}
	again := append(on("2026-08-12", "2026-08-12", "2026-08-12"), on("2026-12-08", "2026-12-08", "2026-12-08")...)
	extra := on("2026-07-01", "2026-07-01", "2026-08-01")
	extra[2].Extra = true
	for name, c := range map[string]struct {
		stops []survey.Stop
		want  assess.Apart
	}{
		"one day":                  {on("2026-08-12", "2026-08-12"), assess.Apart{}},
		"none":                     {on("", ""), assess.Apart{}},
		"27 days":                  {on("2026-08-01", "2026-08-28"), assess.Apart{}},
		"28 days":                  {on("2026-08-01", "2026-08-29", "2026-08-29"), assess.Apart{Names: []string{"1"}, Day: "2026-08-01", Others: "2026-08-29"}},
		"a month too late":         {on("2026-08-12", "", "2026-09-12", "2026-08-13"), assess.Apart{Names: []string{"3"}, Day: "2026-09-12", Others: "2026-08-12"}},
		"a year too early":         {on("2026-08-12", "2025-08-12", "2025-08-12", "2026-08-12", "2026-08-12"), assess.Apart{Names: []string{"2", "3"}, Day: "2025-08-12", Others: "2026-08-12"}},
		"as many of both":          {on("2026-08-12", "2026-09-12"), assess.Apart{Names: []string{"1"}, Day: "2026-08-12", Others: "2026-09-12"}},
		"swapped":                  {on("2026-08-12", "2026-12-08", "2026-08-12"), assess.Apart{Names: []string{"2"}, Day: "2026-12-08", Others: "2026-08-12", Swapped: true}},
		"the same stops on each":   {again, assess.Apart{Names: []string{"1", "2", "3"}, Day: "2026-08-12", Others: "2026-12-08"}},
		"an extra one":             {extra, assess.Apart{Names: []string{"3"}, Day: "2026-08-01", Others: "2026-07-01"}},
		"days on, over two months": {on("2026-08-01", "2026-08-20", "2026-09-10", "2026-10-01"), assess.Apart{}},
	} {
		placed, _, err := assess.Place([]geo.Field{field}, c.stops)
		require.NoError(t, err)
		assert.Equal(t, c.want, assess.DaysApart(placed[0]), name)
	}
}
