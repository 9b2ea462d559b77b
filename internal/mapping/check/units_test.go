package check_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/mapping/check"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// A stop of five leaves is enough, one of four is named.
func TestLeastUnitsOfAStop(t *testing.T) {
	s, err := survey.Read(given.Table("stop,longitude,latitude,count,leaves\nfour,-101.6,35.9,3,4\nfive,-101.601,35.9,3,5\nten,-101.602,35.9,3,10\n"), survey.Options{})
	require.NoError(t, err)
	r, err := check.Run(s, nil)
	require.NoError(t, err)
	require.Len(t, r.Findings, 1)
	assert.Equal(t, `-:2: leaves "4": stop four has fewer than 5 leaves; look at five plants or more a stop`, r.Findings[0].String())

	s, err = survey.Read(given.Table("stop,longitude,latitude,count,leaves\nA,-101.6,35.9,3,5\nB,-101.601,35.9,3,5\n"), survey.Options{})
	require.NoError(t, err)
	r, err = check.Run(s, nil)
	require.NoError(t, err)
	assert.Empty(t, r.Findings)
}

// Stops of odd leaves are among the doubts.
func TestOddLeavesAreDoubted(t *testing.T) {
	s, err := survey.Read(given.Table("stop,longitude,latitude,count,leaves\na,-101.6,35.9,3,10\nb,-101.601,35.9,3,100\nc,-101.602,35.9,3,9\n"), survey.Options{})
	require.NoError(t, err)
	r, err := check.Run(s, nil)
	require.NoError(t, err)
	require.Len(t, r.Findings, 1)
	assert.Equal(t, `-:3: leaves "100": stop b has 100 leaves, most others about 10: is there a 0 too many?; check how many were looked at`, r.Findings[0].String())
}

// How many plants were looked at stays in the clean file: read per plant, means are what
// they were, and without a unit map asks as it did.
func TestPlantsStayInTheCleanFile(t *testing.T) {
	const plants = "stop,longitude,latitude,count,plants\na,-101.6,35.9,30,5\nb,-101.601,35.9,8,4\nc,-101.602,35.9,lots,5\n"
	const both = "stop,longitude,latitude,count,leaves,plants\nd,-101.603,35.9,30,10,5\n"
	const leaves = "stop,longitude,latitude,count,leaves\ne,-101.604,35.9,30,10\n"
	const sweeps = "stop,longitude,latitude,count,sweeps\ne,-101.604,35.9,30,10\n"
	const bare = "stop,longitude,latitude,count\nf,-101.605,35.9,3\n"
	for _, c := range []struct {
		tables   []string
		header   string
		findings int
		perPlant []float64
		perLeaf  []float64 // nil where map asks for the unit
	}{
		{[]string{plants}, "count,plants,plant", 1, []float64{6, 2}, nil},
		{[]string{both}, "count,leaves,plants,plant", 0, []float64{6}, []float64{3}},
		{[]string{plants, both}, "count,leaves,plants,plant", 1, []float64{6, 2, 6}, []float64{3}},
		{[]string{plants, leaves}, "count,leaves,plants,plant", 1, []float64{6, 2}, []float64{3}},
		{[]string{plants, bare}, "count,leaves,plants,plant", 1, []float64{6, 2, 3}, []float64{3}},
		{[]string{leaves}, "count,leaves,plant", 0, nil, []float64{3}},
		{[]string{sweeps}, "count,sweeps,plant", 0, nil, nil},
	} {
		dir := t.TempDir()
		s := surveyOf(t, dir, c.tables, survey.Options{})
		r, err := check.Run(s, nil)
		require.NoError(t, err)
		said := 0
		for _, f := range r.Findings {
			if f.Column == "plants" {
				said++
				assert.Contains(t, f.String(), "map it with --unit plant")
			}
		}
		assert.Equal(t, c.findings, said, c.tables)
		text := cleanText(t, r)
		assert.Contains(t, text, ",latitude,"+c.header+",")
		means := func(unit string) (all []float64) {
			again, err := survey.Read(given.Table(text), survey.Options{Unit: unit})
			if c.perLeaf == nil && unit == "leaf" {
				require.ErrorContains(t, err, "counts are asked for per leaf: give --unit ")
				return nil
			}
			if c.perPlant == nil && unit == "plant" {
				require.ErrorContains(t, err, "write how many plants in a column plants")
				return nil
			}
			require.NoError(t, err)
			for _, s := range again.Stops {
				all = append(all, s.Mean())
			}
			return all
		}
		assert.Equal(t, c.perPlant, means("plant"), text)
		assert.Equal(t, c.perLeaf, means("leaf"), text)
		if c.tables[0] == sweeps {
			again, err := survey.Read(given.Table(text), survey.Options{Unit: "10 sweeps"})
			require.NoError(t, err)
			assert.Equal(t, 30.0, again.Stops[0].Mean())
		}
	}
}

func cleanText(t *testing.T, r *check.Report) string {
	t.Helper()
	var b strings.Builder
	require.NoError(t, r.WriteClean(&b))
	return b.String()
}
