//go:build !js && !nosqlite

package season_test

import (
	"fmt"
	"path/filepath"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/followup/season"
)

// counted is an invented visit of fields, each on its days.
func counted(settings string, days map[string][]string, fields ...string) season.Visit {
	v := visit(1)
	v.Settings, v.Stops, v.Fields = fmt.Sprintf(`{"x":%q}`, settings), nil, nil
	for i, name := range fields {
		v.Fields = append(v.Fields, field(name, float64(i)/10))
		for _, day := range days[name] {
			v.Stops = append(v.Stops, geo.Feature{Geometry: orb.Point{-100.991, 35.003}, Properties: geo.Properties{{Name: "field", Value: name}, {Name: "date", Value: day}}})
		}
	}
	return v
}

func TestAFieldsDayIsHeldOnce(t *testing.T) {
	s := opened(t, filepath.Join(t.TempDir(), "s.gpkg"))
	both := map[string][]string{"A": {"2031-08-01", "2031-08-02"}, "B": {"2031-08-02"}}
	first, _, err := s.AddDay(counted("1", both, "A", "B"), false)
	require.NoError(t, err)
	_, _, err = s.AddDay(counted("1", both, "A", "B"), false)
	assert.ErrorIs(t, err, season.ErrKnown)

	var held *season.HeldError
	_, _, err = s.AddDay(counted("2", both, "A", "B"), false)
	require.ErrorAs(t, err, &held)
	assert.Equal(t, season.HeldError{Visit: first, Field: "A", Date: "2031-08-01/2031-08-02"}, *held)
	_, replaced, err := s.AddDay(counted("2", map[string][]string{"B": {"2031-08-02"}}, "A", "B"), true)
	require.ErrorAs(t, err, &held)
	assert.Equal(t, "A", held.Left, "its counts would be lost")
	assert.Empty(t, replaced)
	v, err := s.Visit(first)
	require.NoError(t, err)
	assert.Len(t, v.Files, 1, "it stays whole")

	second, replaced, err := s.AddDay(counted("2", both, "A", "B"), true)
	require.NoError(t, err)
	assert.Equal(t, []int64{first}, replaced)
	lines, err := s.List()
	require.NoError(t, err)
	require.Len(t, lines, 1)
	assert.Equal(t, second, lines[0].ID)
	assert.Equal(t, 3, lines[0].Stops)

	// Half of a walk and all of it share their days; a walk that begins the day after does not.
	for i, days := range [][]string{{"2031-08-02", "2031-08-04"}, {"2031-07-30", "2031-08-01"}, {"2031-08-01"}, {"2031-07-30", "2031-08-09"}} {
		_, _, err = s.AddDay(counted(fmt.Sprint("half", i), map[string][]string{"A": days}, "A", "B"), false)
		require.ErrorAs(t, err, &held, days)
		assert.Equal(t, season.HeldError{Visit: second, Field: "A", Date: "2031-08-01/2031-08-02"}, *held)
	}
	_, _, err = s.AddDay(counted("next", map[string][]string{"A": {"2031-08-03", "2031-08-05"}}, "A", "B"), false)
	require.NoError(t, err)

	// Another field, another day, and no day at all are no second visit.
	for n, days := range []map[string][]string{{"C": {"2031-08-02"}}, {"B": {"2031-08-03"}}, {"B": {""}}, {"B": {""}}} {
		_, _, err := s.AddDay(counted(fmt.Sprint("more", n), days, "A", "B", "C"), false)
		assert.NoError(t, err, "%v", days)
	}
	require.NoError(t, s.Check())
}
