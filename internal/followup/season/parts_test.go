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

// walked is an invented visit to a field, with stops about 100 m apart along a line, from a
// number to one, each so many metres to the north.
func walked(author string, from, to int, north float64) season.Visit {
	v := visit(1)
	v.Author, v.Date, v.Stops = author, "2031-08-02", nil
	v.Settings = fmt.Sprintf(`{"x":"%s %d %d %g"}`, author, from, to, north)
	v.Files[0].Name = fmt.Sprintf("%d-%d.csv", from, to)
	for i := from; i < to; i++ { // numbered by each from 1, as scouts do
		v.Stops = append(v.Stops, geo.Feature{Geometry: orb.Point{-100.9995 + float64(i)*0.001, 35 + north/110940}, Properties: geo.Properties{
			{Name: "stop", Value: fmt.Sprint(i - from + 1)}, {Name: "field", Value: "Square"}, {Name: "date", Value: v.Date}, {Name: "value", Value: float64(i)},
		}})
	}
	return v
}

// other are other counts at the same places.
func other(v season.Visit) season.Visit {
	for i := range v.Stops {
		for k := range v.Stops[i].Properties {
			if p := &v.Stops[i].Properties[k]; p.Name == "value" {
				p.Value = 0.5
			}
		}
	}
	return v
}

// Half a walk is not put in place of the other half; both halves are put in place of one, and who
// gives the number of a visit is taken at their word.
func TestHalfAWalkTakesNoOthersPlace(t *testing.T) {
	for name, c := range map[string]struct {
		second season.Visit
		parts  string
	}{
		"elsewhere":              {walked("", 6, 10, 0), "0-6.csv"},
		"where they met":         {walked("", 4, 10, 0), "0-6.csv"},
		"at half of its places":  {walked("", 4, 8, 0), ""},
		"at three places":        {walked("", 3, 10, 0), ""},
		"as near as phones err":  {walked("", 0, 6, 14.9), ""},
		"farther than phones":    {other(walked("", 0, 6, 15.1)), "0-6.csv"},
		"with the places right":  {walked("", 0, 6, 40), ""},
		"all of the walk":        {walked("", 0, 10, 0), ""},
		"one stop more":          {walked("", 9, 10, 0), "0-6.csv"},
		"one stop counted again": {walked("", 0, 1, 0), ""},
	} {
		s := opened(t, filepath.Join(t.TempDir(), "s.gpkg"))
		first, _, err := s.AddDay(walked("", 0, 6, 0), false)
		require.NoError(t, err)
		var held *season.HeldError
		_, _, err = s.AddDay(c.second, false)
		require.ErrorAs(t, err, &held, name)
		assert.Equal(t, season.HeldError{Visit: first, Field: "Square", Date: "2031-08-02", Parts: c.parts}, *held, name)
		_, replaced, err := s.AddDay(c.second, true)
		if c.parts == "" {
			require.NoError(t, err, name)
			assert.Equal(t, []int64{first}, replaced, name)
			continue
		}
		require.ErrorAs(t, err, &held, name)
		assert.Equal(t, c.parts, held.Parts, name)
		lines, err := s.List()
		require.NoError(t, err)
		assert.Len(t, lines, 1, name)
		_, replaced, err = s.AddInPlace(c.second, false, first)
		require.NoError(t, err, name)
		assert.Equal(t, []int64{first}, replaced, name)
	}
}

// Visits of several scouts to a field's day are parts of one walk where hardly a place was counted
// twice; else some of them may be left out so that none is.
func TestPartsOfAWalkAreToldInAMergedSeason(t *testing.T) {
	folder := t.TempDir()
	var from []string
	for _, v := range []season.Visit{walked("Anna", 0, 4, 0), walked("Ben", 4, 8, 0), walked("Cleo", 0, 5, 0)} {
		from = append(from, filepath.Join(folder, v.Author+".gpkg"))
		made(t, from[len(from)-1], []season.Visit{v})
	}
	two, three := filepath.Join(folder, "two.gpkg"), filepath.Join(folder, "three.gpkg")
	m, err := merge(t, two, from[:2]...)
	require.NoError(t, err)
	require.Len(t, m.Beside, 1)
	assert.True(t, m.Beside[0].Parts())
	assert.Equal(t, [][2]int64{{1, 2}}, m.Beside[0].Apart)

	m, err = merge(t, three, from...)
	require.NoError(t, err)
	require.Len(t, m.Beside, 1)
	all := m.Beside[0]
	assert.False(t, all.Parts())
	by := map[string]int64{}
	for _, v := range contentOf(t, three).Visits {
		by[v.Author] = v.ID
	}
	assert.Len(t, all.Apart, 2, "Ben's is apart from both")
	assert.Equal(t, []int64{max(by["Anna"], by["Cleo"])}, all.Twice())
	assert.True(t, all.Without([]int64{by["Cleo"]}).Parts())
	assert.False(t, all.Without([]int64{by["Ben"]}).Parts())
	assert.False(t, all.Without([]int64{by["Anna"], by["Cleo"]}).Parts(), "one visit has no parts")
}
