package engine

import (
	"errors"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/followup/season"
)

// clashing is an invented season with fields of which several visits tell on one day.
type clashing struct {
	SeasonReader
	all []season.Beside
}

func (c clashing) Beside() ([]season.Beside, error) { return c.all, nil }

// Whoever asks is told of all at once, and which numbers leave one of each.
func TestAllVisitsSideBySideAreNamedAtOnce(t *testing.T) {
	c := clashing{all: []season.Beside{
		{Field: "North", Date: "2031-08-01", Visits: []int64{1, 2}},
		{Field: "South", Date: "2031-08-01", Visits: []int64{1, 2}},
		{Field: "North", Date: "2031-08-08", Visits: []int64{3, 4, 5}},
	}}
	q := CompareRequest{}
	err := q.parted(c, nil)
	var told HintedError
	require.True(t, errors.As(err, &told))
	assert.EqualError(t, told.Err, "visits 1, 2 are both of North, South on 2031-08-01\nvisits 3, 4, 5 are all of North on 2031-08-08")
	assert.Equal(t, "say which to leave out, such as --without 2,4,5; season show shows each", told.Hint)

	q.Settings.Only = []string{"south"}
	assert.ErrorContains(t, q.parted(c, nil), "visits 1, 2 are both of South")
	q.Settings.Only = []string{"East"}
	assert.NoError(t, q.parted(c, nil))

	c.all = nil
	for n := range mostNamed + 2 {
		c.all = append(c.all, season.Beside{Field: fmt.Sprint(n), Date: fmt.Sprintf("2031-08-%02d", n+1), Visits: []int64{1, 2}})
	}
	q.Settings.Only = nil
	assert.ErrorContains(t, q.parted(c, nil), "\nand 2 more")
	for i := range c.all {
		c.all[i].Date = "2031-08-01"
	}
	assert.EqualError(t, q.parted(c, nil).(HintedError).Err, "visits 1, 2 are both of 0, 1, 2, 3, 4, 5, 6, 7 and 2 more on 2031-08-01")
}
