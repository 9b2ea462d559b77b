package compare_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/mapping/assess"
)

// The red west of a field, 400 m by 400 m, was sprayed up to x = −100: the red ground
// there and the rest of it add up, and only sprays not long before the last visit count.
func TestRedGroundThatWasSprayed(t *testing.T) {
	west := func(x, _ float64) float64 {
		if x < 0 {
			return 120
		}
		return 2
	}
	for name, c := range map[string]struct {
		day            string
		some, sawAfter bool
	}{
		"between the visits":            {"2031-08-15", true, true},
		"before the first":              {"2031-08-07", true, true},
		"21 days before the last":       {"2031-07-31", true, true},
		"22 days before the last":       {"2031-07-30", false, false},
		"on the day of the last, after": {"2031-08-21", true, false},
		"after the last":                {"2031-08-23", true, false},
	} {
		t.Run(name, func(t *testing.T) {
			var visits []*assess.Result
			for _, day := range []string{"2031-08-14", "2031-08-21"} {
				visits = append(visits, assessed(t, day, lattice(40, west), assess.Settings{Cell: 10}))
			}
			r, err := compare.Run(t.Context(), visits, compare.Settings{Treatments: []compare.Treatment{strip(t, c.day, -250, -100)}})
			require.NoError(t, err)
			a := r.Fields[0].Again
			if !c.some {
				assert.Nil(t, a)
				return
			}
			require.NotNil(t, a)
			assert.Equal(t, []any{[]string{c.day}, c.sawAfter}, []any{a.Dates, a.Counted})
			assert.InDelta(t, 40000, a.Treated, 100)
			assert.InDelta(t, 40000, a.Red, 100, "all of it is red")
			assert.InDelta(t, 40000, a.Rest, 8000, "from there to the middle, about")
		})
	}
}

// Hot stops in the west are counted again a week after the walk, or the walk is finished there:
// what was sprayed in between was seen by them, and no look is due before them.
func TestASprayIsJudgedByTheDayOfEachStop(t *testing.T) {
	west := func(x, _ float64) float64 {
		if x < 0 {
			return 120
		}
		return 2
	}
	later := func(until float64) func(stop) string {
		return func(s stop) string {
			if s.x < until {
				return "2031-08-28"
			}
			return "2031-08-21"
		}
	}
	for name, c := range map[string]struct {
		until         float64
		day           string
		after, inside int
		counted       bool
		why           compare.Gap
	}{
		"all stops of the ground after": {-99, "2031-08-23", 1, 30, true, 0},
		"some of them before":           {-140, "2031-08-23", 1, 10, false, 0},
		"none of them after":            {-300, "2031-08-23", -1, 0, false, compare.NotYet},
		"on the last day":               {-99, "2031-08-28", -1, 0, false, compare.NotYet},
		"on the day before the last":    {-99, "2031-08-27", 1, 30, true, 0},
		"before both":                   {-99, "2031-08-20", 1, 30, true, 0},
	} {
		t.Run(name, func(t *testing.T) {
			visits := []*assess.Result{
				assessed(t, "2031-08-14", lattice(40, west), assess.Settings{Cell: 20}),
				assessedOn(t, later(c.until), lattice(40, west), assess.Settings{Cell: 20}),
			}
			r, err := compare.Run(t.Context(), visits, compare.Settings{Treatments: []compare.Treatment{strip(t, c.day, -250, -100)}})
			require.NoError(t, err)
			f := r.Fields[0]
			got := f.Treatments[0]
			assert.Equal(t, []int{c.after, c.inside}, []int{got.After, got.Inside})
			assert.Equal(t, c.counted, f.Again.Counted)
			assert.Equal(t, c.why == compare.NotYet, got.Why != nil && got.Why.Gap == compare.NotYet)
			assert.Equal(t, "2031-08-21", f.Visits[1].Date)
			assert.Greater(t, f.Next.GoBackBy, f.Visits[1].Last)
		})
	}
}

// The first walk was finished after the spray, elsewhere: its ground was counted before and again
// since, so that it has a visit on either side; a walk that was finished in it has not.
func TestASprayBeforeAWalkWasFinishedElsewhere(t *testing.T) {
	west := func(x, _ float64) float64 {
		if x < 0 {
			return 120
		}
		return 2
	}
	fell := func(x, y float64) float64 { return west(x, y) / 4 }
	for name, c := range map[string]struct {
		late          func(stop) bool
		before, after int
	}{
		"elsewhere":     {func(s stop) bool { return s.x > 0 }, 0, 1},
		"in its ground": {func(s stop) bool { return s.x < 0 }, -1, 0},
	} {
		t.Run(name, func(t *testing.T) {
			walk := func(s stop) string {
				if c.late(s) {
					return "2031-08-18"
				}
				return "2031-08-14"
			}
			visits := []*assess.Result{
				assessedOn(t, walk, lattice(40, west), assess.Settings{Cell: 20}),
				assessed(t, "2031-08-21", lattice(40, fell), assess.Settings{Cell: 20}),
			}
			for _, day := range []string{"2031-08-16", "2031-08-14"} {
				r, err := compare.Run(t.Context(), visits, compare.Settings{Treatments: []compare.Treatment{strip(t, day, -250, -100)}})
				require.NoError(t, err)
				f := r.Fields[0]
				got := f.Treatments[0]
				assert.Equal(t, []int{c.before, c.after, 30}, []int{got.Before, got.After, got.Inside})
				assert.NotNil(t, got.Efficacy)
				assert.Equal(t, c.before == 0, f.Steps[0].TreatedOn != nil, "between the visits")
				assert.True(t, f.Again.Counted)
			}
			if c.before < 0 {
				return
			}
			earlier := assessed(t, "2031-08-07", lattice(40, west), assess.Settings{Cell: 20})
			r, err := compare.Run(t.Context(), []*assess.Result{earlier, visits[0]}, compare.Settings{Treatments: []compare.Treatment{strip(t, "2031-08-16", -250, -100)}})
			require.NoError(t, err)
			f := r.Fields[0]
			assert.Equal(t, compare.NoneInside, f.Treatments[0].Why.Gap, "nobody has counted there since")
			assert.Equal(t, []int{1, -1}, []int{f.Treatments[0].Before, f.Treatments[0].After})
			assert.False(t, f.Again.Counted)
			assert.Equal(t, "2031-08-16", f.Notes[len(f.Notes)-1].Treatment.Date)
		})
	}
}
