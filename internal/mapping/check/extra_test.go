package check_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/check"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// The mean of check is that of map: of the stops but the extra ones.
func TestTheMeanLeavesOutExtraStops(t *testing.T) {
	text := "stop,longitude,latitude,count,leaves,kind\na,-101.6000,35.9,10,10,\nb,-101.6010,35.9,30,10,\nc,-101.6011,35.9,900,10,extra\n"
	s, err := survey.Read([]geofile.Source{{Name: "s.csv", Content: []byte(text)}}, survey.Options{})
	require.NoError(t, err)
	r, err := check.Run(s, nil)
	require.NoError(t, err)
	require.Len(t, r.Observers, 1)
	assert.Equal(t, []int{2, 1}, []int{r.Observers[0].Stops, r.Observers[0].Extra})
	assert.Equal(t, 2.0, r.Observers[0].Mean)
}

// Edge and inside are compared by the planned stops, and by the extra ones where there are
// no others.
func TestTheEdgeLeavesOutExtraStops(t *testing.T) {
	ground, err := geofile.Decode("f.geojson", strings.NewReader(`{"type":"Polygon","coordinates":[[[0,0],[0.01,0],[0.01,0.01],[0,0.01],[0,0]]]}`), geofile.Limits{})
	require.NoError(t, err)
	fields, _, err := boundary.Fields(ground.Features, boundary.Settings{})
	require.NoError(t, err)
	edge := func(kinds ...string) check.Edge {
		text := "stop,longitude,latitude,count,leaves,kind\n"
		for i, at := range []string{"0.0050,0.00003", "0.0050,0.0050", "0.0052,0.0050"} {
			text += fmt.Sprintf("%d,%s,%d,10,%s\n", i, at, []int{10, 20, 900}[i], kinds[i])
		}
		s, err := survey.Read([]geofile.Source{{Name: "s.csv", Content: []byte(text)}}, survey.Options{})
		require.NoError(t, err)
		r, err := check.Run(s, fields)
		require.NoError(t, err)
		require.Len(t, r.Edge, 1)
		return r.Edge[0]
	}
	some := edge("", "", "extra")
	assert.Equal(t, [4]float64{1, 1, 1, 2}, [4]float64{float64(some.Near), some.NearMean, float64(some.Inside), some.InMean})
	none := edge("extra", "extra", "extra")
	assert.Equal(t, [4]float64{1, 1, 2, 46}, [4]float64{float64(none.Near), none.NearMean, float64(none.Inside), none.InMean})
}

// Stops that crowd at one place are doubted in one line, and count once in the means of
// check, as in those of map, be it one.
func TestACrowdIsDoubtedAndCountsOnce(t *testing.T) {
	ground, err := geofile.Decode("f.geojson", strings.NewReader(`{"type":"Polygon","coordinates":[[[0,0],[0.01,0],[0.01,0.01],[0,0.01],[0,0]]]}`), geofile.Limits{})
	require.NoError(t, err)
	fields, _, err := boundary.Fields(ground.Features, boundary.Settings{})
	require.NoError(t, err)
	for _, more := range []int{0, 1, 3, 4, 60} {
		text := "stop,longitude,latitude,count,leaves\n"
		for i := range 16 {
			text += fmt.Sprintf("%d,%.5f,%.5f,%d,1\n", i+1, 0.00125+0.0025*float64(i%4), 0.00125+0.0025*float64(i/4), 10)
		}
		for i := range more {
			text += fmt.Sprintf("c%d,0.00125,%.7f,90,1\n", i, 0.00125+1e-7*float64(i+1)) // a position of their own each
		}
		r, said := checkedFor(t, text, fields, "within 1 m")
		if more == 0 {
			assert.Empty(t, said)
			assert.Equal(t, 16+more, r.Edge[0].Inside)
			continue
		}
		require.Len(t, said, 1)
		assert.Regexp(t, fmt.Sprintf("has %s (round it within 1 m:|within 1 m, where places lie about 2)", figures.Counted(more, "more stop")), said[0])
		assert.Equal(t, 16, r.Edge[0].Inside)
		assert.Equal(t, 15.0, r.Observers[0].Mean, "15 of 10 and one of 90")
		assert.Equal(t, []int{16, more}, []int{r.Observers[0].Stops, r.Observers[0].Extra})
		assert.Empty(t, r.Notes, "none was marked")
	}
}

// Stops round one with much are doubted too, though check knows no level; round one with
// little, or too far from it, they are not.
func TestAWalkRoundIsDoubted(t *testing.T) {
	ground, err := geofile.Decode("f.geojson", strings.NewReader(`{"type":"Polygon","coordinates":[[[0,0],[0.01,0],[0.01,0.01],[0,0.01],[0,0]]]}`), geofile.Limits{})
	require.NoError(t, err)
	fields, _, err := boundary.Fields(ground.Features, boundary.Settings{})
	require.NoError(t, err)
	for _, c := range []struct {
		hot    int
		far    float64 // degrees, of which places lie 0.002 apart
		wanted bool
	}{{90, 0.001, true}, {90, 0.0014, false}, {0, 0.001, false}} {
		text := "stop,longitude,latitude,count,leaves\n"
		for i := range 25 {
			n := 10
			if i == 12 {
				n = c.hot
			}
			text += fmt.Sprintf("%d,%.5f,%.5f,%d,1\n", i+1, 0.001+0.002*float64(i%5), 0.001+0.002*float64(i/5), n)
		}
		for i, d := range [][2]float64{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
			text += fmt.Sprintf("r%d,%.5f,%.5f,5,1\n", i, 0.005+c.far*d[0], 0.005+c.far*d[1])
		}
		r, said := checkedFor(t, text, fields, "more stops round it")
		if !c.wanted {
			assert.Empty(t, said)
			continue
		}
		require.Len(t, said, 1)
		assert.Regexp(t, `^has 4 more stops round it within 11\d m: they are in no average here, nor in map's if it is hot$`, said[0])
		assert.Equal(t, 25, r.Edge[0].Inside)
	}
}

// checkedFor checks a file, and lists what it says with some words in it.
func checkedFor(t *testing.T, text string, fields []geo.Field, words string) (r *check.Report, said []string) {
	t.Helper()
	s, err := survey.Read([]geofile.Source{{Name: "s.csv", Content: []byte(text)}}, survey.Options{})
	require.NoError(t, err)
	r, err = check.Run(s, fields)
	require.NoError(t, err)
	for _, f := range r.Findings {
		if strings.Contains(f.What, words) {
			said = append(said, f.What)
		}
	}
	return r, said
}
