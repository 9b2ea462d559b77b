//go:build !js && !nosqlite

package season_test

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/followup/season"
)

// on is an invented visit of fields on one day; the same counts whatever the day.
func on(day string, fields ...string) season.Visit {
	days := map[string][]string{}
	for _, f := range fields {
		days[f] = []string{day}
	}
	v := counted("read as "+day, days, fields...)
	v.Date = day
	return v
}

func held(t *testing.T, s *season.Season) (days []string) {
	t.Helper()
	lines, err := s.List()
	require.NoError(t, err)
	for _, l := range lines {
		days = append(days, l.Date)
	}
	require.NoError(t, s.Check())
	return days
}

func TestTheSameCountsAreNotHeldAsTwoDays(t *testing.T) {
	s := opened(t, filepath.Join(t.TempDir(), "s.gpkg"))
	first, _, err := s.AddDay(on("2031-07-08", "A"), false)
	require.NoError(t, err)

	var known *season.HeldError
	_, _, err = s.AddDay(on("2031-08-07", "A"), false)
	require.ErrorAs(t, err, &known)
	assert.Equal(t, season.HeldError{Visit: first, Date: "2031-07-08", Same: true}, *known)
	assert.Equal(t, []string{"2031-07-08"}, held(t, s))

	_, replaced, err := s.AddDay(on("2031-08-07", "A"), true)
	require.NoError(t, err)
	assert.Equal(t, []int64{first}, replaced)
	assert.Equal(t, []string{"2031-08-07"}, held(t, s))

	// One file may hold the counts of two growers, and two mornings may differ in a byte.
	_, _, err = s.AddDay(on("2031-07-08", "B"), false)
	assert.NoError(t, err, "of another field")
	other := on("2031-07-08", "A")
	other.Files[0].Content = append([]byte(nil), append(other.Files[0].Content, '\n')...)
	_, _, err = s.AddDay(other, false)
	assert.NoError(t, err, "other bytes")
}

func TestAVisitIsReplacedByItsNumber(t *testing.T) {
	s := opened(t, filepath.Join(t.TempDir(), "s.gpkg"))
	wrong := on("2031-07-08", "A", "B")
	first, err := s.Add(wrong)
	require.NoError(t, err)
	right := on("2031-08-07", "A", "B")
	right.Files[0].Content = []byte("put right by hand")

	_, _, err = s.AddInPlace(right, false, 7)
	assert.ErrorContains(t, err, "there is no visit 7")
	var known *season.HeldError
	_, _, err = s.AddInPlace(on("2031-08-07", "A"), false, first)
	require.ErrorAs(t, err, &known)
	assert.Equal(t, "B", known.Left, "its counts would be lost")
	assert.Equal(t, []string{"2031-07-08"}, held(t, s))

	second, replaced, err := s.AddInPlace(right, false, first)
	require.NoError(t, err)
	assert.Equal(t, []int64{first}, replaced)
	assert.Equal(t, []string{"2031-08-07"}, held(t, s))

	// A day that a third visit holds stays its own.
	_, err = s.Add(wrong)
	require.NoError(t, err)
	again := on("2031-07-08", "A", "B")
	again.Files[0].Content = []byte("once more")
	_, _, err = s.AddInPlace(again, false, second)
	require.ErrorAs(t, err, &known)
	assert.Equal(t, "A, B", known.Field)
	assert.Equal(t, []string{"2031-07-08", "2031-08-07"}, held(t, s))
}

// A season that has the same counts under two days already gets rid of the wrong one.
func TestAWrongTwinIsTakenOut(t *testing.T) {
	s := opened(t, filepath.Join(t.TempDir(), "s.gpkg"))
	wrong, err := s.Add(on("2031-07-08", "A"))
	require.NoError(t, err)
	right, err := s.Add(on("2031-08-07", "A"))
	require.NoError(t, err)
	id, _, err := s.AddInPlace(on("2031-08-07", "A"), false, wrong)
	require.NoError(t, err)
	assert.Equal(t, right, id, "which is there already")
	assert.Equal(t, []string{"2031-08-07"}, held(t, s))
	_, _, err = s.AddInPlace(on("2031-08-07", "A"), false, right)
	assert.ErrorIs(t, err, season.ErrKnown, "in place of itself")
	assert.Equal(t, []string{"2031-08-07"}, held(t, s))
}
