package assess_test

import (
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// A place that was counted again is told by name and place, or by place alone where phones can
// tell no other.
func TestPlacesCountedAgainAreTold(t *testing.T) {
	const metre = 1 / 111320.0
	field := geo.Field{Name: "A", Boundary: orb.MultiPolygon{{{{0, 0}, {0.006, 0}, {0.006, 0.006}, {0, 0.006}, {0, 0}}}}}
	stop := func(name string, east float64, day string) survey.Stop {
		return survey.Stop{Name: name, Longitude: 0.003 + east*metre, Latitude: 0.003, Date: day}
	}
	extra := stop("x", 0, "2026-07-15")
	extra.Extra = true
	const first, next, later = "2026-07-14", "2026-07-15", "2026-07-21"
	for name, c := range map[string]struct {
		stops []survey.Stop
		want  []string
	}{
		"once":                        {[]survey.Stop{stop("1", 0, first), stop("2", 0, first)}, nil},
		"the day after":               {[]survey.Stop{stop("1", 0, first), stop("1", 25, next)}, []string{next, ""}},
		"too far off":                 {[]survey.Stop{stop("1", 0, first), stop("1", 31, next)}, nil},
		"three times":                 {[]survey.Stop{stop("1", 0, first), stop("1", 0, later), stop("1", 0, next)}, []string{later, "", later}},
		"without a day":               {[]survey.Stop{stop("1", 0, first), stop("1", 0, "")}, nil},
		"under another name":          {[]survey.Stop{stop("1", 0, first), stop("1b", 9, next)}, []string{next, ""}},
		"as far as two phones":        {[]survey.Stop{stop("1", 0, first), stop("1b", 10.5, next)}, nil},
		"without a name":              {[]survey.Stop{stop("", 0, first), stop("", 9, next)}, []string{next, ""}},
		"more than half as far":       {[]survey.Stop{stop("1", 0, first), stop("2", 12, first), stop("b", -7, next)}, nil},
		"nearer than half":            {[]survey.Stop{stop("1", 0, first), stop("2", 16, first), stop("b", 7, next)}, []string{next, "", ""}},
		"by its name, next to others": {[]survey.Stop{stop("1", 0, first), stop("2", 20, first), stop("2", 3, next)}, []string{"", next, ""}},
		"an extra one":                {[]survey.Stop{stop("1", 0, first), extra}, nil},
		"plants at one fix":           {[]survey.Stop{stop("1a", 0, first), stop("1b", 0, first), stop("1c", 0, next)}, nil},
	} {
		placed, _, err := assess.Place([]geo.Field{field}, c.stops)
		require.NoError(t, err)
		assert.Equal(t, c.want, placed[0].CountedAgain(), name)
	}
}
