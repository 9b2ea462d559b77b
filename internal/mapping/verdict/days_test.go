package verdict_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/mapping/visit"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// figuresOf a level, a watch level and a time to double.
func figuresOf(treat, watch, doubling float64) verdict.Verdict {
	return verdict.Verdict{Days: 7, Figures: verdict.Figures{Treat: treat, Watch: watch, Doubling: doubling}}
}

// The oldest count decides how long a map is good, the last when the next look is due,
// and that is never after.
func TestDatedAtTheBoundary(t *testing.T) {
	for name, c := range map[string]struct {
		counted  []string
		days     float64
		watch    float64 // of 40, doubling every 4 days: 20 is good for 4, 10 for 8
		on, good string
		left     float64
		stale    bool
	}{
		"before it":           {[]string{"2026-07-13"}, 7, 10, "2026-07-20", "2026-07-21", 7, false},
		"at equality":         {[]string{"2026-07-13"}, 4, 20, "2026-07-17", "2026-07-17", 4, false},
		"after it":            {[]string{"2026-07-13"}, 5, 20, "2026-07-17", "2026-07-17", 4, false},
		"by the oldest":       {[]string{"2026-07-13", "2026-07-15"}, 4, 20, "2026-07-17", "2026-07-17", 2, false},
		"from the last":       {[]string{"2026-07-13", "2026-07-14", "2026-07-15"}, 2, 20, "2026-07-17", "2026-07-17", 2, false},
		"on the last day":     {[]string{"2026-07-13", "2026-07-17"}, 3, 20, "2026-07-18", "2026-07-17", 1, false},
		"too old by then":     {[]string{"2026-07-13", "2026-07-18"}, 3, 20, "2026-07-18", "2026-07-17", 0, true},
		"of the year before":  {[]string{"2025-07-15", "2026-07-15"}, 3, 20, "2026-07-15", "2025-07-19", 0, true},
		"day not given":       {nil, 7, 20, "", "", 4, false},
		"good for no day":     {[]string{"2026-07-13"}, 7, 40, "2026-07-14", "2026-07-13", 1, false},
		"over a month's edge": {[]string{"2026-07-30"}, 3, 20, "2026-08-02", "2026-08-03", 3, false},
	} {
		t.Run(name, func(t *testing.T) {
			v := figuresOf(40, c.watch, 4)
			v.Days = c.days
			got := v.Dated(c.counted, visit.Usual)
			assert.Equal(t, []any{c.on, c.good, c.left, c.stale}, []any{got.On, got.GoodUntil, got.Days, got.Stale})
		})
	}
	unknown := figuresOf(20, 10, 0).Dated([]string{"2026-07-13"}, 5)
	assert.Equal(t, []any{"2026-07-18", "2026-07-18"}, []any{unknown.On, unknown.GoodUntil}, "where no growth is known the usual days count")
}

// Whatever the figures, the next look is after the last count, and not after the day until
// which the map is good unless that is not beyond the last count.
func TestTheNextLookIsNeverAfterTheMapIsGood(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		set := drawnSettings(t).WithDefaults()
		v := verdict.Decide(drawnFigures(t), set)
		var counted []string
		day := "2026-07-01"
		for range rapid.IntRange(0, 4).Draw(t, "days") {
			counted, day = append(counted, day), visit.After(day, float64(rapid.IntRange(1, 5).Draw(t, "gap")))
		}
		got := v.Dated(counted, set.Revisit)
		assert.LessOrEqual(t, got.Days, max(1, got.GoodFor))
		if len(counted) == 0 {
			assert.GreaterOrEqual(t, got.Days, 1.0)
			assert.Empty(t, got.On+got.GoodUntil)
			return
		}
		require.NotEmpty(t, got.On)
		last := counted[len(counted)-1]
		assert.Equal(t, visit.After(counted[0], got.GoodFor), got.GoodUntil)
		assert.Equal(t, visit.After(last, got.Days), got.On)
		assert.Equal(t, got.GoodUntil < last, got.Stale)
		switch {
		case got.Stale:
			assert.Equal(t, last, got.On)
		case got.GoodUntil == last:
			assert.Equal(t, visit.After(last, 1), got.On)
		default:
			assert.Greater(t, got.On, last)
			assert.LessOrEqual(t, got.On, got.GoodUntil)
		}
	})
}

// Two fields of one run, each walked on a day of its own.
func TestDaysAreTheFieldsOwn(t *testing.T) {
	fields := fieldsOf(t, testkit.Testdata(t, "demo", "field.geojson"))
	s, err := survey.Read(given.Files(t, testkit.Testdata(t, "demo", "week2.csv")), survey.Options{})
	require.NoError(t, err)
	one, err := assess.Run(t.Context(), []geo.Field{fields[0]}, s, assess.Settings{})
	require.NoError(t, err)
	for i := range s.Stops {
		if s.Stops[i].Date = "2026-07-15"; len(one.Fields[0].Stops) > 0 && contains(one.Fields[0].Stops, s.Stops[i].Name) {
			s.Stops[i].Date = "2026-07-13"
		}
	}
	s.Dates = []string{"2026-07-13", "2026-07-15"}
	r, err := assess.Run(t.Context(), fields, s, assess.Settings{})
	require.NoError(t, err)
	assert.NotContains(t, strings.Join(r.Notes, "; "), "on one map")
	all, err := verdict.Of(r, verdict.Settings{})
	require.NoError(t, err)
	assert.Equal(t, []string{"2026-07-20", "2026-07-22"}, []string{all[0].GoodUntil, all[1].GoodUntil})
	for _, v := range all {
		assert.LessOrEqual(t, v.On, v.GoodUntil, v.Field)
	}
}

func contains(stops []assess.Stop, name string) bool {
	for _, s := range stops {
		if s.Name == name {
			return true
		}
	}
	return false
}
