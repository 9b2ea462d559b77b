package compare_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/visit"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// A field that the newest visit did not come to is behind it, and its map is good no longer from
// the day after the last that it is good for.
func TestAFieldBehindTheNewestVisit(t *testing.T) {
	const last = "2031-08-21"
	ofNewest := func(newest string) *compare.Field {
		var mornings []*assess.Result
		for _, date := range []string{"2031-08-14", last} {
			mornings = append(mornings, assessed(t, date, lattice(80, func(x, _ float64) float64 { return 8 + math.Mod(math.Abs(x), 3) }), assess.Settings{}))
		}
		r, err := compare.Run(t.Context(), mornings, compare.Settings{Chance: quickly, Newest: newest})
		require.NoError(t, err)
		return r.Fields[0]
	}
	until := ofNewest("").Next.GoodUntil
	require.Greater(t, until, last)
	for _, c := range []struct {
		newest, behind string
		again          bool
	}{
		{"", "", false}, {last, "", false}, {until, until, false}, {visit.After(until, 1), visit.After(until, 1), true},
	} {
		f := ofNewest(c.newest)
		assert.Equal(t, c.behind, f.Behind, c.newest)
		assert.Equal(t, c.again, f.CountAgain(), c.newest)
		assert.Equal(t, f.Next.GoBackBy < c.behind, f.Overdue(), c.newest)
	}
}

// A visit is of the day of most of its stops: one stop of a later day does not make it newer.
func TestTheNewestVisitIsThatOfMostStops(t *testing.T) {
	on := func(days ...string) *survey.Survey {
		s := &survey.Survey{}
		for _, d := range days {
			s.Stops = append(s.Stops, survey.Stop{Date: d})
		}
		return s
	}
	assert.Empty(t, compare.Newest(nil))
	assert.Empty(t, compare.Newest([]*survey.Survey{on(""), on()}))
	assert.Equal(t, "2031-08-21", compare.Newest([]*survey.Survey{on("2031-08-21", "2031-08-21", "2062-08-21", ""), on("2031-08-14")}))
	assert.Equal(t, "2031-08-21", compare.Newest([]*survey.Survey{on("2031-08-22", "2031-08-21")}), "the earlier of as many")
}
